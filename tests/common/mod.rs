//! What several tests need: demo plans, times, a dressing led on by presses.
#![allow(dead_code, clippy::unwrap_used)]

pub mod count;

use chrono::{DateTime, FixedOffset, TimeDelta};
use endsmeet::dressing::{Ask, Dressing, Look, Mood, Question, Refusal, View, When, decide};
use endsmeet::plan::Plan;

/// The plan in a file's text.
pub fn plan_from(text: &str) -> Plan {
    let spec = endsmeet::plan::read_spec(text).unwrap_or_else(|problems| panic!("{problems:?}"));
    let figures = endsmeet::plan::work_out(&spec);
    figures
        .plan()
        .unwrap_or_else(|| panic!("{:?}", figures.problems))
}

/// A demo plan by its file name.
pub fn demo(name: &str) -> Plan {
    plan_from(&std::fs::read_to_string(format!("assets/demo/{name}")).unwrap())
}

/// A small warp: 24 ends, straight draw on four shafts, 4 an inch, in a reed of 4; added floats.
pub fn small() -> Plan {
    plan_from(SMALL)
}

pub const SMALL: &str = r#"{ "endsmeet": 1, "title": "Small", "units": "in", "sett": 4, "ends": 24,
  "threading": "1 2 3 4", "floating_selvedges": "added", "batch": 8,
  "loom": {"action": "jack", "shafts": 4, "treadles": 4, "heddles": [10, 10, 10, 10], "width": 20, "beam_girth": 18},
  "reeds": [{"dents": 4, "per": "in", "length": 20}],
  "length": {"finished": 36, "waste": 20},
  "tie_up": [[1, 3], [2, 4]], "treadling": "1 2" }"#;

/// A time so many milliseconds after the start.
pub fn at(ms: u64) -> When {
    let wall: DateTime<FixedOffset> = "2026-03-03T18:00:00+01:00".parse().unwrap();
    When {
        wall: wall + TimeDelta::milliseconds(ms as i64),
        elapsed_ms: ms,
    }
}

/// Asks once, four seconds after the last time.
pub fn ask(d: &mut Dressing, what: &Ask) -> Result<(), Refusal> {
    let when = at(d.last().map_or(0, |last| last.elapsed_ms) + 4000);
    let entry = decide(d, what, when)?;
    assert_eq!(
        d.accepts(&entry),
        Ok(()),
        "decided, so it can happen: {entry:?}"
    );
    d.apply(&entry);
    assert_eq!(d.check(), Ok(()));
    Ok(())
}

/// Presses next, answering every look truly, until the view is as wanted.
pub fn lead(d: &mut Dressing, wanted: impl Fn(&Dressing) -> bool) {
    for _ in 0..5000 {
        if wanted(d) {
            return;
        }
        if let View::Asking(_) = d.view() {
            answer_truly(d);
        } else {
            ask(d, &Ask::Next).unwrap();
        }
    }
    panic!("never came to it; last view: {:?}", d.view());
}

/// What the loom would answer to the open look, as it is typed; `None` where none is open.
pub fn true_answer(d: &Dressing) -> Option<String> {
    let View::Asking(_) = d.view() else {
        return None;
    };
    if let Mood::Asking(Question::Look {
        look: Look::ReadBack { calls },
        answers,
        ..
    }) = d.mood()
    {
        let next = calls.first.0 as usize - 1 + answers.len();
        let shafts = &d.plan().threading[next..calls.last.0 as usize];
        let handful: Vec<String> = shafts.iter().take(4).map(|s| s.0.to_string()).collect();
        return Some(if handful.is_empty() {
            "done".to_owned()
        } else {
            handful.join(" ")
        });
    }
    // no measure settles anything; this one can stand for inches, eighths, millimetres and picks
    if let Mood::Asking(Question::Measure { .. }) = d.mood() {
        return Some("5".to_owned());
    }
    let when = at(d.last().map_or(0, |last| last.elapsed_ms) + 1000);
    let settles = |n: &i64| {
        let answer = Ask::Answer(endsmeet::dressing::Answer::Number(*n));
        decide(d, &answer, when).is_ok_and(|entry| {
            let settled = endsmeet::dressing::Event::Settled;
            entry.events.contains(&settled)
        })
    };
    (0..1000).find(settles).map(|n| n.to_string())
}

/// Answers the open look as the loom would.
pub fn answer_truly(d: &mut Dressing) {
    let answer = true_ask(d).unwrap_or_else(|| panic!("no number settles {:?}", d.mood()));
    ask(d, &answer).unwrap();
}

/// The ask that answers the open look as the loom would; `None` where none is open.
pub fn true_ask(d: &Dressing) -> Option<Ask> {
    let n = true_answer(d)?;
    let read = matches!(
        d.mood(),
        Mood::Asking(Question::Look {
            look: Look::ReadBack { .. },
            ..
        })
    );
    let answer = if read {
        let shafts = n.split(' ').filter_map(|shaft| shaft.parse().ok());
        endsmeet::dressing::Answer::Numbers(shafts.collect())
    } else {
        endsmeet::dressing::Answer::Number(n.parse().unwrap())
    };
    Some(Ask::Answer(answer))
}

/// Holds a text to the file that was reviewed. `ENDSMEET_WRITE_EXPECTED=1` writes the file anew, to
/// be read before it is kept.
pub fn same_as_file(file: &str, text: &str) {
    let text = format!("{}\n", text.trim_end());
    if std::env::var_os("ENDSMEET_WRITE_EXPECTED").is_some() {
        std::fs::write(file, &text).unwrap();
    }
    let expected = std::fs::read_to_string(file).unwrap_or_default();
    let differs = expected.lines().zip(text.lines()).position(|(a, b)| a != b);
    let at = differs.unwrap_or(expected.lines().count().min(text.lines().count()));
    assert!(
        expected == text,
        "{file}, line {}\nexpected: {:?}\nfound:    {:?}",
        at + 1,
        expected.lines().nth(at),
        text.lines().nth(at)
    );
}

/// A small plan with this draft, jack loom unless said otherwise.
pub fn drafted(
    shafts: u8,
    threading: &str,
    ends: u32,
    action: &str,
    tie_up: &str,
    treadling: &str,
) -> Plan {
    let treadles = tie_up.matches('[').count().saturating_sub(1).max(1);
    plan_from(&format!(
        r#"{{ "endsmeet": 1, "title": "T", "units": "in", "sett": 10, "ends": {ends},
        "threading": "{threading}",
        "loom": {{"action": "{action}", "shafts": {shafts}, "treadles": {treadles}, "width": 30}},
        "reeds": [{{"dents": 10, "per": "in", "length": 30}}],
        "tie_up": {tie_up}, "treadling": "{treadling}" }}"#
    ))
}

/// The program with these words and typed lines: what it prints, and what it tells beside.
pub fn told(folder: &std::path::Path, words: &[&str], typed: &str) -> (String, String) {
    use std::io::Write;
    use std::process::{Command, Stdio};
    let mut child = Command::new(env!("CARGO_BIN_EXE_endsmeet"))
        .args(words)
        .arg("--sessions")
        .arg(folder)
        .env("ENDSMEET_SETTINGS", "tests/common/usual-settings.toml")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // a program that reads nothing has ended before it is written to
    let _ = child.stdin.take().unwrap().write_all(typed.as_bytes());
    let out = child.wait_with_output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (text(out.stdout), text(out.stderr))
}
