//! Names for what is seen: eight colour bands by pH, `pale` where it is cloudy, and four words for clearness.
//!
//! The bands follow the pH, not the pixel: cloudiness moves a hue by up to 13° (0.3 pH on the red side), and a student's
//! word is judged by what the liquid is. Red to lime look alike to eyes without a red or green cone, so a band always goes
//! with its letter and its place on the scale.

/// One of the eight named colours of universal indicator, from acid to base.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Band {
    /// Below pH 4.3.
    Red,
    /// pH 4.3 to 5.4.
    Orange,
    /// pH 5.4 to 6.3.
    Yellow,
    /// Yellow-green, pH 6.3 to 6.8.
    Lime,
    /// pH 6.8 to 7.4.
    Green,
    /// Blue-green, pH 7.4 to 8.5.
    Teal,
    /// pH 8.5 to 9.4.
    Blue,
    /// From pH 9.4.
    Violet,
}

impl Band {
    /// All bands from acid to base: the order in which they always stand.
    pub const ALL: [Band; 8] =
        [Band::Red, Band::Orange, Band::Yellow, Band::Lime, Band::Green, Band::Teal, Band::Blue, Band::Violet];

    /// The band of a pH; an edge belongs to the band above it.
    pub fn of_ph(ph: f64) -> Band {
        let above = Band::ALL.iter().rev().find(|band| ph >= band.from_ph());
        *above.unwrap_or(&Band::Red)
    }

    /// Lower edge of the band, pH; minus infinity for red. Set where the computed hue passes between named hues (CIELAB hue
    /// 43, 74, 98, 119, 163, 212, 294° for the clear liquid through 9 cm).
    pub fn from_ph(self) -> f64 {
        match self {
            Band::Red => f64::NEG_INFINITY,
            Band::Orange => 4.3,
            Band::Yellow => 5.4,
            Band::Lime => 6.3,
            Band::Green => 6.8,
            Band::Teal => 7.4,
            Band::Blue => 8.5,
            Band::Violet => 9.4,
        }
    }

    /// A pH at which the band looks most like itself: what a colour chip shows.
    pub fn sample_ph(self) -> f64 {
        match self {
            Band::Red => 2.5,
            Band::Orange => 4.9,
            Band::Yellow => 5.9,
            Band::Lime => 6.55,
            Band::Green => 7.1,
            Band::Teal => 8.0,
            Band::Blue => 9.0,
            Band::Violet => 10.3,
        }
    }

    /// The letter that stands for the band wherever its colour does.
    pub fn letter(self) -> char {
        match self {
            Band::Red => 'R',
            Band::Orange => 'O',
            Band::Yellow => 'Y',
            Band::Lime => 'L',
            Band::Green => 'G',
            Band::Teal => 'T',
            Band::Blue => 'B',
            Band::Violet => 'V',
        }
    }

    /// Key of the band's name in the page's word lists.
    pub fn key(self) -> &'static str {
        match self {
            Band::Red => "red",
            Band::Orange => "orange",
            Band::Yellow => "yellow",
            Band::Lime => "lime",
            Band::Green => "green",
            Band::Teal => "teal",
            Band::Blue => "blue",
            Band::Violet => "violet",
        }
    }

    /// The band with this key, if there is one.
    pub fn of_key(key: &str) -> Option<Band> {
        Band::ALL.into_iter().find(|band| band.key() == key)
    }
}

/// From this much suspended solid, g/L, a colour is called pale.
pub const PALE_FROM_G_L: f64 = 0.5;

/// Whether the cloud makes the colour pale.
pub fn is_pale(solids_g_l: f64) -> bool {
    solids_g_l >= PALE_FROM_G_L
}

/// How clear the liquid is, by what becomes of a mark behind the beaker.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Clarity {
    /// The mark is as sharp as through water: contrast above 0.8.
    Clear,
    /// The mark has paled: contrast 0.3 to 0.8.
    Hazy,
    /// The mark is just to be made out: contrast 0.05 to 0.3.
    Cloudy,
    /// The mark is hidden: contrast below 0.05.
    Milky,
}

impl Clarity {
    /// All words, from clear to milky.
    pub const ALL: [Clarity; 4] = [Clarity::Clear, Clarity::Hazy, Clarity::Cloudy, Clarity::Milky];

    /// Key of the word in the page's word lists.
    pub fn key(self) -> &'static str {
        match self {
            Clarity::Clear => "clear",
            Clarity::Hazy => "hazy",
            Clarity::Cloudy => "cloudy",
            Clarity::Milky => "milky",
        }
    }

    /// The word with this key, if there is one.
    pub fn of_key(key: &str) -> Option<Clarity> {
        Clarity::ALL.into_iter().find(|clarity| clarity.key() == key)
    }
}

/// The word for a mark's contrast as [`mark_contrast`](super::mark_contrast) gives it.
pub fn clarity(contrast: f64) -> Clarity {
    if contrast > 0.8 {
        Clarity::Clear
    } else if contrast > 0.3 {
        Clarity::Hazy
    } else if contrast >= 0.05 {
        Clarity::Cloudy
    } else {
        Clarity::Milky
    }
}
