//! The colours of yarns: a plain word, light or dark, or red, green and blue as `#rrggbb`. Owns the
//! words and what they are taken for (a judgement, no source); never how a colour is shown.

use super::{Floats, Plan, Side};
use crate::quantity::{Call, Position};

/// Red, green and blue, each 0 to 255.
pub type Rgb = [u8; 3];

/// What a colour may be called, and what it is taken for.
const COLOURS: [(&str, Rgb); 16] = [
    ("white", [250, 250, 250]),
    ("natural", [236, 226, 200]),
    ("black", [24, 24, 24]),
    ("grey", [140, 140, 140]),
    ("red", [196, 36, 40]),
    ("orange", [232, 128, 32]),
    ("yellow", [240, 208, 56]),
    ("green", [48, 136, 72]),
    ("turquoise", [48, 160, 168]),
    ("blue", [44, 92, 176]),
    ("navy", [32, 44, 92]),
    ("violet", [120, 68, 156]),
    ("pink", [236, 152, 172]),
    ("brown", [120, 80, 48]),
    ("beige", [212, 188, 148]),
    ("gold", [204, 164, 56]),
];

/// The words for a problem's "expected", the form of numbers last.
#[must_use]
pub fn words() -> Vec<&'static str> {
    let words = COLOURS.iter().map(|(word, _)| *word);
    words
        .chain(["light or dark before these", "#rrggbb"])
        .collect()
}

/// A colour as written: `white`, `dark green`, `#2a6fb0`; `None` for anything else.
#[must_use]
pub fn read_colour(text: &str) -> Option<Rgb> {
    let text = text.trim().to_lowercase();
    if let Some(digits) = text.strip_prefix('#') {
        let whole = digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit());
        let n = u32::from_str_radix(digits, 16).ok().filter(|_| whole)?;
        let [_, r, g, b] = n.to_be_bytes();
        return Some([r, g, b]);
    }
    let (shade, word) = match text.split_once(' ') {
        Some(("light", word)) => (Some(255), word.trim()),
        Some(("dark", word)) => (Some(0), word.trim()),
        Some(_) => return None,
        None => (None, text.as_str()),
    };
    let &(_, rgb) = COLOURS.iter().find(|(known, _)| *known == word)?;
    let half = |part: u8, to: u16| u8::try_from((u16::from(part) + to) / 2).unwrap_or(u8::MAX);
    Some(shade.map_or(rgb, |to| rgb.map(|part| half(part, to))))
}

impl Plan {
    fn colour_of_yarn(&self, name: &str) -> Option<Rgb> {
        let yarn = self.spec.yarns.iter().find(|yarn| yarn.name == name)?;
        read_colour(yarn.colour.as_deref()?)
    }

    /// The colour of an end's yarn; `None` where the plan names none.
    #[must_use]
    pub fn colour_of(&self, call: Call) -> Option<Rgb> {
        self.colour_of_wound(call.0 + u32::from(self.floats == Floats::FromWarp))
    }

    /// The colour at a position of the warp; an added float is of its edge's yarn.
    #[must_use]
    pub fn colour_at(&self, position: Position) -> Option<Rgb> {
        match (self.call_at(position), self.floats) {
            (Some(call), _) => self.colour_of(call),
            (None, Floats::FromWarp | Floats::Added) => {
                let first = (position.0 == 1) == (self.thread_from == Side::Right);
                self.colour_of_wound(if first { 1 } else { self.ends })
            }
            (None, Floats::None) => None,
        }
    }

    fn colour_of_wound(&self, wound: u32) -> Option<Rgb> {
        let at = self.stripes.partition_point(|stripe| stripe.last < wound);
        self.colour_of_yarn(&self.stripes.get(at)?.yarn)
    }

    /// The colour of the weft; `None` where the plan names none.
    #[must_use]
    pub fn colour_of_weft(&self) -> Option<Rgb> {
        self.colour_of_yarn(&self.spec.weft.as_ref()?.yarn)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_are_words_shades_or_numbers() {
        assert_eq!(read_colour("#2A6fb0"), Some([42, 111, 176]));
        assert_eq!(read_colour(" Red "), Some([196, 36, 40]));
        let [light, dark] = ["light red", "dark red"].map(|c| read_colour(c).unwrap());
        assert!(light[1] > 36 && dark[0] < 196);
        for wrong in [
            "", "#12345", "#1234567", "#+12345", "#ééé", "reddish", "very red", "light",
        ] {
            assert_eq!(read_colour(wrong), None, "{wrong}");
        }
        assert!(
            words()
                .iter()
                .take(16)
                .all(|word| read_colour(word).is_some())
        );
    }
}
