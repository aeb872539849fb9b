//! Every way of mending, made on the simulated loom, gives the planned threading (or exactly the
//! amended plan), in the order of the lease, for the cost that was said.

mod reality;

use endsmeet::fault::{Evidence, Fault, FaultKind, MendingId, Suspect, Way, WayKind, Work, mend};
use endsmeet::quantity::{Call, Calls, Shaft};
use reality::dice::Dice;
use reality::draft::Draft;
use reality::repair::Repair;
use reality::{Loom, Slip, Weaver};

fn suspect(faults: Vec<Fault>) -> Suspect {
    Suspect {
        faults,
        first_wrong: None,
        share: 1.0,
        mending: MendingId(1),
    }
}

/// The fault that a slip is called; its places count from `first`.
fn fault(slip: Slip, planned: &[u8], first: u32) -> Fault {
    let call = |k: usize| Call(first + k as u32);
    let shaft = |k: usize| Shaft(planned[k]);
    match slip {
        Slip::Skip(a, b) if b - a == 1 => Fault::at(FaultKind::PositionSkipped, call(a), shaft(a)),
        Slip::Repeat(a, b) if b - a == 1 => {
            Fault::at(FaultKind::PositionRepeated, call(a), shaft(a))
        }
        Slip::Skip(a, b) => Fault::handful(FaultKind::HandfulSkipped, call(a), (b - a) as i64),
        Slip::Repeat(a, b) => Fault::handful(FaultKind::HandfulRepeated, call(a), (b - a) as i64),
        Slip::Double(k) => Fault::at(FaultKind::EndsDoubled, call(k), shaft(k)),
        Slip::Hang(k) => Fault::at(FaultKind::EndHanging, call(k), shaft(k)),
        Slip::Wrong(k, s) => Fault::at(FaultKind::WrongShaft, call(k), Shaft(s)),
        Slip::PassEmpty(_, s) | Slip::ThroughTwo(_, s) => {
            Fault::of_shaft(FaultKind::HeddlePassed, Shaft(s), 1)
        }
        Slip::EndsOut(d) => Fault::ends(d),
        Slip::HeddlesOut(s, d) => Fault::of_shaft(FaultKind::HeddlesMiscounted, Shaft(s), d),
        Slip::Exchange(k) => Fault {
            kind: FaultKind::NeighboursExchanged,
            call: Some(call(k)),
            shaft: None,
            count: 1,
        },
        Slip::Cross(_) | Slip::BesideEye(_) => {
            unreachable!("no count and no look at shafts shows it")
        }
    }
}

fn holds(loom: &Loom, way: &Way, context: &str) {
    if way.kind == WayKind::LeaveIt {
        return;
    }
    let repair = Repair::make(loom, way).unwrap_or_else(|why| panic!("{why}\n{way:?}\n{context}"));
    let after = &repair.loom;
    assert!(
        after.is_as_planned(),
        "not as planned: {after:?}\n{way:?}\n{context}"
    );
    assert!(
        repair.in_lease_order(),
        "ends cross: {after:?}\n{way:?}\n{context}"
    );
    assert!(
        way.kind == WayKind::AmendPlan || repair.warp_comes_out(),
        "ends over or short at the far edge: {repair:?}\n{way:?}\n{context}"
    );
    assert!(
        repair.cost_as_said(&way.cost),
        "{:?} was done\n{way:?}\n{context}",
        repair.done
    );
    match way.kind {
        WayKind::ThreadAgain | WayKind::FromTheFault | WayKind::OnTheSpot => {
            assert!(
                after.passed.is_empty(),
                "a heddle stays passed: {way:?}\n{context}"
            );
        }
        WayKind::PutCountRight => {
            assert_eq!(after.ends_out, 0, "{context}");
            assert!(after.heddles_out.iter().all(|&by| by == 0), "{context}");
        }
        _ => {}
    }
}

fn cases() -> usize {
    if cfg!(debug_assertions) {
        2_000
    } else {
        40_000
    }
}

/// One slip or two that do not touch the same call.
fn slips(draft: &Draft, dice: &mut Dice) -> Vec<Slip> {
    let kinds = [dice.pick(&FaultKind::ALL), dice.pick(&FaultKind::ALL)];
    let one = draft.slip(kinds[0], dice);
    let two = draft.slip(kinds[1], dice).filter(|_| dice.coin());
    match (one, two) {
        (Some(a), Some(b)) if !a.meets(b) => vec![a, b],
        (Some(a), _) => vec![a],
        (None, Some(b)) => vec![b],
        (None, None) => vec![],
    }
}

#[test]
fn every_way_for_a_batch_just_threaded_gives_the_plan() {
    let mut dice = Dice::new(11);
    let mut tried = 0;
    while tried < cases() * 3 {
        let draft = Draft::at_random(&mut dice);
        let slips = slips(&draft, &mut dice);
        let weaver = if dice.coin() {
            Weaver::Stops
        } else {
            Weaver::GoesOn
        };
        let Some(loom) = Loom::thread(&draft.planned, draft.shafts, &slips, weaver) else {
            continue;
        };
        if slips.is_empty() {
            continue;
        }
        let evidence = loom.report(Call(1));
        let faults: Vec<Fault> = slips
            .iter()
            .map(|&slip| fault(slip, &draft.planned, 1))
            .collect();
        // a weaver who stopped early never came to a second slip
        let supposed = loom.if_these_were_the_faults(&faults, Call(1));
        let reached = |slip: &Slip| match *slip {
            Slip::Repeat(a, _) | Slip::Hang(a) => a <= loom.made,
            other => other.span().is_none_or(|(_, b)| b <= loom.made),
        };
        if !slips.iter().all(reached)
            || !supposed.is_some_and(|supposed| supposed.same_to_mend(&loom))
        {
            continue;
        }
        tried += 1;
        let work = Work::threading(Call(loom.made as u32));
        let ways = mend(&evidence, &suspect(faults), &work);
        let context = format!("{draft:?} {slips:?} {weaver:?}");
        let miscounts = slips.iter().all(|s| s.span().is_none());
        let first = if miscounts {
            WayKind::PutCountRight
        } else {
            WayKind::ThreadAgain
        };
        if loom.filled.is_empty() {
            continue;
        }
        assert_eq!(ways[0].kind, first, "{context}");
        ways.iter().for_each(|way| holds(&loom, way, &context));
    }
}

#[test]
fn every_way_for_a_fault_found_batches_later_gives_the_plan() {
    let mut dice = Dice::new(12);
    let mut tried = 0;
    while tried < cases() {
        let draft = Draft::at_random(&mut dice);
        let n = draft.planned.len();
        let Some(slip) = draft.slip(dice.pick(&FaultKind::ALL), &mut dice) else {
            continue;
        };
        if slip.span().is_none() {
            continue;
        }
        let whole: Vec<u8> = draft.planned.iter().cycle().take(n * 4).copied().collect();
        let moved = moved_on(slip, n);
        let loom = Loom::thread(&whole, draft.shafts, &[moved], Weaver::GoesOn).unwrap();
        tried += 1;
        let first = n as u32 + 1;
        let planned = draft.planned.iter().map(|&s| Shaft(s)).collect();
        let even = vec![0; draft.shafts as usize];
        let evidence = Evidence::report(Call(first), planned, draft.shafts, n as u32, 0, even);
        let faults = vec![fault(slip, &draft.planned, first)];
        let ways = mend(
            &evidence,
            &suspect(faults),
            &Work::threading(Call(4 * n as u32)),
        );
        let context = format!("{draft:?} {moved:?}");
        for way in ways.iter().filter(|way| way.kind != WayKind::AmendPlan) {
            holds(&loom, way, &context);
        }
        let seconds: Vec<f64> = ways
            .iter()
            .filter(|w| !w.moves.is_empty() && w.kind != WayKind::AmendPlan)
            .map(|w| w.cost.seconds)
            .collect();
        assert!(seconds.is_sorted(), "{context} {seconds:?}");
    }
}

fn moved_on(slip: Slip, by: usize) -> Slip {
    match slip {
        Slip::Skip(a, b) => Slip::Skip(a + by, b + by),
        Slip::Repeat(a, b) => Slip::Repeat(a + by, b + by),
        Slip::Double(k) => Slip::Double(k + by),
        Slip::Hang(k) => Slip::Hang(k + by),
        Slip::Wrong(k, s) => Slip::Wrong(k + by, s),
        Slip::PassEmpty(k, s) => Slip::PassEmpty(k + by, s),
        Slip::ThroughTwo(k, s) => Slip::ThroughTwo(k + by, s),
        Slip::Exchange(k) => Slip::Exchange(k + by),
        other => other,
    }
}

#[test]
fn an_end_on_the_wrong_shaft_after_tying_on_costs_one_end_one_dent_and_one_bundle() {
    let planned: Vec<Shaft> = [1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4].map(Shaft).to_vec();
    let evidence = Evidence::report(Call(49), planned, 4, 12, 0, vec![0; 4]);
    let wrong = suspect(vec![Fault::at(FaultKind::WrongShaft, Call(54), Shaft(3))]);
    let bundle = |first, last| Calls::new(first, last).unwrap();
    let work = Work {
        threaded_to: Call(240),
        all_threaded: true,
        sleyed: vec![Calls::new(1, 240).unwrap()],
        sleyed_upwards: true,
        reed_may_move: true,
        tied: vec![bundle(41, 60), bundle(61, 80), bundle(81, 100)],
        seconds_per_end: 10.0,
    };
    let ways = mend(&evidence, &wrong, &work);
    assert_eq!(ways[0].kind, WayKind::OnTheSpot);
    let cost = ways[0].cost;
    assert_eq!((cost.ends_out, cost.ends_thread, cost.ends_sley), (1, 1, 1));
    assert_eq!(
        (cost.bundles, cost.repair_heddles, cost.ends_added),
        (1, 1, 0)
    );
}

#[test]
fn a_skipped_call_after_sleying_moves_the_reed_to_the_nearer_edge() {
    let planned: Vec<Shaft> = [1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4].map(Shaft).to_vec();
    let evidence = Evidence::report(Call(49), planned, 4, 12, 0, vec![0; 4]);
    let skipped = suspect(vec![Fault::at(
        FaultKind::PositionSkipped,
        Call(54),
        Shaft(2),
    )]);
    let work = Work {
        threaded_to: Call(240),
        all_threaded: true,
        sleyed: vec![Calls::new(1, 240).unwrap()],
        sleyed_upwards: true,
        reed_may_move: true,
        tied: vec![],
        seconds_per_end: 10.0,
    };
    let ways = mend(&evidence, &skipped, &work);
    let spot = ways
        .iter()
        .find(|way| way.kind == WayKind::OnTheSpot)
        .unwrap();
    assert_eq!(
        (
            spot.cost.ends_sley,
            spot.cost.repair_heddles,
            spot.cost.ends_added
        ),
        (54, 1, 1)
    );
    let edge = ways
        .iter()
        .find(|way| way.kind == WayKind::ToTheFirstEdge)
        .unwrap();
    assert_eq!(
        (
            edge.cost.ends_out,
            edge.cost.ends_thread,
            edge.cost.ends_sley
        ),
        (53, 54, 54)
    );
    let back = ways
        .iter()
        .find(|way| way.kind == WayKind::FromTheFault)
        .unwrap();
    assert_eq!((back.cost.ends_out, back.cost.ends_sley), (186, 187));
}
