//! The rates of a zone with their slopes along everything they depend on, by the chain rule
//! written out; and with them the anchor for the searches around this point.
//!
//! The two unknowns, ln h and the ionic strength I, are moved together with each input so
//! that the charge and I stay balanced (implicit function theorem). Exact but for one: the
//! change of OH⁻ with the acid excess, which only books heat and water, is followed along
//! ln h alone. What that leaves out of a step's heat is below 10⁻⁶ K.

use super::activity::WATER_ACTIVITY_KG_MOL;
use super::anchor::{Anchor, INPUTS};
use super::balance::{Answer, Move};
use super::dissolution::{RateLaw, SolidShape, Zone, ZoneRates};
use super::factors::{Factors, WATERS, factor, ln_factors_by_kelvin, ln_factors_by_strength};
use super::search::{Accuracy, Root, search};
use super::thermal::Thermal;
use crate::constants::MAGNESIUM_HYDROXIDE_G_MOL;

/// A rate with its slopes.
#[derive(Clone, Copy, Debug, Default)]
pub struct Sloped {
    /// The rate.
    pub value: f64,
    /// Along acid excess, chloride, sodium and carbon (mol/kg) and temperature (K).
    pub by: [f64; INPUTS],
    /// Along the share of solid left.
    pub by_share: f64,
}

/// [`ZoneRates`] with slopes.
#[derive(Clone, Copy, Debug, Default)]
pub struct SlopedRates {
    /// See [`ZoneRates::dissolution_per_s`].
    pub dissolution_per_s: Sloped,
    /// See [`ZoneRates::nucleation_mol_kg_s`].
    pub nucleation_mol_kg_s: Sloped,
    /// See [`ZoneRates::carbon_dioxide_excess_mol_m3`].
    pub carbon_dioxide_excess_mol_m3: Sloped,
    /// See [`ZoneRates::hydroxide_by_excess`].
    pub hydroxide_by_excess: Sloped,
}

impl SlopedRates {
    /// The rates without their slopes.
    pub fn values(&self) -> ZoneRates {
        ZoneRates {
            dissolution_per_s: self.dissolution_per_s.value,
            nucleation_mol_kg_s: self.nucleation_mol_kg_s.value,
            carbon_dioxide_excess_mol_m3: self.carbon_dioxide_excess_mol_m3.value,
            hydroxide_by_excess: self.hydroxide_by_excess.value,
        }
    }
}

/// Directions in which the liquid's equations are differentiated before the unknowns are
/// eliminated: ln h and I themselves, temperature, dissolved magnesium, dissolved carbon,
/// ln a(H₂O).
mod direction {
    pub const LN_H: usize = 0;
    pub const STRENGTH: usize = 1;
    pub const KELVIN: usize = 2;
    pub const MAGNESIUM: usize = 3;
    pub const CARBON: usize = 4;
    pub const WATER: usize = 5;
    pub const ALL: usize = 6;
}

/// Slopes of the charge, the ionic strength and the three rates along a direction.
#[derive(Clone, Copy, Debug, Default)]
struct Partial {
    charge: f64,
    strength: f64,
    dissolution: f64,
    nucleation: f64,
    carbon_dioxide: f64,
}

impl Partial {
    fn plus(self, times: f64, other: &Self) -> Self {
        Self {
            charge: self.charge + times * other.charge,
            strength: self.strength + times * other.strength,
            dissolution: self.dissolution + times * other.dissolution,
            nucleation: self.nucleation + times * other.nucleation,
            carbon_dioxide: self.carbon_dioxide + times * other.carbon_dioxide,
        }
    }
}

/// One zone, solved.
struct Liquid<'a> {
    law: &'a RateLaw,
    thermal: &'a Thermal,
    thermal_slopes: &'a Thermal,
    root: &'a Root,
    rates: ZoneRates,
    /// Ω, and how much of Ω a mole per kilogram of Mg²⁺ is.
    omega: f64,
    omega_by_magnesium: f64,
    /// The dissolution along ln a(H⁺), along ln of the film's conductance, along the
    /// temperature, along Ω.
    by_ln_activity: f64,
    by_ln_film: f64,
    by_kelvin: f64,
    by_omega: f64,
    /// The nucleation along Ω.
    nucleation_by_omega: f64,
    /// The CO₂ excess along CO₂(aq), and with ln γ(CO₂).
    excess_by_dioxide: f64,
    excess_by_ln_gamma: f64,
}

impl RateLaw {
    /// As [`Self::rates`], with slopes. The anchors given are the zones' last; new ones take
    /// their place.
    pub fn rates_with_slopes<const Z: usize>(
        &self,
        zones: &[Zone; Z],
        thermal: &Thermal,
        thermal_slopes: &Thermal,
        anchors: &mut [Option<Anchor>; Z],
    ) -> [SlopedRates; Z] {
        let solid = self.shape(zones[0].solid_share);
        let mut root = Root::NONE;
        core::array::from_fn(|z| {
            let near = anchors[z].as_ref().map(|anchor| (anchor, zones[z].temperature_k));
            // From a neighbour what follows is a step like all others; who has none is alone.
            let accuracy = if near.is_some() { Accuracy::STEP } else { Accuracy::FULL };
            search(&zones[z].composition, thermal, self.with_carbon(), near, accuracy, &mut root);
            let liquid = Liquid::new(self, &solid, thermal, thermal_slopes, &root);
            let by_share =
                liquid.rates.dissolution_per_s * solid.ln_area_by_share + liquid.by_ln_film * solid.ln_film_by_share;
            liquid.with_slopes(&zones[z], by_share, &mut anchors[z])
        })
    }
}

impl<'a> Liquid<'a> {
    fn new(
        law: &'a RateLaw,
        solid: &SolidShape,
        thermal: &'a Thermal,
        thermal_slopes: &'a Thermal,
        root: &'a Root,
    ) -> Self {
        let omega = root.saturation_ratio();
        let surface = law.surface(solid, thermal, root);
        let slopes = law.surface_slopes(&surface, thermal, thermal_slopes);
        let area = solid.area * MAGNESIUM_HYDROXIDE_G_MOL;
        let scale = area * law.affinity(omega);
        let activity = root.hydrogen_activity();
        let excess_by_dioxide = thermal.density * root.factors[factor::DIOXIDE_GAMMA];
        Self {
            rates: law.zone_rates(solid, thermal, root),
            omega,
            omega_by_magnesium: root.factors[factor::BRUCITE] / (activity * activity),
            by_ln_activity: scale * slopes.by_ln_activity,
            by_ln_film: scale * slopes.by_ln_film,
            by_kelvin: scale * slopes.by_kelvin,
            by_omega: area * surface.rate * law.affinity_by_omega(omega),
            nucleation_by_omega: law.nucleation_by_omega(omega),
            excess_by_dioxide,
            excess_by_ln_gamma: excess_by_dioxide * root.balance.carbon_dioxide(),
            law,
            thermal,
            thermal_slopes,
            root,
        }
    }

    fn with_slopes(&self, zone: &Zone, dissolution_by_share: f64, anchor: &mut Option<Anchor>) -> SlopedRates {
        let partials = self.partials();
        let by_input = self.by_input(zone, &partials);
        let [ln_h, strength] = [&partials[direction::LN_H], &partials[direction::STRENGTH]];
        // Charge and strength - I stay zero.
        let kept = strength.strength - 1.0;
        let inverse = 1.0 / (ln_h.charge * kept - strength.charge * ln_h.strength);
        let ln_h_by = by_input.map(|p| (strength.charge * p.strength - p.charge * kept) * inverse);
        let strength_by = by_input.map(|p| (p.charge * ln_h.strength - ln_h.charge * p.strength) * inverse);
        let total = |value: f64, of: fn(&Partial) -> f64| Sloped {
            value,
            by: core::array::from_fn(|i| of(&by_input[i]) + of(ln_h) * ln_h_by[i] + of(strength) * strength_by[i]),
            by_share: 0.0,
        };
        let rates = &self.rates;
        let held = self.root.balance.hydroxide_by_excess_slope();
        *anchor = Some(Anchor::of(&zone.composition, zone.temperature_k, self.root, ln_h_by, strength_by));
        SlopedRates {
            dissolution_per_s: Sloped {
                by_share: dissolution_by_share,
                ..total(rates.dissolution_per_s, |p| p.dissolution)
            },
            nucleation_mol_kg_s: if rates.nucleation_mol_kg_s > 0.0 {
                total(rates.nucleation_mol_kg_s, |p| p.nucleation)
            } else {
                Sloped::default()
            },
            carbon_dioxide_excess_mol_m3: total(rates.carbon_dioxide_excess_mol_m3, |p| p.carbon_dioxide),
            hydroxide_by_excess: Sloped {
                value: rates.hydroxide_by_excess,
                by: ln_h_by.map(|slope| held * slope),
                by_share: 0.0,
            },
        }
    }

    /// Slopes along each direction, the others standing still.
    fn partials(&self) -> [Partial; direction::ALL] {
        let (strength, with_carbon) = (self.root.ionic_strength, self.law.with_carbon());
        let still = Move::default();
        let mut partials = [Partial::default(); direction::ALL];
        let by_strength = ln_factors_by_strength(strength, self.thermal, with_carbon);
        let by_kelvin = ln_factors_by_kelvin(strength, self.thermal, self.thermal_slopes, with_carbon);
        partials[direction::LN_H] = self.along(&Move { ln_h: 1.0, ..still });
        partials[direction::STRENGTH] = self.along(&Move { ln_factors: by_strength, ..still });
        partials[direction::KELVIN] = self.along(&Move { ln_factors: by_kelvin, ..still });
        partials[direction::MAGNESIUM] = self.along(&Move { magnesium: 1.0, ..still });
        partials[direction::WATER] = self.along(&Move { ln_factors: WATERS, ..still });
        partials[direction::KELVIN].dissolution += self.by_kelvin;
        if with_carbon {
            partials[direction::CARBON] = self.along(&Move { carbon: 1.0, ..still });
            partials[direction::KELVIN].carbon_dioxide += self.law.carbon_dioxide_by_kelvin(
                self.thermal,
                self.thermal_slopes,
                self.root.carbon_dioxide_activity(),
            );
        }
        partials
    }

    fn along(&self, moved: &Move) -> Partial {
        let Answer { charge, ionic_strength, magnesium, carbon_dioxide } = self.root.balance.answer(moved);
        let ln_factors: &Factors = &moved.ln_factors;
        let ln_gamma = ln_factors[factor::HYDROGEN_GAMMA];
        let ln_activity = moved.ln_h + ln_gamma;
        let omega =
            self.omega * (ln_factors[factor::BRUCITE] - 2.0 * ln_activity) + self.omega_by_magnesium * magnesium;
        Partial {
            charge,
            strength: ionic_strength,
            dissolution: self.by_ln_activity * ln_activity - self.by_ln_film * ln_gamma + self.by_omega * omega,
            nucleation: self.nucleation_by_omega * omega,
            carbon_dioxide: self.excess_by_dioxide * carbon_dioxide
                + self.excess_by_ln_gamma * ln_factors[factor::DIOXIDE_GAMMA],
        }
    }

    /// Slopes along each input, ln h and I standing still.
    fn by_input(&self, zone: &Zone, partials: &[Partial; direction::ALL]) -> [Partial; INPUTS] {
        let composition = &zone.composition;
        let (magnesium, water) = (&partials[direction::MAGNESIUM], &partials[direction::WATER]);
        let part = if composition.magnesium() > 0.0 { 0.5 } else { 0.0 };
        let ln_water = -WATER_ACTIVITY_KG_MOL / composition.water_activity();
        let excess = if composition.acid_excess < 0.0 { -1.0 } else { 1.0 };
        let explicit = |charge: f64, strength: f64| Partial { charge, strength, ..Partial::default() };
        [
            explicit(-1.0, 0.0).plus(-part, magnesium).plus(ln_water * (excess - part), water),
            explicit(0.0, 0.5).plus(part, magnesium).plus(ln_water * (1.0 + part), water),
            explicit(0.0, 0.5).plus(-part, magnesium).plus(ln_water * (1.0 - part), water),
            partials[direction::CARBON].plus(ln_water, water),
            partials[direction::KELVIN],
        ]
    }
}
