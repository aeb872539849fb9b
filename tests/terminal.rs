//! The real program in a real terminal: a pty on one side, a screen made of its bytes on the
//! other. Few, since each starts the program; what needs no terminal is tried in `screens.rs`.
#![cfg(unix)]
#![allow(clippy::unwrap_used)]

mod common;

use common::{ask, at, demo};
use endsmeet::dressing::{Ask, Dressing, View};
use endsmeet::hand::{Key, Press, Settings};
use endsmeet::journal::keep::{InMemory, Keep};
use endsmeet::method::Method;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::screens::{LEAST, Manner, Screen};
use endsmeet::terminal::sitting::Sitting;
use endsmeet::terminal::theme::Theme;
use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::cell::RefCell;
use std::io::{Read, Write};
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// However busy the machine is, nothing here takes longer.
const PATIENCE: Duration = Duration::from_secs(30);

/// The program in its terminal.
struct Pty {
    master: Option<Box<dyn MasterPty + Send>>,
    writer: Box<dyn Write + Send>,
    child: Box<dyn Child + Send + Sync>,
    bytes: Arc<Mutex<Vec<u8>>>,
    size: (u16, u16),
    /// The screen so far, and how many of the bytes it has taken in.
    screen: RefCell<(vt100::Parser, usize)>,
    stop: Arc<AtomicBool>,
    reading: Option<JoinHandle<()>>,
}

fn size_of((w, h): (u16, u16)) -> PtySize {
    PtySize {
        rows: h,
        cols: w,
        pixel_width: 0,
        pixel_height: 0,
    }
}

fn blank((w, h): (u16, u16)) -> vt100::Parser {
    let size = |n: u16| n.max(1).try_into().unwrap();
    vt100::Parser::new(size(h), size(w), 0)
}

/// The program with these arguments, dressings in `folder`.
fn endsmeet(folder: &Path, args: &[&str]) -> CommandBuilder {
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_endsmeet"));
    command.args(args);
    command.arg("--sessions");
    command.arg(folder);
    plain_environment(&mut command);
    command
}

fn plain_environment(command: &mut CommandBuilder) {
    command.cwd(env!("CARGO_MANIFEST_DIR"));
    for name in ["NO_COLOR", "LC_ALL", "LC_CTYPE"] {
        command.env_remove(name);
    }
    command.env("TERM", "xterm-256color");
    command.env("LANG", "C.UTF-8");
}

impl Pty {
    fn start(command: CommandBuilder, size: (u16, u16)) -> Self {
        let pair = native_pty_system().openpty(size_of(size)).unwrap();
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().unwrap();
        let writer = pair.master.take_writer().unwrap();
        let bytes = Arc::new(Mutex::new(Vec::new()));
        let sink = Arc::clone(&bytes);
        let stop = Arc::new(AtomicBool::new(false));
        let stopped = Arc::clone(&stop);
        let reading = std::thread::spawn(move || {
            let mut piece = [0; 4096];
            while let Ok(n) = reader.read(&mut piece) {
                if n == 0 || stopped.load(Ordering::SeqCst) {
                    break;
                }
                sink.lock().unwrap().extend_from_slice(&piece[..n]);
            }
        });
        Self {
            master: Some(pair.master),
            writer,
            child,
            bytes,
            size,
            screen: RefCell::new((blank(size), 0)),
            stop,
            reading: Some(reading),
        }
    }

    /// Closes this side of the terminal: the reading thread, the writer, the master.
    fn let_go(&mut self) {
        self.stop.store(true, Ordering::SeqCst);
        // The thread waits for bytes: a key makes the program draw, and so it ends.
        self.send("?");
        self.reading.take().unwrap().join().unwrap();
        self.writer = Box::new(std::io::sink());
        self.master = None;
    }

    fn send(&mut self, keys: &str) {
        self.writer.write_all(keys.as_bytes()).unwrap();
        self.writer.flush().unwrap();
    }

    fn bytes(&self) -> Vec<u8> {
        self.bytes.lock().unwrap().clone()
    }

    /// What stands on the screen; rows without their blanks at the end.
    fn rows(&self) -> Vec<String> {
        let mut screen = self.screen.borrow_mut();
        let (parser, taken) = &mut *screen;
        let bytes = self.bytes.lock().unwrap();
        parser.process(&bytes[*taken..]);
        *taken = bytes.len();
        parser
            .screen()
            .rows(0, self.size.0)
            .map(|row| row.trim_end().to_owned())
            .collect()
    }

    fn wait_until(&self, what: &str, mut is: impl FnMut(&Self) -> bool) {
        let start = Instant::now();
        while !is(self) {
            assert!(
                start.elapsed() < PATIENCE,
                "never came: {what}\n{}",
                self.rows().join("\n")
            );
            std::thread::sleep(Duration::from_millis(4));
        }
    }

    fn wait_for(&self, text: &str) {
        self.wait_until(text, |pty| pty.rows().iter().any(|row| row.contains(text)));
    }

    /// Another size; what was drawn before is forgotten, since the program draws anew.
    fn resize(&mut self, size: (u16, u16)) {
        self.size = size;
        let taken = self.bytes.lock().unwrap().len();
        *self.screen.borrow_mut() = (blank(size), taken);
        let master = self.master.as_ref().unwrap();
        master.resize(size_of(size)).unwrap();
    }

    fn signal(&self, name: &str) {
        let pid = self.child.process_id().unwrap().to_string();
        let sent = std::process::Command::new("kill")
            .args(["-s", name, &pid])
            .status()
            .unwrap();
        assert!(sent.success());
    }

    /// Waits for the program's end; its exit code.
    fn ended(&mut self) -> u32 {
        let start = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status.exit_code();
            }
            assert!(start.elapsed() < PATIENCE, "the program did not end");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// Asserts that the terminal is as it was: cooked, on its normal screen, cursor shown, no
    /// focus reports, nothing drawn after that.
    fn assert_given_back(&self) {
        self.wait_until("the end of the alternate screen", |pty| {
            String::from_utf8_lossy(&pty.bytes()).contains("\x1b[?1049l")
        });
        let bytes = String::from_utf8_lossy(&self.bytes()).into_owned();
        let given_back = bytes.rfind("\x1b[?1049l").unwrap();
        for on in ["\x1b[?1049h", "\x1b[?1004h", "\x1b[?25l"] {
            assert!(bytes.rfind(on).unwrap() < given_back, "{on:?} came last");
        }
        assert!(
            bytes.rfind("\x1b[23;0t") > bytes.rfind("\x1b[22;0t"),
            "the title"
        );
        assert!(bytes.rfind("\x1b[?25h") > bytes.rfind("\x1b[?25l"));
        assert!(bytes.rfind("\x1b[?1004l") > bytes.rfind("\x1b[?1004h"));
        assert!(
            !bytes[given_back..].contains('█'),
            "something was drawn after the terminal was given back"
        );
        let terminal = self.master.as_ref().unwrap().get_termios().unwrap();
        let modes = format!("{:?}", terminal.local_flags);
        assert!(
            modes.contains("ICANON") && modes.contains("ECHO"),
            "{modes}"
        );
    }
}

impl Drop for Pty {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

const RUNNER: &str = "assets/demo/hall-runner.json";

fn started(folder: &Path) -> Pty {
    let pty = Pty::start(endsmeet(folder, &["new", RUNNER]), LEAST);
    pty.wait_for("? help");
    pty
}

#[test]
fn every_way_out_gives_the_terminal_back() {
    for (way, code) in [
        ("TERM", 143),
        ("INT", 130),
        ("HUP", 129),
        ("QUIT", 131),
        ("\x03", 0),
        ("qy", 0),
    ] {
        let folder = folder();
        let mut pty = started(folder.path());
        if way.chars().all(|c| c.is_ascii_uppercase()) {
            pty.signal(way);
        } else {
            pty.send(way);
        }
        let ended = pty.ended();
        pty.assert_given_back();
        assert_eq!(ended, code, "{way:?}");
    }
}

#[test]
fn a_terminal_that_goes_ends_the_program_even_where_the_signal_is_ignored() {
    let folder = folder();
    let mut shell = CommandBuilder::new("sh");
    let program = env!("CARGO_BIN_EXE_endsmeet");
    let dir = folder.path().display();
    shell.args([
        "-c",
        &format!("trap '' HUP; exec '{program}' new {RUNNER} --sessions '{dir}'"),
    ]);
    plain_environment(&mut shell);
    let mut pty = Pty::start(shell, LEAST);
    pty.wait_for("? help");
    pty.let_go();
    let start = Instant::now();
    while pty.child.try_wait().unwrap().is_none() {
        assert!(
            start.elapsed() < PATIENCE,
            "the program went on without a terminal"
        );
        std::thread::sleep(Duration::from_millis(10));
    }
}

/// Set where this test program is started again in a terminal of its own, to panic there.
const PANIC_THERE: &str = "ENDSMEET_TEST_PANIC_THERE";

#[test]
fn a_panic_in_a_thread_beside_the_loop_gives_the_terminal_back_and_ends_the_program() {
    const SAID: &str = "the thread fell over";
    if std::env::var_os(PANIC_THERE).is_some() {
        let _taken = endsmeet::terminal::restore::Taken::start().unwrap();
        let _ = std::thread::spawn(|| panic!("{SAID}")).join();
        std::thread::sleep(PATIENCE);
        return;
    }
    let mut command = CommandBuilder::new(std::env::current_exe().unwrap());
    command.args([
        "--exact",
        "a_panic_in_a_thread_beside_the_loop_gives_the_terminal_back_and_ends_the_program",
        "--nocapture",
    ]);
    plain_environment(&mut command);
    command.env(PANIC_THERE, "1");
    let mut pty = Pty::start(command, LEAST);
    assert_eq!(pty.ended(), 101);
    pty.assert_given_back();
    pty.wait_for(SAID);
}

/// How often the program's threads have gone to sleep of their own will.
#[cfg(target_os = "linux")]
fn sleeps(pid: u32) -> u64 {
    let threads = std::fs::read_dir(format!("/proc/{pid}/task")).unwrap();
    threads
        .filter_map(|thread| std::fs::read_to_string(thread.ok()?.path().join("status")).ok())
        .filter_map(|status| {
            let line = status
                .lines()
                .find(|line| line.starts_with("voluntary_ctxt_switches"))?;
            line.split_whitespace().last()?.parse::<u64>().ok()
        })
        .sum()
}

#[cfg(target_os = "linux")]
#[test]
fn while_nothing_is_lit_the_program_does_not_wake() {
    let folder = folder();
    let pty = started(folder.path());
    std::thread::sleep(Duration::from_millis(300));
    let pid = pty.child.process_id().unwrap();
    let (before, bytes) = (sleeps(pid), pty.bytes().len());
    std::thread::sleep(Duration::from_millis(1500));
    assert_eq!((sleeps(pid), pty.bytes().len()), (before, bytes));
}

#[test]
fn an_unfinished_paste_does_not_shut_the_way_out() {
    let folder = folder();
    let mut pty = started(folder.path());
    pty.send("\x1b[200~abc");
    std::thread::sleep(Duration::from_millis(100));
    pty.signal("TERM");
    assert_eq!(pty.ended(), 143);
    pty.assert_given_back();
}

#[test]
fn no_color_sends_no_colour_and_keeps_bold() {
    let folder = folder();
    let mut command = endsmeet(folder.path(), &["new", RUNNER]);
    command.env("NO_COLOR", "1");
    let pty = Pty::start(command, LEAST);
    pty.wait_for("? help");
    let bytes = String::from_utf8_lossy(&pty.bytes()).into_owned();
    for command in bytes.split("\x1b[").skip(1) {
        let parameters: String = command
            .chars()
            .take_while(|c| c.is_ascii_digit() || *c == ';')
            .collect();
        if command[parameters.len()..].starts_with('m') {
            let numbers = parameters.split(';').filter_map(|n| n.parse::<u32>().ok());
            for number in numbers {
                assert!(
                    matches!(number, 0..=29 | 39 | 49),
                    "a colour was sent: {parameters:?}"
                );
            }
        }
    }
    assert!(bytes.contains("\x1b[1m"), "nothing is bold");
}

#[test]
fn a_held_key_is_one_press_at_real_times_and_a_longer_one_the_menu() {
    let folder = folder();
    let mut pty = started(folder.path());
    pty.send(" ");
    pty.wait_until("the second step", |pty| !pty.rows()[0].contains("gather"));
    std::thread::sleep(Duration::from_millis(900));
    let before = pty.rows();
    let hold = |pty: &mut Pty, ms: u64| {
        pty.send(" ");
        std::thread::sleep(Duration::from_millis(250));
        for _ in 0..(ms.saturating_sub(250) / 33) {
            pty.send(" ");
            std::thread::sleep(Duration::from_millis(33));
        }
    };
    hold(&mut pty, 900);
    pty.wait_until("one step more", |pty| pty.rows()[0] != before[0]);
    let one_more = pty.rows();
    std::thread::sleep(Duration::from_millis(300));
    assert_eq!(pty.rows(), one_more, "a held key is one press");
    pty.send("\x7f");
    pty.wait_until("the step back", |pty| pty.rows()[0] == before[0]);
    std::thread::sleep(Duration::from_millis(800));
    hold(&mut pty, 2000);
    pty.wait_for("7 STOP FOR TODAY");
    pty.send("1");
    pty.wait_until("the step from which the hold began", |pty| {
        pty.rows()[0] == before[0]
    });
}

#[test]
fn a_storm_of_sizes_and_keys_leaves_a_screen_that_is_whole() {
    let folder = folder();
    let mut pty = started(folder.path());
    let mut seed: u32 = 12345;
    let mut next = |below: u32| {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (seed >> 16) % below
    };
    for _ in 0..120 {
        let size = (next(300) as u16, next(100) as u16);
        let master = pty.master.as_ref().unwrap();
        master.resize(size_of(size)).unwrap();
        let keys = [
            " ", "\x7f", "\x1b[C", "?", "\x1b", "x", "7", "\x1b[5~", "\t", ".",
        ];
        pty.send(keys[next(10) as usize]);
        std::thread::sleep(Duration::from_millis(u64::from(next(4))));
    }
    // What was drawn before is of other sizes: only what comes from here on is looked at.
    std::thread::sleep(Duration::from_millis(300));
    pty.resize((90, 30));
    pty.wait_until("a whole screen", |pty| {
        let rows = pty.rows();
        let last = rows.last().unwrap();
        last.contains("help")
            || last.contains("take the lit line")
            || last.contains("back to the work")
    });
    pty.send("\x03");
    assert_eq!(pty.ended(), 0);
}

#[test]
fn the_stop_key_gives_the_shell_its_screen_and_fg_comes_back() {
    let folder = folder();
    let mut shell = CommandBuilder::new("bash");
    shell.args(["--norc", "--noprofile", "-i"]);
    plain_environment(&mut shell);
    shell.env("PS1", "shell> ");
    let mut pty = Pty::start(shell, LEAST);
    pty.wait_for("shell>");
    let program = env!("CARGO_BIN_EXE_endsmeet");
    let dir = folder.path().display();
    pty.send(&format!("{program} new {RUNNER} --sessions {dir}\n"));
    pty.wait_for("? help");
    let before = pty.rows();
    pty.send("\x1a");
    pty.wait_for("Stopped");
    pty.assert_given_back_but_for_the_shell();
    pty.send("fg\n");
    pty.wait_until("the same screen", |pty| pty.rows() == before);
    pty.send("\x03");
    pty.wait_until("the shell", |pty| {
        pty.rows().iter().rev().any(|row| row.starts_with("shell>"))
    });
    pty.send("exit\n");
    pty.ended();
}

impl Pty {
    /// A shell with line editing has its own terminal modes, so only the screen is looked at.
    fn assert_given_back_but_for_the_shell(&self) {
        let bytes = String::from_utf8_lossy(&self.bytes()).into_owned();
        assert!(bytes.rfind("\x1b[?1049l") > bytes.rfind("\x1b[?1049h"));
        assert!(bytes.rfind("\x1b[?25h") > bytes.rfind("\x1b[?25l"));
    }
}

/// The same dressing in this process: it tells what the screen must show after each key.
struct Mirror {
    sitting: Sitting<'static>,
    now: u64,
}

const MANNER: Manner = Manner {
    theme: Theme::Colour,
    ink: Ink::Blocks,
};

impl Mirror {
    /// A mirror of a dressing; `now` is its clock in milliseconds. It lasts as long as the test.
    fn new(dressing: Dressing, now: u64) -> Self {
        let keep: &'static mut dyn Keep = Box::leak(Box::new(InMemory::new(dressing)));
        let method = Box::leak(Box::new(Method::embedded()));
        let lot = Box::leak(Box::new(|| 0));
        let settings = Settings {
            guard: Duration::ZERO,
            quiet: Duration::ZERO,
            ..Settings::default()
        };
        Self {
            sitting: Sitting::new(keep, method, settings, MANNER, lot),
            now,
        }
    }

    fn dressing(&self) -> &Dressing {
        self.sitting.dressing()
    }

    /// Presses keys one after the other; the rows of the screen after the last.
    fn press(&mut self, keys: &[Key], size: (u16, u16)) -> Vec<String> {
        for key in keys {
            self.now += 4000;
            let press = Press::down(*key, Duration::from_millis(self.now));
            self.sitting.press(press, at(self.now));
        }
        let mut buffer = Buffer::empty(Rect::new(0, 0, size.0, size.1));
        for placed in self.sitting.bands(buffer.area) {
            placed.draw(&mut buffer, MANNER);
        }
        (0..size.1)
            .map(|y| {
                let row: String = (0..size.0)
                    .map(|x| buffer[(x, y)].symbol().to_owned())
                    .collect();
                row.trim_end().to_owned()
            })
            .collect()
    }
}

/// Both together: every key goes to the program and to the mirror, and the screens must agree.
struct Both {
    pty: Pty,
    mirror: Mirror,
}

impl Both {
    /// Presses and waits until the program shows what the mirror shows; the first row is left
    /// out, since it says how long the rest will take.
    fn press(&mut self, keys: &[Key]) {
        let bytes: String = keys
            .iter()
            .map(|key| match key {
                Key::Space => " ".to_owned(),
                Key::Enter => "\r".to_owned(),
                Key::Backspace => "\x7f".to_owned(),
                Key::Char(c) => c.to_string(),
                other => panic!("no bytes for {other:?}"),
            })
            .collect();
        self.pty.send(&bytes);
        let expected = self.mirror.press(keys, self.pty.size);
        self.pty.wait_until(&expected.join("\n"), |pty| {
            let rows = pty.rows();
            rows.len() == expected.len() && rows[1..] == expected[1..]
        });
    }

    fn type_number(&mut self, number: &str) {
        let mut keys: Vec<Key> = number.chars().map(Key::Char).collect();
        keys.push(Key::Enter);
        self.press(&keys);
    }

    /// Presses on, answering every look as the loom would, until it is as wanted.
    fn lead(&mut self, wanted: impl Fn(&View) -> bool) {
        for _ in 0..3000 {
            if wanted(&self.mirror.dressing().view()) {
                return;
            }
            match common::true_answer(self.mirror.dressing()) {
                Some(number) => self.type_number(&number),
                None => self.press(&[Key::Space]),
            }
        }
        panic!("never came to it");
    }
}

fn resumed(folder: &Path, size: (u16, u16)) -> Pty {
    let command = endsmeet(folder, &["resume", "--guard-ms", "0"]);
    let pty = Pty::start(command, size);
    pty.wait_for("? help");
    pty
}

#[test]
fn the_runner_is_dressed_from_new_to_ready_with_a_miscount_a_kill_and_a_resize() {
    let folder = folder();
    let command = endsmeet(folder.path(), &["new", RUNNER, "--guard-ms", "0"]);
    let pty = Pty::start(command, LEAST);
    pty.wait_for("? help");
    let mirror = Mirror::new(Dressing::new(demo("hall-runner.json"), &[]), 0);
    let mut both = Both { pty, mirror };

    both.lead(|view| matches!(view, View::Call(_)));
    // One press back, and the same press again.
    both.press(&[Key::Space]);
    both.press(&[Key::Backspace]);
    both.press(&[Key::Space]);
    // A miscount at the end of the first batch: an end and a heddle of shaft 1 left over.
    both.lead(|view| matches!(view, View::UsedUp(_)));
    both.press(&[Key::Char('2')]);
    for number in ["1", "1", "0", "0", "0"] {
        both.type_number(number);
    }
    assert!(matches!(
        both.mirror.dressing().view(),
        View::Disagreeing(_)
    ));
    let again = again_key(&both);
    both.press(&[again]);
    // The window grows in the middle.
    both.lead(|view| matches!(view, View::Call(call) if call.batch.number == 3));
    both.pty.resize((120, 40));
    both.pty.wait_for("? help");
    both.press(&[Key::Space]);
    // The program is killed in the middle of a batch, and gone on with.
    both.lead(|view| matches!(view, View::Call(call) if call.batch.number == 4));
    both.pty.signal("KILL");
    both.pty.ended();
    both.pty = resumed(folder.path(), (120, 40));
    let mut d = both.mirror.dressing().clone();
    ask(&mut d, &Ask::Opened).unwrap();
    both.mirror = Mirror::new(d, 100_000_000);

    both.lead(|view| matches!(view, View::Ready(_)));
    both.pty.wait_for("The loom is ready to weave");
    both.pty.send("qy");
    assert_eq!(both.pty.ended(), 0);
    both.pty.assert_given_back();
}

/// The number key of the way that threads the batch again.
fn again_key(both: &Both) -> Key {
    let rows = both.pty.rows();
    let row = rows
        .iter()
        .find(|row| row.contains("draw the batch out and thread it again"))
        .unwrap();
    Key::Char(row.trim_start_matches(['>', ' ']).chars().next().unwrap())
}

#[test]
fn a_plan_is_filled_in_left_half_way_and_finished_and_its_dressing_begins() {
    const F4: &str = "\x1bOS";
    let folder = folder();
    let kept = folder.path().join("unfinished-plan.json");
    let mut pty = Pty::start(endsmeet(folder.path(), &["new"]), LEAST);
    pty.wait_for("Name of the warp, needed");
    pty.send("My own towel\r\r10\r40\r");
    pty.wait_for("Still needed: Threading.");
    pty.send("1 2 3");
    pty.wait_for("> 1 2 3");
    pty.send("\x03");
    assert_eq!(pty.ended(), 0);
    pty.assert_given_back();
    let saved = std::fs::read_to_string(&kept).unwrap();
    assert!(saved.contains("\"threading\": \"1 2 3\""), "{saved}");

    let mut pty = Pty::start(endsmeet(folder.path(), &[]), LEAST);
    pty.wait_for("Go on with the new plan that was left half-way");
    pty.send("\r");
    pty.wait_for("it goes on where it was left");
    pty.send(" 4\r");
    pty.wait_for("Everything needed is answered.");
    pty.wait_for("So far: 40 ends; 4 in wide in the reed");
    pty.send(F4);
    pty.wait_for("Prepare");
    assert!(folder.path().join("my-own-towel.jsonl").exists());
    assert!(!kept.exists());
    pty.send("\x03");
    assert_eq!(pty.ended(), 0);
    pty.assert_given_back();

    let mut pty = Pty::start(endsmeet(folder.path(), &[]), LEAST);
    pty.wait_for("Go on with my-own-towel: Prepare");
    pty.wait_for("A new plan: the form");
    pty.send("\x03");
    assert_eq!(pty.ended(), 0);
}
