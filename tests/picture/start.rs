//! The beaker of our scenario before its first dose.

use turnback::colour::Indicator;
use turnback::picture::{Scene, Surroundings};

/// At rest in the room, neither stirred nor with a mark behind it.
pub fn scene() -> Scene {
    Scene {
        bulk_ph: 10.5,
        plume_ph: 10.5,
        plume_share: 0.0,
        bulk_solids_g_l: 2.3,
        plume_solids_g_l: 2.3,
        clear_layer: 0.0,
        sediment_g: 0.0,
        volume_ml: 520.0,
        vessel_ml: 600.0,
        indicator: Indicator::universal(5.0, 520.0),
        ice_g: 0.0,
        surroundings: Surroundings::Room,
        stir_angle_rad: 0.6,
        stirring: false,
        pour: None,
        time_s: 3.0,
        reduced_motion: false,
        mark_shown: false,
        fineness: 1.0,
        torch: false,
    }
}
