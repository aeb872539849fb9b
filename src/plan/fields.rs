//! Taking typed values out of a raw object, noting every problem on the way.
//! Owns kinds and ranges in general; knows no key by name.

use super::Problem;
use super::raw::Raw;
use crate::quantity::{Fraction, harmless, harmless_within, parse_fraction};

/// Collects problems while values are taken.
pub(super) struct Reader {
    pub(super) problems: Vec<Problem>,
}

/// The keys of one object.
pub(super) struct Fields<'r, 'o> {
    reader: &'r mut Reader,
    pairs: &'o [(String, Raw)],
    path: String,
}

impl Reader {
    pub(super) fn wrong(&mut self, path: String, raw: &Raw, expected: &'static str) {
        let found = raw.kind();
        self.problems.push(Problem::WrongType {
            path,
            found,
            expected,
        });
    }

    /// Opens an object: unknown keys are problems, then `take` takes what it needs.
    pub(super) fn object<T>(
        &mut self,
        raw: &Raw,
        path: &str,
        known: &'static [&'static str],
        take: impl FnOnce(&mut Fields<'_, '_>) -> T,
    ) -> Option<T> {
        let Raw::Object(pairs) = raw else {
            self.wrong(path.to_owned(), raw, "an object { ... }");
            return None;
        };
        for (key, _) in pairs {
            if !known.contains(&key.as_str()) {
                let path = joined(path, &harmless_within(key, 40));
                let nearest = nearest(key, known);
                self.problems.push(Problem::UnknownKey { path, nearest });
            }
        }
        let path = path.to_owned();
        Some(take(&mut Fields {
            reader: self,
            pairs,
            path,
        }))
    }

    pub(super) fn fraction(&mut self, raw: &Raw, path: String) -> Option<Fraction> {
        let (Raw::Number(text) | Raw::Text(text)) = raw else {
            self.wrong(path, raw, "a number, or a text such as \"18 1/2\"");
            return None;
        };
        match parse_fraction(text) {
            Ok(value) => Some(value),
            Err(fault) => {
                let found = harmless_within(text, 40);
                self.problems.push(Problem::Number { path, found, fault });
                None
            }
        }
    }

    pub(super) fn between(
        &mut self,
        raw: &Raw,
        path: String,
        allowed: impl FnOnce(Fraction) -> bool,
        (least, most): (&str, String),
    ) -> Option<Fraction> {
        let value = self.fraction(raw, path.clone())?;
        if allowed(value) {
            return Some(value);
        }
        let found = value.mixed();
        let least = least.to_owned();
        self.problems.push(Problem::OutOfRange {
            path,
            found,
            least,
            most,
        });
        None
    }

    pub(super) fn count(&mut self, raw: &Raw, path: String, least: u32, most: u32) -> Option<u32> {
        let range = Fraction::from(least)..=Fraction::from(most);
        let value = self.between(
            raw,
            path,
            |v| v.is_whole() && range.contains(&v),
            (&format!("a whole number from {least}"), most.to_string()),
        )?;
        u32::try_from(value.numerator()).ok()
    }

    pub(super) fn counts(
        &mut self,
        raw: &Raw,
        path: String,
        longest: u32,
        least: u32,
        most: u32,
    ) -> Option<Vec<u32>> {
        let Raw::List(items) = raw else {
            self.wrong(path, raw, "a list of whole numbers");
            return None;
        };
        if items.is_empty() || items.len() > longest as usize {
            let found = items.len();
            let expected = format!("1 to {longest}");
            self.problems.push(Problem::Length {
                path,
                found,
                expected,
            });
            return None;
        }
        let before = self.problems.len();
        let found: Vec<u32> = items
            .iter()
            .enumerate()
            .filter_map(|(i, item)| self.count(item, format!("{path}[{i}]"), least, most))
            .collect();
        (self.problems.len() == before).then_some(found)
    }
}

fn joined(path: &str, key: &str) -> String {
    let dot = if path.is_empty() { "" } else { "." };
    format!("{path}{dot}{key}")
}

/// The known key nearest to a mistyped one, where it is near at all.
pub(super) fn nearest<'a>(key: &str, known: &[&'a str]) -> Option<&'a str> {
    if key.len() > 64 {
        return None;
    }
    let key = key.to_lowercase();
    known
        .iter()
        .map(|&k| (strsim::damerau_levenshtein(&key, k), k))
        .filter(|&(distance, k)| distance <= (k.len() / 3).max(1))
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, k)| k)
}

impl<'o> Fields<'_, 'o> {
    /// The value of a key, if it was said and is not null.
    pub(super) fn get(&mut self, key: &str) -> Option<(&mut Reader, &'o Raw, String)> {
        let (_, raw) = self.pairs.iter().find(|(k, _)| k == key)?;
        let path = joined(&self.path, key);
        (*raw != Raw::Null).then_some((self.reader, raw, path))
    }

    /// A value that must be there; a problem names the key where nothing was said.
    pub(super) fn needed<T>(
        &mut self,
        key: &'static str,
        take: impl FnOnce(&mut Self, &'static str) -> Option<T>,
    ) -> Option<T> {
        if self.get(key).is_none() {
            let path = joined(&self.path, key);
            let (found, expected) = ("nothing".into(), "a value here");
            let problem = Problem::WrongType {
                path,
                found,
                expected,
            };
            self.reader.problems.push(problem);
            return None;
        }
        take(self, key)
    }

    pub(super) fn text(&mut self, key: &'static str) -> Option<String> {
        let (reader, raw, path) = self.get(key)?;
        if let Raw::Text(text) = raw {
            return Some(text.clone());
        }
        reader.wrong(path, raw, "a text in \"quotes\"");
        None
    }

    pub(super) fn name(&mut self, key: &'static str) -> Option<String> {
        let text = self.text(key)?;
        let clean = harmless(&text);
        // what cannot be seen is taken out quietly; what a terminal would obey is said
        let obeyed = text.chars().any(|c| c.is_control() && !c.is_whitespace());
        if !clean.is_empty() && !obeyed {
            return Some(clean);
        }
        let (reader, raw, path) = self.get(key)?;
        let wanted = if obeyed {
            "a name without control characters"
        } else {
            "a name with at least one visible letter"
        };
        reader.wrong(path, raw, wanted);
        None
    }

    pub(super) fn word<T: Copy>(
        &mut self,
        key: &'static str,
        words: &'static [(&'static str, T)],
    ) -> Option<T> {
        let (reader, raw, path) = self.get(key)?;
        let found = match raw {
            Raw::Text(text) => text.as_str(),
            _ => {
                reader.wrong(path, raw, "a word in \"quotes\"");
                return None;
            }
        };
        if let Some(&(_, value)) = words.iter().find(|(word, _)| *word == found) {
            return Some(value);
        }
        let found = harmless_within(found, 40);
        let words = words.iter().map(|&(word, _)| word).collect();
        reader
            .problems
            .push(Problem::NotOneOf { path, found, words });
        None
    }

    /// A colour as written, one that can be read.
    pub(super) fn colour(&mut self, key: &'static str) -> Option<String> {
        let (reader, raw, path) = self.get(key)?;
        let Raw::Text(text) = raw else {
            reader.wrong(path, raw, "a colour in \"quotes\"");
            return None;
        };
        if super::colour::read_colour(text).is_some() {
            return Some(harmless(text).trim().to_lowercase());
        }
        let found = harmless_within(text, 40);
        let words = super::colour::words();
        reader
            .problems
            .push(Problem::NotOneOf { path, found, words });
        None
    }

    pub(super) fn count(&mut self, key: &'static str, least: u32, most: u32) -> Option<u32> {
        let (reader, raw, path) = self.get(key)?;
        reader.count(raw, path, least, most)
    }

    pub(super) fn counts(
        &mut self,
        key: &'static str,
        longest: u32,
        least: u32,
        most: u32,
    ) -> Option<Vec<u32>> {
        let (reader, raw, path) = self.get(key)?;
        reader.counts(raw, path, longest, least, most)
    }

    /// Above 0, at most `most`.
    pub(super) fn positive(&mut self, key: &'static str, most: i64) -> Option<Fraction> {
        let (reader, raw, path) = self.get(key)?;
        let limit = Fraction::whole(most);
        let range = ("more than 0", most.to_string());
        reader.between(raw, path, |v| v.is_positive() && v <= limit, range)
    }

    /// 0 or more, at most `most`.
    pub(super) fn not_negative(&mut self, key: &'static str, most: i64) -> Option<Fraction> {
        let (reader, raw, path) = self.get(key)?;
        let range = Fraction::ZERO..=Fraction::whole(most);
        reader.between(raw, path, |v| range.contains(&v), ("0", most.to_string()))
    }

    /// From `-most` to `most`.
    pub(super) fn within(&mut self, key: &'static str, most: i64) -> Option<Fraction> {
        let (reader, raw, path) = self.get(key)?;
        let range = Fraction::whole(-most)..=Fraction::whole(most);
        let least = format!("-{most}");
        reader.between(
            raw,
            path,
            |v| range.contains(&v),
            (&least, most.to_string()),
        )
    }

    /// A share: 0 or more, at most 90 %.
    pub(super) fn share(&mut self, key: &'static str) -> Option<Fraction> {
        let (reader, raw, path) = self.get(key)?;
        let most = Fraction::new(9, 10).unwrap_or(Fraction::ONE);
        let range = Fraction::ZERO..=most;
        reader.between(
            raw,
            path,
            |v| range.contains(&v),
            ("0", "9/10 (90%)".into()),
        )
    }

    pub(super) fn object<T: Default>(
        &mut self,
        key: &'static str,
        known: &'static [&'static str],
        take: impl FnOnce(&mut Fields<'_, '_>) -> T,
    ) -> T {
        let Some((reader, raw, path)) = self.get(key) else {
            return T::default();
        };
        reader.object(raw, &path, known, take).unwrap_or_default()
    }

    pub(super) fn maybe_object<T>(
        &mut self,
        key: &'static str,
        known: &'static [&'static str],
        take: impl FnOnce(&mut Fields<'_, '_>) -> Option<T>,
    ) -> Option<T> {
        let (reader, raw, path) = self.get(key)?;
        reader.object(raw, &path, known, take).flatten()
    }

    pub(super) fn objects<T>(
        &mut self,
        key: &'static str,
        known: &'static [&'static str],
        most: usize,
        take: impl Fn(&mut Fields<'_, '_>) -> Option<T>,
    ) -> Vec<T> {
        let Some((reader, raw, path)) = self.get(key) else {
            return Vec::new();
        };
        let Some(items) = list(reader, raw, &path, most) else {
            return Vec::new();
        };
        items
            .iter()
            .enumerate()
            .filter_map(|(i, item)| {
                reader
                    .object(item, &format!("{path}[{i}]"), known, &take)
                    .flatten()
            })
            .collect()
    }

    /// Lists of shafts, each shaft 1 to `greatest`; an inner list may be empty.
    pub(super) fn lists(&mut self, key: &'static str, most: u32, greatest: u32) -> Vec<Vec<u32>> {
        let Some((reader, raw, path)) = self.get(key) else {
            return Vec::new();
        };
        let Some(items) = list(reader, raw, &path, most as usize) else {
            return Vec::new();
        };
        let mut found = Vec::with_capacity(items.len());
        for (i, item) in items.iter().enumerate() {
            if matches!(item, Raw::List(inner) if inner.is_empty()) {
                found.push(Vec::new());
                continue;
            }
            let path = format!("{path}[{i}]");
            found.extend(reader.counts(item, path, greatest, 1, greatest));
        }
        found
    }
}

fn list<'o>(reader: &mut Reader, raw: &'o Raw, path: &str, most: usize) -> Option<&'o [Raw]> {
    let Raw::List(items) = raw else {
        reader.wrong(path.to_owned(), raw, "a list [ ... ]");
        return None;
    };
    if items.len() > most {
        let (path, found) = (path.to_owned(), items.len());
        let expected = format!("at most {most}");
        reader.problems.push(Problem::Length {
            path,
            found,
            expected,
        });
        return None;
    }
    Some(items)
}
