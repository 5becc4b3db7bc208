//! The painter: puts a scene on pixels, and keeps what it needs from frame to frame.

use super::bar::{BarLook, paint_bar};
use super::body::{Body, Boundary};
use super::columns::{Columns, chord_colours};
use super::geometry::{Frame, RADIUS, TILT, cm_per_unit, level_of, path_cm};
use super::ice::{Ice, IceLook};
use super::layer::Layer;
use super::light::{Light, Screen};
use super::outlook::Sights;
use super::pen::{Ink, Pen, Point, Surface, arc};
use super::plume::{Drift, Plume};
use super::pour::draw_stream;
use super::scene::Scene;
use super::stage::{INK, Stage, StageKey, line_px};
use super::surface::SurfaceColours;
use super::torch::{Torch, draw_torch, runs_in_the_clear};
use crate::colour::{LinearRgb, Liquid, MARK_CONTRAST_IN_WATER, Srgb, Surround, TorchView, mark_contrast, shown};

/// Stages kept: three beakers, and the same in the dark.
const STAGES: usize = 6;
/// Volume taken by a gram of settled solid with the liquid in it, mL: a loose bed holds about 0.1 g/mL (assumed, no
/// source; the suspension as sold, 0.08 g/mL, hardly settles further).
const SEDIMENT_ML_PER_G: f64 = 10.0;
/// Solid in the sediment, g/L.
const SEDIMENT_G_L: f64 = 1000.0 / SEDIMENT_ML_PER_G;
/// Direction of the bar where nothing moves.
const RESTING_BAR_RAD: f64 = 0.45;
/// Light below which two colours are the same to the eye: half a step of 255 in the middle tones.
const SAME_LIGHT: f64 = 0.002;
/// Less ice than this is not drawn, g.
const LEAST_ICE_G: f64 = 0.05;

/// Paints beakers. One painter serves all beakers of a page; it allocates when a size or a setting is new, and nothing
/// after that.
#[derive(Clone, Debug)]
pub struct Painter {
    screen: Screen,
    pen: Pen,
    stages: Vec<Stage>,
    next_stage: usize,
    picture: Surface,
    body: Body,
    surface: SurfaceColours,
    plume: Plume,
    cloudy_sights: Sights,
    clear_sights: Sights,
    torch: Torch,
    /// The liquid in even light, for what stands white in a dark room.
    lit: Layer,
}

impl Default for Painter {
    fn default() -> Painter {
        Painter::new()
    }
}

impl Painter {
    /// A painter that has painted nothing yet.
    pub fn new() -> Painter {
        Painter {
            screen: Screen::new(),
            pen: Pen::default(),
            stages: Vec::new(),
            next_stage: 0,
            picture: Surface::default(),
            body: Body::default(),
            surface: SurfaceColours::blank(),
            plume: Plume::still(),
            cloudy_sights: Sights::default(),
            clear_sights: Sights::default(),
            torch: Torch::default(),
            lit: Layer::default(),
        }
    }

    /// Paints a scene: `width` x `height` pixels of red, green, blue and opacity (always 255), row by row from the upper
    /// left. Empty if either is 0. The same scene at the same size gives the same bytes everywhere.
    pub fn paint(&mut self, scene: &Scene, width: usize, height: usize) -> &[u8] {
        if width == 0 || height == 0 {
            return &[];
        }
        let scene = scene.drawable();
        let stage = self.stage_for(&scene, width, height);
        let frame = self.stages[stage].frame;
        self.picture.width = width;
        self.picture.height = height;
        self.picture.pixels.clear();
        self.picture.pixels.extend_from_slice(&self.stages[stage].back.pixels);
        let level = level_of(scene.volume_ml + scene.ice_g / ICE_MELT_G_ML, scene.vessel_ml);
        if self.stages[stage].glass.columns.len() > 0 {
            if level > 0.0 {
                self.paint_liquid(&scene, stage, level);
            }
            self.paint_what_floats(&scene, &frame, level);
        }
        let light_from = etched_light_from(&scene, &frame, level);
        self.stages[stage].lay_glass(&mut self.picture.pixels, light_from);
        if scene.torch {
            draw_torch(&mut self.pen, &mut self.picture, &frame, level);
        }
        &self.picture.pixels
    }

    /// The stage for this scene and size: found, or built in the place of the oldest.
    fn stage_for(&mut self, scene: &Scene, width: usize, height: usize) -> usize {
        let key = StageKey {
            width,
            height,
            vessel_ml: scene.vessel_ml,
            surroundings: scene.surroundings,
            mark_shown: scene.mark_shown,
            dark: scene.torch,
        };
        if let Some(at) = self.stages.iter().position(|stage| stage.key == key) {
            return at;
        }
        let stage = Stage::new(key, &self.stages, &mut self.pen, &self.screen);
        if self.stages.len() < STAGES {
            self.stages.push(stage);
            return self.stages.len() - 1;
        }
        let at = self.next_stage;
        self.next_stage = (at + 1) % STAGES;
        self.stages[at] = stage;
        at
    }

    /// Surface, body, what is seen through it, sediment and bar.
    fn paint_liquid(&mut self, scene: &Scene, stage: usize, level: f64) {
        let Painter { screen, stages, picture, body, surface, plume, cloudy_sights, clear_sights, torch, lit, .. } =
            self;
        let stage = &stages[stage];
        let (frame, columns, outlook) = (&stage.frame, &stage.glass.columns, &stage.glass.outlook);
        let pixels = &mut picture.pixels[..];
        let unit_cm = cm_per_unit(scene.vessel_ml);
        let path_cm = path_cm(scene.vessel_ml);
        let liquids = Liquids::of(scene);
        let top = if scene.clear_layer > 0.0 { &liquids.clear } else { &liquids.bulk };
        // So flat a look at the surface mirrors what stands behind it.
        surface.compute(screen, top, path_cm, Light::of_linear([surround(scene).behind; 3]));
        surface.paint(pixels, frame, columns, level);

        body.level = level;
        mix_layers(body, plume, stage, screen, scene, &liquids);
        body.paint(pixels, frame, columns, plume);

        let [bed, clear] = body.boundaries;
        let row = |height: f64| (frame.y_px(height).max(0.0).min(frame.height as f64) + 0.5) as usize;
        let (first, last) = body.rows(frame);
        let turn = if scene.clear_layer > 0.0 { row(clear.height.min(level)).max(first).min(last) } else { first };
        let surface_px = frame.y_px(level);
        if turn > first {
            clear_sights.look(columns, 0.0, path_cm);
            outlook.veil(pixels, screen, columns, clear_sights, (first, turn), surface_px);
        }
        cloudy_sights.look(columns, lower_solids_g_l(scene), path_cm);
        outlook.veil(pixels, screen, columns, cloudy_sights, (turn, last.min(row(bed.height))), surface_px);

        let lower = lower_solids_g_l(scene);
        if bed.height > 0.0 {
            let bed = (body.layers[0].bulk(), bed.height);
            surface.paint_bed(pixels, frame, screen, columns, bed, |path| {
                mark_contrast(lower, path * path_cm) / MARK_CONTRAST_IN_WATER
            });
        }
        let angle_rad = if scene.reduced_motion { RESTING_BAR_RAD } else { scene.stir_angle_rad };
        let look = BarLook { angle_rad, solids_g_l: lower, unit_cm };
        let around_bar = if scene.torch {
            // The room lights it from the front, however black the card is.
            let front = surround(scene).front;
            lit.plain(columns, screen, &liquids.bulk.seen_in(Surround { front, behind: front }), path_cm);
            lit.bulk()
        } else {
            body.layers[1].bulk()
        };
        paint_bar(pixels, frame, screen, (columns.left, around_bar), look);
        if scene.torch {
            let (liquid, solids) =
                if runs_in_the_clear(scene) { (&liquids.clear, 0.0) } else { (&liquids.bulk, scene.bulk_solids_g_l) };
            torch.shine(pixels, frame, screen, columns, (liquid, solids), (level, unit_cm));
        }
        surface.paint_near_edge(pixels, frame, columns, level);
    }

    /// The dimple of the stirring, ice, and the stream of a pour.
    fn paint_what_floats(&mut self, scene: &Scene, frame: &Frame, level: f64) {
        let Painter { pen, picture, .. } = self;
        let still = scene.reduced_motion;
        if scene.stirring && level > 0.0 && scene.ice_g < LEAST_ICE_G {
            draw_dimple(pen, picture, frame, level, if still { RESTING_BAR_RAD } else { scene.stir_angle_rad });
        }
        if scene.ice_g >= LEAST_ICE_G && level > 0.0 {
            let unit_cm = cm_per_unit(scene.vessel_ml);
            let ice = Ice::of_mass(scene.ice_g, unit_cm);
            let look = ice_look(scene, &ice, unit_cm);
            ice.draw(pen, picture, frame, (level, if still { 0.0 } else { scene.time_s }), look);
        }
        if let Some(pour) = scene.pour {
            draw_stream(pen, picture, frame, level, pour.fraction_done);
        }
    }
}

/// Luminance below which etched lines are white. Down to here ink (0.02) still has the contrast of 3 that lines need:
/// (Y + 0.05) / 0.07. White would do better from 0.22 down, but around there lie the beakers of a lesson for as long as
/// there is solid in them, and neighbours of one colour must be lettered alike.
const DARK_LUMINANCE: f64 = 0.16;

/// The row of pixels from which the etched lines stand before a dark liquid; beyond the picture where there is none.
fn etched_light_from(scene: &Scene, frame: &Frame, level: f64) -> usize {
    let upper = if scene.clear_layer > 0.0 { 0.0 } else { scene.bulk_solids_g_l };
    if scene.torch {
        return 0;
    }
    let dark = liquid(scene, scene.bulk_ph, upper).xyz(path_cm(scene.vessel_ml)).y < DARK_LUMINANCE;
    if !dark || level <= 0.0 {
        return frame.height;
    }
    (frame.y_px(level - 0.5 * TILT * RADIUS).max(0.0) as usize).min(frame.height)
}

/// Grams of floating ice that push a millilitre aside: those of the water that it will be.
const ICE_MELT_G_ML: f64 = 1.0;

/// Suspended solid low in the beaker, where the bar lies.
fn lower_solids_g_l(scene: &Scene) -> f64 {
    if scene.clear_layer < 1.0 { scene.bulk_solids_g_l } else { 0.0 }
}

/// The liquids of one scene.
struct Liquids {
    bulk: Liquid,
    clear: Liquid,
    plume: Liquid,
}

impl Liquids {
    fn of(scene: &Scene) -> Liquids {
        Liquids {
            bulk: liquid(scene, scene.bulk_ph, scene.bulk_solids_g_l),
            clear: liquid(scene, scene.bulk_ph, 0.0),
            plume: liquid(scene, scene.plume_ph, scene.plume_solids_g_l),
        }
    }
}

/// Light that a dim room sends onto a beaker from the front, of what white paper there would send: walls, tables and people
/// are not white (assumed, no source).
const DIM_ROOM: f64 = 0.3;

/// What surrounds the liquid of a scene.
fn surround(scene: &Scene) -> Surround {
    if scene.torch { Surround { front: DIM_ROOM, behind: TorchView::BLACK_CARD } } else { Surround::WHITE }
}

/// A liquid with the dye, the solid and the surround of a scene.
fn liquid(scene: &Scene, ph: f64, solids_g_l: f64) -> Liquid {
    Liquid::new(&scene.indicator, ph, solids_g_l).of_fineness(scene.fineness).seen_in(surround(scene))
}

/// Computes the layers' colours and where they meet.
fn mix_layers(body: &mut Body, plume: &mut Plume, stage: &Stage, screen: &Screen, scene: &Scene, liquids: &Liquids) {
    let columns: &Columns = &stage.glass.columns;
    let path_cm = path_cm(scene.vessel_ml);
    let bed = level_of(scene.sediment_g * SEDIMENT_ML_PER_G, scene.vessel_ml).min(body.level);
    let partly_clear = scene.clear_layer > 0.0 && scene.clear_layer < 1.0;
    let clear_from = if partly_clear { body.level * (1.0 - scene.clear_layer) } else { f64::INFINITY };
    body.boundaries = [
        Boundary {
            // Less than a third of a pixel of sediment is no layer.
            height: if bed * stage.frame.scale > 0.3 { bed } else { f64::NEG_INFINITY },
            softness_px: 1.5,
        },
        Boundary { height: clear_from, softness_px: (0.35 * stage.frame.scale) as f32 },
    ];
    if body.boundaries[0].height > 0.0 {
        let bed = liquid(scene, scene.bulk_ph, SEDIMENT_G_L);
        body.layers[0].plain(columns, screen, &bed, path_cm);
    }
    let drifts = scene.plume_share > 0.0 && !scene.reduced_motion && differ(&liquids.bulk, &liquids.plume, path_cm);
    if drifts {
        let reach = scene.pour.map_or(1.0, |pour| pour.fraction_done);
        plume.lay_out(scene.plume_share, Drift { time_s: scene.time_s, stirring: scene.stirring, reach });
    }
    let mut mix = |layer: usize, liquid: &Liquid| {
        if drifts {
            let pair = (liquid, &liquids.plume);
            body.layers[layer].mixed(columns, screen, pair, plume.fullest, path_cm);
        } else {
            body.layers[layer].plain(columns, screen, liquid, path_cm);
        }
    };
    // What has settled altogether is one clear layer.
    mix(1, if scene.clear_layer < 1.0 { &liquids.bulk } else { &liquids.clear });
    if partly_clear {
        mix(2, &liquids.clear);
    }
}

/// Whether two liquids can be told apart by the eye.
fn differ(one: &Liquid, other: &Liquid, path_cm: f64) -> bool {
    let (one, other) = (chord_colours(one, path_cm), chord_colours(other, path_cm));
    one.iter().zip(&other).any(|(a, b)| a.0.iter().zip(b.0).any(|(a, b)| (a - b).abs() > SAME_LIGHT))
}

/// Two short arcs around the axis that turn with the bar: the stirring shows where the cloud hides the bar.
fn draw_dimple(pen: &mut Pen, onto: &mut Surface, frame: &Frame, level: f64, angle_rad: f64) {
    let line = line_px(frame);
    let centre = (frame.x_px(0.0), frame.y_px(level));
    let radius = 1.15 * frame.scale;
    for half_turn in [0.0, std::f64::consts::PI] {
        let from = -angle_rad + half_turn;
        let points: [Point; 13] = arc(centre, radius, TILT * radius, from, from + 1.7);
        pen.stroke(onto, &points, 0.9 * line, Ink::new(INK, 0.32));
    }
}

fn ice_look(scene: &Scene, ice: &Ice, unit_cm: f64) -> IceLook {
    let solids = if scene.clear_layer > 0.0 { 0.0 } else { scene.bulk_solids_g_l };
    let liquid = liquid(scene, scene.bulk_ph, solids);
    let path_cm = path_cm(scene.vessel_ml);
    let shorter = (path_cm - ice.edge() * unit_cm).max(0.2 * path_cm);
    IceLook {
        rgb: LinearRgb::shown(liquid.xyz(shorter)).encoded().0,
        contrast_per_cm: mark_contrast(solids, 1.0) / MARK_CONTRAST_IN_WATER,
        unit_cm,
    }
}

/// The colour that the middle of the beaker shows in a lit room: what words, ribbons and chips go by.
pub fn middle_colour(scene: &Scene) -> Srgb {
    let scene = Scene { torch: false, ..scene.drawable() };
    shown(Liquids::of(&scene).bulk.xyz(path_cm(scene.vessel_ml)))
}
