//! Reading a WIF file's bytes into a [`Wif`].
//! Owns what each section means; never makes a plan of it.

use super::ini::{Ini, Tally, Value, plain, read_ini};
use super::{LARGEST, MOST_COLOURS, MOST_PICKS, Threads, Wif, WifFault, WifRemark, WifUnits};
use crate::plan::spec::{MOST_ENDS, MOST_SHAFTS, MOST_TREADLES};
use crate::quantity::{Fraction, harmless, harmless_within, parse_fraction};

/// Reads a draft. Bytes that are no UTF-8 are taken as Latin-1, a byte-order mark is let pass.
///
/// # Errors
/// The first fault, with its line and what to do.
pub fn read_wif(bytes: &[u8]) -> Result<(Wif, Vec<WifRemark>), WifFault> {
    if bytes.len() > LARGEST {
        return Err(WifFault::TooLarge { bytes: bytes.len() });
    }
    if let Some(at) = bytes.iter().position(|&b| b == 0) {
        return Err(WifFault::Binary { place: at + 1 });
    }
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes.iter().map(|&b| char::from(b)).collect(),
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let mut remarks = Vec::new();
    let ini = read_ini(text, &mut remarks);
    let mut reading = Reading {
        ini: &ini,
        remarks: &mut remarks,
        passed: Tally::default(),
    };
    let wif = reading.wif()?;
    if let Tally {
        count: count @ 1..,
        first,
    } = reading.passed
    {
        remarks.push(WifRemark::KeyPassed { count, first });
    }
    Ok((wif, remarks))
}

struct Reading<'a> {
    ini: &'a Ini,
    remarks: &'a mut Vec<WifRemark>,
    passed: Tally,
}

impl Reading<'_> {
    fn wif(&mut self) -> Result<Wif, WifFault> {
        if self.ini.section("wif").is_none() {
            return Err(WifFault::NoWif);
        }
        self.header();
        let threading = self.lists("THREADING", MOST_ENDS, MOST_SHAFTS)?;
        if threading.iter().all(Vec::is_empty) {
            return Err(WifFault::NoThreading);
        }
        let tie_up = self.lists("TIEUP", MOST_TREADLES, MOST_SHAFTS)?;
        let treadling = self.lists("TREADLING", MOST_PICKS, MOST_TREADLES)?;
        let lift_plan = self.lists("LIFTPLAN", MOST_PICKS, MOST_SHAFTS)?;
        let highest = |rows: &[Vec<u32>]| rows.iter().flatten().copied().max().unwrap_or(0);
        let used = highest(&threading)
            .max(highest(&tie_up))
            .max(highest(&lift_plan));
        let trodden = highest(&treadling).max(u32::try_from(tie_up.len()).unwrap_or(0));
        let shafts = self
            .count("WEAVING", "shafts", MOST_SHAFTS)?
            .unwrap_or(0)
            .max(used);
        let treadles = self
            .count("WEAVING", "treadles", MOST_TREADLES)?
            .unwrap_or(0)
            .max(trodden);
        let warp = self.threads("WARP", MOST_ENDS)?;
        let weft = self.threads("WEFT", MOST_PICKS)?;
        if warp.count > 0 && warp.count as usize != threading.len() {
            let (said, found) = (warp.count, threading.len());
            self.remarks.push(WifRemark::ThreadsDiffer { said, found });
        }
        let rising = self
            .ini
            .get("weaving", "rising shed")
            .is_none_or(|v| truth(&v.text));
        Ok(Wif {
            title: self
                .ini
                .get("text", "title")
                .map(|v| harmless(&v.text))
                .filter(|t| !t.is_empty()),
            shafts,
            treadles,
            rising,
            warp,
            weft,
            threading,
            tie_up,
            treadling,
            lift_plan,
            palette: self.palette()?,
            notes: self.notes(),
        })
    }

    fn header(&mut self) {
        let version = self.ini.get("wif", "version").map(|v| v.text.as_str());
        if version != Some("1.1") {
            let found = version.map_or("(none)".into(), |v| harmless_within(v, 20));
            self.remarks.push(WifRemark::Version { found });
        }
        let contents = self.ini.section("contents");
        for (name, value) in contents.into_iter().flatten() {
            if truth(&value.text) && self.ini.section(&plain(name)).is_none() {
                let section = harmless_within(&name.to_uppercase(), 40);
                self.remarks.push(WifRemark::SectionMissing { section });
            }
        }
    }

    /// The numbered lines of a section in order; the key's number is checked against `most`.
    fn numbered(
        &mut self,
        section: &'static str,
        most: u32,
    ) -> Result<Vec<(u32, &Value)>, WifFault> {
        let mut found = Vec::new();
        for (key, value) in self
            .ini
            .section(&section.to_lowercase())
            .into_iter()
            .flatten()
        {
            let line = value.line;
            if key.is_empty() || !key.bytes().all(|b| b.is_ascii_digit()) {
                self.passed.note(line);
                continue;
            }
            match key.parse::<u32>() {
                Ok(0) => self.passed.note(line),
                Ok(n) if n <= most => found.push((n, value)),
                _ => {
                    let found = harmless_within(key, 20);
                    return Err(WifFault::Beyond {
                        line,
                        section,
                        found,
                        most,
                    });
                }
            }
        }
        // Stable: of `1` and `01` the last in the file's own order of names holds.
        found.sort_by_key(|&(n, _)| n);
        Ok(found)
    }

    /// A numbered section of lists: `7=1,3`; 0 and blank are an empty list, as is a number left out.
    fn lists(
        &mut self,
        section: &'static str,
        most: u32,
        greatest: u32,
    ) -> Result<Vec<Vec<u32>>, WifFault> {
        let mut rows: Vec<Vec<u32>> = Vec::new();
        for (number, value) in self.numbered(section, most)? {
            rows.resize(number as usize - 1, Vec::new());
            rows.push(list(value, section, greatest)?);
        }
        Ok(rows)
    }

    fn count(&self, section: &'static str, key: &str, most: u32) -> Result<Option<u32>, WifFault> {
        let Some(value) = self.ini.get(&section.to_lowercase(), key) else {
            return Ok(None);
        };
        number(value, value.text.as_str(), section, most).map(Some)
    }

    fn threads(&mut self, section: &'static str, most: u32) -> Result<Threads, WifFault> {
        let (colours_of, spacing_of) = match section {
            "WARP" => ("WARP COLORS", "WARP SPACING"),
            _ => ("WEFT COLORS", "WEFT SPACING"),
        };
        let mut colours: Vec<u32> = Vec::new();
        for (at, value) in self.numbered(colours_of, most)? {
            let colour = list(value, colours_of, MOST_COLOURS)?
                .first()
                .copied()
                .unwrap_or(0);
            colours.resize(at as usize - 1, 0);
            colours.push(colour);
        }
        let own = self.ini.section(&spacing_of.to_lowercase());
        let mut spacings = own.into_iter().flatten().map(|(_, v)| v.text.as_str());
        let first = spacings.next();
        let uneven = spacings.any(|s| Some(s) != first);
        Ok(Threads {
            count: self.count(section, "threads", most)?.unwrap_or(0),
            colour: self.colour(section)?,
            units: self.units(section),
            spacing: self.length(section, "spacing")?,
            thickness: self.length(section, "thickness")?,
            colours,
            uneven,
        })
    }

    /// `Color=7`, or `Color=7,255,0,0` where the colour itself follows its number.
    fn colour(&self, section: &'static str) -> Result<Option<u32>, WifFault> {
        let Some(value) = self.ini.get(&section.to_lowercase(), "color") else {
            return Ok(None);
        };
        let first = value.text.split(',').next().unwrap_or("");
        if first.trim().is_empty() {
            return Ok(None);
        }
        number(value, first, section, MOST_COLOURS).map(Some)
    }

    fn units(&self, section: &'static str) -> Option<WifUnits> {
        let value = self.ini.get(&section.to_lowercase(), "units")?;
        match plain(&value.text).as_str() {
            "decipoints" => Some(WifUnits::Decipoints),
            "inches" => Some(WifUnits::Inches),
            "centimeters" | "centimetres" => Some(WifUnits::Centimetres),
            _ => None,
        }
    }

    fn length(&self, section: &'static str, key: &str) -> Result<Option<Fraction>, WifFault> {
        let Some(value) = self
            .ini
            .get(&section.to_lowercase(), key)
            .filter(|v| !v.text.is_empty())
        else {
            return Ok(None);
        };
        match parse_fraction(&shortened(&value.text)) {
            Ok(length) if length >= Fraction::ZERO => Ok(Some(length)),
            _ => Err(wrong(value, section, "a length such as 0.05")),
        }
    }

    fn palette(&mut self) -> Result<Vec<[u8; 3]>, WifFault> {
        const SECTION: &str = "COLOR TABLE";
        let range = self.ini.get("color palette", "range");
        let (low, high) = match range {
            None => (0, 255),
            Some(value) => match list_any(value, "COLOR PALETTE", 1_000_000)?[..] {
                [low, high] if low < high => (low, high),
                _ => return Err(wrong(value, "COLOR PALETTE", "a range such as 0,255")),
            },
        };
        let mut palette: Vec<[u8; 3]> = Vec::new();
        for (number, value) in self.numbered(SECTION, MOST_COLOURS)? {
            let [r, g, b] = list_any(value, SECTION, 1_000_000)?[..] else {
                return Err(wrong(value, SECTION, "three numbers such as 255,0,0"));
            };
            palette.resize(number as usize - 1, [0; 3]);
            palette.push([r, g, b].map(|part| scaled(part, low, high)));
        }
        Ok(palette)
    }

    fn notes(&mut self) -> Vec<String> {
        let lines = self.numbered("NOTES", 10_000).unwrap_or_default();
        lines
            .into_iter()
            .map(|(_, value)| harmless(&value.text))
            .collect()
    }
}

/// A colour part from its range to 0..=255.
fn scaled(part: u32, low: u32, high: u32) -> u8 {
    let part = u64::from(part.clamp(low, high) - low);
    let span = u64::from(high - low);
    u8::try_from((part * 255 + span / 2) / span).unwrap_or(255)
}

/// true, yes, on, 1 and what begins like them.
fn truth(text: &str) -> bool {
    matches!(
        plain(text).as_str(),
        "true" | "yes" | "on" | "1" | "t" | "y"
    )
}

/// A decimal with more than six places cut to six; exact beyond any tape.
fn shortened(text: &str) -> String {
    match text.split_once('.') {
        Some((whole, places)) if places.len() > 6 && places.bytes().all(|b| b.is_ascii_digit()) => {
            format!("{whole}.{}", &places[..6])
        }
        _ => text.to_owned(),
    }
}

fn wrong(value: &Value, section: &'static str, expected: &'static str) -> WifFault {
    let found = harmless_within(&value.text, 40);
    WifFault::Value {
        line: value.line,
        section,
        found,
        expected,
    }
}

fn number(value: &Value, text: &str, section: &'static str, most: u32) -> Result<u32, WifFault> {
    let text = text.trim();
    if text.is_empty() || !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(wrong(value, section, "whole numbers"));
    }
    let beyond = || WifFault::Beyond {
        line: value.line,
        section,
        found: harmless_within(text, 20),
        most,
    };
    text.parse().ok().filter(|&n| n <= most).ok_or_else(beyond)
}

/// Numbers parted by commas; what follows a `;` is a comment; 0 and blanks fall out.
fn list(value: &Value, section: &'static str, greatest: u32) -> Result<Vec<u32>, WifFault> {
    let mut found = list_any(value, section, greatest)?;
    found.retain(|&n| n > 0);
    Ok(found)
}

fn list_any(value: &Value, section: &'static str, greatest: u32) -> Result<Vec<u32>, WifFault> {
    let text = value.text.split(';').next().unwrap_or("");
    let parts = text.split(',').filter(|part| !part.trim().is_empty());
    parts
        .map(|part| number(value, part, section, greatest))
        .collect()
}
