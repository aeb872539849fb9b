//! The whole practice warp in a real terminal by the space bar alone, pressed or held: what the
//! practice says beside the work is all that is known here, as to one who uses it first.
#![cfg(unix)]
#![allow(clippy::unwrap_used)]

mod common;
mod pty;

use endsmeet::terminal::screens::LEAST;
use pty::{PATIENCE, Pty, endsmeet, folder};
use std::time::{Duration, Instant};

/// Times that are short, and still longer than a busy machine's pauses. Not told that there is one
/// button only: the practice must be gone through by whoever comes.
const SHORT: [&str; 9] = [
    "practice",
    "--guard-ms",
    "30",
    "--quiet-ms",
    "30",
    "--hold-ms",
    "300",
    "--lit-seconds",
    "0.12",
];

/// Longer than the guard and the quiet time.
const BETWEEN: Duration = Duration::from_millis(45);

/// One who practises with one key.
struct Beginner {
    pty: Pty,
    presses: u32,
    holds: u32,
}

impl Beginner {
    fn press(&mut self) {
        std::thread::sleep(BETWEEN);
        self.pty.send(" ");
        self.presses += 1;
    }

    /// Holds the key until the menu is open, and takes the item.
    fn takes_from_menu(&mut self, item: &str) {
        std::thread::sleep(BETWEEN);
        self.holds += 1;
        for _ in 0..60 {
            self.pty.send(" ");
            std::thread::sleep(Duration::from_millis(8));
        }
        if self.waits(Duration::from_secs(2), |rows| rows.contains("Menu: press")) {
            std::thread::sleep(BETWEEN);
            self.press_when_lit(item);
        }
    }

    fn press_when_lit(&mut self, item: &str) {
        let is_lit = |pty: &Pty| {
            let lit = pty.lit();
            lit.iter().any(|lit| {
                if item.len() == 1 {
                    lit == item
                } else {
                    lit.contains(item)
                }
            })
        };
        // the light has just come to it, so that the press does not come as it goes
        self.pty
            .wait_until(&format!("not yet {item}"), |pty| !is_lit(pty));
        self.pty.wait_until(&format!("{item} lit"), is_lit);
        self.pty.send(" ");
        self.presses += 1;
    }

    /// Takes a line of a list: no line of it is lit before the first press.
    fn takes_from_list(&mut self, item: &str) {
        self.press();
        let lit = self.waits(PATIENCE, |_| !self.pty.lit().is_empty());
        assert!(lit, "the press lights the list");
        self.press_when_lit(item);
        // a line of the list has its number; what was chosen is told without one
        let listed = |row: &String| {
            let row = row.trim_start_matches(['>', ' ']);
            row.starts_with(|c: char| c.is_ascii_digit()) && row.contains(item)
        };
        let gone = self.waits(PATIENCE, |_| !self.pty.rows().iter().any(listed));
        assert!(gone, "taken: {item}");
    }

    /// Gives a number of one digit: where no digit is lit yet, a press lights them.
    fn gives(&mut self, digit: char) {
        let lit = self.waits(Duration::from_millis(400), |rows| {
            rows.contains("take the lit line")
        });
        if !lit {
            self.press();
        }
        self.press_when_lit(&digit.to_string());
        self.pty
            .wait_until("DONE", |pty| pty.lit().iter().any(|lit| lit == "DONE"));
        self.press();
        let gone = self.waits(PATIENCE, |rows| !rows.contains("DONE  "));
        assert!(gone, "given: {digit}");
    }

    fn waits(&self, patience: Duration, is: impl Fn(&str) -> bool) -> bool {
        let start = Instant::now();
        loop {
            if is(&self.rows()) {
                return true;
            }
            if start.elapsed() > patience {
                return false;
            }
            std::thread::sleep(Duration::from_millis(4));
        }
    }

    /// The screen as one text, its rows joined so that broken sentences are whole again.
    fn rows(&self) -> String {
        self.pty.rows().join(" ")
    }

    /// What is to be read, once it stays: the rows in plain letters, without the mark of the light.
    fn read(&self) -> String {
        let plain = || {
            let rows = self.pty.rows().into_iter();
            let rows = rows.filter(|row| !row.contains(['█', '▀', '▄', '▌', '▐', '▘', '▝']));
            rows.collect::<Vec<_>>().join(" ").replace('>', " ")
        };
        let (mut shown, mut since) = (plain(), Instant::now());
        while since.elapsed() < BETWEEN {
            std::thread::sleep(Duration::from_millis(5));
            let now = plain();
            if now != shown {
                (shown, since) = (now, Instant::now());
            }
        }
        shown
    }

    /// Does the one thing that the practice says.
    fn does(&mut self, rows: &str) {
        if rows.contains("press at GO ON") && self.holds == 0 {
            return self.takes_from_menu("GO ON");
        }
        if rows.contains("take STUCK") {
            return self.takes_from_menu("STUCK");
        }
        if rows.contains("Take the answers back") || rows.contains("Take the last press back") {
            return self.takes_from_menu("BACK ONE");
        }
        if rows.contains("The place is found") {
            return self.takes_from_list("thread it again");
        }
        if rows.contains("So the look finds") && rows.contains("I looked: answer") {
            return self.takes_from_list("I looked: answer");
        }
        match wanted(rows) {
            Some(digit) => self.gives(digit),
            None => self.press(),
        }
    }
}

/// The digit that the practice wants given, if it wants one.
fn wanted(rows: &str) -> Option<char> {
    if rows.contains("So: 0 0 1 0.") {
        // shaft 3 has one left, the others none
        return Some(if rows.contains("left on shaft 3?") {
            '1'
        } else {
            '0'
        });
    }
    if rows.contains("if all are") {
        return Some('8');
    }
    let after = ["you would find: ", "the look finds: ", "rise together: "]
        .into_iter()
        .find_map(|said| Some(rows.split_once(said)?.1))?;
    let first = after.chars().next()?;
    Some(if first.is_ascii_digit() { first } else { '0' })
}

#[test]
fn the_practice_warp_is_gone_through_by_the_space_bar_alone() {
    let folder = folder();
    let pty = Pty::start(endsmeet(folder.path(), &SHORT), LEAST);
    pty.wait_for("? help");
    let mut beginner = Beginner {
        pty,
        presses: 0,
        holds: 0,
    };
    let start = Instant::now();
    let (mut night, mut even) = (false, false);
    loop {
        let rows = beginner.read();
        if rows.contains("That is all there is to it") {
            break;
        }
        night |= rows.contains("A night goes by");
        even |= rows.contains("Put right, all is used up now");
        assert!(
            start.elapsed() < 3 * PATIENCE,
            "not at the end yet:\n{rows}"
        );
        beginner.does(&rows);
        // the screen that answers the press
        let answered = Instant::now();
        while beginner.read() == rows && answered.elapsed() < Duration::from_secs(1) {}
    }
    assert!(
        night && even,
        "{night} {even}: the story was told to its end"
    );
    assert!(beginner.holds >= 2, "the menu was opened by the button");
    beginner.press();
    assert_eq!(beginner.pty.ended(), 0);
    let kept = std::fs::read_dir(folder.path()).unwrap().count();
    assert_eq!(kept, 0, "nothing of a practice is kept");
    println!("{} presses, {} holds", beginner.presses, beginner.holds);
}
