//! A document as CSV: every table, strip and step a row, its part's name first. Owns that shape; a
//! cell that a spreadsheet would take for a formula is kept a text.

use super::document::{Block, Document};
use csv::{Terminator, WriterBuilder};

/// The whole document. Rows are as long as what they hold.
#[must_use]
pub fn csv(document: &Document) -> String {
    written(&rows_of(document))
}

/// Several documents, the title of each before every one of its rows.
#[must_use]
pub fn csv_of_all(documents: &[Document]) -> String {
    let titled = |document: &Document| {
        let rows = rows_of(document).into_iter();
        let title = document.title.clone();
        rows.map(move |row| [vec![title.clone()], row].concat())
            .collect::<Vec<_>>()
    };
    let rows: Vec<Vec<String>> = documents.iter().flat_map(titled).collect();
    written(&rows)
}

fn rows_of(document: &Document) -> Vec<Vec<String>> {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for part in &document.parts {
        for block in &part.blocks {
            let with_part = |row: Vec<String>| {
                let mut whole = vec![part.heading.clone()];
                whole.extend(row);
                whole
            };
            rows.extend(block_rows(block).into_iter().map(with_part));
        }
    }
    rows
}

/// Rows of cells as CSV text, lines ending in a line feed.
#[must_use]
pub fn written(rows: &[Vec<String>]) -> String {
    let mut writer = WriterBuilder::new()
        .flexible(true)
        .terminator(Terminator::Any(b'\n'))
        .from_writer(Vec::new());
    for row in rows {
        // writing into memory does not fail
        let _ = writer.write_record(row.iter().map(|cell| plain(cell)));
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

/// The cell, with a sign before what would be worked out as a formula.
fn plain(cell: &str) -> String {
    let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if formula && cell.parse::<f64>().is_err() {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

fn block_rows(block: &Block) -> Vec<Vec<String>> {
    match block {
        Block::Heading(text) | Block::Note(text) | Block::Caution(text) => vec![vec![text.clone()]],
        Block::Facts(facts) => facts
            .iter()
            .map(|(name, value)| vec![name.clone(), value.clone()])
            .collect(),
        Block::Table(table) => {
            let heads = table.heads.iter().map(|(head, _)| head.clone()).collect();
            let mut rows: Vec<Vec<String>> = vec![heads];
            rows.extend(table.rows.iter().cloned());
            rows
        }
        Block::Strip(strip) => strip
            .rows
            .iter()
            .map(|(name, things)| {
                let mut row = vec![strip.head.clone(), name.clone()];
                row.extend(things.iter().cloned());
                row
            })
            .collect(),
        Block::Steps(steps) => steps
            .iter()
            .map(|step| {
                let mut row = vec![step.title.clone(), step.text.clone()];
                row.extend(step.caution.clone());
                row
            })
            .collect(),
        Block::Picture(_) | Block::Lines(_) => Vec::new(),
    }
}
