//! The steps as data, from outside: the built-in method passes, and each rule of the content check
//! fails on an example made to break it.

use endsmeet::method::{
    Figure, HAZARDS, LoomKind, Method, MethodFault, Owner, Place, Stage, StepId, check, fill,
};
use serde_json::{Value, json};

const BUILT_IN: &str = include_str!("../assets/method/back-to-front.json");

const ONE_OF: &str = "the loom maker's \"manual\" or a \"teacher\"";
const ALL: &str = "the loom maker's \"manual\", the local \"rules\" and a \"teacher\"";

/// The built-in file as a value to be broken.
fn built_in() -> Value {
    serde_json::from_str(BUILT_IN).expect("the built-in file is JSON")
}

/// The faults of the built-in file after `spoil`.
fn broken(spoil: impl FnOnce(&mut Value)) -> Vec<MethodFault> {
    let mut file = built_in();
    spoil(&mut file);
    Method::parse(&file.to_string()).expect_err("a broken example has to fail")
}

/// The faults after one field of one step is set.
fn with(step: StepId, field: &str, value: Value) -> Vec<MethodFault> {
    broken(|file| file["steps"][step as usize][field] = value)
}

fn at(step: StepId, field: &str) -> Place {
    Place {
        owner: Owner::Step(step),
        field: field.to_owned(),
    }
}

fn said(faults: &[MethodFault]) -> String {
    let lines: Vec<String> = faults.iter().map(ToString::to_string).collect();
    lines.join("\n")
}

#[test]
fn the_built_in_method_passes_its_own_check() {
    let faults = Method::parse(BUILT_IN).err().unwrap_or_default();
    assert_eq!(said(&faults), "");
    assert_eq!(check(&Method::embedded()), []);
    // it is read unchecked at each start, so the check's own reading has to give the same
    assert_eq!(Method::parse(BUILT_IN), Ok(Method::embedded()));
    assert_eq!(Method::embedded_text(), BUILT_IN);
}

#[test]
fn every_step_stands_under_its_own_id() {
    let method = Method::embedded();
    for id in StepId::ALL {
        assert_eq!(method.step(id).id, id);
        assert_eq!(
            serde_json::to_value(id).unwrap(),
            json!(id.name()),
            "the stored form spells it alike"
        );
        assert_eq!(StepId::named(id.name()), Some(id));
    }
    for id in Stage::ALL {
        assert_eq!(method.stage(id).id, id);
        assert_eq!(serde_json::to_value(id).unwrap(), json!(id.name()));
        assert_eq!(Stage::named(id.name()), Some(id));
    }
    for kind in LoomKind::ALL {
        assert_eq!(serde_json::to_value(kind).unwrap(), json!(kind.name()));
    }
}

#[test]
fn the_stages_of_the_steps_never_run_backwards() {
    let stages: Vec<Stage> = StepId::ALL.map(StepId::stage).to_vec();
    assert!(stages.is_sorted());
}

#[test]
fn a_step_that_is_not_in_the_file_is_named_once() {
    let faults = broken(|file| {
        file["steps"]
            .as_array_mut()
            .unwrap()
            .remove(StepId::Chokes as usize);
    });
    assert_eq!(
        faults,
        [MethodFault::IdMissing {
            owner: Owner::Step(StepId::Chokes)
        }]
    );
    assert_eq!(
        said(&faults),
        "step \"chokes\": not in the file, expected once. Add it"
    );
}

#[test]
fn a_stage_that_is_not_in_the_file_is_named_once() {
    let faults = broken(|file| {
        file["stages"].as_array_mut().unwrap().remove(0);
    });
    assert_eq!(
        faults,
        [MethodFault::IdMissing {
            owner: Owner::Stage(Stage::Prepare)
        }]
    );
}

#[test]
fn a_step_given_twice_is_named() {
    let faults = broken(|file| {
        let copy = file["steps"][0].clone();
        file["steps"].as_array_mut().unwrap().push(copy);
    });
    assert!(
        faults.contains(&MethodFault::IdTwice {
            owner: Owner::Step(StepId::Gather)
        }),
        "{faults:?}"
    );
}

#[test]
fn a_step_out_of_its_place_is_named_with_what_stands_before_it() {
    let faults = broken(|file| {
        let steps = file["steps"].as_array_mut().unwrap();
        steps.swap(StepId::SticksTied as usize, StepId::CrossTiesOff as usize);
    });
    let owner = Owner::Step(StepId::SticksTied);
    let after = Owner::Step(StepId::CrossTiesOff);
    assert_eq!(faults, [MethodFault::OutOfOrder { owner, after }]);
}

#[test]
fn a_step_that_nobody_knows_is_refused_with_the_nearest_name() {
    let faults = with(StepId::BeamTurn, "id", json!("beam-trun"));
    let place = Place {
        owner: Owner::Entry {
            list: "steps",
            number: 28,
        },
        field: "id".to_owned(),
    };
    let near = Some("beam-turn".to_owned());
    assert!(
        faults.contains(&MethodFault::UnknownId {
            place,
            found: "beam-trun".to_owned(),
            near
        }),
        "{faults:?}"
    );
}

#[test]
fn an_imperative_of_more_than_twenty_words_is_too_long() {
    let words = vec!["again"; 20].join(" ");
    let faults = with(StepId::TieFirst, "do", json!(format!("Tie {words}.")));
    assert_eq!(
        faults,
        [MethodFault::TooManyWords {
            place: at(StepId::TieFirst, "do"),
            words: 21,
            most: 20
        }]
    );
}

#[test]
fn a_sentence_that_does_not_begin_with_the_deed_is_no_imperative() {
    for opening in [
        "You tie the bundle.",
        "When snug, finish the knot.",
        "Tying comes now.",
        "The knot is tied.",
    ] {
        let faults = with(StepId::TieFirst, "do", json!(opening));
        let first = opening.split(' ').next().unwrap().to_owned();
        let place = at(StepId::TieFirst, "do");
        assert_eq!(
            faults,
            [MethodFault::NotImperative {
                place,
                found: first
            }],
            "{opening}"
        );
    }
}

#[test]
fn a_do_is_one_sentence_with_its_full_stop() {
    for (text, sentences) in [
        ("Tie it. Pull it.", 2),
        ("Tie this bundle", 0),
        ("Tie this bundle?", 0),
    ] {
        let faults = with(StepId::TieFirst, "do", json!(text));
        let place = at(StepId::TieFirst, "do");
        assert_eq!(
            faults,
            [MethodFault::NotOneSentence { place, sentences }],
            "{text}"
        );
    }
}

#[test]
fn distance_lines_have_twenty_and_ten_columns() {
    let far = with(StepId::Measure, "far", json!("Measure all and write"));
    assert_eq!(
        far,
        [MethodFault::TooLong {
            place: at(StepId::Measure, "far"),
            columns: 21,
            most: 20
        }]
    );
    let short = with(StepId::Measure, "far_short", json!("Measure all"));
    assert_eq!(
        short,
        [MethodFault::TooLong {
            place: at(StepId::Measure, "far_short"),
            columns: 11,
            most: 10
        }]
    );
}

#[test]
fn a_figure_is_measured_at_its_widest() {
    let faults = with(
        StepId::StopBeaming,
        "far",
        json!("Leave all {front_allowance}"),
    );
    let place = at(StepId::StopBeaming, "far");
    assert_eq!(
        faults,
        [MethodFault::TooLong {
            place,
            columns: 22,
            most: 20
        }]
    );
}

#[test]
fn a_distance_line_has_only_letters_that_can_be_drawn_large() {
    let faults = with(StepId::Measure, "far", json!("Measure \u{2192} note"));
    assert_eq!(
        faults,
        [MethodFault::NotDrawable {
            place: at(StepId::Measure, "far"),
            found: '\u{2192}'
        }]
    );
}

#[test]
fn a_voice_gets_words_and_no_symbols() {
    for (text, found) in [
        ("Leave 1/2 of it.", "/"),
        ("Leave 20 cm in front.", "cm"),
        ("Leave 12in in front.", "12in"),
        ("Turn 50% of the way.", "%"),
        ("Tie it (again).", "("),
    ] {
        let faults = with(StepId::StopBeaming, "say", json!(text));
        let place = at(StepId::StopBeaming, "say");
        assert_eq!(
            faults,
            [MethodFault::NotSpeakable {
                place,
                found: found.to_owned()
            }],
            "{text}"
        );
    }
}

#[test]
fn nothing_may_be_left_empty() {
    for field in ["title", "do", "far", "far_short", "say", "why"] {
        for empty in [json!(""), json!("  ")] {
            let faults = with(StepId::KnotGroup, field, empty);
            assert_eq!(
                faults,
                [MethodFault::Missing {
                    place: at(StepId::KnotGroup, field)
                }],
                "{field}"
            );
        }
    }
    let none = with(StepId::KnotGroup, "wrong", json!([]));
    assert_eq!(
        none,
        [MethodFault::Missing {
            place: at(StepId::KnotGroup, "wrong")
        }]
    );
    let half = with(
        StepId::KnotGroup,
        "wrong",
        json!([{ "sign": "It slips off." }]),
    );
    assert_eq!(
        half,
        [MethodFault::Missing {
            place: at(StepId::KnotGroup, "wrong[1].then")
        }]
    );
}

#[test]
fn more_signs_than_are_shown_are_too_many() {
    let signs: Vec<Value> = (0..7)
        .map(|n| json!({ "sign": format!("Sign number {n} shows."), "then": format!("Mend number {n} now.") }))
        .collect();
    let faults = with(StepId::KnotGroup, "wrong", json!(signs));
    assert_eq!(
        faults,
        [MethodFault::TooMany {
            place: at(StepId::KnotGroup, "wrong"),
            count: 7,
            most: 6
        }]
    );
}

#[test]
fn a_hazard_without_a_caution_fails_for_each_of_them() {
    for hazard in HAZARDS {
        let faults = broken(|file| {
            let step = file["steps"][hazard as usize].as_object_mut().unwrap();
            step.remove("caution");
        });
        assert_eq!(
            faults,
            [MethodFault::NoCaution {
                place: at(hazard, "caution")
            }]
        );
    }
}

#[test]
fn a_caution_defers_to_a_manual_or_a_teacher() {
    let faults = with(
        StepId::CutLoops,
        "caution",
        json!("Cut away from your other hand."),
    );
    assert_eq!(
        faults,
        [MethodFault::DoesNotDefer {
            place: at(StepId::CutLoops, "caution"),
            expected: ONE_OF
        }]
    );
    let loom = broken(|file| {
        file["steps"][StepId::TieUp as usize]["variants"][2]["caution"] = json!("Mind your hands.")
    });
    assert_eq!(
        loom,
        [MethodFault::DoesNotDefer {
            place: at(StepId::TieUp, "variants[table].caution"),
            expected: ONE_OF
        }]
    );
    let file = broken(|file| file["defers"] = json!("Ask a teacher."));
    let place = Place {
        owner: Owner::File,
        field: "defers".to_owned(),
    };
    assert_eq!(
        file,
        [MethodFault::DoesNotDefer {
            place,
            expected: ALL
        }]
    );
}

#[test]
fn braces_hold_known_figures_only() {
    let faults = with(
        StepId::RodsTiedFast,
        "why",
        json!("There are {tise} of them."),
    );
    let place = at(StepId::RodsTiedFast, "why");
    let near = Some("ties".to_owned());
    assert_eq!(
        faults,
        [MethodFault::UnknownFigure {
            place: place.clone(),
            found: "tise".to_owned(),
            near
        }]
    );
    for (text, found) in [
        ("An open { brace.", "{"),
        ("A closing } brace.", "}"),
        ("Both }{ turned.", "}"),
    ] {
        let faults = with(StepId::RodsTiedFast, "why", json!(text));
        let wanted = MethodFault::UnknownFigure {
            place: place.clone(),
            found: found.to_owned(),
            near: None,
        };
        assert!(faults.contains(&wanted), "{text}: {faults:?}");
    }
}

#[test]
fn a_list_has_no_room_outside_why() {
    let faults = with(StepId::Gather, "say", json!("Lay out {heddles} heddles."));
    assert_eq!(
        faults,
        [MethodFault::ListInShortLine {
            place: at(StepId::Gather, "say"),
            figure: "heddles"
        }]
    );
}

#[test]
fn what_may_be_unknown_never_opens_a_text() {
    let faults = with(
        StepId::BeamTurn,
        "why",
        json!("About {turns} turns are expected here."),
    );
    assert_eq!(
        faults,
        [MethodFault::UnsureFigure {
            place: at(StepId::BeamTurn, "why"),
            figure: "turns"
        }]
    );
}

#[test]
fn hidden_characters_are_named_by_their_code() {
    for (text, code) in [
        ("Tie\u{1b}[2J it up.", 0x1b),
        ("Tie \u{202e}ti up.", 0x202e),
        ("Tie\u{200b} it up.", 0x200b),
    ] {
        let faults = with(StepId::TieFirst, "why", json!(text));
        assert_eq!(
            faults,
            [MethodFault::Hidden {
                place: at(StepId::TieFirst, "why"),
                code
            }]
        );
    }
}

#[test]
fn a_text_longer_than_its_room_is_refused() {
    let long = format!("Rest {}.", "now ".repeat(60).trim_end());
    let faults = with(StepId::TieFirst, "why", json!(long));
    assert_eq!(
        faults,
        [MethodFault::TooLong {
            place: at(StepId::TieFirst, "why"),
            columns: 245,
            most: 240
        }]
    );
}

#[test]
fn a_sentence_is_said_once() {
    let why = built_in()["steps"][0]["why"].clone();
    let faults = with(StepId::Measure, "why", why.clone());
    let [
        MethodFault::SaidTwice {
            place,
            first,
            sentence,
        },
    ] = faults.as_slice()
    else {
        panic!("{faults:?}")
    };
    assert_eq!(
        (place, &**first),
        (&at(StepId::Measure, "why"), &at(StepId::Gather, "why"))
    );
    assert_eq!(json!(sentence), why);
}

#[test]
fn an_unknown_key_is_named_with_the_nearest_known_one() {
    let faults = broken(|file| file["steps"][0]["cuation"] = json!("Ask a teacher first."));
    let fault = MethodFault::UnknownKey {
        place: at(StepId::Gather, ""),
        key: "cuation".to_owned(),
        near: Some("caution".to_owned()),
    };
    assert_eq!(faults, [fault]);
    assert_eq!(
        said(&faults),
        "step \"gather\": \"cuation\" is not known here (did you mean \"caution\"?). Rename it or take it out"
    );
}

#[test]
fn a_value_of_another_kind_is_named() {
    for (field, value, found, expected) in [
        ("far", json!(7), "a number", "text"),
        ("wrong", json!("no"), "text", "a list"),
        ("optional", json!("yes"), "text", "true or false"),
        ("say", json!(null), "null", "text"),
        ("say", json!(-1.5), "a number", "text"),
        ("say", json!({}), "an object", "text"),
    ] {
        let faults = with(StepId::KnotGroup, field, value);
        let wanted = MethodFault::WrongShape {
            place: at(StepId::KnotGroup, field),
            found,
            expected,
        };
        assert!(faults.contains(&wanted), "{field}: {faults:?}");
    }
}

#[test]
fn an_unknown_kind_of_loom_is_named() {
    let faults = with(StepId::PinsOut, "looms", json!(["countermarsh"]));
    let fault = MethodFault::UnknownId {
        place: at(StepId::PinsOut, "looms"),
        found: "countermarsh".to_owned(),
        near: Some("countermarch".to_owned()),
    };
    assert_eq!(faults, [fault]);
}

#[test]
fn all_faults_of_a_file_are_said_at_once() {
    let faults = broken(|file| {
        file["steps"][0]["far"] = json!("");
        file["steps"][1]["why"] = json!("Say {this}.");
        file["name"] = json!("");
    });
    assert_eq!(faults.len(), 3, "{faults:?}");
}

#[test]
fn each_kind_of_loom_has_its_own_words_where_they_differ() {
    let method = Method::embedded();
    let lines: Vec<String> = LoomKind::ALL
        .iter()
        .map(|kind| method.step(StepId::TieUp).on(*kind).imperative)
        .collect();
    let mut different = lines.clone();
    different.sort();
    different.dedup();
    assert_eq!(different.len(), 5, "{lines:?}");
    assert!(method.includes(StepId::PinsOut, LoomKind::Countermarch));
    assert!(!method.includes(StepId::PinsOut, LoomKind::Jack));
}

#[test]
fn figures_are_put_in_and_an_unknown_one_takes_its_sentence_along() {
    let text = "Pull alike. About {turns} turns are expected. Leave {width}.";
    let all = fill(text, |figure| Some(figure.name().to_uppercase()));
    assert_eq!(
        all,
        "Pull alike. About TURNS turns are expected. Leave WIDTH."
    );
    let fewer = fill(text, |figure| {
        (figure != Figure::Turns).then(|| "8.5 cm".to_owned())
    });
    assert_eq!(fewer, "Pull alike. Leave 8.5 cm.");
    assert_eq!(
        fill("No full stop {ties}", |_| Some("3".to_owned())),
        "No full stop 3"
    );
}

#[test]
fn every_figure_is_used_or_offered_under_its_own_name() {
    for figure in Figure::ALL {
        assert_eq!(Figure::named(figure.name()), Some(figure));
    }
    assert_eq!(Figure::named("nothing"), None);
}

/// Whole words that the project uses one other word for (design: one meaning each).
const OTHER_WORDS: [&str; 14] = [
    "heald",
    "healds",
    "harness",
    "harnesses",
    "cane",
    "canes",
    "leash",
    "slot",
    "slots",
    "warps",
    "pedal",
    "pedals",
    "strand",
    "strands",
];

#[test]
fn the_built_in_texts_keep_to_one_word_for_one_thing() {
    let text = BUILT_IN.to_lowercase();
    let words: Vec<&str> = text
        .split(|letter: char| !letter.is_alphanumeric())
        .collect();
    for other in OTHER_WORDS {
        assert!(!words.contains(&other), "\"{other}\" has another word here");
    }
    for (at, word) in words.iter().enumerate() {
        if *word == "lease" {
            assert!(
                words[at + 1].starts_with("stick"),
                "lease stands with its sticks"
            );
        }
    }
}
