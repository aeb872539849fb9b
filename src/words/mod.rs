//! Every sentence, once: screen, lines, speech and paper use it. Owns the wording; decides nothing
//! and works out no figure of its own. Pure.

pub mod board_words;
pub mod broken_words;
pub mod checks;
pub mod choices;
pub mod cloth_picture;
pub mod cloth_words;
pub mod coach;
pub mod counts;
pub mod fault_ways;
pub mod fault_words;
pub mod fill;
pub mod form_figures;
pub mod form_words;
pub mod glossary;
mod group_words;
pub mod lines;
pub mod list_words;
pub mod log_words;
pub mod looks;
pub mod measure_words;
pub mod mend_words;
pub mod note_words;
pub mod page;
mod pick_words;
pub mod refusals;
pub mod report_words;
pub mod screen_words;
pub mod sheet_words;
pub mod shows_words;
pub mod sight_words;
mod sley_words;
pub mod spoken;
pub mod status;
pub mod trace_words;
pub mod trail;
pub mod try_words;
pub mod wrap;

pub use page::{Page, page};
