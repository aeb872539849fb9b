//! What a voice says: sentences in a form that can be heard, and what each of them is for. Owns the
//! spoken form of figures; the sentences themselves stand beside those of the screen.

use crate::plan::Units;
use crate::quantity::{Fraction, Shaft};

/// What a spoken sentence is for. A weaver chooses how much of it she hears.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// What to do now: the call, the step, the question. Said when the work moved or was asked for
    /// again.
    Call,
    /// What is lit now in the menu or in an answer, for a hand with one button.
    Lit,
    /// What a press did, or why it did nothing.
    Remark,
}

/// One sentence for a voice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// What it is for.
    pub purpose: Purpose,
    /// The words, as [`aloud`] makes them.
    pub text: String,
}

impl Said {
    /// A sentence, put into a form that can be heard.
    #[must_use]
    pub fn new(purpose: Purpose, text: &str) -> Self {
        Self {
            purpose,
            text: aloud(text),
        }
    }
}

/// A length as it is said: "12 inches", "13 and a half inches", "352 millimetres". Rounded as on
/// the tape: to the nearest eighth of an inch, to the millimetre.
#[must_use]
pub fn length(length: Fraction, units: Units) -> String {
    match units {
        Units::In => inches(length),
        Units::Cm => millimetres(length),
    }
}

fn inches(length: Fraction) -> String {
    let eighths = length
        .times(Fraction::whole(8))
        .map_or(0, |eighths| eighths.round());
    let (whole, part) = (eighths.div_euclid(8), eighths.rem_euclid(8));
    let part = match part {
        0 => None,
        1 => Some("an eighth"),
        2 => Some("a quarter"),
        3 => Some("3 eighths"),
        4 => Some("a half"),
        5 => Some("5 eighths"),
        6 => Some("3 quarters"),
        _ => Some("7 eighths"),
    };
    match (whole, part) {
        (0, Some("a half")) => "half an inch".to_owned(),
        (0, Some(part)) => format!("{part} of an inch"),
        (1, None) => "1 inch".to_owned(),
        (whole, None) => format!("{whole} inches"),
        (whole, Some(part)) => format!("{whole} and {part} inches"),
    }
}

fn millimetres(centimetres: Fraction) -> String {
    let mm = centimetres
        .times(Fraction::whole(10))
        .map_or(0, |mm| mm.round());
    match mm {
        1 => "1 millimetre".to_owned(),
        mm => format!("{mm} millimetres"),
    }
}

/// "4, 3, 2.": calls said singly.
#[must_use]
pub fn calls(shafts: &[Shaft]) -> String {
    let said: Vec<String> = shafts.iter().map(|shaft| shaft.0.to_string()).collect();
    format!("{}.", said.join(", "))
}

/// "4, 3, 2. 1, 2.": several handfuls, a beat between them.
#[must_use]
pub fn in_handfuls(shafts: &[Shaft], lengths: &[u32]) -> String {
    let mut rest = shafts;
    let mut said: Vec<String> = Vec::new();
    for &len in lengths {
        let (now, later) = rest.split_at(rest.len().min(len as usize));
        said.extend((!now.is_empty()).then(|| calls(now)));
        rest = later;
    }
    said.join(" ")
}

/// A sentence of the screen as it can be heard: words in capitals would be spelled, and signs
/// would be named or passed over.
#[must_use]
pub fn aloud(text: &str) -> String {
    let words: Vec<String> = text.split_whitespace().map(word).collect();
    let mut said: Vec<String> = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let unit = word.trim_end_matches(['.', ',', ';']);
        let tail = &word[unit.len()..];
        // an "in" within a clause is no unit
        let ends = !tail.is_empty() || at + 1 == words.len();
        match length_said(&said, unit).filter(|_| ends) {
            Some((figures, length)) => {
                said.truncate(said.len() - figures);
                said.push(length + tail);
            }
            None => said.push(word.clone()),
        }
    }
    said.join(" ")
}

/// The length whose unit comes now, as it is said, and how many words of figures it takes the place
/// of: "13 7/8" before "in", "349" before "mm", "per" before either.
fn length_said(said: &[String], unit: &str) -> Option<(usize, String)> {
    let last = said.last()?;
    let one = match unit {
        "in" => "an inch",
        "cm" => "a centimetre",
        "mm" => "a millimetre",
        _ => return None,
    };
    if last == "per" {
        return Some((1, one.to_owned()));
    }
    if unit != "in" {
        last.parse::<u32>().ok()?;
        let named = one.trim_start_matches("a ");
        let many = if last == "1" { "" } else { "s" };
        return Some((1, format!("{last} {named}{many}")));
    }
    let before = said.len().checked_sub(2).and_then(|at| said.get(at));
    let whole = before.and_then(|whole| whole.parse::<u32>().ok());
    let mixed = whole.filter(|_| last.contains('/'));
    let (figures, text) = match mixed {
        Some(whole) => (2, format!("{whole} {last}")),
        None => (1, last.clone()),
    };
    let length = crate::quantity::parse_fraction(&text).ok()?;
    Some((figures, inches(length)))
}

fn word(word: &str) -> String {
    let letters = word.chars().filter(|c| c.is_alphabetic());
    let shouted = letters.clone().count() > 1 && letters.clone().all(char::is_uppercase);
    let word = if shouted {
        word.to_lowercase()
    } else {
        word.to_owned()
    };
    let below_nothing = word
        .strip_prefix('-')
        .filter(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
    match (word.as_str(), below_nothing) {
        ("-", _) => "minus".to_owned(),
        ("/", _) => ",".to_owned(),
        (_, Some(rest)) => format!("minus {rest}"),
        _ => word.replace(['"', '[', ']'], ""),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(n: i64, d: i64) -> String {
        length(Fraction::new(n, d).unwrap(), Units::In)
    }

    #[test]
    fn inches_are_said_to_the_eighth() {
        assert_eq!(said(12, 1), "12 inches");
        assert_eq!(said(27, 2), "13 and a half inches");
        assert_eq!(said(57, 8), "7 and an eighth inches");
        assert_eq!(said(1, 1), "1 inch");
        assert_eq!(said(1, 2), "half an inch");
        assert_eq!(said(3, 8), "3 eighths of an inch");
        assert_eq!(said(5, 4), "1 and a quarter inches");
        assert_eq!(said(127, 16), "8 inches", "rounded as on the tape");
    }

    #[test]
    fn metric_lengths_are_said_in_millimetres() {
        let cm = |n, d| length(Fraction::new(n, d).unwrap(), Units::Cm);
        assert_eq!(cm(176, 5), "352 millimetres");
        assert_eq!(cm(1, 10), "1 millimetre");
    }

    #[test]
    fn digits_are_said_singly_with_a_beat_between_handfuls() {
        let shafts = [4, 3, 2, 1, 12].map(Shaft);
        assert_eq!(calls(&shafts[..3]), "4, 3, 2.");
        assert_eq!(in_handfuls(&shafts, &[3, 2]), "4, 3, 2. 1, 12.");
        assert_eq!(in_handfuls(&shafts, &[9, 3]), "4, 3, 2, 1, 12.");
    }

    #[test]
    fn nothing_is_spelled_or_passed_over() {
        assert_eq!(aloud("STOP FOR TODAY"), "stop for today");
        assert_eq!(
            aloud("0 for none, -1 for one too few"),
            "0 for none, minus 1 for one too few"
        );
        assert_eq!(aloud("A press does not answer"), "A press does not answer");
        assert_eq!(aloud("\"Middles\" done"), "Middles done");
        assert_eq!(aloud("-"), "minus");
    }

    #[test]
    fn a_length_with_its_unit_is_said_in_words() {
        assert_eq!(
            aloud("Width measured: 13 7/8 in; asked for more."),
            "Width measured: 13 and 7 eighths inches; asked for more."
        );
        assert_eq!(aloud("5/8 in."), "5 eighths of an inch.");
        assert_eq!(aloud("Answered 0; 13 in"), "Answered 0; 13 inches");
        assert_eq!(aloud("59 mm."), "59 millimetres.");
        assert_eq!(aloud("20 per in; done"), "20 an inch; done");
        assert_eq!(aloud("7.5 per cm."), "7.5 a centimetre.");
        assert_eq!(aloud("group 3 in the raddle"), "group 3 in the raddle");
    }
}
