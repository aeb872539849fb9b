//! A whole file read once: its header, its good lines, where they end and why. Owns the tail rule;
//! never changes a byte and never knows whether the file may be written.
//!
//! Bytes after the last good line that hold no good-looking line are a torn tail: a write that a
//! power cut broke off. A good-looking line among them means that something else was changed.

use super::error::Damage;
use super::line::{self, Envelope, HEADER_LIMIT, LINE_LIMIT, LINES_LIMIT, Stamp, VERSION};
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use std::borrow::Cow;

/// The kind of the first line.
pub(super) const HEADER_KIND: &str = "header";
/// What the header says that the file is.
pub(super) const FORMAT: &str = "endsmeet dressing";

/// The payload of the first line. The id stands before the plan, so that the first few hundred
/// bytes of a file tell whose copy it is.
#[derive(Serialize, Deserialize)]
pub(super) struct HeaderBody<'a, P> {
    #[serde(borrow)]
    pub format: Cow<'a, str>,
    pub version: u32,
    pub oldest_reader: u32,
    #[serde(borrow)]
    pub id: Cow<'a, str>,
    #[serde(borrow)]
    pub title: Cow<'a, str>,
    #[serde(borrow)]
    pub method: Cow<'a, str>,
    pub plan: P,
}

/// The first line, read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Header {
    /// The format that it was written in.
    pub version: u32,
    /// 32 hexadecimal digits, drawn when the dressing was begun; a copy has the same.
    pub id: String,
    /// The dressing's title.
    pub title: String,
    /// The fingerprint of the method that it was begun with.
    pub method: String,
    /// The resolved plan, as JSON.
    pub plan: String,
    /// When it was begun.
    pub began: Stamp,
}

/// One line after the header.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Line<'a> {
    /// Its number, from 1; lines of a kind that may be skipped count too.
    pub number: u64,
    /// When it was written.
    pub stamp: Stamp,
    /// Its kind, one of those that the reader knows.
    pub kind: &'static str,
    /// Its payload, as JSON; `null` where it has none.
    pub payload: &'a str,
}

/// The good lines of a file, without the header and without those that may be skipped. Only their
/// bytes are kept; a line is read once more when it is asked for.
#[derive(Debug, Default)]
pub struct Lines {
    bytes: Vec<u8>,
    /// The bytes of the header with its line end.
    header: usize,
    /// The bytes of the good lines and the header.
    good: usize,
    known: Vec<&'static str>,
    count: usize,
}

impl Lines {
    /// How many there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.count
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.count == 0
    }

    /// Each line, in the order of the file.
    pub fn iter(&self) -> impl Iterator<Item = Line<'_>> {
        let mut rest = self.bytes.get(self.header..self.good).unwrap_or_default();
        let lines = std::iter::from_fn(move || {
            let end = line::line_end(rest).unwrap_or(rest.len());
            let (line, after) = rest.split_at_checked(end)?;
            rest = after.get(1..).unwrap_or_default();
            (!line.is_empty()).then_some(line)
        });
        lines.filter_map(|line| {
            let envelope = line::read_again(line)?;
            Some(Line {
                number: envelope.n,
                stamp: stamp(&envelope),
                kind: understood(&envelope, &self.known)?,
                payload: envelope.e.unwrap_or("null"),
            })
        })
    }

    /// The bytes of the file.
    pub(super) fn bytes(&self) -> &[u8] {
        &self.bytes
    }
}

/// How the good lines end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum End {
    /// With the file.
    Clean,
    /// With the file, whose last line is whole and lacks only its line end.
    Unended,
    /// Before bytes that hold no good-looking line.
    Torn,
    /// Before a line that is damaged.
    Damaged { at_line: u64, reason: Damage },
    /// Before a line that a newer version wrote and that must be understood.
    Newer { at_line: u64 },
}

/// A file, read.
#[derive(Debug)]
pub(super) struct Scan {
    pub header: Header,
    pub lines: Lines,
    /// The bytes of the good lines.
    pub good: usize,
    /// The CRC of the last good line.
    pub crc: u32,
    /// The number of the line that comes next.
    pub next: u64,
    pub end: End,
}

/// Why there is nothing to show.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Unreadable {
    /// The first line is no header.
    Header(Damage),
    /// The header asks for a newer reader.
    Newer { needs: u32 },
}

/// Reads the bytes of a file. Kinds of line that are not `known` are skipped where they say that
/// they may be, and end the reading where they do not.
pub(super) fn scan(bytes: Vec<u8>, known: &[&'static str]) -> Result<Scan, Unreadable> {
    match changed_as_a_whole(&bytes) {
        None => walk(bytes, known),
        Some((reason, mended)) => match walk(mended, known) {
            Ok(scan) => Ok(Scan {
                end: End::Damaged { at_line: 1, reason },
                ..scan
            }),
            Err(Unreadable::Header(_)) => Err(Unreadable::Header(reason)),
            Err(newer) => Err(newer),
        },
    }
}

/// Some programs put a byte order mark in front of a text or change all its line ends. The lines
/// are still good when that is taken back, but the file is not what was written.
fn changed_as_a_whole(bytes: &[u8]) -> Option<(Damage, Vec<u8>)> {
    let marked = bytes.strip_prefix(b"\xEF\xBB\xBF");
    let text = marked.unwrap_or(bytes);
    let first_end = text.iter().position(|&b| b == b'\n');
    let returns = first_end.is_some_and(|end| text.get(..end).is_some_and(|l| l.ends_with(b"\r")));
    match (marked.is_some(), returns) {
        (false, false) => None,
        (true, false) => Some((Damage::ByteOrderMark, text.to_vec())),
        (_, true) => {
            let lines = text.split(|&b| b == b'\n');
            let lines: Vec<_> = lines.map(|l| l.strip_suffix(b"\r").unwrap_or(l)).collect();
            Some((Damage::CarriageReturns, lines.join(&b'\n')))
        }
    }
}

fn walk(bytes: Vec<u8>, known: &[&'static str]) -> Result<Scan, Unreadable> {
    let (first, whole) = first_line(&bytes).map_err(Unreadable::Header)?;
    let (crc, header) = read_header(first)?;
    let mut walk = Walk {
        bytes: &bytes,
        known,
        count: 0,
        good: first.len() + usize::from(whole),
        crc,
        next: 1,
    };
    let end = if whole {
        walk.all_lines()
    } else {
        End::Unended
    };
    let Walk {
        count,
        good,
        crc,
        next,
        ..
    } = walk;
    let lines = Lines {
        header: first.len() + usize::from(whole),
        good,
        known: known.to_vec(),
        count,
        bytes,
    };
    Ok(Scan {
        header,
        lines,
        good,
        crc,
        next,
        end,
    })
}

/// The first line without its line end, and whether it has one.
pub(super) fn first_line(bytes: &[u8]) -> Result<(&[u8], bool), Damage> {
    let within = bytes.get(..=HEADER_LIMIT).unwrap_or(bytes);
    match line::line_end(within) {
        Some(end) => Ok((bytes.get(..end).unwrap_or_default(), true)),
        None if bytes.len() <= HEADER_LIMIT => Ok((bytes, false)),
        None => Err(Damage::TooLong {
            bytes: bytes.len(),
            limit: HEADER_LIMIT,
        }),
    }
}

/// Reads the first line, its line end left out.
pub(super) fn read_header(first: &[u8]) -> Result<(u32, Header), Unreadable> {
    let bad = Unreadable::Header;
    let (crc, envelope) = line::read(first, 0, HEADER_LIMIT).map_err(bad)?;
    let began = stamp(&envelope);
    let payload = envelope
        .e
        .filter(|_| envelope.k == HEADER_KIND && envelope.n == 0);
    let payload = payload.ok_or(bad(Damage::NoHeader))?;
    let needs = serde_json::from_str::<OldestReader>(payload);
    let needs = needs.map_err(|_| bad(Damage::NoHeader))?.oldest_reader;
    if needs > VERSION {
        return Err(Unreadable::Newer { needs });
    }
    let body = serde_json::from_str::<HeaderBody<'_, &RawValue>>(payload);
    let body = body.map_err(|_| bad(Damage::NoHeader))?;
    if body.format != FORMAT {
        return Err(bad(Damage::NoHeader));
    }
    let header = Header {
        version: body.version,
        id: body.id.into_owned(),
        title: crate::quantity::harmless(&body.title),
        method: body.method.into_owned(),
        plan: body.plan.get().to_owned(),
        began,
    };
    Ok((crc, header))
}

/// Read first, since nothing else of a newer header need be as it is now.
#[derive(Deserialize)]
struct OldestReader {
    oldest_reader: u32,
}

fn stamp(envelope: &Envelope<'_>) -> Stamp {
    Stamp {
        at: envelope.at,
        elapsed_ms: envelope.ms,
    }
}

/// The kind of a line, where the reader knows it and the line asks for no newer version.
fn understood(envelope: &Envelope<'_>, known: &[&'static str]) -> Option<&'static str> {
    let kind = known.iter().find(|kind| **kind == envelope.k)?;
    (envelope.v <= VERSION).then_some(*kind)
}

struct Walk<'a> {
    bytes: &'a [u8],
    known: &'a [&'static str],
    count: usize,
    good: usize,
    crc: u32,
    next: u64,
}

/// What one line turned out to be.
enum Step {
    Good,
    Bad(Damage),
    Newer,
}

impl Walk<'_> {
    fn all_lines(&mut self) -> End {
        loop {
            let rest = self.bytes.get(self.good..).unwrap_or_default();
            if rest.is_empty() {
                return End::Clean;
            }
            let line_end = line::line_end(rest);
            let line = rest
                .get(..line_end.unwrap_or(rest.len()))
                .unwrap_or_default();
            match self.step(line) {
                Step::Good => {}
                Step::Bad(reason) => return self.tail(rest, reason),
                Step::Newer => {
                    return End::Newer {
                        at_line: self.next + 1,
                    };
                }
            }
            if line_end.is_none() {
                self.good += line.len();
                return End::Unended;
            }
            self.good += line.len() + 1;
        }
    }

    fn step(&mut self, line: &[u8]) -> Step {
        let (crc, envelope) = match line::read(line, self.crc, LINE_LIMIT) {
            Ok(good) => good,
            Err(reason) => return Step::Bad(reason),
        };
        if self.next > LINES_LIMIT {
            return Step::Bad(Damage::TooMany);
        }
        if envelope.n != self.next {
            return Step::Bad(Damage::Number {
                found: envelope.n,
                expected: self.next,
            });
        }
        match understood(&envelope, self.known) {
            Some(_) => self.count += 1,
            None if envelope.opt => {}
            None => return Step::Newer,
        }
        self.crc = crc;
        self.next += 1;
        Step::Good
    }

    /// The tail rule.
    fn tail(&self, rest: &[u8], reason: Damage) -> End {
        if rest.split(|&b| b == b'\n').any(line::looks_good) {
            End::Damaged {
                at_line: self.next + 1,
                reason,
            }
        } else {
            End::Torn
        }
    }
}
