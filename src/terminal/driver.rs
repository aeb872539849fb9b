//! The one loop: keys and the clock go into a screen, its bands go to the terminal. Owns the
//! reading of events, the clock and the painter; decides nothing. While nothing is lit it waits
//! without waking.

use super::keys::{interrupt_at, press_of};
use super::paint::{Painter, Surface};
use super::restore::{Out, Taken, take_bare, take_interrupt};
use super::screens::{After, Manner, Placed, Screen, draw_bands, rows_to_draw};
use super::sender::{Sender, erases_with_ground};
use super::signal::{Beat, Beats, Habits};
use crate::dressing::When;
use crate::words::spoken::Said;
use crossterm::event::{self, Event};
use crossterm::queue;
use crossterm::terminal::SetTitle;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use std::io::{self, Write};
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

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
            wall: on_the_wall(),
            elapsed_ms: u64::try_from(elapsed).unwrap_or(u64::MAX),
        }
    }
}

/// The time on the wall here. Worked out by hand: the library's own call panics where the clock
/// stands before 1970, as that of a laptop with an empty battery may.
pub(crate) fn on_the_wall() -> chrono::DateTime<chrono::FixedOffset> {
    let epoch = chrono::DateTime::UNIX_EPOCH;
    let span = |span| chrono::TimeDelta::from_std(span).unwrap_or_default();
    let utc = match SystemTime::now().duration_since(UNIX_EPOCH) {
        Ok(after) => epoch.checked_add_signed(span(after)),
        Err(before) => epoch.checked_sub_signed(span(before.duration())),
    };
    let here = utc.unwrap_or(epoch).with_timezone(&chrono::Local);
    here.fixed_offset()
}

/// The terminal with what it shows.
pub struct Shown<S: Surface> {
    painter: Painter<S>,
    bands: Vec<Placed>,
}

impl<S: Surface> Shown<S> {
    /// A terminal of this size with nothing on it.
    pub fn new(surface: S, area: Rect) -> Self {
        Self {
            painter: Painter::new(surface, area),
            bands: Vec::new(),
        }
    }

    /// The window's size as last told.
    #[must_use]
    pub fn area(&self) -> Rect {
        self.painter.area()
    }

    /// The painter, as for a look at what is shown.
    pub fn painter(&mut self) -> &mut Painter<S> {
        &mut self.painter
    }

    /// Shows the bands: only the rows that changed where the layout is the same.
    ///
    /// # Errors
    /// What the surface says.
    pub fn show(&mut self, bands: Vec<Placed>, manner: Manner) -> Result<(), S::Error> {
        match rows_to_draw(&self.bands, &bands) {
            Some(rows) if rows.is_empty() => {}
            Some(rows) => self.painter.paint_rows(&rows, |canvas| {
                draw_bands(&bands, Some(&rows), canvas, manner);
            })?,
            None => self
                .painter
                .paint_all(|canvas| draw_bands(&bands, None, canvas, manner))?,
        }
        self.bands = bands;
        Ok(())
    }

    /// Reverses the top and the bottom row, or shows them as they are.
    ///
    /// # Errors
    /// What the surface says.
    pub fn light_edges(&mut self, manner: Manner, lit: bool) -> Result<(), S::Error> {
        let area = self.painter.area();
        if area.is_empty() {
            return Ok(());
        }
        let rows = [area.top(), area.bottom() - 1];
        let bands = &self.bands;
        self.painter.paint_rows(&rows, |canvas| {
            draw_bands(bands, Some(&rows), canvas, manner);
            for row in rows.into_iter().filter(|_| lit) {
                let edge = Rect::new(area.x, row, area.width, 1);
                canvas.set_style(edge, Style::new().add_modifier(Modifier::REVERSED));
            }
        })
    }

    /// Wipes the screen and shows the bands at this size.
    ///
    /// # Errors
    /// What the surface says.
    pub fn show_anew(
        &mut self,
        area: Rect,
        bands: Vec<Placed>,
        manner: Manner,
    ) -> Result<(), S::Error> {
        self.painter
            .paint_anew(area, |canvas| draw_bands(&bands, None, canvas, manner))?;
        self.bands = bands;
        Ok(())
    }
}

/// The program's own terminal.
type Window = Shown<Sender<Out>>;

/// What is given the sentences to be spoken of one moment; it may answer with a notice to show.
pub type Say<'a> = dyn FnMut(Vec<Said>) -> Option<&'static str> + 'a;

/// Shows a screen until the weaver leaves it, with the usual bell and flash.
///
/// # Errors
/// What the system says of the terminal; it has been given back then.
pub fn run(screen: &mut dyn Screen, clock: Clock, say: &mut Say) -> io::Result<()> {
    run_with(screen, clock, say, Habits::default())
}

/// The same with a bell and a flash of her own.
///
/// # Errors
/// What the system says of the terminal; it has been given back then.
pub fn run_with(
    screen: &mut dyn Screen,
    clock: Clock,
    say: &mut Say,
    habits: Habits,
) -> io::Result<()> {
    let mut beats = Beats::new(habits);
    let taken = Taken::start()?;
    let term = std::env::var("TERM").ok();
    let sender = Sender::new(Out::default(), erases_with_ground(term.as_deref()));
    let mut window = Shown::new(sender, size()?);
    name_window(&mut window, &screen.title())?;
    repaint(&mut window, screen)?;
    loop {
        speak(&mut window, screen, say)?;
        if let Some(signal) = screen.take_signal() {
            beats.start(signal, clock.now());
        }
        match next(&mut window, screen, clock, &mut beats)? {
            After::Show if screen.take_covered() => repaint(&mut window, screen)?,
            // A change of size that comes together with a key is not told by the reader of events.
            After::Show if window.area() == size()? => {
                window.show(screen.bands(window.area()), screen.manner())?;
            }
            After::Show | After::Repaint => repaint(&mut window, screen)?,
            After::Suspend => {
                taken.suspend()?;
                repaint(&mut window, screen)?;
            }
            After::Leave => return Ok(()),
        }
    }
}

fn size() -> io::Result<Rect> {
    let (width, height) = crossterm::terminal::size()?;
    Ok(area_of(width, height))
}

/// Columns and rows that are drawn on at the most; what a window has beyond them stays as it is.
/// Larger than any screen, and small enough for the memory that two pictures of it take.
const LARGEST: (u16, u16) = (1_000, 500);

/// The part of a window of this size that is drawn on.
fn area_of(width: u16, height: u16) -> Rect {
    Rect::new(0, 0, width.min(LARGEST.0), height.min(LARGEST.1))
}

fn name_window(window: &mut Window, title: &str) -> io::Result<()> {
    queue!(window.painter().surface_mut(), SetTitle(title))
}

fn repaint(window: &mut Window, screen: &dyn Screen) -> io::Result<()> {
    let area = size()?;
    window.show_anew(area, screen.bands(area), screen.manner())
}

/// Says what is to be said.
fn speak(window: &mut Window, screen: &mut dyn Screen, say: &mut Say) -> io::Result<()> {
    let said = screen.take_say();
    if !said.is_empty()
        && let Some(notice) = say(said)
    {
        screen.tell(notice);
        window.show(screen.bands(window.area()), screen.manner())?;
    }
    Ok(())
}

/// Rings and flashes what is due.
fn beat(window: &mut Window, screen: &dyn Screen, due: Beat) -> io::Result<()> {
    let lit = matches!(due, Beat::On { flash: true, .. });
    if lit || due == Beat::Off {
        window.light_edges(screen.manner(), lit)?;
    }
    if matches!(due, Beat::On { ring: true, .. }) {
        let sender = window.painter().surface_mut();
        sender.write_all(b"\x07")?;
        Write::flush(sender)?;
    }
    Ok(())
}

/// Waits for the next thing that happens, and gives it to the screen.
fn next(
    window: &mut Window,
    screen: &mut dyn Screen,
    clock: Clock,
    beats: &mut Beats,
) -> io::Result<After> {
    if take_interrupt() {
        return Ok(screen.press(interrupt_at(clock.now()), clock.when()));
    }
    if take_bare() {
        return Ok(After::Repaint);
    }
    let wakes = [screen.wakes_at(), beats.wakes_at()];
    if let Some(at) = wakes.into_iter().flatten().min() {
        let wait = at.saturating_sub(clock.now());
        if !event::poll(wait)? {
            if let Some(due) = beats.tick(clock.now()) {
                beat(window, screen, due)?;
            }
            let due = screen.wakes_at().is_some_and(|at| at <= clock.now());
            return Ok(if due {
                screen.tick(clock.now(), clock.when())
            } else {
                After::Show
            });
        }
    }
    Ok(match event::read()? {
        Event::Key(key) => screen.press(press_of(&key, clock.now()), clock.when()),
        // Also feigned: by Ctrl-C, which then waits to be taken, and by a stop from outside.
        Event::Resize(width, height) => {
            let area = area_of(width, height);
            window.show_anew(area, screen.bands(area), screen.manner())?;
            After::Show
        }
        Event::FocusLost => {
            screen.focus(false, clock.when());
            After::Show
        }
        Event::FocusGained => {
            screen.focus(true, clock.when());
            After::Show
        }
        Event::Mouse(_) | Event::Paste(_) => After::Show,
    })
}
