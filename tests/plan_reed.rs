//! Dents, one by one: typed orders by section with zeros, doubled edges, floats, both directions. Written
//! out by hand; common practice, no source, where none is named.

use endsmeet::plan::{DentEnds, Plan, read_spec, work_out};
use endsmeet::quantity::Call;

fn plan(ends: u32, extra: &str) -> Plan {
    let text = format!(
        r#"{{"title": "t", "sett": 10, "ends": {ends}, "threading": "1 2 3 4",
        "reeds": [{{"dents": 10, "length": 10}}], {extra}}}"#
    );
    let figures = work_out(&read_spec(&text).unwrap_or_else(|p| panic!("{p:?}")));
    figures
        .plan()
        .unwrap_or_else(|| panic!("{:?}", figures.problems))
}

/// `F 1-2 - 3`: a float's dent, calls 1 and 2, an empty dent, call 3; in the order of sleying.
fn dents(plan: &Plan) -> String {
    let text = |ends: DentEnds| match ends {
        DentEnds::Empty => "-".to_owned(),
        DentEnds::Float {
            at_threading_edge: true,
        } => "F".to_owned(),
        DentEnds::Float {
            at_threading_edge: false,
        } => "f".to_owned(),
        DentEnds::Calls(run) if run.len() == 1 => run.first.0.to_string(),
        DentEnds::Calls(run) => format!("{}-{}", run.first.0, run.last.0),
    };
    plan.sley
        .dents
        .iter()
        .map(|d| text(d.ends))
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn ends_go_into_dents_as_the_order_says() {
    for (ends, extra, wanted) in [
        (7, r#""sley_order": [2]"#, "1-2 3-4 5-6 7"),
        (
            7,
            r#""sley_order": [2], "sley_from": "left""#,
            "6-7 4-5 2-3 1",
        ),
        (7, r#""sley_order": [1, 2]"#, "1 2-3 4 5-6 7"),
        (7, r#""sley_order": [2, 0, 1]"#, "1-2 - 3 4-5 - 6 7"),
        (
            7,
            r#""sley_order": [2, 0, 1], "sley_from": "left""#,
            "6-7 - 5 3-4 - 2 1",
        ),
        (6, r#""sley_order": [0, 0, 1, 2]"#, "1 2-3 - - 4 5-6"),
        (5, r#""sley_order": [1, 0]"#, "1 - 2 - 3 - 4 - 5"),
        (5, r#""sley_order": "1-0""#, "1 - 2 - 3 - 4 - 5"),
        (
            6,
            r#""sley_order": [2], "floating_selvedges": "added""#,
            "F 1-2 3-4 5-6 f",
        ),
        (
            6,
            r#""sley_order": [2], "floating_selvedges": "added", "sley_from": "left""#,
            "f 5-6 3-4 1-2 F",
        ),
        (
            6,
            r#""sley_order": [2], "floating_selvedges": "from-warp""#,
            "F 1-2 3-4 f",
        ),
        (
            6,
            r#""sley_order": [2], "floating_selvedges": "from-warp", "thread_from": "left", "sley_from": "left""#,
            "F 1-2 3-4 f",
        ),
        (
            8,
            r#""sley_order": [{"order": [2], "ends": 4}, {"order": [1, 0]}]"#,
            "1-2 3-4 5 - 6 - 7 - 8",
        ),
        (
            8,
            r#""sley_order": [{"order": [2], "ends": 3}, {"order": [1], "ends": 2}, {"order": [3]}]"#,
            "1-2 3 4 5 6-8",
        ),
        (
            8,
            r#""sley_order": [{"order": [4], "ends": 4}, {"order": [0, 0, 1]}], "sley_from": "left""#,
            "5-8 - - 4 - - 3 - - 2 - - 1",
        ),
        (
            12,
            r#""sley_order": [1], "edges": {"ends": 4, "doubled": "dent"}"#,
            "1-2 3-4 5 6 7 8 9-10 11-12",
        ),
        (
            12,
            r#""sley_order": [1], "edges": {"ends": 4, "doubled": "both"}"#,
            "1-2 3-4 5 6 7 8 9-10 11-12",
        ),
        (
            12,
            r#""sley_order": [1], "edges": {"ends": 4, "doubled": "heddle"}"#,
            "1 2 3 4 5 6 7 8 9 10 11 12",
        ),
        (
            14,
            r#""sley_order": [2], "edges": {"ends": 4, "doubled": "dent"}, "sley_from": "left""#,
            "11-14 9-10 7-8 5-6 1-4",
        ),
        (
            12,
            r#""sley_order": [3], "edges": {"ends": 2, "doubled": "dent"}"#,
            "1-4 5-7 8-10 11-12",
        ),
    ] {
        assert_eq!(dents(&plan(ends, extra)), wanted, "{ends} ends, {extra}");
    }
}

#[test]
fn doubled_edges_share_heddles_in_pairs() {
    let doubled = |extra: &str| {
        let plan = plan(12, extra);
        let shafts: Vec<u8> = plan.threading.iter().map(|s| s.0).collect();
        let calls: Vec<u32> = plan.doubled.iter().map(|c| c.0).collect();
        (shafts, calls, plan.heddles.needed)
    };
    assert_eq!(
        doubled(r#""edges": {"ends": 4, "doubled": "heddle"}"#),
        (
            vec![1, 1, 2, 2, 3, 4, 1, 2, 3, 3, 4, 4],
            vec![2, 4, 10, 12],
            vec![2, 2, 2, 2]
        )
    );
    assert_eq!(
        doubled(r#""edges": {"ends": 2, "doubled": "dent"}"#),
        (
            vec![1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4],
            vec![],
            vec![3, 3, 3, 3]
        )
    );
    // A batch never parts two ends of one heddle, and counts heddles, not ends.
    let plan = plan(
        12,
        r#""edges": {"ends": 4, "doubled": "heddle"}, "batch": 3"#,
    );
    let batches: Vec<(u32, u32, u32)> = plan
        .batches
        .iter()
        .map(|b| (b.calls.first.0, b.calls.last.0, b.heddles.iter().sum()))
        .collect();
    assert_eq!(batches, [(1, 5, 3), (6, 8, 3), (9, 12, 2)]);
}

#[test]
fn the_middle_of_a_reed_is_a_wire_or_a_dent() {
    // 100 dents have a wire in the middle, 101 a dent; an odd spare dent goes to the finishing side.
    for (length, ends, first, from_middle) in [
        ("10", 50, 26, "2 1/2"),
        ("10", 51, 25, "2 3/5"),
        ("10.1", 51, 26, "2 11/20"),
        ("10.1", 50, 26, "2 11/20"),
    ] {
        let text = format!(
            r#"{{"title": "t", "sett": 10, "ends": {ends}, "threading": "1 2", "sley_order": [1],
            "reeds": [{{"dents": 10, "length": {length}}}]}}"#
        );
        let plan = work_out(&read_spec(&text).unwrap()).plan().unwrap();
        assert_eq!(
            (plan.sley.first_dent, plan.sley.from_middle.mixed().as_str()),
            (first, from_middle),
            "{ends} in {length}"
        );
    }
}

#[test]
fn groups_and_spaces_of_different_size() {
    let spaces = |sett: &str, group: &str, spaces: u32, ends: u32| -> Vec<Vec<(u32, u32)>> {
        let text = format!(
            r#"{{"title": "t", "sett": {sett}, "ends": {ends}, "threading": "1 2", "group": {group}, "raddle": {{"spaces": {spaces}}}}}"#
        );
        let plan = work_out(&read_spec(&text).unwrap()).plan().unwrap();
        plan.raddle.groups.into_iter().map(|g| g.spaces).collect()
    };
    // 15 per inch in half-inch spaces: 7 and 8.
    assert_eq!(
        spaces("15", "1", 2, 30),
        [vec![(1, 7), (2, 8)], vec![(3, 7), (4, 8)]]
    );
    // Groups of half an inch in inch spaces: two groups share a space.
    assert_eq!(
        spaces("10", "\"1/2\"", 1, 20),
        [vec![(1, 5)], vec![(1, 5)], vec![(2, 5)], vec![(2, 5)]]
    );
    // Groups of 2 in half-inch spaces, the last one short.
    assert_eq!(
        spaces("4", "2", 2, 11),
        [vec![(1, 2), (2, 2), (3, 2), (4, 2)], vec![(5, 2), (6, 1)]]
    );
    // A sett looser than the spaces leaves some empty.
    assert_eq!(
        spaces("2", "1", 4, 4),
        [vec![(2, 1), (4, 1)], vec![(6, 1), (8, 1)]]
    );
}

#[test]
fn heddles_are_needed_less_and_less() {
    let plan = plan(12, r#""edges": {"ends": 4, "doubled": "heddle"}"#);
    assert_eq!(plan.needed_from(Call(1)), plan.heddles.needed);
    assert_eq!(plan.needed_from(Call(6)), [1, 1, 1, 2]);
    assert_eq!(plan.needed_from(Call(13)), [0; 4]);
    let sums: Vec<u32> = (1..=13)
        .map(|c| plan.needed_from(Call(c)).iter().sum())
        .collect();
    assert!(
        sums.windows(2).all(|p| p[0] >= p[1] && p[0] - p[1] <= 1),
        "{sums:?}"
    );
}

#[test]
fn sections_give_their_mean_as_the_sett() {
    let plan = plan(
        30,
        r#""sley_order": [{"order": [2], "ends": 10}, {"order": [1], "ends": 10}, {"order": [1, 0]}]"#,
    );
    // 5 + 10 + 19 dents at 10 an inch hold 30 ends: the last empty dent is outside the warp.
    assert_eq!(plan.sley.heddled_dents, 34);
    assert_eq!(
        (plan.width.mixed().as_str(), plan.sley.sett.mixed().as_str()),
        ("3 2/5", "8 14/17")
    );
    assert!(!plan.sley.exact && plan.sley.sections.len() == 3);
}

#[test]
fn a_finished_width_is_undone_by_shrinkage_and_draw_in() {
    // Both divide: CNCHnet, Fall 2016. 36 in of cloth without shrinkage and 5.5 % narrower than in the reed
    // wants about 38 in there (Brooks: 36 in cloth set 38 in).
    let width = |text: &str| {
        let text = format!(r#"{{"title": "t", "sett": 10, "threading": "1 2", {text}}}"#);
        work_out(&read_spec(&text).unwrap())
    };
    let figures = width(r#""finished_width": 36, "length": {"shrinkage": 0, "draw_in": "5.5%"}"#);
    assert_eq!(figures.ends, Some(381));
    let guessed =
        width(r#""finished_width": "25 1/9", "yarns": [{"name": "y", "size": "2/8 worsted"}]"#);
    // 25.1111 / (1 - 20 %) / (1 - 7 %) = 33.751.
    assert_eq!(guessed.ends, Some(338));
    let said: Vec<&str> = guessed
        .filled
        .iter()
        .map(|f| f.path)
        .filter(|p| p.starts_with("length"))
        .collect();
    assert_eq!(said, ["length.shrinkage", "length.draw_in"]);
}
