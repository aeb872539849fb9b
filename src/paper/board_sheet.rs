//! The class board as data and as a sheet, and what went wrong in the class. Owns their layout; rows
//! and order are the dressings'.

use super::document::{Block, Document, Part, Table};
use super::log_report::{CaughtWhat, report};
use crate::dressing::class::Row;
use crate::journal::board::Board;
use crate::method::{Method, Stage};
use crate::words::board_words::{key, row};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// What went wrong in a class: how often, by stage and kind, for the next lesson.
pub type Lesson = BTreeMap<(Stage, &'static str), u32>;

/// Counts what was caught in every dressing of the board.
#[must_use]
pub fn lesson(board: &Board, method: &Method) -> Lesson {
    let mut found = Lesson::new();
    let some = board.found().filter(|f| f.dressing.record().caught > 0);
    for dressing in some {
        for caught in report(&dressing.entries, &dressing.dressing, method).caught {
            let kind = match caught.what {
                CaughtWhat::Batch(_) => "a batch that was not used up",
                CaughtWhat::Found(_) => "something found wrong",
                CaughtWhat::Look(look) => crate::words::looks::name(look),
            };
            *found.entry((caught.stage, kind)).or_default() += 1;
        }
    }
    found
}

/// The rows as data.
#[must_use]
pub fn board_value(rows: &[Row], lesson: &Lesson, method: &Method) -> Value {
    let rows: Vec<Value> = rows
        .iter()
        .map(|r| {
            json!({ "name": r.name, "title": r.title, "need": key(r.need), "stage": r.stage,
                "step": r.step, "done": r.done.map(|d| d.0), "of": r.done.map(|d| d.1),
                "minutes_left": r.minutes_left, "minutes_silent": r.minutes_silent,
                "left_open": r.left_open, "caught": r.caught, "broken": r.broken,
                "file": r.file_says, "says": row(r, method) })
        })
        .collect();
    let lesson: Vec<Value> = lesson
        .iter()
        .map(|((stage, kind), n)| json!({ "stage": stage, "kind": kind, "times": n }))
        .collect();
    json!({ "schema": 1, "rows": rows, "went_wrong": lesson })
}

/// The board on paper, with what went wrong.
#[must_use]
pub fn board_sheet(rows: &[Row], lesson: &Lesson, method: &Method) -> Document {
    let mut table = Table::new(&["Who", "What", "How it stands"]);
    table.rows = rows
        .iter()
        .map(|r| vec![r.name.clone(), r.title.clone(), row(r, method)])
        .collect();
    let mut part = Part::new("Who needs help").with(if rows.is_empty() {
        Block::Note(crate::words::board_words::NOBODY.into())
    } else {
        Block::Table(table)
    });
    if !lesson.is_empty() {
        let mut table = Table::new(&["Stage", "What did not agree", ">Times"]);
        table.rows = lesson
            .iter()
            .map(|((stage, kind), n)| {
                let stage = method.stage(*stage).title.clone();
                vec![stage, (*kind).to_owned(), n.to_string()]
            })
            .collect();
        part.blocks.push(Block::Heading("What went wrong".into()));
        part.blocks.push(Block::Table(table));
    }
    Document {
        title: "The class".into(),
        parts: vec![part],
    }
}
