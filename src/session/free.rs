//! The free bench: pour what one likes, when one likes, into the beakers one likes.

use crate::chemistry::{Action, Bath, Pour, Reagent};
use crate::lesson::{Act, Beaker, BeakerText, Deed, Field, FieldError, Limits, Place, TYPED_MAX_CHARS, line};

use super::bench::{Logged, bath_of};
use super::watch::Event;
use super::{Session, SessionError, Stage, seconds_of};

/// A pour as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PourText {
    /// Beakers by index from 0.
    pub beakers: Vec<usize>,
    /// acid or base.
    pub reagent: String,
    /// Volume as typed, mL.
    pub volume_ml: String,
}

/// Surroundings as typed; the kinds are those of the recipe but for ice, which
/// only a beaker that is set up anew can have.
pub type BathText = BeakerText;

/// Limits of one pour, mL.
static POUR_ML: Limits =
    Limits { key: "volumeMl", unit: "mL", min: 0.1, max: 100.0, default: 2.0, decimals: 1, finest: 2 };

/// A pour on the free bench takes its time at the recipe's rate, within these bounds, s.
const POUR_BOUNDS_S: [f64; 2] = [0.5, 60.0];

impl Session {
    /// Pours into some beakers in the same instant, at the next tenth of a second.
    ///
    /// # Errors
    /// [`SessionError::NotNow`] unless on the free bench; [`SessionError::Fields`] with every
    /// refused field, `overflow` with the room that is left in the glass; [`SessionError::Course`].
    pub fn pour(&mut self, text: &PourText) -> Result<Vec<Event>, SessionError> {
        self.expect_free()?;
        let (reagent, volume_ml) = self.read_pour(text).map_err(SessionError::Fields)?;
        self.expect_no_pour(&text.beakers)?;
        let recipe = &self.lesson.recipe;
        let concentration = match reagent {
            Reagent::Acid => Field::AcidMolL,
            Reagent::Base => Field::BaseMolL,
        };
        let rate_s_ml = recipe.value(Field::PourS) / recipe.value(Field::DoseMl);
        let pour = Pour {
            reagent,
            volume_ml,
            concentration_mol_l: recipe.value(concentration),
            duration_s: (rate_s_ml * volume_ml).clamp(POUR_BOUNDS_S[0], POUR_BOUNDS_S[1]),
            temperature_k: self.dose_k(),
        };
        self.act_on(&text.beakers, Action::Pour(pour), Deed::Pour, [&text.reagent, &text.volume_ml])
    }

    /// Sets the stirrers of some beakers to a typed speed, rpm; 0 is off.
    ///
    /// # Errors
    /// As [`Session::pour`].
    pub fn set_stirrer(&mut self, beakers: &[usize], rpm: &str) -> Result<Vec<Event>, SessionError> {
        self.expect_free()?;
        self.check_beakers(beakers).map_err(|error| SessionError::Fields(vec![error]))?;
        let field = Field::StirRpm;
        let read = field.limits().read(rpm, Place::Field(field)).map_err(|error| SessionError::Fields(vec![error]))?;
        self.act_on(beakers, Action::Stir { rpm: read }, Deed::Stir, [rpm, ""])
    }

    /// Puts some beakers into other surroundings. Held keeps each at the temperature it has.
    ///
    /// # Errors
    /// As [`Session::pour`]; `notNow` at the kind for ice.
    pub fn set_bath(&mut self, beakers: &[usize], text: &BathText) -> Result<Vec<Event>, SessionError> {
        self.expect_free()?;
        self.check_beakers(beakers).map_err(|error| SessionError::Fields(vec![error]))?;
        let bath = read_bath(text, beakers[0]).map_err(SessionError::Fields)?;
        self.act_on(beakers, Action::Bath(bath), Deed::Bath, [&text.kind, &text.celsius])
    }

    fn act_on(
        &mut self,
        beakers: &[usize],
        action: Action,
        deed: Deed,
        typed: [&str; 2],
    ) -> Result<Vec<Event>, SessionError> {
        let at_ds = self.now_ds();
        for &beaker in beakers {
            self.bench.act(Logged { at_ds, beaker, action })?;
        }
        // A field that the deed does not read may hold anything.
        let typed = typed.map(|text| line(text).chars().take(TYPED_MAX_CHARS).collect());
        self.note_down(at_ds, Act::Bench { deed, beakers: beakers.to_vec(), typed });
        // Up to a tenth of a second on: what was done shows at once, on a clock on hold too.
        self.go_to(seconds_of(at_ds).max(self.clock.now_s()))
    }

    fn expect_free(&self) -> Result<(), SessionError> {
        if self.stage == Stage::Free { Ok(()) } else { Err(SessionError::NotNow { stage: self.stage }) }
    }

    /// One stream at a time: refused before any beaker gets its part.
    fn expect_no_pour(&self, beakers: &[usize]) -> Result<(), SessionError> {
        let at_s = seconds_of(self.now_ds());
        for &beaker in beakers {
            if let Some((start_s, pour)) = self.bench.pours(beaker, at_s).next_back()
                && start_s + pour.duration_s > at_s
            {
                return Err(SessionError::StillPouring { until_s: start_s + pour.duration_s });
            }
        }
        Ok(())
    }

    fn read_pour(&self, text: &PourText) -> Result<(Reagent, f64), Vec<FieldError>> {
        let reagent = match text.reagent.as_str() {
            "acid" => Ok(Reagent::Acid),
            "base" => Ok(Reagent::Base),
            _ => Err(FieldError::bare(Place::Pour { key: "reagent" }, "unknown")),
        };
        let volume_ml = POUR_ML.read(&text.volume_ml, Place::Pour { key: "volumeMl" });
        let beakers = self.check_beakers(&text.beakers);
        match (reagent, volume_ml, beakers) {
            (Ok(reagent), Ok(volume_ml), Ok(())) => {
                self.check_room(&text.beakers, volume_ml).map_err(|error| vec![error])?;
                Ok((reagent, volume_ml))
            }
            (reagent, volume_ml, beakers) => {
                Err([reagent.err(), volume_ml.err(), beakers.err()].into_iter().flatten().collect())
            }
        }
    }

    pub(super) fn check_beakers(&self, beakers: &[usize]) -> Result<(), FieldError> {
        let place = Place::Pour { key: "beakers" };
        let twice = |(at, beaker): (usize, &usize)| beakers[..at].contains(beaker);
        if beakers.is_empty() {
            Err(FieldError::bare(place, "empty"))
        } else if beakers.iter().any(|&beaker| beaker >= self.bench.len()) || beakers.iter().enumerate().any(twice) {
            Err(FieldError::bare(place, "unknown"))
        } else {
            Ok(())
        }
    }

    fn check_room(&self, beakers: &[usize], volume_ml: f64) -> Result<(), FieldError> {
        let recipe = &self.lesson.recipe;
        let filled_ml = |&beaker: &usize| self.volume_ml_with_pours(beaker) + self.indicator_ml(beaker);
        let fullest_ml = beakers.iter().map(filled_ml).fold(0.0, f64::max);
        let left_ml = (recipe.value(Field::VesselMl) - fullest_ml).max(0.0);
        if volume_ml <= left_ml {
            return Ok(());
        }
        let limits = Limits { max: (left_ml * 10.0).floor() / 10.0, ..POUR_ML };
        Err(FieldError::new(Place::Pour { key: "volumeMl" }, "overflow", &limits))
    }

    /// What a beaker holds once everything that was poured has run in, mL.
    fn volume_ml_with_pours(&self, beaker: usize) -> f64 {
        let start = self.bench.reading(beaker, 0.0);
        let poured_ml: f64 = self.bench.pours(beaker, f64::INFINITY).map(|(_, pour)| pour.volume_ml).sum();
        (start.volume_l() + start.ice_kg) * 1000.0 + poured_ml
    }
}

fn read_bath(text: &BathText, beaker: usize) -> Result<Bath, Vec<FieldError>> {
    // Held asks for no temperature: it is the one that the beaker has.
    if text.kind == "held" {
        return Ok(Bath::Held);
    }
    match Beaker::from_text(text, beaker)? {
        Beaker::Ice { .. } => Err(vec![FieldError::bare(Place::Beaker { index: beaker, key: "kind" }, "notNow")]),
        other => Ok(bath_of(other)),
    }
}
