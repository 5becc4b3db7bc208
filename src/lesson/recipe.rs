//! The recipe: what stands on the bench and how much is poured. Checked once, at the door.

use super::beaker::{Beaker, BeakerText};
use super::field::{Field, Limits};
use super::script::At;

/// A checked recipe for one to three beakers that differ only in their surroundings.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe {
    values: [f64; Field::COUNT],
    beakers: Vec<Beaker>,
}

/// A recipe as typed, by the keys of [`Field`].
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RecipeText {
    /// Typed text by key. A key that is missing counts as left empty.
    pub fields: FieldTexts,
    /// Typed beakers, from left to right.
    pub beakers: Vec<BeakerText>,
}

/// What was typed into each field; nothing where nothing was.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FieldTexts([String; Field::COUNT]);

impl FieldTexts {
    /// What `typed` gives for each field.
    pub fn of(typed: impl FnMut(Field) -> String) -> FieldTexts {
        FieldTexts(Field::ALL.map(typed))
    }

    /// What was typed into a field.
    pub fn get(&self, field: Field) -> &str {
        &self.0[field as usize]
    }

    /// Types something into a field.
    pub fn set(&mut self, field: Field, typed: String) {
        self.0[field as usize] = typed;
    }

    /// Types something into the field of a key; what is no field's is left out of account.
    pub fn insert(&mut self, key: String, typed: String) {
        if let Some(field) = Field::ALL.into_iter().find(|field| field.key() == key) {
            self.set(field, typed);
        }
    }
}

impl FromIterator<(String, String)> for FieldTexts {
    fn from_iter<I: IntoIterator<Item = (String, String)>>(typed: I) -> FieldTexts {
        let mut texts = FieldTexts::default();
        for (key, text) in typed {
            texts.insert(key, text);
        }
        texts
    }
}

/// Where on the form an error stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// At one field of the recipe.
    Field(Field),
    /// At one field of one beaker.
    Beaker {
        /// Which beaker, from 0.
        index: usize,
        /// The beaker's field: kind, celsius or iceG.
        key: &'static str,
    },
    /// At the row of beakers: too few or too many.
    Beakers,
    /// At something of the whole lesson.
    Lesson {
        /// title, level, minutes, notes, steps, brief or end.
        key: &'static str,
    },
    /// At one dose.
    Step {
        /// Which dose, from 0.
        index: usize,
        /// reagent, volumeMl, restS or asks.
        key: &'static str,
    },
    /// At one question.
    Ask {
        /// Where it is asked.
        at: At,
        /// Which question there, from 0.
        ask: usize,
        /// Which of its choices, from 0.
        choice: Option<usize>,
    },
    /// At something poured on the free bench.
    Pour {
        /// The field: volumeMl, reagent or beakers.
        key: &'static str,
    },
}

/// One field that was refused. The words for the key are the page's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FieldError {
    /// Where it stands.
    pub place: Place,
    /// empty, notANumber, tooSmall, tooBig, tooFine, tooLong, unknown, twice, notHere or overflow.
    pub key: &'static str,
    /// What the field may hold, where limits are the trouble.
    pub limits: Option<Limits>,
}

impl FieldError {
    /// An error about a field with limits.
    pub fn new(place: Place, key: &'static str, limits: &Limits) -> FieldError {
        FieldError { place, key, limits: Some(*limits) }
    }

    /// An error that no limits explain.
    pub fn bare(place: Place, key: &'static str) -> FieldError {
        FieldError { place, key, limits: None }
    }
}

impl Default for Recipe {
    /// Our own scenario: Room 12, three 600 mL beakers, baths at 2 and 34 °C and the room's 21 °C.
    fn default() -> Recipe {
        Recipe {
            values: Field::ALL.map(|field| field.limits().default),
            beakers: vec![Beaker::Bath { celsius: 2.0 }, Beaker::Room, Beaker::Bath { celsius: 34.0 }],
        }
    }
}

impl Recipe {
    /// Fewest and most beakers on the bench.
    pub const BEAKERS: [usize; 2] = [1, 3];

    /// Reads a whole typed recipe.
    ///
    /// # Errors
    /// Every field that is refused, all at once and each with its limits, so that one look
    /// at the form shows everything there is to mend.
    pub fn from_text(text: &RecipeText) -> Result<Recipe, Vec<FieldError>> {
        Recipe::read(text)?.holding().map_err(|error| vec![error])
    }

    /// Reads a typed recipe without asking whether its glass holds it.
    pub(super) fn read(text: &RecipeText) -> Result<Recipe, Vec<FieldError>> {
        let mut errors = Vec::new();
        let mut values = [0.0; Field::COUNT];
        for field in Field::ALL {
            match field.limits().read(text.fields.get(field), Place::Field(field)) {
                Ok(value) => values[field as usize] = value,
                Err(error) => errors.push(error),
            }
        }
        let mut beakers = Vec::new();
        if let Err(error) = check_count(text.beakers.len()) {
            errors.push(error);
        } else {
            for (index, typed) in text.beakers.iter().enumerate() {
                match Beaker::from_text(typed, index) {
                    Ok(beaker) => beakers.push(beaker),
                    Err(bad) => errors.extend(bad),
                }
            }
        }
        if errors.is_empty() { Ok(Recipe { values, beakers }) } else { Err(errors) }
    }

    /// A recipe from numbers that were checked one by one, but not whether its glass holds it.
    pub(super) fn from_checked(values: [f64; Field::COUNT], beakers: Vec<Beaker>) -> Result<Recipe, FieldError> {
        check_count(beakers.len())?;
        Ok(Recipe { values, beakers })
    }

    /// This recipe, if its glass holds all that is to be poured into it.
    fn holding(self) -> Result<Recipe, FieldError> {
        self.check_holds(self.final_ml())?;
        Ok(self)
    }

    /// Refuses a volume, mL, that is more than a beaker holds.
    pub(super) fn check_holds(&self, final_ml: f64) -> Result<(), FieldError> {
        if final_ml > self.value(Field::VesselMl) {
            let needed = Limits { min: final_ml.ceil(), ..*Field::VesselMl.limits() };
            return Err(FieldError::new(Place::Field(Field::VesselMl), "overflow", &needed));
        }
        Ok(())
    }

    /// This recipe with a suspension of so many mg/mL.
    pub(super) fn with_strength(&self, mg_ml: f64) -> Recipe {
        let mut recipe = self.clone();
        recipe.values[Field::SuspensionMgMl as usize] = mg_ml;
        recipe
    }

    /// Sets how many doses there are: a lesson's own doses decide over the numbers.
    pub(super) fn set_counts(&mut self, acid_doses: usize, base_doses: usize) {
        self.values[Field::AcidDoses as usize] = acid_doses as f64;
        self.values[Field::BaseDoses as usize] = base_doses as f64;
    }

    /// This recipe as text that [`Recipe::from_text`] reads back.
    pub fn to_text(&self) -> RecipeText {
        let room_c = self.value(Field::RoomC);
        RecipeText {
            fields: FieldTexts::of(|field| self.value(field).to_string()),
            beakers: self.beakers.iter().map(|beaker| beaker.to_text(room_c)).collect(),
        }
    }

    /// The value of a field, in its unit.
    pub fn value(&self, field: Field) -> f64 {
        self.values[field as usize]
    }

    /// The value of a field that counts something.
    pub fn count(&self, field: Field) -> u32 {
        self.value(field) as u32
    }

    /// The beakers' surroundings, from left to right: one to three.
    pub fn beakers(&self) -> &[Beaker] {
        &self.beakers
    }

    /// What one beaker holds before the first dose, mL (water, suspension, indicator).
    pub fn start_ml(&self) -> f64 {
        self.value(Field::WaterMl) + self.value(Field::SuspensionMl) + self.value(Field::IndicatorMl)
    }

    /// Magnesium hydroxide in one beaker by the label, g.
    pub fn solid_g(&self) -> f64 {
        self.value(Field::SuspensionMl) * self.value(Field::SuspensionMgMl) / 1000.0
    }

    /// The most that any beaker holds after the last dose, mL.
    pub fn final_ml(&self) -> f64 {
        let doses = self.value(Field::AcidDoses) + self.value(Field::BaseDoses);
        self.start_ml() + self.most_ice_g() + doses * self.value(Field::DoseMl)
    }

    /// The most ice that any beaker holds, g; as much water, in mL, when it has melted.
    pub fn most_ice_g(&self) -> f64 {
        self.beakers.iter().map(|beaker| beaker.ice_g()).fold(0.0, f64::max)
    }
}

fn check_count(beakers: usize) -> Result<(), FieldError> {
    let [fewest, most] = Recipe::BEAKERS;
    let limits = Limits {
        key: "beakers",
        unit: "",
        min: fewest as f64,
        max: most as f64,
        default: most as f64,
        decimals: 0,
        finest: 0,
    };
    if beakers < fewest {
        Err(FieldError::new(Place::Beakers, "tooSmall", &limits))
    } else if beakers > most {
        Err(FieldError::new(Place::Beakers, "tooBig", &limits))
    } else {
        Ok(())
    }
}
