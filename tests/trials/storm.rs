//! Storms of sizes and of keys on the real program in a terminal.

use super::common::count::{Row, trials};
use super::program::{Dice, entries, runner};
use super::pty::{Pty, endsmeet, folder, size_of, started};
use endsmeet::journal::State;
use endsmeet::terminal::screens::LEAST;
use std::time::Duration;

const SIZES: [(u16, u16); 9] = [
    (65_535, 65_535),
    (0, 0),
    (1, 1),
    (20, 5),
    (1, 500),
    (500, 1),
    (65_535, 1),
    (80, 24),
    (120, 40),
];
const KEYS: [&str; 10] = [
    " ", "\x7f", "\x1b[C", "?", "\x1b", "x", "7", "\x1b[5~", "\t", ".",
];

/// The most memory that the program held, in kilobytes.
fn peak(pid: u32) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{pid}/status")).unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM"));
    line.and_then(|line| line.split_whitespace().nth(1)?.parse().ok())
        .unwrap_or(0)
}

#[test]
fn a_storm_of_sizes_leaves_a_screen_that_is_whole() {
    let row = Row::begin("resize storm with keys");
    let wanted = trials(150, 3_000, 100_000);
    let folder = folder();
    let mut pty = started(folder.path());
    let mut dice = Dice::new(4);
    for _ in 0..wanted {
        let size = match dice.below(3) {
            0 => (dice.below(300) as u16, dice.below(100) as u16),
            _ => SIZES[dice.below(9) as usize],
        };
        pty.master.as_ref().unwrap().resize(size_of(size)).unwrap();
        if dice.below(2) == 0 {
            pty.send(dice.of(&KEYS));
        }
        dice.pause(5);
        pty.forget();
    }
    std::thread::sleep(Duration::from_millis(300));
    let memory = peak(pty.child.process_id().unwrap());
    pty.resize((90, 30));
    pty.wait_until("a whole screen", |pty| {
        let rows = pty.rows();
        let last = rows.last().unwrap();
        ["help", "take the lit line", "back to the work"]
            .iter()
            .any(|part| last.contains(part))
    });
    pty.send("\x03");
    assert_eq!(pty.ended(), 0);
    assert!(memory < 100_000, "{memory} kB");
    row.done(wanted, &format!(", at most {memory} kB"));
}

/// A piece of what may come from a keyboard gone mad. Ctrl-C is left out: it leaves.
fn piece(dice: &mut Dice) -> Vec<u8> {
    let escapes: [&[u8]; 12] = [
        b"\x1b",
        b"\x1b[",
        b"\x1b[1;",
        b"C",
        b"~",
        b"\x1bO",
        b"\x1b[A",
        b"\x1b[5~",
        b"\x1b[M !!",
        b"\x1b[I",
        b"\x1b[O",
        b"\x1b[<0;1;1M",
    ];
    match dice.below(6) {
        0 => vec![dice.below(256) as u8],
        1 => dice.of(&escapes).to_vec(),
        2 => b"  \r\r".to_vec(),
        3 => vec![b' '; 1 + dice.below(40) as usize],
        4 => "7é縦\u{301}".as_bytes().to_vec(),
        _ => dice.of(&KEYS).as_bytes().to_vec(),
    }
    .into_iter()
    .filter(|byte| *byte != 3 && *byte != 0x1a)
    .collect()
}

/// One sitting under so many keys; it may be left by the keys themselves.
fn typed_at(pty: &mut Pty, dice: &mut Dice, keys: u64) -> u64 {
    let mut typed = 0;
    while typed < keys && pty.child.try_wait().unwrap().is_none() {
        let piece = piece(dice);
        typed += piece.len() as u64;
        pty.send_bytes(&piece);
        if dice.below(8) == 0 {
            dice.pause(3);
        }
        pty.forget();
    }
    typed
}

#[test]
fn a_storm_of_keys_harms_nothing_and_ctrl_c_leaves() {
    let row = Row::begin("key storm");
    let wanted = trials(1_500, 20_000, 5_000_000);
    let folder = folder();
    started(folder.path()).send("\x03");
    let (mut typed, mut sittings) = (0, 0);
    while typed < wanted {
        let mut dice = Dice::new(sittings);
        let guard = if sittings % 2 == 0 { "0" } else { "700" };
        let mut pty = Pty::start(
            endsmeet(folder.path(), &["resume", "--guard-ms", guard]),
            LEAST,
        );
        pty.wait_until("the alternate screen", |pty| {
            String::from_utf8_lossy(&pty.bytes()).contains("\x1b[?1049h")
        });
        typed += typed_at(&mut pty, &mut dice, 1_000);
        sittings += 1;
        if sittings % 4 == 0 {
            pty.send("\x1b[200~an unfinished paste");
        }
        pty.send("\x03");
        // 3: what the keys came upon left a mismatch open
        let code = pty.ended();
        assert!(matches!(code, 0 | 3 | 130), "sitting {sittings}: {code}");
        pty.wait_until("the end of the alternate screen", |pty| {
            String::from_utf8_lossy(&pty.bytes()).contains("\x1b[?1049l")
        });
        drop(pty);
        let (_, state) = entries(&runner(folder.path()));
        assert_eq!(state, State::Clean, "sitting {sittings}");
    }
    row.done(typed, &format!(" keys in {sittings} sittings"));
}

#[test]
fn sixty_four_kilobytes_at_once_are_taken() {
    let row = Row::begin("64 KB of keys at once");
    let wanted = trials(1, 2, 50);
    // a debug build takes a while over each of so many keys
    let kilobytes = trials(4, 64, 64) as usize;
    for seed in 0..wanted {
        let folder = folder();
        let mut pty = started(folder.path());
        // the guard makes one press of a held key, so this is quick
        let held = if seed % 2 == 0 { " " } else { "x" };
        for _ in 0..kilobytes {
            pty.send(&held.repeat(1_024));
        }
        pty.send("\x03");
        assert_eq!(pty.ended(), 0);
        pty.assert_given_back();
        assert_eq!(entries(&runner(folder.path())).1, State::Clean);
    }
    row.done(wanted, "");
}
