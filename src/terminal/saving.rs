//! SAVING in the largest type while a save takes long: a disk that spins up, a folder that hangs.
//! Owns the watch over a save; never saves, and knows nothing of what is saved. While nothing is
//! saved its thread sleeps without waking.

use super::canvas::Canvas;
use super::restore::Out;
use super::screens::{FarLine, Manner};
use crate::dressing::{Ask, Dressing, Entry, When};
use crate::journal::keep::{Keep, NotDone};
use crate::words::screen_words;
use ratatui::backend::{Backend, CrosstermBackend};
use ratatui::layout::Rect;
use std::io::BufWriter;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// A save may take so long before it is told.
pub const PATIENCE: Duration = Duration::from_millis(300);

/// What the watch and the one who saves know of each other.
#[derive(Default)]
struct State {
    /// Since when something is being saved.
    since: Option<Instant>,
    /// Whether this save has been told.
    told: bool,
    /// Whether the thread wakes by itself, so that it need not be woken.
    wakes: bool,
    /// The watch is over.
    over: bool,
}

/// A watch over saves.
pub struct Saving {
    shared: Arc<(Mutex<State>, Condvar)>,
    thread: Option<thread::JoinHandle<()>>,
}

impl Saving {
    /// A watch that calls `tell` from its own thread when a save has taken `patience`.
    pub fn watch(patience: Duration, mut tell: impl FnMut() + Send + 'static) -> Self {
        let shared = Arc::new((Mutex::new(State::default()), Condvar::new()));
        let theirs = Arc::clone(&shared);
        let thread = thread::Builder::new()
            .name("saving".to_owned())
            .spawn(move || keep_watch(&theirs, patience, &mut tell))
            .ok();
        Self { shared, thread }
    }

    /// A watch that writes SAVING over the terminal, which is ours then.
    #[must_use]
    pub fn on_terminal(manner: Manner) -> Self {
        Self::watch(PATIENCE, move || {
            if let Ok((width, height)) = crossterm::terminal::size() {
                let writer = BufWriter::new(Out::default());
                // a terminal that cannot be written has no one to be told
                let _ = write_over(
                    &mut CrosstermBackend::new(writer),
                    Rect::new(0, 0, width, height),
                    manner,
                );
            }
        })
    }

    /// A save begins.
    pub fn begins(&self) {
        let mut state = locked(&self.shared.0);
        state.since = Some(Instant::now());
        state.told = false;
        if !state.wakes {
            self.shared.1.notify_one();
        }
    }

    /// The save has ended; whether it was told, so that what is shown must be drawn again.
    pub fn ended(&self) -> bool {
        let mut state = locked(&self.shared.0);
        state.since = None;
        std::mem::take(&mut state.told)
    }
}

impl Drop for Saving {
    fn drop(&mut self) {
        locked(&self.shared.0).over = true;
        self.shared.1.notify_one();
        if let Some(thread) = self.thread.take() {
            // a panic of the watch has been reported already
            let _ = thread.join();
        }
    }
}

/// A keeper whose saves are watched, for shells that have no screen to draw again.
pub struct Watched<'a> {
    inner: &'a mut dyn Keep,
    saving: Saving,
}

impl<'a> Watched<'a> {
    /// The keeper, watched.
    pub fn new(inner: &'a mut dyn Keep, saving: Saving) -> Self {
        Self { inner, saving }
    }
}

impl Keep for Watched<'_> {
    fn dressing(&self) -> &Dressing {
        self.inner.dressing()
    }

    fn ask(&mut self, ask: &Ask, when: When) -> Result<Entry, NotDone> {
        self.saving.begins();
        let asked = self.inner.ask(ask, when);
        self.saving.ended();
        asked
    }
}

fn locked(state: &Mutex<State>) -> MutexGuard<'_, State> {
    state.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Tells while the lock is held, so that nothing else is drawn before the telling is out.
fn keep_watch(shared: &(Mutex<State>, Condvar), patience: Duration, tell: &mut dyn FnMut()) {
    let (state, begun) = shared;
    let mut now = locked(state);
    while !now.over {
        let left = now
            .since
            .filter(|_| !now.told)
            .map(|since| patience.saturating_sub(since.elapsed()));
        match left {
            Some(Duration::ZERO) => {
                tell();
                now.told = true;
            }
            Some(left) => {
                now.wakes = true;
                now = begun
                    .wait_timeout(now, left)
                    .unwrap_or_else(PoisonError::into_inner)
                    .0;
            }
            None => {
                now.wakes = false;
                now = begun.wait(now).unwrap_or_else(PoisonError::into_inner);
            }
        }
    }
}

/// Writes the word over the upper part of the window, where the call stands.
///
/// # Errors
/// What the backend says.
pub fn write_over<B: Backend>(
    backend: &mut B,
    window: Rect,
    manner: Manner,
) -> Result<(), B::Error> {
    let line = FarLine::now(screen_words::SAVING);
    let top = u16::from(window.height > 2);
    // all of the large type is covered, so that no half of a call stands beside the word
    let rows = (window.height * 2 / 3).max(1);
    let area = Rect::new(0, top, window.width, rows).intersection(window);
    let mut canvas = Canvas::empty(window);
    line.draw(&mut canvas, area, manner);
    let near = Rect {
        y: area.bottom().saturating_sub(1),
        height: area.height.min(1),
        ..area
    };
    if area.height > 6 {
        let style = manner.theme.style(super::theme::Role::Ground);
        let width = usize::from(near.width);
        canvas.set_stringn(near.x, near.y, screen_words::SAVING_LINE, width, style);
    }
    let buffer = canvas.to_buffer();
    let cells = (area.y..area.bottom()).flat_map(|y| (area.x..area.right()).map(move |x| (x, y)));
    let drawn = cells.filter_map(|(x, y)| buffer.cell((x, y)).map(|cell| (x, y, cell)));
    backend.draw(drawn)?;
    backend.flush()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terminal::digits::Ink;
    use crate::terminal::theme::Theme;
    use ratatui::backend::TestBackend;
    use std::sync::atomic::{AtomicU32, Ordering};

    fn counted(patience: Duration) -> (Saving, Arc<AtomicU32>) {
        let told = Arc::new(AtomicU32::new(0));
        let ours = Arc::clone(&told);
        let saving = Saving::watch(patience, move || {
            ours.fetch_add(1, Ordering::SeqCst);
        });
        (saving, told)
    }

    #[test]
    fn a_save_that_hangs_is_told_once_and_while_it_hangs() {
        let (saving, told) = counted(Duration::from_millis(5));
        for round in 1..=3 {
            saving.begins();
            while told.load(Ordering::SeqCst) < round {
                thread::yield_now();
            }
            thread::sleep(Duration::from_millis(15));
            assert_eq!(
                told.load(Ordering::SeqCst),
                round,
                "told while it hangs, once"
            );
            assert!(saving.ended(), "so all is drawn again");
            assert!(!saving.ended());
        }
    }

    #[test]
    fn a_quick_save_is_not_told() {
        let (saving, told) = counted(Duration::from_secs(3600));
        for _ in 0..1000 {
            saving.begins();
            assert!(!saving.ended());
        }
        drop(saving);
        assert_eq!(told.load(Ordering::SeqCst), 0, "and the watch ends at once");
    }

    #[test]
    fn it_is_written_large_at_every_size() {
        for ink in [Ink::Blocks, Ink::Reversed] {
            let manner = Manner {
                theme: Theme::Mono,
                ink,
            };
            for (w, h) in [(80, 24), (120, 40), (20, 3), (1, 1), (300, 100)] {
                let mut backend = TestBackend::new(w, h);
                write_over(&mut backend, Rect::new(0, 0, w, h), manner).unwrap();
                let inked = backend.buffer().content.iter();
                let inked = inked.filter(|cell| **cell != ratatui::buffer::Cell::EMPTY);
                assert!(inked.count() > 0, "{w}x{h}");
            }
        }
    }
}
