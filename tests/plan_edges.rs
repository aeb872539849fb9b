//! Decisions of the plan at the places where they turn: one case on each side. Written out by hand;
//! common practice, no source, where none is named.

use endsmeet::plan::threading::threading_text;
use endsmeet::plan::wif::{read_wif, spec_of_wif};
use endsmeet::plan::wind::stripes_of_group;
use endsmeet::plan::yarn::read_yarn;
use endsmeet::plan::{Figures, Plan, Side, read_spec, work_out};
use endsmeet::quantity::{Fraction, Position, Shaft};

fn figures(extra: &str) -> Figures {
    with_ends(40, extra)
}

fn plan(extra: &str) -> Plan {
    let figures = figures(extra);
    let plan = figures.plan();
    plan.unwrap_or_else(|| panic!("{:?}", figures.problems))
}

fn remarks(extra: &str) -> Vec<String> {
    let figures = figures(extra);
    assert!(figures.problems.is_empty(), "{:?}", figures.problems);
    figures
        .remarks
        .iter()
        .map(|r| r.kind().to_owned())
        .collect()
}

fn with_ends(ends: u32, extra: &str) -> Figures {
    let text = format!(
        r#"{{"title": "t", "sett": 10, "threading": "1 2 3 4", "ends": {ends},
        "reeds": [{{"dents": 10, "length": 20}}], {extra}}}"#
    );
    work_out(&read_spec(&text).unwrap_or_else(|p| panic!("{p:?}")))
}

fn kinds(figures: &Figures) -> Vec<&str> {
    figures.remarks.iter().map(|r| r.kind()).collect()
}

#[test]
fn a_repeat_that_comes_out_is_not_remarked() {
    let cut = "repeat-cut-short";
    assert!(!kinds(&with_ends(40, r#""units": "in""#)).contains(&cut));
    assert!(kinds(&with_ends(41, r#""units": "in""#)).contains(&cut));
}

#[test]
fn only_a_group_that_is_short_is_remarked() {
    let short = "short-group";
    assert!(!kinds(&with_ends(40, r#""units": "in""#)).contains(&short));
    assert!(kinds(&with_ends(44, r#""units": "in""#)).contains(&short));
}

#[test]
fn only_a_last_dent_that_is_short_is_remarked() {
    let short = "short-dent";
    let order = r#""sett": 20"#;
    let at = |ends: u32| {
        let text = format!(
            r#"{{"title": "t", {order}, "threading": "1 2 3 4", "ends": {ends},
            "reeds": [{{"dents": 10, "length": 20}}]}}"#
        );
        let figures = work_out(&read_spec(&text).unwrap());
        kinds(&figures).contains(&short)
    };
    assert!(!at(40));
    assert!(at(41));
}

#[test]
fn take_up_is_unusual_beyond_its_usual_range_only() {
    for (percent, unusual) in [("1%", false), ("15%", false), ("16%", true), ("0.5%", true)] {
        let extra = format!(r#""length": {{"finished": 36, "take_up": "{percent}"}}"#);
        let found = remarks(&extra).iter().any(|kind| kind == "unusual");
        assert_eq!(found, unusual, "{percent}");
    }
}

#[test]
fn a_reed_that_was_given_is_neither_assumed_nor_chosen() {
    let one = remarks(r#""units": "in""#);
    assert!(!one.iter().any(|kind| kind.starts_with("reed-")), "{one:?}");
    let text = r#"{"title": "t", "sett": 10, "threading": "1 2 3 4", "ends": 40}"#;
    assert!(kinds(&work_out(&read_spec(text).unwrap())).contains(&"reed-assumed"));
    let text = r#"{"title": "t", "sett": 10, "threading": "1 2 3 4", "ends": 40,
        "reeds": [{"dents": 10, "length": 20}, {"dents": 12, "length": 20}]}"#;
    let two = work_out(&read_spec(text).unwrap());
    assert!(kinds(&two).contains(&"reed-chosen"), "{:?}", kinds(&two));
}

#[test]
fn doubled_edges_have_a_usual_way_only_where_edges_are_doubled() {
    let has = |extra: &str| {
        let figures = figures(extra);
        figures.filled.iter().any(|f| f.path == "edges.doubled")
    };
    assert!(!has(r#""units": "in""#));
    assert!(has(r#""edges": {"ends": 1}"#));
    assert!(has(r#""edges": {"ends": 2}"#));
}

#[test]
fn spare_heddles_stand_half_to_each_side_an_odd_one_away_from_the_threading() {
    let plan = plan(r#""loom": {"shafts": 4, "heddles": [10, 13, 14, 20]}"#);
    assert_eq!(plan.heddles.spare_sides(), [(0, 0), (1, 2), (2, 2), (5, 5)]);
}

#[test]
fn floats_lie_at_both_edges_or_nowhere() {
    assert_eq!(plan(r#""units": "in""#).float_positions(), None);
    let added = plan(r#""floating_selvedges": "added""#);
    assert_eq!(added.float_positions(), Some([Position(1), Position(42)]));
    let left = plan(r#""floating_selvedges": "added", "thread_from": "left""#);
    assert_eq!(left.float_positions(), Some([Position(42), Position(1)]));
}

#[test]
fn a_raddle_of_an_odd_number_of_spaces_has_a_space_in_its_middle() {
    use endsmeet::plan::RaddleMiddle;
    let middle = |length: &str| {
        let extra = format!(r#""raddle": {{"spaces": 1, "length": {length}}}"#);
        plan(&extra).raddle.middle
    };
    assert_eq!(middle("24"), RaddleMiddle::Pin);
    assert_eq!(middle("25"), RaddleMiddle::Space);
}

#[test]
fn sheds_to_try_are_treadles_else_the_lift_plan_else_shafts() {
    let shafts = plan(r#""units": "in""#).all_sheds();
    assert_eq!(shafts.len(), 4);
    let lifts =
        r#""lift_plan": [[1, 2], [3, 4], [1, 2], [2]], "loom": {"shafts": 4, "action": "table"}"#;
    assert_eq!(plan(lifts).all_sheds().len(), 3);
    let both = r#""tie_up": [[1, 3], [2, 4]], "treadling": "1 2""#;
    assert_eq!(plan(both).all_sheds().len(), 2);
}

#[test]
fn the_cloth_knows_which_shafts_are_up_and_where_a_float_ends() {
    use endsmeet::plan::Cloth;
    let twill = r#""tie_up": [[1, 2], [2, 3], [3, 4], [4, 1]], "treadling": "1 2 3 4""#;
    let cloth = Cloth::of(&plan(twill), 8).expect("it is woven");
    assert_eq!(cloth.up_in(1), [Shaft(1), Shaft(2)]);
    assert_eq!(cloth.up_in(5), [Shaft(1), Shaft(2)]);
    assert!(cloth.up_in(0).is_empty());
}

#[test]
fn a_threading_is_written_as_a_repeat_from_two_times_on() {
    let text = threading_text;
    assert_eq!(text(&[1, 2, 1, 2]), "(1 2) x2");
    assert_eq!(text(&[1, 2, 3]), "1 2 3");
    assert_eq!(text(&[1, 2, 1, 2, 1]), "(1 2) x2 1");
}

#[test]
fn a_group_has_the_stripes_of_its_ends() {
    let colours = r#""yarns": [{"name": "a", "size": "8/2 cotton"}, {"name": "b", "size": "8/2 cotton"}],
        "colours": [{"yarn": "a", "ends": 15}, {"yarn": "b", "ends": 25}]"#;
    let striped = plan(colours);
    let ends = |number: u32| {
        let stripes = stripes_of_group(&striped, number);
        stripes.iter().map(|s| s.ends).collect::<Vec<_>>()
    };
    assert_eq!(
        (ends(1), ends(2), ends(3)),
        (vec![10], vec![5, 5], vec![10])
    );
    assert!(ends(9).is_empty());
    assert!(stripes_of_group(&plan(r#""units": "in""#), 1).is_empty());
}

#[test]
fn a_ply_that_is_no_whole_number_is_refused() {
    assert!(read_yarn("8/2 cotton").is_ok());
    for wrong in ["8/2.5 cotton", "8/0.5 cotton", "200/101 cotton"] {
        assert!(read_yarn(wrong).is_err(), "{wrong}");
    }
}

const DRAFT: &str = "[WIF]\nVersion=1.1\n[CONTENTS]\nWEAVING=1\nWARP=1\nTHREADING=1\nTIEUP=1\nTREADLING=1\nCOLOR PALETTE=1\nCOLOR TABLE=1\n\
[WEAVING]\nShafts=4\nTreadles=3\nRising Shed=1\n[WARP]\nThreads=4\nUnits=Inches\nSpacing=0.1\n[THREADING]\n1=1\n2=2\n3=3\n4=4\n\
[TIEUP]\n1=1\n2=2\n3=3\n[TREADLING]\n1=1\n[COLOR PALETTE]\nRange=10,30\nEntries=1\n[COLOR TABLE]\n1=10,20,30\n";

#[test]
fn a_draft_brings_its_treadles_and_colours_from_whatever_range() {
    let (wif, _) = read_wif(DRAFT.as_bytes()).unwrap();
    assert_eq!(wif.palette, [[0, 128, 255]]);
    let (spec, _) = spec_of_wif(&wif, Side::Right).unwrap();
    assert_eq!((spec.loom.shafts, spec.loom.treadles), (Some(4), Some(3)));
    let none = DRAFT.replace("Treadles=3", "Treadles=0");
    let lifts = none.replace("TIEUP=1\nTREADLING=1\n", "LIFTPLAN=1\n");
    let lifts = lifts.replace(
        "[TIEUP]\n1=1\n2=2\n3=3\n[TREADLING]\n1=1\n",
        "[LIFTPLAN]\n1=1,2\n",
    );
    let (wif, _) = read_wif(lifts.as_bytes()).unwrap();
    let (spec, _) = spec_of_wif(&wif, Side::Right).unwrap();
    assert_eq!(spec.loom.treadles, None);
}

#[test]
fn an_irish_reed_counts_hundreds_below_a_hundred_only() {
    // 10 Irish is 1000 splits on 40 in, 25 to the inch: Dictionary of English textile terms, "Sett Systems"
    use endsmeet::plan::old_reeds::old_reed;
    assert_eq!(old_reed("10 irish"), Some(Fraction::whole(25)));
    assert_eq!(old_reed("100 irish"), Fraction::new(5, 2));
    assert_eq!(old_reed("1000 irish"), Some(Fraction::whole(25)));
}

#[test]
fn shafts_that_no_end_goes_on_are_remarked_where_their_number_was_assumed() {
    let kinds = |threading: &str, loom: &str| {
        let text = format!(
            r#"{{"title": "t", "sett": 10, "ends": 40, "threading": "{threading}"{loom}}}"#
        );
        let figures = work_out(&read_spec(&text).unwrap());
        let says = figures.remarks.iter().find(|r| r.kind() == "shafts-bare");
        says.map(ToString::to_string)
    };
    let says = kinds("1 2 3 9", "").expect("remarked");
    assert!(
        says.starts_with("no end goes on shafts 4, 5, 6, 7, 8 of the 12 assumed"),
        "{says}"
    );
    assert!(
        kinds("1 3", "")
            .expect("remarked")
            .starts_with("no end goes on shaft 2 of the 4 assumed")
    );
    assert_eq!(kinds("1 2 3 4", ""), None);
    // two shafts of four: those behind the highest are no slip
    assert_eq!(kinds("1 2", ""), None);
    assert_eq!(kinds("1 2 3 9", r#", "loom": {"shafts": 12}"#), None);
}

#[test]
fn a_card_carries_reeds_and_raddle_into_the_units_of_another_plan() {
    use endsmeet::plan::LoomCard;
    let metric = r#"{"title": "t", "units": "cm", "sett": 4, "ends": 40, "threading": "1 2 3 4",
        "reeds": [{"dents": 40, "per": "10cm", "length": 127}], "raddle": {"spaces": 1, "length": 127}}"#;
    let card = LoomCard::of_spec(&read_spec(metric).unwrap());
    let mut other =
        read_spec(r#"{"title": "u", "sett": 10, "ends": 40, "threading": "1 2"}"#).unwrap();
    card.put_into(&mut other);
    // 127 cm are 50 in; one space a centimetre are 2.54 an inch
    assert_eq!(other.reeds.len(), 1);
    assert_eq!(other.reeds[0].length, Some(Fraction::whole(50)));
    assert_eq!(other.raddle.length, Some(Fraction::whole(50)));
    assert_eq!(other.raddle.spaces, Fraction::new(127, 50));
}

#[test]
fn other_heddles_on_hand_are_in_the_figures_and_in_the_plan_as_asked_for() {
    let counted = plan(r#""loom": {"shafts": 4, "heddles": [10, 10, 10, 10]}"#);
    let more = counted.with_heddles(&[10, 11, 12, 13]).unwrap();
    assert_eq!(more.heddles.spare(), [0, 1, 2, 3]);
    assert_eq!(
        more.spec.loom.heddles.as_deref(),
        Some(&[10, 11, 12, 13][..])
    );
    assert!(counted.with_heddles(&[9, 10, 10, 10]).is_err());
}

#[test]
fn a_draft_that_is_written_holds_loom_treadling_and_lengths() {
    use endsmeet::plan::wif::{wif_of_plan, write_wif};
    let written = |plan: &Plan| {
        let (wif, _) = read_wif(write_wif(&wif_of_plan(plan)).as_bytes()).unwrap();
        wif
    };
    let trod = plan(
        r#""loom": {"shafts": 6, "treadles": 8}, "tie_up": [[1, 3], [2, 4], [5]], "treadling": "1 2 1 3""#,
    );
    let wif = written(&trod);
    assert_eq!((wif.shafts, wif.treadles), (6, 3));
    assert_eq!((wif.warp.count, wif.weft.count), (40, 4));
    assert_eq!(wif.treadling, [[1], [2], [1], [3]]);
    let lifted =
        plan(r#""loom": {"shafts": 4, "action": "table"}, "lift_plan": [[1, 2], [3, 4], [2]]"#);
    let wif = written(&lifted);
    assert_eq!(wif.lift_plan, [vec![1, 2], vec![3, 4], vec![2]]);
    assert_eq!(wif.weft.count, 3);
}

#[test]
fn a_float_is_from_its_first_to_its_last_thread_and_as_long_as_that() {
    use endsmeet::plan::Cloth;
    let satin = r#""tie_up": [[1], [2], [3], [4]], "treadling": "1 2 3 4""#;
    let cloth = Cloth::of(&plan(satin), 8).expect("it is woven");
    let floats = cloth.floats_over(1);
    assert!(
        floats
            .iter()
            .any(|float| float.length > 1 && float.first > 1)
    );
    for float in floats.iter().filter(|float| !float.never_tied) {
        assert_eq!(float.last + 1 - float.first, float.length, "{float:?}");
    }
}

#[test]
fn a_reed_that_is_too_short_by_the_dents_of_the_floats_alone_is_a_problem() {
    let short = |floats: &str, length: &str| {
        let text = format!(
            r#"{{"title": "t", "sett": 10, "threading": "1 2 3 4", "ends": 40,
            "floating_selvedges": "{floats}", "reeds": [{{"dents": 10, "length": {length}}}]}}"#
        );
        !work_out(&read_spec(&text).unwrap()).problems.is_empty()
    };
    assert!(!short("none", "4"));
    assert!(short("added", "4"));
    assert!(!short("added", "\"4 1/5\""));
}
