//! How fast the solid dissolves, settles out of supersaturated liquid, and how fast CO₂
//! leaves: the rates of one well-mixed zone.
//!
//! Rate law: Palandri & Kharaka 2004 (acid branch of order ½, neutral branch), affinity
//! 1 - Ω² of Pokrovsky & Schott 2004 (*Geochim. Cosmochim. Acta* 68, 31), a film of liquid
//! in series for H⁺, area of a shrinking particle. The bottle's factors are fitted.

use super::parameters::Parameters;
use super::speciation::{Anchor, Composition, Local, Speciation, speciate_all, speciate_with_slopes};
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

/// Rates of all zones of a beaker, the temperature's numbers being known, from solved
/// neighbours where there are any. The zones share temperature and solid.
pub fn zone_rates<const Z: usize>(
    zones: &[Zone<f64>; Z],
    thermal: &Thermal<f64>,
    parameters: &Parameters,
    anchors: &[Option<Anchor>; Z],
) -> [ZoneRates<f64>; Z] {
    let solid = SolidShape::of(zones[0].solid_share, parameters);
    let compositions = zones.map(|zone| zone.composition);
    speciate_all(&compositions, thermal, parameters.with_carbon(), anchors)
        .map(|speciation| rates_of(&solid, thermal, &speciation, parameters))
}

/// As [`zone_rates`], over numbers with slopes: the chain rule over the slopes along each
/// zone's six inputs. The anchors are for the searches around this point.
pub fn zone_rates_along<N: Number, const Z: usize>(
    zones: &[Zone<N>; Z],
    parameters: &Parameters,
) -> ([ZoneRates<N>; Z], [Anchor; Z]) {
    let inputs = zones.map(|zone| {
        let c = zone.composition;
        [c.acid_excess, c.chloride, c.sodium, c.carbon, zone.temperature_k, zone.solid_share]
    });
    let local = inputs.map(|inputs| {
        let local = |i: usize| Local::variable(inputs[i].value(), i);
        Zone {
            composition: Composition { acid_excess: local(0), chloride: local(1), sodium: local(2), carbon: local(3) },
            temperature_k: local(4),
            solid_share: local(5),
        }
    });
    // The zones share temperature and solid, and name them alike.
    let thermal = Thermal::interpolated(local[0].temperature_k).with_energy(parameters.bottle.energy_factor);
    let solid = SolidShape::of(local[0].solid_share, parameters);
    let compositions = local.map(|zone| zone.composition);
    let solved = speciate_with_slopes(&compositions, &thermal, parameters.with_carbon());
    let rates = core::array::from_fn(|z| {
        let (speciation, elimination, _) = &solved[z];
        let rates = rates_of(&solid, &thermal, speciation, parameters).to_row();
        ZoneRates::from_row(rates.map(|rate| {
            let mut along = N::constant(rate.value());
            for (input, slope) in inputs[z].iter().zip(elimination.slopes(&rate)) {
                along = along + input.chain(0.0, slope);
            }
            along
        }))
    });
    (rates, solved.map(|(_, _, anchor)| anchor))
}

/// What the shrinking of the particles does to area and film.
struct SolidShape<N> {
    /// Area per mole of solid over that of fresh solid, x^(-1/3), rounded off so that the
    /// last of it ends in an exponential tail instead of at an infinite slope.
    area: N,
    /// Outer area times half the mass transfer coefficient over the diffusion coefficient
    /// and the reactive area, 1/m; the film's conductance.
    film: Option<N>,
}

impl<N: Number> SolidShape<N> {
    fn of(solid_share: N, parameters: &Parameters) -> Self {
        let area = N::constant(1.0) / (solid_share + parameters.area_rounding).cube_root();
        let film = parameters.sherwood.map(|sherwood| {
            let fresh = parameters.floc_diameter_m;
            let outer_area_m2_kg = 6.0 / (BRUCITE_KG_M3 * parameters.floc_solid_share * fresh);
            let outer_share = outer_area_m2_kg / (parameters.bottle.acid_area_m2_g * 1e3);
            let shrunk = solid_share.at_least(SMALLEST_FLOC_SHARE).cube_root();
            N::constant(0.5 * sherwood * outer_share / fresh) / shrunk
        });
        Self { area, film }
    }
}

fn rates_of<N: Number>(
    solid: &SolidShape<N>,
    thermal: &Thermal<N>,
    speciation: &Speciation<N>,
    parameters: &Parameters,
) -> ZoneRates<N> {
    let bottle = &parameters.bottle;
    let acid_rate = thermal.acid_rate * bottle.acid_factor;
    let a = speciation.hydrogen_activity;
    let root_activity = match solid.film {
        // Square root of the activity at the surface, behind a film that H⁺ must cross:
        // the root of g s² + k s - g a = 0.
        Some(film) => {
            let g = thermal.proton_diffusion * film / speciation.hydrogen_gamma;
            g * a * 2.0 / (acid_rate + (acid_rate * acid_rate + g * g * a * 4.0).square_root())
        }
        None => a.square_root(),
    };
    let surface = acid_rate * root_activity * bottle.acid_area_m2_g + thermal.neutral_rate * bottle.neutral_area_m2_g;
    ZoneRates {
        dissolution_per_s: surface
            * affinity(speciation.saturation_ratio, parameters)
            * solid.area
            * MAGNESIUM_HYDROXIDE_G_MOL,
        nucleation_mol_kg_s: nucleation(speciation.saturation_ratio, parameters),
        carbon_dioxide_excess_mol_m3: (speciation.carbon_dioxide_activity
            - thermal.henry * parameters.carbon_dioxide_atm)
            * thermal.density,
        hydroxide_by_excess: speciation.hydroxide_by_excess,
    }
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
