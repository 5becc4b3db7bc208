//! The lesson as its teacher alters it: the whole of it as its file has it, each place with what
//! is asked there, and the code that a class points its cameras at.

use std::fmt::Write;

use qrcodegen::{QrCode, QrCodeEcc, QrSegment, Version};
use serde::Serialize;

use crate::lesson::{AskEntry, At, LINK_MAX_CHARS, Lesson, LessonFile, Level, TreeError};

use super::Screen;
use super::asks::PlaceKey;
use super::reply::Reply;

/// A place of the lesson with what is asked there.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PlaceView {
    /// brief, end, or the dose from 0.
    pub at: PlaceKey,
    /// Its moment in the story.
    pub moment: &'static str,
    /// What is poured; none in the brief and at the end.
    pub reagent: Option<&'static str>,
    /// From 1 among the doses of the same reagent; 0 in the brief and at the end.
    pub number: u32,
    /// Volume, mL.
    pub volume_ml: f64,
    /// How long it is watched, s.
    pub rest_s: f64,
    /// What is asked, as the lesson's file has it.
    pub asks: Vec<AskEntry>,
}

/// The link, or why there is none.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct ShareView {
    /// Is there a link?
    pub ok: bool,
    /// tooLong.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub key: Option<&'static str>,
    /// What stands behind the #; empty where there is no link.
    pub fragment: String,
    /// Its characters, or those that it would have.
    pub chars: usize,
    /// Most characters that a link may have.
    pub max: usize,
}

/// A QR code (ISO/IEC 18004), error level M, with its quiet zone.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct QrView {
    /// True.
    pub ok: bool,
    /// The code as SVG, black on white, one unit a module.
    pub svg: String,
    /// Modules along a side, with the quiet zone.
    pub modules: u32,
    /// Where it can be read: board (also projected), paper, or close (a phone held close to it).
    pub reads: &'static str,
}

/// Quiet zone, modules: ISO/IEC 18004 asks for four.
const QUIET: i32 = 4;

/// Up to these versions a code can be projected, and printed 25 mm wide: common practice.
const BOARD_VERSION: u8 = 10;
const PAPER_VERSION: u8 = 15;

impl Screen {
    /// The lesson as its file has it.
    pub fn lesson_file(&self) -> LessonFile {
        LessonFile::of(self.session.lesson())
    }

    /// Takes a lesson as the page's form or a file has it and begins it. On errors nothing changes.
    pub fn set_lesson(&mut self, draft: Result<Lesson, TreeError>) -> Reply {
        match draft {
            Ok(lesson) => self.open(lesson),
            Err(error) => Reply::of_tree(&error),
        }
    }

    /// Begins the same lesson at another level, 1 to 5.
    pub fn set_level(&mut self, number: u32) -> Reply {
        match u8::try_from(number).ok().and_then(Level::of_number) {
            Some(level) => self.open(Lesson { level, ..self.session.lesson().clone() }),
            None => Reply::refused("unknown"),
        }
    }

    /// Every place of the lesson, from the brief to the end.
    pub fn outline(&self) -> Vec<PlaceView> {
        PlaceView::all(self.session.lesson())
    }

    /// The code of the lesson itself: the same before, while and after it runs.
    pub fn lesson_code(&self) -> String {
        self.session.lesson().code().to_string()
    }

    /// The beaker that the predictions are about, from 0.
    pub fn subject(&self) -> usize {
        self.session.subject_beaker()
    }

    /// Answers a question with choices that is asked now; no words take the answer back.
    pub fn choose(&mut self, ask: usize, answer: &str) -> Reply {
        Reply::of(self.session.choose(ask, answer))
    }

    /// The link with its length, or that it would be too long.
    pub fn share(&self) -> ShareView {
        let max = LINK_MAX_CHARS - 1;
        match self.session.lesson().link() {
            Ok(fragment) => ShareView { ok: true, key: None, chars: fragment.len(), fragment, max },
            Err(error) => {
                ShareView { ok: false, key: Some("tooLong"), fragment: String::new(), chars: error.chars, max }
            }
        }
    }
}

impl PlaceView {
    /// Every place of the lesson, from the brief to the end.
    pub(super) fn all(lesson: &Lesson) -> Vec<PlaceView> {
        let asks = |at| AskEntry::all(&lesson.asks(at));
        let aside = |at, moment| PlaceView {
            at: PlaceKey::of(at),
            moment,
            reagent: None,
            number: 0,
            volume_ml: 0.0,
            rest_s: 0.0,
            asks: asks(at),
        };
        let mut places = vec![aside(At::Brief, "brief")];
        for (index, step) in lesson.steps().iter().enumerate() {
            places.push(PlaceView {
                at: PlaceKey::Step(index),
                moment: step.moment.key(),
                reagent: Some(step.reagent.key()),
                number: step.number,
                volume_ml: step.volume_ml,
                rest_s: step.rest_s,
                asks: asks(At::Step(index)),
            });
        }
        places.push(aside(At::End, "end"));
        places
    }
}

impl QrView {
    /// The code of a text, the address of a lesson.
    ///
    /// # Errors
    /// tooLong for more than 2,331 bytes, which no code holds at this error level.
    pub fn of(text: &str) -> Result<QrView, Reply> {
        let bytes = [QrSegment::make_bytes(text.as_bytes())];
        let (least, most) = (Version::MIN, Version::MAX);
        let code = QrCode::encode_segments_advanced(&bytes, QrCodeEcc::Medium, least, most, None, false)
            .map_err(|_| Reply::refused("tooLong"))?;
        let reads = match code.version().value() {
            version if version <= BOARD_VERSION => "board",
            version if version <= PAPER_VERSION => "paper",
            _ => "close",
        };
        let modules = code.size() + 2 * QUIET;
        Ok(QrView { ok: true, svg: svg(&code, modules), modules: modules as u32, reads })
    }
}

/// One path: each run of dark modules in a row is a rectangle.
fn svg(code: &QrCode, modules: i32) -> String {
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {modules} {modules}\" \
         shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h{modules}v{modules}H0z\"/><path d=\""
    );
    for y in 0..code.size() {
        let mut x = 0;
        while x < code.size() {
            let run = (x..code.size()).take_while(|&x| code.get_module(x, y)).count() as i32;
            if run > 0 {
                // Writing into a string cannot fail.
                let _ = write!(svg, "M{} {}h{run}v1h-{run}z", x + QUIET, y + QUIET);
            }
            x += run.max(1);
        }
    }
    svg + "\"/></svg>"
}
