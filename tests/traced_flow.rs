//! A trace in the flow of a dressing: the simulated loom answers each question through the machine
//! until the place is found, and the mending that is chosen leaves a ledger that balances.

#![allow(clippy::unwrap_used)]

mod common;
mod reality;

use common::{answer_truly, ask, lead, plan_from};
use endsmeet::dressing::view::Disagreeing;
use endsmeet::dressing::{Answer, Ask, Choice, Dressing, Mood, Task, View};
use endsmeet::fault::{Drift, Fault, FaultKind, Found, WayKind};
use endsmeet::quantity::Call;
use reality::Slip;
use reality::dice::Dice;
use reality::draft::Draft;
use reality::warp::Hanging;

/// A dressing of this draft, ten batches of it threaded and counted off.
fn dressed(draft: &Draft) -> Dressing {
    let ends = draft.planned.len() * 10;
    let line: Vec<String> = draft.planned.iter().map(u8::to_string).collect();
    let text = format!(
        r#"{{ "endsmeet": 1, "title": "Traced", "units": "in", "sett": 8, "ends": {ends},
        "threading": "{}", "batch": {},
        "loom": {{"action": "table", "shafts": {}, "width": 60}},
        "reeds": [{{"dents": 8, "per": "in", "length": 60}}],
        "raddle": {{"spaces": 1, "length": 60}} }}"#,
        line.join(" "),
        draft.planned.len(),
        draft.shafts
    );
    let mut d = Dressing::new(plan_from(&text), &[]);
    let batch = draft.planned.len() as u32;
    lead(&mut d, |d| match d.view() {
        View::Turn(_) => true,
        _ => d.ledger().of(Task::Checked).count() == batch * 9,
    });
    if let View::Turn(_) = d.view() {
        ask(&mut d, &Ask::Skip).unwrap();
        lead(&mut d, |d| {
            d.ledger().of(Task::Checked).count() == batch * 9 && *d.mood() == Mood::Working
        });
    }
    d
}

/// Answers the looks of the trace as the loom would until something is found or nothing is asked.
fn follow(d: &mut Dressing, loom: &Hanging) -> usize {
    for looks in 0..80 {
        let View::Disagreeing(view) = d.view() else {
            return looks;
        };
        let answer = match view.what {
            Disagreeing::Warp(warp) => match warp.tracing.look {
                Some(look) => Answer::WarpSeen(loom.look(look)),
                None => return looks,
            },
            Disagreeing::Batch { tracing, batch, .. } => match tracing.look {
                Some(look) => Answer::Seen(loom.look_inside(&look, batch.number as usize)),
                None => return looks,
            },
            Disagreeing::Found { .. } | Disagreeing::Look { .. } => return looks,
            Disagreeing::Reed(_) | Disagreeing::ReadBack(_) | Disagreeing::Sighting { .. } => {
                panic!("another mismatch")
            }
        };
        ask(d, &Ask::Answer(answer)).unwrap();
    }
    panic!("asks for ever: {:?}", d.view());
}

/// The fault that the trace has come to.
fn found(d: &Dressing) -> Option<Fault> {
    let View::Disagreeing(view) = d.view() else {
        return None;
    };
    match view.what {
        Disagreeing::Found {
            found: Found::InHeddles(fault),
            ..
        } => Some(fault),
        Disagreeing::Batch { tracing, .. } if tracing.settled => {
            tracing.suspects.first()?.faults.first().copied()
        }
        _ => None,
    }
}

/// Whether the fault would leave the same loom as the slip.
fn same(fault: &Fault, slip: Slip, loom: &Hanging, drift: Drift, draft: &Draft) -> bool {
    let ends = loom.planned.len();
    let supposed = Slip::of(fault, Call(1));
    let other = Hanging::thread(draft, ends, supposed, drift).unwrap();
    // an end before the first heddle and one after it look the same
    let hangs = |a: &Hanging| (a.hanging, a.hanging_after.map(|at| at.saturating_sub(1)));
    supposed == slip || (other.filled == loom.filled && hangs(&other) == hangs(loom))
}

#[test]
fn a_fault_several_batches_back_is_found_through_the_questions_and_mended() {
    let mut dice = Dice::new(31);
    let (mut cases, mut right, mut looks_made, mut mended) = (0, 0, 0, 0);
    while cases < 24 {
        let draft = Draft::at_random(&mut dice);
        let size = draft.planned.len();
        if size < 6 || draft.shafts > 12 {
            continue;
        }
        let at = dice.from(0, size * 9 - 1);
        let slip = match cases % 4 {
            0 => Slip::Skip(at, at + 1),
            1 => Slip::Repeat(at, at + 1),
            2 => Slip::Double(at),
            _ => Slip::Hang(at),
        };
        let drift = if cases % 8 < 2 {
            Drift::ToTheEnd
        } else {
            Drift::KnotOnly
        };
        let loom = Hanging::thread(&draft, size * 9, slip, drift).unwrap();
        let mut d = dressed(&draft);
        ask(&mut d, &Ask::Trace { since: None }).unwrap();
        answer_truly(&mut d);
        ask(&mut d, &Ask::Answer(Answer::Number(loom.ends_left))).unwrap();
        ask(
            &mut d,
            &Ask::Answer(Answer::Numbers(loom.heddles_left.clone())),
        )
        .unwrap();
        looks_made += follow(&mut d, &loom);
        cases += 1;
        let fault = found(&d).unwrap_or_else(|| panic!("{draft:?} {slip:?} {:?}", d.view()));
        assert!(
            same(&fault, slip, &loom, drift, &draft),
            "{fault:?} for {slip:?} in {draft:?}"
        );
        right += 1;
        mended += usize::from(mend(&mut d));
    }
    assert_eq!(right, cases);
    assert!(mended >= cases / 2, "{mended} of {cases} led to their end");
    assert!(
        looks_made <= cases * 9,
        "{looks_made} looks in {cases} traces"
    );
}

/// Chooses the first way that is led and follows it until all that was threaded is threaded and
/// counted off again.
fn mend(d: &mut Dressing) -> bool {
    let before = d.ledger().of(Task::Checked).count();
    let ways = [WayKind::FromTheFault, WayKind::OnTheSpot];
    let chosen = ways
        .into_iter()
        .any(|way| ask(d, &Ask::Choose(Choice::Way(way))).is_ok());
    if !chosen {
        return false;
    }
    lead(d, |d| {
        *d.mood() == Mood::Working && d.ledger().of(Task::Checked).count() >= before
    });
    d.ledger().of(Task::Threaded).count() >= before
}

#[test]
fn a_wrong_shaft_several_batches_back_is_found_through_the_questions() {
    let mut dice = Dice::new(32);
    let mut cases = 0;
    while cases < 8 {
        let draft = Draft::at_random(&mut dice);
        let size = draft.planned.len();
        let (at, taken) = (dice.from(0, size * 9 - 1), dice.from(1, 4) as u8);
        let own = draft.planned[at % size];
        if size < 6 || taken == own || draft.shafts > 12 {
            continue;
        }
        let slip = Slip::Wrong(at, taken);
        let loom = Hanging::thread(&draft, size * 9, slip, Drift::KnotOnly).unwrap();
        let mut d = dressed(&draft);
        ask(&mut d, &Ask::Trace { since: None }).unwrap();
        answer_truly(&mut d);
        ask(&mut d, &Ask::Answer(Answer::Number(0))).unwrap();
        ask(
            &mut d,
            &Ask::Answer(Answer::Numbers(loom.heddles_left.clone())),
        )
        .unwrap();
        follow(&mut d, &loom);
        let fault = found(&d).unwrap_or_else(|| panic!("{draft:?} {slip:?} {:?}", d.view()));
        let call = Call(at as u32 + 1);
        assert_eq!(
            (fault.kind, fault.call),
            (FaultKind::WrongShaft, Some(call))
        );
        cases += 1;
    }
}

/// Reads a knot back as it hangs, where the page offers that.
fn read_back(d: &mut Dressing, loom: &Hanging) -> bool {
    let View::Disagreeing(view) = d.view() else {
        return false;
    };
    let Disagreeing::Warp(warp) = &view.what else {
        return false;
    };
    let Some(knot) = warp.tracing.near.filter(|_| warp.tracing.look.is_none()) else {
        return false;
    };
    ask(d, &Ask::Choose(Choice::ReadBack)).unwrap();
    let heddles = loom.filled[knot as usize - 1].iter();
    let shafts: Vec<i64> = heddles.map(|&(shaft, _)| i64::from(shaft)).collect();
    ask(d, &Ask::Answer(Answer::Numbers(shafts))).unwrap();
    ask(d, &Ask::Answer(Answer::Numbers(Vec::new()))).unwrap();
    if let View::Disagreeing(view) = d.view()
        && let Disagreeing::ReadBack(_) = view.what
    {
        ask(d, &Ask::Choose(Choice::Trace)).unwrap();
    }
    true
}

/// Two faults in different batches: the questions lead to one that is there, straight or by reading a
/// knot back, and never to one that is not.
#[test]
fn of_two_faults_the_first_is_found_through_the_questions() {
    let mut dice = Dice::new(33);
    let (mut cases, mut named, mut read) = (0, 0, 0);
    while cases < 30 {
        let draft = Draft::at_random(&mut dice);
        let size = draft.planned.len();
        if size < 6 || draft.shafts > 12 {
            continue;
        }
        // now and then the last call of a knot, where only a reading tells one end more from two in one
        let a = match dice.coin() {
            true => dice.from(1, 4) * size - 1,
            false => dice.from(0, size * 4 - 1),
        };
        let b = dice.from(size * 5, size * 9 - 1);
        let first = [
            Slip::Skip(a, a + 1),
            Slip::Repeat(a, a + 1),
            Slip::Double(a),
        ];
        let second = [Slip::Skip(b, b + 1), Slip::Double(b), Slip::Hang(b)];
        let slips = [
            (
                dice.pick(&first),
                dice.pick(&[Drift::KnotOnly, Drift::ToTheEnd]),
            ),
            (dice.pick(&second), Drift::KnotOnly),
        ];
        let Some(loom) = Hanging::thread_several(&draft, size * 9, &slips) else {
            continue;
        };
        let mut d = dressed(&draft);
        ask(&mut d, &Ask::Trace { since: None }).unwrap();
        answer_truly(&mut d);
        let (ends, heddles) = (loom.ends_left, loom.heddles_left.clone());
        ask(&mut d, &Ask::Answer(Answer::Number(ends))).unwrap();
        ask(&mut d, &Ask::Answer(Answer::Numbers(heddles))).unwrap();
        cases += 1;
        follow(&mut d, &loom);
        if read_back(&mut d, &loom) {
            read += 1;
            follow(&mut d, &loom);
        }
        let Some(fault) = found(&d) else { continue };
        let call = fault.call.unwrap().0 as usize - 1;
        let near = |&(slip, _): &(Slip, Drift)| {
            let (from, to) = slip.span().unwrap();
            from <= call + 1 && call <= to
        };
        let run = |&(slip, _): &(Slip, Drift)| {
            // any of a run of calls on one shaft
            let at = slip.span().unwrap().0.min(call)..=slip.span().unwrap().0.max(call);
            at.clone()
                .all(|at| draft.planned[at % size] == draft.planned[call % size])
        };
        let there = slips.iter().any(|slip| near(slip) || run(slip));
        assert!(there, "{fault:?} for {slips:?} in {draft:?}");
        named += 1;
    }
    println!("{cases} cases, {named} named, {read} by reading a knot back");
    assert!(named * 4 >= cases * 3, "{named} of {cases}");
}

/// A weaver who cannot tell anything is never led into a corner, and comes back to where she was.
#[test]
fn who_cannot_tell_is_back_where_she_was() {
    let mut d = dressed(&Draft {
        shafts: 4,
        planned: vec![1, 2, 3, 4, 1, 2, 3, 4],
        kind: "straight",
    });
    let before = d.view();
    ask(&mut d, &Ask::Trace { since: None }).unwrap();
    ask(&mut d, &Ask::Answer(Answer::CannotTell)).unwrap();
    ask(&mut d, &Ask::Answer(Answer::Number(1))).unwrap();
    ask(&mut d, &Ask::Answer(Answer::CannotTell)).unwrap();
    for _ in 0..200 {
        let View::Disagreeing(view) = d.view() else {
            break;
        };
        let Disagreeing::Warp(warp) = &view.what else {
            panic!("{view:?}")
        };
        let Some(look) = warp.tracing.look else {
            break;
        };
        let told = endsmeet::fault::WarpSeen::CannotTell { look };
        ask(&mut d, &Ask::Answer(Answer::WarpSeen(told))).unwrap();
    }
    let View::Disagreeing(view) = d.view() else {
        panic!("{:?}", d.view())
    };
    assert!(
        view.choices.contains(&Choice::ReadBack),
        "{:?}",
        view.choices
    );
    ask(&mut d, &Ask::Choose(Choice::PutRight)).unwrap();
    assert_eq!(d.view(), before);
}
