//! Seven by seven pixels: the bitmaps of digits, letters and signs, drawn for this program. Owns
//! the shapes; never draws.
//!
//! A pixel is one cell wide and one cell (or half a cell) tall, and a cell is about twice as tall
//! as it is wide: so upright strokes are two pixels thick and level ones a single pixel. Rows 2 and
//! 6 of each letter only carry on what their neighbours show, so that a face of five rows is made
//! by leaving them out.

/// A bitmap: seven rows from the top, bit 6 the leftmost pixel.
pub type Bitmap = [u8; 7];

/// Pixels of a row.
pub const SIDE: u16 = 7;

/// Reads a picture of `#` and `.`; done by the compiler, which refuses any other size.
const fn pixels(rows: [&str; 7]) -> Bitmap {
    let mut bitmap = [0u8; 7];
    let mut y = 0;
    while y < 7 {
        let row = rows[y].as_bytes();
        assert!(row.len() == 7, "a row has seven pixels");
        let mut x = 0;
        while x < 7 {
            if row[x] == b'#' {
                bitmap[y] |= 1 << (6 - x);
            }
            x += 1;
        }
        y += 1;
    }
    bitmap
}

/// The digits 0 to 9. Any two differ in at least 10 of the 49 pixels; a test counts them.
pub const DIGITS: [Bitmap; 10] = [
    pixels([
        "..###..", ".##.##.", "##...##", "##...##", "##...##", ".##.##.", "..###..",
    ]),
    pixels([
        "...##..", "..###..", ".####..", "...##..", "...##..", "...##..", ".######",
    ]),
    pixels([
        ".#####.", "##...##", ".....##", "...###.", ".###...", "##.....", "#######",
    ]),
    pixels([
        "#######", "....##.", "...##..", "..####.", ".....##", "##...##", ".#####.",
    ]),
    pixels([
        "....##.", "...###.", "..####.", ".##.##.", "##..##.", "#######", "....##.",
    ]),
    pixels([
        "#######", "##.....", "######.", ".....##", ".....##", "##...##", ".#####.",
    ]),
    pixels([
        "...###.", "..##...", ".##....", "######.", "##...##", "##...##", ".#####.",
    ]),
    pixels([
        "#######", ".....##", "....##.", "...##..", "..##...", "..##...", "..##...",
    ]),
    pixels([
        ".#####.", "##...##", ".##.##.", "..###..", ".##.##.", "##...##", ".#####.",
    ]),
    pixels([
        ".#####.", "##...##", "##...##", ".######", "....##.", "...##..", ".###...",
    ]),
];

/// The letters A to Z.
pub const LETTERS: [Bitmap; 26] = [
    pixels([
        "..###..", ".##.##.", "##...##", "#######", "##...##", "##...##", "##...##",
    ]),
    pixels([
        "######.", "##...##", "##...##", "######.", "##...##", "##...##", "######.",
    ]),
    pixels([
        ".#####.", "##...##", "##.....", "##.....", "##.....", "##...##", ".#####.",
    ]),
    pixels([
        "#####..", "##..##.", "##...##", "##...##", "##...##", "##..##.", "#####..",
    ]),
    pixels([
        "#######", "##.....", "##.....", "#####..", "##.....", "##.....", "#######",
    ]),
    pixels([
        "#######", "##.....", "##.....", "#####..", "##.....", "##.....", "##.....",
    ]),
    pixels([
        ".#####.", "##.....", "##.....", "##.####", "##...##", "##...##", ".#####.",
    ]),
    pixels([
        "##...##", "##...##", "##...##", "#######", "##...##", "##...##", "##...##",
    ]),
    pixels([
        ".######", "...##..", "...##..", "...##..", "...##..", "...##..", ".######",
    ]),
    pixels([
        "...####", ".....##", ".....##", ".....##", "##...##", "##...##", ".#####.",
    ]),
    pixels([
        "##...##", "##..##.", "##.##..", "####...", "##.##..", "##..##.", "##...##",
    ]),
    pixels([
        "##.....", "##.....", "##.....", "##.....", "##.....", "##.....", "#######",
    ]),
    pixels([
        "##...##", "###.###", "#######", "##.#.##", "##...##", "##...##", "##...##",
    ]),
    pixels([
        "##...##", "###..##", "####.##", "##.####", "##..###", "##...##", "##...##",
    ]),
    pixels([
        ".#####.", "##...##", "##...##", "##...##", "##...##", "##...##", ".#####.",
    ]),
    pixels([
        "######.", "##...##", "##...##", "######.", "##.....", "##.....", "##.....",
    ]),
    pixels([
        ".#####.", "##...##", "##...##", "##...##", "##.#.##", "##..##.", ".####.#",
    ]),
    pixels([
        "######.", "##...##", "##...##", "######.", "##.##..", "##..##.", "##...##",
    ]),
    pixels([
        ".######", "##.....", "##.....", ".#####.", ".....##", ".....##", "######.",
    ]),
    pixels([
        "#######", "...##..", "...##..", "...##..", "...##..", "...##..", "...##..",
    ]),
    pixels([
        "##...##", "##...##", "##...##", "##...##", "##...##", "##...##", ".#####.",
    ]),
    pixels([
        "##...##", "##...##", "##...##", ".##.##.", ".##.##.", "..###..", "...#...",
    ]),
    pixels([
        "##...##", "##...##", "##...##", "##.#.##", "#######", "###.###", "##...##",
    ]),
    pixels([
        "##...##", ".##.##.", "..###..", "...#...", "..###..", ".##.##.", "##...##",
    ]),
    pixels([
        "##...##", ".##.##.", "..###..", "...##..", "...##..", "...##..", "...##..",
    ]),
    pixels([
        "#######", "....##.", "....##.", "...##..", "..##...", ".##....", "#######",
    ]),
];

/// A sign beside letters and digits.
const SIGNS: [(char, Bitmap); 14] = [
    (' ', [0; 7]),
    (
        '-',
        pixels([
            ".......", ".......", ".......", ".#####.", ".......", ".......", ".......",
        ]),
    ),
    (
        '+',
        pixels([
            ".......", "...##..", "...##..", ".######", "...##..", "...##..", ".......",
        ]),
    ),
    (
        '.',
        pixels([
            ".......", ".......", ".......", ".......", ".......", "..##...", "..##...",
        ]),
    ),
    (
        ',',
        pixels([
            ".......", ".......", ".......", ".......", "..##...", "..##...", ".##....",
        ]),
    ),
    (
        ':',
        pixels([
            ".......", "..##...", "..##...", ".......", "..##...", "..##...", ".......",
        ]),
    ),
    (
        '/',
        pixels([
            ".....##", "....##.", "....##.", "...##..", "..##...", ".##....", "##.....",
        ]),
    ),
    (
        '?',
        pixels([
            ".#####.", "##...##", ".....##", "...###.", "...##..", ".......", "...##..",
        ]),
    ),
    (
        '!',
        pixels([
            "...##..", "...##..", "...##..", "...##..", "...##..", ".......", "...##..",
        ]),
    ),
    (
        '\'',
        pixels([
            "...##..", "...##..", "..##...", ".......", ".......", ".......", ".......",
        ]),
    ),
    (
        '(',
        pixels([
            "....##.", "...##..", "..##...", "..##...", "..##...", "...##..", "....##.",
        ]),
    ),
    (
        ')',
        pixels([
            "..##...", "...##..", "....##.", "....##.", "....##.", "...##..", "..##...",
        ]),
    ),
    (
        '<',
        pixels([
            ".....##", "...##..", ".##....", "##.....", ".##....", "...##..", ".....##",
        ]),
    ),
    (
        '>',
        pixels([
            "##.....", "..##...", "....##.", ".....##", "....##.", "..##...", "##.....",
        ]),
    ),
];

/// The bitmap of a character: letters in either case, digits, the signs; any other is a box, so
/// that what cannot be drawn is seen to be missing.
#[must_use]
pub fn bitmap_of(c: char) -> Bitmap {
    if let Some(digit) = c.to_digit(10) {
        return DIGITS[digit as usize % 10];
    }
    let upper = c.to_ascii_uppercase();
    if upper.is_ascii_uppercase() {
        return LETTERS[usize::from(upper as u8 - b'A')];
    }
    SIGNS
        .iter()
        .find(|(sign, _)| *sign == c)
        .map_or(BOX, |(_, bitmap)| *bitmap)
}

/// Whether the face has a shape of its own for the character.
#[must_use]
pub fn has(c: char) -> bool {
    c.is_ascii_alphanumeric() || SIGNS.iter().any(|(sign, _)| *sign == c)
}

const BOX: Bitmap = pixels([
    "#######", "##...##", "##...##", "##...##", "##...##", "##...##", "#######",
]);

/// Whether the pixel is set; `x` from the left and `y` from the top, 0..=6; outside is blank.
#[must_use]
pub fn is_set(bitmap: &Bitmap, x: u16, y: u16) -> bool {
    x < SIDE
        && bitmap
            .get(usize::from(y))
            .is_some_and(|row| row >> (6 - x) & 1 == 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn differ(a: &Bitmap, b: &Bitmap) -> u32 {
        a.iter().zip(b).map(|(a, b)| (a ^ b).count_ones()).sum()
    }

    /// The same with the rows left out that the five-row face leaves out.
    fn differ_in_five(a: &Bitmap, b: &Bitmap) -> u32 {
        [0, 2, 3, 4, 6]
            .into_iter()
            .map(|y: usize| (a[y] ^ b[y]).count_ones())
            .sum()
    }

    #[test]
    fn any_two_digits_differ_in_ten_pixels() {
        for (a, x) in DIGITS.iter().enumerate() {
            for (b, y) in DIGITS.iter().enumerate().take(a) {
                let found = differ(x, y);
                assert!(found >= 10, "{a} and {b} differ in {found} of 49 pixels");
            }
        }
    }

    #[test]
    fn any_two_shapes_differ_and_in_five_rows_too() {
        let all: Vec<char> = ('0'..='9')
            .chain('A'..='Z')
            .chain(SIGNS.iter().map(|(c, _)| *c))
            .collect();
        for (i, a) in all.iter().enumerate() {
            for b in &all[..i] {
                let (x, y) = (bitmap_of(*a), bitmap_of(*b));
                let least = if "-.,:' !?".contains(*a) { 2 } else { 4 };
                assert!(
                    differ(&x, &y) >= least,
                    "{a} and {b} differ in {}",
                    differ(&x, &y)
                );
                assert!(
                    differ_in_five(&x, &y) >= 2,
                    "{a} and {b} in five rows: {}",
                    differ_in_five(&x, &y)
                );
            }
        }
    }

    #[test]
    fn digits_stay_apart_in_five_rows() {
        for (a, x) in DIGITS.iter().enumerate() {
            for (b, y) in DIGITS.iter().enumerate().take(a) {
                let found = differ_in_five(x, y);
                assert!(found >= 7, "{a} and {b} differ in {found} of 35 pixels");
            }
        }
    }

    #[test]
    fn what_has_no_shape_is_a_box() {
        assert_eq!(bitmap_of('é'), BOX);
        assert!(!has('é') && has('a') && has('7') && has('?'));
    }
}
