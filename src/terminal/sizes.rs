//! How large what is drawn looks from the loom, in minutes of arc. Owns the arithmetic and its table
//! for DEVELOPERS.md; reads no screen.

/// A screen by its diagonal and shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Display {
    /// Its name in the table.
    pub name: &'static str,
    /// Corner to corner, in inches.
    pub diagonal_in: f64,
    /// Its shape: so many parts wide, so many tall.
    pub shape: (f64, f64),
}

/// Common laptop screens (common practice, no source).
pub const DISPLAYS: [Display; 3] = [
    Display {
        name: "13.3 in, 16:10",
        diagonal_in: 13.3,
        shape: (16.0, 10.0),
    },
    Display {
        name: "14 in, 16:9",
        diagonal_in: 14.0,
        shape: (16.0, 9.0),
    },
    Display {
        name: "15.6 in, 16:9",
        diagonal_in: 15.6,
        shape: (16.0, 9.0),
    },
];

/// Rows of a full-screen window: with letters of the usual size, and with letters so large that 24
/// rows fill the screen (common practice, no source).
pub const ROWS: [u16; 2] = [40, 24];
/// What is drawn, and how many rows of ink it has: its blank row is left out.
pub const DRAWN: [(&str, f64); 3] = [("plain text", 1.0), ("distance line", 3.5), ("call", 7.0)];
/// From the loom to the screen beside it, in millimetres.
pub const DISTANCE_MM: f64 = 2000.0;
/// So many minutes of arc a letter needs to be read at ease (common practice, no source).
pub const NEEDED: f64 = 20.0;

impl Display {
    /// Its height in millimetres: by Pythagoras, an inch being 25.4 mm.
    #[must_use]
    pub fn height_mm(self) -> f64 {
        let (wide, tall) = self.shape;
        25.4 * self.diagonal_in * tall / wide.hypot(tall)
    }
}

/// The angle under which a height is seen: 60 times the degrees of atan(height / distance).
#[must_use]
pub fn minutes_of_arc(height_mm: f64, distance_mm: f64) -> f64 {
    60.0 * (height_mm / distance_mm).atan().to_degrees()
}

/// The table for DEVELOPERS.md.
#[must_use]
pub fn table() -> String {
    let mut text = String::from(
        "| screen | rows | a row, mm | plain text | distance line | call |\n|---|---|---|---|---|---|\n",
    );
    for display in DISPLAYS {
        for rows in ROWS {
            let row = display.height_mm() / f64::from(rows);
            let seen =
                DRAWN.map(|(_, ink)| format!("{:.0}'", minutes_of_arc(ink * row, DISTANCE_MM)));
            text.push_str(&format!(
                "| {} | {rows} | {row:.1} | {} |\n",
                display.name,
                seen.join(" | ")
            ));
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_angle_is_that_of_its_triangle() {
        // 1 in 1 is 45 degrees; a small angle is 3437.75 times its tangent (180 x 60 / pi)
        assert!((minutes_of_arc(10.0, 10.0) - 2700.0).abs() < 1e-9);
        assert!((minutes_of_arc(1.0, 3437.75) - 1.0).abs() < 1e-4);
    }

    #[test]
    fn a_three_four_five_screen_is_three_fifths_of_its_diagonal_tall() {
        let display = Display {
            name: "",
            diagonal_in: 10.0,
            shape: (4.0, 3.0),
        };
        assert!((display.height_mm() - 6.0 * 25.4).abs() < 1e-9);
    }

    #[test]
    fn plain_text_is_too_small_at_the_loom_and_all_that_is_drawn_large_is_not() {
        for display in DISPLAYS {
            for rows in ROWS {
                let row = display.height_mm() / f64::from(rows);
                for (name, ink) in DRAWN {
                    let seen = minutes_of_arc(ink * row, DISTANCE_MM);
                    assert_eq!(seen >= NEEDED, name != "plain text", "{name}: {seen}");
                }
            }
        }
    }

    #[test]
    fn the_page_for_developers_holds_this_table() {
        let page = std::fs::read_to_string("DEVELOPERS.md").unwrap();
        assert!(
            page.contains(&table()),
            "put this into DEVELOPERS.md:\n{}",
            table()
        );
    }
}
