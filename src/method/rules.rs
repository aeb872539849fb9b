//! The rules of a single text: its room, its figures, and what its kind asks for. Owns those rules;
//! knows nothing of steps, order or what else is said in the file.

use super::fault::{MethodFault, Place};
use super::figure::{Figure, Piece, at_its_widest, pieces, sentences};
use super::near::{harmless, nearest};
use unicode_width::UnicodeWidthStr;

/// The most words in the one imperative sentence of a step.
pub const MOST_WORDS: usize = 20;
/// Words that open a sentence which tells, asks or explains; a `do` opens with none of them.
const NOT_IMPERATIVE: [&str; 52] = [
    "a", "after", "all", "always", "an", "and", "are", "at", "before", "but", "can", "could",
    "each", "every", "for", "from", "he", "i", "if", "in", "is", "it", "its", "never", "no", "not",
    "now", "on", "once", "only", "or", "please", "she", "should", "so", "some", "that", "the",
    "their", "then", "there", "these", "they", "this", "those", "to", "we", "when", "while",
    "will", "you", "your",
];

/// Shortened units that a voice reads as something else.
const SHORT_UNITS: [&str; 14] = [
    "cm", "mm", "m", "yd", "yds", "ft", "lb", "lbs", "oz", "kg", "g", "epi", "ppi", "dpi",
];

/// What kind of text it is; each has its own room and rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// The name of the method or the house.
    Name,
    /// What the method leaves out.
    Scope,
    /// To whom the method defers.
    Defers,
    /// A stage's name.
    StageTitle,
    /// What a stage is for.
    Aim,
    /// A step's name.
    Title,
    /// The imperative sentence.
    Do,
    /// The distance line.
    Far,
    /// The distance line at the plainest size.
    FarShort,
    /// The spoken line.
    Say,
    /// Why it matters.
    Why,
    /// A sign of trouble.
    Sign,
    /// What to do about it.
    Then,
    /// The caution.
    Caution,
}

impl Kind {
    /// The room, in columns.
    fn room(self) -> usize {
        match self {
            Self::StageTitle | Self::FarShort => 10,
            Self::Far => 20,
            Self::Title => 30,
            Self::Name => 40,
            Self::Aim | Self::Sign => 120,
            Self::Do | Self::Say | Self::Then | Self::Defers | Self::Scope => 160,
            Self::Why | Self::Caution => 240,
        }
    }

    /// Whether it says the step itself, so that a step may use one wording for two of these.
    pub(super) fn names_the_step(self) -> bool {
        matches!(
            self,
            Self::Title | Self::Do | Self::Far | Self::FarShort | Self::Say
        )
    }
}

/// One text and where it stands.
pub(super) struct Spot<'a> {
    pub(super) place: Place,
    pub(super) kind: Kind,
    pub(super) text: &'a str,
}

/// The rules of one text.
pub(super) fn judge(spot: &Spot) -> Vec<MethodFault> {
    let place = || spot.place.clone();
    if spot.text.trim().is_empty() {
        return vec![MethodFault::Missing { place: place() }];
    }
    let mut faults = Vec::new();
    if let Some(hidden) = spot.text.chars().find(|letter| is_hidden(*letter)) {
        faults.push(MethodFault::Hidden {
            place: place(),
            code: u32::from(hidden),
        });
    }
    faults.extend(judge_figures(spot));
    faults.extend(judge_width(spot));
    match spot.kind {
        Kind::Do => faults.extend(judge_imperative(spot)),
        Kind::Far | Kind::FarShort => faults.extend(judge_drawing(spot)),
        Kind::Say => faults.extend(judge_speech(spot)),
        Kind::Caution => faults.extend(judge_caution(spot)),
        Kind::Defers => faults.extend(judge_defers(spot)),
        Kind::Name | Kind::Scope | Kind::StageTitle | Kind::Aim => {}
        Kind::Title | Kind::Why | Kind::Sign | Kind::Then => {}
    }
    faults
}

fn judge_figures(spot: &Spot) -> Vec<MethodFault> {
    let mut faults = Vec::new();
    for (number, sentence) in sentences(spot.text).into_iter().enumerate() {
        for piece in pieces(sentence) {
            let place = spot.place.clone();
            match piece {
                Piece::Words(_) => {}
                Piece::Unknown(found) => {
                    let near = nearest(found, &Figure::ALL.map(Figure::name));
                    faults.push(MethodFault::UnknownFigure {
                        place,
                        found: harmless(found),
                        near,
                    });
                }
                Piece::Figure(figure) if figure.widest().is_none() && spot.kind != Kind::Why => {
                    faults.push(MethodFault::ListInShortLine {
                        place,
                        figure: figure.name(),
                    });
                }
                Piece::Figure(figure) if figure.may_be_unknown() && number == 0 => {
                    faults.push(MethodFault::UnsureFigure {
                        place,
                        figure: figure.name(),
                    });
                }
                Piece::Figure(_) => {}
            }
        }
    }
    faults
}

fn judge_width(spot: &Spot) -> Option<MethodFault> {
    let widest = at_its_widest(spot.text);
    let (columns, most) = (
        widest.as_deref().unwrap_or(spot.text).width(),
        spot.kind.room(),
    );
    (columns > most).then(|| MethodFault::TooLong {
        place: spot.place.clone(),
        columns,
        most,
    })
}

fn judge_imperative(spot: &Spot) -> Vec<MethodFault> {
    let mut faults = Vec::new();
    let place = || spot.place.clone();
    let (words, most) = (words_of(spot.text), MOST_WORDS);
    if words > most {
        faults.push(MethodFault::TooManyWords {
            place: place(),
            words,
            most,
        });
    }
    let sentences = sentences(spot.text).len();
    if sentences != 1 || !spot.text.ends_with('.') {
        let sentences = if spot.text.ends_with('.') {
            sentences
        } else {
            0
        };
        faults.push(MethodFault::NotOneSentence {
            place: place(),
            sentences,
        });
    }
    let first = spot.text.split_whitespace().next().unwrap_or_default();
    let bare = first
        .trim_end_matches(|letter: char| !letter.is_alphabetic())
        .to_lowercase();
    if bare.is_empty() || NOT_IMPERATIVE.contains(&bare.as_str()) || is_participle(&bare) {
        faults.push(MethodFault::NotImperative {
            place: place(),
            found: harmless(first),
        });
    }
    faults
}

/// Words of a text with every figure put in.
fn words_of(text: &str) -> usize {
    at_its_widest(text)
        .as_deref()
        .unwrap_or(text)
        .split_whitespace()
        .count()
}

/// "Tying" and "holding", but not "bring" and "string": a vowel stands before the ending.
fn is_participle(word: &str) -> bool {
    word.strip_suffix("ing")
        .is_some_and(|stem| stem.contains(['a', 'e', 'i', 'o', 'u', 'y']))
}

fn judge_drawing(spot: &Spot) -> Option<MethodFault> {
    let words = pieces(spot.text)
        .into_iter()
        .filter_map(|piece| match piece {
            Piece::Words(words) => Some(words),
            Piece::Figure(_) | Piece::Unknown(_) => None,
        });
    let found = words
        .flat_map(str::chars)
        .find(|letter| !is_drawable(*letter))?;
    // A hidden character has its own fault, which names it better.
    (!is_hidden(found)).then(|| MethodFault::NotDrawable {
        place: spot.place.clone(),
        found,
    })
}

fn is_drawable(letter: char) -> bool {
    letter.is_ascii_alphanumeric() || matches!(letter, ' ' | '.' | ',' | ':' | '\'' | '-')
}

fn judge_speech(spot: &Spot) -> Option<MethodFault> {
    let found = pieces(spot.text)
        .into_iter()
        .find_map(|piece| match piece {
            Piece::Words(words) => unspeakable(words),
            Piece::Figure(_) | Piece::Unknown(_) => None,
        })?;
    Some(MethodFault::NotSpeakable {
        place: spot.place.clone(),
        found: harmless(&found),
    })
}

/// The first symbol or shortened unit that a voice would stumble over.
fn unspeakable(words: &str) -> Option<String> {
    let readable =
        |c: char| c.is_alphanumeric() || c.is_whitespace() || ".,;:'\u{2019}?!-".contains(c);
    if let Some(symbol) = words.chars().find(|c| !readable(*c) && !is_hidden(*c)) {
        return Some(symbol.to_string());
    }
    words
        .split_whitespace()
        .map(bare_word)
        .find(|word| is_short_unit(word))
        .map(str::to_owned)
}

pub(super) fn bare_word(word: &str) -> &str {
    word.trim_matches(|letter: char| !letter.is_alphanumeric())
}

/// "cm", "20cm" or "12in": a unit cut short, alone or stuck to its number.
fn is_short_unit(word: &str) -> bool {
    let unit = word.trim_start_matches(|letter: char| letter.is_ascii_digit());
    SHORT_UNITS.contains(&unit) || (unit == "in" && unit != word)
}

/// A caution sends the reader on to one of those who know the loom or the work.
fn judge_caution(spot: &Spot) -> Option<MethodFault> {
    let names_one = ["manual", "teacher"]
        .iter()
        .any(|word| names(spot.text, word));
    (!names_one).then(|| MethodFault::DoesNotDefer {
        place: spot.place.clone(),
        expected: "the loom maker's \"manual\" or a \"teacher\"",
    })
}

/// The sentence that stands beside all cautions names all three.
fn judge_defers(spot: &Spot) -> Option<MethodFault> {
    let names_all = ["manual", "rules", "teacher"]
        .iter()
        .all(|word| names(spot.text, word));
    (!names_all).then(|| MethodFault::DoesNotDefer {
        place: spot.place.clone(),
        expected: "the loom maker's \"manual\", the local \"rules\" and a \"teacher\"",
    })
}

fn names(text: &str, word: &str) -> bool {
    text.to_lowercase().contains(word)
}

/// Characters that do not show, or that turn the direction of what follows.
pub(super) fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}
