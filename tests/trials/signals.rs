//! Signals at any moment, jobs stopped and continued, panics: the terminal is given back each time, and
//! what was shown is kept.

use super::common::count::{Row, trials};
use super::common::demo;
use super::program::{Dice, PROGRAM, RUNNER, entries, runner};
use super::pty::{Mirror, PATIENCE, Pty, endsmeet, folder, plain_environment};
use endsmeet::dressing::{Ask, Dressing, Entry, When};
use endsmeet::hand::{Key, Settings};
use endsmeet::journal::State;
use endsmeet::journal::keep::{InMemory, Keep, NotDone};
use endsmeet::method::Method;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::driver::{self, Clock};
use endsmeet::terminal::screens::{LEAST, Manner};
use endsmeet::terminal::sitting::Sitting;
use endsmeet::terminal::theme::Theme;
use portable_pty::CommandBuilder;

#[test]
fn every_way_out_at_any_moment_gives_the_terminal_back() {
    let row = Row::begin("ways out: TERM INT HUP QUIT Ctrl-C q-y");
    let each = trials(2, 20, 200);
    let ways = [
        ("TERM", 143),
        ("INT", 0),
        ("HUP", 129),
        ("QUIT", 131),
        ("\x03", 0),
        ("qy", 0),
    ];
    for (way, code) in ways {
        for seed in 0..each {
            let mut dice = Dice::new(seed);
            let folder = folder();
            let command = endsmeet(folder.path(), &["new", RUNNER, "--guard-ms", "0"]);
            let mut pty = Pty::start(command, LEAST);
            pty.wait_for("? help");
            for _ in 0..dice.below(6) {
                pty.send(" ");
                dice.pause(4);
            }
            if way.chars().all(|c| c.is_ascii_uppercase()) {
                pty.signal(way);
            } else {
                pty.send(way);
            }
            let ended = pty.ended();
            pty.assert_given_back();
            assert_eq!(ended, code, "{way:?}, seed {seed}");
            assert_eq!(entries(&runner(folder.path())).1, State::Clean);
        }
    }
    row.done(each * ways.len() as u64, "");
}

/// What stands on the screen after so many presses from the start, the first row left out.
fn after(presses: usize) -> Vec<String> {
    let mut mirror = Mirror::new(Dressing::new(demo("hall-runner.json"), &[]), 0);
    mirror.press(&vec![Key::Space; presses], LEAST).split_off(1)
}

#[test]
fn a_stop_and_a_continue_in_the_middle_of_saves_lose_nothing() {
    let row = Row::begin("SIGSTOP and SIGCONT amid saves");
    let wanted = trials(2, 20, 200);
    for seed in 0..wanted {
        let mut dice = Dice::new(seed);
        let folder = folder();
        let mut pty = Pty::start(
            endsmeet(folder.path(), &["new", RUNNER, "--guard-ms", "0"]),
            LEAST,
        );
        pty.wait_for("? help");
        let presses = 4 + dice.below(12) as usize;
        for _ in 0..presses {
            pty.send(" ");
            if dice.below(3) == 0 {
                dice.pause(3);
                pty.signal("STOP");
                dice.pause(20);
                pty.signal("CONT");
            }
        }
        let wanted = after(presses);
        pty.wait_until(&wanted.join("\n"), |pty| {
            pty.rows().get(1..) == Some(&wanted[..])
        });
        pty.send("\x03");
        pty.ended();
        pty.drained();
        pty.assert_given_back();
        assert_eq!(
            entries(&runner(folder.path())),
            (presses as u64, State::Clean)
        );
    }
    row.done(wanted, "");
}

#[test]
fn the_stop_key_and_fg_again_and_again() {
    let row = Row::begin("Ctrl-Z and fg");
    let wanted = trials(2, 20, 200);
    let folder = folder();
    let mut shell = CommandBuilder::new("bash");
    shell.args(["--norc", "--noprofile", "-i"]);
    plain_environment(&mut shell);
    shell.env("PS1", "shell> ");
    let mut pty = Pty::start(shell, LEAST);
    pty.wait_for("shell>");
    let dir = folder.path().display();
    pty.send(&format!(
        "{PROGRAM} new {RUNNER} --guard-ms 0 --sessions {dir}\n"
    ));
    pty.wait_for("? help");
    let before = pty.rows();
    for _ in 0..wanted {
        pty.send("\x1a");
        pty.wait_for("Stopped");
        pty.assert_given_back_but_for_the_shell();
        pty.send("fg\n");
        pty.wait_until("the same screen", |pty| pty.rows()[1..] == before[1..]);
    }
    pty.send("\x03");
    pty.wait_until("the shell", |pty| {
        pty.rows().iter().rev().any(|row| row.starts_with("shell>"))
    });
    pty.send("exit\n");
    pty.ended();
    row.done(wanted, "");
}

/// Says in a program of its own what is to fall over.
const FALLS: &str = "ENDSMEET_TEST_FALLS";
const SAID: &str = "it fell over";

/// A dressing whose keeping falls over: when it is asked, or when it is looked at to be drawn, or in a
/// thread beside.
struct Falling {
    inner: InMemory,
    what: String,
    asked: bool,
}

impl Keep for Falling {
    fn dressing(&self) -> &Dressing {
        assert!(!(self.what == "drawing" && self.asked), "{SAID}");
        self.inner.dressing()
    }

    fn ask(&mut self, ask: &Ask, when: When) -> Result<Entry, NotDone> {
        assert!(self.what != "main", "{SAID}");
        if self.what == "thread" {
            let beside = std::thread::Builder::new().name("beside".to_owned());
            drop(beside.spawn(|| panic!("{SAID}")));
        }
        self.asked = true;
        self.inner.ask(ask, when)
    }
}

/// Runs a screen that falls over, in this process and its terminal.
fn fall(what: &str) {
    let mut keep = Falling {
        inner: InMemory::new(Dressing::new(demo("hall-runner.json"), &[])),
        what: what.to_owned(),
        asked: false,
    };
    let manner = Manner {
        theme: Theme::Colour,
        ink: Ink::Blocks,
    };
    let method = Method::embedded();
    let mut lot = || 0;
    let mut sitting = Sitting::new(&mut keep, &method, Settings::default(), manner, &mut lot);
    let _ = driver::run(&mut sitting, Clock::default(), &mut |_| None);
    std::thread::sleep(PATIENCE);
}

#[test]
fn a_panic_anywhere_gives_the_terminal_back_and_says_where() {
    if let Ok(what) = std::env::var(FALLS) {
        // the hook tells the main thread by its name; here a test's thread stands in for it
        let main = std::thread::Builder::new().name("main".to_owned());
        let fell = main.spawn(move || fall(&what)).unwrap().join();
        std::process::exit(if fell.is_err() { 101 } else { 0 });
    }
    let row = Row::begin("panic in main, in drawing, in a thread");
    let each = trials(1, 20, 200);
    for what in ["main", "drawing", "thread"] {
        for _ in 0..each {
            let mut command = CommandBuilder::new(std::env::current_exe().unwrap());
            command.args([
                "--exact",
                "signals::a_panic_anywhere_gives_the_terminal_back_and_says_where",
                "--nocapture",
            ]);
            plain_environment(&mut command);
            command.env(FALLS, what);
            let mut pty = Pty::start(command, LEAST);
            pty.wait_for("? help");
            pty.send(" ");
            assert_eq!(pty.ended(), 101, "{what}");
            pty.assert_given_back();
            pty.wait_for(SAID);
        }
    }
    row.done(3 * each, "");
}

#[test]
fn a_save_that_hangs_shuts_no_way_out() {
    let row = Row::begin("a save that hangs, left by Ctrl-C");
    let there = std::process::Command::new("strace")
        .args(["-qq", "-o", "/dev/null", "true"])
        .status();
    if !there.is_ok_and(|status| status.success()) {
        return row.skipped("strace is not here, or may not trace");
    }
    let wanted = trials(1, 3, 20);
    for _ in 0..wanted {
        let folder = folder();
        let calls = folder.path().join("calls.txt");
        let mut strace = CommandBuilder::new("strace");
        strace.args([
            "-f",
            "-qq",
            "-o",
            calls.to_str().unwrap(),
            "-e",
            "trace=fdatasync",
        ]);
        strace.args(["-e", "inject=fdatasync:delay_enter=40000000"]);
        strace.args([
            PROGRAM,
            "new",
            RUNNER,
            "--guard-ms",
            "0",
            "--sessions",
            folder.path().to_str().unwrap(),
        ]);
        plain_environment(&mut strace);
        let mut pty = Pty::start(strace, LEAST);
        pty.wait_for("? help");
        pty.send(" ");
        pty.wait_for("This save takes long");
        pty.send("\x03");
        // the end itself is held up by strace, which lets nothing go before its time
        pty.assert_given_back();
        drop(pty);
        let (kept, state) = entries(&runner(folder.path()));
        assert!(kept <= 1 && state == State::Clean, "{kept} {state:?}");
    }
    row.done(wanted, "");
}
