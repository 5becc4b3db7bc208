//! The table of a recipe's numbers: name, unit, limits and default of each, in one place.

use super::number::{NumberError, parse_number};
use super::recipe::{FieldError, Place};

/// One number of a recipe. The order is the order of the link's bytes: it never changes,
/// and a new field of a later release goes to the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// Water in each beaker, mL.
    WaterMl,
    /// Suspension added to the water, mL.
    SuspensionMl,
    /// Strength of the suspension by its label, mg of magnesium hydroxide in one mL.
    SuspensionMgMl,
    /// Universal indicator, mL.
    IndicatorMl,
    /// Concentration of the hydrochloric acid, mol/L.
    AcidMolL,
    /// Concentration of the sodium hydroxide solution, mol/L.
    BaseMolL,
    /// Volume of one dose, acid or base, mL.
    DoseMl,
    /// Time that one dose takes to pour, s.
    PourS,
    /// Speed of the stirrer, revolutions per minute; 0 means off.
    StirRpm,
    /// Temperature of the room, of the room's beaker and of every dose, °C.
    RoomC,
    /// Nominal volume of each vessel, mL.
    VesselMl,
    /// Number of acid doses.
    AcidDoses,
    /// Number of base doses, after the acid.
    BaseDoses,
    /// Rest after each acid dose, s.
    RestS,
    /// Rest after each base dose, s.
    BaseRestS,
}

/// What a field may hold. The limits are this program's choice: wide enough for a class's
/// shelf and for trying the extremes, narrow enough that the model can run them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Name at the edge (form, page, error), camelCase.
    pub key: &'static str,
    /// Unit symbol, empty for a count.
    pub unit: &'static str,
    /// Smallest value allowed.
    pub min: f64,
    /// Largest value allowed.
    pub max: f64,
    /// Value of our own scenario (Room 12).
    pub default: f64,
    /// Decimals that are always shown, because a measuring tool reads that finely.
    pub decimals: u32,
    /// Most decimals accepted and kept; a link stores whole steps of 10^-finest.
    pub finest: u32,
}

const fn limits(
    key: &'static str,
    unit: &'static str,
    [min, max, default]: [f64; 3],
    [decimals, finest]: [u32; 2],
) -> Limits {
    Limits { key, unit, min, max, default, decimals, finest }
}

/// In the order of [`Field`].
const TABLE: [Limits; Field::COUNT] = [
    limits("waterMl", "mL", [10.0, 5000.0, 500.0], [0, 1]),
    limits("suspensionMl", "mL", [0.0, 500.0, 15.0], [0, 2]),
    limits("suspensionMgMl", "mg/mL", [0.0, 400.0, 80.0], [0, 2]),
    limits("indicatorMl", "mL", [0.0, 50.0, 5.0], [0, 2]),
    limits("acidMolL", "mol/L", [0.0, 6.0, 3.0], [1, 3]),
    limits("baseMolL", "mol/L", [0.0, 6.0, 3.0], [1, 3]),
    limits("doseMl", "mL", [0.1, 50.0, 2.0], [1, 2]),
    limits("pourS", "s", [0.5, 10.0, 1.0], [0, 1]),
    limits("stirRpm", "rpm", [0.0, 1200.0, 300.0], [0, 0]),
    limits("roomC", "°C", [5.0, 40.0, 21.0], [0, 1]),
    limits("vesselMl", "mL", [50.0, 6000.0, 600.0], [0, 0]),
    limits("acidDoses", "", [0.0, 30.0, 7.0], [0, 0]),
    limits("baseDoses", "", [0.0, 30.0, 4.0], [0, 0]),
    limits("restS", "s", [10.0, 1800.0, 300.0], [0, 0]),
    limits("baseRestS", "s", [10.0, 1800.0, 60.0], [0, 0]),
];

impl Field {
    /// How many fields a recipe has.
    pub const COUNT: usize = 15;

    /// Every field, in the order of the table.
    pub const ALL: [Field; Field::COUNT] = [
        Field::WaterMl,
        Field::SuspensionMl,
        Field::SuspensionMgMl,
        Field::IndicatorMl,
        Field::AcidMolL,
        Field::BaseMolL,
        Field::DoseMl,
        Field::PourS,
        Field::StirRpm,
        Field::RoomC,
        Field::VesselMl,
        Field::AcidDoses,
        Field::BaseDoses,
        Field::RestS,
        Field::BaseRestS,
    ];

    /// What this field may hold.
    pub fn limits(self) -> &'static Limits {
        &TABLE[self as usize]
    }

    /// The name of this field at the edge.
    pub fn key(self) -> &'static str {
        self.limits().key
    }
}

impl Limits {
    /// Reads typed text against these limits.
    ///
    /// # Errors
    /// A [`FieldError`] at `place`: empty, not a number, finer than is kept, too small, too big.
    pub fn read(&'static self, text: &str, place: Place) -> Result<f64, FieldError> {
        let (value, decimals) = parse_number(text).map_err(|error| match error {
            NumberError::Empty => FieldError::new(place, "empty", self),
            NumberError::NotANumber => FieldError::new(place, "notANumber", self),
        })?;
        self.check(value, place)?;
        // 1,000 in a field of whole millilitres may be a thousand: asking beats guessing.
        if decimals > self.finest || self.step(self.steps(value)) != value {
            return Err(FieldError::new(place, "tooFine", self));
        }
        Ok(value)
    }

    /// Refuses a value outside these limits.
    ///
    /// # Errors
    /// A [`FieldError`] at `place`: too small or too big. A NaN is too small.
    pub fn check(&'static self, value: f64, place: Place) -> Result<(), FieldError> {
        if value > self.max {
            Err(FieldError::new(place, "tooBig", self))
        } else if value >= self.min {
            Ok(())
        } else {
            Err(FieldError::new(place, "tooSmall", self))
        }
    }

    /// A value as a whole number of the finest steps that are kept.
    pub(super) fn steps(&self, value: f64) -> u32 {
        (value * self.per_unit() + 0.5).floor() as u32
    }

    /// The value of a whole number of finest steps. One division, hence the very number that
    /// typing the decimal gives.
    pub(super) fn step(&self, steps: u32) -> f64 {
        f64::from(steps) / self.per_unit()
    }

    fn per_unit(&self) -> f64 {
        f64::from(10_u32.pow(self.finest))
    }

    /// Decimals to show for a value of this field: those of its tool, or more where typed.
    pub fn decimals_of(&self, value: f64) -> u32 {
        (self.decimals..self.finest)
            .find(|&decimals| {
                let per_unit = f64::from(10_u32.pow(decimals));
                (value * per_unit + 0.5).floor() / per_unit == value
            })
            .unwrap_or(self.finest)
    }
}
