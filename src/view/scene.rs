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

/// The stir bar is shown turning at a tenth of its speed: calm, and no flicker. Faster than this, rpm, it is shown no faster.
const SHOWN_TURN: f64 = 0.1;
const SHOWN_MOST_RPM: f64 = 600.0;

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
        let indicator = self.indicator(beaker, readings.iter().flatten().next_back());
        let vessel_ml = self.session.lesson().recipe.value(Field::VesselMl);
        ribbon_rgba(&samples, (indicator, self.session.what_if(beaker).fineness()), path_cm(vessel_ml), rows)
    }

    /// The dye in a beaker's liquid: it thins as the volume grows.
    pub(super) fn indicator(&self, beaker: usize, reading: Option<&Reading>) -> Indicator {
        let dye_ml = self.session.indicator_ml(beaker);
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
            volume_ml: reading.volume_l() * 1000.0 + self.session.indicator_ml(beaker),
            vessel_ml: recipe.value(Field::VesselMl),
            indicator: self.indicator(beaker, Some(&reading)),
            ice_g: reading.ice_kg * 1000.0,
            surroundings: surroundings(&setting, recipe.value(Field::RoomC)),
            stir_angle_rad: turned_rad(setting.rpm, self.watched_s),
            stirring: setting.rpm > 0.0,
            pour: self.session.bench().pours(beaker, time_s).next_back().and_then(|pour| under_way(pour, time_s)),
            time_s: self.watched_s,
            reduced_motion,
            mark_shown: self.look.mark,
            fineness: self.session.what_if(beaker).fineness(),
            torch: self.look.torch,
        }
    }
}

/// How the bench is looked at: nothing of it changes what is in a beaker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// Does the card with the mark stand behind the beakers?
    pub mark: bool,
    /// Is the lamp off, a black card behind the beakers, and a torch held to their side?
    pub torch: bool,
}

impl Default for Look {
    /// In the light, with the mark.
    fn default() -> Look {
        Look { mark: true, torch: false }
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

/// How far the bar is shown turned after so long a time of watching, rad, within one turn.
fn turned_rad(rpm: f64, watched_s: f64) -> f64 {
    let turns = rpm.min(SHOWN_MOST_RPM) / 60.0 * SHOWN_TURN * watched_s;
    (turns - turns.floor()) * core::f64::consts::TAU
}

fn under_way((start_s, pour): (f64, &Pour), time_s: f64) -> Option<PourLook> {
    let fraction_done = (time_s - start_s) / pour.duration_s;
    (fraction_done < 1.0).then_some(PourLook { fraction_done })
}
