//! The class board as data and as a sheet, and what went wrong in the class. Owns their layout; rows
//! and order are the dressings'.

use super::document::{Block, Document, Part, Table};
use crate::dressing::class::{Row, Wrong};
use crate::method::{Method, Stage};
use crate::words::board_words::{
    Lesson, NOBODY, NOTHING_WRONG, WENT_WRONG, key, row, wrong, wrong_key,
};
use serde_json::{Value, json};

/// The rows as data.
#[must_use]
pub fn board_value(rows: &[Row], lesson: &Lesson, method: &Method) -> Value {
    let row_value = |r: &Row| {
        json!({ "name": r.name, "title": r.title, "dressing": r.file, "need": key(r.need),
            "stage": r.stage, "step": r.step, "done": r.done.map(|d| d.0),
            "of": r.done.map(|d| d.1), "minutes_left": r.minutes_left,
            "groups_left": r.groups_left, "minutes_silent": r.minutes_silent,
            "left_open": r.left_open, "caught": r.caught, "broken": r.broken,
            "file": r.file_says, "says": row(r, method) })
    };
    let line = |(stage, thing, times): &(Stage, Wrong, u32)| json!({ "stage": stage, "kind": wrong_key(*thing), "says": wrong(*thing), "times": times });
    json!({ "schema": 1, "rows": rows.iter().map(row_value).collect::<Vec<_>>(),
        "went_wrong": lesson.lines.iter().map(line).collect::<Vec<_>>() })
}

/// The board on paper, with what went wrong.
#[must_use]
pub fn board_sheet(rows: &[Row], lesson: &Lesson, method: &Method) -> Document {
    let mut table = Table::new(&["Who", "What", "How it stands"]);
    table.rows = rows
        .iter()
        .map(|r| vec![r.name.clone(), r.title.clone(), row(r, method)])
        .collect();
    let part = Part::new("Who needs help").with(if rows.is_empty() {
        Block::Note(NOBODY.into())
    } else {
        Block::Table(table)
    });
    let part = part.with(Block::Heading(WENT_WRONG.into()));
    Document {
        title: "The class".into(),
        parts: vec![part.with(went_wrong(lesson, method))],
    }
}

fn went_wrong(lesson: &Lesson, method: &Method) -> Block {
    if lesson.lines.is_empty() {
        return Block::Note(NOTHING_WRONG.into());
    }
    let mut table = Table::new(&["Stage", "What", ">Times"]);
    let line = |(stage, thing, times): &(Stage, Wrong, u32)| {
        let stage = method.stage(*stage).title.clone();
        vec![stage, wrong(*thing).to_owned(), times.to_string()]
    };
    table.rows = lesson.lines.iter().map(line).collect();
    Block::Table(table)
}
