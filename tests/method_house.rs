//! A house's own file, from outside: it rewords and leaves out, does no more than it may, and no
//! file, however broken, does more than fail with its faults named.

use endsmeet::method::{Figure, LoomKind, Method, MethodFault, Owner, Place, StepId, check};
use proptest::prelude::*;
use serde_json::{Value, json};

const HOUSE: &str = include_str!("../assets/method/example-house.json");
const BUILT_IN: &str = include_str!("../assets/method/back-to-front.json");

const ONE_OF: &str = "the loom maker's \"manual\" or a \"teacher\"";

fn at(step: StepId, field: &str) -> Place {
    Place {
        owner: Owner::Step(step),
        field: field.to_owned(),
    }
}

/// The method in the words of a house that says this about its steps.
fn house(steps: Value) -> Result<Method, Vec<MethodFault>> {
    let file = json!({ "endsmeet_house": 1, "name": "Hall", "steps": steps });
    Method::house(&Method::embedded(), &file.to_string())
}

fn said(faults: &[MethodFault]) -> String {
    let lines: Vec<String> = faults.iter().map(ToString::to_string).collect();
    lines.join("\n")
}

#[test]
fn a_house_rewords_and_skips() {
    let base = Method::embedded();
    let house = Method::house(&base, HOUSE)
        .map_err(|faults| said(&faults))
        .unwrap();
    assert_eq!(house.name(), "Village hall weaving evenings");
    assert_eq!(house.step(StepId::Gather).texts.far, "Fetch the blue crate");
    assert_eq!(
        house.step(StepId::Gather).texts.caution,
        base.step(StepId::Gather).texts.caution
    );
    assert!(house.step(StepId::GuideString).skipped);
    assert!(!house.includes(StepId::GuideString, LoomKind::Jack));
    assert!(base.includes(StepId::GuideString, LoomKind::Jack));
    let table = house.step(StepId::TieUp).on(LoomKind::Table);
    assert_eq!(
        table.imperative,
        base.step(StepId::TieUp).on(LoomKind::Table).imperative
    );
    assert_ne!(
        table.wrong,
        base.step(StepId::TieUp).on(LoomKind::Table).wrong
    );
    assert_eq!(
        house.steps().count(),
        StepId::ALL.len(),
        "a skipped step keeps its place"
    );
}

#[test]
fn a_house_never_adds_a_step() {
    let faults = house(json!([{ "id": "sweep-the-floor", "do": "Sweep the floor." }])).unwrap_err();
    let place = Place {
        owner: Owner::Entry {
            list: "steps",
            number: 1,
        },
        field: "id".to_owned(),
    };
    let found = "sweep-the-floor".to_owned();
    assert_eq!(
        faults,
        [MethodFault::UnknownId {
            place,
            found,
            near: None
        }]
    );
}

#[test]
fn a_house_leaves_out_only_what_is_optional() {
    let faults = house(json!([{ "id": "pawl-and-brake", "skip": true }])).unwrap_err();
    assert_eq!(
        faults,
        [MethodFault::NotOptional {
            owner: Owner::Step(StepId::PawlAndBrake)
        }]
    );
}

#[test]
fn slings_are_left_out_together_or_not_at_all() {
    let faults = house(json!([{ "id": "rod-slings", "skip": true }])).unwrap_err();
    let (skipped, kept) = (
        Owner::Step(StepId::RodSlings),
        Owner::Step(StepId::SlingsOff),
    );
    assert_eq!(faults, [MethodFault::HalfSkipped { skipped, kept }]);
}

#[test]
fn a_house_decides_neither_what_is_optional_nor_for_which_looms() {
    for (key, value) in [("optional", json!(true)), ("looms", json!(["jack"]))] {
        let faults = house(json!([{ "id": "beam-turn", key: value }])).unwrap_err();
        assert_eq!(
            faults,
            [MethodFault::NotForAHouse {
                place: at(StepId::BeamTurn, key)
            }]
        );
    }
}

#[test]
fn a_house_rewords_a_caution_but_cannot_weaken_it() {
    let silent = house(json!([{ "id": "beam-turn", "caution": "" }])).unwrap_err();
    assert_eq!(
        silent,
        [MethodFault::Missing {
            place: at(StepId::BeamTurn, "caution")
        }]
    );
    let alone = house(json!([{ "id": "beam-turn", "caution": "All will be well." }])).unwrap_err();
    assert_eq!(
        alone,
        [MethodFault::DoesNotDefer {
            place: at(StepId::BeamTurn, "caution"),
            expected: ONE_OF
        }]
    );
}

#[test]
fn a_house_without_a_name_is_asked_for_one() {
    let file = json!({ "endsmeet_house": 1 }).to_string();
    let faults = Method::house(&Method::embedded(), &file).unwrap_err();
    let place = Place {
        owner: Owner::File,
        field: "name".to_owned(),
    };
    assert_eq!(faults, [MethodFault::Missing { place }]);
}

#[test]
fn a_house_names_a_step_once() {
    let faults =
        house(json!([{ "id": "gather", "far": "Ready" }, { "id": "gather", "far": "Steady" }]))
            .unwrap_err();
    assert_eq!(
        faults,
        [MethodFault::IdTwice {
            owner: Owner::Step(StepId::Gather)
        }]
    );
}

#[test]
fn the_fingerprint_follows_the_content_and_not_the_layout() {
    let base = Method::embedded();
    let compact: Value = serde_json::from_str(BUILT_IN).unwrap();
    let compact = Method::parse(&compact.to_string()).unwrap();
    assert_eq!(base.fingerprint(), compact.fingerprint());
    let reworded = house(json!([{ "id": "gather", "far": "All ready" }])).unwrap();
    let skipped = Method::house(
        &base,
        &json!({ "endsmeet_house": 1, "name": base.name(),
        "steps": [{ "id": "raddle-bands", "skip": true }] })
        .to_string(),
    )
    .unwrap();
    let same = Method::house(
        &base,
        &json!({ "endsmeet_house": 1, "name": base.name() }).to_string(),
    )
    .unwrap();
    assert_ne!(base.fingerprint(), reworded.fingerprint());
    assert_ne!(base.fingerprint(), skipped.fingerprint());
    assert_eq!(base.fingerprint(), same.fingerprint());
}

#[test]
fn a_key_given_twice_is_named() {
    let file = r#"{ "endsmeet_house": 1, "name": "Hall", "steps": [{ "id": "gather", "why": "One.", "why": "Two." }] }"#;
    let faults = Method::house(&Method::embedded(), file).unwrap_err();
    assert_eq!(
        faults,
        [MethodFault::KeyTwice {
            place: at(StepId::Gather, "why")
        }]
    );
}

#[test]
fn a_file_beyond_the_limits_is_not_read() {
    let base = Method::embedded();
    let large = format!("{{\"name\": \"{}\"}}", "x".repeat(256 * 1024));
    let [
        MethodFault::TooBig {
            bytes,
            most: 262_144,
        },
    ] = Method::house(&base, &large).unwrap_err()[..]
    else {
        panic!()
    };
    assert_eq!(bytes, large.len());
    let bomb = "[".repeat(200_000);
    assert_eq!(
        Method::house(&base, &bomb).unwrap_err(),
        [MethodFault::TooDeep { most: 16 }]
    );
    let quoted = r#"{ "endsmeet_house": 1, "name": "[[[[[[[[[[[[[[[[[[\"{{{{" }"#;
    assert!(
        !Method::house(&base, quoted)
            .unwrap_err()
            .contains(&MethodFault::TooDeep { most: 16 })
    );
}

#[test]
fn a_file_of_another_kind_is_one_sentence() {
    let base = Method::embedded();
    for (text, found) in [
        ("{}", "nothing"),
        ("[]", "a list"),
        ("{\"endsmeet_house\": 2}", "2"),
        ("{\"endsmeet_house\": \"1\"}", "text"),
        (BUILT_IN, "nothing"),
    ] {
        let fault = MethodFault::Version {
            key: "endsmeet_house",
            found: found.to_owned(),
        };
        assert_eq!(Method::house(&base, text).unwrap_err(), [fault]);
    }
    for text in ["", "no", "{\"endsmeet_house\": 1", "\u{0}"] {
        let faults = Method::house(&base, text).unwrap_err();
        assert!(
            matches!(faults[..], [MethodFault::NotJson { line: 0.., .. }]),
            "{faults:?}"
        );
    }
}

#[test]
fn a_word_that_only_looks_like_a_participle_may_open_a_do() {
    for text in [
        "Bring this bundle round the rod.",
        "String the heddles up out of the way.",
        "Swing the beater back.",
    ] {
        assert_eq!(
            house(json!([{ "id": "tie-first", "do": text }])).err(),
            None,
            "{text}"
        );
    }
}

#[test]
fn a_loom_s_own_words_lie_over_the_house_s_words_for_all() {
    let common = json!([{ "id": "tie-up", "far": "Treadles now" }]);
    let method = house(common).unwrap();
    assert_eq!(
        method.step(StepId::TieUp).on(LoomKind::Jack).far,
        "Treadles now"
    );
    assert_eq!(
        method.step(StepId::TieUp).on(LoomKind::Table).far,
        "Try the levers"
    );
    let own = json!([{ "id": "tie-up", "variants": [{ "looms": ["table", "lift"], "far": "Levers now" }] }]);
    let method = house(own).unwrap();
    assert_eq!(
        method.step(StepId::TieUp).on(LoomKind::Table).far,
        "Levers now"
    );
    assert_eq!(
        method.step(StepId::TieUp).on(LoomKind::Lift).far,
        "Levers now"
    );
}

#[test]
fn wording_for_no_loom_is_a_fault() {
    let faults =
        house(json!([{ "id": "tie-up", "variants": [{ "far": "Levers now" }] }])).unwrap_err();
    let place = at(StepId::TieUp, "variants[1].looms");
    assert_eq!(faults, [MethodFault::Missing { place }]);
}

#[test]
fn a_hidden_character_never_comes_back_in_a_message() {
    let escape = "\u{1b}]0;owned\u{7}";
    let file = json!({ "endsmeet_house": 1, "name": "Hall", escape: 1,
        "steps": [{ "id": escape }, { "id": "gather", escape: 2, "do": escape, "far": escape, "say": escape, "why": format!("{{{escape}}}") }] });
    let faults = Method::house(&Method::embedded(), &file.to_string()).unwrap_err();
    let text = said(&faults);
    assert!(faults.len() > 5, "{text}");
    assert!(
        text.chars()
            .all(|letter| letter == '\n' || !letter.is_control()),
        "{text:?}"
    );
}

#[test]
fn a_file_cut_short_anywhere_fails_with_its_faults_named() {
    let base = Method::embedded();
    for cut in (0..HOUSE.trim_end().len()).filter(|cut| HOUSE.is_char_boundary(*cut)) {
        let faults = Method::house(&base, &HOUSE[..cut]).unwrap_err();
        assert!(
            matches!(faults[..], [MethodFault::NotJson { .. }]),
            "cut at {cut}: {faults:?}"
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn no_text_makes_the_reader_panic(text in ".{0,200}", key in "[a-z_\\[\\]{}\"]{0,12}", cut in 0_usize..30_000) {
        let base = Method::embedded();
        prop_assert!(Method::house(&base, &text).is_err());
        let file = json!({ "endsmeet_house": 1, "name": text, "steps": [{ "id": "gather", "why": text, key: text }] });
        let housed = Method::house(&base, &file.to_string());
        prop_assert!(housed.map_or(true, |method| check(&method).is_empty()));
        let mut broken = BUILT_IN.to_owned();
        let from = (0..=cut.min(BUILT_IN.len())).rev().find(|at| BUILT_IN.is_char_boundary(*at)).unwrap_or(0);
        broken.insert_str(from, &text);
        let parsed = Method::parse(&broken);
        prop_assert!(parsed.map_or(true, |method| check(&method).is_empty()));
    }
}

/// The page that tells a house how to write its file.
const PAGE: &str = include_str!("../assets/method/README.md");

#[test]
fn the_page_names_every_step_that_may_be_left_out_and_no_other() {
    let part = PAGE.split("### Steps that may be left out").nth(1).unwrap();
    let part = part.split("###").next().unwrap();
    let named: Vec<&str> = part.split('`').skip(1).step_by(2).collect();
    let base = Method::embedded();
    let optional: Vec<&str> = base
        .steps()
        .filter(|step| step.optional)
        .map(|step| step.id.name())
        .collect();
    let mut named_in_order = named.clone();
    named_in_order.sort_by_key(|name| StepId::named(name));
    assert_eq!(named_in_order, optional);
}

#[test]
fn the_file_shown_on_the_page_is_taken_as_it_stands() {
    let shown = PAGE.split("```json").nth(1).unwrap();
    let shown = shown.split("```").next().unwrap();
    let method = Method::house(&Method::embedded(), shown)
        .map_err(|faults| said(&faults))
        .unwrap();
    assert!(method.step(StepId::GuideString).skipped);
    let message = PAGE
        .split("for example:")
        .nth(1)
        .and_then(|part| part.split("```").nth(1))
        .unwrap();
    let faults = house(json!([{ "id": "gather", "far": "Fetch the whole blue box" }])).unwrap_err();
    assert_eq!(said(&faults), message.trim());
}

#[test]
fn the_page_names_every_figure() {
    for figure in Figure::ALL {
        assert!(
            PAGE.contains(&format!("`{{{}}}`", figure.name())),
            "{}",
            figure.name()
        );
    }
}
