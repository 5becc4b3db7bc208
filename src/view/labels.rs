//! The words panel of each beaker, as keys and numbers.

use serde::Serialize;

use crate::chemistry::{Action, Bath};
use crate::colour::{Band, Liquid, TorchSight, is_pale, torch_sight};
use crate::constants::CELSIUS_ZERO_K;
use crate::course::Reading;
use crate::lesson::{Beaker, Field};
use crate::picture::TORCH_HEIGHT;
use crate::session::{Session, clarity_of};

use super::Screen;

/// What one beaker shows at one time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Label {
    /// Temperature, °C.
    pub celsius: f64,
    /// pH of the bulk.
    pub ph: f64,
    /// Key of the colour.
    pub band: &'static str,
    /// Letter of the colour.
    pub band_letter: char,
    /// Is the colour pale with suspended solid?
    pub pale: bool,
    /// Is there a dye in it? Without one it is white or colourless at any pH, and its band says nothing.
    pub dyed: bool,
    /// Key of the clarity.
    pub clarity: &'static str,
    /// Key of what the torch shows, where it shines: nothing, beam or glow.
    pub torch: Option<&'static str>,
    /// Time since the start of the last pour, s.
    pub since_dose_s: Option<f64>,
    /// Undissolved solid, g.
    pub solid_g: f64,
    /// Dissolved magnesium in the beaker, all forms, mmol.
    pub dissolved_mmol: f64,
    /// Ice in the beaker, g.
    pub ice_g: f64,
    /// Liquid, mL.
    pub volume_ml: f64,
    /// Speed of the stirrer, revolutions per minute.
    pub stir_rpm: f64,
    /// Kind of surroundings: bath, held, room, ice or plate.
    pub bath_kind: &'static str,
    /// Key of the plume's colour while there is a plume.
    pub plume_band: Option<&'static str>,
}

/// How a beaker is stirred and what it stands in at a time.
pub(super) struct Setting {
    pub rpm: f64,
    pub kind: &'static str,
    /// Temperature of the surroundings, °C.
    pub celsius: f64,
}

impl Setting {
    pub(super) fn of(session: &Session, beaker: usize, time_s: f64) -> Setting {
        let recipe = &session.lesson().recipe;
        let room_c = recipe.value(Field::RoomC);
        let planned = recipe.beakers()[beaker];
        let mut setting = Setting {
            rpm: recipe.value(Field::StirRpm),
            kind: planned.kind(),
            celsius: if let Beaker::Ice { .. } = planned { room_c } else { planned.start_c(room_c) },
        };
        let past = |at_s: f64| at_s <= time_s;
        for entry in session.bench().log().iter().filter(|entry| entry.beaker == beaker && past(entry.at_s())) {
            match entry.action {
                Action::Pour(_) => {}
                Action::Stir { rpm } => setting.rpm = rpm,
                Action::Bath(bath) => (setting.kind, setting.celsius) = surroundings_of(bath, &setting, room_c),
            }
        }
        setting
    }
}

fn surroundings_of(bath: Bath, before: &Setting, room_c: f64) -> (&'static str, f64) {
    match bath {
        Bath::Held => ("held", before.celsius),
        Bath::Room => ("room", room_c),
        Bath::Around { bath_k } => ("bath", bath_k - CELSIUS_ZERO_K),
        Bath::HotPlate { set_k, .. } => ("plate", set_k - CELSIUS_ZERO_K),
    }
}

/// Dissolved magnesium, all forms, mmol. In strong base it is a small difference of large amounts,
/// and the stepper's last digits may leave it below zero.
pub(super) fn dissolved_mmol(reading: &Reading) -> f64 {
    reading.magnesium_mol.max(0.0) * 1000.0
}

/// The liquid's colour is called pale by the solid that is suspended in it.
pub(super) fn is_pale_at(reading: &Reading) -> bool {
    is_pale(reading.suspended_bulk_g_l())
}

/// The wavelength that the eye goes by in dim light, as a place on the colour room's grid: 550 nm.
const EYE_AT: usize = 17;

impl Screen {
    fn torch_sight(&self, beaker: usize, reading: &Reading) -> TorchSight {
        let solids_g_l = if reading.clear_layer() > 1.0 - TORCH_HEIGHT { 0.0 } else { reading.suspended_bulk_g_l() };
        let liquid = Liquid::new(&self.indicator(beaker, Some(reading)), reading.ph, solids_g_l);
        torch_sight(solids_g_l, liquid.absorption_per_cm()[EYE_AT], self.session.bench().path_cm())
    }

    /// What every beaker shows at a time, s on the lesson's clock.
    pub fn labels(&self, time_s: f64) -> Vec<Label> {
        (0..self.session.bench().len()).map(|beaker| self.label(beaker, time_s)).collect()
    }

    fn label(&self, beaker: usize, time_s: f64) -> Label {
        let time_s = self.session.past(time_s);
        let reading = self.session.reading(beaker, time_s);
        let bench = self.session.bench();
        let setting = Setting::of(&self.session, beaker, time_s);
        let band = Band::of_ph(reading.ph);
        Label {
            celsius: reading.temperature_k - CELSIUS_ZERO_K,
            ph: reading.ph,
            band: band.key(),
            band_letter: band.letter(),
            pale: is_pale_at(&reading),
            dyed: self.session.indicator_ml(beaker) > 0.0,
            clarity: clarity_of(&reading, bench.path_cm()).key(),
            torch: self.look.torch.then(|| self.torch_sight(beaker, &reading).key()),
            since_dose_s: bench.pours(beaker, time_s).next_back().map(|(start_s, _)| time_s - start_s),
            solid_g: reading.solid_g(),
            dissolved_mmol: dissolved_mmol(&reading),
            ice_g: reading.ice_kg * 1000.0,
            volume_ml: reading.volume_l() * 1000.0,
            stir_rpm: setting.rpm,
            bath_kind: setting.kind,
            plume_band: (reading.plume_share > 0.0).then(|| Band::of_ph(reading.plume_ph).key()),
        }
    }
}
