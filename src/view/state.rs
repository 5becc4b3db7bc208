//! Where the lesson stands.

use serde::Serialize;

use crate::lesson::{At, Question};
use crate::session::{Session, Stage, WHAT_IFS};

use super::asks::AskView;

/// The stage, the clock and the current dose.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct StateView {
    /// guided or free.
    pub mode: &'static str,
    /// Key of the stage.
    pub stage: &'static str,
    /// Now, s on the lesson's clock.
    pub now: f64,
    /// Does the clock stand?
    pub held: bool,
    /// Seconds of the lesson in one real second.
    pub speed: u32,
    /// The level, 1 to 5.
    pub level: u8,
    /// A line for the board; empty where the teacher gave none.
    pub title: String,
    /// The questions with choices that are asked now, or before the dose that runs.
    pub asks: Vec<AskView>,
    /// The dose that is asked about, runs or is explained.
    pub step: Option<StepView>,
    /// When the clock will stop by itself, s; now where nothing runs towards a rest.
    pub rest_at: f64,
    /// What is left of a hold of the class whose run is told again, s.
    pub class_hold: Option<f64>,
    /// May one pour freely?
    pub can_pour: bool,
    /// What is changed in each beaker of the free bench against the recipe: halfWater, noIndicator, finer, ice.
    pub what_ifs: Vec<Vec<&'static str>>,
}

/// One dose.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct StepView {
    /// From 0 among all doses.
    pub index: usize,
    /// How many doses there are.
    pub count: usize,
    /// From 1 among the doses of the same reagent.
    pub number: u32,
    /// acid or base.
    pub reagent: &'static str,
    /// Volume, mL.
    pub volume_ml: f64,
    /// Concentration, mol/L.
    pub mol_l: f64,
    /// Does its card ask more than one thing?
    pub long: bool,
    /// What the card asks, in its order.
    pub questions: Vec<&'static str>,
    /// The beaker that the colours and seconds are about, from 0.
    pub subject_beaker: usize,
}

impl StateView {
    pub(super) fn of(session: &Session) -> StateView {
        let free = session.stage() == Stage::Free;
        let questions = session.questions();
        let step = session.current_step().map(|(index, step)| StepView {
            index,
            count: session.steps().len(),
            number: step.number,
            reagent: step.reagent.key(),
            volume_ml: step.volume_ml,
            mol_l: step.concentration_mol_l,
            long: questions.len() > 1,
            questions: questions.iter().copied().map(Question::key).collect(),
            subject_beaker: session.subject_beaker(),
        });
        let lesson = session.lesson();
        let asked_at = session.asked_at().or(session.current_step().map(|(index, _)| At::Step(index)));
        StateView {
            level: lesson.level.number(),
            title: lesson.title.clone(),
            asks: asked_at.map_or_else(Vec::new, |at| AskView::all(session, at)),
            mode: if free { "free" } else { "guided" },
            stage: session.stage().key(),
            now: session.clock().now_s(),
            held: session.clock().held,
            speed: session.clock().speed(),
            step,
            rest_at: session.rest_at_s().unwrap_or(session.clock().now_s()),
            class_hold: None,
            can_pour: free,
            what_ifs: (0..session.bench().len()).map(|beaker| changes(session, beaker)).collect(),
        }
    }
}

fn changes(session: &Session, beaker: usize) -> Vec<&'static str> {
    let changed = session.what_if(beaker).changed();
    WHAT_IFS.into_iter().zip(changed).filter(|(_, changed)| *changed).map(|(key, _)| key).collect()
}
