//! Between what is typed into a field and what stands in a plan file.
//! Owns the small notations of lists; what is wrong with them the plan's readers say.

use super::Kind;
use crate::plan::spec::{MOST_SHAFTS, MOST_TREADLES, YarnSpec};
use crate::plan::threading::read_threading;
use crate::plan::yarn::read_yarn;
use crate::plan::{Problem, Spec};
use serde_json::{Value, json};

/// What was typed, as the plan file has it. What cannot be taken apart goes on as it is, so that the
/// plan's reader says what is wrong with it.
pub(super) fn value_of(kind: Kind, typed: &str) -> Value {
    match kind {
        Kind::Text | Kind::Number => json!(typed),
        Kind::Word(words) | Kind::WordOrNumber(words) => json!(word(words, typed)),
        Kind::Counts => numbers(typed),
        Kind::Order => order(typed),
        Kind::Reeds => parts(typed, &[';']).map(reed).collect(),
        Kind::Yarns => parts(typed, &[';']).map(yarn).collect(),
        Kind::Stripes => parts(typed, &[';', ',']).map(stripe).collect(),
        Kind::Lists => typed.split(';').map(numbers).collect(),
        Kind::Weft => match typed.rsplit_once(' ') {
            Some((yarn, picks)) => json!({"yarn": yarn.trim(), "picks": picks}),
            None => json!({"yarn": typed}),
        },
    }
}

/// The word that is meant: capitals do not matter, and the first letters will do where no other word
/// begins so. What is none of them goes on as it is.
fn word<'t>(words: &[&'t str], typed: &'t str) -> &'t str {
    let small = typed.to_lowercase();
    let spelt = match small.as_str() {
        "inch" | "inches" => "in",
        "centimetre" | "centimetres" | "centimeter" | "centimeters" => "cm",
        other => other,
    };
    let mut found = words.iter().filter(|word| word.starts_with(spelt));
    match (words.iter().find(|word| **word == spelt), found.next()) {
        (Some(word), _) => word,
        (None, Some(word)) if found.next().is_none() => word,
        _ => typed,
    }
}

fn parts<'t>(typed: &'t str, at: &'static [char]) -> impl Iterator<Item = &'t str> {
    typed
        .split(at)
        .map(str::trim)
        .filter(|part| !part.is_empty())
}

fn numbers(typed: &str) -> Value {
    parts(typed, &[' ', ',', '-', '+'])
        .map(Value::from)
        .collect()
}

/// `2 2 0 1`, or sections: `2 for 40; 1 2`.
fn order(typed: &str) -> Value {
    if !typed.contains(';') && !typed.contains(" for ") {
        return json!(typed);
    }
    let section = |part: &str| match part.split_once(" for ") {
        Some((order, ends)) => json!({"order": order.trim(), "ends": ends.trim()}),
        None => json!({"order": part}),
    };
    parts(typed, &[';']).map(section).collect()
}

/// What stands before a word, and behind it where the word is there.
fn cut<'t>(typed: &'t str, word: &str) -> (&'t str, Option<&'t str>) {
    match typed.split_once(word) {
        Some((before, behind)) => (before.trim(), Some(behind.trim())),
        None => (typed.trim(), None),
    }
}

/// `40 per 10cm long 110 off 2`.
fn reed(typed: &str) -> Value {
    let (typed, off_centre) = cut(typed, " off ");
    let (typed, length) = cut(typed, " long ");
    let (dents, per) = cut(typed, " per ");
    let mut reed = json!({"dents": dents});
    if let Some(per) = per {
        reed["per"] = json!(per.replace(' ', ""));
    }
    for (key, value) in [("length", length), ("off_centre", off_centre)] {
        if let Some(value) = value {
            reed[key] = json!(value);
        }
    }
    reed
}

/// `flax = 16/2 linen at 12 in dark blue`.
fn yarn(typed: &str) -> Value {
    let (typed, colour) = cut(typed, " in ");
    let (typed, price) = cut(typed, " at ");
    let (name, size) = cut(typed, "=");
    let mut yarn = json!({"name": name});
    for (key, value) in [("size", size), ("price", price), ("colour", colour)] {
        if let Some(value) = value {
            yarn[key] = json!(value);
        }
    }
    yarn
}

/// `20 flax`; a stripe without a number in front names all it is.
fn stripe(typed: &str) -> Value {
    match typed.split_once(' ') {
        Some((ends, yarn)) => json!({"ends": ends, "yarn": yarn.trim()}),
        None => json!({"yarn": typed}),
    }
}

/// What of a plan is kept as text and cannot be read: its drafts and the sizes of its yarns.
pub(super) fn unreadable(spec: &Spec) -> Vec<Problem> {
    let drafts = [
        ("threading", &spec.threading, MOST_SHAFTS),
        ("treadling", &spec.treadling, MOST_TREADLES),
    ];
    let draft = |(path, text, most): (&'static str, &Option<String>, u32)| {
        let fault = read_threading(text.as_deref()?, most).err()?;
        Some(Problem::Threading { path, fault })
    };
    let yarn = |(i, yarn): (usize, &YarnSpec)| {
        let found = yarn.size.clone()?;
        let fault = read_yarn(&found).err()?;
        let path = format!("yarns[{i}].size");
        Some(Problem::Yarn { path, found, fault })
    };
    let drafts = drafts.into_iter().filter_map(draft);
    drafts
        .chain(spec.yarns.iter().enumerate().filter_map(yarn))
        .collect()
}

/// What stands in a plan file, as it would be typed; `None` for a value that the field cannot hold.
pub(super) fn text_of(kind: Kind, value: &Value) -> Option<String> {
    match kind {
        Kind::Text | Kind::Number | Kind::Word(_) | Kind::WordOrNumber(_) => plain(value),
        Kind::Counts => row(value),
        Kind::Lists => joined(value, "; ", row),
        Kind::Order => order_text(value),
        Kind::Reeds => joined(value, "; ", |reed| {
            let parts = [
                (" per ", "per"),
                (" long ", "length"),
                (" off ", "off_centre"),
            ];
            with_parts(plain(&reed["dents"])?, reed, &parts)
        }),
        Kind::Yarns => joined(value, "; ", |yarn| {
            with_parts(
                plain(&yarn["name"])?,
                yarn,
                &[(" = ", "size"), (" at ", "price"), (" in ", "colour")],
            )
        }),
        Kind::Stripes => joined(value, ", ", |stripe| {
            Some(format!(
                "{} {}",
                plain(&stripe["ends"])?,
                plain(&stripe["yarn"])?
            ))
        }),
        Kind::Weft => Some(format!(
            "{} {}",
            plain(&value["yarn"])?,
            plain(&value["picks"])?
        )),
    }
}

fn order_text(value: &Value) -> Option<String> {
    if value.as_array()?.iter().all(Value::is_number) {
        return row(value);
    }
    joined(value, "; ", |section| {
        with_parts(row(&section["order"])?, section, &[(" for ", "ends")])
    })
}

/// The text with what else the object says, each behind its word.
fn with_parts(mut text: String, object: &Value, parts: &[(&str, &str)]) -> Option<String> {
    for (word, key) in parts {
        if let Some(value) = plain(&object[*key]) {
            text.push_str(word);
            text.push_str(&value);
        }
    }
    Some(text)
}

fn plain(value: &Value) -> Option<String> {
    match value {
        Value::String(text) => Some(text.clone()),
        Value::Number(number) => Some(number.to_string()),
        _ => None,
    }
}

fn row(value: &Value) -> Option<String> {
    joined(value, " ", plain)
}

fn joined(value: &Value, with: &str, text: impl Fn(&Value) -> Option<String>) -> Option<String> {
    let parts: Option<Vec<String>> = value.as_array()?.iter().map(text).collect();
    parts.map(|parts| parts.join(with))
}
