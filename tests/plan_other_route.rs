//! The plan's arithmetic once more, by another route, over thousands of random plans: ends are laid out
//! one by one and counted, where the program divides and multiplies. Whole numbers only.

use endsmeet::plan::order::{best_order, exact_order, near_orders};
use endsmeet::plan::{
    BatchRule, DentEnds, Floats, Plan, Side, handfuls, read_spec, spec_value, threading, work_out,
};
use endsmeet::quantity::{Call, Calls, Fraction};
use proptest::prelude::*;

/// A random plan in whole numbers.
#[derive(Debug, Clone)]
struct Given {
    ends: u32,
    /// Sett as (ends, units).
    sett: (u32, u32),
    draft: Vec<u32>,
    floats: Floats,
    batch: Option<BatchRule>,
    thread_from: Side,
    sley_from: Side,
    reed: u32,
    edge_ends: u32,
    doubled: &'static str,
}

fn given() -> impl Strategy<Value = Given> {
    let sides = || prop_oneof![Just(Side::Right), Just(Side::Left)];
    let floats = prop_oneof![
        Just(Floats::None),
        Just(Floats::FromWarp),
        Just(Floats::Added)
    ];
    let batch = prop_oneof![
        Just(None),
        Just(Some(BatchRule::Group)),
        (1_u32..=64).prop_map(|n| Some(BatchRule::Number(n))),
    ];
    let draft = prop::collection::vec(1_u32..=8, 1..20);
    let doubled = prop_oneof![Just("dent"), Just("heddle"), Just("both")];
    let first = (40_u32..1500, (2_u32..60, 1_u32..5), draft, floats, batch);
    let second = (sides(), sides(), 4_u32..20, 0_u32..8, doubled);
    (first, second).prop_map(
        |((ends, sett, draft, floats, batch), (thread_from, sley_from, reed, half, doubled))| {
            Given {
                ends,
                sett,
                draft,
                floats,
                batch,
                thread_from,
                sley_from,
                reed,
                edge_ends: half * 2,
                doubled,
            }
        },
    )
}

fn side(side: Side) -> &'static str {
    if side == Side::Right { "right" } else { "left" }
}

fn text(g: &Given) -> String {
    let list = |n: &[u32]| n.iter().map(u32::to_string).collect::<Vec<_>>().join(" ");
    let floats = match g.floats {
        Floats::None => "none",
        Floats::FromWarp => "from-warp",
        Floats::Added => "added",
    };
    let batch = match g.batch {
        None => "null".to_owned(),
        Some(BatchRule::Repeat) => "\"repeat\"".to_owned(),
        Some(BatchRule::Group) => "\"group\"".to_owned(),
        Some(BatchRule::Number(n)) => n.to_string(),
    };
    format!(
        r#"{{"title": "t", "sett": "{}/{}", "ends": {}, "threading": "{}", "floating_selvedges": "{floats}",
        "batch": {batch}, "thread_from": "{}", "sley_from": "{}", "loom": {{"shafts": 8}},
        "edges": {{"ends": {}, "doubled": "{}"}}, "reeds": [{{"dents": {}, "length": {}}}]}}"#,
        g.sett.0,
        g.sett.1,
        g.ends,
        list(&g.draft),
        side(g.thread_from),
        side(g.sley_from),
        g.edge_ends,
        g.doubled,
        g.reed,
        39_999 / g.reed
    )
}

fn plan(g: &Given) -> Option<Plan> {
    work_out(&read_spec(&text(g)).expect("a random plan reads")).plan()
}

/// The heddle of each call, counted from 0: laid out end by end.
fn heddle_of_calls(g: &Given, calls: u32) -> Vec<u32> {
    let pairs = g.doubled != "dent";
    let mut heddle = 0;
    let mut found: Vec<u32> = Vec::new();
    for i in 0..calls {
        let (before, after) = (i, calls - 1 - i);
        let shares = pairs
            && ((before < g.edge_ends && before % 2 == 1)
                || (after < g.edge_ends && after % 2 == 0));
        if i > 0 && !shares {
            heddle += 1;
        }
        found.push(heddle);
    }
    found
}

/// Which counting-thread group each wound end falls into: end i (from 0) lies at i / sett units, and the
/// crossing of group k stands before the first end at or past floor(k x sett) ends.
fn group_of_ends(g: &Given) -> Vec<u32> {
    let (num, den) = (u64::from(g.sett.0), u64::from(g.sett.1));
    let mut group = 1_u64;
    let mut found = Vec::new();
    for i in 0..u64::from(g.ends) {
        while i >= group * num / den {
            group += 1;
        }
        found.push(u32::try_from(group).expect("few groups"));
    }
    found
}

fn check(g: &Given, plan: &Plan) -> Result<(), TestCaseError> {
    let from_warp = u32::from(g.floats == Floats::FromWarp);
    let calls = g.ends - 2 * from_warp;
    let heddle = heddle_of_calls(g, calls);
    prop_assert_eq!(plan.heddled_ends(), calls);
    // The threading, one heddle after the other.
    for (i, shaft) in plan.threading.iter().enumerate() {
        let wanted = g.draft[heddle[i] as usize % g.draft.len()];
        prop_assert_eq!(u32::from(shaft.0), wanted, "call {}", i + 1);
    }
    // Heddles: distinct heddles of each shaft, a set and not a sum.
    for shaft in 1..=8_u32 {
        let set: std::collections::BTreeSet<u32> = (0..calls as usize)
            .filter(|&i| u32::from(plan.threading[i].0) == shaft)
            .map(|i| heddle[i])
            .collect();
        prop_assert_eq!(plan.heddles.needed[shaft as usize - 1] as usize, set.len());
    }
    groups(g, plan, calls)?;
    batches(plan, &heddle, calls)?;
    dents(g, plan, calls)?;
    places(g, plan, calls)
}

fn groups(g: &Given, plan: &Plan, calls: u32) -> Result<(), TestCaseError> {
    let of_end = group_of_ends(g);
    let from_warp = u32::from(g.floats == Floats::FromWarp);
    let ends: u32 = plan.groups.iter().map(|x| x.ends).sum();
    let heddled: u32 = plan.groups.iter().map(|x| x.calls.len()).sum();
    prop_assert_eq!((ends, heddled), (g.ends, calls));
    let lone = |n: u32| of_end.iter().filter(|&&x| x == n).count() == 1;
    let last = of_end.last().copied().unwrap_or(1);
    if from_warp == 0 || !(lone(1) || lone(last)) {
        for call in 1..=calls {
            let wanted = of_end[(call - 1 + from_warp) as usize];
            prop_assert_eq!(
                plan.group_of(Call(call)).map(|x| x.number),
                Some(wanted),
                "call {}",
                call
            );
        }
    }
    // Every end of every group has a space, and no space holds more than sett / spaces rounded up.
    let most = u64::from(g.sett.0).div_ceil(u64::from(g.sett.1) * 2);
    let mut in_space = std::collections::BTreeMap::new();
    for share in &plan.raddle.groups {
        for &(space, n) in &share.spaces {
            *in_space.entry(space).or_insert(0_u64) += u64::from(n);
        }
    }
    prop_assert_eq!(in_space.values().sum::<u64>(), u64::from(g.ends));
    prop_assert!(
        in_space.values().all(|&n| n <= most),
        "{:?} most {}",
        in_space,
        most
    );
    // Bundles are the groups, each once; every one stands beside what is tied already.
    let mut tied: Vec<u32> = Vec::new();
    for bundle in &plan.bundles {
        let beside = tied.is_empty() || tied.iter().any(|t| t.abs_diff(bundle.group) == 1);
        prop_assert!(beside, "bundle of group {}", bundle.group);
        tied.push(bundle.group);
    }
    tied.sort_unstable();
    let all: Vec<u32> = plan.groups.iter().map(|x| x.number).collect();
    prop_assert_eq!(tied, all);
    Ok(())
}

fn batches(plan: &Plan, heddle: &[u32], calls: u32) -> Result<(), TestCaseError> {
    let mut next = 1;
    for (i, batch) in plan.batches.iter().enumerate() {
        prop_assert_eq!(batch.number as usize, i + 1);
        prop_assert_eq!(batch.calls.first.0, next);
        next = batch.calls.last.0 + 1;
        let set: std::collections::BTreeSet<u32> =
            batch.calls.indices().map(|i| heddle[i]).collect();
        prop_assert_eq!(
            batch.heddles.iter().sum::<u32>() as usize,
            set.len(),
            "heddles never split"
        );
        let run = &plan.threading[batch.calls.indices()];
        let handfuls = handfuls(run);
        prop_assert_eq!(
            handfuls.iter().map(|&n| u32::from(n)).sum::<u32>(),
            batch.calls.len()
        );
        prop_assert!(handfuls.iter().all(|n| (1..=4).contains(n)));
        let last = i + 1 == plan.batches.len();
        match plan.batch_rule {
            BatchRule::Number(n) if !last => prop_assert_eq!(set.len(), n as usize),
            BatchRule::Repeat if !last => {
                let repeat = plan.repeat.expect("a repeat") as usize;
                prop_assert_eq!(set.len() % repeat, 0);
            }
            BatchRule::Group => prop_assert!(batch.calls.len() <= 17),
            BatchRule::Number(_) | BatchRule::Repeat => {}
        }
    }
    prop_assert_eq!(next, calls + 1);
    Ok(())
}

fn dents(g: &Given, plan: &Plan, calls: u32) -> Result<(), TestCaseError> {
    let same = g.thread_from == g.sley_from;
    // Calls in the order of sleying run up, or down where the sides differ.
    let mut seen = Vec::new();
    for dent in &plan.sley.dents {
        if let DentEnds::Calls(run) = dent.ends {
            let mut here: Vec<u32> = (run.first.0..=run.last.0).collect();
            if !same {
                here.reverse();
            }
            seen.extend(here);
        }
    }
    let mut wanted: Vec<u32> = (1..=calls).collect();
    if !same {
        wanted.reverse();
    }
    prop_assert_eq!(seen, wanted);
    let floats: Vec<usize> = plan
        .sley
        .dents
        .iter()
        .enumerate()
        .filter(|(_, d)| matches!(d.ends, DentEnds::Float { .. }))
        .map(|(i, _)| i)
        .collect();
    if g.floats == Floats::None {
        prop_assert!(floats.is_empty());
    } else {
        prop_assert_eq!(floats, [0, plan.sley.dents.len() - 1]);
    }
    // Numbers run on, centred: the spare dents on either side differ by at most one, more at the far side.
    let first = plan.sley.dents[0].number;
    for (dent, number) in plan.sley.dents.iter().zip(first..) {
        prop_assert_eq!(dent.number, number);
    }
    let last = first + u32::try_from(plan.sley.dents.len()).expect("few") - 1;
    let (before, after) = (first - 1, plan.sley.reed_total - last);
    prop_assert!(
        after == before || after == before + 1,
        "{} before, {} after",
        before,
        after
    );
    // Without doubled edges each dent holds the order's number; only the last may hold less.
    if g.edge_ends == 0 || g.doubled == "heddle" {
        let filled: Vec<u32> = plan
            .sley
            .dents
            .iter()
            .filter_map(|d| match d.ends {
                DentEnds::Calls(run) => Some(run.len()),
                DentEnds::Empty => Some(0),
                DentEnds::Float { .. } => None,
            })
            .collect();
        let skip = plan.sley.order.iter().take_while(|&&n| n == 0).count();
        let order = plan.sley.order.iter().cycle().skip(skip);
        for (i, (here, wanted)) in filled.iter().zip(order).enumerate() {
            let part = i + 1 == filled.len() && here <= wanted;
            prop_assert!(
                here == wanted || part,
                "dent {} holds {} of {}",
                i,
                here,
                wanted
            );
        }
    }
    Ok(())
}

fn places(g: &Given, plan: &Plan, calls: u32) -> Result<(), TestCaseError> {
    let floats = u32::from(g.floats != Floats::None);
    prop_assert_eq!(plan.positions(), calls + 2 * floats);
    for call in [1, 2, calls / 2 + 1, calls] {
        let position = plan.position_of(Call(call)).expect("a place");
        prop_assert_eq!(plan.call_at(position), Some(Call(call)));
        let from_right = match g.thread_from {
            Side::Right => floats + call,
            Side::Left => floats + (calls - call + 1),
        };
        prop_assert_eq!(position.0, from_right);
        let dent = plan.dent_of(Call(call)).expect("a dent");
        let tape = plan.tape_of_dent(dent).expect("a place on the tape");
        prop_assert!(tape > plan.sley.from_reed_edge);
    }
    prop_assert_eq!(plan.position_of(Call(calls + 1)), None);
    let whole = Calls::new(1, calls).expect("calls");
    let (first, last) = plan.dents_of_calls(whole).expect("dents");
    prop_assert_eq!(first, plan.sley.first_dent);
    prop_assert_eq!(last - first + 1, plan.sley.heddled_dents);
    Ok(())
}

fn cases(usual: u32) -> ProptestConfig {
    let wanted = std::env::var("PLAN_CASES")
        .ok()
        .and_then(|n| n.parse().ok());
    ProptestConfig {
        cases: wanted.unwrap_or(usual),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn both_routes_agree_on_random_plans(g in given()) {
        let figures = work_out(&read_spec(&text(&g)).expect("a random plan reads"));
        let Some(plan) = figures.plan() else {
            let typed = u32::try_from(g.draft.len()).expect("short");
            let bare = g.edge_ends * 2 > g.ends - 2 || typed > g.ends / 2 || g.sett.0 < g.sett.1;
            prop_assert!(bare, "refused: {:?}", figures.problems);
            return Ok(());
        };
        check(&g, &plan)?;
        // What is stored reads back as the same plan.
        let again = work_out(&read_spec(&spec_value(&figures.spec).to_string()).expect("reads back"));
        prop_assert_eq!(again.plan(), Some(plan));
    }

    #[test]
    fn another_batch_rule_from_a_call_on_keeps_what_lies_before(g in given(), at in 0.0_f64..1.0, n in 1_u32..=64) {
        let Some(plan) = plan(&g) else { return Ok(()) };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let from = 1 + (at * f64::from(plan.heddled_ends() - 1)) as u32;
        let changed = plan.rebatched(BatchRule::Number(n), Call(from));
        let mut next = 1;
        for (batch, number) in changed.batches.iter().zip(1..) {
            prop_assert_eq!((batch.number, batch.calls.first.0), (number, next));
            next = batch.calls.last.0 + 1;
        }
        prop_assert_eq!(next, plan.heddled_ends() + 1);
        prop_assert!(changed.batches.iter().any(|b| b.calls.first.0 == from));
        let sum = |p: &Plan| -> u32 { p.batches.iter().flat_map(|b| b.heddles.clone()).sum() };
        prop_assert_eq!(sum(&changed), sum(&plan));
        for (old, new) in plan.batches.iter().zip(&changed.batches).take_while(|(o, _)| o.calls.last.0 < from) {
            prop_assert_eq!(old, new);
        }
    }

    #[test]
    fn a_sley_order_gives_its_sett_evenly_and_in_the_shortest_period(ends in 1_i64..400, reed in 1_i64..60, den in 1_i64..8) {
        let (sett, reed) = (Fraction::new(ends, den).expect("a sett"), Fraction::whole(reed));
        let Some(order) = exact_order(sett, reed) else { return Ok(()) };
        let n = order.dents.len();
        let sum: u32 = order.dents.iter().sum();
        prop_assert_eq!(Fraction::from(sum).times(reed), sett.times(Fraction::whole(i64::try_from(n).expect("short"))));
        prop_assert_eq!(threading::smallest_period(&order.dents.repeat(2)), n, "no shorter period");
        for len in 1..n {
            let window = |at: usize| -> u32 { (at..at + len).map(|i| order.dents[i % n]).sum() };
            let sums: Vec<u32> = (0..n).map(window).collect();
            let apart = sums.iter().max().expect("some") - sums.iter().min().expect("some");
            prop_assert!(apart <= 1, "windows of {} in {:?}", len, order.dents);
        }
    }

    #[test]
    fn no_order_of_eight_dents_comes_nearer_than_the_near_ones(ends in 1_i64..400, reed in 1_i64..60) {
        let (sett, reed) = (Fraction::whole(ends), Fraction::whole(reed));
        let q = sett.over(reed).expect("a quotient");
        if q > Fraction::whole(60) || q < Fraction::new(1, 8).expect("an eighth") { return Ok(()) }
        let (below, above) = near_orders(sett, reed);
        let (below, above) = (below.expect("a looser one"), above.expect("a closer one"));
        prop_assert!(below.sett <= sett && sett <= above.sett);
        for period in 1..=8_i64 {
            for total in 1..=61 * period {
                let gives = Fraction::new(total, period).and_then(|m| m.times(reed)).expect("fits");
                prop_assert!(gives <= below.sett || gives >= above.sett, "{} lies between", gives);
            }
        }
        let best = best_order(sett, reed).expect("an order");
        prop_assert!(best == below || best == above);
    }
}
