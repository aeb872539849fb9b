//! Killed at a random moment while keys stream into a real terminal: what the screen showed is in the
//! file, and the next start goes on.

use super::common::count::{Row, trials};
use super::common::demo;
use super::program::{Dice, entries, run, runner, said};
use super::pty::{Mirror, Pty, RUNNER, endsmeet, folder};
use endsmeet::dressing::Dressing;
use endsmeet::hand::Key;
use endsmeet::journal::State;
use endsmeet::terminal::screens::LEAST;

/// The most presses of one trial; so far on there is no question yet.
const PRESSES: usize = 24;

/// What stands on the screen after so many presses, the first row left out: it tells the time.
fn screens() -> Vec<Vec<String>> {
    let mut mirror = Mirror::new(Dressing::new(demo("hall-runner.json"), &[]), 0);
    let mut screens = vec![mirror.press(&[], LEAST)];
    for _ in 0..PRESSES {
        screens.push(mirror.press(&[Key::Space], LEAST));
    }
    for screen in &mut screens {
        screen.remove(0);
    }
    screens
}

/// Streams presses, kills, and says how many presses were shown.
fn killed(dice: &mut Dice, pty: &mut Pty, screens: &[Vec<String>]) -> Option<u64> {
    let lives = dice.below(60);
    for _ in 0..dice.below(PRESSES as u64) {
        pty.send(" ");
        dice.pause(1 + lives / 12);
    }
    pty.signal("KILL");
    pty.ended();
    pty.drained();
    let rows = pty.rows();
    let seen = screens
        .iter()
        .position(|screen| rows.get(1..) == Some(&screen[..]));
    seen.map(|presses| presses as u64)
}

#[test]
fn what_was_shown_when_it_was_killed_is_kept() {
    let row = Row::begin("killed at random in a terminal");
    let wanted = trials(10, 200, 5_000);
    let screens = screens();
    let (mut shown, mut presses) = (0, 0);
    for seed in 0..wanted {
        let mut dice = Dice::new(seed);
        let folder = folder();
        let mut pty = Pty::start(
            endsmeet(folder.path(), &["new", RUNNER, "--guard-ms", "0"]),
            LEAST,
        );
        // every third one is killed while it starts
        if seed % 3 != 0 {
            pty.wait_for("? help");
        } else {
            dice.pause(80);
        }
        let seen = killed(&mut dice, &mut pty, &screens);
        shown += u64::from(seen.is_some());
        presses += seen.unwrap_or(0);
        let path = runner(folder.path());
        if !path.exists() {
            assert_eq!(seen, None, "seed {seed}: a screen without a file");
            continue;
        }
        let (kept, state) = entries(&path);
        assert!(
            matches!(state, State::Clean | State::TornTail { .. }),
            "seed {seed}: {state:?}"
        );
        assert!(
            kept >= seen.unwrap_or(0),
            "seed {seed}: {kept} kept of {seen:?} shown"
        );
        assert!(kept <= PRESSES as u64);
        if seed % 5 == 0 {
            let again = run(folder.path(), &["resume"]);
            assert!(again.status.success(), "seed {seed}: {}", said(&again));
        }
    }
    assert!(
        shown * 2 > wanted && presses > 0,
        "{shown} screens of {wanted} were whole"
    );
    row.done(
        wanted,
        &format!(", {shown} with a whole screen, {presses} presses shown and kept"),
    );
}
