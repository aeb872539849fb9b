//! The machine: every pair of state and ask is answered, and what is answered holds.

#![allow(clippy::unwrap_used)]

mod common;

use common::{answer_truly, ask, at, lead, small};
use endsmeet::dressing::measure::Measured;
use endsmeet::dressing::sighting::Sighting;
use endsmeet::dressing::state::Left;
use endsmeet::dressing::{
    Amendment, Answer, Ask, Choice, Dressing, Entry, Event, Look, Mood, Part, Question, Refusal,
    Task, View, decide,
};
use endsmeet::fault::cloth_spot::Sign;
use endsmeet::fault::{Fault, FaultKind, Found, ReedFault, ReedSeen, WarpSeen, WayKind};
use endsmeet::method::{Method, Stage, StepId};
use endsmeet::plan::{BatchRule, Side};
use endsmeet::quantity::{Call, Calls, Shaft};
use endsmeet::words::refusals::refusal;
use proptest::prelude::*;

fn every_ask() -> Vec<Ask> {
    vec![
        Ask::Next,
        Ask::BackOne,
        Ask::Redo,
        Ask::Uneven,
        Ask::Stuck,
        Ask::Answer(Answer::Number(1)),
        Ask::Answer(Answer::Number(-500)),
        Ask::Answer(Answer::Numbers(vec![0, 1, 0, 0])),
        Ask::Answer(Answer::Numbers(vec![0])),
        Ask::Answer(Answer::CannotTell),
        Ask::Found(Found::InHeddles(Fault::at(
            FaultKind::WrongShaft,
            Call(2),
            Shaft(4),
        ))),
        Ask::Found(Found::InHeddles(Fault::at(
            FaultKind::PositionSkipped,
            Call(7),
            Shaft(3),
        ))),
        Ask::Found(Found::InHeddles(Fault::at(
            FaultKind::WrongShaft,
            Call(2),
            Shaft(2),
        ))),
        Ask::Found(Found::InReed(ReedFault::DentSkipped, Call(5))),
        Ask::Found(Found::InReed(ReedFault::EndsCrossed, Call(24))),
        Ask::Choose(Choice::ThreadAgain),
        Ask::Choose(Choice::PutRight),
        Ask::Choose(Choice::LoomHolds),
        Ask::Choose(Choice::StepBack),
        Ask::Choose(Choice::LookAgain),
        Ask::Choose(Choice::LeaveOpen),
        Ask::Choose(Choice::Way(WayKind::OnTheSpot)),
        Ask::Choose(Choice::Way(WayKind::FromTheFault)),
        Ask::Choose(Choice::Way(WayKind::PutCountRight)),
        Ask::Choose(Choice::Way(WayKind::LeaveIt)),
        Ask::Choose(Choice::Way(WayKind::ToTheFirstEdge)),
        Ask::Choose(Choice::Way(WayKind::AmendPlan)),
        Ask::Skip,
        Ask::Count,
        Ask::TraceReed { group: 1 },
        Ask::TraceReed { group: 0 },
        Ask::ReadBack(Part::Here),
        Ask::ReadBack(Part::Batch(2)),
        Ask::ReadBack(Part::Batch(0)),
        Ask::ReadBack(Part::Whole),
        Ask::Trace { since: None },
        Ask::Trace { since: Some(1) },
        Ask::Trace { since: Some(99) },
        Ask::TakeUp,
        Ask::Answer(Answer::Numbers(Vec::new())),
        Ask::Answer(Answer::WarpSeen(WarpSeen::Shaft {
            call: Call(11),
            shaft: Some(Shaft(4)),
        })),
        Ask::Answer(Answer::WarpSeen(WarpSeen::Hanging { knot: Some(99) })),
        Ask::Answer(Answer::ReedSeen(ReedSeen::Crossed { dent: Some(1) })),
        Ask::Answer(Answer::ReedSeen(ReedSeen::EndsInDent { dent: 99, ends: 1 })),
        Ask::Choose(Choice::Trace),
        Ask::Choose(Choice::ReadBack),
        Ask::Pause,
        Ask::StopForToday,
        Ask::Opened,
        Ask::BackAtTheLoom,
        Ask::HelpWanted,
        Ask::HandsWanted,
        Ask::HelpCame,
        Ask::BrokenEnd {
            call: Some(Call(3)),
        },
        Ask::BrokenEnd {
            call: Some(Call(0)),
        },
        Ask::BrokenFloat { side: Side::Left },
        Ask::MendEnd { number: 1 },
        Ask::EndMended { number: 1 },
        Ask::Note("a remark".to_owned()),
        Ask::Note(String::new()),
        Ask::MeasuredWidth { thousandths: 5750 },
        Ask::MeasuredWidth { thousandths: 0 },
        Ask::Measured {
            what: Measured::Picks,
            thousandths: 18_000,
        },
        Ask::Measured {
            what: Measured::Woven,
            thousandths: 0,
        },
        Ask::Sight(None),
        Ask::Sight(Some(Sighting {
            sign: Some(Sign::TwoAlike),
            from: Some(Side::Right),
            whole: None,
            thousandths: Some(2_375),
            sheds: vec![1],
            complete: true,
        })),
        Ask::Choose(Choice::Suspect(0)),
        Ask::Choose(Choice::Sight),
        Ask::Amend(Amendment::BatchRule(BatchRule::Number(4))),
        Ask::Amend(Amendment::HeddlesOnHand(vec![1, 1, 1, 1])),
        Ask::Amend(Amendment::Draft("4 3 2 1".to_owned())),
        Ask::Amend(Amendment::Draft("1 2 9".to_owned())),
        Ask::Amend(Amendment::Ends(23)),
        Ask::Amend(Amendment::Ends(26)),
        Ask::Amend(Amendment::Ends(0)),
        Ask::Amend(Amendment::SleyFrom(Side::Left)),
    ]
}

/// A dressing in each stage, and in each mood that the stage can have.
fn every_state() -> Vec<(String, Dressing)> {
    let mut states = Vec::new();
    for stage in Stage::ALL {
        let mut d = Dressing::new(small(), &[]);
        lead(&mut d, |d| d.stage() == Some(stage));
        states.push((format!("{stage:?} at its start"), d.clone()));
        let mut paused = d.clone();
        ask(&mut paused, &Ask::Pause).unwrap();
        states.push((format!("{stage:?} paused"), paused));
        for _ in 0..60 {
            if d.stage() != Some(stage) {
                break;
            }
            states.extend(asked(stage, &d));
            if let View::Asking(_) = d.view() {
                states.push((format!("{stage:?} with a look open"), d.clone()));
                answer_truly(&mut d);
            } else {
                ask(&mut d, &Ask::Next).unwrap();
            }
        }
    }
    let mut ready = Dressing::new(small(), &[]);
    lead(&mut ready, |d| d.stage().is_none());
    states.push(("ready".to_owned(), ready));
    states.extend(traced());
    states
}

/// The states that a wanted look or a report leads to from here.
fn asked(stage: Stage, d: &Dressing) -> Vec<(String, Dressing)> {
    let mut states = Vec::new();
    let mut look = d.clone();
    if ask(&mut look, &Ask::Count).is_ok() {
        states.push((format!("{stage:?} with a wanted look"), look.clone()));
        let wrong = Ask::Answer(Answer::Number(1));
        let _ = ask(&mut look, &wrong);
        let _ = ask(&mut look, &wrong);
        states.push((format!("{stage:?} after two answers"), look));
    }
    let mut report = d.clone();
    if stage == Stage::Sley && ask(&mut report, &Ask::Uneven).is_ok() {
        return in_the_reed(states, report);
    }
    if ask(&mut report, &Ask::Stuck).is_ok() {
        states.push((format!("{stage:?} stuck"), report.clone()));
        ask(&mut report, &Ask::Answer(Answer::Number(2))).unwrap();
        states.push((format!("{stage:?} with the ends asked"), report.clone()));
        ask(&mut report, &Ask::Answer(Answer::Number(7))).unwrap();
        states.push((format!("{stage:?} with the heddles asked"), report.clone()));
        let mut mending = report.clone();
        ask(
            &mut mending,
            &Ask::Answer(Answer::Numbers(vec![2, 2, 1, 1])),
        )
        .unwrap();
        if ask(
            &mut mending,
            &Ask::Choose(Choice::Way(WayKind::PutCountRight)),
        )
        .is_ok()
        {
            states.push((format!("{stage:?} in a mending"), mending));
        }
        ask(&mut report, &Ask::Answer(Answer::Numbers(vec![2, 2, 2, 2]))).unwrap();
        states.push((format!("{stage:?} after the report"), report));
    }
    for (name, what) in [
        (
            "a wrong shaft found",
            Found::InHeddles(Fault::at(FaultKind::WrongShaft, Call(2), Shaft(4))),
        ),
        (
            "a skipped call found",
            Found::InHeddles(Fault::at(FaultKind::PositionSkipped, Call(7), Shaft(3))),
        ),
        (
            "a skipped dent found",
            Found::InReed(ReedFault::DentSkipped, Call(5)),
        ),
    ] {
        let mut found = d.clone();
        if ask(&mut found, &Ask::Found(what)).is_ok() {
            states.push((format!("{stage:?} with {name}"), found.clone()));
            let spot = Ask::Choose(Choice::Way(WayKind::OnTheSpot));
            let from = Ask::Choose(Choice::Way(WayKind::FromTheFault));
            if ask(&mut found, &spot).is_ok() || ask(&mut found, &from).is_ok() {
                states.push((format!("{stage:?} mending {name}"), found));
            }
        }
    }
    states
}

/// The states that a group that does not come out in the reed leads to.
fn in_the_reed(mut states: Vec<(String, Dressing)>, mut d: Dressing) -> Vec<(String, Dressing)> {
    states.push(("the ends in the reed asked".to_owned(), d.clone()));
    ask(&mut d, &Ask::Answer(Answer::Number(1))).unwrap();
    states.push(("the tape asked".to_owned(), d.clone()));
    ask(&mut d, &Ask::Answer(Answer::Number(0))).unwrap();
    states.push(("the reed traced".to_owned(), d));
    states
}

/// The states that a trace along the warp and a reading lead to.
fn traced() -> Vec<(String, Dressing)> {
    let mut d = Dressing::new(small(), &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::CountOut(view) if view.batch.number == 3),
    );
    let mut states = Vec::new();
    let mut read = d.clone();
    ask(&mut read, &Ask::ReadBack(Part::Whole)).unwrap();
    states.push(("reading".to_owned(), read.clone()));
    ask(&mut read, &Ask::Answer(Answer::Numbers(vec![1, 2, 4, 3]))).unwrap();
    states.push(("a handful read".to_owned(), read.clone()));
    ask(&mut read, &Ask::Answer(Answer::Numbers(Vec::new()))).unwrap();
    states.push(("a reading that differs".to_owned(), read.clone()));
    ask(&mut read, &Ask::Choose(Choice::Trace)).unwrap();
    states.push(("a reading traced".to_owned(), read));
    let mut off = d.clone();
    ask(&mut off, &Ask::Trace { since: Some(1) }).unwrap();
    states.push(("knots asked".to_owned(), off.clone()));
    answer_truly(&mut off);
    states.push(("ends along the warp asked".to_owned(), off.clone()));
    ask(&mut off, &Ask::Answer(Answer::Number(1))).unwrap();
    states.push(("heddles along the warp asked".to_owned(), off.clone()));
    ask(&mut off, &Ask::Answer(Answer::Numbers(vec![0, 0, 1, 0]))).unwrap();
    states.push(("the warp traced".to_owned(), off.clone()));
    ask(&mut off, &Ask::Choose(Choice::LeaveOpen)).unwrap();
    states.push(("a trace left open".to_owned(), off.clone()));
    ask(&mut off, &Ask::TakeUp).unwrap();
    states.push(("a trace taken up".to_owned(), off));
    states
}

#[test]
fn every_pair_of_state_and_ask_does_something_or_says_the_next_move() {
    let method = Method::embedded();
    let (mut done, mut refused) = (0, 0);
    for (name, d) in every_state() {
        for what in every_ask() {
            let when = at(d.last().map_or(0, |last| last.elapsed_ms) + 2000);
            match decide(&d, &what, when) {
                Ok(entry) => {
                    done += 1;
                    assert_eq!(d.accepts(&entry), Ok(()), "{name}: {what:?}");
                    let mut after = d.clone();
                    after.apply(&entry);
                    assert_eq!(after.check(), Ok(()), "{name}: {what:?}");
                    let _ = after.view();
                }
                Err(why) => {
                    refused += 1;
                    let said = refusal(&why, &method);
                    assert!(said.ends_with('.'), "{name}: {what:?}: {said}");
                    let sentences = said.matches(['.', ':', ';']).count();
                    assert!(sentences >= 2, "no next move in: {said}");
                }
            }
        }
    }
    assert!(
        done > 500 && refused > 500,
        "{done} done, {refused} refused"
    );
}

#[test]
fn stages_come_in_their_order_and_end_ready() {
    let mut d = Dressing::new(small(), &[]);
    let mut seen = vec![d.stage()];
    lead(&mut d, |d| d.stage().is_none());
    let mut again = Dressing::new(small(), &[]);
    while again.stage().is_some() {
        lead_one(&mut again);
        if seen.last() != Some(&again.stage()) {
            seen.push(again.stage());
        }
    }
    let mut wanted: Vec<Option<Stage>> = Stage::ALL.into_iter().map(Some).collect();
    wanted.push(None);
    assert_eq!(seen, wanted);
    assert!(matches!(d.view(), View::Ready(ready) if ready.ends == 26 && ready.left_open == 0));
}

fn lead_one(d: &mut Dressing) {
    if let View::Asking(_) = d.view() {
        answer_truly(d);
    } else {
        ask(d, &Ask::Next).unwrap();
    }
}

fn in_first_batch() -> Dressing {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Call(_)));
    d
}

#[test]
fn a_handful_marks_just_its_ends() {
    let mut d = in_first_batch();
    ask(&mut d, &Ask::Next).unwrap();
    assert_eq!(d.ledger().of(Task::Threaded).count(), 4);
    assert_eq!(d.empty_heddles(), Some(vec![9, 9, 9, 9]));
    ask(&mut d, &Ask::BackOne).unwrap();
    assert_eq!(d.ledger().of(Task::Threaded).count(), 0);
    assert_eq!(d.empty_heddles(), Some(vec![10, 10, 10, 10]));
    ask(&mut d, &Ask::Redo).unwrap();
    assert_eq!(d.ledger().of(Task::Threaded).count(), 4);
    assert_eq!(d.empty_heddles(), Some(vec![9, 9, 9, 9]));
}

#[test]
fn a_new_press_ends_redo() {
    let mut d = in_first_batch();
    ask(&mut d, &Ask::Next).unwrap();
    ask(&mut d, &Ask::BackOne).unwrap();
    ask(&mut d, &Ask::Next).unwrap();
    assert_eq!(ask(&mut d, &Ask::Redo), Err(Refusal::NothingToRedo));
}

#[test]
fn a_reflex_press_never_passes_a_look() {
    let mut d = in_first_batch();
    ask(&mut d, &Ask::Next).unwrap();
    ask(&mut d, &Ask::Opened).unwrap();
    assert_eq!(
        ask(&mut d, &Ask::Next),
        Err(Refusal::NotLooked(Look::LastShaft))
    );
    assert_eq!(
        ask(&mut d, &Ask::BackOne),
        Err(Refusal::LookFirst(Look::LastShaft))
    );
    ask(&mut d, &Ask::Answer(Answer::Number(4))).unwrap();
    assert_eq!(*d.mood(), Mood::Working);
    // the look is a fact and stays; one back takes the threading back
    ask(&mut d, &Ask::BackOne).unwrap();
    assert_eq!(d.ledger().of(Task::Threaded).count(), 0);
}

#[test]
fn a_look_is_asked_again_and_two_equal_answers_are_a_mismatch() {
    let mut d = in_first_batch();
    ask(&mut d, &Ask::Next).unwrap();
    ask(&mut d, &Ask::Opened).unwrap();
    for (n, open) in [(1, true), (2, true), (1, false)] {
        ask(&mut d, &Ask::Answer(Answer::Number(n))).unwrap();
        let asking = matches!(d.mood(), Mood::Asking(Question::Look { .. }));
        assert_eq!(asking, open, "after {n}");
    }
    assert!(matches!(d.mood(), Mood::Disagreeing(_)));
}

#[test]
fn the_record_follows_the_loom_into_a_half_threaded_handful() {
    let mut d = in_first_batch();
    ask(&mut d, &Ask::Next).unwrap();
    ask(&mut d, &Ask::Opened).unwrap();
    for _ in 0..2 {
        ask(&mut d, &Ask::Answer(Answer::Number(2))).unwrap();
    }
    ask(&mut d, &Ask::Choose(Choice::LoomHolds)).unwrap();
    assert_eq!(d.ledger().of(Task::Threaded).count(), 6);
    let View::Call(call) = d.view() else {
        panic!("{:?}", d.view())
    };
    assert_eq!(call.calls, Calls::new(7, 8).unwrap());
}

#[test]
fn a_passed_over_look_stays_on_record_through_an_undo() {
    let mut d = in_first_batch();
    ask(&mut d, &Ask::Next).unwrap();
    ask(&mut d, &Ask::Opened).unwrap();
    ask(&mut d, &Ask::Skip).unwrap();
    assert_eq!(d.left_open(), 1);
    ask(&mut d, &Ask::BackOne).unwrap();
    assert_eq!(d.left_open(), 1);
    assert!(matches!(d.record().left[0].what, Left::Question(_)));
}

fn at_batch_end() -> Dressing {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::UsedUp(_)));
    d
}

#[test]
fn a_report_that_agrees_leads_back_to_the_count() {
    let mut d = at_batch_end();
    ask(&mut d, &Ask::Uneven).unwrap();
    ask(&mut d, &Ask::Answer(Answer::Number(0))).unwrap();
    ask(&mut d, &Ask::Answer(Answer::Numbers(vec![0; 4]))).unwrap();
    assert!(matches!(d.view(), View::UsedUp(_)));
}

#[test]
fn a_batch_that_is_drawn_out_is_counted_out_again() {
    let mut d = at_batch_end();
    ask(&mut d, &Ask::Uneven).unwrap();
    ask(&mut d, &Ask::Answer(Answer::Number(1))).unwrap();
    ask(&mut d, &Ask::Answer(Answer::Numbers(vec![0, 1, 0, 0]))).unwrap();
    assert_eq!(ask(&mut d, &Ask::Next), Err(Refusal::WayOutFirst));
    ask(&mut d, &Ask::Choose(Choice::ThreadAgain)).unwrap();
    assert!(matches!(d.view(), View::CountOut(view) if view.batch.number == 1));
    assert_eq!(d.ledger().of(Task::Threaded).count(), 0);
    assert_eq!(d.record().caught, 1);
}

#[test]
fn a_mismatch_that_is_left_open_shows_for_ever() {
    let mut d = at_batch_end();
    ask(&mut d, &Ask::Uneven).unwrap();
    ask(&mut d, &Ask::Answer(Answer::Number(1))).unwrap();
    ask(&mut d, &Ask::Answer(Answer::Numbers(vec![0, 1, 0, 0]))).unwrap();
    ask(&mut d, &Ask::Choose(Choice::LeaveOpen)).unwrap();
    assert_eq!(d.left_open(), 1);
    assert!(matches!(d.view(), View::CountOut(view) if view.batch.number == 2));
}

#[test]
fn cut_loops_are_looked_at_before_and_cannot_be_taken_back_by_a_press() {
    let mut d = Dressing::new(small(), &[]);
    let cuts = |d: &Dressing| d.current().is_some_and(|key| key.id == StepId::CutLoops);
    lead(&mut d, cuts);
    // the look comes with the last knot, before any page says to cut
    assert!(matches!(
        d.mood(),
        Mood::Asking(Question::Look {
            look: Look::GroupsKnotted,
            ..
        })
    ));
    answer_truly(&mut d);
    assert!(matches!(d.view(), View::Group(view) if view.task == Task::Cut));
    ask(&mut d, &Ask::Next).unwrap();
    assert_eq!(d.ledger().of(Task::Cut).count(), 4);
    ask(&mut d, &Ask::BackOne).unwrap();
    assert!(matches!(
        d.mood(),
        Mood::Asking(Question::Look {
            look: Look::GroupsCut,
            ..
        })
    ));
    // she finds none cut: the press was early, and the record follows
    ask(&mut d, &Ask::Answer(Answer::Number(0))).unwrap();
    assert_eq!(d.ledger().of(Task::Cut).count(), 0);
}

#[test]
fn a_long_silence_puts_a_look_before_the_press_counts() {
    let mut d = in_first_batch();
    ask(&mut d, &Ask::Next).unwrap();
    let late = at(d.last().unwrap().elapsed_ms + 3 * 3600 * 1000);
    let entry = decide(&d, &Ask::Next, late).unwrap();
    d.apply(&entry);
    assert_eq!(d.ledger().of(Task::Threaded).count(), 4);
    assert!(matches!(
        d.mood(),
        Mood::Asking(Question::Look {
            look: Look::LastShaft,
            ..
        })
    ));
}

#[test]
fn an_amended_batch_rule_holds_from_the_next_batch_on_and_is_taken_back_as_one() {
    let mut d = in_first_batch();
    let before = d.plan().batches.clone();
    ask(
        &mut d,
        &Ask::Amend(Amendment::BatchRule(BatchRule::Number(4))),
    )
    .unwrap();
    assert_eq!(d.revision(), 1);
    assert_eq!(d.plan().batches[0], before[0]);
    let first_new = &d.plan().batches[1];
    assert_eq!((first_new.calls.first.0, first_new.calls.len()), (9, 4));
    ask(&mut d, &Ask::BackOne).unwrap();
    assert_eq!(d.plan().batches, before);
    ask(&mut d, &Ask::Redo).unwrap();
    assert_eq!(d.plan().batches[1].calls.len(), 4);
    let same = Ask::Amend(Amendment::BatchRule(BatchRule::Number(4)));
    assert_eq!(ask(&mut d, &same), Err(Refusal::ChangesNothing));
}

#[test]
fn an_end_short_or_found_changes_the_rest_and_the_ledger_adds_up() {
    for (ends, last_batch) in [(22, 6), (26, 8)] {
        let mut d = in_first_batch();
        ask(&mut d, &Ask::Amend(Amendment::Ends(ends))).unwrap();
        assert_eq!(d.calls(), ends);
        for task in [Task::Wound, Task::Spread, Task::Knotted, Task::Cut] {
            assert_eq!(d.ledger().of(task).count(), ends, "{task:?}");
        }
        let batches = &d.plan().batches;
        let total: u32 = batches.iter().map(|batch| batch.calls.len()).sum();
        assert_eq!((total, batches[2].calls.len()), (ends, last_batch));
        ask(&mut d, &Ask::BackOne).unwrap();
        assert_eq!((d.calls(), d.ledger().of(Task::Cut).count()), (24, 24));
        ask(&mut d, &Ask::Redo).unwrap();
        lead(&mut d, |d| d.stage().is_none());
        for task in Task::ALL {
            assert_eq!(d.ledger().of(task).count(), ends, "{task:?}");
        }
    }
}

#[test]
fn another_draft_holds_from_the_next_batch_on() {
    let mut d = in_first_batch();
    ask(&mut d, &Ask::Amend(Amendment::Draft("4 3 2 1".to_owned()))).unwrap();
    let shafts: Vec<u8> = d.plan().threading.iter().map(|shaft| shaft.0).collect();
    assert_eq!(shafts[..12], [1, 2, 3, 4, 1, 2, 3, 4, 4, 3, 2, 1]);
    let lacking = Ask::Amend(Amendment::Draft("1 2 9".to_owned()));
    assert!(matches!(
        ask(&mut d, &lacking),
        Err(Refusal::PlanDoesNotFit(_))
    ));
}

#[test]
fn sleying_from_the_other_side_half_way_leaves_no_group_out() {
    let mut d = Dressing::new(small(), &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::Sley(view) if view.nth == 3),
    );
    ask(&mut d, &Ask::Amend(Amendment::SleyFrom(Side::Left))).unwrap();
    let View::Sley(view) = d.view() else {
        panic!("{:?}", d.view())
    };
    assert_eq!(view.group.number, 6, "the last group comes next");
    lead(&mut d, |d| d.stage() == Some(Stage::TieOn));
    assert_eq!(d.ledger().of(Task::Sleyed).count(), 24);
}

#[test]
fn winding_is_left_out_as_a_whole_and_comes_back_as_a_whole() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| d.stage() == Some(Stage::Wind));
    ask(&mut d, &Ask::Skip).unwrap();
    assert_eq!(d.stage(), Some(Stage::Spread));
    ask(&mut d, &Ask::BackOne).unwrap();
    assert_eq!(d.stage(), Some(Stage::Wind));
    assert_eq!(d.ledger().of(Task::Wound).count(), 0);
}

#[test]
fn broken_ends_must_be_mended_before_weaving() {
    let mut d = in_first_batch();
    ask(
        &mut d,
        &Ask::BrokenEnd {
            call: Some(Call(2)),
        },
    )
    .unwrap();
    lead(&mut d, |d| {
        d.current().is_some_and(|key| key.id == StepId::MendEnds)
    });
    assert!(matches!(d.view(), View::Ends(ends) if !ends.broken[0].mended));
    let done = |d: &Dressing| d.current().is_none_or(|key| key.id != StepId::MendEnds);
    ask(&mut d, &Ask::Next).unwrap();
    assert!(matches!(d.view(), View::Mending(move_now) if move_now.broken.is_some()));
    assert!(!done(&d));
    let mut said = d.clone();
    for _ in 0..20 {
        if *d.mood() == Mood::Working {
            break;
        }
        ask(&mut d, &Ask::Next).unwrap();
    }
    assert!(
        d.record().broken[0].mended && !done(&d),
        "looked at once more"
    );
    ask(&mut d, &Ask::Next).unwrap();
    assert!(done(&d));
    // taken back move by move, it is open again
    ask(&mut said, &Ask::BackOne).unwrap();
    ask(&mut said, &Ask::EndMended { number: 1 }).unwrap();
    ask(&mut said, &Ask::Next).unwrap();
    assert!(done(&said));
}

#[test]
fn a_mended_end_is_broken_again_when_its_last_move_is_taken_back() {
    let mut d = in_first_batch();
    ask(&mut d, &Ask::BrokenFloat { side: Side::Left }).unwrap();
    ask(&mut d, &Ask::MendEnd { number: 1 }).unwrap();
    assert_eq!(ask(&mut d, &Ask::Uneven), Err(Refusal::MendingFirst));
    while *d.mood() != Mood::Working {
        ask(&mut d, &Ask::Next).unwrap();
    }
    assert!(d.record().broken[0].mended);
    ask(&mut d, &Ask::BackOne).unwrap();
    assert!(!d.record().broken[0].mended);
    assert!(matches!(d.mood(), Mood::Mending(_)));
    ask(&mut d, &Ask::Redo).unwrap();
    assert!(d.record().broken[0].mended);
}

#[test]
fn an_entry_that_cannot_happen_is_not_admitted() {
    let d = in_first_batch();
    let made_up = |events: Vec<Event>| {
        let entry = Entry {
            number: d.entries() + 1,
            when: at(0),
            events,
        };
        d.clone().admit(&entry).is_err()
    };
    let calls = Calls::new(1, 8).unwrap();
    let marked = |task, calls| Event::Marked {
        task,
        calls,
        revision: 0,
    };
    assert!(made_up(vec![]));
    assert!(
        made_up(vec![marked(Task::Sleyed, calls)]),
        "sleyed before threaded"
    );
    assert!(
        made_up(vec![marked(Task::CountedOut, calls)]),
        "counted out twice"
    );
    assert!(
        made_up(vec![marked(Task::Threaded, Calls::new(20, 99).unwrap())]),
        "ends not there"
    );
    assert!(
        made_up(vec![Event::Marked {
            task: Task::Threaded,
            calls,
            revision: 7
        }]),
        "other plan"
    );
    assert!(made_up(vec![Event::Undone { entry: 1 }]), "not the last");
    assert!(made_up(vec![Event::Settled]), "nothing open");
    assert!(
        made_up(vec![Event::Unmarked {
            task: Task::Wound,
            calls
        }]),
        "others stand on it"
    );
    let late = Entry {
        number: 99,
        when: at(0),
        events: vec![Event::Paused],
    };
    assert!(d.clone().admit(&late).is_err(), "out of order");
}

#[test]
fn what_may_be_left_out_is_what_the_method_calls_optional() {
    let method = Method::embedded();
    let mut d = Dressing::new(small(), &[]);
    let mut tried = 0;
    while let Some(key) = d.current() {
        if let View::Step(_) = d.view()
            && key.id.stage() != Stage::Wind
        {
            let mut skipped = d.clone();
            let left_out = ask(&mut skipped, &Ask::Skip).is_ok();
            assert_eq!(left_out, method.step(key.id).optional, "{:?}", key.id);
            tried += 1;
        }
        lead_one(&mut d);
    }
    assert!(tried > 25, "{tried}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Random asks: the invariants hold, replay gives the same, and undoing all gives the start.
    #[test]
    fn random_asks_replay_the_same_and_can_all_be_taken_back(picks in prop::collection::vec((0usize..51, any::<bool>()), 1..300)) {
        let mut d = Dressing::new(small(), &[]);
        let mut entries = Vec::new();
        let asks = every_ask();
        for (pick, onwards) in picks {
            let what = if onwards { Ask::Next } else { asks[pick].clone() };
            let when = at(d.last().map_or(0, |last| last.elapsed_ms) + 4000);
            if let Ok(entry) = decide(&d, &what, when) {
                prop_assert_eq!(d.accepts(&entry), Ok(()), "{:?}: {:?}", what, entry.events);
                d.apply(&entry);
                prop_assert_eq!(d.check(), Ok(()));
                entries.push(entry);
            }
        }
        let mut again = Dressing::new(small(), &[]);
        for entry in &entries {
            prop_assert_eq!(again.admit(entry), Ok(()));
        }
        prop_assert_eq!(again.view(), d.view());
        prop_assert_eq!(again.about(), d.about());
        prop_assert_eq!(again.ledger(), d.ledger());
    }
}

/// Ends that share a heddle at a doubled edge count once in heddles (Wolfensberger 1921, pp. 76-85), and
/// are no fault.
#[test]
fn a_doubled_edge_comes_out_even_at_every_call_and_is_no_fault() {
    let plan = common::plan_from(&common::SMALL.replacen(
        r#""batch": 8,"#,
        r#""batch": 8, "edges": {"ends": 4, "doubled": "heddle"},"#,
        1,
    ));
    assert_eq!(plan.doubled.first(), Some(&Call(2)));
    let mut d = Dressing::new(plan, &[]);
    lead(&mut d, |d| matches!(d.view(), View::Call(_)));
    let batch = d.next_batch().unwrap().clone();
    for made in 0..=batch.calls.len() {
        let mut left: Vec<i64> = batch.heddles.iter().map(|&n| i64::from(n)).collect();
        let done = (1..=made).filter(|call| !d.plan().doubled.contains(&Call(*call)));
        for call in done {
            left[usize::from(d.plan().threading[call as usize - 1].0) - 1] -= 1;
        }
        let mut stuck = d.clone();
        let ends = i64::from(batch.calls.len() - made);
        ask(&mut stuck, &Ask::Stuck).unwrap();
        ask(&mut stuck, &Ask::Answer(Answer::Number(i64::from(made)))).unwrap();
        ask(&mut stuck, &Ask::Answer(Answer::Number(ends))).unwrap();
        ask(&mut stuck, &Ask::Answer(Answer::Numbers(left))).unwrap();
        assert_eq!(*stuck.mood(), Mood::Working, "even after {made} calls");
    }
    ask(&mut d, &Ask::Next).unwrap();
    let double = |call| {
        Ask::Found(Found::InHeddles(Fault::at(
            FaultKind::EndsDoubled,
            Call(call),
            Shaft(1),
        )))
    };
    for shared in [1, 2] {
        let refused = ask(&mut d, &double(shared));
        assert!(
            matches!(refused, Err(Refusal::CannotBeThere(_))),
            "{refused:?}"
        );
    }
}
