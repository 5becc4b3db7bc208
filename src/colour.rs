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

use crate::constants::Quoted;
use crate::constants::Standing::Compiled;
use crate::data;

pub use bands::{Band, Clarity, PALE_FROM_G_L, clarity, is_pale};
pub use indicator::{Fractions, Indicator};
pub use liquid::{Liquid, Surround, WAVELENGTHS, liquid_xyz};
pub use observer::{Xyz, white_point};
pub use srgb::{DISPLAY_GAIN, LinearRgb, Srgb, shown};
pub use visibility::{
    GLOW_FROM, LEAST_BEAM_CONTRAST, MARK_CONTRAST_IN_WATER, SolidOptics, TorchSight, TorchView, hiding_solids_g_l,
    mark_contrast, sharp_contrast, straight_beam, to_the_front_cm, torch_beam_width_cm, torch_contrast, torch_sight,
};

/// The numbers that the colours are computed with, as they are told; the dyes are rows of `data`.
pub fn quoted() -> Vec<Quoted> {
    liquid::QUOTED.into_iter().chain(visibility::QUOTED).collect()
}

/// The rows of the dyes' tables, as they are told: each with the dye and its step or form.
pub fn quoted_dyes() -> Vec<(String, Quoted)> {
    let row = |key, of, value, unit, source| (of, Quoted::new(key, value, unit, Compiled, source));
    let stock = data::dye_stock().map(|dye| row("stock", dye.dye.to_owned(), dye.stock_g_l, "g/L", dye.source));
    let steps = data::dye_steps().map(|step| {
        let of = format!("{} {}", step.dye, step.step);
        row("pka", of, step.pka, "", step.source)
    });
    let bands = data::dye_bands().map(|band| {
        let of = format!("{} {}, {} nm", band.dye, band.form, (1e7 / band.centre_per_cm + 0.5) as u32);
        row("band", of, band.molar_absorptivity, "L/(mol cm)", band.source)
    });
    stock.chain(steps).chain(bands).collect()
}
