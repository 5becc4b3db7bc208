//! What-ifs of the free bench: one beaker's recipe with something changed.

use crate::chemistry::Bottle;
use crate::lesson::{Act, Deed, Field, FieldError, Limits, Place, Recipe};

use super::bench::Bench;
use super::{Session, SessionError, Stage};

/// What is changed in one beaker against the lesson's recipe.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct WhatIf {
    /// Half of the water.
    pub half_water: bool,
    /// No indicator.
    pub no_indicator: bool,
    /// The same grams of a finer solid.
    pub finer: bool,
    /// Ice in the beaker.
    pub ice: bool,
}

/// The changes there are, by their keys at the edge.
pub const WHAT_IFS: [&str; 4] = ["halfWater", "noIndicator", "finer", "ice"];

/// How many times smaller across the particles of a finer solid are. So many grams of them have this many times the surface
/// to dissolve from (area over volume of a shape goes with 1/size). Flocs are loose heaps of particles and stay as large.
pub const FINENESS: f64 = 2.0;

/// Ice put into a beaker, g: two or three cubes.
pub const ICE_G: f64 = 50.0;

impl WhatIf {
    /// This with one more change; none for a key that is not there.
    pub fn with(self, key: &str) -> Option<WhatIf> {
        match key {
            "halfWater" => Some(WhatIf { half_water: true, ..self }),
            "noIndicator" => Some(WhatIf { no_indicator: true, ..self }),
            "finer" => Some(WhatIf { finer: true, ..self }),
            "ice" => Some(WhatIf { ice: true, ..self }),
            _ => None,
        }
    }

    /// Whether each of [`WHAT_IFS`] is changed.
    pub fn changed(&self) -> [bool; WHAT_IFS.len()] {
        [self.half_water, self.no_indicator, self.finer, self.ice]
    }

    /// Water in the beaker, mL.
    pub fn water_ml(&self, recipe: &Recipe) -> f64 {
        recipe.value(Field::WaterMl) * if self.half_water { 0.5 } else { 1.0 }
    }

    /// Indicator in the beaker, mL.
    pub fn indicator_ml(&self, recipe: &Recipe) -> f64 {
        if self.no_indicator { 0.0 } else { recipe.value(Field::IndicatorMl) }
    }

    /// How many times finer its solid is.
    pub fn fineness(&self) -> f64 {
        if self.finer { FINENESS } else { 1.0 }
    }

    /// Ice that is put in, g.
    pub fn ice_g(&self) -> f64 {
        if self.ice { ICE_G } else { 0.0 }
    }

    /// A bottle, with what is changed of it.
    pub(super) fn bottle(&self, bottle: Bottle) -> Bottle {
        let finer = self.fineness();
        Bottle {
            acid_area_m2_g: bottle.acid_area_m2_g * finer,
            neutral_area_m2_g: bottle.neutral_area_m2_g * finer,
            ..bottle
        }
    }

    /// What the beaker holds before anything is poured, mL; ice counts as its water.
    fn start_ml(&self, recipe: &Recipe) -> f64 {
        self.water_ml(recipe) + recipe.value(Field::SuspensionMl) + self.indicator_ml(recipe) + self.ice_g()
    }
}

impl Session {
    /// What is changed in a beaker against the recipe; nothing but on the free bench.
    pub fn what_if(&self, beaker: usize) -> WhatIf {
        self.what_ifs.get(beaker).copied().unwrap_or_default()
    }

    /// Indicator in a beaker, mL.
    pub fn indicator_ml(&self, beaker: usize) -> f64 {
        self.what_if(beaker).indicator_ml(&self.lesson.recipe)
    }

    /// Changes something in some beakers and sets all up anew on the free bench; "none" takes all changes of these beakers
    /// back.
    ///
    /// # Errors
    /// [`SessionError::NotNow`] unless on the free bench; [`SessionError::Fields`]: no such change or beaker, or the glass
    /// would overflow; [`SessionError::Course`]. The bench is then as it was.
    pub fn change(&mut self, beakers: &[usize], key: &str) -> Result<(), SessionError> {
        if self.stage != Stage::Free {
            return Err(SessionError::NotNow { stage: self.stage });
        }
        let fields = |error| SessionError::Fields(vec![error]);
        self.check_beakers(beakers).map_err(fields)?;
        let mut what_ifs = self.what_ifs.clone();
        for &beaker in beakers {
            let before = self.what_if(beaker);
            let changed = if key == "none" { Some(WhatIf::default()) } else { before.with(key) };
            let changed = changed.ok_or_else(|| fields(FieldError::bare(CHANGE, "unknown")))?;
            self.check_holds(&changed).map_err(fields)?;
            what_ifs[beaker] = changed;
        }
        let at_ds = self.past_ds();
        self.begin_free(what_ifs)?;
        let typed = [key.to_owned(), String::new()];
        self.note_down(at_ds, Act::Bench { deed: Deed::Change, beakers: beakers.to_vec(), typed });
        Ok(())
    }

    /// Fresh beakers on the free bench with these changes.
    pub(super) fn begin_free(&mut self, what_ifs: Vec<WhatIf>) -> Result<(), SessionError> {
        let bench = Bench::begin(&self.lesson, &what_ifs)?;
        let mut fresh = Session::new(self.lesson.clone())?;
        fresh.bench = bench;
        fresh.what_ifs = what_ifs;
        fresh.stage = Stage::Free;
        self.replace(fresh);
        Ok(())
    }

    fn check_holds(&self, changed: &WhatIf) -> Result<(), FieldError> {
        let recipe = &self.lesson.recipe;
        let vessel_ml = recipe.value(Field::VesselMl);
        if changed.start_ml(recipe) <= vessel_ml {
            return Ok(());
        }
        let room_ml = vessel_ml - (changed.start_ml(recipe) - changed.ice_g());
        Err(FieldError::new(CHANGE, "overflow", &Limits { max: room_ml.max(0.0).floor(), ..ROOM_ML }))
    }
}

/// Where the errors of a change stand.
const CHANGE: Place = Place::Pour { key: "change" };

/// Room that is left in a glass.
static ROOM_ML: Limits = Limits { key: "change", unit: "mL", min: 0.0, max: 0.0, default: 0.0, decimals: 0, finest: 0 };
