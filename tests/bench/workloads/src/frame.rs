//! One frame of the bench: the pictures of three beakers while a dose of acid mixes in.

use crate::Run;
use turnback::view::Screen;

#[path = "../../../session/guess.rs"]
mod guess;
use guess::some_guess;

/// Size of a picture on a laptop, px.
const WIDTH: usize = 300;
const HEIGHT: usize = 340;
/// Frames in a second, and how many seconds of the dose are painted over and over.
const FRAMES_PER_S: f64 = 60.0;
const SECONDS: f64 = 20.0;

/// Our own lesson, half a minute into its first dose.
pub struct Frames {
    screen: Screen,
    next: f64,
}

impl Frames {
    /// Plays the first dose as far as it will be painted. `None` if it can't be played.
    pub fn begin() -> Option<Self> {
        let mut screen = Screen::new().ok()?;
        if !screen.go_on().ok || !screen.lock(&some_guess()).ok {
            return None;
        }
        while screen.state().now < SECONDS {
            screen.tick(1.0);
        }
        Some(Self { screen, next: 0.0 })
    }

    /// Paints the next frame. Gives the sum of a few of its bytes.
    pub fn paint(&mut self) -> f64 {
        let time_s = self.next / FRAMES_PER_S;
        self.next = if time_s < SECONDS { self.next + 1.0 } else { 0.0 };
        let mut sum = 0.0;
        for beaker in 0..3 {
            let pixels = self.screen.paint(beaker, time_s, WIDTH, HEIGHT, false);
            sum += pixels.iter().step_by(4001).map(|&byte| f64::from(byte)).sum::<f64>();
        }
        sum
    }

    /// pH of the three beakers at the last frame.
    pub fn outcome(&self) -> Run {
        Run { ph: self.screen.labels(SECONDS).iter().map(|label| label.ph).collect(), cost: [0; 4] }
    }
}
