//! What the cloth shows of something wrong that is left, and how the sheds change with the plan. Worked out by
//! hand on squared paper from the runner's draft: shafts 1 2 3 4 3 2, treadles 1 2, 2 3, 3 4, 1 4 one after
//! the other, a 2/2 twill. The signs are those of the trade's defect lists (trade reference, section 8).

#![allow(clippy::unwrap_used)]

mod common;

use common::{SMALL, ask, demo, lead, plan_from};
use endsmeet::dressing::view::Disagreeing;
use endsmeet::dressing::{Ask, Choice, Dressing, View};
use endsmeet::fault::{Fault, FaultKind, Found, ReedFault, Shows, shows};
use endsmeet::quantity::{Call, Shaft};
use endsmeet::words::choices::choice_words;

fn wrong(kind: FaultKind, call: u32, shaft: u8) -> Found {
    Found::InHeddles(Fault::at(kind, Call(call), Shaft(shaft)))
}

#[test]
fn the_signs_of_the_runners_twill_are_those_on_squared_paper() {
    let plan = demo("hall-runner.json");
    // end 52 is a point, on shaft 4, between two of shaft 3
    let sign = |found| shows(&plan, found);
    // on shaft 3 three neighbours are alike; treadle 2 raises 2 3 3 3 2, five ends in a row
    let on_3 = sign(wrong(FaultKind::WrongShaft, 52, 3));
    assert_eq!(on_3, [Shows::Alike { float: Some(5) }]);
    // on shaft 2 none are alike, and treadle 2 raises 2 3 2 3 2: five in a row where three were the most
    assert_eq!(
        sign(wrong(FaultKind::WrongShaft, 52, 2)),
        [Shows::WeftFloats(5)]
    );
    // passed over: the two of shaft 3 meet; treadle 2 raises 2 3 3 2
    let skipped = sign(wrong(FaultKind::PositionSkipped, 52, 4));
    assert_eq!(skipped, [Shows::Alike { float: Some(4) }]);
    // twice: two of shaft 4 side by side; treadle 1 leaves 3 4 4 3 down
    let twice = sign(wrong(FaultKind::PositionRepeated, 52, 4));
    assert_eq!(twice, [Shows::Alike { float: Some(4) }]);
    // E3: two ends in one heddle are "two or more woven as one"
    let doubled = sign(wrong(FaultKind::EndsDoubled, 52, 4));
    assert_eq!(doubled, [Shows::Alike { float: Some(4) }]);
    // E1: "plain: two neighbours move together"
    let hanging = sign(wrong(FaultKind::EndHanging, 52, 4));
    assert_eq!(hanging, [Shows::LooseEnd]);
}

#[test]
fn in_plain_weave_a_missing_end_and_a_wrong_shaft_leave_two_alike() {
    let plan = common::small();
    assert_eq!(plan.threading[4], Shaft(1));
    for found in [
        wrong(FaultKind::PositionSkipped, 5, 1),
        wrong(FaultKind::WrongShaft, 5, 2),
    ] {
        // plain weave has no float; two alike make one of 2, between them three of one shed where the
        // moved end stands between its two neighbours
        let float = if matches!(found, Found::InHeddles(f) if f.kind == FaultKind::WrongShaft) {
            3
        } else {
            2
        };
        assert_eq!(shows(&plan, found), [Shows::Alike { float: Some(float) }]);
    }
    // moved to the other shaft of its own shed it weaves as planned but for its place
    let moved = wrong(FaultKind::WrongShaft, 5, 3);
    assert_eq!(shows(&plan, moved), [Shows::PatternBroken]);
}

#[test]
fn without_picks_only_neighbours_on_one_shaft_are_told() {
    let picks = ",\n  \"tie_up\": [[1, 3], [2, 4]], \"treadling\": \"1 2\"";
    let plan = plan_from(&SMALL.replace(picks, ""));
    assert!(plan.treadling.is_empty() && plan.lift_plan.is_empty());
    let twice = wrong(FaultKind::PositionRepeated, 5, 1);
    assert_eq!(shows(&plan, twice), [Shows::Alike { float: None }]);
    let exchanged = wrong(FaultKind::NeighboursExchanged, 5, 1);
    assert_eq!(shows(&plan, exchanged), [Shows::PatternBroken]);
}

/// E10 and E11: a skipped dent is an open line, a doubled one a dense line.
#[test]
fn a_mistake_in_the_reed_is_a_streak() {
    let plan = demo("hall-runner.json");
    for (kind, sign) in [
        (ReedFault::DentSkipped, Shows::Thin),
        (ReedFault::EndTooMany, Shows::Thick),
        (ReedFault::EndsCrossed, Shows::Crossed),
    ] {
        assert_eq!(shows(&plan, Found::InReed(kind, Call(50))), [sign]);
    }
}

/// Leaving it says what the cloth will show and where; changing the plan says how each shed changes, as the
/// changed plan's own counts have it.
#[test]
fn leaving_it_and_changing_the_plan_say_what_comes_of_them() {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::CountOut(c) if c.batch.number == 9),
    );
    ask(&mut d, &Ask::Found(wrong(FaultKind::WrongShaft, 52, 2))).unwrap();
    let View::Disagreeing(view) = d.view() else {
        panic!("{:?}", d.view());
    };
    let leave = choice_words(&view, Choice::LeaveOpen, d.plan());
    // from the right: a float, end 1 alone, then two in a dent: end 52 is in the 28th of 10 an inch, whose
    // middle is 2.75 in in
    assert_eq!(
        leave,
        "leave it: the cloth will show the weft floating over 5 ends, about 2 3/4 in from the right edge"
    );
    let plan = Choice::Way(endsmeet::fault::WayKind::AmendPlan);
    let said = choice_words(&view, plan, d.plan());
    // shaft 4 holds one end fewer and shaft 2 one more: treadle 1 is 1 2, 2 is 2 3, 3 is 3 4, 4 is 1 4,
    // 5 is 1 3, 6 is 2 4
    assert_eq!(
        said,
        "leave what stands and change the plan to it: treadles 1 2 raise 1 end more, treadles 3 4 raise 1 end fewer"
    );
    let Disagreeing::Found { left, .. } = &view.what else {
        panic!("{:?}", view.what);
    };
    let told: Vec<i64> = left.sheds.iter().map(|shed| shed.by).collect();
    let before: Vec<u32> = d.plan().all_sheds().iter().map(|shed| shed.ends).collect();
    let entries = d.plans().len();
    ask(&mut d, &Ask::Choose(plan)).unwrap();
    assert_eq!(d.plans().len(), entries + 1);
    let after = d.plan().all_sheds();
    let truly = after.iter().zip(before);
    let truly: Vec<i64> = truly
        .map(|(now, before)| i64::from(now.ends) - i64::from(before))
        .collect();
    assert_eq!(told, truly);
}
