//! A fault seen in shed or cloth: a place on the tape and the sheds that show it lead to the end that
//! was made wrong on purpose. What the sheds show is worked out here crossing by crossing.
#![allow(clippy::unwrap_used)]

mod common;

use common::{demo, plan_from};
use endsmeet::fault::cloth_spot::{
    Astray, ClothEvidence, ClothSuspect, NoSpot, Sign, calls_at, is_float_there, suspects_in_cloth,
};
use endsmeet::fault::{FaultKind, trace};
use endsmeet::plan::{DentEnds, Plan, Side};
use endsmeet::quantity::{Call, Fraction, Shaft};

fn eighth() -> Fraction {
    Fraction::new(1, 8).unwrap()
}

fn evidence(sign: Sign, from: Side, distance: Fraction, sheds: &[u32]) -> ClothEvidence {
    ClothEvidence {
        sign,
        from,
        distance,
        across: None,
        within: eighth(),
        sheds: sheds.to_vec(),
    }
}

/// Where a call lies from an edge, dent by dent: the other way than the code goes.
fn place(plan: &Plan, call: Call, from: Side) -> Fraction {
    let holds = |ends: &DentEnds| matches!(ends, DentEnds::Calls(calls) if calls.contains(call));
    let at = plan
        .sley
        .dents
        .iter()
        .position(|dent| holds(&dent.ends))
        .unwrap();
    let from_edge = if from == plan.sley_from {
        at
    } else {
        plan.sley.dents.len() - 1 - at
    };
    let dents = Fraction::new(2 * from_edge as i64 + 1, 2).unwrap();
    dents.over(plan.sley.reed_dents).unwrap()
}

/// The sheds in which two neighbours of a call are alike though the plan has them apart, when its end
/// hangs on another shaft.
fn alike_sheds(plan: &Plan, call: Call, on: Shaft) -> Vec<u32> {
    let mut wrong = plan.threading.clone();
    wrong[call.0 as usize - 1] = on;
    let up =
        |threading: &[Shaft], n: u32, shed: &[Shaft]| shed.contains(&threading[n as usize - 1]);
    let last = plan.heddled_ends();
    let shows = |shed: &Vec<Shaft>| {
        (1..last).any(|n| {
            let planned = up(&plan.threading, n, shed) != up(&plan.threading, n + 1, shed);
            planned && up(&wrong, n, shed) == up(&wrong, n + 1, shed)
        })
    };
    let sheds = (1..).zip(&plan.tie_up);
    sheds
        .filter(|(_, shed)| shows(shed))
        .map(|(n, _)| n)
        .collect()
}

#[test]
fn an_end_on_a_wrong_shaft_is_found_from_either_edge() {
    for plan in [demo("hall-runner.json"), demo("winter-blanket.json")] {
        let shafts = plan.shafts;
        for call in [1, 2, 52, 53, 105, 200, 277].map(Call) {
            let own = plan.threading[call.0 as usize - 1];
            let on = Shaft(own.0 % shafts + 1);
            let sheds = alike_sheds(&plan, call, on);
            if sheds.is_empty() {
                continue;
            }
            for from in [Side::Right, Side::Left] {
                let seen = evidence(Sign::TwoAlike, from, place(&plan, call, from), &sheds);
                let found = suspects_in_cloth(&plan, &seen).unwrap();
                let meant = found
                    .iter()
                    .find(|s| s.call == call && s.astray == Astray::OnShaft(on));
                let meant = meant.unwrap_or_else(|| panic!("{call:?} on {on:?}: {found:?}"));
                assert!(meant.exact);
                assert_eq!(meant.place, place(&plan, call, from));
            }
        }
    }
}

#[test]
fn the_runner_says_the_place_as_on_the_tape() {
    let plan = demo("hall-runner.json");
    // call 105 on shaft 2, where 3 is planned: 5 3/8 in from the right edge. Float, then 52 dents of
    // two before it (calls 1 to 104 and one of the odd end's dent at the finishing side)
    let call = Call(105);
    let from_right = place(&plan, call, Side::Right);
    assert_eq!(plan.units.tape(from_right), "5 3/8 in");
    let seen = evidence(Sign::OneAstray, Side::Right, from_right, &[1, 3, 5, 6]);
    let found = suspects_in_cloth(&plan, &seen).unwrap();
    // by the tie-up shaft 1 rises on 1 4 5, 2 on 1 2 6, 3 on 2 3 5, 4 on 3 4 6: two shafts differ on
    // 1 3 5 6 alone where they are 2 and 3, or 1 and 4
    for suspect in &found {
        let own = plan.threading[suspect.call.0 as usize - 1];
        if let Astray::OnShaft(on) = suspect.astray {
            let mut pair = [own.0, on.0];
            pair.sort_unstable();
            assert!(pair == [2, 3] || pair == [1, 4], "{suspect:?}");
        }
    }
    let meant = |s: &&ClothSuspect| (s.call, s.astray) == (call, Astray::OnShaft(Shaft(2)));
    assert!(
        found.iter().find(meant).is_some_and(|s| s.exact),
        "{found:?}"
    );
    let text = endsmeet::words::cloth_words::suspect(&found[0], Side::Right, &plan);
    assert!(
        text.starts_with("End ") && text.contains("from the right edge in the reed, in dent "),
        "{text}"
    );
}

/// Places come from the dents: in a spaced sley order the same distance holds other ends than the
/// sett alone would say.
#[test]
fn a_spaced_sley_is_measured_by_its_dents() {
    let plan = demo("open-scarf.json");
    // order 2 2 0 1 0 1 0 2 in a reed of 8, from the left: dent 8 (index 7) begins at 7/8 in
    let at = Fraction::new(15, 16).unwrap();
    let mut seen = evidence(Sign::OneAstray, Side::Left, at, &[1]);
    seen.within = Fraction::new(1, 32).unwrap();
    let calls = calls_at(&plan, &seen).unwrap().unwrap();
    // 2 + 2 + 0 + 1 + 0 + 1 + 0 ends lie before it; by the sett of 8 it would be ends 8 and 9
    assert_eq!((calls.first.0, calls.last.0), (7, 8));
    // an empty dent holds nobody
    seen.distance = Fraction::new(5, 16).unwrap();
    assert_eq!(calls_at(&plan, &seen).unwrap(), None);
}

/// Cloth is narrower than the warp in the reed: the same end lies nearer to the edge there.
#[test]
fn a_place_in_narrower_cloth_is_drawn_out_to_the_reed() {
    let plan = demo("hall-runner.json");
    let in_reed = place(&plan, Call(201), Side::Right);
    let shrunk = |length: Fraction| length.times(Fraction::new(93, 100).unwrap()).unwrap();
    let width = Fraction::new(141, 10).unwrap(); // 139 + 2 dents at 10 an inch
    let mut seen = evidence(Sign::TwoAlike, Side::Right, shrunk(in_reed), &[5]);
    seen.across = Some(shrunk(width));
    seen.within = Fraction::new(1, 100).unwrap();
    let calls = calls_at(&plan, &seen).unwrap().unwrap();
    assert!(calls.contains(Call(201)) && calls.len() <= 4, "{calls:?}");
    seen.across = None;
    assert!(!calls_at(&plan, &seen).unwrap().unwrap().contains(Call(201)));
}

#[test]
fn the_edge_is_a_float_and_beside_it_is_nothing() {
    let plan = demo("hall-runner.json");
    let mut seen = evidence(Sign::OneAstray, Side::Right, Fraction::ZERO, &[1]);
    seen.within = Fraction::new(1, 50).unwrap();
    assert!(is_float_there(&plan, &seen));
    assert_eq!(suspects_in_cloth(&plan, &seen), Ok(vec![]));
    seen.distance = Fraction::whole(20);
    let beside = suspects_in_cloth(&plan, &seen).unwrap_err();
    assert!(matches!(beside, NoSpot::BesideTheWarp { .. }));
    assert!(beside.to_string().ends_with("measure again from the edge"));
    seen.sheds = vec![7];
    let none = suspects_in_cloth(&plan, &seen).unwrap_err();
    assert_eq!(none, NoSpot::NoSuchShed { found: 7, last: 6 });
    seen.sheds.clear();
    assert_eq!(suspects_in_cloth(&plan, &seen), Err(NoSpot::NoShed));
}

#[test]
fn what_was_read_off_the_loom_goes_on_into_the_tracing() {
    let plan = demo("hall-runner.json");
    let call = Call(52);
    let (own, on) = (plan.threading[51], Shaft(2));
    assert_eq!(own, Shaft(4));
    let sheds = alike_sheds(&plan, call, on);
    let seen = evidence(
        Sign::TwoAlike,
        Side::Right,
        place(&plan, call, Side::Right),
        &sheds,
    );
    let found = suspects_in_cloth(&plan, &seen).unwrap();
    let meant = found
        .iter()
        .find(|s| s.call == call && s.astray == Astray::OnShaft(on))
        .unwrap();
    assert_eq!(meant.kind(), FaultKind::WrongShaft);
    let report = meant.evidence(&plan, Some(on)).unwrap();
    let tracing = trace(&report).unwrap();
    assert!(tracing.settled, "{tracing:?}");
    let fault = &tracing.suspects[0].faults[0];
    assert_eq!(
        (fault.kind, fault.call),
        (FaultKind::WrongShaft, Some(call))
    );
}

/// On looms that move every shaft an end in no eye stands in the gap of every shed; on a jack loom it
/// stays down.
#[test]
fn an_end_in_no_eye_shows_by_the_kind_of_loom() {
    let draft = |action: &str| {
        plan_from(&format!(
            r#"{{ "endsmeet": 1, "title": "T", "units": "in", "sett": 10, "ends": 40,
            "threading": "1 2 3 4",
            "loom": {{"action": "{action}", "shafts": 4, "treadles": 4, "width": 10}},
            "reeds": [{{"dents": 10, "per": "in", "length": 10}}],
            "tie_up": [[1, 2], [2, 3], [3, 4], [1, 4]], "treadling": "1 2 3 4" }}"#
        ))
    };
    let hanging = |plan: &Plan, sheds: &[u32]| {
        let at = place(plan, Call(21), Side::Right);
        let mut seen = evidence(Sign::OneAstray, Side::Right, at, sheds);
        seen.within = Fraction::ZERO;
        let found = suspects_in_cloth(plan, &seen).unwrap();
        found
            .iter()
            .any(|s| s.call == Call(21) && s.astray == Astray::InNoHeddle && s.exact)
    };
    // call 21 is on shaft 1: treadles 1 and 4 lift it
    assert!(hanging(&draft("jack"), &[1, 4]));
    assert!(!hanging(&draft("jack"), &[1, 2, 3, 4]));
    assert!(hanging(&draft("countermarch"), &[1, 2, 3, 4]));
}
