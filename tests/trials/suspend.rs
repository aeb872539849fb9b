//! The laptop's lid shut in the middle of the work: everything stops, the clock on the wall goes on by
//! hours or jumps, and then it goes on, or the battery is dead. What was shown is kept either way.
//! Needs `faketime` for the clock.

use super::clock::{library, set_clock};
use super::common::count::{Row, trials};
use super::program::{Dice, RUNNER, entries, runner};
use super::pty::{Pty, endsmeet, folder};
use endsmeet::journal::State;
use endsmeet::terminal::screens::LEAST;
use std::time::Duration;

/// Before the lid is shut, and after: on by a night, back by an hour, back to where clocks begin.
const NIGHTS: [(&str, &str); 3] = [
    ("2026-03-03 18:00:00", "2026-03-04 08:30:00"),
    ("2026-10-25 02:59:00", "2026-10-25 02:01:00"),
    ("2026-03-03 18:00:00", "1970-01-01 00:00:01"),
];

#[test]
fn a_lid_that_is_shut_amid_the_work_loses_nothing() {
    let row = Row::begin("suspended, the clock gone on");
    let Some(library) = library() else {
        return row.skipped("faketime is not here");
    };
    let wanted = trials(2, 10, 200);
    // the first stop is a long one: a minute in a whole soak
    let mut stop = Duration::from_millis(trials(200, 1_000, 60_000));
    for seed in 0..wanted {
        let mut dice = Dice::new(seed);
        let folder = folder();
        let times = folder.path().join("times.txt");
        let (before, after) = NIGHTS[seed as usize % NIGHTS.len()];
        std::fs::write(&times, format!("{before}\n")).unwrap();
        let mut command = endsmeet(folder.path(), &["new", RUNNER, "--guard-ms", "0"]);
        set_clock(&library, &times, |name, value| command.env(name, value));
        let mut pty = Pty::start(command, LEAST);
        pty.wait_for("? help");
        let mut shown = press(&mut pty, 3);
        pty.signal("STOP");
        std::fs::write(&times, format!("{after}\n")).unwrap();
        std::thread::sleep(stop);
        stop = Duration::from_millis(20 + dice.below(100));
        if seed % 2 == 0 {
            pty.signal("CONT");
            pty.wait_until("the same call as before", |pty| {
                pty.rows()[1..] == shown[1..]
            });
            shown = press(&mut pty, 2);
            assert!(
                shown.iter().all(|line| !line.contains("NOT SAVED")),
                "{shown:?}"
            );
            pty.send("\x03");
            pty.ended();
            pty.drained();
            pty.assert_given_back();
            assert_eq!(entries(&runner(folder.path())), (5, State::Clean));
        } else {
            pty.signal("KILL");
            pty.ended();
            assert_eq!(entries(&runner(folder.path())), (3, State::Clean));
        }
    }
    row.done(wanted, ", every second one with a dead battery");
}

/// Presses, each after the one before was shown; what stands on the screen then.
fn press(pty: &mut Pty, presses: usize) -> Vec<String> {
    for _ in 0..presses {
        let before = pty.rows();
        pty.send(" ");
        pty.wait_until("another step", |pty| {
            let now = pty.rows();
            now[1..] != before[1..] && now.iter().any(|row| row.contains("? help"))
        });
    }
    pty.rows()
}
