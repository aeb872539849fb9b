//! The whole runner dressed with one key in a real terminal: nothing but the space bar, pressed or
//! held. What the loom would answer is worked out from the file that the program keeps.
#![cfg(unix)]
#![allow(clippy::unwrap_used)]

mod common;
mod pty;

use endsmeet::dressing::Dressing;
use endsmeet::dressing::view::{Asked, CallView, View};
use endsmeet::journal::keep::Keep;
use endsmeet::journal::kept::Keeper;
use endsmeet::journal::{Access, Disk, RealDisk};
use endsmeet::method::StepId;
use endsmeet::terminal::screens::LEAST;
use endsmeet::words::screen_words;
use pty::{Pty, RUNNER, endsmeet, folder};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// Times that are short, and still longer than a busy machine's pauses.
const SHORT: [&str; 8] = [
    "--guard-ms",
    "24",
    "--quiet-ms",
    "24",
    "--hold-ms",
    "300",
    "--lit-seconds",
    "0.1",
];

/// Longer than the guard and the quiet time, so that the next press counts.
const BETWEEN: Duration = Duration::from_millis(27);

/// The one key.
const KEY: &str = " ";

/// What one press may take to be saved and shown.
const A_PRESS: Duration = Duration::from_secs(5);

/// A digit is lit alone; a line of a list is known by a part of it.
fn is_lit(pty: &Pty, item: &str) -> bool {
    let digit = item.len() == 1;
    let is = |lit: &String| {
        if digit {
            lit == item
        } else {
            lit.contains(item)
        }
    };
    pty.lit().iter().any(is)
}

/// One weaver with one key.
struct Weaver {
    pty: Pty,
    file: PathBuf,
    presses: u32,
    /// When the program had last taken the key, as far as was seen.
    last: Instant,
    /// Whether the program was told that there is one button only.
    told: bool,
    /// Heddles left, shaft by shaft, of the batch that does not come out even.
    heddles: Vec<&'static str>,
}

impl Weaver {
    fn sits_down(folder: &Path, args: &[&str], told: bool) -> Self {
        let mut args: Vec<&str> = args.iter().copied().chain(SHORT).collect();
        args.extend(told.then_some("--one-button"));
        let pty = Pty::start(endsmeet(folder, &args), LEAST);
        pty.wait_for("? help");
        let file = std::fs::read_dir(folder).unwrap();
        let mut file = file.map(|entry| entry.unwrap().path());
        let file = file.find(|path| path.extension().is_some_and(|end| end == "jsonl"));
        Self {
            pty,
            file: file.unwrap(),
            presses: 0,
            last: Instant::now(),
            told,
            heddles: Vec::new(),
        }
    }

    /// The dressing as the file has it.
    fn dressing(&self) -> Dressing {
        let disk: Arc<dyn Disk> = Arc::new(RealDisk);
        let loaded = Keeper::load(&disk, &self.file, Access::ReadOnly).unwrap();
        loaded.keeper.dressing().clone()
    }

    fn size(&self) -> u64 {
        std::fs::metadata(&self.file).unwrap().len()
    }

    fn press(&mut self) {
        self.pty.send(KEY);
        self.last = Instant::now();
        self.presses += 1;
    }

    /// Waits until a press counts again.
    fn rests(&self) {
        std::thread::sleep(BETWEEN.saturating_sub(self.last.elapsed()));
    }

    /// Presses, and waits until something is saved; whether it was.
    fn press_and_see(&mut self) -> bool {
        let before = self.size();
        self.rests();
        self.press();
        self.waits(before, A_PRESS)
    }

    /// Waits until the item is lit, and presses then.
    fn press_when_lit(&mut self, item: &str) {
        let before = self.size();
        // the light has just come to it, so that the press does not come as it goes
        self.pty
            .wait_until(&format!("not yet {item}"), |pty| !is_lit(pty, item));
        self.pty
            .wait_until(&format!("{item} lit"), |pty| is_lit(pty, item));
        self.rests();
        self.press();
        if item.len() > 1 {
            self.waits(before, Duration::from_secs(2));
        }
    }

    /// Gives the number by lit digits: where none is lit yet, a press lights them. A digit that was
    /// caught wrongly makes a wrong answer, and the program asks again: so does the loop that leads here.
    fn gives(&mut self, number: &str) {
        let before = self.size();
        let dark = |pty: &Pty| {
            pty.rows()
                .iter()
                .any(|row| row.starts_with("Space not looked"))
        };
        let lit = |pty: &Pty| {
            pty.rows()
                .iter()
                .any(|row| row.contains(screen_words::TAKE_LIT))
        };
        self.pty
            .wait_until("a question", |pty| dark(pty) || lit(pty));
        if dark(&self.pty) {
            self.rests();
            self.press();
            self.pty.wait_until("lit digits", lit);
            self.last = Instant::now();
        }
        for digit in number.chars() {
            self.press_when_lit(&digit.to_string());
            // DONE is lit next: the digit was taken
            self.pty.wait_until("DONE", |pty| is_lit(pty, "DONE"));
            self.last = Instant::now();
        }
        self.rests();
        self.press();
        self.waits(before, Duration::from_millis(400));
    }

    /// Takes one of the ways on: the button's is the first, where no light shows them.
    fn takes_way(&mut self, way: &str) {
        if self.told {
            self.press_when_lit(way);
        } else {
            self.press_and_see();
        }
    }

    /// Takes the way on that is not the button's; of the menu's items it is `item`.
    fn takes_other_way(&mut self, way: &str, item: &str) {
        if self.told {
            self.press_when_lit(way);
        } else {
            self.takes_from_menu(item);
        }
    }

    /// Waits until something is saved; whether it was, in that time.
    fn waits(&mut self, before: u64, patience: Duration) -> bool {
        let start = Instant::now();
        while self.size() == before && start.elapsed() < patience {
            std::thread::sleep(Duration::from_millis(2));
        }
        self.last = Instant::now();
        self.size() != before
    }

    /// Holds the key until the menu is open, and takes the item; whether the menu came.
    fn takes_from_menu(&mut self, item: &str) -> bool {
        self.rests();
        for _ in 0..80 {
            self.pty.send(KEY);
            std::thread::sleep(Duration::from_millis(5));
        }
        self.last = Instant::now();
        let open = |pty: &Pty| {
            let rows = pty.rows();
            rows.iter().any(|row| row.contains("STOP FOR TODAY"))
        };
        std::thread::sleep(Duration::from_millis(50));
        if !open(&self.pty) {
            return false;
        }
        let before = self.size();
        self.press_when_lit(item);
        self.waits(before, A_PRESS)
    }

    /// One thing done as the loom wants it: a look answered truly, the first way taken, a press.
    fn goes_on(&mut self, d: &Dressing) {
        match d.view() {
            View::Asking(asking) => match asking.asked {
                Asked::HeddlesLeft { .. } => {
                    let n = self.heddles.pop().unwrap_or("0");
                    self.gives(n);
                }
                Asked::CallsMade { .. } | Asked::EndsLeft { .. } => {
                    self.heddles = vec!["0", "1", "0", "0"];
                    self.gives("1");
                }
                Asked::WarpEnds { .. }
                | Asked::WarpHeddles { .. }
                | Asked::ReedEnds { .. }
                | Asked::ReedTape { .. }
                | Asked::ReadBack { .. } => panic!("never asked here: {asking:?}"),
                // the other line was caught: nothing looks wrong
                Asked::Sought(_) => drop(self.takes_from_menu("BACK ONE")),
                Asked::Look { .. } | Asked::Measure { .. } => {
                    let number = common::true_answer(d).unwrap();
                    self.gives(&number);
                }
            },
            View::Disagreeing(_) => {
                // the first press lights the list and takes nothing
                let dark = |pty: &Pty| pty.rows().iter().any(|row| row.contains("light the first"));
                self.pty.wait_until("a list of ways", dark);
                self.rests();
                self.press();
                self.pty
                    .wait_until("a lit list", |pty| !pty.lit().is_empty());
                self.last = Instant::now();
                self.press_when_lit("thread it again");
            }
            View::UsedUp(_) => self.takes_way("used up and knotted"),
            View::Sley(_) => self.takes_way("sleyed and knotted"),
            View::Shed(_) => self.takes_way("looked through"),
            View::Turn(_) => self.takes_way("one more turn"),
            View::Step(step)
                if step.optional || matches!(step.step, StepId::Header | StepId::LookAgain) =>
            {
                self.takes_way("1 done");
            }
            _ => drop(self.press_and_see()),
        }
    }
}

/// A dressing with one key, and what goes otherwise on the way: the batch in which an end is left
/// over, the batches from which on the menu takes a press back and stops for today, if it does.
struct Way {
    plan: &'static str,
    /// Whether the program was told that there is one button only.
    told: bool,
    uneven: u32,
    back: Option<u32>,
    stop: Option<u32>,
}

/// Presses on to the end; how often the key was pressed, beside the two holds.
fn dressed(way: &Way) -> u32 {
    let folder = folder();
    let mut weaver = Weaver::sits_down(folder.path(), &["new", way.plan], way.told);
    let (mut uneven, mut presses) = (false, 0);
    let (mut back, mut stopped) = (way.back.is_none(), way.stop.is_none());
    let from = |batch: Option<u32>, call: &CallView| batch.is_some_and(|n| call.batch.number >= n);
    for _ in 0..2000 {
        let d = weaver.dressing();
        match d.view() {
            View::Ready(_) => break,
            View::Step(step) if step.step == StepId::GuideString => {
                weaver.takes_other_way("leave winding out", "LEAVE WINDING OUT");
            }
            View::UsedUp(used) if used.batch.number == way.uneven && !uneven => {
                weaver.takes_other_way("left over or short", "STUCK");
                uneven = matches!(weaver.dressing().view(), View::Asking(_));
            }
            View::Call(call) if uneven && !back && from(way.back, &call) => {
                back = weaver.takes_from_menu("BACK ONE") && weaver.dressing().about().can_redo;
            }
            View::Call(call) if back && !stopped && from(way.stop, &call) => {
                stopped = weaver.takes_from_menu("STOP FOR TODAY")
                    && matches!(weaver.dressing().view(), View::Resting(_));
                if stopped {
                    weaver.pty.wait_for("Stopped for today");
                    weaver.pty.signal("HUP");
                    weaver.pty.ended();
                    presses += weaver.presses;
                    weaver = Weaver::sits_down(folder.path(), &["resume"], way.told);
                }
            }
            View::Resting(_) => drop(weaver.press_and_see()),
            _ => weaver.goes_on(&d),
        }
    }
    assert!(uneven && back && stopped, "{uneven} {back} {stopped}");
    weaver.pty.wait_for("The loom is ready to weave");
    let d = weaver.dressing();
    assert_eq!(d.left_open(), 0, "nothing was passed over");
    assert!(d.record().caught >= 1, "the miscount is on record");
    assert!(way.stop.is_none() || d.record().interruptions >= 1);
    presses + weaver.presses
}

#[test]
fn a_small_warp_is_dressed_with_one_key_from_new_to_ready() {
    let presses = dressed(&Way {
        plan: "assets/demo/practice.json",
        told: true,
        uneven: 2,
        back: None,
        stop: None,
    });
    assert!(presses > 60, "{presses}");
}

/// The whole runner, with a press taken back and a night between by the menu, where it is asked for: a
/// few hundred presses at their real times, and holds that a busy machine may break off.
#[test]
fn the_runner_is_dressed_with_one_key_where_it_is_asked_for() {
    if std::env::var_os("ENDSMEET_ONE_KEY").is_none() {
        return;
    }
    let presses = dressed(&Way {
        plan: RUNNER,
        told: false,
        uneven: 2,
        back: Some(4),
        stop: Some(6),
    });
    assert!(presses > 250, "{presses}");
}
