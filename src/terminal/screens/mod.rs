//! Screens: what stands where. A screen is a stack of bands, full rows of the window each with
//! one kind of content; bands that did not change are not drawn again. Owns the drawing and the
//! heights; works out nothing of a dressing and makes no sentence.

mod band;
mod call;
mod far;
mod loom;
mod stack;
mod work;
mod wrap;

pub use band::{Band, ChoiceList, Counts, Handfuls, Header, MenuBand, NumberBand, Tone};
pub use call::CallBand;
pub use far::FarLine;
pub use stack::{Placed, Stack, Wish};
pub use work::{Scene, header, notice, sentences, work};
pub use wrap::wrapped;

use super::digits::Ink;
use super::theme::Theme;

/// How things are drawn on this terminal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Manner {
    /// Colours or none.
    pub theme: Theme,
    /// Block elements or reversed spaces.
    pub ink: Ink,
}

/// The smallest window that shows every screen whole.
pub const LEAST: (u16, u16) = (80, 24);
