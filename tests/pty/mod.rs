//! The real program in a pseudo-terminal, a screen made of its bytes, and the same dressing in this
//! process beside it. Owns the waiting; what is wanted of the program stands in the tests.
#![cfg(unix)]
#![allow(clippy::unwrap_used, dead_code, missing_docs)]

pub mod both;

use super::common::at;
use endsmeet::dressing::Dressing;
use endsmeet::hand::{Key, Press, Settings};
use endsmeet::journal::keep::{InMemory, Keep};
use endsmeet::method::Method;
use endsmeet::terminal::canvas::Canvas;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::screens::{LEAST, Manner, Screen};
use endsmeet::terminal::sitting::Sitting;
use endsmeet::terminal::theme::Theme;
use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use ratatui::layout::Rect;
use std::cell::RefCell;
use std::io::{Read, Write};
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// However busy the machine is, nothing here takes longer.
pub const PATIENCE: Duration = Duration::from_secs(30);

/// The program in its terminal.
pub struct Pty {
    pub master: Option<Box<dyn MasterPty + Send>>,
    pub writer: Box<dyn Write + Send>,
    pub child: Box<dyn Child + Send + Sync>,
    pub bytes: Arc<Mutex<Vec<u8>>>,
    pub size: (u16, u16),
    /// The screen so far, and how many of the bytes it has taken in.
    pub screen: RefCell<(vt100::Parser, usize)>,
    pub stop: Arc<AtomicBool>,
    pub reading: Option<JoinHandle<()>>,
}

pub fn size_of((w, h): (u16, u16)) -> PtySize {
    PtySize {
        rows: h,
        cols: w,
        pixel_width: 0,
        pixel_height: 0,
    }
}

pub fn blank((w, h): (u16, u16)) -> vt100::Parser {
    let size = |n: u16| n.max(1).try_into().unwrap();
    vt100::Parser::new(size(h), size(w), 0)
}

/// The program with these arguments, dressings in `folder`.
pub fn endsmeet(folder: &Path, args: &[&str]) -> CommandBuilder {
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_endsmeet"));
    command.args(args);
    command.arg("--sessions");
    command.arg(folder);
    plain_environment(&mut command);
    // no first start, unless a test makes one
    command.env("ENDSMEET_SETTINGS", "tests/common/usual-settings.toml");
    command
}

pub fn plain_environment(command: &mut CommandBuilder) {
    command.cwd(env!("CARGO_MANIFEST_DIR"));
    for name in ["NO_COLOR", "LC_ALL", "LC_CTYPE"] {
        command.env_remove(name);
    }
    command.env("TERM", "xterm-256color");
    command.env("LANG", "C.UTF-8");
    command.env("RUST_BACKTRACE", "0");
}

impl Pty {
    pub fn start(command: CommandBuilder, size: (u16, u16)) -> Self {
        let pair = native_pty_system().openpty(size_of(size)).unwrap();
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let reader = pair.master.try_clone_reader().unwrap();
        let writer = pair.master.take_writer().unwrap();
        let bytes = Arc::new(Mutex::new(Vec::new()));
        let stop = Arc::new(AtomicBool::new(false));
        let reading = read_into(&bytes, &stop, reader);
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
    pub fn let_go(&mut self) {
        self.stop.store(true, Ordering::SeqCst);
        // The thread waits for bytes: a key makes the program draw, and so it ends.
        self.send("?");
        self.reading.take().unwrap().join().unwrap();
        self.writer = Box::new(std::io::sink());
        self.master = None;
    }

    pub fn send(&mut self, keys: &str) {
        self.writer.write_all(keys.as_bytes()).unwrap();
        self.writer.flush().unwrap();
    }

    pub fn bytes(&self) -> Vec<u8> {
        self.bytes.lock().unwrap().clone()
    }

    /// What stands on the screen; rows without their blanks at the end.
    pub fn rows(&self) -> Vec<String> {
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

    /// The items that are lit: rows of cells on a ground that is not black.
    pub fn lit(&self) -> Vec<String> {
        self.rows();
        let screen = self.screen.borrow();
        let screen = screen.0.screen();
        let black = vt100::Color::Idx(endsmeet::terminal::theme::BLACK);
        let row = |y: u16| {
            let cells = (0..self.size.0).filter_map(|x| screen.cell(y, x));
            let lit =
                cells.filter(|cell| ![black, vt100::Color::Default].contains(&cell.bgcolor()));
            lit.map(|cell| {
                if cell.has_contents() {
                    cell.contents()
                } else {
                    " "
                }
            })
            .collect::<String>()
            .trim()
            .to_owned()
        };
        (0..self.size.1)
            .map(row)
            .filter(|row| !row.is_empty())
            .collect()
    }

    pub fn wait_until(&self, what: &str, mut is: impl FnMut(&Self) -> bool) {
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

    pub fn wait_for(&self, text: &str) {
        self.wait_until(text, |pty| pty.rows().iter().any(|row| row.contains(text)));
    }

    /// Another size; what was drawn before is forgotten, since the program draws anew.
    pub fn resize(&mut self, size: (u16, u16)) {
        self.size = size;
        let taken = self.bytes.lock().unwrap().len();
        *self.screen.borrow_mut() = (blank(size), taken);
        let master = self.master.as_ref().unwrap();
        master.resize(size_of(size)).unwrap();
    }

    pub fn signal(&self, name: &str) {
        let pid = self.child.process_id().unwrap().to_string();
        let sent = std::process::Command::new("kill")
            .args(["-s", name, &pid])
            .status()
            .unwrap();
        assert!(sent.success());
    }

    /// Whether the program has ended.
    pub fn is_over(&self) -> bool {
        let bytes = self.bytes();
        let taken = String::from_utf8_lossy(&bytes).contains("\x1b[?1049l");
        taken || self.reading.as_ref().is_none_or(JoinHandle::is_finished)
    }

    /// Waits for the program's end; its exit code.
    pub fn ended(&mut self) -> u32 {
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
    pub fn assert_given_back(&self) {
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
        // the modes are given back after the screen, and a process may be stopped in between
        self.wait_until("lines and echo of the terminal", |pty| {
            let terminal = pty.master.as_ref().unwrap().get_termios().unwrap();
            let modes = format!("{:?}", terminal.local_flags);
            modes.contains("ICANON") && modes.contains("ECHO")
        });
    }
}

impl Drop for Pty {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

pub fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

pub const RUNNER: &str = "assets/demo/hall-runner.json";

pub fn started(folder: &Path) -> Pty {
    let pty = Pty::start(endsmeet(folder, &["new", RUNNER]), LEAST);
    pty.wait_for("? help");
    pty
}

/// The same dressing in this process: it tells what the screen must show after each key.
pub struct Mirror {
    pub sitting: Sitting<'static>,
    pub now: u64,
}

const MANNER: Manner = Manner {
    theme: Theme::Colour,
    ink: Ink::Blocks,
};

impl Mirror {
    /// A mirror of a dressing; `now` is its clock in milliseconds. It lasts as long as the test.
    pub fn new(dressing: Dressing, now: u64) -> Self {
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

    pub fn dressing(&self) -> &Dressing {
        self.sitting.dressing()
    }

    /// Presses keys one after the other; the rows of the screen after the last.
    pub fn press(&mut self, keys: &[Key], size: (u16, u16)) -> Vec<String> {
        for key in keys {
            self.now += 4000;
            let press = Press::down(*key, Duration::from_millis(self.now));
            self.sitting.press(press, at(self.now));
        }
        let mut canvas = Canvas::empty(Rect::new(0, 0, size.0, size.1));
        for placed in self.sitting.bands(canvas.area) {
            placed.draw(&mut canvas, MANNER);
        }
        (0..size.1)
            .map(|y| {
                let row: String = (0..size.0).map(|x| canvas.symbol_at((x, y))).collect();
                row.trim_end().to_owned()
            })
            .collect()
    }
}

impl Pty {
    /// A shell with line editing has its own terminal modes, so only the screen is looked at.
    pub fn assert_given_back_but_for_the_shell(&self) {
        let bytes = String::from_utf8_lossy(&self.bytes()).into_owned();
        assert!(bytes.rfind("\x1b[?1049l") > bytes.rfind("\x1b[?1049h"));
        assert!(bytes.rfind("\x1b[?25h") > bytes.rfind("\x1b[?25l"));
    }
}

impl Pty {
    /// Waits until all that the program wrote before its end has been read.
    pub fn drained(&mut self) {
        if let Some(reading) = self.reading.take() {
            reading.join().unwrap();
        }
    }

    /// Stops reading what the program writes; its terminal fills up.
    pub fn pause(&mut self) {
        self.stop.store(true, Ordering::SeqCst);
        // The thread waits for bytes: a key makes the program draw, and so it ends.
        self.send("?");
        self.drained();
    }

    /// Reads on after a pause.
    pub fn read_on(&mut self) {
        self.stop = Arc::new(AtomicBool::new(false));
        let reader = self.master.as_ref().unwrap().try_clone_reader().unwrap();
        self.reading = Some(read_into(&self.bytes, &self.stop, reader));
    }

    /// Forgets what was drawn, where it has grown long: a storm draws a great deal.
    pub fn forget(&self) {
        let mut bytes = self.bytes.lock().unwrap();
        if bytes.len() > 4 << 20 {
            bytes.clear();
            *self.screen.borrow_mut() = (blank(self.size), 0);
        }
    }

    /// Bytes that are no text; a program that has ended takes none.
    pub fn send_bytes(&mut self, bytes: &[u8]) {
        let _ = self
            .writer
            .write_all(bytes)
            .and_then(|()| self.writer.flush());
    }
}

fn read_into(
    bytes: &Arc<Mutex<Vec<u8>>>,
    stop: &Arc<AtomicBool>,
    mut reader: Box<dyn Read + Send>,
) -> JoinHandle<()> {
    let (sink, stopped) = (Arc::clone(bytes), Arc::clone(stop));
    std::thread::spawn(move || {
        let mut piece = [0; 4096];
        while let Ok(n) = reader.read(&mut piece) {
            if n == 0 || stopped.load(Ordering::SeqCst) {
                break;
            }
            sink.lock().unwrap().extend_from_slice(&piece[..n]);
        }
    })
}
