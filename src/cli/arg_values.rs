//! Values of the command line that are one of a few words.

use clap::ValueEnum;

/// An edge of the warp, as the weaver sees it from the breast beam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Edge {
    /// The right one.
    Right,
    /// The left one.
    Left,
}

impl From<Edge> for crate::plan::Side {
    fn from(edge: Edge) -> Self {
        match edge {
            Edge::Right => Self::Right,
            Edge::Left => Self::Left,
        }
    }
}

/// How a sheet is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SheetAs {
    /// Plain text, 80 columns.
    Text,
    /// One page with its own styles, for a browser to print.
    Html,
    /// Comma-separated rows.
    Csv,
    /// The draft alone, as WIF 1.1 for other programs.
    Wif,
}

/// The size of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PaperSize {
    /// 210 by 297 mm.
    A4,
    /// 8 1/2 by 11 in.
    Letter,
}

impl From<PaperSize> for crate::paper::Paper {
    fn from(size: PaperSize) -> Self {
        match size {
            PaperSize::A4 => Self::A4,
            PaperSize::Letter => Self::Letter,
        }
    }
}
