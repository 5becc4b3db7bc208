//! The lesson's clock. It knows no other clock: the page hands it the real seconds.

/// Seconds of the lesson that one real second may show.
pub const SPEEDS: [u32; 3] = [1, 4, 16];

/// More real seconds than this between two ticks were not watched by anybody: a hidden tab,
/// a laptop that slept, a clock that was set.
const LONGEST_TICK_S: f64 = 1.0;

/// The lesson's time, and whether and how fast it runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    now_s: f64,
    speed: u32,
    /// Does it stand?
    pub held: bool,
}

impl Clock {
    pub(super) fn at(now_s: f64) -> Clock {
        Clock { now_s, speed: SPEEDS[0], held: false }
    }

    /// Now, s on the lesson's clock.
    pub fn now_s(&self) -> f64 {
        self.now_s
    }

    /// Seconds of the lesson that one real second shows.
    pub fn speed(&self) -> u32 {
        self.speed
    }

    pub(super) fn set_speed(&mut self, speed: u32) {
        if SPEEDS.contains(&speed) {
            self.speed = speed;
        }
    }

    /// The time after so many real seconds.
    pub(super) fn after(&self, real_s: f64) -> f64 {
        // Not so for a NaN, which then counts as nothing.
        let watched_s = if real_s > 0.0 { real_s.min(LONGEST_TICK_S) } else { 0.0 };
        self.now_s + watched_s * f64::from(self.speed)
    }

    pub(super) fn set(&mut self, now_s: f64) {
        self.now_s = now_s;
    }
}
