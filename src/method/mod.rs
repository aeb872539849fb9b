//! The steps as data: what is said about each stage and step of the job, read, checked and, where
//! a house has its own words, reworded. A leaf: it knows no plan, no dressing and no file. Pure.
//!
//! Invariants: a [`Method`] holds each stage and each step of the closed lists once, in their
//! order; it has passed [`check`]; a house's wording has passed the same check.

mod check;
mod fault;
mod figure;
mod house;
mod id;
mod loom;
mod name;
mod near;
mod read;
mod rules;
mod source;
mod step;
mod tree;

pub use check::{HAZARDS, MOST_WRONG, check};
pub use fault::{MethodFault, Owner, Place};
pub use figure::{Figure, Piece, at_its_widest, fill, pieces, sentences};
pub use id::{Stage, StepId};
pub use loom::LoomKind;
pub use rules::MOST_WORDS;
pub use step::{StageText, Step, Texts, Wrong};
pub use tree::{MOST_BYTES, MOST_DEPTH};

use read::{Entries, StageEntry, StepEntry, read};
use source::Source;

/// The built-in method's file.
const BACK_TO_FRONT: &str = include_str!("../../assets/method/back-to-front.json");

/// A whole method: every stage and step with its texts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Method {
    name: String,
    out_of_scope: String,
    defers: String,
    stages: [StageText; Stage::ALL.len()],
    steps: Box<[Step; StepId::ALL.len()]>,
}

impl Method {
    /// The method that the program carries: back to front. Read at each call, so a program asks for
    /// it once; not checked, since that would be most of the program's start.
    ///
    /// # Panics
    ///
    /// Never: the file is part of the program, and a test proves that it passes its own check.
    #[must_use]
    pub fn embedded() -> Self {
        let read = read(BACK_TO_FRONT, Source::Method);
        let (entries, _) = read.expect("the built-in method can be read");
        Self::from_entries(entries)
    }

    /// The text that [`Self::embedded`] reads.
    #[must_use]
    pub fn embedded_text() -> &'static str {
        BACK_TO_FRONT
    }

    /// A method from its file's text.
    ///
    /// # Errors
    ///
    /// Every fault that was found, in the order of the file's parts.
    pub fn parse(json: &str) -> Result<Self, Vec<MethodFault>> {
        let (entries, mut faults) = read(json, Source::Method).map_err(|fault| vec![fault])?;
        let stages: Vec<Owner> = entries
            .stages
            .iter()
            .map(|entry| Owner::Stage(entry.id))
            .collect();
        let steps: Vec<Owner> = entries
            .steps
            .iter()
            .map(|entry| Owner::Step(entry.id))
            .collect();
        let unordered = [
            in_order(&stages, &Stage::ALL.map(Owner::Stage)),
            in_order(&steps, &StepId::ALL.map(Owner::Step)),
        ];
        faults.extend(unordered.into_iter().flatten());
        let method = Self::from_entries(entries);
        faults.extend(check(&method));
        drop_echoes(&mut faults);
        if faults.is_empty() {
            Ok(method)
        } else {
            Err(faults)
        }
    }

    /// The entries put in their places; what is lacking is empty, and a fault already.
    fn from_entries(entries: Entries) -> Self {
        let (mut stages, mut steps) = (entries.stages, entries.steps);
        Self {
            name: entries.name.unwrap_or_default(),
            out_of_scope: entries.out_of_scope.unwrap_or_default(),
            defers: entries.defers.unwrap_or_default(),
            stages: Stage::ALL.map(|id| stage_text(id, &mut stages)),
            steps: Box::new(StepId::ALL.map(|id| step(id, &mut steps))),
        }
    }

    /// The method's name, or the house's.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What the method leaves out, as a sentence.
    #[must_use]
    pub fn out_of_scope(&self) -> &str {
        &self.out_of_scope
    }

    /// To whom the method defers, as a sentence; it belongs beside every caution that is printed.
    #[must_use]
    pub fn defers(&self) -> &str {
        &self.defers
    }

    /// What is said about a stage.
    #[must_use]
    pub fn stage(&self, id: Stage) -> &StageText {
        &self.stages[id as usize]
    }

    /// What is said about a step.
    #[must_use]
    pub fn step(&self, id: StepId) -> &Step {
        &self.steps[id as usize]
    }

    /// All steps, first to last, skipped ones among them.
    pub fn steps(&self) -> impl Iterator<Item = &Step> {
        self.steps.iter()
    }

    /// Whether the step belongs to the job here, on such a loom.
    #[must_use]
    pub fn includes(&self, id: StepId, loom: LoomKind) -> bool {
        let step = self.step(id);
        !step.skipped && step.applies_to(loom)
    }

    /// A CRC-32 over every text, loom list and skip: equal for equal content, however the file is
    /// laid out. A dressing keeps it, to say so when its method's words have changed.
    #[must_use]
    pub fn fingerprint(&self) -> u32 {
        let mut sum = crc32fast::Hasher::new();
        let mut add = |part: &str| {
            sum.update(part.as_bytes());
            sum.update(&[0]);
        };
        for text in [&self.name, &self.out_of_scope, &self.defers] {
            add(text);
        }
        for stage in &self.stages {
            for part in [stage.id.name(), &stage.title, &stage.aim, &stage.far] {
                add(part);
            }
        }
        for step in self.steps.iter() {
            add(step.id.name());
            step.for_each_part(&mut add);
        }
        sum.finalize()
    }
}

/// What is wrong with the ids of a list, against the closed list.
fn in_order(found: &[Owner], all: &[Owner]) -> Vec<MethodFault> {
    let mut faults = Vec::new();
    let rank = |owner: &Owner| all.iter().position(|known| known == owner);
    for (at, owner) in all.iter().enumerate() {
        let places: Vec<usize> = (0..found.len())
            .filter(|place| found[*place] == *owner)
            .collect();
        let owner = owner.clone();
        match places.as_slice() {
            [] => faults.push(MethodFault::IdMissing { owner }),
            [place] => {
                let later = found[..*place]
                    .iter()
                    .find(|before| rank(before) > Some(at));
                let late = later.map(|after| MethodFault::OutOfOrder {
                    owner,
                    after: after.clone(),
                });
                faults.extend(late);
            }
            [_, _, ..] => faults.push(MethodFault::IdTwice { owner }),
        }
    }
    faults
}

/// An entry that is missing as a whole is one fault, not one for each of its texts.
fn drop_echoes(faults: &mut Vec<MethodFault>) {
    let missing: Vec<Owner> = faults
        .iter()
        .filter_map(|fault| match fault {
            MethodFault::IdMissing { owner } => Some(owner.clone()),
            _ => None,
        })
        .collect();
    faults.retain(|fault| match fault {
        MethodFault::Missing { place } | MethodFault::NoCaution { place } => {
            !missing.contains(&place.owner)
        }
        _ => true,
    });
}

fn stage_text(id: Stage, entries: &mut Vec<StageEntry>) -> StageText {
    let entry = entries
        .iter()
        .position(|entry| entry.id == id)
        .map(|at| entries.remove(at));
    let (title, aim, far) = entry.map_or((None, None, None), |entry| {
        (entry.title, entry.aim, entry.far)
    });
    StageText {
        id,
        title: title.unwrap_or_default(),
        aim: aim.unwrap_or_default(),
        far: far.unwrap_or_default(),
    }
}

fn step(id: StepId, entries: &mut Vec<StepEntry>) -> Step {
    let mut step = Step {
        id,
        texts: Texts::default(),
        optional: false,
        looms: Vec::new(),
        skipped: false,
        variants: Vec::new(),
    };
    if let Some(at) = entries.iter().position(|entry| entry.id == id) {
        let entry = entries.remove(at);
        entry.change.apply(&mut step.texts);
        step.optional = entry.optional;
        step.looms = entry.looms;
        step.variants = entry.variants;
    }
    step
}

/// How a loom's own wording is named in a place: by its looms, which stay readable when a house
/// adds more.
fn variant_prefix(looms: &[LoomKind]) -> String {
    let names: Vec<&str> = looms.iter().map(|kind| kind.name()).collect();
    format!("variants[{}].", names.join(","))
}
