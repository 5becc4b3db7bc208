//! What a class measured, and what the model learns from it.
//!
//! Knows beakers as courses and recipes, and nothing of sessions or screens. Every estimate comes with its 95 % range, and
//! what the measurements cannot tell is refused with its reason.

mod arrhenius;
mod beakers;
mod cells;
mod clock;
mod columns;
mod curve;
mod encoding;
mod fit;
mod forward;
mod least_squares;
mod line;
mod orthogonal;
mod probe;
mod reasons;
mod rows;
mod student;
mod timing;
mod unknown;

pub use arrhenius::{Apparent, Common, DoseLine, common_slopes, straight_lines};
pub use cells::{Delimiter, Mark};
pub use columns::Column;
pub use curve::{Overlay, Run, fit_curves, lagged};
pub use encoding::{Encoding, decode};
pub use fit::{Estimate, Fit, FitError, FittedPoint, LEAST_SPAN_K, Pair, Untold, computed_times, fit_times};
pub use least_squares::{LeastSquaresError, Minimum, Residuals, Rules, least_squares};
pub use line::{Line, LineError};
pub use probe::{Assumed, PROBE_MAX_BYTES, PROBE_MAX_ROWS, PROBE_MAX_S, Probe, ProbeError, TimeUnit, Wishes};
pub use reasons::{By, CAUSES, Cause, Part, Shape};
pub use rows::{ROW_FIELDS, ROWS_MAX, Row, RowTrouble, pasted, timings};
pub use student::{student_t, two_sided_probability};
pub use timing::{CELSIUS_RANGE, SECONDS, Timing, finish_ph};
pub use unknown::{LITERATURE, Literature, Unknown, Values};
