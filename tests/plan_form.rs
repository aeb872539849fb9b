//! The form and the loom card: the plan without a line of JSON, and the loom measured once.

use endsmeet::plan::form::{FIELDS, Form};
use endsmeet::plan::{LoomCard, Units, read_spec, spec_value, work_out};
use endsmeet::quantity::Fraction;

const RUNNER: &str = include_str!("../assets/demo/hall-runner.json");
const DEMOS: [&str; 3] = [
    RUNNER,
    include_str!("../assets/demo/winter-blanket.json"),
    include_str!("../assets/demo/open-scarf.json"),
];

fn typed(answers: &[(&str, &str)]) -> Form {
    let mut form = Form::new();
    for (key, text) in answers {
        assert!(form.go(key), "{key}");
        assert_eq!(form.set(text), Ok(()), "{key}: {text}");
    }
    form
}

#[test]
fn the_runner_typed_field_by_field_is_the_runner() {
    let form = typed(&[
        ("title", "Hall runner"),
        ("sett", "20"),
        ("ends", "277"),
        ("threading", "(1 2 3 4 3 2) x46 1"),
        ("floating_selvedges", "added"),
        ("sley_from", "left"),
        ("loom.shafts", "4"),
        ("loom.treadles", "6"),
        ("loom.heddles", "60 100 100 60"),
        ("loom.width", "24"),
        ("reeds", "10 long 24"),
        ("raddle.length", "24"),
        ("length.finished", "60"),
        ("length.shrinkage", "10%"),
        ("loom.beam_girth", "18"),
        ("yarns", "flax = 16/2 linen"),
        ("colours", "277 flax"),
        ("tie_up", "1 2; 2 3; 3 4; 1 4; 1 3; 2 4"),
        ("treadling", "1 2 3 4"),
    ]);
    let mut plan = form.figures().plan().expect("the form fits");
    let of_file = work_out(&read_spec(RUNNER).unwrap()).plan().unwrap();
    // the file says how edges would be doubled and doubles none; the form leaves that out
    plan.spec.edges.doubled = of_file.spec.edges.doubled;
    assert!(
        plan == of_file,
        "the form's plan is another than the file's"
    );
}

#[test]
fn every_demo_plan_goes_through_the_form_and_comes_out_the_same() {
    for text in DEMOS {
        let spec = read_spec(text).unwrap();
        let form = Form::of_spec(&spec);
        assert_eq!(form.figures().plan(), work_out(&spec).plan(), "{text}");
        let (again, lost) = Form::of_saved(&form.saved().to_string()).unwrap();
        assert_eq!((again, lost), (form, vec![]));
    }
}

#[test]
fn a_wrong_answer_is_refused_alone_and_changes_nothing() {
    let mut form = typed(&[("sett", "20")]);
    form.go("sett");
    let said = form.set("1/0").unwrap_err();
    assert_eq!(
        said[0].to_string(),
        "sett: \"1/0\": divides by 0 at character 3; expected 1 or more under the stroke"
    );
    assert_eq!(form.answer("sett"), Some("20"));
    for (key, text, said) in [
        ("units", "ell", "units: found \"ell\"; expected in or cm"),
        (
            "ends",
            "many",
            "ends: \"many\": 'm' at character 1; expected a digit, as in 18 1/2, 0.75 or 10%",
        ),
        (
            "loom.heddles",
            "60 x 4",
            "loom.heddles[1]: \"x\": 'x' at character 1; expected a digit, as in 18 1/2, 0.75 or 10%",
        ),
        (
            "reeds",
            "ten",
            "reeds[0].dents: \"ten\": 't' at character 1; expected a digit, as in 18 1/2, 0.75 or 10%",
        ),
        (
            "batch",
            "often",
            "batch: found \"often\"; expected repeat, group or a number from 1 to 64",
        ),
    ] {
        form.go(key);
        assert_eq!(form.set(text).unwrap_err()[0].to_string(), said);
        assert_eq!(form.answer(key), None);
    }
}

#[test]
fn figures_live_beside_the_form_and_blank_takes_an_answer_away() {
    let mut form = typed(&[
        ("title", "t"),
        ("sett", "12"),
        ("width", "8 1/4"),
        ("threading", "1 2 3 4"),
    ]);
    let figures = form.figures();
    assert_eq!((figures.ends, figures.problems.len()), (Some(99), 0));
    assert_eq!(
        Form::usual(&figures, "loom.action").as_deref(),
        Some("jack")
    );
    form.go("width");
    form.set("  ").unwrap();
    let says: Vec<String> = form
        .figures()
        .problems
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(
        says,
        ["ends (or width): not said, and nothing can stand for it; add it"]
    );
    assert_eq!(form.first_open(), Some(3));
}

#[test]
fn the_form_goes_forward_back_and_anywhere() {
    let mut form = Form::new();
    assert!(!form.back());
    let mut seen = vec![form.field().key];
    while form.forward() {
        seen.push(form.field().key);
    }
    let all: Vec<&str> = FIELDS.iter().map(|f| f.key).collect();
    assert_eq!(seen, all);
    assert!(form.go("reeds") && form.field().key == "reeds" && !form.go("nowhere"));
    assert_eq!(form.field().key, "reeds");
}

#[test]
fn a_saved_form_that_was_damaged_names_what_is_lost() {
    let saved = r#"{"endsmeet_form": 1, "at": "sett", "answers": {"title": "t", "sett": "1/0", "shed": "x"}}"#;
    let (form, lost) = Form::of_saved(saved).unwrap();
    assert_eq!(form.field().key, "sett");
    assert_eq!(
        (form.answer("title"), lost),
        (Some("t"), vec!["sett".to_owned(), "shed".to_owned()])
    );
    assert_eq!(
        Form::of_saved("{}").unwrap_err(),
        "this is no saved form of format 1. Start the form anew, or mend the file"
    );
    assert!(
        Form::of_saved("[")
            .unwrap_err()
            .starts_with("the saved form cannot be read: ")
    );
}

const CARD: &str = r#"{"endsmeet_loom": 1, "name": "Window loom", "units": "in",
    "loom": {"action": "counterbalance", "shafts": 4, "treadles": 6, "heddles": [80, 80, 80, 80], "width": 36,
    "beam_girth": "16 1/2"}, "bar_hooks": 2, "middle": "21 1/4",
    "reeds": [{"dents": 12}, {"dents": 40, "per": "10cm", "length": 36}], "raddle": {"spaces": 2, "length": 36}}"#;

#[test]
fn a_loom_card_is_read_written_and_put_into_plans_of_either_unit() {
    let card = LoomCard::read(CARD).unwrap();
    assert_eq!(LoomCard::read(&card.value().to_string()).unwrap(), card);
    let mut spec = read_spec(RUNNER).unwrap();
    card.put_into(&mut spec);
    assert_eq!(spec.loom.width, Some(Fraction::whole(36)));
    assert_eq!(
        (spec.reeds.len(), spec.loom.name.as_deref()),
        (2, Some("Window loom"))
    );
    let mut spec = read_spec(
        r#"{"title": "t", "units": "cm", "sett": 5, "ends": 200, "threading": "1 2 3 4"}"#,
    )
    .unwrap();
    card.put_into(&mut spec);
    assert_eq!(spec.loom.width, Fraction::new(9144, 100));
    assert_eq!(
        spec.raddle.spaces,
        Fraction::new(100, 127),
        "2 an inch are 2/2.54 a cm"
    );
    let plan = work_out(&spec).plan().expect("fits");
    assert_eq!(
        (plan.units, plan.sley.reed.as_str()),
        (Units::Cm, "40 per 10 cm")
    );
    let mut form = typed(&[
        ("title", "t"),
        ("sett", "15"),
        ("ends", "300"),
        ("threading", "1 2 3 4"),
    ]);
    form.use_card(&card);
    assert_eq!(form.answer("loom.heddles"), Some("80 80 80 80"));
    assert_eq!(form.answer("reeds"), Some("12 per in; 40 per 10cm long 36"));
    assert!(form.figures().plan().is_some());
    let back = LoomCard::of_spec(&form.spec().unwrap());
    assert_eq!(
        (back.name.as_deref(), back.loom.heddles),
        (Some("Window loom"), card.loom.heddles)
    );
}

#[test]
fn nothing_that_a_plan_says_is_lost_in_the_form() {
    let text = r#"{"title": "All", "units": "cm", "sett": "5 1/2", "finished_width": 40, "threading": "1 2",
        "group": "1/2", "batch": 7, "sley_order": [{"order": [2, 0, 1], "ends": 40}, {"order": [1]}],
        "edges": {"ends": 2, "doubled": "both"}, "loom": {"name": "Big one", "packing": "0.04"},
        "reeds": [{"dents": 55, "per": "10cm", "length": 60, "off_centre": "-1 1/2"}, {"dents": 4}],
        "length": {"finished": 100, "spare": "5%"}, "yarns": [{"name": "a", "size": "20/2 nm", "price": 30}, {"name": "b"}],
        "weft": {"yarn": "b", "picks": 5}, "wind": {"bout": 60, "together": 2}, "lift_plan": [[1], [], [2]]}"#;
    let spec = read_spec(text).unwrap();
    assert_eq!(Form::of_spec(&spec).spec().unwrap(), spec);
}

#[test]
fn a_wrong_card_says_so_as_a_plan_does() {
    let says = |text: &str| -> Vec<String> {
        LoomCard::read(text)
            .unwrap_err()
            .iter()
            .map(ToString::to_string)
            .collect()
    };
    assert_eq!(
        says(r#"{"lom": {}, "middle": 0}"#),
        [
            "lom: no plan has this key; did you mean \"loom\"?",
            "middle: found 0; expected more than 0 to 100000",
        ]
    );
    assert_eq!(
        says("[]"),
        ["the plan: found a list of 0; expected an object { ... }"]
    );
}

#[test]
fn a_reed_off_the_looms_middle_moves_the_dents_and_not_the_warp() {
    let text = |off: &str, from: &str| {
        format!(
            r#"{{"title": "t", "sett": 10, "ends": 100, "threading": "1 2 3 4", "sley_from": "{from}",
            "reeds": [{{"dents": 10, "length": 16, "off_centre": {off}}}]}}"#
        )
    };
    for (off, from, first, edge) in [
        ("0", "right", 31, "3"),
        ("2", "right", 51, "5"),
        ("-2", "right", 11, "1"),
        ("2", "left", 11, "1"),
    ] {
        let plan = work_out(&read_spec(&text(off, from)).unwrap())
            .plan()
            .expect("fits");
        assert_eq!(plan.sley.first_dent, first, "{off} from the {from}");
        assert_eq!(plan.sley.from_reed_edge.mixed(), edge);
        assert_eq!(
            plan.sley.from_middle,
            Fraction::whole(5),
            "the warp stays on the loom's middle"
        );
    }
    let figures = work_out(&read_spec(&text("4", "right")).unwrap());
    assert_eq!(
        figures.problems[0].to_string(),
        "reed 10 per in: its middle lies 4 off the loom's middle, and only 60 dents are to spare; move the reed nearer to the middle"
    );
}

#[test]
fn a_spec_is_written_with_every_key_that_it_has() {
    for text in DEMOS {
        let spec = read_spec(text).unwrap();
        assert_eq!(read_spec(&spec_value(&spec).to_string()).unwrap(), spec);
    }
}

#[test]
fn onward_passes_over_what_other_answers_settle() {
    let mut form = typed(&[("title", "t"), ("sett", "10"), ("ends", "40")]);
    let mut asked = vec![form.field().key];
    while form.onward() {
        asked.push(form.field().key);
    }
    assert_eq!(asked[..3], ["ends", "threading", "floating_selvedges"]);
    for moot in [
        "width",
        "finished_width",
        "length.pieces",
        "colours",
        "edges.doubled",
    ] {
        assert!(!asked.contains(&moot), "{moot}");
        assert!(
            form.moot(moot).is_some() && form.go(moot),
            "reached all the same"
        );
    }
    assert_eq!(form.field().key, "edges.doubled");
    let form = typed(&[("length.finished", "60"), ("edges.ends", "0")]);
    assert_eq!(form.moot("length.pieces"), None);
    assert!(form.moot("edges.doubled").is_some(), "no end is doubled");
}

#[test]
fn a_field_is_meant_by_its_number_its_key_or_its_words() {
    let mut form = Form::new();
    for (meant, key) in [
        ("3", "sett"),
        ("loom.heddles", "loom.heddles"),
        ("Sley order", "sley_order"),
        ("HEDDLES", "loom.heddles"),
        ("girth", "loom.beam_girth"),
        ("width", "width"),
    ] {
        assert!(form.go_to(meant), "{meant}");
        assert_eq!(form.field().key, key, "{meant}");
    }
    for nowhere in ["0", "43", "", " ", "no such"] {
        assert!(!form.go_to(nowhere), "{nowhere:?}");
    }
    assert_eq!(form.field().key, "width");
}

#[test]
fn words_of_a_list_may_be_short_long_or_in_capitals() {
    let form = typed(&[
        ("units", "Centimetres"),
        ("thread_from", "L"),
        ("loom.action", "counterm"),
        ("batch", "Group"),
    ]);
    let spec = form.spec().unwrap();
    assert_eq!(spec.units, Some(Units::Cm));
    let plan = form.plan();
    assert_eq!(
        (&plan["thread_from"], &plan["batch"]),
        (&"left".into(), &"group".into())
    );
    assert_eq!(plan["loom"]["action"], "countermarch");
    let mut form = Form::new();
    form.go("loom.action");
    assert!(form.set("counter").is_err(), "two kinds of loom begin so");
}

#[test]
fn a_draft_or_a_yarn_that_cannot_be_read_is_refused_when_it_is_given() {
    let mut form = Form::new();
    for (key, typed) in [
        ("threading", "1 2 q"),
        ("treadling", "1 (2"),
        ("yarns", "a = 8/2 wolle"),
    ] {
        form.go(key);
        assert_eq!(form.set(typed).unwrap_err().len(), 1, "{key}");
        assert_eq!(form.answer(key), None);
    }
}
