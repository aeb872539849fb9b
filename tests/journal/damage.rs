//! Files that were changed, cut or put together anew: no changed byte is ever taken for a line that
//! was written, and whatever is still good is shown.

use super::broken::{Broken, Way, sealed_anew};
use super::common::count::{Row, trials};
use super::mem::{Dice, MemDisk};
use super::{KNOWN, add, expected, file, folder, go_on, told, whole};
use endsmeet::journal::{
    Access, AppendError, Damage, Disk, Journal, OpenError, ReadOnly, Rights, State, salvage,
};
use std::sync::Arc;

const LINES: u64 = 6;

fn disk_with(bytes: &[u8]) -> (MemDisk, Arc<dyn Disk>) {
    let memory = MemDisk::new(7);
    memory.put(&file(), bytes);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    (memory, disk)
}

/// Where each line of the bytes ends, its line end included.
fn line_ends(bytes: &[u8]) -> Vec<usize> {
    let ends = bytes.iter().enumerate().filter(|(_, b)| **b == b'\n');
    ends.map(|(at, _)| at + 1).collect()
}

/// Opens the bytes and says how many lines they tell, after checking that those are true ones.
/// The file may only have lost bytes that are in a copy.
fn lines_told(bytes: &[u8]) -> (u64, Option<State>) {
    let (memory, disk) = disk_with(bytes);
    let opened = match go_on(&disk, &file()) {
        Ok(opened) => opened,
        Err(_) => {
            assert_eq!(
                memory.bytes(&file()).unwrap(),
                bytes,
                "the file is left as it is"
            );
            return (0, None);
        }
    };
    let told = told(&opened);
    assert_eq!(told, expected(told.len() as u64), "only what was written");
    match &opened.state {
        State::TornTail { set_aside, .. } => {
            let both = [
                memory.bytes(&file()).unwrap(),
                memory.bytes(set_aside).unwrap(),
            ]
            .concat();
            assert_eq!(both, bytes, "what was cut is in the copy");
        }
        State::Clean => assert!(memory.bytes(&file()).unwrap().starts_with(bytes)),
        _ => assert_eq!(
            memory.bytes(&file()).unwrap(),
            bytes,
            "the file is left as it is"
        ),
    }
    (told.len() as u64, Some(opened.state))
}

#[test]
fn a_file_that_is_cut_at_any_byte_tells_the_lines_before_the_cut() {
    let bytes = whole(LINES);
    let ends = line_ends(&bytes);
    let row = Row::begin("cut at every byte");
    for cut in 0..=bytes.len() {
        let (told, state) = lines_told(&bytes[..cut]);
        // A line that lacks only its line end is whole.
        let whole = ends.iter().filter(|end| **end <= cut + 1).count() as u64;
        assert_eq!(told, whole.saturating_sub(1), "cut at {cut}");
        let clean = ends.iter().any(|end| *end == cut || *end == cut + 1);
        match state {
            None => assert_eq!(whole, 0, "cut at {cut}"),
            Some(state) => assert_eq!(state == State::Clean, clean, "cut at {cut}: {state:?}"),
        }
    }
    row.done(bytes.len() as u64 + 1, "");
}

#[test]
fn a_flipped_bit_is_never_accepted() {
    let bytes = whole(LINES);
    let ends = line_ends(&bytes);
    let row = Row::begin("every bit flipped");
    for bit in 0..bytes.len() * 8 {
        let mut changed = bytes.clone();
        changed[bit / 8] ^= 1 << (bit % 8);
        let before = ends.iter().filter(|end| **end <= bit / 8).count() as u64;
        let (told, state) = lines_told(&changed);
        assert_eq!(told, before.saturating_sub(1), "bit {bit}: {state:?}");
        assert_ne!(state, Some(State::Clean), "bit {bit}");
    }
    row.done(bytes.len() as u64 * 8, "");
}

/// The first flipped bit that a broken store takes for what was written.
pub fn a_changed_byte_is_accepted(way: Way, from: u64) -> Option<u64> {
    let bytes = whole(LINES);
    let mut dice = Dice::new(from);
    (from..from + 2_000).find(|_| {
        let bit = dice.below(bytes.len() as u64 * 8) as usize;
        let mut changed = bytes.clone();
        changed[bit / 8] ^= 1 << (bit % 8);
        let memory = MemDisk::new(7);
        memory.put(&file(), &changed);
        let disk: Arc<dyn Disk> = Arc::new(Broken {
            disk: Arc::new(memory),
            way,
        });
        let opened = Journal::open(&disk, &file(), Access::GoOn, KNOWN);
        opened.is_ok_and(|opened| {
            let lines = opened.lines.iter();
            let told: Vec<_> = lines
                .map(|line| serde_json::from_str(line.payload).ok())
                .collect();
            told.len() as u64 == LINES
                && told != expected(LINES).into_iter().map(Some).collect::<Vec<_>>()
        })
    })
}

/// The bytes as they are judged: carriage returns at line ends are set aside where the first line has one.
fn without_returns(bytes: &[u8]) -> Vec<u8> {
    let first = bytes.split(|&b| b == b'\n').next().unwrap_or_default();
    if !first.ends_with(b"\r") {
        return bytes.to_vec();
    }
    let lines = bytes.split(|&b| b == b'\n');
    let lines: Vec<_> = lines
        .map(|line| line.strip_suffix(b"\r").unwrap_or(line))
        .collect();
    lines.join(&b'\n')
}

/// One byte that makes the first line end as another system's does: told, and never written to.
#[test]
fn a_return_at_the_first_lines_end_opens_as_damaged() {
    let bytes = whole(LINES);
    let end = line_ends(&bytes)[0] - 1;
    let mut changed = bytes.clone();
    changed.insert(end, b'\r');
    let (told, state) = lines_told(&changed);
    assert_eq!(told, LINES);
    assert!(matches!(state, Some(State::Damaged { .. })), "{state:?}");
    assert_eq!(without_returns(&changed), bytes);
}

#[test]
fn bytes_that_are_changed_at_random_are_never_accepted() {
    let bytes = whole(LINES);
    let ends = line_ends(&bytes);
    let mut dice = Dice::new(11);
    let row = Row::begin("bytes changed at random");
    let wanted = trials(20_000, 300_000, 10_000_000);
    for _ in 0..wanted {
        let mut changed = bytes.clone();
        for _ in 0..=dice.below(4) {
            let at = dice.below(changed.len() as u64) as usize;
            let byte = dice.roll() as u8;
            match dice.below(4) {
                0 => changed[at] = byte,
                1 => changed.insert(at, byte),
                2 => drop(changed.remove(at)),
                _ => changed.truncate(at.max(9)),
            }
        }
        // where only the first line's end became another system's, the lines are told and the file is
        // opened as damaged: the test of changed line ends asks for that
        let seen = without_returns(&changed);
        let same = seen.iter().zip(&bytes).take_while(|(a, b)| a == b).count();
        let before = ends.iter().filter(|end| **end <= same + 1).count() as u64;
        let (told, _) = lines_told(&changed);
        assert!(
            told <= before.saturating_sub(1),
            "{}",
            String::from_utf8_lossy(&changed)
        );
    }
    row.done(wanted, "");
}

fn line(bytes: &[u8], number: usize) -> Vec<u8> {
    bytes
        .split_inclusive(|&b| b == b'\n')
        .nth(number)
        .unwrap()
        .to_vec()
}

/// The file with its lines in another order; line 0 is the header.
fn reordered(bytes: &[u8], order: &[usize]) -> Vec<u8> {
    order
        .iter()
        .flat_map(|number| line(bytes, *number))
        .collect()
}

#[test]
fn doubled_swapped_lost_and_spliced_lines_are_damage_and_the_file_is_left_alone() {
    let bytes = whole(LINES);
    for (order, told, at_line) in [
        (&[0, 1, 2, 2, 3, 4, 5, 6][..], 2, 4),
        (&[0, 1, 3, 2, 4, 5, 6], 1, 3),
        (&[0, 1, 2, 4, 5, 6], 2, 4),
        (&[0, 2, 3, 4, 5, 6], 0, 2),
        (&[0, 1, 2, 3, 4, 6], 4, 6),
        (&[0, 1, 2, 3, 4, 5, 6, 6], 6, 8),
        (&[0, 1, 2, 3, 4, 5, 6, 0], 6, 8),
    ] {
        let state = lines_told(&reordered(&bytes, order));
        let reason = Damage::Checksum;
        assert_eq!(
            state,
            (told, Some(State::Damaged { at_line, reason })),
            "{order:?}"
        );
    }
    let other = whole(LINES);
    let spliced = [
        line(&bytes, 0),
        line(&bytes, 1),
        line(&other, 2),
        line(&bytes, 3),
    ]
    .concat();
    let (told, state) = lines_told(&spliced);
    assert_eq!(told, 1);
    assert!(
        matches!(state, Some(State::Damaged { at_line: 3, .. })),
        "{state:?}"
    );
}

#[test]
fn a_tail_of_zeros_or_noise_is_set_aside() {
    let bytes = whole(LINES);
    let row = Row::begin("tails of zeros and noise");
    let mut dice = Dice::new(5);
    for size in (1..200).chain([511, 512, 4_095, 4_096, 70_000]) {
        let noise: Vec<u8> = (0..size).map(|_| dice.roll() as u8).collect();
        for tail in [vec![0; size], noise] {
            let (told, state) = lines_told(&[bytes.clone(), tail].concat());
            let bytes = size as u64;
            assert_eq!(told, LINES);
            assert!(
                matches!(state, Some(State::TornTail { bytes: b, .. }) if b == bytes),
                "{state:?}"
            );
        }
    }
    row.done(408, "");
}

#[test]
fn changed_line_ends_and_a_byte_order_mark_are_read_but_not_written_to() {
    let bytes = whole(LINES);
    let text = String::from_utf8(bytes.clone()).unwrap();
    let returns = text.replace('\n', "\r\n");
    for (changed, reason) in [
        (returns.clone(), Damage::CarriageReturns),
        (format!("\u{feff}{text}"), Damage::ByteOrderMark),
        (format!("\u{feff}{returns}"), Damage::CarriageReturns),
    ] {
        let state = State::Damaged { at_line: 1, reason };
        assert_eq!(lines_told(changed.as_bytes()), (LINES, Some(state)));
        let (memory, disk) = disk_with(changed.as_bytes());
        let copy = salvage(
            disk.as_ref(),
            &file(),
            &folder(),
            Rights::Umask,
            KNOWN,
            None,
        )
        .unwrap();
        let saved = memory.bytes(&copy).unwrap();
        let after_header = |bytes: &[u8]| bytes.split(|&b| b == b'\n').count();
        assert_eq!(after_header(&saved), after_header(&bytes));
        let opened = go_on(&disk, &copy).unwrap();
        assert_eq!(
            (&opened.state, told(&opened)),
            (&State::Clean, expected(LINES))
        );
    }
}

#[test]
fn a_damaged_file_opens_read_only_and_its_clean_part_is_saved_as_a_copy() {
    let mut bytes = whole(LINES);
    let at = line_ends(&bytes)[3] + 30;
    bytes[at] ^= 4;
    let (memory, disk) = disk_with(&bytes);
    let mut opened = go_on(&disk, &file()).unwrap();
    let damaged = ReadOnly::Damaged {
        at_line: 5,
        reason: Damage::Checksum,
    };
    assert_eq!(opened.journal.read_only(), Some(&damaged));
    assert_eq!(
        add(&mut opened.journal, 4),
        Err(AppendError::ReadOnly(damaged))
    );
    let copy = salvage(
        disk.as_ref(),
        &file(),
        &folder(),
        Rights::Umask,
        KNOWN,
        None,
    )
    .unwrap();
    assert_eq!(copy, folder().join("hall-runner-salvaged.jsonl"));
    let mut salvaged = go_on(&disk, &copy).unwrap();
    assert_eq!(
        (&salvaged.state, told(&salvaged)),
        (&State::Clean, expected(3))
    );
    assert_ne!(
        salvaged.header.id, opened.header.id,
        "the copy is a dressing of its own"
    );
    assert_eq!(salvaged.header.plan, opened.header.plan);
    assert!(salvaged.beside.is_empty());
    add(&mut salvaged.journal, 4).unwrap();
    assert_eq!(
        memory.bytes(&file()).unwrap(),
        bytes,
        "the file is left as it is"
    );
    let fewer = salvage(
        disk.as_ref(),
        &file(),
        &folder(),
        Rights::Umask,
        KNOWN,
        Some(2),
    )
    .unwrap();
    assert_eq!(fewer, folder().join("hall-runner-salvaged-2.jsonl"));
    assert_eq!(told(&go_on(&disk, &fewer).unwrap()), expected(2));
}

/// The file with one more line, whose checksum is right.
fn with_line(bytes: &[u8], rest: &str) -> Vec<u8> {
    let line = format!("{{\"c\":\"00000000\",{rest}\n");
    sealed_anew(&[bytes, line.as_bytes()].concat())
}

const WHEN: &str = r#""at":"2026-03-03T18:40:00+01:00","ms":1"#;

#[test]
fn lines_of_a_newer_version_are_skipped_where_they_may_be_and_end_the_reading_where_not() {
    let bytes = whole(2);
    let newer = |at_line| State::Newer { at_line };
    let entry = |v, n, opt| {
        format!(
            r#""v":{v},"n":{n},{WHEN},"k":"entry"{opt},"e":{}}}"#,
            super::payload(3)
        )
    };
    for (rest, lines, state) in [
        (
            format!(r#""v":1,"n":3,{WHEN},"k":"photo","e":{{"a":1}}}}"#),
            2,
            newer(4),
        ),
        (
            format!(r#""v":1,"n":3,{WHEN},"k":"photo","opt":true,"e":1}}"#),
            2,
            State::Clean,
        ),
        (
            format!(r#""v":9,"n":3,{WHEN},"k":"photo","opt":true}}"#),
            2,
            State::Clean,
        ),
        (entry(2, 3, ""), 2, newer(4)),
        (
            entry(1, 3, r#","colour":"of a later version""#),
            3,
            State::Clean,
        ),
    ] {
        let file = with_line(&bytes, &rest);
        assert_eq!(lines_told(&file), (lines, Some(state)), "{rest}");
    }
    let skipped = with_line(
        &bytes,
        &format!(r#""v":9,"n":3,{WHEN},"k":"photo","opt":true}}"#),
    );
    let (memory, disk) = disk_with(&skipped);
    let mut opened = go_on(&disk, &file()).unwrap();
    add(&mut opened.journal, 3).unwrap();
    drop(opened);
    assert!(
        memory.bytes(&file()).unwrap().starts_with(&skipped),
        "the skipped line is kept"
    );
    let opened = go_on(&disk, &file()).unwrap();
    assert_eq!((&opened.state, told(&opened)), (&State::Clean, expected(3)));
    assert_eq!(opened.lines.iter().last().unwrap().number, 4);
}

#[test]
fn a_header_that_needs_a_newer_reader_is_refused_in_one_sentence() {
    let text = String::from_utf8(whole(2)).unwrap();
    let newer = text.replacen("\"oldest_reader\":1", "\"oldest_reader\":3", 1);
    let (_, disk) = disk_with(&sealed_anew(newer.as_bytes()));
    let refused = go_on(&disk, &file()).unwrap_err();
    assert_eq!(
        refused,
        OpenError::Newer {
            path: file(),
            needs: 3
        }
    );
    assert_eq!(
        refused.to_string(),
        "/sessions/hall-runner.jsonl was made by a newer version of endsmeet: it needs format 3, and \
         this one knows 1. Open it with that version; it is left as it is"
    );
    let written_by_newer = text.replacen("\"version\":1", "\"version\":2", 1);
    assert_eq!(
        lines_told(&sealed_anew(written_by_newer.as_bytes())),
        (2, Some(State::Clean))
    );
}

#[test]
fn the_limits_hold_before_anything_is_parsed() {
    let bytes = whole(2);
    let entry = |e: &str| format!(r#""v":1,"n":3,{WHEN},"k":"entry","e":{e}}}"#);
    let deep = format!("{}{}", "[".repeat(16), "]".repeat(16));
    let long = format!("\"{}\"", "x".repeat(70_000));
    let number = format!(r#""v":1,"n":4,{WHEN},"k":"entry","e":1}}"#);
    for rest in [entry(&deep), entry(&long), number, entry("{"), entry("1 2")] {
        let (told, state) = lines_told(&with_line(&bytes, &rest));
        assert_eq!(told, 2);
        assert!(
            matches!(state, Some(State::TornTail { .. } | State::Damaged { .. })),
            "{state:?}"
        );
    }
    for bomb in [
        "[".repeat(1 << 20),
        "{\"c\":\"".repeat(100_000),
        "\n".repeat(100_000),
    ] {
        let (told, state) = lines_told(&[bytes.as_slice(), bomb.as_bytes()].concat());
        assert_eq!(told, 2);
        assert!(matches!(state, Some(State::TornTail { .. })), "{state:?}");
    }
    let (_, disk) = disk_with(&bytes);
    let mut opened = go_on(&disk, &file()).unwrap();
    let line = "x".repeat(70_000);
    let refused = opened.journal.append(super::stamp(1), "entry", &line);
    assert!(matches!(refused, Err(AppendError::TooLong { bytes }) if bytes > 70_000));
    let nested: serde_json::Value = serde_json::from_str(&deep).unwrap();
    let refused = opened.journal.append(super::stamp(1), "entry", &nested);
    assert!(
        matches!(refused, Err(AppendError::Unfit { .. })),
        "{refused:?}"
    );
    add(&mut opened.journal, 3).unwrap();
    drop(opened);
    assert_eq!(told(&go_on(&disk, &file()).unwrap()), expected(3));
}

#[test]
fn a_file_that_is_no_dressing_is_said_to_be_none() {
    for (bytes, reason) in [
        (&b"{\"hello\": 1}\n"[..], Damage::Shape),
        (b"\x00\x00\x00\x00", Damage::Nul),
        (b"\xFF\xFE{\x00", Damage::Nul),
        (b"\n", Damage::Shape),
        (b"{\"c\":\"00000000\",}\n", Damage::Checksum),
    ] {
        let (_, disk) = disk_with(bytes);
        let refused = go_on(&disk, &file()).unwrap_err();
        assert_eq!(
            refused,
            OpenError::NoHeader {
                path: file(),
                reason
            }
        );
    }
    let text = String::from_utf8(whole(1)).unwrap();
    let other = sealed_anew(
        text.replacen("endsmeet dressing", "another format", 1)
            .as_bytes(),
    );
    let (_, disk) = disk_with(&other);
    let refused = go_on(&disk, &file()).unwrap_err();
    assert!(matches!(
        refused,
        OpenError::NoHeader {
            reason: Damage::NoHeader,
            ..
        }
    ));
}
