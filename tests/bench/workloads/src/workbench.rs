//! All problems by name, each ready to be worked on as often as a clock wants.

use crate::frame::Frames;
use crate::lesson::{Lesson, STEPS};
use crate::{Run, one_beaker::one_beaker, one_zone::one_zone};

/// The problems' names as the report knows them. `nextDose1` to `nextDose11` come besides.
const ONE_BEAKER: &str = "oneBeaker";
const ONE_ZONE: &str = "oneZone";
const LESSON: &str = "lesson";
const FRAME: &str = "frame";
const NEXT_DOSE: &str = "nextDose";

/// A name that stands for no problem, or a problem that could not be worked out.
#[derive(Clone, Debug)]
pub struct NoSuchProblem(pub String);

impl core::fmt::Display for NoSuchProblem {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "there is no result for {}", self.0)
    }
}

impl std::error::Error for NoSuchProblem {}

/// The problems, with what must be ready before one can be timed.
pub struct Workbench {
    /// The lesson before its first dose, before its second ... and after its last.
    lessons: Vec<Lesson>,
    frames: Frames,
}

impl Workbench {
    /// Prepares everything.
    ///
    /// # Errors
    /// None is expected: the numbers are in range.
    pub fn new() -> Result<Self, NoSuchProblem> {
        let failed = |_| NoSuchProblem(LESSON.to_owned());
        let mut lessons = vec![Lesson::begin().map_err(failed)?];
        for step in 0..STEPS {
            let mut next = lessons[step].clone();
            next.next_dose().map_err(failed)?;
            lessons.push(next);
        }
        let frames = Frames::begin().ok_or_else(|| NoSuchProblem(FRAME.to_owned()))?;
        Ok(Self { lessons, frames })
    }

    /// The names of all problems.
    pub fn problems(&self) -> Vec<String> {
        let doses = (1..=STEPS).map(|step| format!("{NEXT_DOSE}{step}"));
        [ONE_BEAKER, ONE_ZONE, LESSON, FRAME].map(str::to_owned).into_iter().chain(doses).collect()
    }

    /// Does a problem's work once. Gives a number that depends on all of it, so that no
    /// compiler leaves any of it out.
    ///
    /// # Errors
    /// [`NoSuchProblem`]
    pub fn work(&mut self, problem: &str) -> Result<f64, NoSuchProblem> {
        let failed = || NoSuchProblem(problem.to_owned());
        match problem {
            ONE_BEAKER => one_beaker().map(|run| run.ph.iter().sum()).map_err(|_| failed()),
            ONE_ZONE => one_zone().map(|run| run.ph.iter().sum()).map_err(|_| failed()),
            LESSON => Lesson::whole().map_err(|_| failed()),
            FRAME => Ok(self.frames.paint()),
            // The copy is timed with it, which the page needs not make: some 1 %.
            dose => {
                let mut next = self.lessons[dose_number(dose).ok_or_else(failed)? - 1].clone();
                next.next_dose().map_err(|_| failed())
            }
        }
    }

    /// What a problem's work comes to: pH each second, or of the three beakers at rest.
    ///
    /// # Errors
    /// [`NoSuchProblem`]
    pub fn outcome(&self, problem: &str) -> Result<Run, NoSuchProblem> {
        let failed = || NoSuchProblem(problem.to_owned());
        match problem {
            ONE_BEAKER => one_beaker().map_err(|_| failed()),
            ONE_ZONE => one_zone().map_err(|_| failed()),
            LESSON => Ok(self.lessons[STEPS].outcome_since(None)),
            FRAME => Ok(self.frames.outcome()),
            dose => {
                let number = dose_number(dose).ok_or_else(failed)?;
                Ok(self.lessons[number].outcome_since(Some(&self.lessons[number - 1])))
            }
        }
    }
}

fn dose_number(problem: &str) -> Option<usize> {
    problem.strip_prefix(NEXT_DOSE)?.parse().ok().filter(|number| (1..=STEPS).contains(number))
}
