//! Sheets for paper.

mod plan_sheet;
mod sley_sheet;
mod yarn_sheet;

pub use plan_sheet::plan_sheet;
pub use sley_sheet::sley_sheet;
pub use yarn_sheet::yarn_sheet;
