//! Writing a draft as WIF 1.1: the sections that the standard asks of every writer, and what the draft has.
//! Owns the text; what it writes, `read_wif` reads as the same draft.

use super::{Threads, Wif, WifUnits};
use std::fmt::Write;

/// The draft as WIF 1.1 text, lines ended by CR LF. `[WIF]` and `[CONTENTS]` are the standard's minimum.
/// The date is the standard's own; `Developers` is the standard's literal, from memory.
#[must_use]
pub fn write_wif(wif: &Wif) -> String {
    let sections = sections(wif);
    let mut text = String::from(
        "[WIF]\nVersion=1.1\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\nSource Program=endsmeet\n\n[CONTENTS]\n",
    );
    for (name, _) in &sections {
        line(&mut text, name, "true");
    }
    for (name, body) in &sections {
        text.push_str(&format!("\n[{name}]\n{body}"));
    }
    text.replace('\n', "\r\n")
}

fn line(text: &mut String, key: &str, value: &str) {
    // Writing to a String cannot fail.
    let _ = writeln!(text, "{key}={value}");
}

/// The sections that have something in them, in the usual order.
fn sections(wif: &Wif) -> Vec<(&'static str, String)> {
    let mut found = Vec::new();
    if let Some(title) = &wif.title {
        found.push(("TEXT", format!("Title={title}\n")));
    }
    let rising = if wif.rising { "true" } else { "false" };
    let weaving = format!(
        "Shafts={}\nTreadles={}\nRising Shed={rising}\n",
        wif.shafts, wif.treadles
    );
    found.push(("WEAVING", weaving));
    found.push(("WARP", threads(&wif.warp, wif.threading.len())));
    let picks = wif.treadling.len().max(wif.lift_plan.len());
    found.push(("WEFT", threads(&wif.weft, picks)));
    if !wif.palette.is_empty() {
        found.push((
            "COLOR PALETTE",
            format!("Entries={}\nRange=0,255\n", wif.palette.len()),
        ));
        let colour = |c: &[u8; 3]| format!("{},{},{}", c[0], c[1], c[2]);
        found.push(("COLOR TABLE", numbered(wif.palette.iter().map(colour))));
    }
    for (name, rows) in [
        ("THREADING", &wif.threading),
        ("TIEUP", &wif.tie_up),
        ("TREADLING", &wif.treadling),
        ("LIFTPLAN", &wif.lift_plan),
    ] {
        if !rows.is_empty() {
            found.push((name, numbered(rows.iter().map(|row| joined(row)))));
        }
    }
    for (name, colours) in [
        ("WARP COLORS", &wif.warp.colours),
        ("WEFT COLORS", &wif.weft.colours),
    ] {
        if !colours.is_empty() {
            found.push((name, numbered(colours.iter().map(u32::to_string))));
        }
    }
    if !wif.notes.is_empty() {
        found.push(("NOTES", numbered(wif.notes.iter().cloned())));
    }
    found
}

/// `1,3`; `0` for none.
fn joined(row: &[u32]) -> String {
    if row.is_empty() {
        return "0".into();
    }
    row.iter().map(u32::to_string).collect::<Vec<_>>().join(",")
}

fn numbered(values: impl Iterator<Item = String>) -> String {
    let mut text = String::new();
    for (value, number) in values.zip(1_usize..) {
        line(&mut text, &number.to_string(), &value);
    }
    text
}

fn threads(threads: &Threads, count: usize) -> String {
    let count = if threads.count > 0 {
        threads.count as usize
    } else {
        count
    };
    let mut text = format!("Threads={count}\n");
    if let Some(colour) = threads.colour {
        line(&mut text, "Color", &colour.to_string());
    }
    if let Some(units) = threads.units {
        let name = match units {
            WifUnits::Decipoints => "decipoints",
            WifUnits::Inches => "inches",
            WifUnits::Centimetres => "centimeters",
        };
        line(&mut text, "Units", name);
    }
    if let Some(spacing) = threads.spacing {
        line(&mut text, "Spacing", &spacing.decimal(6));
    }
    if let Some(thickness) = threads.thickness {
        line(&mut text, "Thickness", &thickness.decimal(6));
    }
    text
}
