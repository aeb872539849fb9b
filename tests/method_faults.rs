//! The sentences of a method file's faults, word for word: each names the place, what was found,
//! what was expected, and ends in the next move.

use endsmeet::method::{Method, MethodFault, Owner, Place, Stage, StepId};

fn at(field: &str) -> Place {
    Place {
        owner: Owner::Step(StepId::BeamTurn),
        field: field.to_owned(),
    }
}

/// Every kind of fault with its sentence.
fn sentences() -> Vec<(MethodFault, &'static str)> {
    let place = || at("far");
    let text = || "tise".to_owned();
    let near = || Some("ties".to_owned());
    let step = |id| Owner::Step(id);
    vec![
        (
            MethodFault::TooBig {
                bytes: 300_000,
                most: 262_144,
            },
            "the file has 300000 bytes; at most 262144 are read. Shorten it",
        ),
        (
            MethodFault::TooDeep { most: 16 },
            "brackets nest deeper than 16. Look for one that is not closed",
        ),
        (
            MethodFault::NotJson {
                line: 3,
                column: 7,
                found: "expected `,` or `}`".to_owned(),
            },
            "line 3, column 7: this is not JSON (expected `,` or `}`). Mend it there",
        ),
        (
            MethodFault::Version {
                key: "endsmeet_house",
                found: "2".to_owned(),
            },
            "endsmeet_house: found 2, expected 1. Start the file with { \"endsmeet_house\": 1, ... }",
        ),
        (
            MethodFault::UnknownKey {
                place: at(""),
                key: text(),
                near: None,
            },
            "step \"beam-turn\": \"tise\" is not known here. Rename it or take it out",
        ),
        (
            MethodFault::NotForAHouse { place: at("looms") },
            "step \"beam-turn\", \"looms\": a house's own file cannot set this. Take it out",
        ),
        (
            MethodFault::KeyTwice { place: place() },
            "step \"beam-turn\", \"far\": given twice. Keep one of the two",
        ),
        (
            MethodFault::WrongShape {
                place: place(),
                found: "a number",
                expected: "text",
            },
            "step \"beam-turn\", \"far\": found a number, expected text. Change it to that",
        ),
        (
            MethodFault::Missing {
                place: at("wrong[2].then"),
            },
            "step \"beam-turn\", \"wrong[2].then\": nothing there, expected a text. Write one",
        ),
        (
            MethodFault::UnknownId {
                place: Place {
                    owner: Owner::Entry {
                        list: "steps",
                        number: 4,
                    },
                    field: "id".to_owned(),
                },
                found: text(),
                near: near(),
            },
            "entry 4 of \"steps\", \"id\": \"tise\" is not one of the known ones (did you mean \"ties\"?). Correct it or take it out",
        ),
        (
            MethodFault::IdMissing {
                owner: Owner::Stage(Stage::TieOn),
            },
            "stage \"tie-on\": not in the file, expected once. Add it",
        ),
        (
            MethodFault::IdTwice {
                owner: step(StepId::Chokes),
            },
            "step \"chokes\": in the file twice, expected once. Keep one of the two",
        ),
        (
            MethodFault::OutOfOrder {
                owner: step(StepId::SticksTied),
                after: step(StepId::CrossTiesOff),
            },
            "step \"sticks-tied\": stands after step \"cross-ties-off\", expected before it. Move it up",
        ),
        (
            MethodFault::NotOptional {
                owner: step(StepId::PawlAndBrake),
            },
            "step \"pawl-and-brake\": not optional, so it cannot be left out. Take \"skip\" away; rewording is free",
        ),
        (
            MethodFault::HalfSkipped {
                skipped: step(StepId::RodSlings),
                kept: step(StepId::SlingsOff),
            },
            "step \"rod-slings\": left out without step \"slings-off\", which undoes or needs it. Leave out both or none",
        ),
        (
            MethodFault::TooLong {
                place: place(),
                columns: 24,
                most: 20,
            },
            "step \"beam-turn\", \"far\": 24 columns at its widest, room for 20. Shorten it",
        ),
        (
            MethodFault::TooMany {
                place: at("wrong"),
                count: 7,
                most: 6,
            },
            "step \"beam-turn\", \"wrong\": 7 entries, at most 6 are shown. Keep the most likely ones",
        ),
        (
            MethodFault::TooManyWords {
                place: at("do"),
                words: 21,
                most: 20,
            },
            "step \"beam-turn\", \"do\": 21 words, at most 20. Say one thing, shorter",
        ),
        (
            MethodFault::NotImperative {
                place: at("do"),
                found: "You".to_owned(),
            },
            "step \"beam-turn\", \"do\": begins with \"You\", expected a word that says what to do, such as \"Tie\" or \"Count\". Turn it round",
        ),
        (
            MethodFault::NotOneSentence {
                place: at("do"),
                sentences: 2,
            },
            "step \"beam-turn\", \"do\": 2 sentences, expected one that ends in a full stop. Make it one",
        ),
        (
            MethodFault::NotSpeakable {
                place: at("say"),
                found: "cm".to_owned(),
            },
            "step \"beam-turn\", \"say\": a voice cannot read \"cm\", expected words. Write it out",
        ),
        (
            MethodFault::NotDrawable {
                place: place(),
                found: '&',
            },
            "step \"beam-turn\", \"far\": \"&\" cannot be drawn large, expected letters, digits and . , : ' - only. Leave it out",
        ),
        (
            MethodFault::UnknownFigure {
                place: at("why"),
                found: text(),
                near: near(),
            },
            "step \"beam-turn\", \"why\": {tise} is not a known figure (did you mean \"ties\"?). Correct the name, or leave the braces out",
        ),
        (
            MethodFault::ListInShortLine {
                place: at("say"),
                figure: "heddles",
            },
            "step \"beam-turn\", \"say\": {heddles} is a list and has no room here. Move it to \"why\"",
        ),
        (
            MethodFault::UnsureFigure {
                place: at("why"),
                figure: "turns",
            },
            "step \"beam-turn\", \"why\": {turns} may be unknown and its sentence is then left out. Put it in a later sentence of \"why\"",
        ),
        (
            MethodFault::NoCaution {
                place: at("caution"),
            },
            "step \"beam-turn\", \"caution\": nothing there, expected a caution, since this work can hurt. Write one",
        ),
        (
            MethodFault::DoesNotDefer {
                place: at("caution"),
                expected: "the loom maker's \"manual\" or a \"teacher\"",
            },
            "step \"beam-turn\", \"caution\": does not send the reader to the loom maker's \"manual\" or a \"teacher\". Name them there",
        ),
        (
            MethodFault::Hidden {
                place: at("why"),
                code: 0x1b,
            },
            "step \"beam-turn\", \"why\": hidden character U+001B, expected plain text. Take it out",
        ),
        (
            MethodFault::SaidTwice {
                place: at("why"),
                first: Box::new(Place {
                    owner: Owner::File,
                    field: "name".to_owned(),
                }),
                sentence: "Pull alike.".to_owned(),
            },
            "step \"beam-turn\", \"why\": says again what the file, \"name\" says (\"Pull alike.\"). Say it once",
        ),
    ]
}

#[test]
fn every_fault_says_where_what_and_what_to_do() {
    for (fault, sentence) in sentences() {
        assert_eq!(fault.to_string(), sentence);
    }
}

#[test]
fn the_place_in_a_broken_file_is_said_once() {
    let file = "{\n  \"endsmeet_house\": 1,\n  \"name\" \"Hall\"\n}";
    let faults = Method::house(&Method::embedded(), file).unwrap_err();
    assert_eq!(
        faults[0].to_string(),
        "line 3, column 10: this is not JSON (expected `:`). Mend it there"
    );
}
