//! Sheets for paper.
