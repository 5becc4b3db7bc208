//! What the eye sees of a dyed, cloudy liquid: colour and visibility from a pH number and the suspended solid.
//!
//! | step | where | method |
//! |---|---|---|
//! | which form each dye takes | [`Indicator`], `indicator` | mass action over the published pKa |
//! | what is absorbed and scattered per cm | [`Liquid`], `liquid` | bands of `data/DyeBands.csv`; Mie-based power law |
//! | what comes back to the eye | [`Liquid::returned`] | two-flux result fitted to Monte Carlo photon walks |
//! | what colour that is | [`Xyz`], [`shown`] | CIE 1931 2° observer, D65, IEC 61966-2-1 |
//! | what can be seen through it | [`mark_contrast`], [`torch_contrast`] | exponential loss of contrast |
//! | what it is called | [`Band`], [`Clarity`], [`is_pale`] | eight bins of pH; four words for clearness |
//!
//! Range: pH 0 to 14, 0 to 5 g/L of solid, a round beaker about as high as wide. Left out: adsorption of the dyes on the
//! solid, dye dimers, alcohol, fading of phenolphthalein, the tint of glass, and the shift of the pKa with ionic strength
//! and temperature (below 0.2 pH here; `data/sources.md`).

mod bands;
mod indicator;
mod liquid;
mod observer;
mod srgb;
mod visibility;

pub use bands::{Band, Clarity, PALE_FROM_G_L, clarity, is_pale};
pub use indicator::{Fractions, Indicator};
pub use liquid::{Liquid, WAVELENGTHS, liquid_xyz};
pub use observer::{Xyz, white_point};
pub use srgb::{DISPLAY_GAIN, LinearRgb, Srgb, shown};
pub use visibility::{
    MARK_CONTRAST_IN_WATER, SolidOptics, TorchView, hiding_solids_g_l, mark_contrast, sharp_contrast, straight_beam,
    torch_beam_width_cm, torch_contrast,
};
