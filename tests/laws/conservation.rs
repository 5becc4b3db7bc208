//! What goes in is there: magnesium, chloride, sodium, carbon, charge. And nothing is less
//! than nothing.

use turnback::chemistry::{Composition, Thermal, speciate};
use turnback::course::Reading;

use super::lessons::{Kind, Lesson};
use super::worst::Worst;

/// As many as the bar asks for.
const LESSONS: u32 = 1000;
/// Part of what there is that may be lost in a lesson. The method keeps linear sums, so that
/// only rounding is left.
const PART: f64 = 1e-10;
/// And this little in any case, mol: a millionth of what a drop of indicator holds.
const NOTHING_MOL: f64 = 1e-14;
/// The last of the solid goes like e^-t, and a step may end a little below nothing, which a
/// reading shows as nothing: by the tolerance of a step, mol and part of what there is.
const VANISHING_MOL: f64 = 2e-9;
const VANISHING_PART: f64 = 2e-6;

trait Hiding {
    fn may_hide_less_than_nothing(&self, lesson: &Lesson) -> bool;
}

impl Hiding for Reading {
    /// Whether an amount that is shown as nothing may be a little less.
    fn may_hide_less_than_nothing(&self, lesson: &Lesson) -> bool {
        let split = self.plume_share > 0.0;
        let settled = self.solid_settled_mol == 0.0 && lesson.ever_settles();
        settled || self.solid_bulk_mol == 0.0 || (split && self.solid_plume_mol == 0.0)
    }
}

fn assert_kept(found: f64, wanted: f64, scale: f64, what: &str, lesson: &Lesson, reading: &Reading) {
    let allowed = PART * scale + NOTHING_MOL;
    assert!(
        (found - wanted).abs() <= allowed,
        "lesson {}, {} s: {what} is {found:e}, should be {wanted:e} ± {allowed:e}\n{lesson:?}\n{reading:?}",
        lesson.number,
        reading.time_s
    );
}

#[test]
fn magnesium_chloride_and_sodium_are_kept_in_a_thousand_lessons() {
    let (mut vanished, mut strict) = (Worst::default(), 0);
    for number in 0..LESSONS {
        let lesson = Lesson::draw(number, Kind::Any);
        let course = lesson.follow();
        for reading in lesson.readings(&course) {
            let (chloride, sodium) = lesson.poured_mol(reading.time_s);
            assert_kept(reading.chloride_mol, chloride, chloride, "chloride", &lesson, &reading);
            assert_kept(reading.sodium_mol, sodium, sodium, "sodium", &lesson, &reading);
            // Dissolved magnesium follows from charge: 2 Mg = Cl - Na - E.
            let dissolved = 0.5 * (reading.chloride_mol - reading.sodium_mol - reading.acid_excess_mol);
            let (found, wanted) = (dissolved + reading.solid_mol(), lesson.setup.solid_mol);
            let scale = wanted + chloride + sodium;
            if reading.may_hide_less_than_nothing(&lesson) {
                vanished.see((found - wanted) / (VANISHING_MOL + VANISHING_PART * scale), || {
                    format!("lesson {number}, {} s", reading.time_s)
                });
                assert!(
                    found >= wanted - PART * scale - NOTHING_MOL,
                    "lesson {number}: magnesium is lost: {reading:?}"
                );
                continue;
            }
            strict += 1;
            assert_kept(found, wanted, scale, "magnesium", &lesson, &reading);
        }
    }
    assert!(strict > 10_000, "only {strict} readings with solid everywhere");
    vanished.within(1.0, "magnesium beyond what there is once solid has vanished, of a step's tolerance");
}

#[test]
fn the_liquid_carries_no_charge() {
    let mut merged = 0;
    for number in 0..LESSONS {
        let lesson = Lesson::draw(number, Kind::Any);
        let course = lesson.follow();
        // A reading holds the composition of the bulk where plume and bulk are one.
        for reading in lesson.readings(&course).iter().filter(|reading| reading.plume_share == 0.0) {
            merged += 1;
            let per_kg = |amount_mol: f64| amount_mol / reading.water_kg;
            let composition = Composition {
                acid_excess: per_kg(reading.acid_excess_mol),
                chloride: per_kg(reading.chloride_mol),
                sodium: per_kg(reading.sodium_mol),
                carbon: per_kg(reading.carbon_mol).max(0.0),
            };
            let s = speciate(&composition, &Thermal::of(reading.temperature_k), true).species;
            let positive = s.hydrogen + composition.sodium + 2.0 * s.magnesium + s.mgoh + s.mghco3;
            let negative = s.hydroxide + composition.chloride + s.hydrogencarbonate + 2.0 * s.carbonate;
            assert_kept(positive, negative, positive, "positive charge, mol/kg,", &lesson, reading);
            // And the forms add up to what is there.
            let magnesium = s.magnesium + s.mgoh + s.mgco3 + s.mghco3;
            assert_kept(magnesium, composition.magnesium(), composition.magnesium(), "Mg forms", &lesson, reading);
            let carbon = s.carbon_dioxide + s.hydrogencarbonate + s.carbonate + s.mgco3 + s.mghco3;
            assert_kept(carbon, composition.carbon, composition.carbon, "C forms", &lesson, reading);
        }
    }
    assert!(merged > 5000, "only {merged} readings of a mixed beaker");
}

#[test]
fn without_air_no_less_carbon_is_there_than_dissolved_solid_has_brought() {
    let (mut missing, mut beyond) = (Worst::default(), Worst::default());
    for number in 0..LESSONS {
        let lesson = Lesson::draw(number, Kind::AcidAlone);
        let course = lesson.follow();
        for reading in lesson.readings(&course) {
            let dissolved = lesson.setup.solid_mol - reading.solid_mol();
            let carbon = lesson.setup.bottle.carbonate_mol_per_mol * dissolved;
            let at = || format!("lesson {number}, {} s, {carbon:e} mol", reading.time_s);
            missing.see((carbon - reading.carbon_mol).max(0.0), at);
            beyond.see((reading.carbon_mol - carbon) / (carbon + 1e-9), at);
        }
    }
    // The rates obey the law to the last figure (see balances); a step may err by this.
    missing.within(2e-9, "carbon missing, mol");
    // What grows on the solid again, where the plume mixes into the basic bulk, takes no
    // carbonate back: this much is set free twice.
    beyond.within(0.1, "carbon beyond what has dissolved, part");
}

#[test]
fn no_amount_is_ever_negative() {
    for number in 0..LESSONS {
        let lesson = Lesson::draw(number, Kind::Any);
        let course = lesson.follow();
        for reading in lesson.readings(&course) {
            let moved = lesson.setup.solid_mol + reading.chloride_mol + reading.sodium_mol;
            let step_mol = VANISHING_MOL + VANISHING_PART * moved;
            let amounts = [
                reading.solid_bulk_mol,
                reading.solid_plume_mol,
                reading.solid_settled_mol,
                reading.ice_kg,
                reading.water_kg,
                reading.ionic_strength,
                reading.saturation_ratio,
                reading.hydrogen_molality,
                reading.hydroxide_molality,
                // Rounding around nothing, and what a step may err by, are no amounts.
                reading.chloride_mol + 1e-14,
                reading.sodium_mol + 1e-14,
                reading.magnesium_mol + step_mol,
                reading.carbon_mol + step_mol,
            ];
            assert!(amounts.iter().all(|&amount| amount >= 0.0), "lesson {number}: {reading:?}\n{lesson:?}");
            assert!((-1.5..=15.5).contains(&reading.ph), "lesson {number}: {reading:?}");
            assert!((-1.5..=15.5).contains(&reading.plume_ph), "lesson {number}: {reading:?}");
            assert!((268.0..=340.0).contains(&reading.temperature_k), "lesson {number}: {reading:?}");
        }
    }
}
