//! Plans that are malformed or do not fit, each with its exact message.

use endsmeet::plan::{Problem, read_spec, work_out};

/// What is said about a plan, in order: of the text, else of the figures.
fn says(text: &str) -> Vec<String> {
    match read_spec(text) {
        Err(problems) => problems.iter().map(Problem::to_string).collect(),
        Ok(spec) => work_out(&spec)
            .problems
            .iter()
            .map(Problem::to_string)
            .collect(),
    }
}

/// A plan that fits, with one key set to something else.
fn with(key: &str, value: &str) -> String {
    let mut keys = vec![
        ("title", r#""t""#),
        ("sett", "10"),
        ("ends", "100"),
        ("threading", r#""1 2 3 4""#),
    ];
    keys.retain(|(k, _)| *k != key);
    keys.push((key, value));
    let pairs: Vec<String> = keys.iter().map(|(k, v)| format!("\"{k}\": {v}")).collect();
    format!("{{{}}}", pairs.join(", "))
}

#[test]
fn a_plain_plan_has_nothing_to_say() {
    assert_eq!(says(&with("title", r#""t""#)), Vec::<String>::new());
}

#[test]
fn each_wrong_key_is_named_with_what_was_found_and_expected() {
    for (key, value, said) in [
        ("sett", "0", "sett: found 0; expected more than 0 to 10000"),
        (
            "sett",
            "-3",
            "sett: found -3; expected more than 0 to 10000",
        ),
        (
            "sett",
            r#""1/0""#,
            "sett: \"1/0\": divides by 0 at character 3; expected 1 or more under the stroke",
        ),
        (
            "sett",
            "1e99",
            "sett: \"1e99\": 'e' at character 2; expected a digit, as in 18 1/2, 0.75 or 10%",
        ),
        (
            "sett",
            "123456789012",
            "sett: \"123456789012\": too long at character 1; at most 9 digits, 6 after the point, 1,000,000 under the stroke",
        ),
        (
            "sett",
            "true",
            "sett: found true; expected a number, or a text such as \"18 1/2\"",
        ),
        (
            "sett",
            r#""twenty""#,
            "sett: \"twenty\": 't' at character 1; expected a digit, as in 18 1/2, 0.75 or 10%",
        ),
        (
            "sett",
            "null",
            "sett: not said, and nothing can stand for it; add it",
        ),
        (
            "ends",
            "0",
            "ends: found 0; expected a whole number from 1 to 100000",
        ),
        (
            "ends",
            "-1",
            "ends: found -1; expected a whole number from 1 to 100000",
        ),
        (
            "ends",
            "2.5",
            "ends: found 2 1/2; expected a whole number from 1 to 100000",
        ),
        (
            "ends",
            "100001",
            "ends: found 100001; expected a whole number from 1 to 100000",
        ),
        (
            "ends",
            "[1]",
            "ends: found a list of 1; expected a number, or a text such as \"18 1/2\"",
        ),
        (
            "title",
            "7",
            "title: found the number 7; expected a text in \"quotes\"",
        ),
        (
            "title",
            r#""\u0007\u200b""#,
            "title: found the text \"\"; expected a name without control characters",
        ),
        (
            "units",
            r#""inch""#,
            "units: found \"inch\"; expected in or cm",
        ),
        (
            "floating_selvedges",
            r#""yes""#,
            "floating_selvedges: found \"yes\"; expected none, from-warp or added",
        ),
        (
            "batch",
            r#""repeats""#,
            "batch: found \"repeats\"; expected repeat, group or a number from 1 to 64",
        ),
        (
            "batch",
            "65",
            "batch: found 65; expected a whole number from 1 to 64",
        ),
        (
            "loom",
            "4",
            "loom: found the number 4; expected an object { ... }",
        ),
        (
            "loom",
            r#"{"shafts": 65}"#,
            "loom.shafts: found 65; expected a whole number from 1 to 64",
        ),
        (
            "loom",
            r#"{"heddles": [1, "x"]}"#,
            "loom.heddles[1]: \"x\": 'x' at character 1; expected a digit, as in 18 1/2, 0.75 or 10%",
        ),
        (
            "loom",
            r#"{"heddles": []}"#,
            "loom.heddles: a list of 0; expected 1 to 64",
        ),
        (
            "loom",
            r#"{"shafts": 4, "heddles": [30, 30]}"#,
            "loom.heddles: a list of 2; expected 4, one for each shaft",
        ),
        (
            "loom",
            r#"{"shfts": 4}"#,
            "loom.shfts: no plan has this key; did you mean \"shafts\"?",
        ),
        (
            "lom",
            "{}",
            "lom: no plan has this key; did you mean \"loom\"?",
        ),
        (
            "warp_colour_of_the_sky",
            "1",
            "warp_colour_of_the_sky: no plan has this key; take it out",
        ),
        (
            "reeds",
            r#"[{"length": 24}]"#,
            "reeds[0].dents: found nothing; expected a value here",
        ),
        (
            "reeds",
            r#"[{"dents": 50000}]"#,
            "reeds[0].dents: found 50000; expected more than 0 to 40000",
        ),
        (
            "sley_order",
            "[0, 0]",
            "sley_order: only empty dents; at least one number must be 1 or more",
        ),
        (
            "sley_order",
            r#"[{"order": [2]}, {"order": [1]}]"#,
            "sley_order: the sections hold 0 ends, the warp has 100 in heddles; only the last section may leave its ends open",
        ),
        (
            "edges",
            r#"{"ends": 3}"#,
            "edges.ends: 3 at each edge of 100 in heddles; expected an even number, both edges together at most 100",
        ),
        (
            "tie_up",
            "[[9]]",
            "tie_up[0]: shaft 9, and the loom has 4; use shafts 1 to 4, or a loom with 9",
        ),
        (
            "treadling",
            r#""7""#,
            "treadling, number 1: treadle 7, and there are 6; use treadles 1 to 6",
        ),
        (
            "colours",
            r#"[{"yarn": "flax", "ends": 100}]"#,
            "colours[0].yarn: no yarn is named \"flax\"; list it under yarns",
        ),
        (
            "length",
            r#"{"shrinkage": 1}"#,
            "length.shrinkage: found 1; expected 0 to 9/10 (90%)",
        ),
        (
            "endsmeet",
            "2",
            "endsmeet: found the number 2; this program reads format 1. Write \"endsmeet\": 1, or use a newer program",
        ),
        ("width", "10", "ends and width: both said; keep one of them"),
        (
            "group",
            r#""1/100""#,
            "group: would hold 0.1 ends; make it large enough for 1 end or more",
        ),
    ] {
        assert_eq!(says(&with(key, value)), [said], "{key}: {value}");
    }
}

#[test]
fn a_threading_points_at_its_fault() {
    for (typed, said) in [
        (
            "1 2 a",
            "threading: 'a' at character 5; expected a number, ( ) or x\n  1 2 a\n      ^",
        ),
        (
            "(1 2",
            "threading: '(' at character 1 is not closed; expected ')' after it\n  (1 2\n  ^",
        ),
        (
            "1 2) 3",
            "threading: ')' at character 4 closes nothing; take it out or open one before it\n  1 2) 3\n     ^",
        ),
        (
            "1 0",
            "threading: 0 at character 3; numbers start at 1\n  1 0\n    ^",
        ),
        (
            "1 65",
            "threading: 65 at character 3 is beyond any loom\n  1 65\n    ^",
        ),
        (
            "1 2 ()",
            "threading: nothing between the brackets that close at character 6; expected a number\n  1 2 ()\n       ^",
        ),
        (
            "x4",
            "threading: x at character 1 repeats nothing; expected ) or a number before it\n  x4\n  ^",
        ),
        (
            "(1 2) x",
            "threading: x at character 7 does not say how often; expected a number after it\n  (1 2) x\n        ^",
        ),
        (
            "(1 2) x0",
            "threading: x0 at character 7 repeats it no times; expected 1 or more\n  (1 2) x0\n        ^",
        ),
        (
            "((((1 2) x1000) x1000) x1000) x1000",
            "threading: 2000000 ends at character 17; a warp has at most 100000\n  ((((1 2) x1000) x1000) x1000) x1000\n                  ^",
        ),
        (
            "1 x99999999999",
            "threading: 99999999999 at character 3 is beyond any loom\n  1 x99999999999\n    ^",
        ),
        (
            "",
            "threading: nothing there; type numbers such as 1 2 3 4\n  \n  ^",
        ),
        (
            "1\u{1b}[2J",
            "threading: 'U+001B' at character 2; expected a number, ( ) or x\n  1?[2J\n   ^",
        ),
        (
            "((((((((((((((((((1",
            "threading: '(' at character 17 is more than 16 deep; write some of it out\n  ((((((((((((((((((1\n                  ^",
        ),
        (
            "1 2 3 4 5",
            "threading, number 5: shaft 5, and the loom has 4; use shafts 1 to 4, or a loom with 5",
        ),
    ] {
        let text = with("threading", &serde_json::Value::from(typed).to_string());
        let text = text.replacen('{', r#"{"loom": {"shafts": 4}, "#, 1);
        assert_eq!(says(&text), [said], "{typed:?}");
    }
    let long = with("threading", r#""(1 2 3 4) x26""#);
    assert_eq!(
        says(&long),
        ["threading: 104 ends for 100 ends in heddles; take 4 out, or wind 4 more"]
    );
}

#[test]
fn a_long_threading_shows_the_place_and_not_the_whole() {
    let text = with(
        "threading",
        &format!("\"{} q {}\"", "1 2 ".repeat(200), "3 ".repeat(200)),
    );
    let said = says(&text);
    assert_eq!(
        said,
        [
            "threading: 'q' at character 802; expected a number, ( ) or x\n  ... 2 1 2 1 2 1 2 1 2 1 2  q 3 3 3 3 3 3 3 3 3 3 3 \n                             ^"
        ]
    );
}

#[test]
fn heddles_that_are_short_are_moved_or_hung() {
    let text = |heddles: &str| {
        format!(
            r#"{{"title": "t", "sett": 20, "ends": 277, "threading": "(1 2 3 4 3 2) x46 1",
            "loom": {{"shafts": 4, "heddles": {heddles}}}}}"#
        )
    };
    assert_eq!(
        says(&text("[60, 75, 100, 75]")),
        ["needs 92 heddles on shaft 2, 75 there: move 17 from shaft 4, which has 29 to spare"]
    );
    assert_eq!(
        says(&text("[47, 60, 100, 60]")),
        [
            "needs 92 heddles on shaft 2, 60 there: move 14 from shaft 4, which has 14 to spare; move 8 from shaft 3, which has 8 to spare; hang 10 more on shaft 2"
        ]
    );
    assert_eq!(
        says(&text("[47, 92, 91, 46]")),
        [
            "needs 92 heddles on shaft 3, 91 there: no shaft has any to spare; hang 1 more on shaft 3"
        ]
    );
}

#[test]
fn a_warp_too_wide_says_what_would_fit() {
    let text = |loom: &str, reed: &str| {
        format!(
            r#"{{"title": "t", "sett": 20, "ends": 500, "threading": "1 2 3 4",
            "loom": {{"width": {loom}}}, "reeds": [{{"dents": 10, "length": {reed}}}], "raddle": {{"length": 24}}}}"#
        )
    };
    assert_eq!(
        says(&text("24", "24")),
        [
            "reed 10 per in: needs 250 dents, 240 there; take a longer reed or fewer ends, or sett it at 20.83 or closer",
            "width: 25 in in the reed, and the loom weaves 24 in; at this sett at most 480 ends fit",
            "raddle: needs 50 spaces, 48 there; take a longer or a coarser raddle"
        ]
    );
}

#[test]
fn all_problems_are_said_at_once() {
    let text = r#"{"titel": "t", "sett": 0, "ends": "many", "threading": 5, "ends": 7, "reeds": [{"dents": 10, "pr": "in"}]}"#;
    assert_eq!(
        says(text),
        [
            "ends: said twice; keep one",
            "titel: no plan has this key; did you mean \"title\"?",
            "sett: found 0; expected more than 0 to 10000",
            "ends: \"many\": 'm' at character 1; expected a digit, as in 18 1/2, 0.75 or 10%",
            "threading: found the number 5; expected a text in \"quotes\"",
            "reeds[0].pr: no plan has this key; did you mean \"per\"?",
        ]
    );
    let nothing = says("{}");
    assert_eq!(
        nothing,
        [
            "title: not said, and nothing can stand for it; add it",
            "sett: not said, and nothing can stand for it; add it",
            "threading: not said, and nothing can stand for it; add it",
            "ends (or width): not said, and nothing can stand for it; add it",
        ]
    );
}

#[test]
fn text_that_is_no_plan_is_refused_in_a_sentence() {
    for (text, said) in [
        (
            "",
            "the plan is not readable as JSON at line 1, column 0: EOF while parsing a value. Mend that place and try again",
        ),
        (
            "{\n \"title\": ",
            "the plan is not readable as JSON at line 2, column 10: EOF while parsing a value. Mend that place and try again",
        ),
        (
            "PK\u{3}\u{4}",
            "the plan is not readable as JSON at line 1, column 1: expected value. Mend that place and try again",
        ),
        (
            "[]",
            "the plan: found a list of 0; expected an object { ... }",
        ),
        ("null", "the plan: found null; expected an object { ... }"),
    ] {
        assert_eq!(says(text), [said], "{text:?}");
    }
    let bomb = format!(
        "{{\"title\": {}{}}}",
        "[".repeat(50_000),
        "]".repeat(50_000)
    );
    assert_eq!(
        says(&bomb),
        ["lists or objects stand more than 16 deep; a plan needs 3. Is it the right file?"]
    );
    let huge = format!("{{\"title\": \"{}\"}}", "x".repeat(5_000_000));
    assert_eq!(
        says(&huge),
        ["the plan has 5000013 bytes; a plan has at most 4000000. Is it the right file?"]
    );
}

#[test]
fn names_are_made_harmless_on_the_way_in() {
    let text = with("title", r#""Hall\n \u202erunner\u200b""#);
    assert_eq!(
        read_spec(&text).unwrap().title.as_deref(),
        Some("Hall runner")
    );
    // what a terminal would obey is refused, and never echoed
    let text = with("title", r#""Hall\u001b[31m runner""#);
    assert_eq!(
        says(&text),
        ["title: found the text \"Hall[31m runner\"; expected a name without control characters"]
    );
    let key = says(r#"{"\u001b[2Jx": 1}"#);
    assert_eq!(key[0], "[2Jx: no plan has this key; take it out");
}
