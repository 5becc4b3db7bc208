//! What can be seen through a suspension: a mark behind the beaker, the stir bar in it, a straight beam, a torch.
//!
//! Contrast falls as exp(-beam loss × range): Duntley's law as quoted by Opt. Express 11 (2003) 2997. Optics of the solid
//! from Mie theory (the Python package miepython, log-normal spheres of about 1.3 µm).

use crate::constants::Quoted;
use crate::constants::Standing::{Calibrated, Computed};

/// Optical constants of suspended magnesium hydroxide.
#[derive(Clone, Copy, Debug)]
pub struct SolidOptics;

impl SolidOptics {
    /// Scattering µs, all light thrown off its way, cm⁻¹ per g/L.
    pub const SCATTERING_PER_G_L: f64 = 12.0;
    /// Loss of contrast KV, cm⁻¹ per g/L: µs less what goes on within 6° of straight and still carries the picture.
    /// Range 6 to 12.
    pub const CONTRAST_LOSS_PER_G_L: f64 = 9.0;
    /// Reduced scattering µs′ at 550 nm, cm⁻¹ per g/L: what is left once light thrown nearly straight on counts as not
    /// scattered. Mie theory (n = 1.57 in 1.3345, 2.37 g/cm³) gives 0.8 to 1.5 for plates of 1 to 5 µm and 0.3 to 0.8 for
    /// flocs; 1.00 is a chosen middle, 0.5 to 1.5 the honest range.
    pub const REDUCED_SCATTERING_PER_G_L: f64 = 1.0;
    /// Phase function at 90°, per steradian.
    pub const SIDEWAYS_PER_SR: f64 = 0.003;
}

/// Contrast of a black mark on white, or of a white bar on dark, in clear water: 0.9, not 1, for ink and paper are neither.
pub const MARK_CONTRAST_IN_WATER: f64 = 0.9;

/// Contrast, 0 to 0.9, of a mark seen through `path_cm` of liquid with `solids_g_l` of suspended solid, g/L.
///
/// About 0.02 is the least that an eye finds. Dye does not enter: it dims the mark and its ground alike.
pub fn mark_contrast(solids_g_l: f64, path_cm: f64) -> f64 {
    MARK_CONTRAST_IN_WATER * libm::exp(-SolidOptics::CONTRAST_LOSS_PER_G_L * solids_g_l.max(0.0) * path_cm)
}

/// The part of [`mark_contrast`] that is sharp: light that was not scattered at all. The rest, scattered by a few degrees,
/// paints the same mark blurred.
pub fn sharp_contrast(solids_g_l: f64, path_cm: f64) -> f64 {
    MARK_CONTRAST_IN_WATER * straight_beam(solids_g_l, path_cm)
}

/// Share of a beam that passes `path_cm` without being scattered, 0 to 1 (absorption by dye apart).
pub fn straight_beam(solids_g_l: f64, path_cm: f64) -> f64 {
    libm::exp(-SolidOptics::SCATTERING_PER_G_L * solids_g_l.max(0.0) * path_cm)
}

/// Suspended solid, g/L, that lowers a mark behind `path_cm` to the contrast `least`, for instance 0.02 (just seen) or 0.05.
pub fn hiding_solids_g_l(path_cm: f64, least: f64) -> f64 {
    libm::log(MARK_CONTRAST_IN_WATER / least) / (SolidOptics::CONTRAST_LOSS_PER_G_L * path_cm)
}

/// A torch held to the side of the beaker, and the place in its beam at which one looks.
#[derive(Clone, Copy, Debug)]
pub struct TorchView {
    /// Suspended solid, g/L.
    pub solids_g_l: f64,
    /// Absorption of the dye, cm⁻¹, at the wavelength that matters (550 nm for the eye).
    pub absorption_per_cm: f64,
    /// How far the beam has come inside the liquid, cm.
    pub beam_cm: f64,
    /// Liquid between the beam and the eye, cm.
    pub sight_cm: f64,
    /// Width of the beam, cm.
    pub beam_width_cm: f64,
    /// Illuminance by the torch over illuminance by the room: about 5 in a lit room, 20 in a dim one.
    pub torch_over_room: f64,
    /// Luminance behind the beaker relative to white: 1 for paper, about 0.05 for black card.
    pub background: f64,
}

/// Contrast of a torch beam against what stands behind it: π P(90°) µs c w (E torch / E room) e^(-(µa + KV c)(x + y)) / L.
///
/// Single scattering; the limit of sight is about 0.04. Before white paper in a lit room it stays below 0.004: the torch
/// wants the lamp off and a black card, and then finds some fifty times less solid than the eye finds by the stir bar.
pub fn torch_contrast(view: &TorchView) -> f64 {
    let loss_per_cm = view.absorption_per_cm + SolidOptics::CONTRAST_LOSS_PER_G_L * view.solids_g_l.max(0.0);
    std::f64::consts::PI
        * SolidOptics::SIDEWAYS_PER_SR
        * SolidOptics::SCATTERING_PER_G_L
        * view.solids_g_l.max(0.0)
        * view.beam_width_cm
        * view.torch_over_room
        * libm::exp(-loss_per_cm * (view.beam_cm + view.sight_cm))
        / view.background
}

/// Width of a torch beam, cm, after `beam_cm` in the liquid: √(w² + ⅔ µs′ x³). It is a beam while µs′ x is below 0.5, and a
/// haze of light beyond.
pub fn torch_beam_width_cm(beam_width_cm: f64, solids_g_l: f64, beam_cm: f64) -> f64 {
    let spread = SolidOptics::REDUCED_SCATTERING_PER_G_L * solids_g_l.max(0.0);
    (beam_width_cm * beam_width_cm + 2.0 / 3.0 * spread * beam_cm * beam_cm * beam_cm).sqrt()
}

/// Contrast of a torch beam below which no eye finds it.
pub const LEAST_BEAM_CONTRAST: f64 = 0.04;

/// µs′ x beyond which a torch's beam has dissolved into a glow.
pub const GLOW_FROM: f64 = 0.5;

/// What a torch shows that is held to the side of a beaker, lamp off and a black card behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TorchSight {
    /// Nothing: the light passes unseen.
    Nothing,
    /// A beam with edges.
    Beam,
    /// The beam dissolves into a glow.
    Glow,
}

impl TorchSight {
    /// The name at the edge.
    pub fn key(self) -> &'static str {
        match self {
            TorchSight::Nothing => "nothing",
            TorchSight::Beam => "beam",
            TorchSight::Glow => "glow",
        }
    }
}

/// The torch of the bench: a beam 1 cm wide through the axis of a beaker, in a dim room before black card.
impl TorchView {
    /// Width of its beam, cm.
    pub const WIDTH_CM: f64 = 1.0;
    /// Its light over the dim room's.
    pub const OVER_ROOM: f64 = 20.0;
    /// Luminance of the black card relative to white.
    pub const BLACK_CARD: f64 = 0.05;

    /// The view of a beam that has come `beam_cm` into a beaker of this inner diameter.
    pub fn on_bench(solids_g_l: f64, absorption_per_cm: f64, beam_cm: f64, diameter_cm: f64) -> TorchView {
        TorchView {
            solids_g_l,
            absorption_per_cm,
            beam_cm,
            sight_cm: to_the_front_cm(beam_cm, diameter_cm),
            beam_width_cm: TorchView::WIDTH_CM,
            torch_over_room: TorchView::OVER_ROOM,
            background: TorchView::BLACK_CARD,
        }
    }
}

/// Liquid between a beam through the axis and the front of the glass, cm, where the beam has come `beam_cm` in.
pub fn to_the_front_cm(beam_cm: f64, diameter_cm: f64) -> f64 {
    (beam_cm * (diameter_cm - beam_cm)).max(0.0).sqrt()
}

/// Places along a beam at which it is looked for.
const BEAM_LOOKS: u32 = 9;

/// What the torch of the bench shows in a beaker of this inner diameter; absorption as in [`TorchView`].
pub fn torch_sight(solids_g_l: f64, absorption_per_cm: f64, diameter_cm: f64) -> TorchSight {
    if SolidOptics::REDUCED_SCATTERING_PER_G_L * solids_g_l * 0.5 * diameter_cm >= GLOW_FROM {
        return TorchSight::Glow;
    }
    // It shows best near the torch where there is much solid, and all along where there is little.
    let seen = (1..=BEAM_LOOKS).any(|look| {
        let beam_cm = diameter_cm * f64::from(look) / f64::from(BEAM_LOOKS + 1);
        torch_contrast(&TorchView::on_bench(solids_g_l, absorption_per_cm, beam_cm, diameter_cm)) >= LEAST_BEAM_CONTRAST
    });
    if seen { TorchSight::Beam } else { TorchSight::Nothing }
}

const MIE: &str = "Mie theory, 1.3 µm spheres (miepython)";

/// The numbers of this file, as they are told.
pub(super) const QUOTED: [Quoted; 8] = [
    Quoted::new("scattering", SolidOptics::SCATTERING_PER_G_L, "cm⁻¹ per g/L", Computed, MIE),
    Quoted::new("contrastLoss", SolidOptics::CONTRAST_LOSS_PER_G_L, "cm⁻¹ per g/L", Computed, MIE),
    Quoted::new("reducedScattering", SolidOptics::REDUCED_SCATTERING_PER_G_L, "cm⁻¹ per g/L", Calibrated, MIE),
    Quoted::new("sideways", SolidOptics::SIDEWAYS_PER_SR, "1/sr", Computed, MIE),
    Quoted::new("markContrast", MARK_CONTRAST_IN_WATER, "", Calibrated, ""),
    Quoted::new("torchOverRoom", TorchView::OVER_ROOM, "", Calibrated, ""),
    Quoted::new("blackCard", TorchView::BLACK_CARD, "", Calibrated, ""),
    Quoted::new("beamContrast", LEAST_BEAM_CONTRAST, "", Calibrated, ""),
];
