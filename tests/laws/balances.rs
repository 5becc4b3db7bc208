//! The rates balance: heat, water and carbon, summed anew from what the rates say happens,
//! at states along a thousand lessons.

use turnback::chemistry::{
    Action, Beaker, Bottle, Composition, Inflow, ONE_ZONE, Parameters, Pour, Reagent, Speciation, TWO_ZONES, Thermal,
    speciate,
};
use turnback::constants::{
    BRUCITE_ENTHALPY_J_MOL, CELSIUS_ZERO_K, CRYOSCOPIC_K_KG_MOL, ICE_FUSION_J_KG, NEUTRALISATION_ENTHALPY_J_MOL,
    WATER_G_MOL, WATER_HEAT_CAPACITY_J_KG_K,
};
use turnback::course::{Course, Reading};
use turnback::numerics::Equations;

use super::lessons::{Draw, Kind, Lesson};
use super::worst::Worst;

const LESSONS: u32 = 1000;
/// Part of the largest term that a balance may miss by.
const PART: f64 = 1e-10;

/// The beaker as one zone: its places are also those of what is summed over zones.
type One = Beaker<1, ONE_ZONE>;
type Two = Beaker<2, TWO_ZONES>;

/// The state behind a reading of a beaker, as one zone.
fn as_one_zone(reading: &Reading, lesson: &Lesson) -> [f64; ONE_ZONE] {
    let mut y = [0.0; ONE_ZONE];
    y[One::ACID_EXCESS] = reading.acid_excess_mol;
    y[One::CHLORIDE] = reading.chloride_mol;
    y[One::SODIUM] = reading.sodium_mol;
    y[One::SOLID] = reading.solid_bulk_mol + reading.solid_plume_mol;
    y[One::CARBON] = reading.carbon_mol;
    y[One::SETTLED] = reading.solid_settled_mol;
    y[One::SUPPLIED] = lesson.setup.solid_mol.max(reading.solid_mol());
    y[One::WATER] = reading.water_kg;
    y[One::TEMPERATURE] = reading.temperature_k;
    y[One::ICE] = reading.ice_kg;
    y
}

/// The same with a plume that holds other shares of each amount than of the water.
fn as_two_zones(one: &[f64; ONE_ZONE], plume_share: f64, draw: &mut Draw) -> [f64; TWO_ZONES] {
    let mut y = [0.0; TWO_ZONES];
    for (two, single) in Two::OF_ZONES.into_iter().zip(One::OF_ZONES) {
        y[two] = one[single] * plume_share * draw.between(0.5, 2.0);
        y[two + 1] = one[single] - y[two];
    }
    for (two, single) in Two::SHARED.into_iter().zip(One::SHARED) {
        y[two] = one[single];
    }
    y
}

/// What the rates of a state say, summed over its zones.
struct Balance {
    /// Rates summed over the zones, at the places of one zone.
    totals: [f64; ONE_ZONE],
    /// The fastest change of a zone's amount or of the settled solid.
    fastest: f64,
    zones: usize,
    bulk_salt_molality: f64,
    water_kg: f64,
    temperature_k: f64,
    inflow: Inflow,
}

impl Balance {
    fn of<const Z: usize, const N: usize>(parameters: Parameters, inflow: Option<Inflow>, y: &[f64; N]) -> Self {
        let mut beaker = Beaker::<Z, N>::new(parameters, inflow);
        let zone = beaker.zones(y)[Z - 1].composition;
        let rates = beaker.rates(y);
        let mut totals = [0.0; ONE_ZONE];
        let mut fastest = rates[Beaker::<Z, N>::SETTLED].abs();
        for (place, single) in Beaker::<Z, N>::OF_ZONES.into_iter().zip(One::OF_ZONES) {
            for rate in &rates[place..place + Z] {
                totals[single] += rate;
                fastest = fastest.max(rate.abs());
            }
        }
        for (place, single) in Beaker::<Z, N>::SHARED.into_iter().zip(One::SHARED) {
            totals[single] = rates[place];
        }
        Self {
            totals,
            fastest,
            zones: Z,
            bulk_salt_molality: zone.chloride + zone.sodium,
            water_kg: y[Beaker::<Z, N>::WATER],
            temperature_k: y[Beaker::<Z, N>::TEMPERATURE],
            inflow: inflow.unwrap_or_default(),
        }
    }

    /// Solid that dissolves, less what forms, mol/s.
    fn dissolving(&self) -> f64 {
        -(self.totals[One::SOLID] + self.totals[One::SETTLED])
    }

    /// H⁺ + OH⁻ that become water, mol/s, from the water's own balance.
    fn neutralising(&self) -> f64 {
        let made_kg_s = self.totals[One::WATER] - self.inflow.water_kg_s + self.totals[One::ICE];
        made_kg_s / (WATER_G_MOL * 1e-3) - 2.0 * self.dissolving()
    }

    /// The heats that warm the beaker, W.
    fn heats(&self, p: &Parameters) -> [f64; 7] {
        let t = self.temperature_k;
        let melting = -self.totals[One::ICE];
        let freezing_k = CELSIUS_ZERO_K - 2.0 * CRYOSCOPIC_K_KG_MOL * self.bulk_salt_molality;
        [
            -BRUCITE_ENTHALPY_J_MOL * self.dissolving(),
            -NEUTRALISATION_ENTHALPY_J_MOL * self.neutralising(),
            p.room_w_k * (p.room_k - t),
            p.bath_w_k * (p.bath_k - t),
            (p.plate_gain_w_k * (p.plate_set_k - t)).clamp(0.0, p.plate_max_w),
            self.inflow.water_kg_s * WATER_HEAT_CAPACITY_J_KG_K * (self.inflow.temperature_k - t),
            -melting * (ICE_FUSION_J_KG + WATER_HEAT_CAPACITY_J_KG_K * (t - freezing_k)),
        ]
    }
}

/// Calls for every state: of one zone, and of two.
fn at_states_along_lessons(kind: Kind, mut judge: impl FnMut(&Parameters, &Balance, &str)) {
    for number in 0..LESSONS {
        let lesson = Lesson::draw(number, kind);
        let course = lesson.follow();
        let mut draw = Draw::new(number);
        for reading in lesson.readings(&course) {
            let (parameters, inflow) = lesson.parameters(reading.time_s);
            let one = as_one_zone(&reading, &lesson);
            let two = as_two_zones(&one, parameters.plume_share, &mut draw);
            let at = format!("lesson {number}, {} s", reading.time_s);
            judge(&parameters, &Balance::of::<1, ONE_ZONE>(parameters, inflow, &one), &at);
            judge(&parameters, &Balance::of::<2, TWO_ZONES>(parameters, inflow, &two), &at);
        }
    }
}

#[test]
fn the_temperature_rises_by_the_sum_of_the_heats() {
    let mut worst = Worst::default();
    at_states_along_lessons(Kind::Any, |p, balance, at| {
        if p.held {
            assert_eq!(balance.totals[One::TEMPERATURE], 0.0, "{at}: a held temperature moves");
            return;
        }
        let capacity = balance.water_kg * WATER_HEAT_CAPACITY_J_KG_K + p.vessel_j_k;
        let stored = balance.totals[One::TEMPERATURE] * capacity;
        let heats = balance.heats(p);
        let scale = heats.iter().fold(stored.abs(), |scale, heat| scale.max(heat.abs()));
        // A beaker in which less than a milliwatt flows is at rest.
        worst.see((stored - heats.iter().sum::<f64>()) / scale.max(1e-3), || at.to_owned());
    });
    worst.within(PART, "heat, part of the largest");
}

#[test]
fn each_mole_that_dissolves_takes_two_of_acid_and_brings_its_carbonate() {
    let (mut excess, mut carbon) = (Worst::default(), Worst::default());
    at_states_along_lessons(Kind::Any, |p, balance, at| {
        let dissolving = balance.dissolving();
        let poured = balance.inflow.chloride_mol_s - balance.inflow.sodium_mol_s;
        let expected = poured - 2.0 * dissolving;
        // What mixing and settling move cancels to the last bits of what is moved.
        let moved = balance.fastest;
        let scale = moved.max(1e-12);
        excess.see((balance.totals[One::ACID_EXCESS] - expected) / scale, || at.to_owned());
        // Where nothing exchanges with the air and nothing grows: C = x_c times what dissolves.
        if p.surface_m2 == 0.0 && balance.zones == 1 && dissolving > 0.0 {
            let expected = p.bottle.carbonate_mol_per_mol * dissolving;
            let scale = p.bottle.carbonate_mol_per_mol * moved;
            carbon.see((balance.totals[One::CARBON] - expected) / scale.max(1e-15), || at.to_owned());
        }
    });
    excess.within(PART, "acid excess, part");
    assert!(!carbon.at.is_empty(), "no state without air");
    carbon.within(PART, "carbon, part");
}

#[test]
fn water_is_made_of_the_hydroxide_that_disappears() {
    // What base came in and is no longer held as OH⁻ or MgOH⁺, by finite differences of the
    // speciation: how much of both a kilogram holds when E moves by a little.
    let mut worst = Worst::default();
    let held = |s: &Speciation| s.species.hydroxide + s.species.mgoh;
    for number in 0..LESSONS {
        let lesson = Lesson::draw(number, Kind::Any);
        let course = lesson.follow();
        for reading in lesson.readings(&course).iter().filter(|reading| reading.plume_share == 0.0) {
            let (parameters, inflow) = lesson.parameters(reading.time_s);
            let y = as_one_zone(reading, &lesson);
            let balance = Balance::of::<1, ONE_ZONE>(parameters, inflow, &y);
            let composition = One::new(parameters, inflow).zones(&y)[0].composition;
            let thermal = Thermal::of(reading.temperature_k);
            let moved = |by: f64| {
                let moved = Composition { acid_excess: composition.acid_excess + by, ..composition };
                held(&speciate(&moved, &thermal, parameters.with_carbon()))
            };
            let here = speciate(&composition, &thermal, parameters.with_carbon());
            let step = 1e-3 * (here.species.hydrogen + held(&here)).max(1e-9);
            let slope = (moved(step) - moved(-step)) / (2.0 * step);
            let expected = balance.inflow.sodium_mol_s - slope * balance.totals[One::ACID_EXCESS];
            let scale = balance.totals[One::ACID_EXCESS].abs().max(balance.inflow.sodium_mol_s).max(1e-9);
            worst.see((balance.neutralising() - expected) / scale, || format!("lesson {number}, {} s", reading.time_s));
        }
    }
    // The rate holds the totals and the ionic strength still, the difference does not.
    worst.within(0.02, "water made, part of the acid that is moved");
}

#[test]
fn an_insulated_beaker_keeps_the_heat_of_its_reactions() {
    let parameters = Parameters { bottle: Bottle::default(), room_w_k: 0.0, ..Parameters::REFERENCE };
    let (water_kg, solid_mol, start_k) = (0.515, 0.0206, 294.15);
    let mut course = Course::of_parameters(parameters, water_kg, solid_mol, start_k, 0.0, None);
    let before = course.reading(0.0);
    let pour = Pour {
        reagent: Reagent::Acid,
        volume_ml: 10.0,
        concentration_mol_l: 3.0,
        duration_s: 1.0,
        temperature_k: start_k,
    };
    course.act(5.0, Action::Pour(pour)).unwrap();
    course.reach(600.0).unwrap();
    let after = course.reading(600.0);
    let dissolved = before.solid_mol() - after.solid_mol();
    let poured_kg = pour.volume_ml * Reagent::Acid.water_kg_ml(3.0);
    let neutralised = (after.water_kg - before.water_kg - poured_kg) / (WATER_G_MOL * 1e-3) - 2.0 * dissolved;
    let heat = -BRUCITE_ENTHALPY_J_MOL * dissolved - NEUTRALISATION_ENTHALPY_J_MOL * neutralised;
    let capacity = after.water_kg * WATER_HEAT_CAPACITY_J_KG_K + parameters.vessel_j_k;
    let warmed = (after.temperature_k - before.temperature_k) * capacity;
    // 30 mmol of acid take 15 mmol of solid and give 1.7 kJ. The pour is as warm as the
    // beaker was, and has cooled it by what it is colder by then: less than 0.1 %.
    assert!((heat - 1710.0).abs() <= 20.0, "{heat} J");
    assert!((warmed / heat - 1.0).abs() <= 2e-3, "{warmed} J of {heat} J");
}
