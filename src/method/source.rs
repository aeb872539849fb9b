//! The two kinds of file that hold steps: a whole method, and a house's own wording of it.

/// Which kind of file is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Source {
    /// A whole method.
    Method,
    /// A house's own wording.
    House,
}

impl Source {
    /// The key that must be 1 at the top.
    pub(super) fn marker(self) -> &'static str {
        match self {
            Self::Method => "endsmeet_method",
            Self::House => "endsmeet_house",
        }
    }
}
