//! Recording what happened. Owns `apply`, undo and redo; decides nothing and refuses nothing.

use super::ask::{Amendment, Choice};
use super::event::{Entry, Event, Look, Mismatch, Question, Reason, StepKey};
use super::history::{Before, Past};
use super::ledger::{Piece, Task};
use super::measure::Measured;
use super::notes::Note;
use super::state::{Dressing, Left, Mending, Mood, Rest, bit, open_look};
use crate::fault::LookKind;
use crate::method::{Stage, StepId};
use crate::plan::Plan;
use crate::quantity::{Call, Calls};
use std::sync::Arc;

impl Dressing {
    /// Records one entry. Decides nothing: the entry comes from `decide`, or was admitted.
    pub fn apply(&mut self, entry: &Entry) {
        let step = self.current().map(|key| key.id);
        let stage = step.map_or(Stage::Try, StepId::stage);
        let work = is_work(&entry.events, &self.now.mood);
        let past = work.then(|| {
            let before = Before::of(&self.now, self.past.last().map(Past::before));
            Past::new(entry.number, &entry.events, before)
        });
        let plans = self.plans.len();
        let mut pieces = Vec::new();
        for event in &entry.events {
            self.apply_event(entry.number, stage, event, &mut pieces);
        }
        self.pace.add(self.last, entry, stage, step);
        if let Some(mut past) = past {
            past.plans = (self.plans.len() - plans) as u32;
            past.keep_pieces(&pieces);
            self.past.push(past);
            self.future.clear();
            self.last_work = Some(entry.when);
        }
        self.entries = entry.number;
        self.last = Some(entry.when);
        debug_assert_eq!(self.check(), Ok(()), "after entry {}", entry.number);
    }

    pub(super) fn apply_event(
        &mut self,
        entry: u64,
        stage: Stage,
        event: &Event,
        pieces: &mut Vec<(Task, Piece)>,
    ) {
        match event {
            Event::StepDone(key) => self.step_done(*key),
            Event::StepLeftOut(key) => {
                self.now.steps |= bit(key.id);
                self.leave(entry, stage, Left::Step(key.id));
            }
            Event::WindLeftOut => self.wind_left_out(pieces),
            Event::Marked {
                task,
                calls,
                revision,
            } => self.mark(*task, *calls, Some(*revision), pieces),
            Event::Unmarked { task, calls } => self.mark(*task, *calls, None, pieces),
            Event::Put(question) => {
                self.now.last_look = asked_at_group_end(question).or(self.now.last_look);
                self.now.mood = Mood::Asking(question.clone());
            }
            Event::Answered(answer) => self.answered(answer),
            Event::PassedOver => {
                self.looked_before();
                self.left_unclear();
                if let Mood::Asking(question) = std::mem::take(&mut self.now.mood) {
                    self.leave(entry, stage, Left::Question(question));
                }
            }
            Event::Settled => {
                self.looked_before();
                let asked = std::mem::take(&mut self.now.mood);
                let told = matches!(
                    asked,
                    Mood::Asking(Question::Sighting(_) | Question::Measure { .. })
                );
                self.now.clean_looks += u32::from(!told);
            }
            Event::Disagreed(mismatch) => {
                // a trace that goes on inside one batch is the same miscount
                let asked = matches!(self.now.mood, Mood::Asking(_));
                self.record.caught += u32::from(asked);
                self.now.clean_looks = 0;
                self.now.mood = Mood::Disagreeing(mismatch.clone());
            }
            Event::Chose(choice) => {
                self.looked_before();
                if *choice == Choice::LeaveOpen {
                    self.left_unclear();
                }
                if let Mood::Disagreeing(mismatch) = std::mem::take(&mut self.now.mood)
                    && *choice == Choice::LeaveOpen
                {
                    self.leave(entry, stage, Left::Mismatch(mismatch));
                }
            }
            Event::MendBegun { batch, way, moves } => {
                self.now.mood = Mood::Mending(Mending {
                    batch: *batch,
                    way: *way,
                    moves: moves.clone(),
                    made: 0,
                    broken: None,
                });
            }
            Event::MoveMade { number } => {
                if let Mood::Mending(mending) = &mut self.now.mood {
                    mending.made = *number;
                }
            }
            Event::Mended => self.now.mood = Mood::Working,
            Event::Undone { .. } => self.undo(),
            Event::Redone { .. } => self.redo(entry, stage),
            Event::Paused => self.rest = Some(Rest::Paused),
            Event::Stopped => self.rest = Some(Rest::Stopped),
            Event::WentOn => self.rest = None,
            Event::Opened => {
                self.rest = None;
                self.record.interruptions += 1;
            }
            Event::Interrupted { .. } => self.record.interruptions += 1,
            Event::HelpWanted => self.record.help_wanted = true,
            Event::HandsWanted => self.record.hands_wanted = true,
            Event::HelpCame => {
                self.record.help_wanted = false;
                self.record.hands_wanted = false;
            }
            Event::TakenUp { entry } => self.take_up(*entry),
            Event::BrokenEnd { call } => self.broke(*call, None, stage),
            Event::BrokenFloat { side } => self.broke(None, Some(*side), stage),
            Event::EndMendBegun { number, moves } => {
                let call = self.record.broken.iter().find(|end| end.number == *number);
                let call = call.and_then(|end| end.call).unwrap_or(Call(1));
                self.now.mood = Mood::Mending(Mending {
                    batch: Calls {
                        first: call,
                        last: call,
                    },
                    way: crate::fault::WayKind::NewEnd,
                    moves: moves.clone(),
                    made: 0,
                    broken: Some(*number),
                });
            }
            Event::EndMended { number } => self.set_mended(*number, true),
            Event::Note(text) => {
                let note = Note::at(self.current(), stage, text);
                self.record.notes.push(note);
            }
            Event::MeasuredWidth { thousandths } => {
                self.record.widths.push(*thousandths);
                self.record.measures.push((Measured::Reed, *thousandths));
            }
            Event::Measured { what, thousandths } => {
                self.record.measures.push((*what, *thousandths));
            }
            Event::Amended {
                revision,
                from,
                change,
            } => {
                if let Ok(plan) = super::amend::amended(self.plan(), *from, change) {
                    self.plans.truncate(*revision as usize);
                    self.bundle_ends.truncate(*revision as usize);
                    self.bundle_ends.push(running_ends(&plan));
                    self.plans.push(Arc::new(plan));
                    self.now.revision = *revision;
                    if let Amendment::Stands { .. } = change {
                        self.fill_anew();
                    }
                }
            }
        }
    }

    /// A look before a step of no return is asked once for each time that the step is come to.
    fn looked_before(&mut self) {
        let (look, reason) = match &self.now.mood {
            Mood::Asking(Question::Look { look, reason, .. })
            | Mood::Disagreeing(Mismatch::Look { look, reason, .. }) => (*look, *reason),
            _ => return,
        };
        self.now.looked_before |= match (look, reason) {
            (Look::GroupsKnotted, Reason::NoReturn) => bit(StepId::CutLoops),
            (Look::ShedsClean, Reason::NoReturn) => bit(StepId::SticksOut),
            _ => 0,
        };
    }

    /// A shed whose look is passed over or left open does not count as clean.
    pub(super) fn left_unclear(&mut self) {
        if let Mood::Asking(Question::Look { reason, .. })
        | Mood::Disagreeing(Mismatch::Look { reason, .. }) = &self.now.mood
            && *reason == Reason::ShedOpen
        {
            self.now.unclear += 1;
        }
    }

    fn step_done(&mut self, key: StepKey) {
        match key.id {
            StepId::BeamTurn if key.number.is_some() => self.now.turns += 1,
            StepId::OpenShed => self.now.sheds += 1,
            StepId::Header if key.number.is_some() => self.now.header += 1,
            StepId::FirstPicks if key.number.is_some() => self.now.picks += 1,
            // the last treadle ends the step, so that nothing is worked out for it again
            StepId::TieUp
                if key
                    .number
                    .is_some_and(|n| n < self.plan().treadles_to_tie()) =>
            {
                self.now.tied += 1;
            }
            id => self.now.steps |= bit(id),
        }
    }

    fn wind_left_out(&mut self, pieces: &mut Vec<(Task, Piece)>) {
        for id in StepId::ALL {
            if id.stage() == Stage::Wind {
                self.now.steps |= bit(id);
            }
        }
        if let Some(all) = Calls::new(1, self.calls()) {
            self.mark(Task::Wound, all, Some(self.now.revision), pieces);
        }
    }

    fn mark(
        &mut self,
        task: Task,
        calls: Calls,
        mark: Option<u32>,
        pieces: &mut Vec<(Task, Piece)>,
    ) {
        let runs = self.ledger.of_mut(task);
        let before = runs.pieces(calls);
        runs.set(calls, mark);
        if task == Task::Threaded {
            for &(piece, had) in &before {
                self.fill(piece, had.is_some(), mark.is_some());
            }
        }
        pieces.extend(before.into_iter().map(|piece| (task, piece)));
    }

    /// Heddles on each shaft follow the ends; an end that shares a heddle fills none of its own.
    fn fill(&mut self, piece: Calls, had: bool, has: bool) {
        if had == has {
            return;
        }
        let plan = Arc::clone(&self.plans[self.now.revision as usize]);
        let filled = Arc::make_mut(&mut self.now.filled);
        for call in piece.first.0..=piece.last.0 {
            if plan.doubled.binary_search(&Call(call)).is_ok() {
                continue;
            }
            let shaft = plan.threading[call as usize - 1];
            let filled = &mut filled[usize::from(shaft.0) - 1];
            *filled = if has { *filled + 1 } else { *filled - 1 };
        }
    }

    /// Heddles on each shaft counted again where the plan now has other shafts for threaded ends.
    fn fill_anew(&mut self) {
        let threaded = self.ledger.of(Task::Threaded).stretches();
        Arc::make_mut(&mut self.now.filled).fill(0);
        for calls in threaded {
            self.fill(calls, false, true);
        }
    }

    fn answered(&mut self, answer: &super::ask::Answer) {
        use super::ask::Answer;
        match (&mut self.now.mood, answer) {
            (Mood::Asking(Question::Look { answers, .. }), Answer::Number(n)) => answers.push(*n),
            (Mood::Asking(Question::Look { answers, .. }), Answer::Numbers(list)) => {
                answers.extend(list);
            }
            (Mood::Disagreeing(Mismatch::Warp { seen, .. }), Answer::WarpSeen(look)) => {
                seen.push(*look);
            }
            (Mood::Disagreeing(Mismatch::Reed { seen, .. }), Answer::ReedSeen(look)) => {
                seen.push(*look);
            }
            (Mood::Disagreeing(Mismatch::Batch { seen, .. }), Answer::Seen(look)) => {
                seen.push(look.clone());
            }
            _ => {}
        }
    }
}

/// The kind of a look at a group's end, so that the next one is of another.
fn asked_at_group_end(question: &Question) -> Option<LookKind> {
    match question {
        Question::Look {
            look,
            reason: Reason::GroupEnd,
            ..
        } => match look {
            Look::Together { .. } => Some(LookKind::NeighboursTogether),
            Look::ReadBack { .. } => Some(LookKind::ReadBack),
            _ => Some(LookKind::ShaftOfHeddle),
        },
        _ => None,
    }
}

/// Whether an entry is work that can be taken back. Facts about the world (the answer to a look, a
/// return, a note) are not: taking them back would pass a look.
pub(super) fn is_work(events: &[Event], mood: &Mood) -> bool {
    // a handful that was read can be typed again: its look stays open, so nothing is passed by it
    let reading = |look: Look| matches!(look, Look::ReadBack { .. });
    let looking = open_look(mood).is_some_and(|look| !reading(look));
    let led = events
        .iter()
        .any(|event| matches!(event, Event::MoveMade { .. }));
    let fact = |event: &Event| match event {
        Event::Undone { .. }
        | Event::Redone { .. }
        | Event::Opened
        | Event::Interrupted { .. }
        | Event::Paused
        | Event::Stopped
        | Event::HelpWanted
        | Event::HandsWanted
        | Event::HelpCame
        | Event::BrokenEnd { .. }
        | Event::BrokenFloat { .. }
        | Event::Note(_)
        | Event::MeasuredWidth { .. }
        | Event::Measured { .. } => true,
        Event::Answered(_) => looking,
        Event::PassedOver => open_look(mood).is_some(),
        // said of an end that was mended without being led; led, it is the last move
        Event::EndMended { .. } => !led,
        Event::StepDone(_)
        | Event::StepLeftOut(_)
        | Event::WindLeftOut
        | Event::Marked { .. }
        | Event::Unmarked { .. }
        | Event::Put(_)
        | Event::Settled
        | Event::Disagreed(_)
        | Event::TakenUp { .. }
        | Event::Chose(_)
        | Event::MendBegun { .. }
        | Event::EndMendBegun { .. }
        | Event::MoveMade { .. }
        | Event::Mended
        | Event::WentOn
        | Event::Amended { .. } => false,
    };
    !events.iter().any(fact) && events.iter().any(|event| *event != Event::WentOn)
}

pub(super) fn running_ends(plan: &Plan) -> Arc<[u32]> {
    let sum = |sum: &mut u32, bundle: &crate::plan::Bundle| {
        *sum += bundle.calls.len();
        Some(*sum)
    };
    plan.bundles.iter().scan(0, sum).collect()
}
