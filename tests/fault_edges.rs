//! Edges of the tracing that random batches seldom reach: a second look of one kind, two faults far apart,
//! a reading of a whole warp, dents of one end, what a mending costs. All of it is arithmetic of ours; what
//! is a judgement says so in the code.

#![allow(clippy::unwrap_used)]

use endsmeet::fault::{
    Column, Cost, Evidence, FaultKind, ReedEvidence, ReedFault, Seen, WarpEvidence, differences,
    read_back, trace, trace_reed, trace_warp,
};
use endsmeet::quantity::{Call, Calls, Shaft};

fn straight(ends: usize) -> Vec<Shaft> {
    [1, 2, 3, 4]
        .into_iter()
        .cycle()
        .take(ends)
        .map(Shaft)
        .collect()
}

/// Whether some suspect is just these kinds of fault.
fn suspected(evidence: &Evidence, kinds: &[FaultKind]) -> bool {
    let found = trace(evidence).unwrap();
    found.suspects.iter().any(|suspect| {
        let mut those: Vec<_> = suspect.faults.iter().map(|fault| fault.kind).collect();
        those.sort();
        those == kinds
    })
}

#[test]
fn the_names_of_faults_are_those_of_the_data() {
    for kind in FaultKind::ALL {
        let data = serde_json::to_value(kind).unwrap();
        assert_eq!(data, kind.name());
    }
}

#[test]
fn none_besides_the_double_that_was_found_leaves_that_double() {
    // eight calls took nine ends: one too few is left, no heddle is left
    let mut evidence = Evidence::report(Call(1), straight(8), 4, 8, -1, vec![0; 4]);
    evidence.seen = vec![
        Seen::Double {
            call: Some(Call(3)),
        },
        Seen::Double { call: None },
    ];
    let found = trace(&evidence).unwrap();
    assert_eq!(found.doubted, None, "the second look says none besides");
    let likeliest = &found.suspects[0].faults;
    assert_eq!(likeliest.len(), 1, "{likeliest:?}");
    assert_eq!(likeliest[0].kind, FaultKind::EndsDoubled);
    assert_eq!(likeliest[0].call, Some(Call(3)));
}

#[test]
fn two_wrong_heddles_far_apart_are_suspected_together() {
    // call 2 on shaft 4 and call 7 on shaft 1: of 2 and 3 one heddle is left, of 4 and 1 one lacks
    let evidence = Evidence::report(Call(1), straight(8), 4, 8, 0, vec![-1, 1, 1, -1]);
    let two = [FaultKind::WrongShaft, FaultKind::WrongShaft];
    assert!(suspected(&evidence, &two), "{:?}", trace(&evidence));
}

#[test]
fn a_reading_of_a_whole_long_warp_shows_its_one_difference() {
    let planned = straight(4_100);
    let mut read = planned.clone();
    read[0] = Shaft(3);
    let columns = read_back(&planned, &read, false);
    assert_eq!(columns.len(), 4_100);
    assert_eq!(columns[0], Column::Other(Shaft(1), Shaft(3)));
    assert_eq!(differences(&columns), 1);
}

#[test]
fn a_dent_of_one_end_cannot_hold_one_too_few() {
    let dents = vec![1; 8];
    for (ends_left, tape) in [(1, Some(0)), (0, Some(1)), (1, None), (0, None)] {
        let evidence = ReedEvidence {
            dents: dents.clone(),
            shafts: straight(8),
            ends_left,
            tape,
            seen: Vec::new(),
        };
        let Ok(found) = trace_reed(&evidence) else {
            continue;
        };
        let few = |fault: ReedFault| fault == ReedFault::EndTooFew;
        let kinds: Vec<_> = found.suspects.iter().map(|suspect| suspect.kind).collect();
        assert!(!kinds.iter().any(|&kind| few(kind)), "{kinds:?}");
    }
}

#[test]
fn what_a_mending_takes_is_the_sum_of_its_parts() {
    let nothing = Cost {
        ends_out: 0,
        ends_thread: 0,
        ends_sley: 0,
        knots: 0,
        bundles: 0,
        repair_heddles: 0,
        ends_added: 0,
        ends_removed: 0,
        seconds: 0.0,
    };
    // the seconds of one of each at 10 s an end, as `Cost::at_pace` gives them (judgements, no source)
    let parts = [
        (
            Cost {
                ends_out: 1,
                ..nothing
            },
            2.0,
        ),
        (
            Cost {
                ends_thread: 1,
                ..nothing
            },
            10.0,
        ),
        (
            Cost {
                ends_sley: 1,
                ..nothing
            },
            5.0,
        ),
        (
            Cost {
                knots: 1,
                ..nothing
            },
            10.0,
        ),
        (
            Cost {
                bundles: 1,
                ..nothing
            },
            40.0,
        ),
        (
            Cost {
                repair_heddles: 1,
                ..nothing
            },
            90.0,
        ),
        (
            Cost {
                ends_added: 1,
                ..nothing
            },
            180.0,
        ),
        (
            Cost {
                ends_removed: 1,
                ..nothing
            },
            20.0,
        ),
    ];
    for (cost, seconds) in parts {
        assert!(
            (cost.at_pace(10.0).seconds - seconds).abs() < 1e-9,
            "{cost:?}"
        );
    }
    let all = Cost {
        ends_out: 1,
        ends_thread: 1,
        ends_sley: 1,
        knots: 1,
        bundles: 1,
        repair_heddles: 1,
        ends_added: 1,
        ends_removed: 1,
        seconds: 0.0,
    };
    assert!((all.at_pace(10.0).seconds - 357.0).abs() < 1e-9);
}

#[test]
fn a_handful_passed_over_is_suspected_from_the_first_one_to_the_last() {
    // three knots of two handfuls, calls 1-4, 5-8, ... 21-24; one handful of ends and heddles is left
    let knot = |first| Calls {
        first: Call(first),
        last: Call(first + 7),
    };
    let evidence = WarpEvidence {
        planned: straight(24),
        shafts: 4,
        knots: vec![knot(1), knot(9), knot(17)],
        stretch: Calls {
            first: Call(1),
            last: Call(24),
        },
        ends_left: 4,
        heddles_left: Some(vec![1; 4]),
        seen: Vec::new(),
    };
    let found = trace_warp(&evidence).unwrap();
    let skipped = found.suspects.iter();
    let skipped: Vec<_> = skipped
        .filter(|suspect| suspect.kind == FaultKind::HandfulSkipped)
        .collect();
    let first = skipped.iter().map(|suspect| suspect.calls.first.0).min();
    let last = skipped.iter().map(|suspect| suspect.calls.last.0).max();
    assert_eq!(first, Some(1), "{skipped:?}");
    assert!((21..=24).contains(&last.unwrap()), "{skipped:?}");
}
