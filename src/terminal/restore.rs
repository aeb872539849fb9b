//! The terminal taken and given back. Owns raw mode, the alternate screen, the cursor, focus
//! reports, and the one [`restore`] that every way out calls: the end of the program, a panic, a
//! signal, a terminal that has gone. Never enables bracketed paste or keyboard enhancement, which
//! would let a broken paste swallow every later key.

use crossterm::cursor::{Hide, Show};
use crossterm::event::{DisableFocusChange, EnableFocusChange};
use crossterm::style::{Print, ResetColor};
use crossterm::terminal::{
    EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use crossterm::{execute, queue};
use std::io::{self, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, MutexGuard, TryLockError};
use std::time::Duration;

/// Whether the terminal is ours now.
static OURS: AtomicBool = AtomicBool::new(false);
/// Held while bytes go to the terminal, so that nothing is drawn after it was given back.
static WRITING: Mutex<()> = Mutex::new(());
/// Held while the terminal is given back and taken again, so that a way out in the middle of that
/// waits for it and then gives it back for good.
static CHANGING: Mutex<()> = Mutex::new(());

/// Ctrl-C was pressed, and the main loop has not seen it yet.
static INTERRUPTED: AtomicBool = AtomicBool::new(false);

/// The terminal was taken again after a stop from outside, and nothing was drawn on it since.
static BARE: AtomicBool = AtomicBool::new(false);

/// A way out may wait so long for a frame that is being written, and no longer: the terminal may
/// have stopped reading.
const PATIENCE: Duration = Duration::from_millis(200);
/// Keeps the window's title aside, and brings it back (XTWINOPS 22 and 23 of xterm; terminals
/// without them pass them over).
const TITLE_ASIDE: &str = "\x1b[22;0t";
const TITLE_BACK: &str = "\x1b[23;0t";
/// After this a program that was told to end ends, whatever the terminal does.
#[cfg(unix)]
const LAST_MOMENT: Duration = Duration::from_secs(2);

/// The terminal while it is ours; dropping it gives it back.
#[derive(Debug)]
pub struct Taken(());

impl Taken {
    /// Takes the terminal: raw mode, alternate screen, hidden cursor, focus reports. Every way
    /// out is watched from here on.
    ///
    /// # Errors
    /// What the system says where standard input or output is no terminal.
    pub fn start() -> io::Result<Self> {
        restore_on_panic();
        watch::start()?;
        take()?;
        Ok(Self(()))
    }

    /// Gives the terminal back, stops as a job of the shell, and takes the terminal again when
    /// the shell continues it. Where there is no shell to continue it the system does not stop
    /// it, and nothing but a blink is seen. The caller repaints.
    ///
    /// # Errors
    /// What the system says where the terminal cannot be taken again.
    pub fn suspend(&self) -> io::Result<()> {
        restore();
        watch::stop_as_job();
        take()
    }
}

impl Drop for Taken {
    fn drop(&mut self) {
        restore();
    }
}

fn take() -> io::Result<()> {
    enable_raw_mode()?;
    OURS.store(true, Ordering::SeqCst);
    watch::keep_the_way_out();
    let taken = execute!(
        io::stdout(),
        Print(TITLE_ASIDE),
        EnterAlternateScreen,
        Hide,
        EnableFocusChange
    );
    if taken.is_err() {
        give_back();
    }
    taken
}

/// Whether Ctrl-C was pressed since this was last asked. It comes as a signal and not among the
/// keys, since an unfinished paste makes the reader of keys swallow all that follows.
pub fn take_interrupt() -> bool {
    INTERRUPTED.swap(false, Ordering::SeqCst)
}

/// Whether all must be drawn anew, since this was last asked: the program was stopped from outside
/// and continued.
pub fn take_bare() -> bool {
    BARE.swap(false, Ordering::SeqCst)
}

/// Gives the terminal back as it was, once; where it is not ours nothing happens. Errors are
/// passed over: there is nobody left to tell.
pub fn restore() {
    let _changing = lock_within(&CHANGING, PATIENCE);
    give_back();
}

fn give_back() {
    if !OURS.swap(false, Ordering::SeqCst) {
        return;
    }
    let _writing = lock_within(&WRITING, PATIENCE);
    let mut out = io::stdout();
    let _ = queue!(
        out,
        DisableFocusChange,
        ResetColor,
        LeaveAlternateScreen,
        Show,
        Print(TITLE_BACK)
    );
    let _ = out.flush();
    let _ = disable_raw_mode();
}

fn lock_within(lock: &'static Mutex<()>, patience: Duration) -> Option<MutexGuard<'static, ()>> {
    let pause = Duration::from_millis(5);
    let mut waited = Duration::ZERO;
    loop {
        match lock.try_lock() {
            Ok(guard) => return Some(guard),
            Err(TryLockError::Poisoned(poisoned)) => return Some(poisoned.into_inner()),
            Err(TryLockError::WouldBlock) if waited >= patience => return None,
            Err(TryLockError::WouldBlock) => std::thread::sleep(pause),
        }
        waited += pause;
    }
}

/// Standard output for frames. What is written while the terminal is not ours is dropped, so that
/// a frame never lands on the shell's screen.
#[derive(Debug, Default)]
pub struct Out(());

impl Write for Out {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let _writing = WRITING.lock().unwrap_or_else(|p| p.into_inner());
        if !OURS.load(Ordering::SeqCst) {
            return Ok(bytes.len());
        }
        let mut out = io::stdout().lock();
        out.write_all(bytes)?;
        out.flush()?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// A panic gives the terminal back before it is reported; one in a thread beside the loop ends the
/// program, since the main loop would go on drawing on the shell's screen.
fn restore_on_panic() {
    static ONCE: std::sync::Once = std::sync::Once::new();
    ONCE.call_once(|| {
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |info| {
            restore();
            before(info);
            if std::thread::current().name() != Some("main") {
                std::process::exit(101);
            }
        }));
    });
}

/// Gives the terminal back and ends the program, even where the terminal takes nothing any more.
#[cfg(unix)]
fn leave(code: i32) -> ! {
    std::thread::spawn(move || {
        std::thread::sleep(LAST_MOMENT);
        std::process::exit(code);
    });
    restore();
    std::process::exit(code)
}

#[cfg(unix)]
mod watch {
    //! Signals and a terminal that has gone.

    use super::{CHANGING, INTERRUPTED, LAST_MOMENT, give_back, leave, take};
    use rustix::event::{PollFd, PollFlags, poll};
    use rustix::io::Errno;
    use rustix::process::{Signal, getpid, kill_process};
    use rustix::termios::{LocalModes, OptionalActions, SpecialCodeIndex, tcgetattr, tcsetattr};
    use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM};
    use signal_hook::iterator::Signals;
    use std::io;
    use std::sync::OnceLock;
    use std::sync::atomic::Ordering;

    static STARTED: OnceLock<()> = OnceLock::new();

    /// Starts both watchers, once.
    pub fn start() -> io::Result<()> {
        if STARTED.set(()).is_err() {
            return Ok(());
        }
        let mut signals = Signals::new([SIGTERM, SIGINT, SIGHUP, SIGQUIT, SIGCONT])?;
        std::thread::Builder::new()
            .name("signals".to_owned())
            .spawn(move || {
                for signal in signals.forever() {
                    match signal {
                        SIGCONT => come_back(),
                        SIGINT => interrupt(),
                        other => leave(128 + other),
                    }
                }
            })?;
        std::thread::Builder::new()
            .name("hang-up".to_owned())
            .spawn(watch_for_hang_up)?;
        Ok(())
    }

    /// Waits for nothing but the terminal's end: with no events asked for, the call returns only
    /// when the terminal has gone. Without this the key reader would spin for ever where the
    /// hang-up signal is ignored.
    fn watch_for_hang_up() {
        loop {
            let input = io::stdin();
            let mut fds = [PollFd::new(&input, PollFlags::empty())];
            match poll(&mut fds, None) {
                Err(Errno::INTR | Errno::AGAIN) => {}
                Err(_) => return,
                Ok(_) if gone(fds[0].revents()) => leave(128 + SIGHUP),
                Ok(_) => {}
            }
        }
    }

    fn gone(events: PollFlags) -> bool {
        events.intersects(PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL)
    }

    /// After a stop from outside: the terminal may have been given to another program, so it is
    /// taken again, and the main loop is told to repaint; a change of size is feigned to wake it.
    fn come_back() {
        let _changing = CHANGING.lock().unwrap_or_else(|p| p.into_inner());
        if super::OURS.load(Ordering::SeqCst) {
            give_back();
            let _ = take();
            super::BARE.store(true, Ordering::SeqCst);
            let _ = kill_process(getpid(), Signal::WINCH);
        }
    }

    /// Tells the main loop by a feigned change of size. A loop that does not answer is left all
    /// the same: it is in a save that hangs, or the reader of keys waits for the rest of a paste.
    fn interrupt() {
        INTERRUPTED.store(true, Ordering::SeqCst);
        let _ = kill_process(getpid(), Signal::WINCH);
        std::thread::spawn(|| {
            std::thread::sleep(LAST_MOMENT);
            if INTERRUPTED.load(Ordering::SeqCst) {
                leave(128 + SIGINT);
            }
        });
    }

    /// A byte that no key sends: it switches a special key off.
    const NO_KEY: u8 = if cfg!(target_vendor = "apple") {
        0xFF
    } else {
        0
    };

    /// Raw mode, but for Ctrl-C, which the system itself takes note of. The keys typed before it
    /// are kept. Where the terminal will not have it, Ctrl-C comes as a key.
    pub fn keep_the_way_out() {
        let input = io::stdin();
        if let Ok(mut modes) = tcgetattr(&input) {
            modes.local_modes |= LocalModes::ISIG | LocalModes::NOFLSH;
            for other in [SpecialCodeIndex::VSUSP, SpecialCodeIndex::VQUIT] {
                modes.special_codes[other] = NO_KEY;
            }
            let _ = tcsetattr(&input, OptionalActions::Now, &modes);
        }
    }

    /// Stops the program as the terminal's stop key would.
    pub fn stop_as_job() {
        let _ = kill_process(getpid(), Signal::TSTP);
    }
}

#[cfg(not(unix))]
mod watch {
    //! Other systems: the console ends the program itself; untested.

    /// Nothing to watch.
    pub fn start() -> std::io::Result<()> {
        Ok(())
    }

    /// Ctrl-C comes as a key.
    pub fn keep_the_way_out() {}

    /// There are no jobs to stop.
    pub fn stop_as_job() {}
}
