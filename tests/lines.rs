//! Line mode: a whole dressing, every line that is written and typed as reviewed.
#![allow(clippy::unwrap_used)]

mod common;

use common::{at, demo, same_as_file, true_answer};
use endsmeet::dressing::{Dressing, View};
use endsmeet::journal::keep::{InMemory, Keep};
use endsmeet::method::Method;
use endsmeet::terminal::lines;

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

#[test]
fn line_mode_draws_no_boxes_and_moves_no_cursor() {
    let text = typed_and_written();
    let drawn = |c: char| ('\u{2500}'..='\u{259f}').contains(&c) || (c.is_control() && c != '\n');
    assert!(!text.chars().any(drawn));
}
