//! Sheets for paper, and what is read of many dressings at once. Owns their layout; decides nothing
//! and works out no figure that the plan or the dressing has.

pub mod as_csv;
pub mod as_html;
pub mod as_text;
mod board_sheet;
pub mod document;
mod log_sheet;
mod plan_parts;
mod plan_sheet;
pub mod sheets;
mod sley_sheet;
mod sley_strip;
mod slip;
pub mod svg;
mod tie_up_sheet;
mod worksheet;
mod yarn_sheet;

pub use board_sheet::{board_sheet, board_value};
pub use document::{Document, Paper};
pub use log_sheet::{Log, log};
pub use plan_sheet::plan_sheet;
pub use sheets::{Sheet, sheets};
pub use sley_sheet::sley_sheet;
pub use slip::slip;
pub use yarn_sheet::yarn_sheet;
