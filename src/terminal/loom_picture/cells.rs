//! The signs of the loom's picture: what stands for two half columns of a place. Owns the choice of the
//! sign; draws nothing.

/// The block element with these halves of its two half columns filled (0 none, 1 the lower, 2
/// both).
pub(super) fn block(left: u8, right: u8) -> &'static str {
    const BY_LEVEL: [[&str; 3]; 3] = [[".", "▗", "▐"], ["▖", "▄", "▟"], ["▌", "▙", "█"]];
    BY_LEVEL[usize::from(left.min(2))][usize::from(right.min(2))]
}

/// The same without block elements; a half column left free sets groups apart here too.
pub(super) fn plain(left: u8, right: u8) -> &'static str {
    match (left.min(right), left.max(right)) {
        (0, 0) => ".",
        (0, _) => "|",
        (1, _) => "=",
        _ => "#",
    }
}
