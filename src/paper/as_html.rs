//! A document as one HTML file: its own styles, no script, nothing fetched. Owns the layout of pages
//! in a browser and on paper; black on white, so that nothing is lost on a printer without colour.

use super::document::{Block, Document, Paper, Part, Picture, StepLine, Strip, Table};
use crate::words::wrap::escaped;

const STYLE: &str = include_str!("sheet.css");

/// The whole file.
#[must_use]
pub fn html(document: &Document, paper: Paper) -> String {
    html_of_all(std::slice::from_ref(document), paper)
}

/// Several documents in one file, one after the other; titled by the first one's title where there is
/// only one.
#[must_use]
pub fn html_of_all(documents: &[Document], paper: Paper) -> String {
    let size = match paper {
        Paper::A4 => "A4",
        Paper::Letter => "letter",
    };
    let title = match documents {
        [one] => escaped(&one.title),
        _ => "Sheets".to_owned(),
    };
    let (mut pages, mut body) = (String::new(), String::new());
    let parts = documents
        .iter()
        .flat_map(|document| document.parts.iter().map(move |part| (document, part)));
    for (nth, (document, one)) in parts.enumerate() {
        let running = css_string(&format!("{}: {}", document.title, one.heading));
        pages.push_str(&format!(
            "@page p{nth} {{ @top-left {{ content: {running}; }} }}\n"
        ));
        body.push_str(&part(one, &escaped(&document.title), nth));
    }
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n\
         <title>{title}</title>\n<style>\n@page {{ size: {size}; margin: 17mm 14mm 16mm 14mm; {MARGINS} }}\n{pages}{STYLE}</style>\n</head>\n<body>\n{body}</body>\n</html>\n"
    )
}

/// What stands in the margins of every page: what it is about, and its number.
const MARGINS: &str = "@top-left { font: 8pt \"DejaVu Sans\", \"Noto Sans\", Verdana, sans-serif; color: #000; } \
    @bottom-right { content: \"page \" counter(page) \" of \" counter(pages); font: 8pt \"DejaVu Sans\", \"Noto Sans\", Verdana, sans-serif; color: #000; }";

/// Text as a string of a style sheet: nothing in it ends the string, the sheet or the element.
fn css_string(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' | '<' | '>' | '&' | '\'' => out.push_str(&format!("\\{:x} ", c as u32)),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// One part; strips in a row stand in two columns.
fn part(part: &Part, title: &str, nth: usize) -> String {
    let strip = |block: &Block| matches!(block, Block::Strip(_));
    let mut blocks = String::new();
    for run in part.blocks.chunk_by(|a, b| strip(a) && strip(b)) {
        let inner: String = run.iter().map(block).collect();
        if run.len() > 1 {
            blocks.push_str(&format!("<div class=\"strips\">\n{inner}</div>\n"));
        } else {
            blocks.push_str(&inner);
        }
    }
    let heading = escaped(&part.heading);
    format!(
        "<section style=\"page: p{nth}\">\n<h1><span>{title}</span> {heading}</h1>\n{blocks}</section>\n"
    )
}

fn block(block: &Block) -> String {
    match block {
        Block::Heading(text) => format!("<h2>{}</h2>\n", escaped(text)),
        Block::Note(text) => format!("<p>{}</p>\n", escaped(text)),
        Block::Caution(text) => format!(
            "<p class=\"caution\"><b>Caution.</b> {}</p>\n",
            escaped(text)
        ),
        Block::Facts(facts) => {
            let row = |(name, value): &(String, String)| {
                format!(
                    "<tr><th scope=\"row\">{}</th><td>{}</td></tr>\n",
                    escaped(name),
                    escaped(value)
                )
            };
            let rows: String = facts.iter().map(row).collect();
            format!("<div class=\"columns\">\n<table class=\"facts\">\n{rows}</table>\n</div>\n")
        }
        Block::Table(table) => table_html(table),
        Block::Strip(strip) => strip_html(strip),
        Block::Steps(steps) => {
            let items: String = steps.iter().map(step_html).collect();
            format!("<ol class=\"steps\">\n{items}</ol>\n")
        }
        Block::Picture(Picture { svg, says, .. }) => format!(
            "<figure role=\"img\" aria-label=\"{}\">\n{svg}</figure>\n",
            escaped(says)
        ),
        Block::Lines(n) => format!(
            "<div class=\"lines\">\n{}</div>\n",
            "<div class=\"line\"></div>\n".repeat(*n as usize)
        ),
    }
}

fn table_html(table: &Table) -> String {
    let class = |right: bool| if right { " class=\"right\"" } else { "" };
    let tick_head = if table.ticks { "<th></th>" } else { "" };
    let heads: String = table
        .heads
        .iter()
        .map(|(head, right)| format!("<th scope=\"col\"{}>{}</th>", class(*right), escaped(head)))
        .collect();
    let tick = if table.ticks {
        "<td class=\"tick\"><i></i></td>"
    } else {
        ""
    };
    let row = |row: &Vec<String>| {
        let cells: String = row
            .iter()
            .zip(&table.heads)
            .map(|(cell, (_, right))| format!("<td{}>{}</td>", class(*right), escaped(cell)))
            .collect();
        format!("<tr>{tick}{cells}</tr>\n")
    };
    let rows: String = table.rows.iter().map(row).collect();
    format!(
        "<table>\n<thead><tr>{tick_head}{heads}</tr></thead>\n<tbody>\n{rows}</tbody>\n</table>\n"
    )
}

fn strip_html(strip: &Strip) -> String {
    let note = strip.note.as_ref();
    let note = note.map_or(String::new(), |n| format!(" <em>{}</em>", escaped(n)));
    let row = |(name, things): &(String, Vec<String>)| {
        let thing = |thing: &String| format!("<li><i></i>{}</li>", escaped(thing));
        let things: String = things.iter().map(thing).collect();
        let name = escaped(name);
        format!("<div class=\"row\"><b>{name}</b><ul>{things}</ul></div>\n")
    };
    let rows: String = strip.rows.iter().map(row).collect();
    let head = escaped(&strip.head);
    format!("<div class=\"strip\">\n<h3>{head}{note}</h3>\n{rows}</div>\n")
}

fn step_html(step: &StepLine) -> String {
    let caution = step.caution.as_ref();
    let caution = caution.map_or(String::new(), |text| {
        format!("<p class=\"caution\"><b>Caution.</b> {}</p>", escaped(text))
    });
    let (title, text) = (escaped(&step.title), escaped(&step.text));
    format!("<li><i></i><div><b>{title}.</b> {text}{caution}</div></li>\n")
}
