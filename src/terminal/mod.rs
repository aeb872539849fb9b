//! The terminal: driver, keys, screens, digits, pictures, lines.

pub mod class_screen;
pub mod digits;
pub mod driver;
pub mod face;
pub mod form_lines;
pub mod home;
pub mod keys;
pub mod letters;
pub mod line_words;
pub mod lines;
pub mod loom_picture;
pub mod paint;
pub mod restore;
pub mod screens;
pub mod sitting;
pub mod strip;
pub mod svg;
pub mod theme;
