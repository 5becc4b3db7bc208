//! The painter: puts a scene on pixels, and keeps what it needs from frame to frame.

use super::bar::paint_bar;
use super::body::{Body, Boundary};
use super::columns::{Columns, chord_colours};
use super::geometry::{RADIUS, cm_per_unit, level_of, path_cm};
use super::ice::{Ice, IceLook};
use super::light::{Light, Screen};
use super::outlook::Sight;
use super::pen::{Pen, Surface};
use super::plume::{Drift, Plume};
use super::pour::draw_stream;
use super::scene::Scene;
use super::stage::{PAPER, Stage, StageKey};
use super::surface::SurfaceColours;
use crate::colour::{LinearRgb, Liquid, mark_contrast, shown};

/// Stages kept: three beakers and one that is being changed.
const STAGES: usize = 4;
/// Volume taken by a gram of settled solid with the liquid in it, mL: a loose bed holds about 0.1 g/mL (assumed, no
/// source; the suspension as sold, 0.08 g/mL, hardly settles further).
const SEDIMENT_ML_PER_G: f64 = 10.0;
/// Solid in the sediment, g/L.
const SEDIMENT_G_L: f64 = 1000.0 / SEDIMENT_ML_PER_G;
/// Direction of the bar where nothing moves.
const RESTING_BAR_RAD: f64 = 0.45;
/// Light below which two colours are the same to the eye: half a step of 255 in the middle tones.
const SAME_LIGHT: f64 = 0.002;

/// Paints beakers. One painter serves all beakers of a page; it allocates when a size or a setting is new, and nothing
/// after that.
#[derive(Clone, Debug)]
pub struct Painter {
    screen: Screen,
    pen: Pen,
    stages: Vec<(Stage, Columns)>,
    next_stage: usize,
    picture: Surface,
    body: Body,
    surface: SurfaceColours,
    plume: Plume,
    sights: Vec<[Sight; 2]>,
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
            sights: Vec::new(),
        }
    }

    /// Paints a scene: `width` x `height` pixels of red, green, blue and opacity (always 255), row by row from the upper
    /// left. Empty if either is 0. The same scene at the same size gives the same bytes everywhere.
    pub fn paint(&mut self, scene: &Scene, width: usize, height: usize) -> &[u8] {
        if width == 0 || height == 0 {
            return &[];
        }
        let scene = scene.drawable();
        let stage_at = self.stage_for(&scene, width, height);
        let (stage, columns) = &self.stages[stage_at];
        let frame = stage.frame;
        self.picture.width = width;
        self.picture.height = height;
        self.picture.pixels.clear();
        self.picture.pixels.extend_from_slice(&stage.back.pixels);
        if columns.len() > 0 {
            let unit_cm = cm_per_unit(scene.vessel_ml);
            let path_cm = path_cm(scene.vessel_ml);
            let level = level_of(scene.volume_ml + scene.ice_g, scene.vessel_ml);
            if level > 0.0 {
                self.body.level = level;
                let liquids = Liquids::of(&scene);
                mix_layers(self, stage_at, &scene, &liquids, path_cm);
                let (stage, columns) = &self.stages[stage_at];
                let pixels = &mut self.picture.pixels;
                let around = Light::of_linear([1.0; 3]);
                let top = if scene.clear_layer > 0.0 {
                    &liquids.clear
                } else {
                    &liquids.bulk
                };
                self.surface.compute(&self.screen, top, path_cm, around);
                self.surface.paint(pixels, &frame, columns, level);
                self.body.paint(pixels, &frame, columns, &self.plume);
                veil(
                    &mut self.sights,
                    stage,
                    columns,
                    &self.body,
                    &self.screen,
                    &scene,
                    pixels,
                );
                let angle = if scene.reduced_motion {
                    RESTING_BAR_RAD
                } else {
                    scene.stir_angle_rad
                };
                let above_bar = if scene.clear_layer >= 0.999 {
                    0.0
                } else {
                    scene.bulk_solids_g_l
                };
                paint_bar(pixels, &frame, &self.screen, angle, above_bar, unit_cm);
                self.surface.paint_near_edge(pixels, &frame, columns, level);
            }
            if scene.ice_g > 0.05 {
                let ice = Ice::of_mass(scene.ice_g, unit_cm);
                let look = ice_look(&scene, &ice, path_cm, unit_cm);
                let time_s = if scene.reduced_motion {
                    0.0
                } else {
                    scene.time_s
                };
                ice.draw(
                    &mut self.pen,
                    &mut self.picture,
                    &frame,
                    level,
                    time_s,
                    look,
                );
            }
            if let Some(pour) = scene.pour {
                draw_stream(
                    &mut self.pen,
                    &mut self.picture,
                    &frame,
                    level,
                    pour.fraction_done,
                );
            }
        }
        self.stages[stage_at].0.lay_front(&mut self.picture.pixels);
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
            black_card: scene.torch.is_some(),
        };
        if let Some(at) = self.stages.iter().position(|(stage, _)| stage.key == key) {
            return at;
        }
        let stage = Stage::new(key, &mut self.pen);
        let columns = Columns::new(&stage.frame);
        if self.stages.len() < STAGES {
            self.stages.push((stage, columns));
            return self.stages.len() - 1;
        }
        let at = self.next_stage;
        self.next_stage = (at + 1) % STAGES;
        self.stages[at] = (stage, columns);
        at
    }
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
            bulk: Liquid::new(&scene.indicator, scene.bulk_ph, scene.bulk_solids_g_l),
            clear: Liquid::new(&scene.indicator, scene.bulk_ph, 0.0),
            plume: Liquid::new(&scene.indicator, scene.plume_ph, scene.plume_solids_g_l),
        }
    }
}

/// Computes the layers' colours and where they meet.
fn mix_layers(
    painter: &mut Painter,
    stage_at: usize,
    scene: &Scene,
    liquids: &Liquids,
    path_cm: f64,
) {
    let (stage, columns) = &painter.stages[stage_at];
    let screen = &painter.screen;
    let body = &mut painter.body;
    let sediment = level_of(scene.sediment_g * SEDIMENT_ML_PER_G, scene.vessel_ml).min(body.level);
    body.boundaries = [
        Boundary {
            // Less than a hair of sediment is no layer.
            height: if sediment * stage.frame.scale > 0.3 {
                sediment
            } else {
                f64::NEG_INFINITY
            },
            softness_px: 1.5,
        },
        Boundary {
            height: if scene.clear_layer > 0.0 {
                body.level * (1.0 - scene.clear_layer)
            } else {
                f64::INFINITY
            },
            softness_px: (0.35 * stage.frame.scale) as f32,
        },
    ];
    if body.boundaries[0].height > 0.0 {
        let bed = Liquid::new(&scene.indicator, scene.bulk_ph, SEDIMENT_G_L);
        body.layers[0].plain(columns, screen, &bed, path_cm);
    }
    let drifts = scene.plume_share > 0.0
        && !scene.reduced_motion
        && differ(&liquids.bulk, &liquids.plume, path_cm);
    if drifts {
        let reach = scene.pour.map_or(1.0, |pour| pour.fraction_done);
        let drift = Drift {
            time_s: scene.time_s,
            stirring: scene.stirring,
            reach,
        };
        painter.plume.lay_out(scene.plume_share, drift);
    }
    let mut mix = |layer: usize, liquid: &Liquid| {
        if drifts {
            let pair = (liquid, &liquids.plume);
            body.layers[layer].mixed(columns, screen, pair, painter.plume.fullest, path_cm);
        } else {
            body.layers[layer].plain(columns, screen, liquid, path_cm);
        }
    };
    if scene.clear_layer < 1.0 {
        mix(1, &liquids.bulk);
    }
    if scene.clear_layer > 0.0 {
        mix(2, &liquids.clear);
    }
}

/// Whether two liquids can be told apart by the eye.
fn differ(one: &Liquid, other: &Liquid, path_cm: f64) -> bool {
    let (one, other) = (chord_colours(one, path_cm), chord_colours(other, path_cm));
    one.iter()
        .zip(&other)
        .any(|(a, b)| a.0.iter().zip(b.0).any(|(a, b)| (a - b).abs() > SAME_LIGHT))
}

/// Lets what stands behind the beaker darken the liquid, as far as it can be seen through it.
fn veil(
    sights: &mut Vec<[Sight; 2]>,
    stage: &Stage,
    columns: &Columns,
    body: &Body,
    screen: &Screen,
    scene: &Scene,
    pixels: &mut [u8],
) {
    let frame = &stage.frame;
    let path = path_cm(scene.vessel_ml);
    sights.clear();
    sights.extend(columns.all.iter().map(|column| {
        let path = path * f64::from(column.chord);
        [
            Sight::through(scene.bulk_solids_g_l, path),
            Sight::through(0.0, path),
        ]
    }));
    let (top, bottom) = body.rows(frame);
    let (first, last) = stage.outlook.rows;
    let (from, to) = stage.outlook.columns;
    let from = from.max(columns.left);
    let to = to.min(columns.left + columns.len());
    let [bed, clear] = body.boundaries;
    let level_px = frame.y_px(body.level) as f32;
    for row in top.max(first)..bottom.min(last) {
        let y = frame.y_of(row);
        if y < bed.height {
            break;
        }
        let layer = usize::from(y > clear.height);
        let down = row as f32 + 0.5 - level_px;
        for column in from..to {
            let within = &columns.all[column - columns.left];
            let sight = sights[column - columns.left][layer];
            if sight.is_blind() || down < within.bulge_px {
                continue;
            }
            let at = stage.outlook.at(column, row);
            let share = stage.outlook.share(at, sight);
            screen.dim(&mut pixels[4 * at..4 * at + 4], share);
        }
    }
}

fn ice_look(scene: &Scene, ice: &Ice, path_cm: f64, unit_cm: f64) -> IceLook {
    let solids = if scene.clear_layer > 0.0 {
        0.0
    } else {
        scene.bulk_solids_g_l
    };
    let liquid = Liquid::new(&scene.indicator, scene.bulk_ph, solids);
    let shorter = (path_cm - ice.edge() * unit_cm).max(0.2 * path_cm);
    let LinearRgb(light) = LinearRgb::shown(liquid.xyz(shorter));
    let paler = LinearRgb(light.map(|value| value + (1.0 - value) * 0.12)).encoded();
    let before = 0.45 * RADIUS * unit_cm;
    debug_assert_eq!(PAPER, [255; 3]);
    IceLook {
        rgb: paler.0,
        contrast: mark_contrast(solids, before) / mark_contrast(0.0, before),
    }
}

/// The colour that the middle of the beaker shows: what words, ribbons and chips go by.
pub fn middle_colour(scene: &Scene) -> crate::colour::Srgb {
    let scene = scene.drawable();
    shown(Liquids::of(&scene).bulk.xyz(path_cm(scene.vessel_ml)))
}
