//! The one form in which lines are written here, read without looking for any other: a long dressing
//! is thousands of such lines, and each start reads them all. Owns a shortcut and nothing else: what
//! it does not know at sight it leaves to the reader that knows every form.
//!
//! Invariant, held by a test: what is read here is what that reader reads.

use chrono::{DateTime, FixedOffset, NaiveDate};

/// What a line says about itself, read at sight.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Frame<'a> {
    pub v: u32,
    pub n: u64,
    pub at: DateTime<FixedOffset>,
    pub ms: u64,
    pub k: &'a str,
    /// What stands where the payload belongs; nobody has looked whether it is JSON.
    pub e: &'a str,
}

/// `"v":1,"n":7,"at":"...","ms":81200,"k":"entry","e":...}`, as it stands behind the checksum.
pub(super) fn frame(rest: &str) -> Option<Frame<'_>> {
    let (v, rest) = number(rest.strip_prefix("\"v\":")?)?;
    let (n, rest) = number(rest.strip_prefix(",\"n\":")?)?;
    let (at, rest) = rest.strip_prefix(",\"at\":\"")?.split_once('"')?;
    let (ms, rest) = number(rest.strip_prefix(",\"ms\":")?)?;
    let (k, rest) = rest.strip_prefix(",\"k\":\"")?.split_once('"')?;
    let plain = k.bytes().all(|b| b.is_ascii_lowercase() || b == b'-');
    let e = rest.strip_prefix(",\"e\":")?.strip_suffix('}')?;
    Some(Frame {
        v: u32::try_from(v).ok()?,
        n,
        at: time(at)?,
        ms,
        k: plain.then_some(k)?,
        e,
    })
}

/// Digits as JSON allows them for a whole number, and what follows them.
pub(super) fn number(text: &str) -> Option<(u64, &str)> {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let (digits, rest) = text.split_at_checked(digits)?;
    // a zero in front is no number in JSON
    if digits.len() > 1 && digits.starts_with('0') {
        return None;
    }
    Some((digits.parse().ok()?, rest))
}

/// `2026-03-03T18:40:00+01:00`, with up to nine digits of a second's parts.
fn time(text: &str) -> Option<DateTime<FixedOffset>> {
    let (whole, rest) = text.split_at_checked(19)?;
    let marks = [(4, b'-'), (7, b'-'), (10, b'T'), (13, b':'), (16, b':')];
    let bytes = whole.as_bytes();
    if marks.iter().any(|(at, mark)| bytes.get(*at) != Some(mark)) {
        return None;
    }
    let part = |from: usize, to: usize| digits(bytes.get(from..to)?);
    let date = NaiveDate::from_ymd_opt(part(0, 4)?.cast_signed(), part(5, 7)?, part(8, 10)?)?;
    let (nanos, zone) = parts_of_a_second(rest)?;
    let local = date.and_hms_nano_opt(part(11, 13)?, part(14, 16)?, part(17, 19)?, nanos)?;
    local.and_local_timezone(offset(zone)?).single()
}

fn parts_of_a_second(text: &str) -> Option<(u32, &str)> {
    let Some(rest) = text.strip_prefix('.') else {
        return Some((0, text));
    };
    let count = rest.bytes().take_while(u8::is_ascii_digit).count();
    let (parts, zone) = rest.split_at_checked(count)?;
    let places = u32::try_from(count)
        .ok()
        .filter(|count| (1..=9).contains(count))?;
    Some((digits(parts.as_bytes())? * 10_u32.pow(9 - places), zone))
}

/// `+01:00`: hours and minutes east of Greenwich; none of both is written `Z`.
fn offset(text: &str) -> Option<FixedOffset> {
    if text == "Z" {
        return FixedOffset::east_opt(0);
    }
    let (sign, text) = match text.split_at_checked(1)? {
        ("+", text) => (1, text.as_bytes()),
        ("-", text) => (-1, text.as_bytes()),
        _ => return None,
    };
    let (hours, minutes) = (digits(text.get(..2)?)?, digits(text.get(3..)?)?);
    let shaped = text.len() == 5 && text.get(2) == Some(&b':') && hours < 24 && minutes < 60;
    let seconds = (hours * 3600 + minutes * 60).cast_signed();
    FixedOffset::east_opt(shaped.then_some(sign * seconds)?)
}

/// Nine digits at the most.
fn digits(bytes: &[u8]) -> Option<u32> {
    let few = (1..=9).contains(&bytes.len());
    let mut all = bytes.iter().filter(|_| few);
    let sum = all.try_fold(0, |sum: u32, b| {
        b.is_ascii_digit().then(|| sum * 10 + u32::from(b - b'0'))
    });
    sum.filter(|_| few)
}

#[cfg(test)]
mod tests {
    use super::super::line::{LINE_LIMIT, Stamp, looks_good, read_again, write};
    use super::*;
    use chrono::TimeZone;
    use proptest::prelude::*;

    fn any_stamp() -> impl Strategy<Value = Stamp> {
        let seconds = -40_000_000_000_i64..200_000_000_000;
        let nanos = prop_oneof![
            Just(0),
            0_u32..1_000_000_000,
            (0_u32..1000).prop_map(|ms| ms * 1_000_000)
        ];
        let minutes = -14 * 60..=14 * 60;
        (seconds, nanos, minutes, any::<u64>()).prop_map(|(s, nanos, minutes, elapsed_ms)| {
            let zone = FixedOffset::east_opt(minutes * 60).unwrap();
            let at = zone.timestamp_opt(s, nanos).unwrap();
            Stamp { at, elapsed_ms }
        })
    }

    /// A line as it is written, without its line end.
    fn written(stamp: Stamp, number: u64, payload: &serde_json::Value) -> String {
        let mut line = Vec::new();
        write(&mut line, 7, number, stamp, "entry", payload).unwrap();
        String::from_utf8(line).unwrap().trim_end().to_owned()
    }

    /// The line as the reader of every form has it: a blank before a number keeps the shortcut away.
    fn in_another_form(line: &str) -> Option<String> {
        let spaced = line.replacen("\"v\":", "\"v\": ", 1);
        (spaced != line).then_some(spaced)
    }

    fn any_payload() -> impl Strategy<Value = serde_json::Value> {
        prop_oneof![
            Just(serde_json::Value::Null),
            "[ -~é\\n]{0,12}".prop_map(Into::into),
            any::<i32>().prop_map(|n| serde_json::json!([{"t": "marked", "n": n}])),
        ]
    }

    proptest! {
        #[test]
        fn every_line_that_is_written_is_known_at_sight(
            stamp in any_stamp(),
            number in any::<u64>(),
            payload in any_payload(),
        ) {
            let line = written(stamp, number, &payload);
            let frame = frame(&line[16..]).unwrap();
            prop_assert_eq!((frame.v, frame.n, frame.ms), (1, number, stamp.elapsed_ms));
            prop_assert_eq!((frame.at, frame.k), (super::super::line::writable(stamp.at), "entry"));
            prop_assert_eq!(frame.e, payload.to_string());
        }

        /// Whatever stands there, it is read as the reader of every form reads it.
        #[test]
        fn what_is_read_at_sight_is_what_the_other_reader_reads(
            stamp in any_stamp(),
            payload in any_payload(),
            changes in prop::collection::vec((16_usize..140, "[ -~é]{0,2}", 0_usize..3), 0..3),
        ) {
            let mut line = written(stamp, 12, &payload);
            for (place, put, taken) in changes {
                let place = place.min(line.len());
                let end = (place + taken).min(line.len());
                if line.is_char_boundary(place) && line.is_char_boundary(end) {
                    line.replace_range(place..end, &put);
                }
            }
            prop_assume!(line.len() <= LINE_LIMIT && frame(line.get(16..).unwrap_or("")).is_some());
            let other = in_another_form(&line).unwrap();
            prop_assert!(frame(&other[16..]).is_none());
            prop_assert_eq!(looks_good(line.as_bytes()), looks_good(other.as_bytes()));
            if looks_good(line.as_bytes()) {
                prop_assert_eq!(read_again(line.as_bytes()), read_again(other.as_bytes()));
            }
        }
    }

    #[test]
    fn times_are_read_as_the_standard_has_them() {
        for text in [
            "2026-03-03T18:40:00+01:00",
            "2026-03-03T18:40:00.5-11:30",
            "2024-02-29T23:59:59.123456789+00:00",
            "2026-11-25T08:00:00Z",
        ] {
            let read = DateTime::parse_from_rfc3339(text).unwrap();
            assert_eq!(time(text), Some(read), "{text}");
        }
        for left in [
            "2026-02-29T00:00:00+01:00",
            "2026-03-03T18:40:00",
            "2026-03-03 18:40:00+01:00",
            "2026-03-03T18:40:00+0100",
            "2026-03-03T18:40:00.+01:00",
            "2026-03-03T18:40:00.1234567890+01:00",
            "2026-03-03T24:00:00+01:00",
            "2026-03-03T18:40:00+24:00",
            "+026-03-03T18:40:00+01:00",
            "2026-03-03T18:40:00+01:0é",
        ] {
            assert_eq!(time(left), None, "{left}");
        }
    }

    #[test]
    fn numbers_are_those_of_json() {
        assert_eq!(number("0,"), Some((0, ",")));
        assert_eq!(number("18446744073709551615"), Some((u64::MAX, "")));
        for none in ["", "01", "-1", "18446744073709551616", "x"] {
            assert_eq!(number(none), None, "{none}");
        }
    }
}
