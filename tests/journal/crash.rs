//! Power cuts and kills at any call, also while a crash is being recovered from: what was
//! acknowledged is there, in order, and the next start goes on.

use super::broken::{Broken, WAYS, Way};
use super::common::count::{Row, trials};
use super::mem::{Dice, MemDisk};
use super::{add, begin, damage, expected, file, folder, go_on, told};
use endsmeet::journal::{Disk, Journal, State};
use std::sync::Arc;

/// What one store promised in one trial.
#[derive(Debug, Default)]
struct Promised {
    begun: bool,
    lines: u64,
    /// One more was tried and may be there.
    tried: u64,
}

/// Writes until the power goes.
fn press(journal: &mut Journal, promised: &mut Promised, most: u64) -> bool {
    for _ in 0..most {
        promised.tried = promised.lines + 1;
        if add(journal, promised.lines + 1).is_err() {
            return false;
        }
        promised.lines += 1;
    }
    true
}

/// One dressing with crashes at random calls; `Err` says what was broken.
fn trial(seed: u64, disk: &Arc<dyn Disk>, memory: &MemDisk) -> Result<Promised, String> {
    let mut dice = Dice::new(seed ^ 0xD1CE);
    let mut promised = Promised::default();
    memory.power_goes_in(1 + dice.below(30));
    if let Ok(mut journal) = begin(disk, &folder()) {
        promised.begun = true;
        press(&mut journal, &mut promised, dice.below(8));
    }
    for _ in 0..=dice.below(3) {
        // A kill without a power cut leaves in memory what a later power cut can still take.
        if dice.one_in(3) {
            memory.kill();
        } else {
            memory.power_cut();
        }
        memory.power_goes_in(1 + dice.below(25));
        if let Ok(mut opened) = go_on(disk, &file()) {
            agrees(&opened.state, told(&opened), &mut promised)?;
            press(&mut opened.journal, &mut promised, dice.below(5));
        }
    }
    memory.power_cut();
    finish(disk, memory, promised)
}

fn agrees(
    state: &State,
    told: Vec<serde_json::Value>,
    promised: &mut Promised,
) -> Result<(), String> {
    let shown = told.len() as u64;
    if told != expected(shown) {
        return Err(format!("other lines than were written: {told:?}"));
    }
    if shown < promised.lines || shown > promised.tried.max(promised.lines) {
        return Err(format!("{shown} lines after {promised:?}, {state:?}"));
    }
    // The last press had not been acknowledged and is there all the same: now it is shown, and so
    // it counts. A state that could not be confirmed shows nothing as saved.
    if matches!(state, State::Clean | State::TornTail { .. }) {
        promised.begun = true;
        promised.lines = shown;
    }
    Ok(())
}

/// After the last crash everything works again.
fn finish(
    disk: &Arc<dyn Disk>,
    memory: &MemDisk,
    mut promised: Promised,
) -> Result<Promised, String> {
    match go_on(disk, &file()) {
        Err(error) if promised.begun => return Err(format!("{error} after {promised:?}")),
        Err(_) if memory.bytes(&file()).is_some() => {
            return Err("a file with a name that is no dressing".to_owned());
        }
        Err(_) => drop(begin(disk, &folder()).map_err(|e| e.to_string())?),
        Ok(opened) => agrees(&opened.state, told(&opened), &mut promised)?,
    }
    let mut opened = go_on(disk, &file()).map_err(|e| e.to_string())?;
    if opened.state != State::Clean {
        return Err(format!("{:?} after it was mended", opened.state));
    }
    let next = promised.lines + 1;
    add(&mut opened.journal, next).map_err(|e| e.to_string())?;
    drop(opened);
    let opened = go_on(disk, &file()).map_err(|e| e.to_string())?;
    if opened.state == State::Clean && told(&opened) == expected(next) {
        Ok(promised)
    } else {
        Err(format!("{:?} at the end", opened.state))
    }
}

#[test]
fn nothing_that_was_acknowledged_is_lost_in_a_power_cut_or_a_kill() {
    let (mut begun, mut lines) = (0, 0);
    let row = Row::begin("unsynced writes dropped, reordered, torn");
    let wanted = trials(5_000, 20_000, 2_000_000);
    for seed in 0..wanted {
        let memory = MemDisk::new(seed);
        let disk: Arc<dyn Disk> = Arc::new(memory.clone());
        match trial(seed, &disk, &memory) {
            Ok(promised) => {
                begun += u64::from(promised.begun);
                lines += promised.lines;
            }
            Err(lost) => panic!("seed {seed}: {lost}"),
        }
    }
    assert!(
        begun > wanted / 2 && lines > wanted,
        "the trials try enough: {begun} dressings, {lines} lines"
    );
    row.done(wanted, &format!(", {begun} dressings, {lines} lines kept"));
}

/// Whether the trials tell a broken store from a sound one, from this seed on.
fn is_caught(way: Way, from: u64, most: u64) -> Option<u64> {
    if way == Way::NoChecksum {
        return damage::a_changed_byte_is_accepted(way, from);
    }
    (from..from + most).find(|seed| {
        let memory = MemDisk::new(*seed);
        let disk: Arc<dyn Disk> = Arc::new(Broken {
            disk: Arc::new(memory.clone()),
            way,
        });
        trial(*seed, &disk, &memory).is_err()
    })
}

#[test]
fn each_of_the_six_broken_stores_is_caught_every_time() {
    let row = Row::begin("six broken stores");
    let runs = trials(10, 50, 500);
    for way in WAYS {
        let mut latest = 0;
        for run in 0..runs {
            let from = run * 1_000_000;
            let caught = is_caught(way, from, 2_000);
            let caught = caught.unwrap_or_else(|| panic!("{way:?} was not caught in run {run}"));
            latest = latest.max(caught - from + 1);
        }
        println!("{way:?}: caught in {runs} of {runs} runs, at the latest in trial {latest}");
    }
    row.done(6 * runs, ", each caught");
}
