//! The one loop: keys and the clock go into a sitting, its bands go to the terminal. Owns the
//! reading of events, the clock and the painter; decides nothing. While nothing is lit it waits
//! without waking.

use super::keys::press_of;
use super::paint::{FRAME_BYTES, Painter};
use super::restore::{Out, Session};
use super::screens::{Manner, Placed};
use super::sitting::{After, Sitting, draw_bands, rows_to_draw};
use crate::dressing::When;
use crossterm::event::{self, Event};
use crossterm::queue;
use crossterm::terminal::SetTitle;
use ratatui::backend::{Backend, CrosstermBackend};
use ratatui::layout::Rect;
use std::io::{self, BufWriter, Write};
use std::time::{Duration, Instant};

/// The two clocks: one that never goes back, and the one on the wall.
#[derive(Debug, Clone, Copy)]
pub struct Clock {
    start: Instant,
}

impl Default for Clock {
    fn default() -> Self {
        Self {
            start: Instant::now(),
        }
    }
}

impl Clock {
    /// The time since the program's start.
    #[must_use]
    pub fn now(&self) -> Duration {
        self.start.elapsed()
    }

    /// The same with the time on the wall.
    #[must_use]
    pub fn when(&self) -> When {
        let elapsed = self.start.elapsed().as_millis();
        When {
            wall: chrono::Local::now().fixed_offset(),
            elapsed_ms: u64::try_from(elapsed).unwrap_or(u64::MAX),
        }
    }
}

/// The terminal with what it shows.
pub struct Shown<B: Backend> {
    painter: Painter<B>,
    bands: Vec<Placed>,
}

impl<B: Backend> Shown<B> {
    /// A terminal of this size with nothing on it.
    pub fn new(backend: B, area: Rect) -> Self {
        Self {
            painter: Painter::new(backend, area),
            bands: Vec::new(),
        }
    }

    /// The window's size as last told.
    #[must_use]
    pub fn area(&self) -> Rect {
        self.painter.area()
    }

    /// The painter, as for a look at what is shown.
    pub fn painter(&mut self) -> &mut Painter<B> {
        &mut self.painter
    }

    /// Shows the bands: only the rows that changed where the layout is the same.
    ///
    /// # Errors
    /// What the backend says.
    pub fn show(&mut self, bands: Vec<Placed>, manner: Manner) -> Result<(), B::Error> {
        match rows_to_draw(&self.bands, &bands) {
            Some(rows) if rows.is_empty() => {}
            Some(rows) => self.painter.paint_rows(&rows, |buffer| {
                draw_bands(&bands, Some(&rows), buffer, manner);
            })?,
            None => self
                .painter
                .paint_all(|buffer| draw_bands(&bands, None, buffer, manner))?,
        }
        self.bands = bands;
        Ok(())
    }

    /// Wipes the screen and shows the bands at this size.
    ///
    /// # Errors
    /// What the backend says.
    pub fn show_anew(
        &mut self,
        area: Rect,
        bands: Vec<Placed>,
        manner: Manner,
    ) -> Result<(), B::Error> {
        self.painter
            .paint_anew(area, |buffer| draw_bands(&bands, None, buffer, manner))?;
        self.bands = bands;
        Ok(())
    }
}

/// The program's own terminal.
type Window = Shown<CrosstermBackend<BufWriter<Out>>>;

/// Sits at the loom until the weaver leaves. `say` is given every sentence to be spoken.
///
/// # Errors
/// What the system says of the terminal; it has been given back then.
pub fn run(sitting: &mut Sitting, clock: Clock, say: &mut dyn FnMut(&str)) -> io::Result<()> {
    let session = Session::start()?;
    let writer = BufWriter::with_capacity(FRAME_BYTES, Out::default());
    let mut window = Shown::new(CrosstermBackend::new(writer), size()?);
    name_window(&mut window, &sitting.title())?;
    repaint(&mut window, sitting)?;
    loop {
        speak(&mut window, sitting, say)?;
        match next(&mut window, sitting, clock)? {
            After::Show => window.show(sitting.bands(window.area()), sitting.manner())?,
            After::Repaint => repaint(&mut window, sitting)?,
            After::Suspend => {
                session.suspend()?;
                repaint(&mut window, sitting)?;
            }
            After::Leave => return Ok(()),
        }
    }
}

fn size() -> io::Result<Rect> {
    let (width, height) = crossterm::terminal::size()?;
    Ok(Rect::new(0, 0, width, height))
}

fn name_window(window: &mut Window, title: &str) -> io::Result<()> {
    queue!(window.painter().backend_mut(), SetTitle(title))
}

fn repaint(window: &mut Window, sitting: &Sitting) -> io::Result<()> {
    let area = size()?;
    window.show_anew(area, sitting.bands(area), sitting.manner())
}

/// Says what is to be said, and rings the bell where something was refused.
fn speak(window: &mut Window, sitting: &mut Sitting, say: &mut dyn FnMut(&str)) -> io::Result<()> {
    if let Some(sentence) = sitting.take_say() {
        say(&sentence);
    }
    if sitting.take_bell() {
        let backend = window.painter().backend_mut();
        backend.write_all(b"\x07")?;
        Write::flush(backend)?;
    }
    Ok(())
}

/// Waits for the next thing that happens, and gives it to the sitting.
fn next(window: &mut Window, sitting: &mut Sitting, clock: Clock) -> io::Result<After> {
    if let Some(at) = sitting.wakes_at() {
        let wait = at.saturating_sub(clock.now());
        if !event::poll(wait)? {
            return Ok(sitting.tick(clock.now(), clock.when()));
        }
    }
    Ok(match event::read()? {
        Event::Key(key) => sitting.press(press_of(&key, clock.now()), clock.when()),
        Event::Resize(width, height) => {
            let area = Rect::new(0, 0, width, height);
            window.show_anew(area, sitting.bands(area), sitting.manner())?;
            After::Show
        }
        Event::FocusLost => {
            sitting.focus(false);
            After::Show
        }
        Event::FocusGained => {
            sitting.focus(true);
            After::Show
        }
        Event::Mouse(_) | Event::Paste(_) => After::Show,
    })
}
