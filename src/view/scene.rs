//! From a reading to a picture: the scene of one beaker, and its ribbon.

use crate::chemistry::Pour;
use crate::colour::Indicator;
use crate::constants::MAGNESIUM_HYDROXIDE_G_MOL;
use crate::course::Reading;
use crate::lesson::Field;
use crate::picture::{PourLook, RibbonSample, Scene, Surroundings, path_cm, ribbon_rgba};

use super::Screen;
use super::labels::Setting;

/// A bath this cold is shown with ice in it, °C.
const ICE_BATH_C: f64 = 5.0;

/// A held beaker this near to the room is shown without a bath, °C.
const LIKE_ROOM_C: f64 = 1.0;

/// The stir bar is shown turning at a tenth of its speed: calm, and no flicker.
const SHOWN_TURN: f64 = 0.1;

/// Most columns and rows of a ribbon, and most pixels along a picture's side.
const MAX_COLUMNS: usize = 4096;
const MAX_ROWS: usize = 64;
const MAX_SIDE: usize = 2048;

impl Screen {
    /// One beaker at a time as pixels, RGBA, row by row. Sides are held within 1 and 2048 px; no
    /// pixels for a beaker that is not there.
    pub fn paint(&mut self, beaker: usize, time_s: f64, width: usize, height: usize, reduced_motion: bool) -> &[u8] {
        if beaker >= self.session.bench().len() {
            return &[];
        }
        let scene = self.scene(beaker, time_s, reduced_motion);
        self.painter.paint(&scene, side(width), side(height))
    }

    /// One beaker's colours from one time to another as pixels, RGBA, `rows` rows of `columns`;
    /// a column shows the middle of its piece of time and is transparent where that has not come.
    pub fn ribbon(&self, beaker: usize, from_s: f64, to_s: f64, columns: usize, rows: usize) -> Vec<u8> {
        if beaker >= self.session.bench().len() {
            return Vec::new();
        }
        let (columns, rows) = (columns.min(MAX_COLUMNS), rows.clamp(1, MAX_ROWS));
        let now_s = self.session.clock().now_s();
        let second = (to_s - from_s) / columns as f64;
        let sample = |column: usize| {
            let time_s = from_s + (column as f64 + 0.5) * second;
            (time_s >= 0.0 && time_s <= now_s).then(|| self.session.reading(beaker, time_s))
        };
        let readings: Vec<Option<Reading>> = (0..columns).map(sample).collect();
        let samples: Vec<RibbonSample> = readings.iter().map(ribbon_sample).collect();
        let indicator = self.indicator(readings.iter().flatten().next_back());
        let vessel_ml = self.session.lesson().recipe.value(Field::VesselMl);
        ribbon_rgba(&samples, indicator, path_cm(vessel_ml), rows)
    }

    /// The dye in a beaker's liquid: it thins as the volume grows.
    fn indicator(&self, reading: Option<&Reading>) -> Indicator {
        let dye_ml = self.session.lesson().recipe.value(Field::IndicatorMl);
        match reading {
            Some(reading) if dye_ml > 0.0 => Indicator::universal(dye_ml, reading.volume_l() * 1000.0 + dye_ml),
            _ => Indicator::none(),
        }
    }

    fn scene(&self, beaker: usize, time_s: f64, reduced_motion: bool) -> Scene {
        let time_s = self.session.past(time_s);
        let reading = self.session.reading(beaker, time_s);
        let recipe = &self.session.lesson().recipe;
        let setting = Setting::of(&self.session, beaker, time_s);
        Scene {
            bulk_ph: reading.ph,
            plume_ph: reading.plume_ph,
            plume_share: reading.plume_share,
            bulk_solids_g_l: reading.suspended_bulk_g_l(),
            plume_solids_g_l: reading.suspended_plume_g_l(),
            clear_layer: reading.clear_layer(),
            sediment_g: reading.solid_settled_mol * MAGNESIUM_HYDROXIDE_G_MOL,
            volume_ml: reading.volume_l() * 1000.0 + recipe.value(Field::IndicatorMl),
            vessel_ml: recipe.value(Field::VesselMl),
            indicator: self.indicator(Some(&reading)),
            ice_g: reading.ice_kg * 1000.0,
            surroundings: surroundings(&setting, recipe.value(Field::RoomC)),
            stir_angle_rad: turned_rad(setting.rpm, time_s),
            stirring: setting.rpm > 0.0,
            pour: self.session.bench().pours(beaker, time_s).next_back().and_then(|pour| under_way(pour, time_s)),
            time_s,
            reduced_motion,
            mark_shown: true,
        }
    }
}

/// A picture's side within what can be painted, px.
pub(super) fn side(asked: usize) -> usize {
    asked.clamp(1, MAX_SIDE)
}

fn ribbon_sample(reading: &Option<Reading>) -> RibbonSample {
    // Not a number where the time has not come: the ribbon leaves that column transparent.
    let (ph, solids_g_l) = reading.as_ref().map_or((f64::NAN, f64::NAN), |r| (r.ph, r.suspended_bulk_g_l()));
    RibbonSample { ph, solids_g_l }
}

fn surroundings(setting: &Setting, room_c: f64) -> Surroundings {
    match setting.kind {
        "plate" => Surroundings::HotPlate,
        "held" if (setting.celsius - room_c).abs() < LIKE_ROOM_C => Surroundings::Room,
        "bath" | "held" if setting.celsius <= ICE_BATH_C => Surroundings::IceBath,
        "bath" | "held" => Surroundings::WarmBath,
        _ => Surroundings::Room,
    }
}

/// How far the bar is shown turned, rad, within one turn.
fn turned_rad(rpm: f64, time_s: f64) -> f64 {
    let turns = rpm / 60.0 * SHOWN_TURN * time_s;
    (turns - turns.floor()) * core::f64::consts::TAU
}

fn under_way((start_s, pour): (f64, &Pour), time_s: f64) -> Option<PourLook> {
    let fraction_done = (time_s - start_s) / pour.duration_s;
    (fraction_done < 1.0).then_some(PourLook { fraction_done })
}
