//! A house's own wording laid over a method. Owns what a house may do: reword any text, leave out
//! optional steps; it never adds, moves or renames one.

use super::fault::{MethodFault, Owner, Place};
use super::read::{Entries, StageEntry, StepEntry, read};
use super::source::Source;
use super::step::Step;
use super::{Method, Stage, StepId, check};

/// Steps that only make sense together: where one is left out, so is the other.
const PAIRS: [(StepId, StepId); 1] = [(StepId::RodSlings, StepId::SlingsOff)];

impl Method {
    /// This method in the words of a house's file.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with the file, or with the method as it would then read.
    pub fn house(base: &Self, json: &str) -> Result<Self, Vec<MethodFault>> {
        let (entries, mut faults) = read(json, Source::House).map_err(|fault| vec![fault])?;
        faults.extend(repeated(&entries));
        let mut method = base.clone();
        if entries.name.is_none() {
            let place = Place {
                owner: Owner::File,
                field: "name".to_owned(),
            };
            faults.push(MethodFault::Missing { place });
        }
        reword(&mut method.name, entries.name);
        reword(&mut method.out_of_scope, entries.out_of_scope);
        reword(&mut method.defers, entries.defers);
        for entry in entries.stages {
            method.reword_stage(entry);
        }
        for entry in entries.steps {
            faults.extend(method.reword_step(entry));
        }
        faults.extend(half_skipped(&method));
        faults.extend(check(&method));
        if faults.is_empty() {
            Ok(method)
        } else {
            Err(faults)
        }
    }

    fn reword_stage(&mut self, entry: StageEntry) {
        let stage = &mut self.stages[entry.id as usize];
        reword(&mut stage.title, entry.title);
        reword(&mut stage.aim, entry.aim);
        reword(&mut stage.far, entry.far);
    }

    fn reword_step(&mut self, entry: StepEntry) -> Option<MethodFault> {
        let step = &mut self.steps[entry.id as usize];
        entry.change.apply(&mut step.texts);
        // A later wording lies over an earlier one, so the house's own comes last.
        step.variants.extend(entry.variants);
        if entry.skip && !step.optional {
            return Some(MethodFault::NotOptional {
                owner: Owner::Step(step.id),
            });
        }
        step.skipped = entry.skip;
        None
    }
}

fn reword(text: &mut String, new: Option<String>) {
    if let Some(new) = new {
        *text = new;
    }
}

fn repeated(entries: &Entries) -> Vec<MethodFault> {
    let stages = Stage::ALL
        .into_iter()
        .filter(|id| {
            entries
                .stages
                .iter()
                .filter(|entry| entry.id == *id)
                .count()
                > 1
        })
        .map(Owner::Stage);
    let steps = StepId::ALL
        .into_iter()
        .filter(|id| entries.steps.iter().filter(|entry| entry.id == *id).count() > 1)
        .map(Owner::Step);
    stages
        .chain(steps)
        .map(|owner| MethodFault::IdTwice { owner })
        .collect()
}

fn half_skipped(method: &Method) -> Vec<MethodFault> {
    let half = |(one, other): (StepId, StepId)| {
        let (one, other) = (method.step(one), method.step(other));
        let (skipped, kept): (&Step, &Step) = match (one.skipped, other.skipped) {
            (true, false) => (one, other),
            (false, true) => (other, one),
            (true, true) | (false, false) => return None,
        };
        Some(MethodFault::HalfSkipped {
            skipped: Owner::Step(skipped.id),
            kept: Owner::Step(kept.id),
        })
    };
    PAIRS.into_iter().filter_map(half).collect()
}
