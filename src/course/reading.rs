//! What can be read off a beaker at one time.

use super::State;
use crate::chemistry::{
    Beaker, ONE_ZONE, Parameters, PhTerms, Speciation, TWO_ZONES, Thermal, density_kg_m3, speciate,
};
use crate::constants::MAGNESIUM_HYDROXIDE_G_MOL;

/// A beaker at one time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Time since the start, s.
    pub time_s: f64,
    /// pH of the bulk.
    pub ph: f64,
    /// pH of the plume; the bulk's once both are one.
    pub plume_ph: f64,
    /// Temperature, K.
    pub temperature_k: f64,
    /// Water, kg.
    pub water_kg: f64,
    /// Share of the water in the plume; 0 once plume and bulk are one.
    pub plume_share: f64,
    /// Suspended solid in the bulk, mol.
    pub solid_bulk_mol: f64,
    /// Suspended solid in the plume, mol.
    pub solid_plume_mol: f64,
    /// Settled solid, mol.
    pub solid_settled_mol: f64,
    /// Dissolved magnesium, all forms, mol.
    pub magnesium_mol: f64,
    /// Dissolved inorganic carbon, all forms, mol.
    pub carbon_mol: f64,
    /// Ionic strength of the bulk, mol/kg.
    pub ionic_strength: f64,
    /// Saturation ratio Ω of brucite in the bulk.
    pub saturation_ratio: f64,
    /// Hydrogen and hydroxide ions in the bulk, mol/kg.
    pub hydrogen_molality: f64,
    /// Hydroxide ions in the bulk, mol/kg.
    pub hydroxide_molality: f64,
    /// Acid excess E = Cl - Na - 2 Mg in the whole beaker, mol.
    pub acid_excess_mol: f64,
    /// Chloride in the whole beaker, mol.
    pub chloride_mol: f64,
    /// Sodium in the whole beaker, mol.
    pub sodium_mol: f64,
    /// Ice in the beaker, kg.
    pub ice_kg: f64,
}

/// The state with plume and bulk.
type Split = Beaker<2, TWO_ZONES>;

fn speciated<const Z: usize, const N: usize>(y: &[f64; N], z: usize, parameters: &Parameters) -> Speciation {
    let beaker = Beaker::<Z, N>::new(*parameters, None);
    let zone = beaker.zones(y)[z];
    speciate(&zone.composition, &Thermal::interpolated(zone.temperature_k), parameters.with_carbon())
}

/// What each cause holds of the bulk's pH.
pub(super) fn bulk_ph_terms(state: &State, parameters: &Parameters) -> Option<PhTerms> {
    fn of<const Z: usize, const N: usize>(y: &[f64; N], parameters: &Parameters) -> Option<PhTerms> {
        let zone = Beaker::<Z, N>::new(*parameters, None).zones(y)[Z - 1];
        let thermal = Thermal::interpolated(zone.temperature_k);
        PhTerms::of(&zone.composition, &thermal, &speciated::<Z, N>(y, Z - 1, parameters))
    }
    match state {
        State::Split(y) => of::<2, TWO_ZONES>(y, parameters),
        State::Merged(y) => of::<1, ONE_ZONE>(y, parameters),
    }
}

/// Activity of H⁺ in the bulk alone, at half the cost of a whole reading.
pub(super) fn bulk_hydrogen_activity(state: &State, parameters: &Parameters) -> f64 {
    match state {
        State::Split(y) => speciated::<2, TWO_ZONES>(y, 1, parameters).hydrogen_activity,
        State::Merged(y) => speciated::<1, ONE_ZONE>(y, 0, parameters).hydrogen_activity,
    }
}

impl Reading {
    pub(super) fn of(time_s: f64, state: &State, parameters: &Parameters) -> Self {
        match state {
            State::Split(y) => {
                let plume = speciated::<2, TWO_ZONES>(y, 0, parameters);
                let bulk = speciated::<2, TWO_ZONES>(y, 1, parameters);
                let mut reading = Self::from_parts::<2, TWO_ZONES>(time_s, y, &bulk, parameters.plume_share);
                reading.plume_ph = plume.ph();
                reading.solid_plume_mol = y[Split::SOLID].max(0.0);
                reading
            }
            State::Merged(y) => {
                let bulk = speciated::<1, ONE_ZONE>(y, 0, parameters);
                Self::from_parts::<1, ONE_ZONE>(time_s, y, &bulk, 0.0)
            }
        }
    }

    fn from_parts<const Z: usize, const N: usize>(
        time_s: f64,
        y: &[f64; N],
        bulk: &Speciation,
        plume_share: f64,
    ) -> Self {
        let total = |quantity: usize| y[quantity..quantity + Z].iter().sum::<f64>();
        let (acid_excess, chloride, sodium) =
            (total(Beaker::<Z, N>::ACID_EXCESS), total(Beaker::<Z, N>::CHLORIDE), total(Beaker::<Z, N>::SODIUM));
        Self {
            time_s,
            ph: bulk.ph(),
            plume_ph: bulk.ph(),
            temperature_k: y[Beaker::<Z, N>::TEMPERATURE],
            water_kg: y[Beaker::<Z, N>::WATER],
            plume_share,
            solid_bulk_mol: y[Beaker::<Z, N>::SOLID + Z - 1].max(0.0),
            solid_plume_mol: 0.0,
            solid_settled_mol: y[Beaker::<Z, N>::SETTLED].max(0.0),
            magnesium_mol: 0.5 * (chloride - sodium - acid_excess),
            carbon_mol: total(Beaker::<Z, N>::CARBON),
            ionic_strength: bulk.ionic_strength,
            saturation_ratio: bulk.saturation_ratio,
            hydrogen_molality: bulk.species.hydrogen,
            hydroxide_molality: bulk.species.hydroxide,
            acid_excess_mol: acid_excess,
            chloride_mol: chloride,
            sodium_mol: sodium,
            ice_kg: y[Beaker::<Z, N>::ICE].max(0.0),
        }
    }

    /// Undissolved solid, suspended and settled, mol.
    pub fn solid_mol(&self) -> f64 {
        self.solid_bulk_mol + self.solid_plume_mol + self.solid_settled_mol
    }

    /// Undissolved solid, suspended and settled, g.
    pub fn solid_g(&self) -> f64 {
        self.solid_mol() * MAGNESIUM_HYDROXIDE_G_MOL
    }

    /// Volume of the water, L (what is dissolved or suspended adds less than 1 %).
    pub fn volume_l(&self) -> f64 {
        self.water_kg / density_kg_m3(self.temperature_k) * 1e3
    }

    /// Suspended solid in the bulk, g/L, where there is any: below the clear layer.
    pub fn suspended_bulk_g_l(&self) -> f64 {
        let share = (1.0 - self.plume_share) * (1.0 - self.clear_layer()).max(1e-6);
        self.solid_bulk_mol * MAGNESIUM_HYDROXIDE_G_MOL / (self.volume_l() * share)
    }

    /// Suspended solid in the plume, g/L; the bulk's once both are one.
    pub fn suspended_plume_g_l(&self) -> f64 {
        if self.plume_share > 0.0 {
            self.solid_plume_mol * MAGNESIUM_HYDROXIDE_G_MOL / (self.volume_l() * self.plume_share)
        } else {
            self.suspended_bulk_g_l()
        }
    }

    /// Share of the depth that is clear, from the top, 0 to 1. Flocs of one size sink as one
    /// front: what has settled is what stood above it.
    pub fn clear_layer(&self) -> f64 {
        let solid = self.solid_mol();
        if solid > 1e-9 { (self.solid_settled_mol / solid).clamp(0.0, 1.0) } else { 0.0 }
    }
}
