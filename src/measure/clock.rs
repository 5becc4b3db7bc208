//! Times as a clock or a stopwatch writes them.

/// Seconds of a time with colons: h:mm:ss or m:ss, with decimals or without, with a date before it, with AM or PM behind it.
/// None for anything else.
pub(super) fn seconds(cell: &str) -> Option<f64> {
    let cell = cell.trim();
    if !cell.contains(':') || !cell.is_ascii() {
        return None;
    }
    let upper = cell.to_ascii_uppercase();
    let (cell, half_day) = match (upper.strip_suffix("PM"), upper.strip_suffix("AM")) {
        (Some(before), _) => (before, Some(true)),
        (_, Some(after)) => (after, Some(false)),
        _ => (upper.as_str(), None),
    };
    // A date before it is parted by a space or a T; a Z behind it names a time zone, which no difference hangs on.
    let cell = cell.trim().trim_end_matches('Z');
    let (date, clock) = cell.rsplit_once([' ', 'T']).unwrap_or(("", cell));
    if date.contains(|sign: char| !(sign.is_ascii_digit() || matches!(sign, '-' | '/' | '.' | ' '))) {
        return None;
    }
    let parts: Vec<&str> = clock.split(':').collect();
    let (hours, minutes, seconds) = match parts[..] {
        [minutes, seconds] => ("0", minutes, seconds),
        [hours, minutes, seconds] => (hours, minutes, seconds),
        _ => return None,
    };
    let whole = |part: &str| part.parse::<u32>().ok().filter(|_| part.len() <= 4).map(f64::from);
    let seconds = crate::decimal::read(&seconds.replace(',', ".")).filter(|seconds| (0.0..60.0).contains(seconds))?;
    let (mut hours, minutes) = (whole(hours)?, whole(minutes)?);
    if parts.len() == 3 && minutes >= 60.0 {
        return None;
    }
    match half_day {
        Some(true) if hours < 12.0 => hours += 12.0,
        Some(false) if hours == 12.0 => hours = 0.0,
        _ => {}
    }
    Some(3600.0 * hours + 60.0 * minutes + seconds)
}
