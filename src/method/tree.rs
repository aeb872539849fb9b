//! A file's JSON as a tree that keeps what the usual one loses: a key that is given twice. Owns the
//! limits on size and depth; knows nothing of steps.

use super::MethodFault;
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};

/// The most bytes that a method file may have.
pub const MOST_BYTES: usize = 256 * 1024;
/// The deepest nesting that a method file may have.
pub const MOST_DEPTH: usize = 16;

/// One value of the file.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Tree {
    Null,
    Truth(bool),
    Whole(u64),
    Number,
    Text(String),
    List(Vec<Tree>),
    Keyed(Vec<(String, Tree)>),
}

impl Tree {
    /// Reads a file's text, within the limits.
    pub(super) fn read(json: &str) -> Result<Self, MethodFault> {
        if json.len() > MOST_BYTES {
            return Err(MethodFault::TooBig {
                bytes: json.len(),
                most: MOST_BYTES,
            });
        }
        if depth(json) > MOST_DEPTH {
            return Err(MethodFault::TooDeep { most: MOST_DEPTH });
        }
        // A byte order mark is what some editors leave in front; it carries no meaning here.
        let json = json.strip_prefix('\u{feff}').unwrap_or(json);
        serde_json::from_str(json).map_err(|error| MethodFault::NotJson {
            line: error.line(),
            column: error.column(),
            found: without_place(&error.to_string()),
        })
    }

    /// What the value is, in words.
    pub(super) fn kind(&self) -> &'static str {
        match self {
            Self::Null => "null",
            Self::Truth(_) => "true or false",
            Self::Whole(_) | Self::Number => "a number",
            Self::Text(_) => "text",
            Self::List(_) => "a list",
            Self::Keyed(_) => "an object",
        }
    }
}

/// The parser's words without the line and column that it repeats at their end.
fn without_place(words: &str) -> String {
    let end = words.rfind(" at line ").unwrap_or(words.len());
    words[..end].to_owned()
}

/// How deep brackets nest outside quoted text, found before anything is built.
fn depth(json: &str) -> usize {
    let (mut now, mut most, mut quoted, mut escaped) = (0_usize, 0, false, false);
    for byte in json.bytes() {
        match byte {
            _ if escaped => escaped = false,
            b'\\' if quoted => escaped = true,
            b'"' => quoted = !quoted,
            b'[' | b'{' if !quoted => now += 1,
            b']' | b'}' if !quoted => now = now.saturating_sub(1),
            _ => {}
        }
        most = most.max(now);
    }
    most
}

impl<'de> Deserialize<'de> for Tree {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(Grower)
    }
}

struct Grower;

impl<'de> Visitor<'de> for Grower {
    type Value = Tree;

    fn expecting(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Tree, E> {
        Ok(Tree::Null)
    }

    fn visit_bool<E>(self, truth: bool) -> Result<Tree, E> {
        Ok(Tree::Truth(truth))
    }

    fn visit_u64<E>(self, number: u64) -> Result<Tree, E> {
        Ok(Tree::Whole(number))
    }

    fn visit_i64<E>(self, _: i64) -> Result<Tree, E> {
        Ok(Tree::Number)
    }

    fn visit_f64<E>(self, _: f64) -> Result<Tree, E> {
        Ok(Tree::Number)
    }

    fn visit_str<E>(self, text: &str) -> Result<Tree, E> {
        Ok(Tree::Text(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Tree, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(Tree::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Tree, A::Error> {
        let mut keyed = Vec::new();
        while let Some(entry) = entries.next_entry()? {
            keyed.push(entry);
        }
        Ok(Tree::Keyed(keyed))
    }
}
