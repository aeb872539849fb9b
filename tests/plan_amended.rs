//! A plan changed in the middle of a dressing, and how a warp is wound.

use endsmeet::plan::wind::{wind, wound_by_colour};
use endsmeet::plan::{BatchRule, Plan, Problem, Side, read_spec, work_out};
use endsmeet::quantity::{Call, Fraction};

const RUNNER: &str = include_str!("../assets/demo/hall-runner.json");
const BLANKET: &str = include_str!("../assets/demo/winter-blanket.json");
const SCARF: &str = include_str!("../assets/demo/open-scarf.json");

fn plan(text: &str) -> Plan {
    work_out(&read_spec(text).expect("reads"))
        .plan()
        .expect("fits")
}

fn says(problems: &[Problem]) -> Vec<String> {
    problems.iter().map(ToString::to_string).collect()
}

fn shafts(plan: &Plan) -> Vec<u8> {
    plan.threading.iter().map(|s| s.0).collect()
}

/// Whatever was changed, the parts still add up to the whole.
fn adds_up(plan: &Plan) {
    let calls = plan.heddled_ends();
    let sum = |n: &mut dyn Iterator<Item = u32>| n.sum::<u32>();
    assert_eq!(sum(&mut plan.batches.iter().map(|b| b.calls.len())), calls);
    assert_eq!(sum(&mut plan.groups.iter().map(|g| g.calls.len())), calls);
    assert_eq!(sum(&mut plan.bundles.iter().map(|b| b.calls.len())), calls);
    let needed = sum(&mut plan.heddles.needed.iter().copied());
    assert_eq!(
        sum(&mut plan.batches.iter().flat_map(|b| b.heddles.clone())),
        needed
    );
    assert_eq!(
        sum(&mut plan.stripes.iter().map(|s| s.last - s.first + 1)),
        plan.ends
    );
}

#[test]
fn the_draft_is_changed_from_here_on() {
    let before = plan(RUNNER).with_heddles(&[100; 4]).unwrap();
    let after = before.rethreaded(Call(25), "1 2 3 4").unwrap();
    adds_up(&after);
    assert_eq!(shafts(&after)[..24], shafts(&before)[..24]);
    assert_eq!(shafts(&after)[24..32], [1, 2, 3, 4, 1, 2, 3, 4]);
    assert_eq!(after.batches[..2], before.batches[..2]);
    assert_eq!(
        (after.sley.clone(), after.groups.clone()),
        (before.sley.clone(), before.groups.clone())
    );
    assert_eq!(
        (after.repeat, after.batches[2].heddles.clone()),
        (Some(4), vec![3, 3, 3, 3])
    );
    // Without a repeat in the new part the batches go by groups.
    let plain = before
        .rethreaded(Call(25), &format!("{} 1", "1 2 3 4 ".repeat(63)))
        .unwrap();
    assert_eq!(plain.repeat, Some(4));
    let once = before.rethreaded(
        Call(41),
        &format!("{}{}", "1 ".repeat(78), "4 3 2 ".repeat(53)),
    );
    assert_eq!(
        once.map(|p| (p.repeat, p.batch_rule)),
        Ok((None, BatchRule::Group))
    );
    // What the rest of the batch that is cut in two keeps is counted anew.
    let inside = before.rethreaded(Call(30), "4 3 2 1").unwrap();
    adds_up(&inside);
    assert_eq!(
        (
            inside.batches[2].calls.first.0,
            inside.batches[2].calls.last.0
        ),
        (25, 29)
    );
    assert_eq!(inside.batches[3].calls.first.0, 30);
}

#[test]
fn heddles_that_hold_two_are_counted_once_where_the_draft_changes() {
    let (none, four) = ("\"ends\": 0, \"doubled\"", "\"ends\": 4, \"doubled\"");
    let doubled = RUNNER.replace(none, four).replace("\"dent\"", "\"heddle\"");
    let doubled = doubled.replace("(1 2 3 4 3 2) x46 1", "1 2 3 4 3 2");
    let before = plan(&doubled).with_heddles(&[100; 4]).unwrap();
    assert!(before.doubled.iter().any(|call| call.0 < 25));
    let after = before.rethreaded(Call(25), "1 2 3 4").unwrap();
    adds_up(&after);
    assert_eq!(shafts(&after)[..24], shafts(&before)[..24]);
    assert_eq!(shafts(&after)[24..32], [1, 2, 3, 4, 1, 2, 3, 4]);
}

#[test]
fn a_change_that_does_not_fit_is_refused_with_the_figure() {
    let before = plan(RUNNER);
    assert_eq!(
        says(&before.rethreaded(Call(25), "1 2 q").unwrap_err()),
        ["threading: 'q' at character 5; expected a number, ( ) or x\n  1 2 q\n      ^"]
    );
    assert_eq!(
        says(&before.rethreaded(Call(270), "(1 2 3 4) x3").unwrap_err()),
        ["threading: 12 ends for 8 ends in heddles; take 4 out, or wind 4 more"]
    );
    assert_eq!(
        says(&before.rethreaded(Call(25), "1").unwrap_err()),
        [
            "needs 257 heddles on shaft 1, 60 there: move 92 from shaft 2, which has 92 to spare; move 92 from shaft 3, which has 92 to spare; move 13 from shaft 4, which has 56 to spare"
        ]
    );
    assert_eq!(
        says(&before.rethreaded(Call(25), "2 5 3").unwrap_err()),
        ["threading, number 26: shaft 5, and the loom has 4; use shafts 1 to 4, or a loom with 5"]
    );
    assert_eq!(
        says(&before.with_ends(30, Call(41)).unwrap_err()),
        ["ends: found 30; expected 40 to 100000"]
    );
    assert_eq!(
        says(&before.with_heddles(&[1, 2]).unwrap_err()),
        ["loom.heddles: a list of 2; expected 4, one for each shaft"]
    );
}

#[test]
fn an_end_is_short_or_one_is_found() {
    for demo in [RUNNER, BLANKET, SCARF] {
        let before = plan(demo);
        for ends in [
            before.ends - 1,
            before.ends - 25,
            before.ends + 1,
            before.ends + 9,
        ] {
            let after = before.with_ends(ends, Call(25)).unwrap();
            adds_up(&after);
            assert_eq!(after.ends, ends);
            let kept = before.heddled_ends().min(after.heddled_ends()) as usize;
            assert_eq!(shafts(&after)[..kept], shafts(&before)[..kept]);
            assert_eq!(after.batches[0], before.batches[0]);
        }
    }
    // The draft goes on where ends are found: the runner's repeat is 1 2 3 4 3 2.
    let more = plan(RUNNER).with_ends(280, Call(1)).unwrap();
    assert_eq!(shafts(&more)[274..], [3, 2, 1, 2, 3, 4]);
}

#[test]
fn sleying_from_the_other_side_turns_the_dents_round_and_nothing_else() {
    let before = plan(RUNNER);
    let after = before.sleyed_from(Side::Right).unwrap();
    adds_up(&after);
    assert_eq!(
        (after.batches.clone(), after.heddles.clone()),
        (before.batches.clone(), before.heddles.clone())
    );
    assert_eq!(before.dent_of(Call(277)), Some(51));
    assert_eq!(after.dent_of(Call(1)), Some(51));
    // The part-filled dent lies at the finishing side either way.
    assert_eq!(
        (before.dent_of(Call(1)), after.dent_of(Call(277))),
        (Some(189), Some(189))
    );
    assert_eq!(after.sleyed_from(Side::Left).unwrap(), before);
}

#[test]
fn one_change_stands_on_another() {
    let plan = plan(RUNNER)
        .rebatched(BatchRule::Number(10), Call(25))
        .with_heddles(&[70, 110, 110, 70])
        .unwrap()
        .with_ends(271, Call(45))
        .unwrap()
        .rethreaded(Call(45), "(1 2 3 4) x5 (4 3 2 1) x5")
        .unwrap()
        .sleyed_from(Side::Right)
        .unwrap();
    adds_up(&plan);
    let firsts: Vec<u32> = plan
        .batches
        .iter()
        .take(6)
        .map(|b| b.calls.first.0)
        .collect();
    assert_eq!(firsts, [1, 13, 25, 35, 45, 55]);
    assert_eq!(plan.heddles.on_hand, Some(vec![70, 110, 110, 70]));
    assert_eq!((plan.ends, plan.batch_rule), (271, BatchRule::Number(10)));
}

#[test]
fn a_bout_holds_whole_groups_and_stays_within_its_ends() {
    let runner = plan(RUNNER);
    let wound = wind(&runner);
    let bouts: Vec<(u32, u32)> = wound.bouts.iter().map(|b| (b.first, b.last)).collect();
    assert_eq!(bouts, [(1, 120), (121, 240), (241, 277)]);
    assert_eq!(
        (wound.passes, wound.round_trips, wound.changes, wound.even),
        (277, 139, 0, false)
    );
    assert_eq!(
        wound.guide,
        Some(Fraction::new(2810, 27).unwrap()),
        "104.0741 in"
    );
    let blanket = wind(&plan(BLANKET));
    // 12 ends a group, ten groups a bout; grey gives way to moss after 201 ends, inside bout 2.
    assert_eq!(blanket.bouts[1].groups, (11, 20));
    let second: Vec<(&str, u32, bool)> = blanket.bouts[1]
        .stripes
        .iter()
        .map(|s| (s.yarn.as_str(), s.ends, s.ends_far))
        .collect();
    assert_eq!(second, [("grey", 81, true), ("moss", 39, false)]);
    assert_eq!((blanket.changes, blanket.even), (2, true));
    let ends: u32 = blanket
        .bouts
        .iter()
        .flat_map(|b| &b.stripes)
        .map(|s| s.ends)
        .sum();
    assert_eq!(ends, 602);
}

#[test]
fn ends_wound_together_take_fewer_passes() {
    let text = RUNNER.replacen('{', r#"{"wind": {"bout": 60, "together": 4}, "#, 1);
    let wound = wind(&plan(&text));
    assert_eq!(wound.bouts.len(), 5);
    assert_eq!(wound.bouts[0].stripes[0].passes, 15);
    assert_eq!(wound.passes, 4 * 15 + 10, "37 ends, 4 in hand: 10 passes");
    // R66: 96 threads at once in 52 passes are 4992 ends (a silk mill's account).
    let text = r#"{"title": "silk", "sett": 240, "ends": 4992, "threading": "1 2 3 4 5 6 7 8",
        "loom": {"shafts": 8}, "group": "2/5", "wind": {"bout": 96, "together": 96}}"#;
    assert_eq!(wind(&plan(text)).passes, 52);
}

#[test]
fn ends_wound_so_far_are_counted_by_colour() {
    let blanket = plan(BLANKET);
    let after = |groups| wound_by_colour(&blanket, groups);
    assert_eq!(after(0), []);
    assert_eq!(after(10), [("grey".to_owned(), 120)]);
    assert_eq!(
        after(20),
        [("grey".to_owned(), 201), ("moss".to_owned(), 39)]
    );
    assert_eq!(
        after(51),
        [("grey".to_owned(), 402), ("moss".to_owned(), 200)]
    );
}
