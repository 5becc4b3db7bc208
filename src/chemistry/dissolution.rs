//! How fast the solid dissolves, settles out of supersaturated liquid, and how fast CO₂
//! leaves: the rates of one well-mixed zone.
//!
//! Rate law: Palandri & Kharaka 2004 (acid branch of order ½, neutral branch), affinity
//! 1 - Ω² of Pokrovsky & Schott 2004 (*Geochim. Cosmochim. Acta* 68, 31), a film of liquid
//! in series for H⁺, area of a shrinking particle. The bottle's factors are fitted.

use super::parameters::Parameters;
use super::speciation::{Composition, INPUTS, Local, Speciation, speciate, speciate_with_slopes};
use super::thermal::Thermal;
use crate::constants::{BRUCITE_KG_M3, LN_10, MAGNESIUM_HYDROXIDE_G_MOL};
use crate::numerics::Number;

/// Share of solid below which the floc's diameter no longer shrinks in the film.
const SMALLEST_FLOC_SHARE: f64 = 1e-3;

/// The rates of one zone that do not depend on its size.
#[derive(Clone, Copy, Debug)]
pub struct ZoneRates<N> {
    /// Dissolution per mole of suspended solid, 1/s; negative while solid grows.
    pub dissolution_per_s: N,
    /// New solid out of clear liquid, mol per kg of water and second.
    pub nucleation_mol_kg_s: N,
    /// CO₂(aq) above (or below) what would be in balance with the air, mol/m³.
    pub carbon_dioxide_excess_mol_m3: N,
    /// Change of OH⁻ and MgOH⁺ with the acid excess, dimensionless.
    pub hydroxide_by_excess: N,
}

/// Number of rates in [`ZoneRates`].
const RATES: usize = 4;

impl<N: Copy> ZoneRates<N> {
    fn to_row(self) -> [N; RATES] {
        [self.dissolution_per_s, self.nucleation_mol_kg_s, self.carbon_dioxide_excess_mol_m3, self.hydroxide_by_excess]
    }

    fn from_row(
        [dissolution_per_s, nucleation_mol_kg_s, carbon_dioxide_excess_mol_m3, hydroxide_by_excess]: [N; RATES],
    ) -> Self {
        Self { dissolution_per_s, nucleation_mol_kg_s, carbon_dioxide_excess_mol_m3, hydroxide_by_excess }
    }
}

/// A zone's inputs: composition, temperature (K), and the share x of the solid ever
/// supplied that is left.
#[derive(Clone, Copy, Debug)]
pub struct Zone<N> {
    /// What a kilogram of its water holds.
    pub composition: Composition<N>,
    /// Temperature, K.
    pub temperature_k: N,
    /// Share of solid left, 0 to 1 (above 1 after precipitation on what there was).
    pub solid_share: N,
}

/// Rates of a zone, the temperature's numbers being known (both zones share them).
pub fn zone_rates(zone: &Zone<f64>, thermal: &Thermal<f64>, parameters: &Parameters) -> ZoneRates<f64> {
    let speciation = speciate(&zone.composition, thermal, parameters.with_carbon());
    rates_of(zone, thermal, &speciation, parameters)
}

/// Rates of a zone and their slopes along its six inputs.
pub fn zone_rates_with_slopes(zone: &Zone<f64>, parameters: &Parameters) -> (ZoneRates<f64>, [[f64; INPUTS]; RATES]) {
    let local = Zone {
        composition: Composition {
            acid_excess: Local::variable(zone.composition.acid_excess, 0),
            chloride: Local::variable(zone.composition.chloride, 1),
            sodium: Local::variable(zone.composition.sodium, 2),
            carbon: Local::variable(zone.composition.carbon, 3),
        },
        temperature_k: Local::variable(zone.temperature_k, 4),
        solid_share: Local::variable(zone.solid_share, 5),
    };
    let thermal = Thermal::interpolated(local.temperature_k);
    let (speciation, elimination) = speciate_with_slopes(&local.composition, &thermal, parameters.with_carbon());
    let rates = rates_of(&local, &thermal, &speciation, parameters).to_row();
    let slopes = core::array::from_fn(|i| elimination.slopes(&rates[i]));
    (ZoneRates::from_row(rates.map(Local::value)), slopes)
}

/// As [`zone_rates`], over numbers with slopes along other directions than the zone's own
/// inputs: the chain rule over the slopes of [`zone_rates_with_slopes`].
pub fn zone_rates_along<N: Number>(zone: &Zone<N>, parameters: &Parameters) -> ZoneRates<N> {
    let plain = Zone {
        composition: Composition {
            acid_excess: zone.composition.acid_excess.value(),
            chloride: zone.composition.chloride.value(),
            sodium: zone.composition.sodium.value(),
            carbon: zone.composition.carbon.value(),
        },
        temperature_k: zone.temperature_k.value(),
        solid_share: zone.solid_share.value(),
    };
    let inputs = [
        zone.composition.acid_excess,
        zone.composition.chloride,
        zone.composition.sodium,
        zone.composition.carbon,
        zone.temperature_k,
        zone.solid_share,
    ];
    let (rates, slopes) = zone_rates_with_slopes(&plain, parameters);
    let values = rates.to_row();
    ZoneRates::from_row(core::array::from_fn(|i| {
        let mut rate = N::constant(values[i]);
        for (input, slope) in inputs.iter().zip(slopes[i]) {
            rate = rate + input.chain(0.0, slope);
        }
        rate
    }))
}

fn rates_of<N: Number>(
    zone: &Zone<N>,
    thermal: &Thermal<N>,
    speciation: &Speciation<N>,
    parameters: &Parameters,
) -> ZoneRates<N> {
    let bottle = &parameters.bottle;
    let acid_rate = thermal.acid_rate * bottle.acid_factor;
    let root_activity = match parameters.sherwood {
        Some(sherwood) => film(zone.solid_share, thermal, speciation, acid_rate, sherwood, parameters),
        None => speciation.hydrogen_activity.square_root(),
    };
    // Area per mole of solid is S M x^(-1/3); the rounding lets the last of it end in an
    // exponential tail instead of at an infinite slope.
    let shape = (zone.solid_share + parameters.area_rounding).cube_root();
    let surface = acid_rate * root_activity * bottle.acid_area_m2_g + thermal.neutral_rate * bottle.neutral_area_m2_g;
    let dissolution_per_s =
        surface * affinity(speciation.saturation_ratio, parameters) * MAGNESIUM_HYDROXIDE_G_MOL / shape;
    ZoneRates {
        dissolution_per_s,
        nucleation_mol_kg_s: nucleation(speciation.saturation_ratio, parameters),
        carbon_dioxide_excess_mol_m3: (speciation.carbon_dioxide_activity
            - thermal.henry * parameters.carbon_dioxide_atm)
            * thermal.density,
        hydroxide_by_excess: speciation.hydroxide_by_excess,
    }
}

/// Square root of the hydrogen activity at the surface, behind a film that H⁺ must cross:
/// the root of g s² + k s - g a = 0.
fn film<N: Number>(
    solid_share: N,
    thermal: &Thermal<N>,
    speciation: &Speciation<N>,
    acid_rate: N,
    sherwood: f64,
    parameters: &Parameters,
) -> N {
    let diameter = solid_share.at_least(SMALLEST_FLOC_SHARE).cube_root() * parameters.floc_diameter_m;
    let outer_area_m2_kg = 6.0 / (BRUCITE_KG_M3 * parameters.floc_solid_share * parameters.floc_diameter_m);
    let outer_share = outer_area_m2_kg / (parameters.bottle.acid_area_m2_g * 1e3);
    let g = thermal.proton_diffusion * (0.5 * sherwood * outer_share) / (diameter * speciation.hydrogen_gamma);
    let a = speciation.hydrogen_activity;
    g * a * 2.0 / (acid_rate + (acid_rate * acid_rate + g * g * a * 4.0).square_root())
}

/// Affinity term F: 1 - Ω^p up to the tested bound, then along the tangent.
fn affinity<N: Number>(omega: N, parameters: &Parameters) -> N {
    let (p, bound) = (parameters.affinity_exponent, parameters.affinity_bound);
    let power = |base: N, exponent: f64| {
        if exponent == 2.0 {
            base * base
        } else if exponent == 1.0 {
            base
        } else {
            (base.logarithm() * exponent).exponential()
        }
    };
    if omega.value() <= bound {
        -power(omega, p) + 1.0
    } else {
        let at_bound = power(N::constant(bound), p).value();
        let slope = p * at_bound / bound;
        -((omega - bound) * slope) + (1.0 - at_bound)
    }
}

/// New solid from liquid far above saturation, mol kg⁻¹ s⁻¹. Calibrated.
fn nucleation<N: Number>(omega: N, parameters: &Parameters) -> N {
    // log₁₀ x < (x - 1) / ln 10: most of the time no logarithm is needed to say no.
    let needed = parameters.nucleation_log_omega;
    if parameters.nucleation_mol_kg_s == 0.0 || omega.value() - 1.0 <= needed * LN_10 {
        return N::constant(0.0);
    }
    let above = (omega.logarithm() / LN_10 - needed).at_least(0.0);
    above * above * parameters.nucleation_mol_kg_s
}
