//! Names and notes made harmless once, on the way in: nothing that a terminal would obey, nothing
//! that cannot be seen. Owns the list of what is taken out; never refuses a name.

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// The most terminal columns that a name may take.
pub const NAME_COLUMNS: usize = 200;
/// The most combining marks kept on one letter.
const MARKS: usize = 4;

/// The text with control, direction, zero-width, tag and private characters taken out, line breaks
/// and runs of blanks made one blank, cut at [`NAME_COLUMNS`].
#[must_use]
pub fn harmless(text: &str) -> String {
    harmless_within(text, NAME_COLUMNS)
}

/// The same, cut at so many columns; a wide letter is never cut in half.
#[must_use]
pub fn harmless_within(text: &str, columns: usize) -> String {
    let mut kept = String::new();
    let mut width = 0;
    let mut blank = false;
    for cluster in text.graphemes(true) {
        if cluster.chars().all(|c| c.is_whitespace() || c.is_control()) {
            blank |= !kept.is_empty() && cluster.chars().any(char::is_whitespace);
            continue;
        }
        let letter: String = cluster
            .chars()
            .filter(|&c| shows(c))
            .take(1 + MARKS)
            .collect();
        if letter.is_empty() {
            continue;
        }
        let wide = letter.width() + usize::from(blank);
        if width + wide > columns {
            break;
        }
        if std::mem::take(&mut blank) {
            kept.push(' ');
        }
        width += wide;
        kept.push_str(&letter);
    }
    kept
}

/// Whether a character may stand in a name.
fn shows(c: char) -> bool {
    let hidden = matches!(u32::from(c),
        0x00AD | 0x034F | 0x061C | 0x115F | 0x1160 | 0x17B4 | 0x17B5 | 0x180B..=0x180F
        | 0x200B..=0x200F | 0x2028..=0x202E | 0x2060..=0x206F | 0x3164 | 0xFE00..=0xFE0F
        | 0xFEFF | 0xFFA0 | 0xFFF0..=0xFFFB | 0xE000..=0xF8FF | 0x1D173..=0x1D17A
        | 0xE0000..=0xE0FFF | 0xF0000..=0x10_FFFF);
    !hidden && !c.is_control()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_keeps_its_letters_and_loses_what_a_terminal_obeys() {
        assert_eq!(harmless("Hall  runner\n"), "Hall runner");
        assert_eq!(harmless("a\u{1b}[31mred"), "a[31mred");
        assert_eq!(harmless("\u{202e}evil\u{2066}"), "evil");
        assert_eq!(harmless("ta\u{e0041}g\u{200b}"), "tag");
        assert_eq!(
            harmless("M\u{f6}bel \u{e9}t\u{e9}"),
            "M\u{f6}bel \u{e9}t\u{e9}"
        );
        assert_eq!(harmless(&"\u{301}".repeat(50)).chars().count(), 5);
    }

    #[test]
    fn a_name_is_cut_at_its_columns() {
        assert_eq!(harmless(&"x".repeat(500)).len(), 200);
        assert_eq!(harmless_within("\u{7e54}\u{6a5f}", 3), "\u{7e54}");
    }
}
