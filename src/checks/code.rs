//! `code FILE`: kept records played anew, each with its check code.

use std::fmt::Write as _;

use turnback::lesson::Kept;
use turnback::session::Session;

use super::Refusal;

/// The texts that a device keeps of its lessons, one a line: for each the lesson's clock (s), how
/// many acts stand in it, and the check code of the run that comes of doing them again.
pub fn code(text: &str) -> Result<String, Refusal> {
    let mut out = String::from("now_s,acts,code\n");
    for (index, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
        let refused = |why: String| format!("line {}: {why}", index + 1);
        let kept = Kept::from_text(line.trim())
            .map_err(|error| refused(format!("this is no kept lesson ({})", error.key())))?;
        let session = Session::resume(kept.lesson, kept.now_s, &kept.entries)
            .map_err(|error| refused(format!("what was done cannot be done again: {error:?}")))?;
        writeln!(out, "{},{},{}", kept.now_s, kept.entries.len(), session.check_code())?;
    }
    Ok(out)
}
