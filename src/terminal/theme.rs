//! The colours of the screen: white on black and at most three accents, or none at all. Owns the
//! styles by what they mean; never carries a meaning by colour alone (each goes with a word and a
//! shape).

use ratatui::style::{Color, Modifier, Style};

/// What a part of the screen is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// The background and everything that is not something else.
    Ground,
    /// The call and what the weaver does now.
    Now,
    /// What is done.
    Done,
    /// What does not come out, a caution, a refusal.
    Alarm,
    /// What comes later, hints and frames.
    Quiet,
    /// The lit item of a menu.
    Lit,
}

impl Role {
    /// All roles.
    pub const ALL: [Self; 6] = [
        Self::Ground,
        Self::Now,
        Self::Done,
        Self::Alarm,
        Self::Quiet,
        Self::Lit,
    ];
}

/// A set of styles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Theme {
    /// White and three accents on a background of its own, of the 256 colours whose values are
    /// the same on every terminal that has them.
    #[default]
    Colour,
    /// No colour at all, only bold, underlined and reversed: for `NO_COLOR` and for terminals
    /// with few colours. No colour command is ever written.
    Mono,
}

/// White, the text.
pub const WHITE: u8 = 231;
/// Black, the ground.
pub const BLACK: u8 = 16;
/// Amber: now.
pub const AMBER: u8 = 214;
/// Blue: done.
pub const BLUE: u8 = 75;
/// Red: does not come out.
pub const RED: u8 = 203;
/// Grey: later.
pub const GREY: u8 = 250;

impl Theme {
    /// The theme for a terminal of this kind. `no_color` is whether the variable is set and not
    /// empty; `term` is the value of `TERM`.
    #[must_use]
    pub fn for_terminal(no_color: bool, term: Option<&str>) -> Self {
        let few = match term {
            None => false,
            Some(term) => {
                term.is_empty()
                    || term == "dumb"
                    || term.starts_with("linux")
                    || term.starts_with("vt1")
                    || term.starts_with("vt2")
            }
        };
        if no_color || few {
            Self::Mono
        } else {
            Self::Colour
        }
    }

    /// The style of a part of the screen.
    #[must_use]
    pub fn style(self, role: Role) -> Style {
        match self {
            Self::Colour => Self::coloured(role),
            Self::Mono => Self::plain(role),
        }
    }

    fn coloured(role: Role) -> Style {
        let on_black = |colour: u8| {
            Style::new()
                .fg(Color::Indexed(colour))
                .bg(Color::Indexed(BLACK))
        };
        match role {
            Role::Ground => on_black(WHITE),
            Role::Now => on_black(AMBER).add_modifier(Modifier::BOLD),
            Role::Done => on_black(BLUE),
            Role::Alarm => on_black(RED).add_modifier(Modifier::BOLD),
            Role::Quiet => on_black(GREY),
            Role::Lit => Style::new()
                .fg(Color::Indexed(BLACK))
                .bg(Color::Indexed(AMBER))
                .add_modifier(Modifier::BOLD),
        }
    }

    fn plain(role: Role) -> Style {
        let style = Style::new();
        match role {
            Role::Ground | Role::Done | Role::Quiet => style,
            Role::Now => style.add_modifier(Modifier::BOLD),
            Role::Alarm => style.add_modifier(Modifier::BOLD | Modifier::UNDERLINED),
            Role::Lit => style.add_modifier(Modifier::BOLD | Modifier::REVERSED),
        }
    }
}

/// The red, green and blue, 0..=255, of one of the colours 16..=255: the cube of 6 steps a side
/// and the greys, as the xterm terminal lays them out (from memory).
#[must_use]
pub fn rgb(index: u8) -> [u8; 3] {
    let step = |n: u8| if n == 0 { 0 } else { 55 + 40 * n };
    match index {
        16..=231 => {
            let n = index - 16;
            [step(n / 36), step(n / 6 % 6), step(n % 6)]
        }
        232..=255 => [8 + 10 * (index - 232); 3],
        _ => [0; 3],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terminal::canvas::Canvas;
    use crate::terminal::paint::{Span, Surface};
    use crate::terminal::sender::Sender;
    use ratatui::layout::Rect;

    const SHOWN: [u8; 5] = [WHITE, AMBER, BLUE, RED, GREY];

    /// sRGB to linear light (IEC 61966-2-1, as WCAG 2.1 restates it; the limit from memory).
    fn linear(value: u8) -> f64 {
        let v = f64::from(value) / 255.0;
        if v <= 0.04045 {
            v / 12.92
        } else {
            ((v + 0.055) / 1.055).powf(2.4)
        }
    }

    fn light(colour: u8) -> [f64; 3] {
        rgb(colour).map(linear)
    }

    /// WCAG 2.1, "relative luminance" (coefficients from memory).
    fn luminance([r, g, b]: [f64; 3]) -> f64 {
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// WCAG 2.1, "contrast ratio": (L1 + 0.05) / (L2 + 0.05).
    fn contrast(a: u8, b: u8) -> f64 {
        let (a, b) = (luminance(light(a)), luminance(light(b)));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn white_on_black_is_the_greatest_contrast_there_is() {
        assert!((contrast(WHITE, BLACK) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn every_colour_stands_out_from_the_ground_seven_to_one() {
        for colour in SHOWN {
            let found = contrast(colour, BLACK);
            assert!(found >= 7.0, "{colour} has {found:.2}:1 on black");
        }
        assert!(contrast(BLACK, AMBER) >= 7.0, "the lit item");
    }

    #[test]
    fn there_are_at_most_three_accents() {
        let accents: std::collections::HashSet<_> = Role::ALL
            .into_iter()
            .filter_map(|role| Theme::Colour.style(role).fg)
            .filter(|c| ![WHITE, GREY, BLACK].map(Color::Indexed).contains(c))
            .collect();
        assert!(accents.len() <= 3, "{accents:?}");
    }

    /// Machado, Oliveira and Fernandes, "A Physiologically-based Model for Simulation of Color
    /// Vision Deficiency", IEEE TVCG 15(6), 2009: the matrices at severity 1.0 for red-, green-
    /// and blue-blindness, on linear light (values from memory; each row adds up to 1).
    const BLINDNESS: [(&str, [[f64; 3]; 3]); 3] = [
        (
            "red",
            [
                [0.152_286, 1.052_583, -0.204_868],
                [0.114_503, 0.786_281, 0.099_216],
                [-0.003_882, -0.048_116, 1.051_998],
            ],
        ),
        (
            "green",
            [
                [0.367_322, 0.860_646, -0.227_968],
                [0.280_085, 0.672_501, 0.047_413],
                [-0.011_820, 0.042_940, 0.968_881],
            ],
        ),
        (
            "blue",
            [
                [1.255_528, -0.076_749, -0.178_779],
                [-0.078_411, 0.930_809, 0.147_602],
                [0.004_733, 0.691_367, 0.303_900],
            ],
        ),
    ];

    fn seen(matrix: &[[f64; 3]; 3], colour: [f64; 3]) -> [f64; 3] {
        matrix.map(|row| {
            let sum: f64 = row.iter().zip(colour).map(|(m, c)| m * c).sum();
            sum.clamp(0.0, 1.0)
        })
    }

    /// Linear light to CIE L*a*b* with the D65 white (CIE 15; coefficients from memory).
    fn lab([r, g, b]: [f64; 3]) -> [f64; 3] {
        let x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505;
        let y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
        let z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089;
        let f = |t: f64| {
            if t > 216.0 / 24389.0 {
                t.cbrt()
            } else {
                (24389.0 / 27.0 * t + 16.0) / 116.0
            }
        };
        let (x, y, z) = (f(x), f(y), f(z));
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    fn apart(a: [f64; 3], b: [f64; 3]) -> f64 {
        let (a, b) = (lab(a), lab(b));
        a.iter()
            .zip(b)
            .map(|(a, b)| (a - b).powi(2))
            .sum::<f64>()
            .sqrt()
    }

    #[test]
    fn the_matrices_leave_white_white() {
        for (name, matrix) in BLINDNESS {
            for row in matrix {
                let sum: f64 = row.iter().sum();
                assert!((sum - 1.0).abs() < 1e-5, "{name}: {sum}");
            }
        }
    }

    #[test]
    fn the_accents_are_told_apart_by_colour_blind_eyes_too() {
        let none = ("no", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]);
        // A difference of about 2.3 is just noticeable (from memory); fifteen times that is seen
        // at a glance.
        for (name, matrix) in BLINDNESS.into_iter().chain([none]) {
            for (i, a) in [WHITE, AMBER, BLUE, RED].into_iter().enumerate() {
                for b in [WHITE, AMBER, BLUE, RED].into_iter().skip(i + 1) {
                    let found = apart(seen(&matrix, light(a)), seen(&matrix, light(b)));
                    assert!(
                        found >= 35.0,
                        "{name} blindness: {a} and {b} are {found:.1}"
                    );
                }
            }
        }
    }

    #[test]
    fn no_color_and_plain_terminals_get_no_colour() {
        let theme = Theme::for_terminal;
        assert_eq!(theme(true, Some("xterm-256color")), Theme::Mono);
        for term in ["dumb", "linux", "vt100", "vt220", ""] {
            assert_eq!(theme(false, Some(term)), Theme::Mono, "{term}");
        }
        assert_eq!(theme(false, Some("xterm-256color")), Theme::Colour);
        assert_eq!(theme(false, None), Theme::Colour);
    }

    #[test]
    fn without_colour_bold_and_reverse_reach_the_terminal_and_no_colour_does() {
        let mut bytes = Vec::new();
        let mut canvas = Canvas::empty(Rect::new(0, 0, 6, 1));
        for (x, role) in (0..6).zip(Role::ALL) {
            canvas.put((x, 0), "x", Theme::Mono.style(role));
        }
        let mut sender = Sender::new(&mut bytes, true);
        sender
            .send(
                &canvas,
                &[Span {
                    y: 0,
                    x: 0,
                    cells: 6,
                }],
            )
            .unwrap();
        sender.flush().unwrap();
        drop(sender);
        let sent = String::from_utf8(bytes).unwrap();
        assert!(sent.contains("\x1b[1m") && sent.contains("7m"));
        for colour in ["38;", "39", "48;", "49", "\x1b[m"] {
            assert!(!sent.contains(colour), "{sent:?} has {colour:?}");
        }
        let mut screen = vt100::Parser::new(1.try_into().unwrap(), 20.try_into().unwrap(), 0);
        screen.process(sent.as_bytes());
        let at = |x| screen.screen().cell(0, x).unwrap();
        assert!(at(1).bold() && at(5).inverse() && at(5).bold());
        assert!(at(3).underline() && !at(0).bold());
    }
}
