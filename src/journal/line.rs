//! One line of the file: its frame, its checksum and its limits. Owns the bytes between two line
//! ends; never looks into a payload and never opens a file.
//!
//! ```text
//! {"c":"8 hex","v":1,"n":7,"at":"2026-03-03T18:40:00+01:00","ms":81200,"k":"entry","e":...}
//! ```
//!
//! `c` is the CRC-32 (IEEE 802.3) over the previous line's CRC, four bytes with the highest first,
//! and this line from `"v"` to its last brace. The chain shows a lost, doubled, swapped or
//! spliced line, not only a changed one.

use super::error::Damage;
use super::quick;
use chrono::{DateTime, Datelike, FixedOffset};
use serde::de::{Error, IgnoredAny};
use serde::{Deserialize, Deserializer, Serialize};
use serde_json::value::RawValue;
use std::borrow::Cow;
use std::io::BufRead;

/// The version of the format that is written here; a line says which one its reader must know.
pub const VERSION: u32 = 1;
/// The most bytes of a file.
pub const FILE_LIMIT: u64 = 64 << 20;
/// The most bytes of a line, its line end left out.
pub const LINE_LIMIT: usize = 64 << 10;
/// The most bytes of the first line, which holds the plan.
pub const HEADER_LIMIT: usize = 4 << 20;
/// The most lines after the first one.
pub const LINES_LIMIT: u64 = 1_000_000;
/// The deepest nesting of brackets in a line.
pub const DEPTH_LIMIT: usize = 16;

/// `{"c":"`, eight digits, `",`: the bytes that the checksum does not cover.
const PREFIX: usize = 16;

/// When a line was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stamp {
    /// Wall time with its offset; only shown.
    pub at: DateTime<FixedOffset>,
    /// Milliseconds since the program started, from a clock that never goes back.
    pub elapsed_ms: u64,
}

/// What a line says about itself, in the order in which it is written.
#[derive(Serialize)]
struct Frame<'a, P: ?Sized> {
    v: u32,
    n: u64,
    at: DateTime<FixedOffset>,
    ms: u64,
    k: &'a str,
    e: &'a P,
}

/// The same, read.
#[derive(Debug, PartialEq)]
pub(super) struct Envelope<'a> {
    pub v: u32,
    pub n: u64,
    pub at: DateTime<FixedOffset>,
    pub ms: u64,
    pub k: Cow<'a, str>,
    pub opt: bool,
    /// The payload, which is JSON.
    pub e: Option<&'a str>,
}

/// The same in any form: fields that are not known here are let pass, in every version to come.
#[derive(Deserialize)]
struct AnyForm<'a> {
    v: u32,
    n: u64,
    #[serde(deserialize_with = "rfc_3339")]
    at: DateTime<FixedOffset>,
    ms: u64,
    #[serde(borrow)]
    k: Cow<'a, str>,
    #[serde(default)]
    opt: bool,
    #[serde(borrow)]
    e: Option<&'a RawValue>,
}

/// Reads what stands in a line that holds the checksum's prefix.
fn envelope<'a>(line: &'a [u8], rest: &'a [u8]) -> Option<Envelope<'a>> {
    let frame = str::from_utf8(rest).ok().and_then(quick::frame);
    let whole = frame.filter(|frame| serde_json::from_str::<IgnoredAny>(frame.e).is_ok());
    if let Some(frame) = whole {
        return Some(at_sight(frame));
    }
    let any: AnyForm<'_> = serde_json::from_slice(line).ok()?;
    Some(Envelope {
        v: any.v,
        n: any.n,
        at: any.at,
        ms: any.ms,
        k: any.k,
        opt: any.opt,
        e: any.e.map(RawValue::get),
    })
}

/// A line that was read before and found good, once more: its payload is not looked through again.
pub(super) fn read_again(line: &[u8]) -> Option<Envelope<'_>> {
    let (_, rest) = split(line)?;
    match str::from_utf8(rest).ok().and_then(quick::frame) {
        Some(frame) => Some(at_sight(frame)),
        None => envelope(line, rest),
    }
}

/// A payload `null` is no payload.
fn at_sight(frame: quick::Frame<'_>) -> Envelope<'_> {
    Envelope {
        v: frame.v,
        n: frame.n,
        at: frame.at,
        ms: frame.ms,
        k: frame.k.into(),
        opt: false,
        e: Some(frame.e).filter(|e| *e != "null"),
    }
}

/// The one form that is written, which is read much faster than every form that a time may have.
fn rfc_3339<'de, D: Deserializer<'de>>(deserializer: D) -> Result<DateTime<FixedOffset>, D::Error> {
    #[derive(Deserialize)]
    struct Text<'a>(#[serde(borrow)] Cow<'a, str>);
    let Text(text) = Text::deserialize(deserializer)?;
    DateTime::parse_from_rfc3339(&text).map_err(Error::custom)
}

/// How many bytes come before the first line end; `None` where there is none.
pub(super) fn line_end(bytes: &[u8]) -> Option<usize> {
    let mut rest = bytes;
    // This reads memory, which does not fail; it is the fast search of the standard library.
    let skipped = rest.skip_until(b'\n').ok()?;
    let end = skipped.checked_sub(1)?;
    (bytes.get(end) == Some(&b'\n')).then_some(end)
}

/// CRC-32 of a line: over the CRC of the line before and its own bytes.
#[must_use]
pub(super) fn checksum(before: u32, rest: &[u8]) -> u32 {
    let mut crc = crc32fast::Hasher::new();
    crc.update(&before.to_be_bytes());
    crc.update(rest);
    crc.finalize()
}

/// Writes one whole line with its line end into the buffer, in place of what it held.
/// Returns the line's CRC.
///
/// # Errors
/// The payload cannot be written as JSON.
pub(super) fn write<P: Serialize + ?Sized>(
    buffer: &mut Vec<u8>,
    before: u32,
    number: u64,
    stamp: Stamp,
    kind: &str,
    payload: &P,
) -> Result<u32, serde_json::Error> {
    let frame = Frame {
        v: VERSION,
        n: number,
        at: writable(stamp.at),
        ms: stamp.elapsed_ms,
        k: kind,
        e: payload,
    };
    buffer.clear();
    buffer.extend_from_slice(b"{\"c\":\"00000000\"");
    serde_json::to_writer(&mut *buffer, &frame)?;
    Ok(seal(buffer, before))
}

/// Puts the checksum into a line `{"c":"00000000"{...}` and ends it.
fn seal(buffer: &mut Vec<u8>, before: u32) -> u32 {
    if let Some(brace) = buffer.get_mut(PREFIX - 1) {
        *brace = b',';
    }
    let crc = checksum(before, buffer.get(PREFIX..).unwrap_or_default());
    if let Some(place) = buffer.get_mut(PREFIX - 10..PREFIX - 2) {
        place.copy_from_slice(format!("{crc:08x}").as_bytes());
    }
    buffer.push(b'\n');
    crc
}

/// Writes a line that was read before into the buffer, its bytes unchanged, chained anew.
pub(super) fn chain_anew(buffer: &mut Vec<u8>, before: u32, rest: &[u8]) -> u32 {
    buffer.clear();
    buffer.extend_from_slice(b"{\"c\":\"00000000\",");
    buffer.extend_from_slice(rest);
    seal(buffer, before)
}

/// A wall clock that is thousands of years out still lets a line be written and read back; the
/// time is only shown.
pub(super) fn writable(at: DateTime<FixedOffset>) -> DateTime<FixedOffset> {
    if (0..=9999).contains(&at.naive_utc().year()) && (0..=9999).contains(&at.year()) {
        at
    } else {
        DateTime::UNIX_EPOCH.fixed_offset()
    }
}

/// The checksum that a line states and the bytes that it covers; `None` where the line does not
/// even look like one.
pub(super) fn split(line: &[u8]) -> Option<(u32, &[u8])> {
    let (prefix, rest) = line.split_at_checked(PREFIX)?;
    let digits = prefix.strip_prefix(b"{\"c\":\"")?.strip_suffix(b"\",")?;
    let lower = |b: &u8| matches!(b, b'0'..=b'9' | b'a'..=b'f');
    if !digits.iter().all(lower) || !rest.ends_with(b"}") {
        return None;
    }
    let digits = std::str::from_utf8(digits).ok()?;
    Some((u32::from_str_radix(digits, 16).ok()?, rest))
}

/// Reads a line whose place in the chain is known: the limits first, then the checksum, then the
/// JSON.
///
/// # Errors
/// What is wrong with it.
pub(super) fn read(line: &[u8], before: u32, limit: usize) -> Result<(u32, Envelope<'_>), Damage> {
    within_limits(line, limit)?;
    let (stated, rest) = split(line).ok_or(Damage::Shape)?;
    if checksum(before, rest) != stated {
        return Err(Damage::Checksum);
    }
    let envelope = envelope(line, rest).ok_or(Damage::Json)?;
    Ok((stated, envelope))
}

/// Whether the line is whole JSON of the right shape, whatever its checksum says. A write that was
/// torn does not leave such a line; a changed, doubled or lost one does.
pub(super) fn looks_good(line: &[u8]) -> bool {
    peek(line).is_some()
}

/// The number and time that a good-looking line states, its place in the chain unknown.
pub(super) fn peek(line: &[u8]) -> Option<(u64, Stamp)> {
    within_limits(line, LINE_LIMIT).ok()?;
    let (_, rest) = split(line)?;
    let envelope = envelope(line, rest)?;
    let stamp = Stamp {
        at: envelope.at,
        elapsed_ms: envelope.ms,
    };
    Some((envelope.n, stamp))
}

pub(super) fn within_limits(line: &[u8], limit: usize) -> Result<(), Damage> {
    if line.len() > limit {
        return Err(Damage::TooLong {
            bytes: line.len(),
            limit,
        });
    }
    if line.contains(&0) {
        return Err(Damage::Nul);
    }
    let deepest = deepest(line);
    if deepest > DEPTH_LIMIT {
        return Err(Damage::TooDeep { deepest });
    }
    Ok(())
}

/// The deepest nesting of brackets outside of strings; an upper bound of it where that is allowed,
/// since counting is much faster and most lines hold few brackets.
fn deepest(line: &[u8]) -> usize {
    let opens = |b: &u8| u8::from(*b == b'{') + u8::from(*b == b'[');
    // a chunk of so many bytes is summed up in one byte, which processors do for many at a time
    let sum = |chunk: &[u8]| usize::from(chunk.iter().map(opens).sum::<u8>());
    let brackets = line.chunks(255).map(sum).sum();
    if brackets <= DEPTH_LIMIT {
        brackets
    } else {
        depth(line)
    }
}

fn depth(line: &[u8]) -> usize {
    let (mut now, mut deepest) = (0_usize, 0);
    let (mut in_string, mut escaped) = (false, false);
    for &byte in line {
        match byte {
            _ if escaped => escaped = false,
            b'\\' if in_string => escaped = true,
            b'"' => in_string = !in_string,
            b'{' | b'[' if !in_string => {
                now += 1;
                deepest = deepest.max(now);
            }
            b'}' | b']' if !in_string => now = now.saturating_sub(1),
            _ => {}
        }
    }
    deepest
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stamp(at: &str) -> Stamp {
        Stamp {
            at: DateTime::parse_from_rfc3339(at).unwrap(),
            elapsed_ms: 81_200,
        }
    }

    #[test]
    fn a_line_reads_as_the_format_says() {
        let mut line = Vec::new();
        let payload = serde_json::json!({"note": "a \"b\" }\n{"});
        let crc = write(
            &mut line,
            7,
            3,
            stamp("2026-03-03T18:40:00+01:00"),
            "entry",
            &payload,
        );
        let crc = crc.unwrap();
        let text = String::from_utf8(line.clone()).unwrap();
        let rest = r#""v":1,"n":3,"at":"2026-03-03T18:40:00+01:00","ms":81200,"k":"entry","e":{"note":"a \"b\" }\n{"}}"#;
        assert_eq!(text, format!("{{\"c\":\"{crc:08x}\",{rest}\n"));
        let line = line.strip_suffix(b"\n").unwrap();
        let (read_crc, envelope) = read(line, 7, LINE_LIMIT).unwrap();
        assert_eq!(
            (read_crc, envelope.n, envelope.v, envelope.opt),
            (crc, 3, 1, false)
        );
        assert_eq!(envelope.e.unwrap(), payload.to_string());
        assert_eq!(read(line, 8, LINE_LIMIT).err(), Some(Damage::Checksum));
    }

    #[test]
    fn the_checksum_is_the_crc_32_of_the_standard() {
        // The check value of CRC-32/ISO-HDLC for "123456789", as the catalogue of parametrised CRC
        // algorithms gives it; here the first four bytes stand in the place of the line before.
        assert_eq!(
            checksum(u32::from_be_bytes(*b"1234"), b"56789"),
            0xCBF4_3926
        );
    }

    #[test]
    fn depth_counts_brackets_outside_of_strings() {
        for (text, deepest) in [
            ("{}", 1),
            (r#"{"[[[\"[[":[1]}"#, 2),
            ("[[[", 3),
            ("]][", 1),
            ("", 0),
        ] {
            assert_eq!(depth(text.as_bytes()), deepest, "{text}");
        }
    }

    #[test]
    fn a_clock_that_is_ten_thousand_years_out_still_writes_a_line_that_reads_back() {
        let far = chrono::DateTime::<chrono::Utc>::MAX_UTC.fixed_offset();
        let near = DateTime::<chrono::Utc>::MIN_UTC.fixed_offset();
        for at in [
            far,
            near,
            stamp("0000-01-01T00:00:00+12:00").at,
            stamp("9999-12-31T23:59:59-12:00").at,
        ] {
            let mut line = Vec::new();
            let stamp = Stamp {
                at,
                elapsed_ms: u64::MAX,
            };
            write(&mut line, 0, 0, stamp, "entry", &1).unwrap();
            let line = line.strip_suffix(b"\n").unwrap();
            assert!(read(line, 0, LINE_LIMIT).is_ok(), "{at}");
        }
    }
}
