//! The sheets of a plan as documents: which there are, the threading strips and the wall card. Owns what
//! stands on those; the figures are the plan's, the steps the method's.

use super::document::{Block, Document, Part, StepLine, Strip};
use super::sley_strip::sley_part;
use super::tie_up_sheet::tie_up;
use super::worksheet::worksheet;
use crate::dressing::Dressing;
use crate::method::{Method, Stage};
use crate::plan::{Batch, Plan, handfuls};
use crate::quantity::{Call, Calls};
use crate::words::counts::{count, ends};
use crate::words::fill::{fill, loom_kind};
use crate::words::sheet_words;

/// One sheet of a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sheet {
    /// The plan's figures.
    Plan,
    /// The threading, batch by batch.
    Threading,
    /// The sley, group by group.
    Sley,
    /// Draft, tie-up, treadling and cloth.
    TieUp,
    /// The stages and steps with their cautions, for the wall.
    WallCard,
}

impl Sheet {
    /// All of them, in the order of the work.
    pub const ALL: [Self; 5] = [
        Self::Plan,
        Self::Threading,
        Self::Sley,
        Self::TieUp,
        Self::WallCard,
    ];

    /// Its name on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::Threading => "threading",
            Self::Sley => "sley",
            Self::TieUp => "tie-up",
            Self::WallCard => "wall",
        }
    }
}

/// The wanted sheets of a plan as one document.
#[must_use]
pub fn sheets(wanted: &[Sheet], plan: &Plan, method: &Method) -> Document {
    let parts = wanted.iter().flat_map(|sheet| match sheet {
        Sheet::Plan => vec![worksheet(plan)],
        Sheet::Threading => vec![threading(plan)],
        Sheet::Sley => vec![sley_part(plan)],
        Sheet::TieUp => vec![tie_up(plan)],
        Sheet::WallCard => wall_card(plan, method),
    });
    Document {
        title: plan.title.clone(),
        parts: parts.collect(),
    }
}

fn threading(plan: &Plan) -> Part {
    let mut part = Part::new("Threading").with(Block::Note(sheet_words::read_strips(plan)));
    if !plan.doubled.is_empty() {
        part.blocks
            .push(Block::Note(sheet_words::SHARED_HEDDLE.into()));
    }
    let mut before = 0;
    for batch in &plan.batches {
        part.blocks.push(Block::Strip(strip(plan, batch, before)));
        before = batch.calls.last.0;
    }
    part
}

fn strip(plan: &Plan, batch: &Batch, before: u32) -> Strip {
    let out = vec![count(batch.calls.len(), "end")];
    let heddles = (1u32..).zip(&batch.heddles).filter(|(_, n)| **n > 0);
    let heddles = heddles
        .map(|(shaft, n)| format!("{n} on {shaft}"))
        .collect();
    let mut then = vec!["used up".to_owned(), "knotted".to_owned()];
    // the group that comes out even with this batch, and what the next one has already
    let evened = plan.groups.iter().rev().find(|group| {
        let last = group.calls.last.0;
        last > before && last <= batch.calls.last.0
    });
    if let Some(group) = evened {
        let carry = batch.calls.last.0 - group.calls.last.0;
        let carry = match carry {
            0 => String::new(),
            n => format!(", {} of group {} in", count(n, "end"), group.number + 1),
        };
        then.push(format!("group {} even{carry}", group.number));
    }
    Strip {
        head: format!(
            "Batch {} of {}: {}",
            batch.number,
            plan.batches.len(),
            ends(batch.calls)
        ),
        note: None,
        rows: vec![
            ("count out".into(), out),
            ("heddles".into(), heddles),
            ("thread".into(), calls(plan, batch.calls)),
            ("then".into(), then),
        ],
    }
}

/// The calls handful by handful: "1 2 3 4"; a plus before an end that shares the heddle before it.
fn calls(plan: &Plan, run: Calls) -> Vec<String> {
    let list = plan.threading.get(run.indices()).unwrap_or(&[]);
    let mut call = run.first.0;
    handfuls(list)
        .into_iter()
        .map(|len| {
            let mut text = String::new();
            for n in 0..u32::from(len) {
                let at = Call(call + n);
                let shared = plan.doubled.binary_search(&at).is_ok();
                match (text.is_empty(), shared) {
                    (true, false) => {}
                    (_, true) => text.push('+'),
                    (false, false) => text.push(' '),
                }
                let shaft = plan.threading.get(at.0 as usize - 1);
                text.push_str(&shaft.map_or(String::new(), |s| s.0.to_string()));
            }
            call += u32::from(len);
            text
        })
        .collect()
}

/// The stages as parts of a card, each step with its caution; only what belongs to this plan.
fn wall_card(plan: &Plan, method: &Method) -> Vec<Part> {
    let dressing = Dressing::new(plan.clone(), &[]);
    let kind = loom_kind(plan);
    let mut parts = vec![Part::new("Wall card").with(Block::Caution(method.defers().to_owned()))];
    for (nth, stage) in (1..).zip(Stage::ALL) {
        let text = method.stage(stage);
        let steps = method
            .steps()
            .filter(|s| s.id.stage() == stage && dressing.applies(s.id));
        let steps: Vec<StepLine> = steps
            .filter(|step| method.includes(step.id, kind))
            .map(|step| {
                let texts = step.on(kind);
                StepLine {
                    title: fill(&texts.title, plan),
                    text: fill(&texts.imperative, plan),
                    caution: texts.caution.map(|caution| fill(&caution, plan)),
                }
            })
            .collect();
        let heading = Block::Heading(format!("{nth}. {}", text.title));
        if let Some(part) = parts.last_mut().filter(|_| !steps.is_empty()) {
            part.blocks.extend([
                heading,
                Block::Note(fill(&text.aim, plan)),
                Block::Steps(steps),
            ]);
        }
    }
    parts
}
