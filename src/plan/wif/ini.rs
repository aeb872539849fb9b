//! The plain text under a WIF file: sections of `key=value` lines, as INI files have them.
//! Owns lines, comments, case and doubled keys; knows nothing of weaving.

use super::WifRemark;
use std::collections::BTreeMap;

/// A value and the line that it stands on, from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Value {
    pub(super) text: String,
    pub(super) line: usize,
}

/// Sections by name and keys by name, both in small letters with single blanks.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Ini {
    sections: BTreeMap<String, BTreeMap<String, Value>>,
}

/// How many lines of a kind there are, and where the first stands: one remark for all of them.
#[derive(Debug, Default)]
pub(super) struct Tally {
    pub(super) count: usize,
    pub(super) first: usize,
}

impl Tally {
    pub(super) fn note(&mut self, line: usize) {
        self.first = if self.count == 0 {
            line
        } else {
            self.first.min(line)
        };
        self.count += 1;
    }
}

/// Small letters, single blanks: names are case-blind.
pub(super) fn plain(name: &str) -> String {
    name.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

impl Ini {
    pub(super) fn section(&self, name: &str) -> Option<&BTreeMap<String, Value>> {
        self.sections.get(name)
    }

    pub(super) fn get(&self, section: &str, key: &str) -> Option<&Value> {
        self.sections.get(section)?.get(key)
    }
}

/// Reads the lines. A line that is neither section, comment nor `key=value`, and a line before the first
/// section, are passed by and remarked; of a key said twice the last holds.
pub(super) fn read_ini(text: &str, remarks: &mut Vec<WifRemark>) -> Ini {
    let mut ini = Ini::default();
    let mut here: Option<String> = None;
    let mut strange = Tally::default();
    let mut twice = Tally::default();
    for (line, number) in lines(text).zip(1..) {
        let line = line.trim();
        if line.is_empty() || line.starts_with(';') {
            continue;
        }
        if let Some(name) = line
            .strip_prefix('[')
            .and_then(|l| l.split_once(']'))
            .map(|(n, _)| n)
        {
            let name = plain(name);
            ini.sections.entry(name.clone()).or_default();
            here = Some(name);
            continue;
        }
        let keys = here.as_ref().and_then(|name| ini.sections.get_mut(name));
        let (Some(keys), Some((key, value))) = (keys, line.split_once('=')) else {
            strange.note(number);
            continue;
        };
        let value = Value {
            text: value.trim().to_owned(),
            line: number,
        };
        if keys.insert(plain(key), value).is_some() {
            twice.note(number);
        }
    }
    if let Tally {
        count: count @ 1..,
        first,
    } = strange
    {
        remarks.push(WifRemark::StrangeLines { count, first });
    }
    if let Tally {
        count: count @ 1..,
        first,
    } = twice
    {
        remarks.push(WifRemark::SaidTwice { count, first });
    }
    ini
}

/// Lines ended by LF, CR LF or CR alone.
fn lines(text: &str) -> impl Iterator<Item = &str> {
    text.split('\n')
        .flat_map(|line| line.strip_suffix('\r').unwrap_or(line).split('\r'))
}
