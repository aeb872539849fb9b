//! From a miscount to its place: the tracing against small cases worked by hand.

use endsmeet::fault::{Evidence, FaultKind, LookKind, Seen, trace};
use endsmeet::quantity::{Call, Shaft};

fn shafts(list: &[u8]) -> Vec<Shaft> {
    list.iter().map(|&s| Shaft(s)).collect()
}

/// Batch 5 of the point draw of the demo: calls 49 to 60.
fn report(ends_left: i64, heddles_left: [i64; 4]) -> Evidence {
    let planned = shafts(&[1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2]);
    Evidence::report(Call(49), planned, 4, 12, ends_left, heddles_left.to_vec())
}

#[test]
fn a_skipped_position_leaves_one_end_and_one_heddle() {
    let tracing = trace(&report(1, [0, 0, 0, 1])).unwrap();
    assert!(!tracing.counts_agree && !tracing.settled);
    let simplest: Vec<_> = tracing
        .suspects
        .iter()
        .filter(|s| s.faults.len() == 1)
        .collect();
    assert_eq!(simplest.len(), 2, "{simplest:?}");
    for suspect in simplest {
        assert_eq!(suspect.faults[0].kind, FaultKind::PositionSkipped);
        assert!([Call(52), Call(58)].contains(&suspect.faults[0].call.unwrap()));
    }
    assert_eq!(tracing.look.unwrap().kind, LookKind::ShaftOfHeddle);
}

#[test]
fn one_look_at_a_heddle_between_settles_which_of_two_positions_was_skipped() {
    let mut evidence = report(1, [0, 0, 0, 1]);
    evidence.seen.push(Seen::Shaft {
        call: Call(55),
        shaft: Some(Shaft(2)),
    });
    let tracing = trace(&evidence).unwrap();
    assert!(tracing.settled, "{tracing:#?}");
    assert_eq!(tracing.suspects[0].faults[0].call, Some(Call(52)));
    assert_eq!(tracing.suspects[0].first_wrong, Some(Call(52)));
    assert_eq!(tracing.look, None);
}
