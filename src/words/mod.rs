//! Every sentence, once: screen, lines, speech and paper use it. Pure.

pub mod glossary;
