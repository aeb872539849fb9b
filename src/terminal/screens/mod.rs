//! Screens: what stands where. A screen is a stack of bands, full rows of the window each with
//! one kind of content; bands that did not change are not drawn again. Owns the drawing and the
//! heights; works out nothing of a dressing and makes no sentence.

mod band;
mod call;
mod far;
mod list;
mod loom;
mod stack;
mod work;

pub use crate::words::wrap::wrapped;
pub use band::{Band, Counts, Handfuls, Header, Tone};
pub use call::CallBand;
pub use far::FarLine;
pub use list::{ChoiceList, MenuBand, NumberBand};
pub use stack::{Placed, Stack, Wish, draw_bands, rows_to_draw};
pub use work::{Scene, header, notice, sentences, story, work};

use super::digits::Ink;
use super::signal::Signal;
use super::theme::Theme;
use crate::dressing::When;
use crate::hand::Press;
use crate::words::spoken::Said;
use ratatui::layout::Rect;
use std::time::Duration;

/// How things are drawn on this terminal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Manner {
    /// Colours or none.
    pub theme: Theme,
    /// Block elements or reversed spaces.
    pub ink: Ink,
}

/// What the loop does after a press.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum After {
    /// Show what changed.
    Show,
    /// Give the terminal back for a while, then show everything anew.
    Suspend,
    /// Show everything anew.
    Repaint,
    /// Leave; everything pressed is saved.
    Leave,
}

/// Something that the loop shows and gives presses to: a sitting at the loom, or the home screen.
pub trait Screen {
    /// Takes one press.
    fn press(&mut self, press: Press, when: When) -> After;

    /// Lets time go on for what is lit.
    fn tick(&mut self, now: Duration, when: When) -> After;

    /// When [`Self::tick`] has something to do next; `None` while nothing moves by itself.
    fn wakes_at(&self) -> Option<Duration>;

    /// The window lost its focus or has it again, where the terminal tells.
    fn focus(&mut self, has: bool, when: When);

    /// The bands of a window of this size as it stands.
    fn bands(&self, area: Rect) -> Vec<Placed>;

    /// How they are drawn.
    fn manner(&self) -> Manner;

    /// The window's title; it holds no figure of the work.
    fn title(&self) -> String;

    /// What a voice says now, once.
    fn take_say(&mut self) -> Vec<Said>;

    /// Shows a quiet notice about something beside the work.
    fn tell(&mut self, sentence: &str);

    /// Whether the bell rings now, once.
    fn take_bell(&mut self) -> bool;

    /// Whether something was written over what is shown since this was last asked, so that all of
    /// it must be drawn again.
    fn take_covered(&mut self) -> bool {
        false
    }

    /// What is told without words now, once.
    fn take_signal(&mut self) -> Option<Signal> {
        self.take_bell().then_some(Signal::Refused)
    }
}

/// The smallest window that shows every screen whole.
pub const LEAST: (u16, u16) = (80, 24);
