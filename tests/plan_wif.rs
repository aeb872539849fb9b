//! WIF 1.1: files of our own making, hostile ones included, checked against an independent INI reader
//! where Python is there; and the traditional draws in `assets/drafts`.

use endsmeet::plan::wif::{Threads, Wif, WifUnits, read_wif, spec_of_wif, wif_of_plan, write_wif};
use endsmeet::plan::{Side, Units, read_spec, spec_value, threading::read_threading, work_out};
use endsmeet::quantity::Fraction;
use proptest::prelude::*;
use std::io::Write;
use std::process::{Command, Stdio};

const ODD: &str = "; a draft of our own\r\n[wif]\r\nVERSION = 1.1\r\n\r\n[Contents]\r\nThreading=yes\r\nLift Plan=no\r\nCOLOR TABLE=on\r\n\
[ text ]\r\nTITLE= Odd  \u{1b}[2Jdraft\r\n[WeaVing]\r\nshafts=4\r\nTreadles=4\r\nRising  Shed=1\r\n\
[WARP]\r\nThreads=6\r\nUnits=Decipoints\r\nSpacing=36\r\nColor=2,255,0,0\r\n\
[threading]\r\n6=2\r\n5= 1\r\n1=1\r\n2=2 ; said aside\r\n3=3\r\n4=4\r\n\
[tieup]\r\n1=1,2\r\n2=2,3\r\n4=\r\n[TREADLING]\r\n1=1\r\n2=2\r\n3=1\r\n\
[COLOR PALETTE]\r\nRange=0,999\r\n[COLOR TABLE]\r\n1=0,0,0\r\n2=999,500,0\r\n[warp colors]\r\n2=1\r\n[notes]\r\n1=keep dry\r\nnonsense\r\n";

#[test]
fn odd_case_comments_cr_lf_and_gaps_are_read() {
    let (wif, remarks) = read_wif(format!("\u{feff}{ODD}").as_bytes()).unwrap();
    assert_eq!(wif.title.as_deref(), Some("Odd [2Jdraft"));
    assert_eq!(wif.threading, [[1], [2], [3], [4], [1], [2]]);
    assert_eq!(wif.tie_up, [vec![1, 2], vec![2, 3], vec![], vec![]]);
    assert_eq!(wif.palette, [[0, 0, 0], [255, 128, 0]]);
    assert_eq!((wif.shafts, wif.treadles, wif.rising), (4, 4, true));
    assert_eq!(wif.notes, ["keep dry"]);
    let says: Vec<String> = remarks.iter().map(ToString::to_string).collect();
    assert_eq!(says, ["line 44 is no key=value and was passed by"]);
    let (spec, remarks) = spec_of_wif(&wif, Side::Right).unwrap();
    assert_eq!(
        (spec.sett, spec.units),
        (Some(Fraction::whole(20)), Some(Units::In))
    );
    assert_eq!(spec.threading.as_deref(), Some("1 2 3 4 1 2"));
    let stripes: Vec<(&str, u32)> = spec
        .colours
        .iter()
        .map(|c| (c.yarn.as_str(), c.ends))
        .collect();
    assert_eq!(
        stripes,
        [
            ("colour 2 #ff8000", 1),
            ("colour 1 #000000", 1),
            ("colour 2 #ff8000", 4)
        ]
    );
    assert_eq!(
        remarks[0].to_string(),
        "thread 1 of the draft was taken to lie at the right edge"
    );
    let plan = work_out(&spec).plan().expect("the draft fits");
    assert_eq!(plan.heddles.needed, [2, 2, 1, 1]);
}

#[test]
fn thread_one_at_the_left_turns_the_draft_round() {
    let (wif, _) = read_wif(ODD.as_bytes()).unwrap();
    let (spec, _) = spec_of_wif(&wif, Side::Left).unwrap();
    assert_eq!(spec.threading.as_deref(), Some("2 1 4 3 2 1"));
    assert_eq!(spec.colours[0].ends, 4);
}

#[test]
fn sinking_sheds_and_several_treadles_are_worked_out() {
    let text = "[WIF]\nVersion=1.1\n[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=false\n[THREADING]\n1=1\n2=2\n3=3\n4=4\n\
        [TIEUP]\n1=1\n2=2\n3=3\n4=4\n[TREADLING]\n1=1,2\n2=3,4\n3=0\n";
    let (wif, _) = read_wif(text.as_bytes()).unwrap();
    let (spec, remarks) = spec_of_wif(&wif, Side::Right).unwrap();
    assert_eq!(spec.lift_plan, [vec![3, 4], vec![1, 2], vec![1, 2, 3, 4]]);
    assert_eq!(spec.tie_up[0], [2, 3, 4]);
    assert_eq!(remarks.len(), 3, "{remarks:?}");
}

#[test]
fn outermost_ends_in_no_heddle_are_floats() {
    let text = "[WIF]\nVersion=1.1\n[THREADING]\n1=0\n2=1\n3=2\n4=\n";
    let (wif, _) = read_wif(text.as_bytes()).unwrap();
    let (spec, _) = spec_of_wif(&wif, Side::Right).unwrap();
    let value = spec_value(&spec);
    assert_eq!(value["floating_selvedges"], "from-warp");
    assert_eq!(
        (value["ends"].as_u64(), value["threading"].as_str()),
        (Some(4), Some("1 2"))
    );
}

#[test]
fn what_cannot_be_read_or_dressed_is_said_in_a_sentence() {
    let wif = |body: &str| format!("[WIF]\nVersion=1.1\n{body}");
    for (text, said) in [
        (
            String::new(),
            "no [WIF] section: this is no WIF file. Save the draft as WIF 1.1 and try again",
        ),
        (
            "garbage \u{7f} \u{fffd}".into(),
            "no [WIF] section: this is no WIF file. Save the draft as WIF 1.1 and try again",
        ),
        (
            "[WIF]\0".into(),
            "the draft is no text: a byte 0 at place 6. Is it the right file?",
        ),
        (
            wif(""),
            "no [THREADING] section, or nothing in it: a draft without a threading cannot be dressed. Add it and try again",
        ),
        (
            wif("[THREADING]\n1=0\n"),
            "no [THREADING] section, or nothing in it: a draft without a threading cannot be dressed. Add it and try again",
        ),
        (
            wif("[THREADING]\n1=1\n4000000000=1\n"),
            "line 5: [THREADING] 4000000000 is beyond 100000, the most that is read. Mend that line and try again",
        ),
        (
            wif("[THREADING]\n99999999999999999999999=1\n"),
            "line 4: [THREADING] 99999999999999999999 is beyond 100000, the most that is read. Mend that line and try again",
        ),
        (
            wif("[THREADING]\n1=65\n"),
            "line 4: [THREADING] 65 is beyond 64, the most that is read. Mend that line and try again",
        ),
        (
            wif("[THREADING]\n1=-1\n"),
            "line 4: [THREADING] found \"-1\"; expected whole numbers. Mend that line and try again",
        ),
        (
            wif("[THREADING]\n1=one\n"),
            "line 4: [THREADING] found \"one\"; expected whole numbers. Mend that line and try again",
        ),
        (
            wif("[THREADING]\n1=1\n[COLOR TABLE]\n1=1,2\n"),
            "line 6: [COLOR TABLE] found \"1,2\"; expected three numbers such as 255,0,0. Mend that line and try again",
        ),
        (
            wif("[THREADING]\n1=1\n[COLOR PALETTE]\nRange=9,9\n"),
            "line 6: [COLOR PALETTE] found \"9,9\"; expected a range such as 0,255. Mend that line and try again",
        ),
        (
            wif("[THREADING]\n1=1\n[WARP]\nSpacing=wide\n"),
            "line 6: [WARP] found \"wide\"; expected a length such as 0.05. Mend that line and try again",
        ),
        (
            wif("[THREADING]\n1=1\n2=1,2\n3=1\n"),
            "end 2 is drawn on several shafts (1, 2): one end in several heddles cannot be counted out here. Keep one shaft for it",
        ),
        (
            wif("[THREADING]\n1=1\n3=1\n"),
            "end 2 of 3 is on no shaft: only the outermost two ends may be floating selvedges. Give it a shaft",
        ),
    ] {
        let found = read_wif(text.as_bytes()).and_then(|(wif, _)| spec_of_wif(&wif, Side::Right));
        assert_eq!(found.unwrap_err().to_string(), said, "{text:?}");
    }
}

#[test]
fn doubled_keys_missing_sections_and_other_versions_are_remarked() {
    let text = "[WIF]\nVersion=2.0\n[CONTENTS]\nTIEUP=true\nTHREADING=true\n[WARP]\nThreads=9\n[THREADING]\n1=1\n1=2\n2=1\nx=3\n0=1\n";
    let (wif, remarks) = read_wif(text.as_bytes()).unwrap();
    assert_eq!(wif.threading, [[2], [1]]);
    let says: Vec<String> = remarks.iter().map(ToString::to_string).collect();
    assert_eq!(
        says,
        [
            "line 10 says a key again: the last one holds",
            "the draft says WIF version 2.0; it was read as 1.1",
            "[CONTENTS] names [TIEUP], which is not there",
            "[WARP] says 9 threads, the threading has 2: the threading holds",
            "2 lines have no number in front and were passed by, the first is line 12",
        ]
    );
}

/// Traditional draws of general currency: file, title, threading, tie-up, treadling. The draws are named in
/// Wolfensberger 1921 pp. 7-13 and Brooks ("Drafts"): straight, point, skip, broken, section; the rest is
/// common practice, no source.
/// File, title, threading, tie-up, treadling.
type Draw = (
    &'static str,
    &'static str,
    &'static str,
    &'static [&'static [u32]],
    &'static str,
);

const DRAWS: [Draw; 14] = [
    (
        "straight-4",
        "Straight draw on four",
        "(1 2 3 4) x10",
        TWILL_4,
        "1 2 3 4",
    ),
    (
        "straight-8",
        "Straight draw on eight",
        "(1 2 3 4 5 6 7 8) x5",
        TWILL_8,
        "1 2 3 4 5 6 7 8",
    ),
    (
        "point-4",
        "Point draw on four",
        "(1 2 3 4 3 2) x8 1",
        TWILL_4,
        "1 2 3 4",
    ),
    (
        "point-8",
        "Point draw on eight",
        "(1 2 3 4 5 6 7 8 7 6 5 4 3 2) x4 1",
        TWILL_8,
        "1 2 3 4 5 6 7 8",
    ),
    (
        "skip-4",
        "Skip draw on four",
        "(1 3 2 4) x10",
        &[&[1, 2], &[3, 4]],
        "1 2",
    ),
    (
        "skip-8",
        "Skip draw on eight",
        "(1 3 5 7 2 4 6 8) x5",
        &[&[1, 3, 5, 7], &[2, 4, 6, 8]],
        "1 2",
    ),
    (
        "broken-4",
        "Broken draw on four",
        "(1 2 4 3) x10",
        TWILL_4,
        "1 2 3 4",
    ),
    (
        "advancing-4",
        "Advancing draw on four",
        "(1 2 3 2 3 4 3 4 1 4 1 2) x4",
        TWILL_4,
        "1 2 3 4",
    ),
    (
        "advancing-8",
        "Advancing draw on eight",
        "1 2 3 4 2 3 4 5 3 4 5 6 4 5 6 7 5 6 7 8 6 7 8 1 7 8 1 2 8 1 2 3",
        TWILL_8,
        "1 2 3 4 5 6 7 8",
    ),
    (
        "section-6",
        "Section draw on six",
        "((1 2 3 4) x2 5 6) x6",
        &[&[1, 3, 5], &[2, 4, 6]],
        "1 2",
    ),
    (
        "herringbone-4",
        "Herringbone on four",
        "((1 2 3 4) x3 (2 1 4 3) x3) x2",
        TWILL_4,
        "1 2 3 4",
    ),
    (
        "rosepath-4",
        "Rosepath on four",
        "(1 2 3 4 1 4 3 2) x6 1",
        TWILL_4,
        "1 2 3 4 1 4 3 2",
    ),
    (
        "bird-eye-4",
        "Bird's eye on four",
        "(1 2 3 4 3 2 1 4 3 2 3 4) x4 1",
        TWILL_4,
        "1 2 3 4 3 2",
    ),
    (
        "plain-2",
        "Plain weave on two",
        "(1 2) x20",
        &[&[1], &[2]],
        "1 2",
    ),
];
const TWILL_4: &[&[u32]] = &[&[1, 2], &[2, 3], &[3, 4], &[1, 4], &[1, 3], &[2, 4]];
const TWILL_8: &[&[u32]] = &[
    &[1, 2, 3, 4],
    &[2, 3, 4, 5],
    &[3, 4, 5, 6],
    &[4, 5, 6, 7],
    &[5, 6, 7, 8],
    &[1, 6, 7, 8],
    &[1, 2, 7, 8],
    &[1, 2, 3, 8],
    &[1, 3, 5, 7],
    &[2, 4, 6, 8],
];

#[test]
fn the_drafts_of_the_house_are_what_they_say() {
    for (file, title, threading, tie_up, treadling) in DRAWS {
        let numbers = |text| read_threading(text, 64).unwrap().numbers;
        let tie_up: Vec<Vec<u32>> = tie_up.iter().map(|row| row.to_vec()).collect();
        let one = |list: Vec<u32>| list.into_iter().map(|n| vec![n]).collect::<Vec<_>>();
        let ends = numbers(threading);
        let draft = Wif {
            title: Some(title.into()),
            shafts: ends.iter().max().copied().unwrap(),
            treadles: u32::try_from(tie_up.len()).unwrap(),
            rising: true,
            warp: Threads {
                units: Some(WifUnits::Inches),
                spacing: Fraction::new(1, 20),
                ..Threads::default()
            },
            threading: one(ends),
            treadling: one(numbers(treadling)),
            tie_up,
            ..Wif::default()
        };
        let text = write_wif(&draft);
        let path = format!("{}/assets/drafts/{file}.wif", env!("CARGO_MANIFEST_DIR"));
        if std::env::var_os("WRITE_DRAFTS").is_some() {
            std::fs::write(&path, &text).unwrap();
        }
        let stored = std::fs::read_to_string(&path).unwrap();
        assert_eq!(
            stored.replace("\r\n", "\n"),
            text.replace("\r\n", "\n"),
            "{file}: WRITE_DRAFTS=1 writes it anew"
        );
        let (wif, remarks) = read_wif(stored.as_bytes()).unwrap();
        assert_eq!(remarks, []);
        let (spec, _) = spec_of_wif(&wif, Side::Right).unwrap();
        let figures = work_out(&spec);
        let says: Vec<String> = figures.problems.iter().map(ToString::to_string).collect();
        assert_eq!(says, Vec::<String>::new(), "{file}");
        let plan = figures.plan().unwrap();
        let called: Vec<u32> = plan.threading.iter().map(|s| u32::from(s.0)).collect();
        assert_eq!(called, numbers(threading), "{file}");
    }
}

/// A WIF as Python's own INI reader has it: its options are from the standard library's documentation.
const PYTHON: &str = r"
import sys, configparser
text = sys.stdin.buffer.read().decode('utf-8-sig').replace('\r\n', '\n').replace('\r', '\n')
c = configparser.RawConfigParser(strict=False, comment_prefixes=(';',), interpolation=None, delimiters=('=',), allow_no_value=True)
c.read_string(text)
section = next(s for s in c.sections() if s.strip().lower() == 'threading')
ends = {int(k): v for k, v in c.items(section)}
print(';'.join(ends.get(n, '') or '' for n in range(1, max(ends) + 1)))
";

fn by_python(text: &str) -> Option<Vec<Vec<u32>>> {
    let mut child = Command::new("python3")
        .args(["-c", PYTHON])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .ok()?;
    child.stdin.take()?.write_all(text.as_bytes()).ok()?;
    let out = child.wait_with_output().ok()?;
    assert!(
        out.status.success(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    let line = String::from_utf8(out.stdout).ok()?;
    let row = |part: &str| {
        let part = part.split(';').next().unwrap_or("");
        part.split(',')
            .filter_map(|n| n.trim().parse().ok())
            .filter(|&n| n > 0)
            .collect()
    };
    Some(line.trim_end_matches('\n').split(';').map(row).collect())
}

#[test]
fn an_independent_ini_reader_finds_the_same_threading() {
    if Command::new("python3").arg("--version").output().is_err() {
        println!("SKIPPED: no python3 here, so no independent INI reader");
        return;
    }
    let plain = ODD
        .replace("2=2 ; said aside", "2=2")
        .replace("nonsense\r\n", "");
    let twice = "[WIF]\nVersion=1.1\n[THREADING]\n2=2\n1=3\n1=1\n5=4\n";
    let cr = "[WIF]\rVersion=1.1\r[THREADING]\r1=1\r2=2\r";
    let mut files = vec![plain, twice.to_owned(), cr.to_owned()];
    for (file, ..) in DRAWS {
        let path = format!("{}/assets/drafts/{file}.wif", env!("CARGO_MANIFEST_DIR"));
        files.push(std::fs::read_to_string(path).unwrap());
    }
    for text in files {
        let (wif, _) = read_wif(text.as_bytes()).unwrap();
        assert_eq!(Some(wif.threading), by_python(&text), "{text}");
    }
}

fn rows(most: u32) -> impl Strategy<Value = Vec<Vec<u32>>> {
    let row = prop::collection::btree_set(1..=most, 0..3).prop_map(|set| set.into_iter().collect());
    prop::collection::vec(row, 0..40)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_read_or_refused_in_a_sentence(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let mut file = b"[WIF]\nVersion=1.1\n[THREADING]\n".to_vec();
        file.extend(&bytes);
        for text in [&bytes[..], &file] {
            match read_wif(text).and_then(|(wif, _)| spec_of_wif(&wif, Side::Left)) {
                Ok((spec, _)) => prop_assert!(spec.ends.is_some()),
                Err(fault) => prop_assert!(fault.to_string().len() > 20),
            }
        }
    }

    #[test]
    fn any_text_is_a_plan_or_a_list_of_problems(text in "[\\[\\]{}\",:a-z0-9 ./-]{0,200}", number in any::<f64>()) {
        for text in [text.clone(), format!("{{\"title\": \"t\", \"sett\": {number}, \"ends\": 9, \"threading\": \"{text}\"}}")] {
            match read_spec(&text) {
                Ok(spec) => { let figures = work_out(&spec); prop_assert!(figures.plan().is_some() || !figures.problems.is_empty()); }
                Err(problems) => prop_assert!(!problems.is_empty()),
            }
        }
    }

    #[test]
    fn what_is_written_is_read_back(
        mut threading in rows(64), tie_up in rows(64), treadling in rows(100), lift_plan in rows(64), rising in any::<bool>(),
        palette in prop::collection::vec(any::<[u8; 3]>(), 0..9),
    ) {
        threading.push(vec![1]);
        // A list that ends in nothing is shorter when read back; so it does not.
        let closed = |mut rows: Vec<Vec<u32>>| { if !rows.is_empty() { rows.push(vec![1]); } rows };
        let (tie_up, treadling, lift_plan) = (closed(tie_up), closed(treadling), closed(lift_plan));
        let highest = |rows: &[Vec<u32>]| rows.iter().flatten().copied().max().unwrap_or(0);
        let count = |rows: &[Vec<u32>]| u32::try_from(rows.len()).unwrap();
        let wif = Wif {
            shafts: highest(&threading).max(highest(&tie_up)).max(highest(&lift_plan)),
            treadles: highest(&treadling).max(count(&tie_up)),
            warp: Threads { count: count(&threading), ..Threads::default() },
            weft: Threads { count: count(&treadling).max(count(&lift_plan)), ..Threads::default() },
            rising, threading, tie_up, treadling, lift_plan, palette,
            ..Wif::default()
        };
        let (back, remarks) = read_wif(write_wif(&wif).as_bytes()).unwrap();
        prop_assert_eq!(remarks, []);
        prop_assert_eq!(back, wif);
    }
}

#[test]
fn the_colours_of_the_yarns_go_into_a_draft_and_come_back() {
    let text = include_str!("../assets/demo/winter-blanket.json");
    let plan = work_out(&read_spec(text).unwrap()).plan().unwrap();
    let (wif, _) = read_wif(write_wif(&wif_of_plan(&plan)).as_bytes()).unwrap();
    assert_eq!(wif.palette.len(), 2);
    let (spec, _) = spec_of_wif(&wif, Side::Right).unwrap();
    let colours: Vec<_> = spec.yarns.iter().map(|yarn| yarn.colour.clone()).collect();
    assert_eq!(
        colours,
        [Some("#8c8c8c".to_owned()), Some("#184424".to_owned())],
        "grey, and green half-way to black"
    );
    let weft = spec.weft.unwrap();
    assert_eq!(
        (weft.yarn, weft.picks),
        (spec.yarns[0].name.clone(), Fraction::whole(5))
    );
    let ends: Vec<u32> = spec.colours.iter().map(|stripe| stripe.ends).collect();
    assert_eq!(ends, [201, 200, 201]);
}
