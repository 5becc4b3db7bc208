//! What the eye sees of a beaker, as pixels: a plain RGBA buffer, painted from numbers.
//!
//! Only the liquid has colour, and its colour is computed (`crate::colour`); everything else is paper, ink and glass. Words
//! never stand on the picture but for the figures etched on the glass; [`geometry`] tells where its parts lie.
//!
//! The computed parts: the liquid's colour along each line of sight, shorter towards the walls; the plume's colour; the
//! surface (Fresnel); what can be seen through a suspension, sharp and blurred; the heights of liquid, sediment and clear
//! layer; the size of ice. The drawn parts: the glass, the setting, how the plume is drawn out, how ice bobs. Left out: the
//! lens that a full round beaker is (it would stretch the mark sideways), caustics, shadows.

mod bar;
mod body;
mod card;
mod columns;
mod geometry;
mod glass;
mod ice;
mod layer;
mod lettering;
mod light;
mod outlook;
mod painter;
mod pen;
mod plume;
mod pour;
mod ribbon;
mod scene;
mod setting;
mod stage;
mod surface;
mod torch;

pub use geometry::{Geometry, Graduation, geometry, path_cm};
pub use painter::{Painter, middle_colour};
pub use ribbon::{RibbonSample, ribbon_rgba};
pub use scene::{PourLook, Scene, Surroundings};
pub use torch::TORCH_HEIGHT;
