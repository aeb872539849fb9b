//! The sheds of a plan: what rises in every group, what a kind of loom makes of it, whether the tie-up
//! holds plain weave, and skeleton tie-ups. Figures counted by hand on the drafts that stand here.
#![allow(clippy::unwrap_used)]

mod common;

use common::{demo, drafted as plan, plan_from};
use endsmeet::plan::{Opens, PlainWeave, ShedWarning};
use endsmeet::quantity::{Call, Shaft};

fn shafts(list: &[u8]) -> Vec<Shaft> {
    list.iter().copied().map(Shaft).collect()
}

#[test]
fn a_tie_up_without_plain_weave_says_what_it_lacks() {
    let twill = plan(
        4,
        "1 2 3 4",
        40,
        "jack",
        "[[1, 2], [2, 3], [3, 4], [1, 4]]",
        "1 2 3 4",
    );
    assert_eq!(
        twill.plain_weave(),
        PlainWeave::NotTied {
            sheds: [shafts(&[1, 3]), shafts(&[2, 4])],
            treadles: [None, None]
        }
    );
    // two feet on a jack loom: shafts 1 and 3 each on a treadle of their own
    let singles = plan(4, "1 2 3 4", 40, "jack", "[[1], [2], [3], [4]]", "1 2 3 4");
    assert_eq!(
        singles.plain_weave(),
        PlainWeave::Together(vec![1, 3], vec![2, 4])
    );
    // a point on three has 1 and 3 against 2; straight on three, call 4 is shaft 1 on the other side
    let point = plan(3, "1 2 3 2", 40, "jack", "[[1, 3], [2]]", "1 2");
    assert_eq!(point.plain_weave(), PlainWeave::Treadles(1, 2));
    let three = plan(3, "1 2 3", 30, "jack", "[[1, 2], [3]]", "1 2");
    assert_eq!(three.plain_weave(), PlainWeave::NotThreaded { at: Call(4) });
    assert_eq!(
        demo("hall-runner.json").plain_weave(),
        PlainWeave::Treadles(5, 6)
    );
}

#[test]
fn every_shed_tells_what_rises_in_every_group() {
    let runner = demo("hall-runner.json");
    let sheds = runner.all_sheds();
    assert_eq!(sheds.len(), 6);
    assert_eq!(sheds[4].opens, Opens::Treadle(5));
    assert_eq!(sheds[4].rising, shafts(&[1, 3]));
    // design figures: heddles needed 47, 92, 92, 46
    assert_eq!(sheds[4].ends, 47 + 92);
    assert_eq!(sheds[5].ends, 92 + 46);
    let first = sheds[4].groups[0];
    // calls 1..=20 of 1 2 3 4 3 2: odd calls are on 1 and 3
    assert_eq!((first.rising, first.of), (10, 20));
    let all: u32 = sheds[4].groups.iter().map(|g| g.rising).sum();
    assert_eq!(all, sheds[4].ends);
}

#[test]
fn a_counterbalance_loom_is_warned_of_one_against_three() {
    let text = "[[1], [1, 2], [2, 3, 4]]";
    let plan = plan(4, "1 2 3 4", 40, "counterbalance", text, "1 2 3");
    let warned: Vec<Vec<ShedWarning>> = plan.all_sheds().into_iter().map(|s| s.warnings).collect();
    let unbalanced = |rising, sinking| vec![ShedWarning::Unbalanced { rising, sinking }];
    assert_eq!(warned, [unbalanced(1, 3), vec![], unbalanced(3, 1)]);
}

#[test]
fn a_countermarch_treadle_ties_every_shaft() {
    let blanket = demo("winter-blanket.json");
    for shed in blanket.all_sheds() {
        let mut all = [shed.rising.clone(), shed.others.clone()].concat();
        all.sort();
        assert_eq!(all, shafts(&[1, 2, 3, 4, 5, 6, 7, 8]));
    }
    assert!(
        blanket.skeleton().is_ok(),
        "a treadle a lift is enough there"
    );
}

#[test]
fn a_skeleton_tie_up_gives_every_lift_with_two_feet() {
    // eight lifts of a broken order on a loom with six treadles
    let plan = plan_from(
        r#"{ "endsmeet": 1, "title": "T", "units": "in", "sett": 10, "ends": 40, "threading": "1 2 3 4",
        "loom": {"action": "jack", "shafts": 4, "treadles": 6, "width": 30},
        "reeds": [{"dents": 10, "per": "in", "length": 30}],
        "lift_plan": [[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4], [1, 2, 3], [4]] }"#,
    );
    let skeleton = plan.skeleton().unwrap();
    assert!(skeleton.tie_up.len() <= 6);
    assert_eq!(skeleton.lifts.len(), 8);
    for (lift, treadles) in &skeleton.lifts {
        assert!((1..=2).contains(&treadles.len()));
        let mut pressed: Vec<Shaft> = treadles
            .iter()
            .flat_map(|t| skeleton.tie_up[*t as usize - 1].clone())
            .collect();
        pressed.sort();
        pressed.dedup();
        assert_eq!(&pressed, lift);
    }
}
