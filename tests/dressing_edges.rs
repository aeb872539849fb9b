//! Edges of a dressing that long runs of presses seldom reach: what is offered where work stands half-way,
//! which way round a reed sleyed from the other side is numbered, what is counted from which end, and what
//! an entry that does not belong is told.

#![allow(clippy::unwrap_used)]

mod common;

use common::{SMALL, answer_truly, ask, at, lead, plan_from, small};
use endsmeet::dressing::account::account;
use endsmeet::dressing::report::{ReportPart, Said};
use endsmeet::dressing::sighting::Sighting;
use endsmeet::dressing::view::{Disagreeing, FromMiddle};
use endsmeet::dressing::{
    Answer, Ask, CannotHappen, Choice, Dressing, Entry, Event, Mismatch, Mood, Part, Refusal, Task,
    View, decide,
};
use endsmeet::fault::{Fault, FaultKind, Found, Move, NewEnd, ReedFault, ReedLook, ReedSeen, Way};
use endsmeet::method::Stage;
use endsmeet::plan::{Side, Units};
use endsmeet::quantity::{Call, Shaft};

/// The small warp, threaded and sleyed from these sides.
fn from_sides(thread: &str, sley: &str) -> Dressing {
    let sides = format!(r#""thread_from": "{thread}", "sley_from": "{sley}", "batch": 8"#);
    Dressing::new(plan_from(&SMALL.replace(r#""batch": 8"#, &sides)), &[])
}

fn threaded(d: &mut Dressing, ends: u32) {
    lead(d, |d| {
        d.ledger().of(Task::Threaded).count() >= ends && *d.mood() == Mood::Working
    });
}

fn ways(d: &Dressing) -> Vec<Way> {
    match d.view() {
        View::Disagreeing(view) => match view.what {
            Disagreeing::Found { ways, .. } => ways,
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    }
}

fn skipped(call: u32, shaft: u8) -> Ask {
    let fault = Fault::at(FaultKind::PositionSkipped, Call(call), Shaft(shaft));
    Ask::Found(Found::InHeddles(fault))
}

#[test]
fn an_entry_out_of_its_row_is_told_the_number_that_is_due() {
    let mut d = Dressing::new(small(), &[]);
    ask(&mut d, &Ask::Next).unwrap();
    let entry = Entry {
        number: 7,
        when: at(9_000),
        events: vec![Event::HelpWanted],
    };
    let expected = CannotHappen::Number {
        found: 7,
        expected: 2,
    };
    assert_eq!(d.accepts(&entry), Err(expected));
}

#[test]
fn whoever_comes_is_there_for_help_or_for_hands() {
    let mut d = Dressing::new(small(), &[]);
    assert_eq!(ask(&mut d, &Ask::HelpCame), Err(Refusal::NoHelpWanted));
    for wanted in [Ask::HelpWanted, Ask::HandsWanted] {
        ask(&mut d, &wanted).unwrap();
        ask(&mut d, &Ask::HelpCame).unwrap();
        assert!(!d.record().help_wanted && !d.record().hands_wanted);
    }
}

#[test]
fn an_end_that_broke_before_sleying_goes_through_no_dent() {
    let mut d = Dressing::new(small(), &[]);
    threaded(&mut d, 12);
    ask(
        &mut d,
        &Ask::BrokenEnd {
            call: Some(Call(3)),
        },
    )
    .unwrap();
    ask(&mut d, &Ask::MendEnd { number: 1 }).unwrap();
    let Mood::Mending(mending) = d.mood() else {
        panic!("{:?}", d.mood());
    };
    let heddle = Move::NewEnd(NewEnd::ThroughHeddle(Shaft(3)));
    assert!(mending.moves.contains(&heddle), "{:?}", mending.moves);
    let dent = |step: &Move| matches!(step, Move::NewEnd(NewEnd::ThroughDent(_)));
    assert!(!mending.moves.iter().any(dent), "{:?}", mending.moves);
}

#[test]
fn ends_move_along_in_the_reed_only_once_all_are_sleyed() {
    let moved = |d: &Dressing| {
        let mut moves = ways(d).into_iter().flat_map(|way| way.moves);
        moves.any(|step| matches!(step, Move::SleyMoved(..)))
    };
    let mut half = from_sides("right", "right");
    lead(&mut half, |d| {
        d.ledger().of(Task::Sleyed).count() >= 12 && *d.mood() == Mood::Working
    });
    ask(&mut half, &skipped(2, 2)).unwrap();
    assert!(!moved(&half), "{:?}", ways(&half));
    let mut all = from_sides("right", "right");
    lead(&mut all, |d| {
        d.ledger().of(Task::Sleyed).count() == 24 && *d.mood() == Mood::Working
    });
    ask(&mut all, &skipped(2, 2)).unwrap();
    assert!(moved(&all), "{:?}", ways(&all));
}

#[test]
fn threading_a_batch_again_costs_what_was_made_of_it() {
    let mut d = Dressing::new(small(), &[]);
    threaded(&mut d, 4);
    ask(&mut d, &skipped(2, 2)).unwrap();
    let View::Disagreeing(view) = d.view() else {
        panic!("{:?}", d.view());
    };
    let Disagreeing::Found { again_seconds, .. } = view.what else {
        panic!("{:?}", view.what);
    };
    // four ends at the first guess of 12 s an end (a judgement, no source)
    assert_eq!(again_seconds, Some(48.0));
}

#[test]
fn the_first_end_in_a_dent_is_the_last_called_where_sleying_comes_from_the_other_side() {
    for (sley, first) in [("right", 1), ("left", 4)] {
        let mut d = from_sides("right", sley);
        lead(&mut d, |d| {
            d.ledger().of(Task::Sleyed).count() == 24 && *d.mood() == Mood::Working
        });
        let group = d.plan().groups[0];
        assert_eq!(group.calls.len() % 4, 0, "whole repeats of 1 2 3 4");
        ask(&mut d, &Ask::TraceReed { group: 1 }).unwrap();
        // one end is over and the last dent is the planned one: some dent has too few
        ask(&mut d, &Ask::Answer(Answer::Number(1))).unwrap();
        ask(&mut d, &Ask::Answer(Answer::Number(0))).unwrap();
        let Mood::Disagreeing(Mismatch::Reed { .. }) = d.mood() else {
            panic!("{:?}", d.mood());
        };
        let seen = ReedSeen::FirstShaft {
            dent: 1,
            shaft: Some(Shaft(first)),
        };
        ask(&mut d, &Ask::Answer(Answer::ReedSeen(seen))).unwrap();
        let View::Disagreeing(view) = d.view() else {
            panic!("{:?}", d.view());
        };
        let Disagreeing::Reed(reed) = view.what else {
            panic!("{:?}", view.what);
        };
        assert_eq!(reed.tracing.doubted, None, "sleyed from the {sley}");
        let suspects = &reed.tracing.suspects;
        assert!(!suspects.is_empty(), "sleyed from the {sley}");
        assert!(
            suspects
                .iter()
                .all(|s| s.kind == ReedFault::DentSkipped && s.dent > 1),
            "sleyed from the {sley}: {suspects:?}"
        );
        assert!(!matches!(reed.tracing.look, Some(ReedLook::Crossed)));
    }
}

#[test]
fn what_a_reading_shows_of_a_batch_counted_off_is_in_its_counts() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| {
        d.ledger().of(Task::Checked).count() == 8 && *d.mood() == Mood::Working
    });
    ask(&mut d, &Ask::ReadBack(Part::Batch(1))).unwrap();
    // call 2 is on shaft 4: one heddle of shaft 2 was left, one of shaft 4 was lacking
    for shafts in [vec![1, 4, 3, 4], vec![1, 2, 3, 4]] {
        ask(&mut d, &Ask::Answer(Answer::Numbers(shafts))).unwrap();
    }
    if !matches!(d.mood(), Mood::Disagreeing(_)) {
        ask(&mut d, &Ask::Answer(Answer::Numbers(Vec::new()))).unwrap();
    }
    ask(&mut d, &Ask::Choose(Choice::Trace)).unwrap();
    let Mood::Disagreeing(Mismatch::Batch {
        ends_left,
        heddles_left,
        ..
    }) = d.mood()
    else {
        panic!("{:?}", d.mood());
    };
    assert_eq!(
        (*ends_left, heddles_left.as_slice()),
        (0, &[0, 1, 0, -1][..])
    );
}

#[test]
fn groups_are_counted_from_the_side_where_sleying_starts() {
    for (thread, sley) in [("right", "right"), ("right", "left"), ("left", "right")] {
        let mut d = from_sides(thread, sley);
        let mut seen = Vec::new();
        let of = d.plan().groups.len() as u32;
        lead(&mut d, |d| matches!(d.view(), View::Sley(_)));
        while d.stage() == Some(Stage::Sley) {
            if let View::Sley(view) = d.view() {
                assert_eq!(d.about().groups_left, Some(of + 1 - view.nth));
                seen.push(view.nth);
            }
            match d.view() {
                View::Asking(_) => answer_truly(&mut d),
                _ => ask(&mut d, &Ask::Next).unwrap(),
            }
        }
        seen.dedup();
        assert_eq!(seen, (1..=of).collect::<Vec<_>>(), "{thread}, {sley}");
    }
}

#[test]
fn bundles_lie_to_the_side_of_the_middle_where_they_are_and_are_counted_down() {
    for (thread, near) in [("right", Side::Right), ("left", Side::Left)] {
        let mut d = from_sides(thread, "right");
        let bundles = d.plan().bundles.len() as u32;
        let (mut places, mut left) = (Vec::new(), Vec::new());
        lead(&mut d, |d| matches!(d.view(), View::Tie(_)));
        while let Some(Stage::TieOn) = d.stage() {
            if let View::Tie(view) = d.view() {
                if view.round == Task::TiedSecond {
                    left.push(d.about().groups_left.unwrap());
                }
                places.push((view.bundle.calls, view.place));
            }
            match d.view() {
                View::Asking(_) => answer_truly(&mut d),
                _ => ask(&mut d, &Ask::Next).unwrap(),
            }
        }
        assert_eq!(left, (1..=bundles).rev().collect::<Vec<_>>());
        assert!(places.len() >= 4, "{places:?}");
        for (calls, place) in places {
            let side = match place {
                FromMiddle::Middle => continue,
                FromMiddle::Right(_) => Side::Right,
                FromMiddle::Left(_) => Side::Left,
            };
            // calls are numbered from the threading side; the middle is between 12 and 13
            assert_eq!(calls.last.0 <= 12, side == near, "{calls:?} {place:?}");
        }
    }
}

#[test]
fn the_ends_of_a_step_are_shown_but_while_a_look_is_open() {
    let mut d = Dressing::new(small(), &[]);
    threaded(&mut d, 4);
    assert!(d.about().step.unwrap().calls.is_some());
    ask(&mut d, &Ask::Count).unwrap();
    assert_eq!(d.about().step.unwrap().calls, None);
}

#[test]
fn the_range_that_is_said_is_the_range_that_is_taken() {
    for units in [Units::In, Units::Cm] {
        let mut said = Sighting::default();
        while let Some(sought) = said.sought(units) {
            let (least, most) = said.range(units, 4);
            for n in [least, most] {
                assert!(said.with(n, units, 4).is_some(), "{sought:?} {n}");
            }
            for n in [least - 1, most + 1] {
                assert!(said.with(n, units, 4).is_none(), "{sought:?} {n}");
            }
            let answer = if said.sheds.is_empty() { most } else { 0 };
            said = said.with(answer, units, 4).unwrap();
        }
        assert_eq!(said.range(units, 4), (0, 0), "nothing is asked any more");
    }
}

#[test]
fn knot_nought_reads_back_all_that_is_threaded() {
    let mut d = Dressing::new(small(), &[]);
    threaded(&mut d, 12);
    let part = |n| match d.report_number(ReportPart::Batch, n) {
        Ok(Said::Ask(ask)) => *ask,
        other => panic!("{other:?}"),
    };
    assert_eq!(part(0), Ask::ReadBack(Part::Whole));
    assert_eq!(part(1), Ask::ReadBack(Part::Batch(1)));
}

#[test]
fn the_time_of_the_presses_is_in_the_account_and_in_the_pace() {
    let start = Dressing::new(small(), &[]);
    let (mut d, mut entries) = (start.clone(), Vec::new());
    let mut presses = 0;
    while d.ledger().of(Task::Threaded).count() < 24 {
        let ask = common::true_ask(&d).unwrap_or(Ask::Next);
        let entry = decide(&d, &ask, at(presses * 4_000)).unwrap();
        if d.ledger().of(Task::Threaded).count() < 20 {
            assert_eq!(d.pace().ms_per_end(Stage::Thread), None);
        }
        d.apply(&entry);
        entries.push(entry);
        presses += 1;
    }
    // four seconds between a press and the next, none before the first
    assert_eq!(account(&entries, &start).work_ms(), (presses - 1) * 4_000);
    // a handful of four ends is a press; the most it can be is all of the stage
    let each = d.pace().ms_per_end(Stage::Thread).unwrap();
    let most = d.pace().spent_ms(Stage::Thread) / 24;
    assert!((1_000..=most).contains(&each), "{each} ms, {most} at most");
}
