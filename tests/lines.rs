//! Line mode: a whole dressing, every line that is written and typed as reviewed.
#![allow(clippy::unwrap_used)]

mod common;

use common::{at, demo, same_as_file, true_answer};
use endsmeet::dressing::view::{Asked, Disagreeing, DisagreeingView};
use endsmeet::dressing::{Ask, Dressing, View};
use endsmeet::fault::LookKind;
use endsmeet::journal::keep::{InMemory, Keep};
use endsmeet::method::{Method, StepId};
use endsmeet::terminal::lines::{self, Ended};
use std::cell::RefCell;
use std::io::{self, BufRead, Read, Write};
use std::rc::Rc;

/// Types the whole dressing: an empty line for done, a number where a look asks for one. On the way a
/// batch that is short, a pause and a step back.
fn typed_and_written() -> String {
    let method = Method::embedded();
    let mut keep = InMemory::new(Dressing::new(demo("practice.json"), &[]));
    let mut out = Vec::new();
    let mut ms = 0;
    let mut beside = vec![
        "back", "redo", "uneven", "1", "0 0 1 0", "?", "again", "pause", "",
    ];
    for _ in 0..500 {
        let line = match keep.dressing().view() {
            View::Ready(_) => return String::from_utf8(out).unwrap(),
            View::UsedUp(view) if view.batch.number == 2 && !beside.is_empty() => {
                beside.remove(0).to_owned()
            }
            _ if !beside.is_empty() && beside.len() < 9 => beside.remove(0).to_owned(),
            _ => true_answer(keep.dressing()).unwrap_or_default(),
        };
        ms += 4000;
        out.extend(format!("> {line}\n").bytes());
        lines::take(&line, &mut keep, &method, &mut out, at(ms)).unwrap();
    }
    panic!("never ready: {:?}", keep.dressing().view());
}

#[test]
fn a_whole_dressing_in_line_mode_is_as_written() {
    same_as_file("tests/lines/practice.txt", &typed_and_written());
}

/// What is written and typed, in one text.
#[derive(Clone, Default)]
struct Paper(Rc<RefCell<Vec<u8>>>);

impl Write for Paper {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Typed lines, each set on the paper as a terminal would show it.
struct Hands {
    lines: Vec<String>,
    paper: Paper,
}

impl Read for Hands {
    fn read(&mut self, _: &mut [u8]) -> io::Result<usize> {
        panic!("line mode reads lines")
    }
}

impl BufRead for Hands {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        Ok(self.lines.first().map_or(&[], |line| line.as_bytes()))
    }
    fn consume(&mut self, n: usize) {
        if n > 0 {
            let line = self.lines.remove(0);
            assert_eq!(n, line.len());
            self.paper.write_all(line.as_bytes()).unwrap();
        }
    }
}

/// Something that is typed beside the usual, when the dressing first shows that view.
type Beside = (fn(&View) -> bool, &'static [&'static str]);

/// The runner's first evening: winding left out, a count that is wrong at first, one press too many,
/// a batch in which the third call was passed over, a pause; it ends in the middle of batch 5.
const FIRST_EVENING: [Beside; 7] = [
    (|_| true, &["where"]),
    (is_guide_string, &["2"]),
    (|view| matches!(view, View::Asking(_)), &["", "13"]),
    (|view| is_call(view, 1, 2), &["back", "redo", "."]),
    (|view| is_used_up(view, 2), &["2", "1", "0 0 1 0"]),
    (|view| is_call(view, 4, 1), &["pause", ""]),
    (|view| is_call(view, 5, 3), &["3 1", "stop", "quit"]),
];

/// The second: an end breaks, a remark, a width.
const SECOND_EVENING: [Beside; 4] = [
    (|view| is_call(view, 9, 1), &["broken 100", "where"]),
    (
        |view| matches!(view, View::Sley(group) if group.nth == 3),
        &["note the third group has a slub", "width 13 3/4"],
    ),
    (
        |view| matches!(view, View::Shed(shed) if shed.number == 1),
        &["mended 1"],
    ),
    (|view| matches!(view, View::Ready(_)), &[]),
];

fn is_guide_string(view: &View) -> bool {
    matches!(view, View::Step(step) if step.step == StepId::GuideString)
}

fn is_call(view: &View, batch: u32, handful: u32) -> bool {
    matches!(view, View::Call(call) if call.batch.number == batch && call.handful == handful)
}

fn is_used_up(view: &View, batch: u32) -> bool {
    matches!(view, View::UsedUp(view) if view.batch.number == batch)
}

/// What the loom answers to the tracing, if the third call of the batch was passed over: the shaft of
/// the heddle that is asked for; with the place known, the first way out.
fn traced(view: &DisagreeingView) -> String {
    let Disagreeing::Batch {
        tracing,
        planned,
        batch,
        ..
    } = &view.what
    else {
        return "1".to_owned();
    };
    let stands = |nth: usize| planned[if nth < 2 { nth } else { nth + 1 }].0;
    match tracing.look.map(|look| (look.kind, look.call)) {
        Some((LookKind::ShaftOfHeddle, Some(call))) => {
            stands((call.0 - batch.calls.first.0) as usize).to_string()
        }
        Some((LookKind::NeighboursTogether, _)) => {
            let odd = |nth: usize| stands(nth) % 2;
            let mut pairs = 0..planned.len() - 2;
            let first = pairs.find(|&nth| odd(nth) == odd(nth + 1));
            first.map_or("none".to_owned(), |nth| (nth + 1).to_string())
        }
        Some((LookKind::EndsInKnot, _)) => (planned.len() - 1).to_string(),
        Some(_) => "none".to_owned(),
        None => "1".to_owned(),
    }
}

/// The lines of one evening, found by typing them on a dressing of their own.
fn typed(from: &Dressing, beside: &[Beside], ms: u64) -> Vec<String> {
    let method = Method::embedded();
    let mut keep = InMemory::new(from.clone());
    let (mut beside, mut waiting) = (beside.iter(), Vec::new());
    let mut next = beside.next();
    // 13 7/8 in in the reed, 13 in in the cloth, 20 picks
    let mut measured = ["13", "7", "13", "0", "20"].into_iter();
    let mut all = Vec::new();
    for _ in 0..2000 {
        let view = keep.dressing().view();
        if waiting.is_empty()
            && let Some((when, lines)) = next
            && when(&view)
        {
            waiting = lines.to_vec();
            next = beside.next();
        }
        let line = match view {
            _ if !waiting.is_empty() => waiting.remove(0).to_owned(),
            View::Disagreeing(ref view) => traced(view),
            View::Asking(ref asking) if matches!(asking.asked, Asked::Measure { .. }) => {
                measured.next().unwrap_or("20").to_owned()
            }
            _ => true_answer(keep.dressing()).unwrap_or_default(),
        };
        let when = at(ms + 4000 * (all.len() as u64 + 1));
        all.push(format!("{line}\n"));
        let ended = lines::take(&line, &mut keep, &method, &mut io::sink(), when).unwrap();
        if ended.is_some() {
            assert!(next.is_none() || ended == Some(Ended::Ready));
            return all;
        }
    }
    panic!("never ended: {:?}", keep.dressing().view());
}

/// One evening in line mode, as the command runs it.
fn evening(keep: &mut InMemory, beside: &[Beside], ms: u64, paper: &Paper) -> Ended {
    let lines = typed(keep.dressing(), beside, ms);
    let (mut hands, mut paper) = (
        Hands {
            lines,
            paper: paper.clone(),
        },
        paper.clone(),
    );
    let mut now = ms;
    lines::run(
        keep,
        &Method::embedded(),
        &mut hands,
        &mut paper,
        &mut || {
            now += 4000;
            at(now)
        },
        &mut |_| None,
    )
    .unwrap()
}

#[test]
fn the_runner_from_new_to_ready_in_line_mode_is_as_written() {
    let paper = Paper::default();
    let mut keep = InMemory::new(Dressing::new(demo("hall-runner.json"), &[]));
    assert_eq!(evening(&mut keep, &FIRST_EVENING, 0, &paper), Ended::Left);
    let next_day = 24 * 3_600_000;
    writeln!(paper.clone(), "\n(the next day)\n").unwrap();
    keep.ask(&Ask::Opened, at(next_day)).unwrap();
    let ended = evening(&mut keep, &SECOND_EVENING, next_day, &paper);
    assert_eq!(ended, Ended::Ready);
    let text = String::from_utf8(paper.0.take()).unwrap();
    assert!(text.starts_with("endsmeet, line mode"));
    same_as_file("tests/lines/hall-runner.txt", &text);
}

#[test]
fn a_number_chooses_a_way_and_way_always_does() {
    let mut desk = Desk::at("practice.json");
    // nothing to choose: a number alone answers nothing, way says that there is none
    assert!(desk.types("1").contains("No question is open"));
    assert!(
        desk.types("way 1")
            .contains("There is no way 1: nothing is to be chosen")
    );
    assert!(desk.types("way one").contains("as: way 2"));
    while !is_used_up(&desk.keep.dressing().view(), 2) {
        let line = true_answer(desk.keep.dressing()).unwrap_or_default();
        desk.types(&line);
    }
    assert!(
        desk.types("3")
            .contains("There is no way 3: the ways are 1 to 2")
    );
    assert!(
        desk.types("way 2")
            .contains("How many counted-out ends are left?")
    );
    desk.types("1");
    let asked = desk.types("0 0 1 0");
    assert!(asked.contains("Look: "), "{asked}");
    assert!(
        asked.contains("  way 1 or again: draw the batch out"),
        "{asked}"
    );
    // a number alone is what was seen, way and a number the way out
    let seen = desk.types("1");
    assert!(!seen.contains("chose"), "{seen}");
    let chosen = desk.types("way 1");
    assert!(chosen.contains("Chose: "), "{chosen}");
}

#[test]
fn line_mode_draws_no_boxes_and_moves_no_cursor() {
    let text = typed_and_written();
    let drawn = |c: char| ('\u{2500}'..='\u{259f}').contains(&c) || (c.is_control() && c != '\n');
    assert!(!text.chars().any(drawn));
}

/// A sitting in lines on a dressing in memory, typed line by line.
struct Desk {
    keep: InMemory,
    method: Method,
    ms: u64,
}

impl Desk {
    fn at(plan: &str) -> Self {
        Self {
            keep: InMemory::new(Dressing::new(demo(plan), &[])),
            method: Method::embedded(),
            ms: 0,
        }
    }

    /// Types one line; what is written.
    fn types(&mut self, line: &str) -> String {
        let mut out = Vec::new();
        self.ms += 4000;
        lines::take(line, &mut self.keep, &self.method, &mut out, at(self.ms)).unwrap();
        String::from_utf8(out).unwrap()
    }

    /// Goes on, answering truly, until something written has the text in it.
    fn until(&mut self, text: &str) -> String {
        for _ in 0..2000 {
            let line = true_answer(self.keep.dressing()).unwrap_or_default();
            let written = self.types(&line);
            if written.contains(text) {
                return written;
            }
        }
        panic!("never came: {text}");
    }
}

#[test]
fn back_at_a_groups_end_look_goes_to_the_batchs_end_and_the_look_comes_again() {
    let mut desk = Desk::at("practice.json");
    let asked = desk.until("A group's end: a look at the loom");
    let back = desk.types("back");
    assert!(
        back.starts_with("Taken back: ends 1 to 8 used up and knotted.\n"),
        "{back}"
    );
    assert!(
        back.contains("Thread: batch 1 of 3, end of the batch"),
        "{back}"
    );
    assert_eq!(desk.types(""), asked, "the same look again");
    // and farther back, a press at a time
    desk.types("back");
    let farther = desk.types("back");
    assert!(
        farther.starts_with("Taken back: ends 5 to 8 threaded.\n"),
        "{farther}"
    );
    // while the look is open a count that was wrong is no way past it
    desk.until("A group's end: a look at the loom");
    let again = desk.types("3");
    assert!(again.contains("Count again"), "{again}");
    desk.types("back");
    assert_eq!(desk.types(""), asked, "from its beginning");
}

#[test]
fn what_cannot_be_taken_back_is_looked_at_before_it_is_told() {
    for (look, told) in [
        ("How many slip knots hang", "Cut the end loops"),
        (
            "How many sheds have you looked through",
            "Take the lease sticks out",
        ),
    ] {
        let mut desk = Desk::at("practice.json");
        let mut written = String::new();
        while !written.contains(look) {
            let line = true_answer(desk.keep.dressing()).unwrap_or_default();
            written = desk.types(&line);
            assert!(!written.contains(told), "told before the look: {written}");
        }
        assert!(
            written.contains("What comes next cannot be taken back"),
            "{written}"
        );
        assert!(desk.until(told).contains("it agrees"));
    }
}
