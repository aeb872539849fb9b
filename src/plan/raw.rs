//! A plan file as a tree of keys and texts, before anything in it is understood.
//! Owns what JSON itself can get wrong (syntax, depth, a key said twice); numbers stay text, so that
//! decimals are read exactly.

use super::Problem;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use serde_json::value::RawValue;
use std::fmt;

/// The deepest lists and objects inside one another.
pub(super) const DEEPEST: usize = 16;
/// The largest plan file, in bytes.
pub(super) const LARGEST: usize = 4_000_000;

/// One value of the file.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Raw {
    /// `null`.
    Null,
    /// `true` or `false`.
    Bool(bool),
    /// A number, as its text.
    Number(String),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Raw>),
    /// An object, keys in order, each at most once.
    Object(Vec<(String, Raw)>),
}

impl Raw {
    /// What kind of thing it is, for a message.
    pub(super) fn kind(&self) -> String {
        match self {
            Self::Null => "null".into(),
            Self::Bool(b) => b.to_string(),
            Self::Number(n) => format!("the number {}", crate::quantity::harmless_within(n, 30)),
            Self::Text(t) => format!("the text \"{}\"", crate::quantity::harmless_within(t, 30)),
            Self::List(items) => format!("a list of {}", items.len()),
            Self::Object(_) => "an object".into(),
        }
    }
}

struct Pairs(Vec<(String, Box<RawValue>)>);

impl<'de> Deserialize<'de> for Pairs {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Collect;
        impl<'de> Visitor<'de> for Collect {
            type Value = Pairs;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Pairs, A::Error> {
                let mut pairs = Vec::new();
                while let Some(pair) = map.next_entry()? {
                    pairs.push(pair);
                }
                Ok(Pairs(pairs))
            }
        }
        deserializer.deserialize_map(Collect)
    }
}

/// Reads the text into a tree; keys said twice are added to `problems`, the first stands.
///
/// # Errors
/// The one problem that stops the reading: no JSON, too large, too deep.
pub(super) fn read_raw(text: &str, problems: &mut Vec<Problem>) -> Result<Raw, Problem> {
    if text.len() > LARGEST {
        return Err(Problem::TooLarge {
            bytes: text.len(),
            limit: LARGEST,
        });
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let raw: &RawValue = serde_json::from_str(text).map_err(|e| not_json(&e))?;
    tree(raw, "", 0, problems)
}

fn not_json(error: &serde_json::Error) -> Problem {
    let detail = error.to_string();
    let detail = detail.split(" at line ").next().unwrap_or("").to_owned();
    Problem::NotJson {
        line: error.line(),
        column: error.column(),
        detail,
    }
}

fn tree(
    raw: &RawValue,
    path: &str,
    depth: usize,
    problems: &mut Vec<Problem>,
) -> Result<Raw, Problem> {
    let text = raw.get();
    if depth > DEEPEST {
        return Err(Problem::TooDeep { limit: DEEPEST });
    }
    Ok(match text.as_bytes().first() {
        Some(b'n') => Raw::Null,
        Some(b't') => Raw::Bool(true),
        Some(b'f') => Raw::Bool(false),
        Some(b'"') => Raw::Text(serde_json::from_str(text).map_err(|e| not_json(&e))?),
        Some(b'[') => {
            let items: Vec<&RawValue> = serde_json::from_str(text).map_err(|e| not_json(&e))?;
            let mut list = Vec::with_capacity(items.len());
            for (i, item) in items.into_iter().enumerate() {
                list.push(tree(item, &format!("{path}[{i}]"), depth + 1, problems)?);
            }
            Raw::List(list)
        }
        Some(b'{') => {
            let Pairs(pairs) = serde_json::from_str(text).map_err(|e| not_json(&e))?;
            object(pairs, path, depth, problems)?
        }
        _ => Raw::Number(text.to_owned()),
    })
}

fn object(
    pairs: Vec<(String, Box<RawValue>)>,
    path: &str,
    depth: usize,
    problems: &mut Vec<Problem>,
) -> Result<Raw, Problem> {
    let mut kept: Vec<(String, Raw)> = Vec::new();
    let mut seen = std::collections::BTreeSet::new();
    for (key, value) in pairs {
        let dot = if path.is_empty() { "" } else { "." };
        let shown = crate::quantity::harmless_within(&key, 40);
        let path = format!("{path}{dot}{shown}");
        if !seen.insert(key.clone()) {
            problems.push(Problem::SaidTwice { path });
            continue;
        }
        let value = tree(&value, &path, depth + 1, problems)?;
        kept.push((key, value));
    }
    Ok(Raw::Object(kept))
}
