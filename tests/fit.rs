//! The fit of measured times: what went in comes back, and what cannot be told is refused.

#[path = "fit/beakers.rs"]
mod beakers;
#[path = "fit/bias.rs"]
mod bias;
#[path = "fit/curves.rs"]
mod curves;
#[path = "fit/draw.rs"]
mod draw;
#[path = "fit/reasons.rs"]
mod reasons;
#[path = "fit/recovery.rs"]
mod recovery;
#[path = "fit/refusals.rs"]
mod refusals;
#[path = "fit/rows.rs"]
mod rows;
#[path = "fit/speed.rs"]
mod speed;
