//! One beaker's surroundings: what keeps its temperature.

use super::field::Limits;
use super::recipe::{FieldError, Place};

/// What a beaker stands in, or what stands in it. It begins at the temperature named here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Beaker {
    /// In a bath of this temperature, °C; heat flows between the two.
    Bath {
        /// Temperature of the bath, °C.
        celsius: f64,
    },
    /// Held at this temperature, °C, exactly: the textbook's isothermal beaker.
    Held {
        /// Temperature, °C.
        celsius: f64,
    },
    /// On the table, at the room's temperature.
    Room,
    /// Ice in the beaker: it melts, cools and dilutes.
    Ice {
        /// Temperature of the water when the ice goes in, °C.
        celsius: f64,
        /// Ice, g.
        ice_g: f64,
    },
    /// On a hot plate set to this temperature, °C.
    Plate {
        /// Set temperature, °C.
        celsius: f64,
    },
}

/// A beaker as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BeakerText {
    /// One of [`KINDS`].
    pub kind: String,
    /// Temperature as typed, °C; not read for the room's beaker.
    pub celsius: String,
    /// Ice as typed, g; read only where there is ice.
    pub ice_g: String,
}

/// The kinds of surroundings, by their names at the edge; the position is the link's number.
pub const KINDS: [&str; 5] = ["bath", "held", "room", "ice", "plate"];

/// Limits of a beaker's temperature. The model's constants hold from 0 to 60 °C.
pub static CELSIUS: Limits =
    Limits { key: "celsius", unit: "°C", min: 0.0, max: 60.0, default: 21.0, decimals: 0, finest: 1 };

/// Limits of the ice in a beaker.
pub static ICE_G: Limits =
    Limits { key: "iceG", unit: "g", min: 0.0, max: 1000.0, default: 100.0, decimals: 0, finest: 1 };

impl Beaker {
    /// The name of this kind at the edge, one of [`KINDS`].
    pub fn kind(self) -> &'static str {
        KINDS[self.kind_number() as usize]
    }

    pub(super) fn kind_number(self) -> u8 {
        match self {
            Beaker::Bath { .. } => 0,
            Beaker::Held { .. } => 1,
            Beaker::Room => 2,
            Beaker::Ice { .. } => 3,
            Beaker::Plate { .. } => 4,
        }
    }

    /// Temperature at which this beaker begins, °C, in a room of `room_c`.
    pub fn start_c(self, room_c: f64) -> f64 {
        match self {
            Beaker::Room => room_c,
            Beaker::Bath { celsius }
            | Beaker::Held { celsius }
            | Beaker::Ice { celsius, .. }
            | Beaker::Plate { celsius } => celsius,
        }
    }

    /// Ice in the beaker at the start, g.
    pub fn ice_g(self) -> f64 {
        if let Beaker::Ice { ice_g, .. } = self { ice_g } else { 0.0 }
    }

    /// Reads one typed beaker, the `index`-th of the lesson.
    ///
    /// # Errors
    /// Every bad field of this beaker, with its limits.
    pub fn from_text(text: &BeakerText, index: usize) -> Result<Beaker, Vec<FieldError>> {
        let celsius_place = Place::Beaker { index, key: "celsius" };
        let ice_place = Place::Beaker { index, key: "iceG" };
        let celsius = || CELSIUS.read(&text.celsius, celsius_place);
        let one = |error| vec![error];
        match text.kind.as_str() {
            "room" => Ok(Beaker::Room),
            "bath" => celsius().map(|celsius| Beaker::Bath { celsius }).map_err(one),
            "held" => celsius().map(|celsius| Beaker::Held { celsius }).map_err(one),
            "plate" => celsius().map(|celsius| Beaker::Plate { celsius }).map_err(one),
            "ice" => match (celsius(), ICE_G.read(&text.ice_g, ice_place)) {
                (Ok(celsius), Ok(ice_g)) => Ok(Beaker::Ice { celsius, ice_g }),
                (celsius, ice) => Err(celsius.err().into_iter().chain(ice.err()).collect()),
            },
            _ => Err(vec![FieldError::bare(Place::Beaker { index, key: "kind" }, "unknown")]),
        }
    }

    /// This beaker as text that [`Beaker::from_text`] reads back, with a decimal point.
    pub fn to_text(self, room_c: f64) -> BeakerText {
        BeakerText {
            kind: self.kind().to_owned(),
            celsius: self.start_c(room_c).to_string(),
            ice_g: self.ice_g().to_string(),
        }
    }
}
