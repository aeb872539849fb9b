//! Errors of the disk at every call, once and from then on, and a disk that is full at every byte:
//! nothing moves, nothing that was acknowledged is lost, and it goes on when the disk does.

use super::common::count::{Row, trials};
use super::mem::MemDisk;
use super::{KNOWN, add, begin, expected, file, folder, go_on, told, whole};
use endsmeet::journal::{AppendError, CreateError, Disk, OpenError, Rights, State, salvage};
use std::sync::Arc;

/// ENOSPC, EDQUOT, EIO, EROFS, EACCES, EMFILE, EINTR, ENOENT as Linux numbers them.
const CODES: [i32; 8] = [28, 122, 5, 30, 13, 24, 4, 2];

/// What was said of the new dressing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Begun {
    Yes,
    No,
    /// It could be neither confirmed nor removed.
    Perhaps,
}

/// Begins, presses, stops, opens a torn file, presses, salvages. Returns how many lines were
/// acknowledged and whether the dressing was begun.
fn session(disk: &Arc<dyn Disk>, memory: &MemDisk) -> (Begun, u64, u64) {
    let (mut lines, mut tried) = (0, 0);
    let mut press = |journal: &mut endsmeet::journal::Journal, most: u64| {
        for _ in 0..most {
            tried = lines + 1;
            match add(journal, lines + 1) {
                Ok(()) => lines += 1,
                Err(AppendError::NotSaved(_)) => {}
                Err(AppendError::ReadOnly(_)) => break,
                Err(other) => panic!("{other}"),
            }
        }
    };
    let begun = match begin(disk, &folder()) {
        Ok(mut journal) => {
            press(&mut journal, 4);
            Begun::Yes
        }
        Err(CreateError::Left { .. }) => Begun::Perhaps,
        Err(_) => Begun::No,
    };
    if begun == Begun::Yes && memory.bytes(&file()).is_some() {
        memory.grow(&file(), b"{\"c\":\"0123");
    }
    if let Ok(mut opened) = go_on(disk, &file()) {
        press(&mut opened.journal, 3);
    }
    let _ = salvage(
        disk.as_ref(),
        &file(),
        &folder(),
        Rights::Umask,
        KNOWN,
        None,
    );
    (begun, lines, tried)
}

fn afterwards(disk: &Arc<dyn Disk>, begun: Begun, lines: u64, tried: u64) -> Result<(), String> {
    match (begun, go_on(disk, &file())) {
        (Begun::No | Begun::Perhaps, Err(OpenError::Missing { .. })) => {
            return begin(disk, &folder()).map(drop).map_err(|e| e.to_string());
        }
        (Begun::No, other) => return Err(format!("{other:?} where nothing was begun")),
        (Begun::Yes | Begun::Perhaps, _) => {}
    }
    let mut opened = go_on(disk, &file()).map_err(|e| e.to_string())?;
    let shown = opened.lines.len() as u64;
    if told(&opened) != expected(shown) || shown < lines || shown > tried {
        return Err(format!("{shown} lines where {lines} were acknowledged"));
    }
    if !matches!(opened.state, State::Clean | State::TornTail { .. }) {
        return Err(format!("{:?} on a disk that works", opened.state));
    }
    add(&mut opened.journal, shown + 1).map_err(|e| e.to_string())?;
    drop(opened);
    let opened = go_on(disk, &file()).map_err(|e| e.to_string())?;
    if told(&opened) == expected(shown + 1) {
        Ok(())
    } else {
        Err("another line".to_owned())
    }
}

#[test]
fn an_error_at_any_call_once_or_from_then_on_loses_nothing() {
    let memory = MemDisk::new(1);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    session(&disk, &memory);
    let calls = memory.calls();
    let row = Row::begin("an error at every call, once and for ever");
    let mut tried = 0;
    for seed in 0..trials(1, 3, 1_000) {
        for (at, forever, code) in (1..=calls).flat_map(|at| {
            CODES
                .iter()
                .flat_map(move |code| [(at, false, *code), (at, true, *code)])
        }) {
            let memory = MemDisk::new(seed);
            let disk: Arc<dyn Disk> = Arc::new(memory.clone());
            memory.fail_in(at, forever, code);
            let (begun, lines, last) = session(&disk, &memory);
            memory.no_more_faults();
            memory.kill();
            let sound = afterwards(&disk, begun, lines, last);
            assert_eq!(
                sound,
                Ok(()),
                "call {at}, for ever: {forever}, error {code}, seed {seed}"
            );
            tried += 1;
        }
    }
    row.done(tried, &format!(", at each of {calls} calls"));
}

#[test]
fn an_error_while_a_crash_is_recovered_from_loses_nothing() {
    let row = Row::begin("an error during recovery from a crash");
    let wanted = trials(2_000, 2_000, 200_000);
    for seed in 0..wanted {
        let memory = MemDisk::new(seed);
        let disk: Arc<dyn Disk> = Arc::new(memory.clone());
        let mut journal = begin(&disk, &folder()).unwrap();
        (1..=3).for_each(|n| add(&mut journal, n).unwrap());
        memory.power_goes_in(1 + seed % 3);
        add(&mut journal, 4).unwrap_err();
        memory.power_cut();
        memory.fail_in(1 + seed / 3 % 20, seed % 2 == 0, CODES[(seed % 8) as usize]);
        let mut acknowledged = 3;
        if let Ok(mut opened) = go_on(&disk, &file()) {
            let next = opened.lines.len() as u64 + 1;
            if add(&mut opened.journal, next).is_ok() {
                acknowledged = next;
            }
        }
        memory.no_more_faults();
        memory.kill();
        assert_eq!(
            afterwards(&disk, Begun::Yes, acknowledged, 5),
            Ok(()),
            "seed {seed}"
        );
    }
    row.done(wanted, "");
}

#[test]
fn a_sync_that_fails_once_stops_the_log_and_the_next_start_goes_on() {
    let row = Row::begin("a sync fails once, then works");
    let wanted = trials(100, 100, 1_000);
    for seed in 0..wanted {
        let memory = MemDisk::new(seed);
        let disk: Arc<dyn Disk> = Arc::new(memory.clone());
        let mut journal = begin(&disk, &folder()).unwrap();
        add(&mut journal, 1).unwrap();
        // The calls of a press: look at the path, append, sync.
        memory.fail_in(3, false, 5);
        let refused = add(&mut journal, 2).unwrap_err();
        assert!(matches!(refused, AppendError::ReadOnly(_)), "{refused}");
        assert!(
            refused
                .to_string()
                .starts_with("NOT SAVED: the disk did not confirm the last save")
        );
        assert_eq!(
            add(&mut journal, 2).unwrap_err(),
            refused,
            "it is never trusted again"
        );
        drop(journal);
        let mut opened = go_on(&disk, &file()).unwrap();
        assert_eq!(told(&opened), expected(1));
        add(&mut opened.journal, 2).unwrap();
        memory.power_cut();
        assert_eq!(
            told(&go_on(&disk, &file()).unwrap()),
            expected(2),
            "seed {seed}"
        );
    }
    row.done(wanted, "");
}

#[test]
fn a_disk_that_is_full_at_any_byte_of_a_line_refuses_the_press_and_takes_it_when_there_is_room() {
    let size = (whole(7).len() - whole(6).len()) as u64;
    let row = Row::begin("full at every byte, in memory");
    for room in 0..size {
        let memory = MemDisk::new(room);
        let disk: Arc<dyn Disk> = Arc::new(memory.clone());
        let mut journal = begin(&disk, &folder()).unwrap();
        (1..=6).for_each(|n| add(&mut journal, n).unwrap());
        let before = memory.bytes(&file()).unwrap();
        memory.room(Some(room));
        for _ in 0..2 {
            let refused = add(&mut journal, 7).unwrap_err();
            assert!(matches!(refused, AppendError::NotSaved(_)), "{refused}");
            assert_eq!(memory.bytes(&file()).unwrap(), before, "room for {room}");
        }
        memory.room(None);
        add(&mut journal, 7).unwrap();
        memory.power_cut();
        let opened = go_on(&disk, &file()).unwrap();
        assert_eq!(
            (&opened.state, told(&opened)),
            (&State::Clean, expected(7)),
            "room for {room}"
        );
    }
    row.done(size, "");
}

#[test]
fn a_full_disk_leaves_a_torn_tail_where_it_is_until_there_is_room_for_its_copy() {
    let memory = MemDisk::new(3);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    let mut journal = begin(&disk, &folder()).unwrap();
    add(&mut journal, 1).unwrap();
    drop(journal);
    memory.grow(&file(), b"{\"c\":\"012345");
    let torn = memory.bytes(&file()).unwrap();
    memory.room(Some(4));
    let opened = go_on(&disk, &file()).unwrap();
    assert!(
        matches!(opened.state, State::ReadOnly(_)),
        "{:?}",
        opened.state
    );
    assert_eq!(
        (told(&opened), memory.bytes(&file()).unwrap()),
        (expected(1), torn)
    );
    assert_eq!(memory.names(), [file()], "no half copy is left");
    memory.room(None);
    let opened = go_on(&disk, &file()).unwrap();
    assert!(
        matches!(opened.state, State::TornTail { bytes: 12, .. }),
        "{:?}",
        opened.state
    );
}

#[test]
fn half_a_line_that_was_cut_off_stays_off_when_the_power_goes_right_after() {
    for seed in 0..100 {
        let memory = MemDisk::new(seed);
        let disk: Arc<dyn Disk> = Arc::new(memory.clone());
        let mut journal = begin(&disk, &folder()).unwrap();
        add(&mut journal, 1).unwrap();
        memory.room(Some(60));
        add(&mut journal, 2).unwrap_err();
        memory.power_cut();
        memory.room(None);
        let opened = go_on(&disk, &file()).unwrap();
        assert_eq!(
            (&opened.state, told(&opened)),
            (&State::Clean, expected(1)),
            "seed {seed}"
        );
    }
}

#[test]
fn a_torn_tail_that_was_set_aside_is_in_its_copy_when_the_power_goes_right_after() {
    const TORN: &[u8] = b"{\"c\":\"0123abcd\",\"v\":1";
    for seed in 0..100 {
        let memory = MemDisk::new(seed);
        memory.put(&file(), &[whole(2), TORN.to_vec()].concat());
        let disk: Arc<dyn Disk> = Arc::new(memory.clone());
        let opened = go_on(&disk, &file()).unwrap();
        let State::TornTail { set_aside, .. } = opened.state else {
            panic!("{:?}", opened.state);
        };
        memory.power_cut();
        assert_eq!(memory.bytes(&set_aside).unwrap(), TORN, "seed {seed}");
    }
}
