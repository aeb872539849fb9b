//! The power cut on real file systems: a loop device is shut down under the writing store, so that all
//! that was not made sure of is gone, and mounted anew. Needs root, loop devices and `perl`; says so
//! where they are not there.
#![cfg(target_os = "linux")]

use super::broken::{Broken, Way};
use super::common::count::{Row, trials};
use super::mem::Dice;
use super::{KNOWN, add, begin, expected, go_on, told};
use endsmeet::journal::{Access, Disk, Journal, RealDisk, State};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// A kind of file system and how it is mounted.
#[derive(Debug, Clone, Copy)]
struct Kind {
    name: &'static str,
    make: &'static [&'static str],
    options: &'static str,
    megabytes: u64,
}

const EXT4: Kind = Kind {
    name: "ext4",
    make: &["mkfs.ext4", "-q", "-F"],
    options: "loop",
    megabytes: 32,
};
const WRITEBACK: Kind = Kind {
    name: "ext4, data=writeback",
    options: "loop,data=writeback",
    ..EXT4
};
const XFS: Kind = Kind {
    name: "xfs",
    make: &["mkfs.xfs", "-q", "-f"],
    options: "loop",
    megabytes: 310,
};

/// A file system in a file, mounted.
#[derive(Debug)]
struct Volume {
    kind: Kind,
    place: tempfile::TempDir,
}

/// Runs it; `Err` says what it said.
fn run(command: &mut Command) -> Result<(), String> {
    let output = command
        .output()
        .map_err(|error| format!("{command:?}: {error}"))?;
    match output.status.success() {
        true => Ok(()),
        false => Err(format!(
            "{command:?}: {}",
            String::from_utf8_lossy(&output.stderr)
        )),
    }
}

impl Volume {
    fn new(kind: Kind) -> Result<Self, String> {
        // a disk in memory is quicker; what was not synced is lost there just the same
        let memory = Path::new("/dev/shm");
        let place = match memory.is_dir() {
            true => tempfile::tempdir_in(memory),
            false => tempfile::tempdir(),
        };
        let place = place.map_err(|error| error.to_string())?;
        let volume = Self { kind, place };
        let image = std::fs::File::create(volume.image()).map_err(|error| error.to_string())?;
        image
            .set_len(kind.megabytes << 20)
            .map_err(|error| error.to_string())?;
        drop(image);
        std::fs::create_dir(volume.folder()).map_err(|error| error.to_string())?;
        run(Command::new(kind.make[0])
            .args(&kind.make[1..])
            .arg(volume.image()))?;
        volume.mount()?;
        Ok(volume)
    }

    fn image(&self) -> PathBuf {
        self.place.path().join("image")
    }

    fn folder(&self) -> PathBuf {
        self.place.path().join("mounted")
    }

    fn mount(&self) -> Result<(), String> {
        let mut mount = Command::new("mount");
        mount.args(["-o", self.kind.options]);
        run(mount.arg(self.image()).arg(self.folder()))
    }

    /// What makes the power go, ready to be told: the file system then takes nothing more, and what
    /// it had not written is gone. With `log` what stands in its own log still gets there.
    fn fuse(&self, log: bool) -> Fuse {
        // XFS_IOC_GOINGDOWN and EXT4_IOC_SHUTDOWN of Linux: _IOR('X', 125, __u32)
        let script = "open(my $f, '<', $ARGV[0]) or die $!; my $how = pack('L', $ARGV[1]); \
                      $| = 1; print qq(ready\n); <STDIN>; ioctl($f, 0x8004587d, $how) or die $!;";
        let mut perl = Command::new("perl");
        perl.args(["-e", script])
            .arg(self.folder())
            .arg(if log { "1" } else { "2" });
        let mut child = perl
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut ready = [0; 6];
        child
            .stdout
            .as_mut()
            .unwrap()
            .read_exact(&mut ready)
            .unwrap();
        Fuse(child)
    }

    fn power_comes_back(&self) -> Result<(), String> {
        // a process that a test beside this one is starting holds our files until its exec
        for _ in 0..100 {
            match run(Command::new("umount").arg(self.folder())) {
                Err(busy) if busy.contains("busy") => std::thread::sleep(Duration::from_millis(20)),
                other => return other.and_then(|()| self.mount()),
            }
        }
        run(Command::new("umount").arg(self.folder()))?;
        self.mount()
    }
}

impl Drop for Volume {
    fn drop(&mut self) {
        let _ = Command::new("umount")
            .args(["-l"])
            .arg(self.folder())
            .output();
    }
}

struct Fuse(Child);

impl Fuse {
    fn blow(mut self) {
        drop(self.0.stdin.take());
        assert!(
            self.0.wait().unwrap().success(),
            "the file system was not shut down"
        );
    }
}

/// What was promised of one file.
#[derive(Debug, Clone)]
struct Promised {
    path: PathBuf,
    lines: u64,
    tried: u64,
}

/// Begins dressings, presses, shuts and opens them again, until the power is gone.
fn weave(disk: &Arc<dyn Disk>, folder: &Path, promises: &Mutex<Vec<Promised>>, seed: u64) {
    let mut dice = Dice::new(seed);
    loop {
        let Ok(mut journal) = begin(disk, folder) else {
            return;
        };
        let path = journal.path().to_owned();
        let (lines, tried) = (0, 0);
        promises.lock().unwrap().push(Promised {
            path: path.clone(),
            lines,
            tried,
        });
        for n in 1..=dice.below(12) {
            promises.lock().unwrap().last_mut().unwrap().tried = n;
            if add(&mut journal, n).is_err() {
                return;
            }
            promises.lock().unwrap().last_mut().unwrap().lines = n;
            if dice.one_in(6) {
                drop(journal);
                journal = match go_on(disk, &path) {
                    Ok(opened) if opened.state == State::Clean => opened.journal,
                    _ => return,
                };
            }
        }
    }
}

/// One power cut at a random moment. What was kept, or what was lost.
fn cut(volume: &Volume, disk: &Arc<dyn Disk>, seed: u64) -> Result<u64, String> {
    let promises = Mutex::new(Vec::new());
    let mut dice = Dice::new(seed ^ 0xC07);
    let fuse = volume.fuse(dice.one_in(3));
    // What is acknowledged while the power goes is no promise: this kernel may answer a sync with
    // success although its log was shut down in the middle, and a machine without power answers nothing.
    let before: Vec<Promised> = std::thread::scope(|scope| {
        let weaving = scope.spawn(|| weave(disk, &volume.folder(), &promises, seed));
        await_saves(&promises, dice.below(16));
        std::thread::sleep(Duration::from_micros(dice.below(3_000)));
        let before = promises.lock().unwrap().clone();
        fuse.blow();
        weaving.join().unwrap();
        before
    });
    volume.power_comes_back().unwrap();
    let after = promises.into_inner().unwrap();
    let kept = before
        .into_iter()
        .zip(after)
        .try_fold(0, |lines, (before, after)| {
            let promised = Promised {
                tried: after.tried,
                ..before
            };
            Ok::<u64, String>(lines + is_kept(disk, &promised)?)
        });
    let bare = nothing_else_is_named(disk, &volume.folder());
    for entry in std::fs::read_dir(volume.folder()).unwrap().flatten() {
        let _ = std::fs::remove_file(entry.path());
    }
    bare.and(kept)
}

/// Waits until so many lines are acknowledged, and not for ever: a dressing may be short.
fn await_saves(promises: &Mutex<Vec<Promised>>, wanted: u64) {
    let start = Instant::now();
    let saved = || {
        promises
            .lock()
            .unwrap()
            .iter()
            .map(|promised| promised.lines)
            .sum::<u64>()
    };
    while saved() < wanted && start.elapsed() < Duration::from_secs(2) {
        std::thread::sleep(Duration::from_micros(100));
    }
}

fn is_kept(disk: &Arc<dyn Disk>, promised: &Promised) -> Result<u64, String> {
    let mut opened =
        go_on(disk, &promised.path).map_err(|error| format!("{error} after {promised:?}"))?;
    let shown = opened.lines.len() as u64;
    if told(&opened) != expected(shown) || shown < promised.lines || shown > promised.tried {
        return Err(format!("{shown} lines after {promised:?}"));
    }
    if !matches!(opened.state, State::Clean | State::TornTail { .. }) {
        return Err(format!("{:?} after {promised:?}", opened.state));
    }
    add(&mut opened.journal, shown + 1).map_err(|error| error.to_string())?;
    Ok(promised.lines)
}

/// A name of a dressing stands for a whole one.
fn nothing_else_is_named(disk: &Arc<dyn Disk>, folder: &Path) -> Result<(), String> {
    for entry in std::fs::read_dir(folder).unwrap().flatten() {
        if entry.path().extension().is_some_and(|end| end == "jsonl") {
            Journal::open(disk, &entry.path(), Access::ReadOnly, KNOWN)
                .map_err(|error| error.to_string())?;
        }
    }
    Ok(())
}

fn cuts(kind: Kind, row: &'static str, (quick, ci, soak): (u64, u64, u64)) {
    let row = Row::begin(row);
    let volume = match Volume::new(kind) {
        Ok(volume) => volume,
        Err(why) => return row.skipped(&why),
    };
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let wanted = trials(quick, ci, soak);
    let mut lines = 0;
    for seed in 0..wanted {
        match cut(&volume, &disk, seed) {
            Ok(kept) => lines += kept,
            Err(lost) => panic!("{}, seed {seed}: {lost}", kind.name),
        }
    }
    assert!(
        lines > wanted,
        "hardly anything was promised: {lines} lines"
    );
    row.done(wanted, &format!(", {lines} acknowledged lines kept"));
}

#[test]
fn a_power_cut_on_ext4_loses_nothing_that_was_acknowledged() {
    cuts(EXT4, "power cut, ext4", (8, 150, 5_000));
}

#[test]
fn a_power_cut_on_ext4_with_writeback_loses_nothing_that_was_acknowledged() {
    cuts(
        WRITEBACK,
        "power cut, ext4 with data=writeback",
        (4, 75, 2_500),
    );
}

#[test]
fn a_power_cut_on_xfs_loses_nothing_that_was_acknowledged() {
    cuts(XFS, "power cut, xfs", (4, 75, 2_500));
}

/// The trial tells a broken store from a sound one on a real disk as well.
#[test]
fn a_real_power_cut_catches_the_broken_stores() {
    let row = Row::begin("power cut, broken stores");
    let volume = match Volume::new(EXT4) {
        Ok(volume) => volume,
        Err(why) => return row.skipped(&why),
    };
    let mut caught = String::new();
    // the ways that a cut at a random moment seldom meets are left to those who have the time
    let ways = [
        (Way::NoSync, 40),
        (Way::NoFolderSync, 400),
        (Way::TruncateInPlace, 2_000),
    ];
    let tried = trials(1, 2, 3);
    for (way, most) in ways.into_iter().take(tried as usize) {
        let disk: Arc<dyn Disk> = Arc::new(Broken {
            disk: Arc::new(RealDisk),
            way,
        });
        let at = (0..most).find(|seed| cut(&volume, &disk, *seed).is_err());
        let at = at.unwrap_or_else(|| panic!("{way:?} was not caught in {most} power cuts"));
        caught += &format!(", {way:?} caught in cut {}", at + 1);
    }
    row.done(tried, &caught);
}
