//! From a miscount to its place: the tracing against small cases worked by hand.

mod reality;

use endsmeet::fault::{
    Evidence, FaultKind, Impossible, LookKind, Seen, Tracing, group_end_look, trace,
};
use endsmeet::quantity::{Call, Shaft};
use reality::dice::Dice;
use reality::draft::Draft;
use reality::{Loom, Slip, Weaver};

fn shafts(list: &[u8]) -> Vec<Shaft> {
    list.iter().map(|&s| Shaft(s)).collect()
}

const POINT: [u8; 12] = [1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2];

/// Batch 5 of the point draw of the demo: calls 49 to 60.
fn report(ends_left: i64, heddles_left: [i64; 4]) -> Evidence {
    Evidence::report(
        Call(49),
        shafts(&POINT),
        4,
        12,
        ends_left,
        heddles_left.to_vec(),
    )
}

fn seen(call: u32, shaft: u8) -> Seen {
    Seen::Shaft {
        call: Call(call),
        shaft: Some(Shaft(shaft)),
    }
}

fn fewest(tracing: &Tracing) -> Vec<&endsmeet::fault::Suspect> {
    let fewest = tracing.suspects.first().map_or(0, |s| s.faults.len());
    tracing
        .suspects
        .iter()
        .filter(|s| s.faults.len() == fewest)
        .collect()
}

#[test]
fn a_skipped_position_leaves_one_end_and_one_heddle() {
    let tracing = trace(&report(1, [0, 0, 0, 1])).unwrap();
    assert!(!tracing.counts_agree && !tracing.settled);
    let simplest = fewest(&tracing);
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
    evidence.seen.push(seen(55, 2));
    let tracing = trace(&evidence).unwrap();
    assert!(tracing.settled, "{tracing:#?}");
    assert_eq!(tracing.suspects[0].faults[0].call, Some(Call(52)));
    assert_eq!(tracing.suspects[0].first_wrong, Some(Call(52)));
    assert_eq!(tracing.look, None);
}

#[test]
fn counts_that_agree_suspect_nothing_and_ask_nothing() {
    let tracing = trace(&report(0, [0, 0, 0, 0])).unwrap();
    assert!(tracing.counts_agree && tracing.settled);
    assert_eq!((tracing.suspects.len(), tracing.look), (0, None));
}

#[test]
fn an_exchange_is_found_once_the_odd_shafts_are_lifted() {
    let planned = [1, 2, 3, 4, 1, 2, 3, 4];
    let loom = Loom::thread(&planned, 4, &[Slip::Exchange(5)], Weaver::Stops).unwrap();
    assert!(loom.comes_out_even());
    let look = group_end_look(Call(1), &shafts(&planned), None);
    assert_eq!(look.kind, LookKind::NeighboursTogether);
    let mut evidence = loom.report(Call(1));
    evidence.seen.push(loom.look(&look, Call(1)));
    let tracing = trace(&evidence).unwrap();
    assert!(tracing.counts_agree);
    let fault = tracing.suspects[0].faults[0];
    assert_eq!(
        (fault.kind, fault.call),
        (FaultKind::NeighboursExchanged, Some(Call(6)))
    );
}

#[test]
fn what_a_count_cannot_see_comes_out_even() {
    let planned = [1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4];
    for slips in [
        vec![Slip::Exchange(4)],
        vec![Slip::Cross(4)],
        vec![Slip::BesideEye(4)],
        vec![Slip::Skip(0, 1), Slip::Repeat(8, 9)],
    ] {
        let loom = Loom::thread(&planned, 4, &slips, Weaver::GoesOn).unwrap();
        assert!(loom.comes_out_even(), "{slips:?}");
        assert!(
            trace(&loom.report(Call(1))).unwrap().counts_agree,
            "{slips:?}"
        );
    }
    // the batch begun at another place of the repeat uses the same ends and heddles
    let begun_late: Vec<u8> = planned.iter().cycle().skip(2).take(12).copied().collect();
    let loom = Loom::thread(&begun_late, 4, &[], Weaver::Stops).unwrap();
    assert!(loom.comes_out_even());
}

#[test]
fn the_look_at_a_groups_end_is_never_the_same_twice_nor_still_in_the_ear() {
    let mut dice = Dice::new(5);
    for _ in 0..40 {
        let draft = Draft::at_random(&mut dice);
        let planned = shafts(&draft.planned);
        let mut last = None;
        for _ in 0..4 {
            let look = group_end_look(Call(1), &planned, last);
            assert_ne!(Some(look.kind), last);
            if let Some(call) = look.call {
                let (first, _) = *draft.handfuls().last().unwrap();
                // of one handful alone only the last call is still in the ear
                let last = if first > 0 { first } else { planned.len() - 1 };
                assert!((call.0 as usize) <= last, "{draft:?} {look:?}");
            }
            last = Some(look.kind);
        }
    }
}

#[test]
fn a_look_that_cannot_be_told_is_not_asked_again() {
    let mut evidence = report(1, [0, 0, 0, 1]);
    for _ in 0..30 {
        let Some(look) = trace(&evidence).unwrap().look else {
            return;
        };
        assert!(
            evidence.seen.iter().all(|seen| seen.look() != look),
            "asked twice: {look:?}"
        );
        evidence.seen.push(Seen::CannotTell {
            look: look.kind,
            call: look.call,
        });
    }
    panic!("asks for ever");
}

#[test]
fn a_contradictory_answer_is_doubted_and_the_others_still_count() {
    let mut evidence = report(1, [0, 0, 0, 1]);
    evidence.seen = vec![seen(54, 1), seen(55, 4), seen(56, 3)];
    let tracing = trace(&evidence).unwrap();
    assert_eq!(tracing.doubted, Some(seen(55, 4)));
    assert_eq!(
        tracing.suspects[0].faults[0].call,
        Some(Call(52)),
        "{tracing:#?}"
    );
}

#[test]
fn evidence_that_no_two_faults_explain_is_said_to_be_so() {
    let tracing = trace(&report(-5, [2, 0, -2, 2])).unwrap();
    assert!(tracing.is_unexplained(), "{tracing:#?}");
    assert_eq!(tracing.look, None);
}

#[test]
fn impossible_evidence_is_refused_with_what_would_be_possible() {
    let said = |evidence: &Evidence| trace(evidence).unwrap_err();
    assert_eq!(
        said(&report(21, [0; 4])),
        Impossible::EndsLeft {
            left: 21,
            counted_out: 12,
            most: 20
        }
    );
    let eleven = Impossible::HeddlesLeft {
        shaft: 1,
        left: 11,
        counted_out: 2,
        most: 10,
    };
    assert_eq!(said(&report(0, [11, 0, 0, 0])), eleven);
    assert!(eleven.to_string().contains("at most 10"), "{eleven}");
    // two heddles counted out too many, and she stopped before the first call
    let mut hardly_begun = report(12, [4, 4, 4, 4]);
    hardly_begun.calls_made = 0;
    let tracing = trace(&hardly_begun).unwrap();
    assert!(!tracing.counts_agree);
    let mut evidence = report(1, [0, 0, 0, 1]);
    evidence.seen.push(seen(55, 5));
    assert_eq!(
        said(&evidence),
        Impossible::ShaftLacking {
            shaft: 5,
            shafts: 4
        }
    );
    evidence.seen = vec![seen(61, 4)];
    assert_eq!(
        said(&evidence),
        Impossible::CallOutside {
            call: 61,
            first: 49,
            last: 60
        }
    );
    evidence.seen.clear();
    evidence.calls_made = 13;
    assert_eq!(
        said(&evidence),
        Impossible::CallsMade {
            calls_made: 13,
            calls: 12
        }
    );
    evidence.heddles_left.pop();
    assert_eq!(
        said(&evidence),
        Impossible::HeddleCounts {
            given: 3,
            shafts: 4
        }
    );
}
