//! The terminal: driver, keys, screens, digits, pictures, lines.

pub mod canvas;
pub mod checks;
pub mod class_board;
pub mod class_row;
pub mod cloth_band;
pub mod cloth_view;
pub mod digits;
pub mod dot;
pub mod driver;
pub mod face;
pub mod form_lines;
pub mod form_screen;
pub mod home;
pub mod home_lines;
pub mod keys;
pub mod letters;
mod line_answers;
mod line_said;
mod line_traced;
pub mod line_words;
pub mod lines;
pub mod loom_picture;
pub mod paint;
pub mod restore;
pub mod saving;
pub mod screens;
pub mod sender;
pub mod signal;
pub mod sitting;
pub mod sizes;
pub mod slip;
pub mod strip;
pub mod svg;
pub mod theme;
pub mod ways;

/// The window's columns and rows.
///
/// # Errors
/// What the system says where there is no terminal.
pub fn size() -> std::io::Result<(u16, u16)> {
    crossterm::terminal::size()
}
