//! A reed that does not come out, against a simulated reed that is sleyed dent by dent.

mod reality;

use endsmeet::fault::{
    Impossible, Move, ReedEvidence, ReedFault, ReedLook, ReedSeen, ReedSuspect, ReedTracing,
    WayKind, Work, mend_reed, trace_reed,
};
use endsmeet::quantity::{Call, Calls, Shaft};
use reality::dice::Dice;

/// A reed with the ends in each dent, by their number in the order of sleying.
#[derive(Debug, Clone, PartialEq)]
struct Reed {
    planned: Vec<u32>,
    shafts: Vec<u8>,
    dents: Vec<Vec<usize>>,
    ends_left: i64,
}

impl Reed {
    /// Sleys dent by dent with a slip at a dent; stops at the planned last dent, or goes on until
    /// all ends are in.
    fn sley(
        period: usize,
        planned: &[u32],
        shafts: &[u8],
        slip: (ReedFault, usize),
        goes_on: bool,
    ) -> Reed {
        let all: usize = planned.iter().map(|&n| n as usize).sum();
        let (mut order, mut next) = (0_usize, 0_usize);
        let mut dents: Vec<Vec<usize>> = Vec::new();
        let mut wanted = 0_i64;
        while dents.len() < planned.len() || (goes_on && next < all) {
            let here = dents.len();
            let slips = |kind| slip == (kind, here);
            if slips(ReedFault::DentSkipped) {
                dents.push(Vec::new());
                continue;
            }
            if slips(ReedFault::OrderAhead) {
                order += 1;
            }
            if slips(ReedFault::OrderBehind) {
                order -= 1;
            }
            let mut take = planned[order % period] as usize;
            take += usize::from(slips(ReedFault::EndTooMany));
            take -= usize::from(slips(ReedFault::EndTooFew));
            order += 1;
            wanted += take as i64;
            let got: Vec<usize> = (next..(next + take).min(all)).collect();
            next += got.len();
            dents.push(got);
        }
        if let (ReedFault::EndsCrossed, at) = slip {
            let first = dents[at][0];
            for end in dents.iter_mut().flatten() {
                *end = match *end {
                    e if e == first => first + 1,
                    e if e == first + 1 => first,
                    e => e,
                };
            }
        }
        let ends_left =
            if goes_on && next == all && wanted >= all as i64 && dents.len() > planned.len() {
                0
            } else {
                all as i64 - wanted
            };
        Reed {
            planned: planned.to_vec(),
            shafts: shafts.to_vec(),
            dents,
            ends_left,
        }
    }

    fn last_filled(dents: impl Iterator<Item = usize>) -> i64 {
        dents
            .enumerate()
            .filter(|&(_, n)| n > 0)
            .map(|(at, _)| at as i64)
            .max()
            .unwrap_or(-1)
    }

    fn report(&self) -> ReedEvidence {
        let planned = Reed::last_filled(self.planned.iter().map(|&n| n as usize));
        let stands = Reed::last_filled(self.dents.iter().map(Vec::len));
        ReedEvidence {
            dents: self.planned.clone(),
            shafts: self.shafts.iter().map(|&s| Shaft(s)).collect(),
            ends_left: self.ends_left,
            tape: Some(stands - planned),
            seen: Vec::new(),
        }
    }

    fn look(&self, look: ReedLook, slip: (ReedFault, usize)) -> ReedSeen {
        let dent = |dent: u32| &self.dents[dent as usize - 1];
        match look {
            ReedLook::FirstShaft { dent: asked } => {
                let shaft = dent(asked).first().map(|&end| Shaft(self.shafts[end]));
                ReedSeen::FirstShaft { dent: asked, shaft }
            }
            ReedLook::EndsInDent { dent: asked } => ReedSeen::EndsInDent {
                dent: asked,
                ends: dent(asked).len() as u32,
            },
            ReedLook::EmptyDent => {
                // what is empty beyond the last filled dent is not inside the warp
                let last = Reed::last_filled(self.dents.iter().map(Vec::len)) as usize;
                let gap = (0..=last).find(|&at| {
                    self.dents[at].is_empty() && self.planned.get(at).is_none_or(|&n| n > 0)
                });
                ReedSeen::EmptyDent {
                    dent: gap.map(|at| at as u32 + 1),
                }
            }
            ReedLook::Crossed => {
                let crossed = slip.0 == ReedFault::EndsCrossed;
                ReedSeen::Crossed {
                    dent: crossed.then_some(slip.1 as u32 + 1),
                }
            }
        }
    }
}

fn follow(reed: &Reed, slip: (ReedFault, usize)) -> (ReedTracing, Vec<ReedLook>) {
    let mut evidence = reed.report();
    let mut looks = Vec::new();
    loop {
        let tracing =
            trace_reed(&evidence).unwrap_or_else(|why| panic!("{why}: {slip:?} {reed:?}"));
        let Some(look) = tracing.look else {
            return (tracing, looks);
        };
        assert!(looks.len() < 60, "asks for ever: {looks:?} {slip:?}");
        looks.push(look);
        evidence.seen.push(reed.look(look, slip));
    }
}

fn plan(dice: &mut Dice) -> (usize, Vec<u32>, Vec<u8>) {
    let order: &[u32] = [
        &[1][..],
        &[2],
        &[1, 2],
        &[1, 1, 2],
        &[2, 3],
        &[2, 3, 3],
        &[2, 2, 0],
    ][dice.from(0, 6)];
    let periods = dice.from(4, 60);
    let planned: Vec<u32> = order
        .iter()
        .cycle()
        .take(order.len() * periods)
        .copied()
        .collect();
    let shafts = dice.from(4, 8);
    let ends = planned.iter().sum::<u32>() as usize;
    (
        order.len(),
        planned,
        (0..ends).map(|end| (end % shafts) as u8 + 1).collect(),
    )
}

const KINDS: [ReedFault; 5] = [
    ReedFault::DentSkipped,
    ReedFault::EndTooMany,
    ReedFault::EndTooFew,
    ReedFault::OrderAhead,
    ReedFault::OrderBehind,
];

fn slip(planned: &[u32], kind: ReedFault, dice: &mut Dice) -> Option<(ReedFault, usize)> {
    let at = dice.from(1, planned.len() - 2);
    let (before, here, next) = (planned[at - 1], planned[at], planned[at + 1]);
    let possible = match kind {
        ReedFault::DentSkipped | ReedFault::EndTooMany | ReedFault::EndsCrossed => here > 0,
        ReedFault::EndTooFew => here > 1,
        ReedFault::OrderAhead => next != here && next > 0,
        ReedFault::OrderBehind => before != here && before > 0,
    };
    possible.then_some((kind, at))
}

#[test]
fn every_fault_of_the_reed_that_leaves_a_trace_is_placed_by_halving() {
    let mut dice = Dice::new(31);
    let (mut cases, mut looks_taken) = (0, 0);
    while cases < if cfg!(debug_assertions) { 300 } else { 3_000 } {
        let (period, planned, shafts) = plan(&mut dice);
        let Some(slip) = slip(&planned, dice.pick(&KINDS), &mut dice) else {
            continue;
        };
        let reed = Reed::sley(period, &planned, &shafts, slip, dice.coin());
        let evidence = reed.report();
        if evidence.ends_left == 0 && evidence.tape == Some(0) {
            continue;
        }
        cases += 1;
        let (tracing, looks) = follow(&reed, slip);
        let context = format!("{slip:?} {planned:?} {looks:?} {tracing:?} {reed:?}");
        let first = tracing
            .suspects
            .first()
            .unwrap_or_else(|| panic!("no suspect: {context}"));
        // two faults that leave the same dents are one: the same is to be sleyed again
        let supposed = Reed::sley(
            period,
            &planned,
            &shafts,
            (first.kind, first.dent as usize - 1),
            true,
        );
        let stands = Reed::sley(period, &planned, &shafts, slip, true);
        assert_eq!(supposed.dents, stands.dents, "{context}");
        let halvings = (planned.len() as f64 * 2.0).log2().ceil() as usize;
        assert!(
            looks.len() <= halvings + 2,
            "{} looks: {context}",
            looks.len()
        );
        looks_taken += looks.len();
    }
    assert!(
        looks_taken < cases * 6,
        "{looks_taken} looks for {cases} cases"
    );
}

#[test]
fn crossed_ends_come_out_even_and_are_found_once_looked_for() {
    let shafts: Vec<u8> = (0..40).map(|end| end % 4 + 1).collect();
    let crossed = (ReedFault::EndsCrossed, 7);
    let reed = Reed::sley(1, &[2; 20], &shafts, crossed, false);
    let mut evidence = reed.report();
    let tracing = trace_reed(&evidence).unwrap();
    assert!(tracing.counts_agree && tracing.settled && tracing.suspects.is_empty());
    evidence.seen.push(reed.look(ReedLook::Crossed, crossed));
    let tracing = trace_reed(&evidence).unwrap();
    assert_eq!(
        (tracing.suspects[0].kind, tracing.suspects[0].dent),
        (ReedFault::EndsCrossed, 8)
    );
}

#[test]
fn a_skipped_dent_is_sleyed_again_from_there_on_and_crossed_ends_alone() {
    let evidence = ReedEvidence {
        dents: vec![2; 20],
        shafts: vec![Shaft(1); 40],
        ends_left: 2,
        tape: None,
        seen: vec![],
    };
    let calls = Calls::new(1, 40).unwrap();
    let work = Work {
        sleyed: vec![calls],
        ..Work::threading(Call(40))
    };
    let suspect = |kind, dent| ReedSuspect {
        kind,
        dent,
        share: 1.0,
    };
    let near = mend_reed(
        &evidence,
        &suspect(ReedFault::DentSkipped, 16),
        calls,
        &work,
    );
    assert_eq!(near[0].cost.ends_sley, 10);
    assert!(
        near[0]
            .moves
            .contains(&Move::Sley(Calls::new(31, 40).unwrap()))
    );
    let crossed = mend_reed(
        &evidence,
        &suspect(ReedFault::EndsCrossed, 16),
        calls,
        &work,
    );
    assert_eq!(crossed[0].cost.ends_sley, 2);
    assert_eq!(crossed[1].kind, WayKind::LeaveIt);
}

#[test]
fn a_reed_that_cannot_be_is_refused() {
    let mut evidence = ReedEvidence {
        dents: vec![2; 4],
        shafts: vec![Shaft(1); 8],
        ends_left: 9,
        tape: None,
        seen: vec![],
    };
    assert_eq!(
        trace_reed(&evidence).unwrap_err(),
        Impossible::EndsLeft {
            left: 9,
            counted_out: 8,
            most: 8
        }
    );
    evidence.ends_left = 2;
    evidence
        .seen
        .push(ReedSeen::EndsInDent { dent: 5, ends: 2 });
    assert_eq!(
        trace_reed(&evidence).unwrap_err(),
        Impossible::DentOutside {
            dent: 5,
            first: 1,
            last: 4
        }
    );
    evidence.dents.clear();
    assert_eq!(
        trace_reed(&evidence).unwrap_err(),
        Impossible::DentCount { dents: 0 }
    );
}
