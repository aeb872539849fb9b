//! A whole warp that does not come out: first which batch, then where; against a simulated warp
//! that is laid knot by knot.

mod reality;

use endsmeet::fault::{
    Column, Drift, Fault, FaultKind, Impossible, WarpLook, WarpSeen, WarpSuspect, WarpTracing,
    differences, read_back, trace_warp,
};
use endsmeet::quantity::{Call, Calls, Shaft};
use proptest::prelude::*;
use reality::Slip;
use reality::dice::Dice;
use reality::draft::Draft;
use reality::warp::{Hanging, warp};

fn follow(warp: &Hanging) -> (WarpTracing, Vec<WarpLook>) {
    let mut evidence = warp.evidence();
    let mut looks = Vec::new();
    loop {
        let tracing = trace_warp(&evidence).expect("possible evidence");
        let Some(look) = tracing.look else {
            return (tracing, looks);
        };
        assert!(looks.len() < 2_000, "asks for ever: {looks:?}");
        looks.push(look);
        evidence.seen.push(warp.look(look));
    }
}

#[test]
fn what_shifts_a_whole_warp_is_placed_by_halving_also_among_ten_thousand_ends() {
    let mut dice = Dice::new(21);
    let runs = if cfg!(debug_assertions) { 12 } else { 200 };
    let mut most = 0;
    for run in 0..runs {
        let draft = Draft::at_random(&mut dice);
        let ends = if run == 0 || (run % 4 == 0 && !cfg!(debug_assertions)) {
            10_000
        } else {
            dice.from(200, 2_000)
        };
        let at = dice.from(0, ends - 30);
        let skip = dice.coin();
        let slip = if skip {
            Slip::Skip(at, at + 1)
        } else {
            Slip::Repeat(at, at + 1)
        };
        let warp = Hanging::thread(&draft, ends, slip, Drift::ToTheEnd).unwrap();
        let (tracing, looks) = follow(&warp);
        let context = format!("{draft:?} {slip:?} {looks:?} {tracing:?}");
        let kind = if skip {
            FaultKind::PositionSkipped
        } else {
            FaultKind::PositionRepeated
        };
        assert!(tracing.settled, "{context}");
        assert_eq!(
            (tracing.suspects[0].kind, tracing.suspects[0].drift),
            (kind, Drift::ToTheEnd),
            "{context}"
        );
        // calls beside each other on one shaft cannot be told apart, and need not be
        let found = tracing.suspects[0].calls;
        assert!(found.contains(Call(at as u32 + 1)), "{context}");
        let places = warp
            .planned
            .iter()
            .filter(|&&s| s == warp.planned[at])
            .count();
        let halvings = (places as f64).log2().ceil() as usize;
        assert!(
            looks.len() <= halvings + 4,
            "{} looks, {halvings} halvings: {context}",
            looks.len()
        );
        most = most.max(looks.len());
    }
    assert!(most >= 2);
}

#[test]
fn a_fault_that_stays_in_its_knot_is_found_by_counting_knots_and_then_traced_inside() {
    let mut dice = Dice::new(22);
    for _ in 0..if cfg!(debug_assertions) { 20 } else { 200 } {
        let draft = Draft::at_random(&mut dice);
        let ends = draft.planned.len() * 20;
        let at = dice.from(0, ends - 1);
        let slip = dice.pick(&[
            Slip::Skip(at, at + 1),
            Slip::Repeat(at, at + 1),
            Slip::Double(at),
            Slip::Hang(at),
        ]);
        let warp = Hanging::thread(&draft, ends, slip, Drift::KnotOnly).unwrap();
        let (tracing, looks) = follow(&warp);
        let context = format!("{draft:?} {slip:?} {looks:?} {tracing:?}");
        let knot = (at / draft.planned.len()) as u32 + 1;
        assert!(
            tracing.suspects.iter().all(|s| s.knot == Some(knot)),
            "{context}"
        );
        let inside = warp.evidence().in_knot(knot).unwrap();
        let inside = endsmeet::fault::trace(&inside).unwrap();
        assert!(
            !inside.counts_agree && !inside.suspects.is_empty(),
            "{context}"
        );
    }
}

#[test]
fn an_end_on_a_wrong_shaft_many_batches_back_is_found_by_lifting_that_shaft() {
    let mut dice = Dice::new(23);
    let (mut looks_made, mut most, runs) = (0, 0, if cfg!(debug_assertions) { 40 } else { 400 });
    for run in 0..runs {
        let draft = Draft::at_random(&mut dice);
        let ends = if run == 0 {
            10_000
        } else {
            dice.from(200, 2_000)
        };
        let at = dice.from(0, ends - 1);
        let taken = dice.from(1, usize::from(draft.shafts)) as u8;
        let own = warp(&draft, ends).0[at];
        if taken == own {
            continue;
        }
        let slip = Slip::Wrong(at, taken);
        let warp = Hanging::thread(&draft, ends, slip, Drift::KnotOnly).unwrap();
        let (tracing, looks) = follow(&warp);
        let context = format!("{draft:?} {slip:?} {looks:?} {tracing:?}");
        assert!(tracing.settled, "{context}");
        let found = &tracing.suspects[0];
        assert_eq!(found.kind, FaultKind::WrongShaft, "{context}");
        assert_eq!(
            found.calls,
            Calls::new(at as u32 + 1, at as u32 + 1).unwrap(),
            "{context}"
        );
        looks_made += looks.len();
        most = most.max(looks.len());
    }
    // halving the knots, then the few ends of that shaft in one knot
    assert!(most <= 24, "{most} looks");
    assert!(looks_made <= runs * 8, "{looks_made} looks in {runs}");
}

/// What a trace of two faults came to.
#[derive(Debug, Default)]
struct Several {
    cases: usize,
    /// Settled on one that is there: with the other one alone beside it the same would hang there.
    right: usize,
    wrong: usize,
    /// One knot is left, to be gone into or read back, and something is wrong in it.
    knot: usize,
    /// One knot is left in which nothing is wrong.
    wrong_knot: usize,
    /// Nothing was found at all.
    nowhere: usize,
    looks: usize,
}

/// A warp with two slips.
struct Slipped {
    draft: Draft,
    slips: [(Slip, Drift); 2],
    warp: Hanging,
}

/// A warp with two slips of any kind, each of which stays in its knot or goes on to the end.
fn two_slips(dice: &mut Dice) -> Option<Slipped> {
    let draft = Draft::at_random(dice);
    let size = draft.planned.len();
    let knots = dice.from(200, 1_000) / size;
    let mut one = || {
        let kind = dice.pick(&FaultKind::ALL);
        let slip = draft
            .slip(kind, dice)?
            .farther(dice.from(0, knots - 1) * size);
        let drift = if dice.coin() {
            Drift::KnotOnly
        } else {
            Drift::ToTheEnd
        };
        Some((slip, drift))
    };
    let slips = [one()?, one()?];
    let warp = Hanging::thread_several(&draft, knots * size, &slips)?;
    (!slips[0].0.meets(slips[1].0)).then_some(Slipped { draft, slips, warp })
}

/// Whether the warp would hang the same with this fault beside one of the slips, the last knot apart:
/// in a draft of seven, four calls threaded twice and three passed over stand alike up to there.
fn is_there(fault: &WarpSuspect, case: &Slipped) -> bool {
    let Slipped { draft, slips, warp } = case;
    let call = fault.calls.first;
    let own = Shaft(warp.planned[call.0 as usize - 1]);
    let size = draft.planned.len();
    let handful = || {
        let at = (call.0 as usize - 1) % size;
        let (from, to) = draft.handfuls().into_iter().find(|&(from, _)| from == at)?;
        Some(Fault::handful(fault.kind, call, (to - from) as i64))
    };
    let named = match fault.kind {
        FaultKind::HandfulSkipped | FaultKind::HandfulRepeated => handful(),
        FaultKind::WrongShaft => fault.taken.map(|taken| Fault::at(fault.kind, call, taken)),
        kind => Some(Fault::at(kind, call, own)),
    };
    let Some(named) = named.map(|fault| Slip::of(&fault, Call(1))) else {
        return false;
    };
    let hangs = |warp: &Hanging| {
        (
            warp.hanging,
            warp.hanging_after.map(|at| at.saturating_sub(1)),
        )
    };
    let upto = warp.filled.len() - 1;
    let stands = |named: Slip, drift: Drift, other: (Slip, Drift)| {
        let supposed = Hanging::thread_several(draft, warp.planned.len(), &[(named, drift), other]);
        supposed
            .is_some_and(|s| s.filled[..upto] == warp.filled[..upto] && hangs(&s) == hangs(warp))
    };
    slips.iter().any(|&other| {
        // a place is named by its heddle: after calls passed over, the call there is one farther on
        let by = usize::try_from(-other.0.heddles_more()).unwrap_or(0);
        let back = usize::try_from(other.0.heddles_more()).unwrap_or(0);
        [Drift::KnotOnly, Drift::ToTheEnd].into_iter().any(|drift| {
            [named, named.farther(by), named.nearer(back)]
                .into_iter()
                .any(|named| stands(named, drift, other))
        })
    })
}

/// Whether a knot (from 1) does not hang as planned.
fn is_off(warp: &Hanging, knot: u32) -> bool {
    let at = knot as usize - 1;
    let planned = warp.planned[warp.knots[at].indices()]
        .iter()
        .map(|&shaft| (shaft, 1));
    warp.hanging == Some(knot as usize) || !warp.filled[at].iter().copied().eq(planned)
}

/// Two faults along a warp: it must never settle on one that is not there. `ENDSMEET_WARPS=n` tries
/// n of them and prints what they came to.
#[allow(
    clippy::print_stdout,
    reason = "the figures are printed for whoever asks"
)]
#[test]
fn two_faults_along_a_warp_never_settle_on_one_that_is_not_there() {
    let mut dice = Dice::new(24);
    let wanted = std::env::var("ENDSMEET_WARPS").ok();
    let wanted = wanted.and_then(|n| n.parse().ok());
    let wanted = wanted.unwrap_or(if cfg!(debug_assertions) { 150 } else { 1_500 });
    let mut all = Several::default();
    while all.cases < wanted {
        let Some(case) = two_slips(&mut dice) else {
            continue;
        };
        let warp = &case.warp;
        let evidence = warp.evidence();
        let off = evidence.heddles_left.iter().flatten();
        if evidence.ends_left == 0 && off.clone().all(|n| *n == 0) || evidence.check().is_err() {
            continue;
        }
        let (tracing, looks) = follow(warp);
        all.cases += 1;
        all.looks += looks.len();
        let first = tracing.suspects.first();
        let knot = tracing.near.or(first.and_then(|suspect| suspect.knot));
        if let Some(found) = first.filter(|_| tracing.settled) {
            let right = is_there(found, &case);
            all.right += usize::from(right);
            all.wrong += usize::from(!right);
        } else if let Some(knot) = knot {
            all.knot += usize::from(is_off(warp, knot));
            all.wrong_knot += usize::from(!is_off(warp, knot));
        } else {
            all.nowhere += 1;
        }
    }
    println!(
        "two faults along a warp: {all:?}, {:.1} looks",
        all.looks as f64 / all.cases as f64
    );
    assert_eq!(all.wrong, 0, "settled where nothing is");
    assert_eq!(all.wrong_knot, 0, "led to a knot where nothing is");
    assert!(
        all.right * 2 > all.cases && all.nowhere * 8 < all.cases,
        "{all:?}"
    );
}

#[test]
fn a_warp_answer_that_the_others_contradict_is_doubted() {
    let draft = Draft {
        shafts: 4,
        planned: vec![1, 2, 3, 4, 1, 2, 3, 4],
        kind: "straight",
    };
    let warp = Hanging::thread(&draft, 160, Slip::Skip(83, 84), Drift::ToTheEnd).unwrap();
    let mut evidence = warp.evidence();
    let shaft = |call, shaft| WarpSeen::Shaft {
        call: Call(call),
        shaft: Some(Shaft(shaft)),
    };
    evidence.seen = vec![shaft(41, 1), shaft(121, 2), shaft(101, 4)];
    let tracing = trace_warp(&evidence).unwrap();
    assert_eq!(tracing.doubted, Some(shaft(101, 4)));
    assert!(!tracing.suspects.is_empty());
}

#[test]
fn a_warp_that_cannot_be_is_refused() {
    let draft = Draft {
        shafts: 4,
        planned: vec![1, 2, 3, 4],
        kind: "straight",
    };
    let warp = Hanging::thread(&draft, 16, Slip::Skip(3, 4), Drift::ToTheEnd).unwrap();
    let mut evidence = warp.evidence();
    evidence.ends_left = 17;
    assert_eq!(
        trace_warp(&evidence).unwrap_err(),
        Impossible::EndsLeft {
            left: 17,
            counted_out: 16,
            most: 16
        }
    );
    evidence = warp.evidence();
    evidence.seen.push(WarpSeen::OddKnot {
        first: 1,
        last: 4,
        odd: Some(9),
    });
    assert_eq!(
        trace_warp(&evidence).unwrap_err(),
        Impossible::KnotLacking { knot: 9, knots: 4 }
    );
    evidence = warp.evidence();
    evidence.planned.clear();
    assert_eq!(
        trace_warp(&evidence).unwrap_err(),
        Impossible::WarpLength { calls: 0 }
    );
}

fn shafts(list: &[u8]) -> Vec<Shaft> {
    list.iter().map(|&s| Shaft(s)).collect()
}

fn text(list: &[Shaft]) -> String {
    list.iter().map(|s| char::from(b'a' + s.0)).collect()
}

#[test]
fn a_skipped_heddle_shows_as_one_missing_and_not_as_everything_after_it_wrong() {
    let planned = shafts(&[1, 2, 3, 4, 1, 2, 3, 4]);
    let columns = read_back(&planned, &shafts(&[1, 2, 3, 1, 2, 3, 4]), false);
    assert_eq!(differences(&columns), 1);
    assert_eq!(columns[3], Column::Missing(Shaft(4)));
    let exchanged = read_back(&planned, &shafts(&[1, 2, 4, 3, 1, 2, 3, 4]), false);
    assert_eq!(exchanged[2], Column::Exchanged(Shaft(3), Shaft(4)));
}

#[test]
fn a_reading_that_stops_early_misses_nothing() {
    let planned = shafts(&[1, 2, 3, 4, 1, 2, 3, 4]);
    let columns = read_back(&planned, &shafts(&[1, 2, 2]), true);
    assert_eq!(differences(&columns), 1);
    assert_eq!(
        columns
            .iter()
            .filter(|c| matches!(c, Column::NotRead(_)))
            .count(),
        5
    );
}

proptest! {
    #[test]
    fn a_reading_has_as_few_differences_as_a_string_alignment_finds(
        planned in prop::collection::vec(1_u8..=6, 0..30),
        read in prop::collection::vec(1_u8..=6, 0..30),
    ) {
        let (planned, read) = (shafts(&planned), shafts(&read));
        let columns = read_back(&planned, &read, false);
        prop_assert_eq!(differences(&columns), strsim::osa_distance(&text(&planned), &text(&read)));
        // both lines can be read off the columns again
        let above = columns.iter().flat_map(|c| match *c {
            Column::Same(a) | Column::Other(a, _) | Column::Missing(a) | Column::NotRead(a) => vec![a],
            Column::Exchanged(a, b) => vec![a, b],
            Column::Extra(_) => vec![],
        });
        prop_assert_eq!(above.collect::<Vec<_>>(), planned);
        let below = columns.iter().flat_map(|c| match *c {
            Column::Same(b) | Column::Other(_, b) | Column::Extra(b) => vec![b],
            Column::Exchanged(a, b) => vec![b, a],
            Column::Missing(_) | Column::NotRead(_) => vec![],
        });
        prop_assert_eq!(below.collect::<Vec<_>>(), read);
    }
}
