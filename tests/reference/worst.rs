//! Departures from expected values, and the bars they are held against.

/// The largest of some departures, and where it is: what a message about a bar should say.
#[derive(Clone, Debug, Default)]
pub struct Worst {
    /// The largest departure.
    pub by: f64,
    /// Its place in words.
    pub at: String,
}

impl Worst {
    /// Counts one more departure; one that is no number counts as infinite.
    pub fn see(&mut self, departure: f64, at: impl FnOnce() -> String) {
        let by = if departure.is_nan() { f64::INFINITY } else { departure.abs() };
        if by > self.by {
            *self = Self { by, at: at() };
        }
    }

    /// Fails the test when a bar is passed.
    pub fn within(&self, bar: f64, what: &str) {
        println!("{what}: at most {:.3e} (bar {bar:e}), {}", self.by, self.at);
        assert!(self.by <= bar, "{what}: off by {:e}, allowed {bar:e}, {}", self.by, self.at);
    }
}
