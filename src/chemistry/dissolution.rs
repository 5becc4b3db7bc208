//! How fast the solid dissolves, settles out of supersaturated liquid, and how fast CO₂
//! leaves: the rates of one well-mixed zone.
//!
//! Rate law: Palandri & Kharaka 2004 (acid branch of order ½, neutral branch), affinity
//! 1 - Ω² of Pokrovsky & Schott 2004 (*Geochim. Cosmochim. Acta* 68, 31), a film of liquid
//! in series for H⁺, area of a shrinking particle. The bottle's factors are fitted.

use super::anchor::Anchor;
use super::parameters::Parameters;
use super::search::{Accuracy, Root, search};
use super::speciation::Composition;
use super::thermal::Thermal;
use crate::constants::{BRUCITE_KG_M3, LN_10, MAGNESIUM_HYDROXIDE_G_MOL};
use crate::numerics::{at_least, cube_root};

/// Share of solid below which the floc's diameter no longer shrinks in the film.
const SMALLEST_FLOC_SHARE: f64 = 1e-3;

/// Shares that differ by less than this part of themselves are next to each other.
const NEXT_TO: f64 = 1.1e-3;

/// The rates of one zone that do not depend on its size.
#[derive(Clone, Copy, Debug)]
pub struct ZoneRates {
    /// Dissolution per mole of suspended solid, 1/s; negative while solid grows.
    pub dissolution_per_s: f64,
    /// New solid out of clear liquid, mol per kg of water and second.
    pub nucleation_mol_kg_s: f64,
    /// CO₂(aq) above (or below) what would be in balance with the air, mol/m³.
    pub carbon_dioxide_excess_mol_m3: f64,
    /// Change of OH⁻ and MgOH⁺ with the acid excess, dimensionless.
    pub hydroxide_by_excess: f64,
}

/// A zone's inputs: composition, temperature (K), and the share x of the solid ever
/// supplied that is left.
#[derive(Clone, Copy, Debug)]
pub struct Zone {
    /// What a kilogram of its water holds.
    pub composition: Composition,
    /// Temperature, K.
    pub temperature_k: f64,
    /// Share of solid left, 0 to 1 (above 1 after precipitation on what there was).
    pub solid_share: f64,
}

/// What a beaker's parameters come to in the rate law.
#[derive(Clone, Copy, Debug)]
pub struct RateLaw {
    /// Area of the acid branch times its factor, m²/g.
    acid_m2_g: f64,
    acid_factor: f64,
    neutral_m2_g: f64,
    /// Of fresh flocs: outer area times half the mass transfer coefficient over the diffusion
    /// coefficient and the reactive area, 1/m; 0 for no film.
    fresh_film_per_m: f64,
    area_rounding: f64,
    affinity_exponent: f64,
    affinity_bound: f64,
    affinity_at_bound: f64,
    affinity_slope: f64,
    nucleation_mol_kg_s: f64,
    nucleation_log_omega: f64,
    carbon_dioxide_atm: f64,
    with_carbon: bool,
}

impl RateLaw {
    /// The rate law of a beaker.
    pub fn of(parameters: &Parameters) -> Self {
        let bottle = &parameters.bottle;
        let fresh_m = parameters.floc_diameter_m;
        let outer_m2_kg = 6.0 / (BRUCITE_KG_M3 * parameters.floc_solid_share * fresh_m);
        let outer_share = outer_m2_kg / (bottle.acid_area_m2_g * 1e3);
        let (exponent, bound) = (parameters.affinity_exponent, parameters.affinity_bound);
        let at_bound = power(bound, exponent);
        Self {
            acid_m2_g: bottle.acid_area_m2_g,
            acid_factor: bottle.acid_factor,
            neutral_m2_g: bottle.neutral_area_m2_g,
            fresh_film_per_m: parameters.sherwood.map_or(0.0, |sherwood| 0.5 * sherwood * outer_share / fresh_m),
            area_rounding: parameters.area_rounding,
            affinity_exponent: exponent,
            affinity_bound: bound,
            affinity_at_bound: 1.0 - at_bound,
            affinity_slope: exponent * at_bound / bound,
            nucleation_mol_kg_s: parameters.nucleation_mol_kg_s,
            nucleation_log_omega: parameters.nucleation_log_omega,
            carbon_dioxide_atm: parameters.carbon_dioxide_atm,
            with_carbon: parameters.with_carbon(),
        }
    }

    /// Rates of all zones of a beaker, the temperature's numbers being known, from solved
    /// neighbours where there are any. The zones share temperature and solid.
    #[inline]
    pub fn rates<const Z: usize>(
        &self,
        zones: &[Zone; Z],
        thermal: &Thermal,
        anchors: &mut [Option<Anchor>; Z],
    ) -> [ZoneRates; Z] {
        let solid = self.shape(zones[0].solid_share);
        let mut root = Root::NONE;
        core::array::from_fn(|z| {
            let near = anchors[z].as_ref().map(|anchor| (anchor, zones[z].temperature_k));
            let miss = search(&zones[z].composition, thermal, self.with_carbon, near, Accuracy::STAGE, &mut root);
            if let (Some(anchor), Some(miss)) = (&mut anchors[z], miss) {
                anchor.learn(miss);
            }
            self.zone_rates(&solid, thermal, &root)
        })
    }

    /// Whether there is carbon in the liquid.
    pub fn with_carbon(&self) -> bool {
        self.with_carbon
    }

    /// What the shrinking of the particles does to area and film.
    pub(super) fn shape(&self, solid_share: f64) -> SolidShape {
        let rounded = solid_share + self.area_rounding;
        let shrunk = at_least(solid_share, SMALLEST_FLOC_SHARE);
        let root = cube_root(rounded);
        let area = 1.0 / root;
        let film_per_m = self.fresh_film_per_m / self.diameter(shrunk, rounded, root);
        SolidShape {
            area,
            ln_area_by_share: -1.0 / (3.0 * rounded),
            film_per_m,
            ln_film_by_share: if solid_share > SMALLEST_FLOC_SHARE { -1.0 / (3.0 * shrunk) } else { 0.0 },
        }
    }

    /// Diameter of the flocs over that of fresh ones: the cube root of the solid's share, from that
    /// of the rounded share, which is next to it.
    #[inline]
    fn diameter(&self, share: f64, rounded: f64, root: f64) -> f64 {
        let part = (rounded - share) / rounded;
        if (0.0..NEXT_TO).contains(&part) {
            // (1 - x)^(1/3) by its series: the fourth order is below 10⁻¹³.
            root * (1.0 - part * (1.0 / 3.0 + part * (1.0 / 9.0 + part * (5.0 / 81.0))))
        } else {
            cube_root(share)
        }
    }

    #[inline]
    pub(super) fn zone_rates(&self, solid: &SolidShape, thermal: &Thermal, root: &Root) -> ZoneRates {
        let omega = root.saturation_ratio();
        let surface = self.surface(solid, thermal, root);
        ZoneRates {
            dissolution_per_s: surface.rate * self.affinity(omega) * (solid.area * MAGNESIUM_HYDROXIDE_G_MOL),
            nucleation_mol_kg_s: self.nucleation(omega),
            carbon_dioxide_excess_mol_m3: self.carbon_dioxide_excess(thermal, root),
            hydroxide_by_excess: root.balance.hydroxide_by_excess(),
        }
    }

    /// The rate far from saturation, and the square root of the activity of H⁺ at the
    /// surface, behind a film that H⁺ must cross: the root s of g s² + k s - g a = 0.
    #[inline]
    pub(super) fn surface(&self, solid: &SolidShape, thermal: &Thermal, root: &Root) -> Surface {
        let (a, k) = (root.hydrogen_activity(), thermal.acid_rate * self.acid_factor);
        let surface = if self.fresh_film_per_m > 0.0 {
            let g = thermal.proton_diffusion * solid.film_per_m / root.hydrogen_gamma();
            let discriminant = (k * k + 4.0 * (g * g) * a).sqrt();
            Surface { root_activity: 2.0 * (g * a) / (k + discriminant), film: Some((g, discriminant)), rate: 0.0 }
        } else {
            Surface { root_activity: a.sqrt(), film: None, rate: 0.0 }
        };
        let rate = k * surface.root_activity * self.acid_m2_g + thermal.neutral_rate * self.neutral_m2_g;
        Surface { rate, ..surface }
    }

    /// Affinity term F: 1 - Ω^p up to the tested bound, then along the tangent.
    #[inline]
    pub(super) fn affinity(&self, omega: f64) -> f64 {
        if omega <= self.affinity_bound {
            1.0 - power(omega, self.affinity_exponent)
        } else {
            self.affinity_at_bound - (omega - self.affinity_bound) * self.affinity_slope
        }
    }

    /// Slope of [`Self::affinity`].
    pub(super) fn affinity_by_omega(&self, omega: f64) -> f64 {
        if omega <= self.affinity_bound && omega > 0.0 {
            -self.affinity_exponent * power(omega, self.affinity_exponent) / omega
        } else {
            -self.affinity_slope
        }
    }

    /// log₁₀ Ω above what nucleation needs, where it is.
    fn above_needed(&self, omega: f64) -> Option<f64> {
        // log₁₀ x < (x - 1) / ln 10: most of the time no logarithm is needed to say no.
        let needed = self.nucleation_log_omega;
        if self.nucleation_mol_kg_s == 0.0 || omega - 1.0 <= needed * LN_10 {
            return None;
        }
        Some(libm::log(omega) / LN_10 - needed).filter(|above| *above > 0.0)
    }

    /// New solid from liquid far above saturation, mol kg⁻¹ s⁻¹. Calibrated.
    #[inline]
    pub(super) fn nucleation(&self, omega: f64) -> f64 {
        self.above_needed(omega).map_or(0.0, |above| above * above * self.nucleation_mol_kg_s)
    }

    /// Slope of [`Self::nucleation`].
    pub(super) fn nucleation_by_omega(&self, omega: f64) -> f64 {
        self.above_needed(omega).map_or(0.0, |above| 2.0 * above * self.nucleation_mol_kg_s / (omega * LN_10))
    }

    /// See [`ZoneRates::carbon_dioxide_excess_mol_m3`].
    #[inline]
    fn carbon_dioxide_excess(&self, thermal: &Thermal, root: &Root) -> f64 {
        (root.carbon_dioxide_activity() - thermal.henry * self.carbon_dioxide_atm) * thermal.density
    }

    /// Slope of the CO₂ excess along the temperature with the liquid's own left out, mol/m³/K.
    pub(super) fn carbon_dioxide_by_kelvin(&self, thermal: &Thermal, slopes: &Thermal, activity: f64) -> f64 {
        (activity - thermal.henry * self.carbon_dioxide_atm) * slopes.density
            - slopes.henry * self.carbon_dioxide_atm * thermal.density
    }

    /// Slopes of [`Surface::rate`].
    pub(super) fn surface_slopes(&self, surface: &Surface, thermal: &Thermal, slopes: &Thermal) -> SurfaceSlopes {
        let (k, dk) = (thermal.acid_rate * self.acid_factor, slopes.acid_rate * self.acid_factor);
        let s = surface.root_activity;
        // Of s along ln a(H⁺), ln g and k.
        let (by_ln_activity, by_ln_g, by_k) = match surface.film {
            Some((g, discriminant)) => {
                let inverse = 1.0 / discriminant;
                // g s² + k s = g a.
                ((g * s + k) * s * inverse, k * s * inverse, -s * inverse)
            }
            None => (0.5 * s, 0.0, 0.0),
        };
        let weight = k * self.acid_m2_g;
        let ln_diffusion = slopes.proton_diffusion / thermal.proton_diffusion;
        SurfaceSlopes {
            by_ln_activity: weight * by_ln_activity,
            by_ln_film: weight * by_ln_g,
            by_kelvin: weight * (by_ln_g * ln_diffusion + by_k * dk)
                + dk * s * self.acid_m2_g
                + slopes.neutral_rate * self.neutral_m2_g,
        }
    }
}

/// See [`RateLaw::surface_slopes`].
#[derive(Clone, Copy, Debug)]
pub(super) struct SurfaceSlopes {
    pub by_ln_activity: f64,
    /// Along ln of the film's conductance, and against ln γ(H⁺).
    pub by_ln_film: f64,
    /// Along the temperature, 1/K, the activities standing still.
    pub by_kelvin: f64,
}

/// See [`RateLaw::shape`].
#[derive(Clone, Copy, Debug)]
pub(super) struct SolidShape {
    /// Area per mole of solid over that of fresh solid, x^(-1/3), rounded off so that the
    /// last of it ends in an exponential tail instead of at an infinite slope.
    pub area: f64,
    pub ln_area_by_share: f64,
    /// The film's conductance as [`RateLaw::fresh_film_per_m`], 1/m.
    pub film_per_m: f64,
    pub ln_film_by_share: f64,
}

/// See [`RateLaw::surface`].
#[derive(Clone, Copy, Debug)]
pub(super) struct Surface {
    pub root_activity: f64,
    /// Conductance g and the root of the discriminant, behind a film.
    pub film: Option<(f64, f64)>,
    /// Rate far from saturation, mol s⁻¹ per gram of fresh solid.
    pub rate: f64,
}

/// Ω to a power; the powers 1 and 2 of the literature take no logarithm.
#[inline]
fn power(base: f64, exponent: f64) -> f64 {
    if exponent == 2.0 {
        base * base
    } else if exponent == 1.0 {
        base
    } else {
        libm::exp(exponent * libm::log(base))
    }
}
