//! Text made to fit what it is shown on: rows broken at spaces, signs of markup made harmless. Owns
//! the two rules, no sentence.

use unicode_width::UnicodeWidthStr;

/// The text in rows of at most `width` columns, broken at spaces; a word longer than a row is
/// broken inside. A text that fits stays as it is, spaces included: a mark under a figure stands by them.
/// No row for an empty text.
#[must_use]
pub fn wrapped(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let text = text.trim_end();
    if !text.is_empty() && text.width() <= width && !text.contains(char::is_control) {
        return vec![text.to_owned()];
    }
    let mut rows: Vec<String> = Vec::new();
    let mut row = String::new();
    for word in text.split_whitespace() {
        let gap = usize::from(!row.is_empty());
        if row.width() + gap + word.width() <= width {
            if gap == 1 {
                row.push(' ');
            }
            row.push_str(word);
            continue;
        }
        if !row.is_empty() {
            rows.push(std::mem::take(&mut row));
        }
        for c in word.chars() {
            let mut longer = row.clone();
            longer.push(c);
            if longer.width() > width && !row.is_empty() {
                rows.push(std::mem::take(&mut row));
            }
            row.push(c);
        }
    }
    if !row.is_empty() {
        rows.push(row);
    }
    rows
}

/// Text that cannot be taken for markup of a page or a picture; control characters are left out.
#[must_use]
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn rows_break_at_spaces_and_long_words_inside() {
        assert_eq!(wrapped("Count out 12 ends.", 10), ["Count out", "12 ends."]);
        assert_eq!(wrapped("abcdef gh", 4), ["abcd", "ef", "gh"]);
        assert!(wrapped("  ", 4).is_empty());
    }

    #[test]
    fn a_mark_stays_under_its_figure() {
        assert_eq!(wrapped("stands:  1 2 . 4", 80), ["stands:  1 2 . 4"]);
        assert_eq!(wrapped("             ^", 80), ["             ^"]);
    }

    proptest! {
        #[test]
        fn no_letter_is_lost_and_no_row_is_too_wide(text in "[ -~]{0,200}", width in 1usize..90) {
            let rows = wrapped(&text, width);
            prop_assert!(rows.iter().all(|row| row.width() <= width));
            let letters = |s: &str| s.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            prop_assert_eq!(letters(&rows.concat()), letters(&text));
        }
    }
}
