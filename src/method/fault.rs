//! What can be wrong with a method file. Owns the faults and their sentences, each of which names
//! the place, what was found, what was expected and what to do; never finds one.

use super::{Stage, StepId};
use std::fmt;
use thiserror::Error;

/// Whose text it is.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Owner {
    /// The file itself, outside its lists.
    File,
    /// A stage.
    Stage(Stage),
    /// A step.
    Step(StepId),
    /// An entry whose id could not be read.
    Entry {
        /// `steps` or `stages`.
        list: &'static str,
        /// Its number in the list, from 1.
        number: usize,
    },
}

impl fmt::Display for Owner {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File => out.write_str("the file"),
            Self::Stage(id) => write!(out, "stage \"{}\"", id.name()),
            Self::Step(id) => write!(out, "step \"{}\"", id.name()),
            Self::Entry { list, number } => write!(out, "entry {number} of \"{list}\""),
        }
    }
}

/// Where in the file.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Place {
    /// Whose text.
    pub owner: Owner,
    /// The field as the file spells it, such as `far`, `wrong[2].sign` or `variants[1].do`,
    /// numbered from 1; empty for the owner as a whole.
    pub field: String,
}

impl fmt::Display for Place {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.field.is_empty() {
            return self.owner.fmt(out);
        }
        write!(out, "{}, \"{}\"", self.owner, self.field)
    }
}

/// A fault of a method file: what was found, what was expected, where, and what to do.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum MethodFault {
    /// The file is longer than is read.
    #[error("the file has {bytes} bytes; at most {most} are read. Shorten it")]
    TooBig {
        /// Its length.
        bytes: usize,
        /// The limit.
        most: usize,
    },
    /// Brackets nest deeper than a method ever does.
    #[error("brackets nest deeper than {most}. Look for one that is not closed")]
    TooDeep {
        /// The limit.
        most: usize,
    },
    /// The text is no JSON.
    #[error("line {line}, column {column}: this is not JSON ({found}). Mend it there")]
    NotJson {
        /// Line, from 1.
        line: usize,
        /// Column, from 1; 0 at the end of a line.
        column: usize,
        /// The parser's own words.
        found: String,
    },
    /// The file does not say that it is of the wanted kind and version.
    #[error("{key}: found {found}, expected 1. Start the file with {{ \"{key}\": 1, ... }}")]
    Version {
        /// The key that must be 1.
        key: &'static str,
        /// What stands there.
        found: String,
    },
    /// A key that means nothing here.
    #[error("{place}: \"{key}\" is not known here{}. Rename it or take it out", meant(near.as_deref()))]
    UnknownKey {
        /// Where.
        place: Place,
        /// The key, made harmless.
        key: String,
        /// The nearest known key.
        near: Option<String>,
    },
    /// A key that the method decides and a house cannot.
    #[error("{place}: a house's own file cannot set this. Take it out")]
    NotForAHouse {
        /// Where.
        place: Place,
    },
    /// One key twice in one object: only one of them would be read.
    #[error("{place}: given twice. Keep one of the two")]
    KeyTwice {
        /// Where.
        place: Place,
    },
    /// A value of another kind than expected.
    #[error("{place}: found {found}, expected {expected}. Change it to that")]
    WrongShape {
        /// Where.
        place: Place,
        /// What stands there, in words.
        found: &'static str,
        /// What should stand there, in words.
        expected: &'static str,
    },
    /// A text or list that has to be there is lacking or empty.
    #[error("{place}: nothing there, expected a text. Write one")]
    Missing {
        /// Where.
        place: Place,
    },
    /// An id, or a kind of loom, that is not in the closed list. A house never adds a step.
    #[error("{place}: \"{found}\" is not one of the known ones{}. Correct it or take it out", meant(near.as_deref()))]
    UnknownId {
        /// Where.
        place: Place,
        /// What stands there, made harmless.
        found: String,
        /// The nearest known one.
        near: Option<String>,
    },
    /// A stage or step is not in the file.
    #[error("{owner}: not in the file, expected once. Add it")]
    IdMissing {
        /// Which.
        owner: Owner,
    },
    /// A stage or step is in the file more than once.
    #[error("{owner}: in the file twice, expected once. Keep one of the two")]
    IdTwice {
        /// Which.
        owner: Owner,
    },
    /// A stage or step stands too late or too early.
    #[error("{owner}: stands after {after}, expected before it. Move it up")]
    OutOfOrder {
        /// Which.
        owner: Owner,
        /// What stands before it and should follow it.
        after: Owner,
    },
    /// A house leaves out a step that is not optional.
    #[error(
        "{owner}: not optional, so it cannot be left out. Take \"skip\" away; rewording is free"
    )]
    NotOptional {
        /// Which.
        owner: Owner,
    },
    /// A house leaves out one of two steps that only make sense together.
    #[error("{skipped}: left out without {kept}, which undoes or needs it. Leave out both or none")]
    HalfSkipped {
        /// The one that is left out.
        skipped: Owner,
        /// The one that is not.
        kept: Owner,
    },
    /// A text is wider than its room.
    #[error("{place}: {columns} columns at its widest, room for {most}. Shorten it")]
    TooLong {
        /// Where.
        place: Place,
        /// Its width with every figure at its longest.
        columns: usize,
        /// The room.
        most: usize,
    },
    /// More things than are shown.
    #[error("{place}: {count} entries, at most {most} are shown. Keep the most likely ones")]
    TooMany {
        /// Where.
        place: Place,
        /// Entries found.
        count: usize,
        /// Entries that are shown.
        most: usize,
    },
    /// An imperative sentence of too many words.
    #[error("{place}: {words} words, at most {most}. Say one thing, shorter")]
    TooManyWords {
        /// Where.
        place: Place,
        /// Words with every figure put in.
        words: usize,
        /// The limit.
        most: usize,
    },
    /// A `do` that does not tell the weaver what to do first.
    #[error(
        "{place}: begins with \"{found}\", expected a word that says what to do, such as \"Tie\" or \"Count\". Turn it round"
    )]
    NotImperative {
        /// Where.
        place: Place,
        /// Its first word.
        found: String,
    },
    /// A `do` of more or less than one sentence.
    #[error("{place}: {sentences} sentences, expected one that ends in a full stop. Make it one")]
    NotOneSentence {
        /// Where.
        place: Place,
        /// Full sentences found; 0 where the full stop is lacking.
        sentences: usize,
    },
    /// A character or word that a voice stumbles over.
    #[error("{place}: a voice cannot read \"{found}\", expected words. Write it out")]
    NotSpeakable {
        /// Where.
        place: Place,
        /// What it stumbles over.
        found: String,
    },
    /// A character that the large letters do not have.
    #[error(
        "{place}: \"{found}\" cannot be drawn large, expected letters, digits and . , : ' - only. Leave it out"
    )]
    NotDrawable {
        /// Where.
        place: Place,
        /// The character.
        found: char,
    },
    /// Braces that name no figure.
    #[error("{place}: {{{found}}} is not a known figure{}. Correct the name, or leave the braces out", meant(near.as_deref()))]
    UnknownFigure {
        /// Where.
        place: Place,
        /// What stands in the braces, made harmless.
        found: String,
        /// The nearest known figure.
        near: Option<String>,
    },
    /// A figure that is a long list, in a short line.
    #[error("{place}: {{{figure}}} is a list and has no room here. Move it to \"why\"")]
    ListInShortLine {
        /// Where.
        place: Place,
        /// The figure.
        figure: &'static str,
    },
    /// A figure that may be unknown, in the sentence that has to stand.
    #[error(
        "{place}: {{{figure}}} may be unknown and its sentence is then left out. Put it in a later sentence of \"why\""
    )]
    UnsureFigure {
        /// Where.
        place: Place,
        /// The figure.
        figure: &'static str,
    },
    /// No caution where the work can hurt.
    #[error("{place}: nothing there, expected a caution, since this work can hurt. Write one")]
    NoCaution {
        /// Where.
        place: Place,
    },
    /// A caution that stands on its own authority.
    #[error("{place}: does not send the reader to {expected}. Name them there")]
    DoesNotDefer {
        /// Where.
        place: Place,
        /// Whom it should name.
        expected: &'static str,
    },
    /// A character that does not show: a control, a direction mark, a zero-width one.
    #[error("{place}: hidden character U+{code:04X}, expected plain text. Take it out")]
    Hidden {
        /// Where.
        place: Place,
        /// Its code point.
        code: u32,
    },
    /// A sentence that was said before.
    #[error("{place}: says again what {first} says (\"{sentence}\"). Say it once")]
    SaidTwice {
        /// Where.
        place: Place,
        /// Where it was said first.
        first: Box<Place>,
        /// The sentence.
        sentence: String,
    },
}

/// The tail of a message that offers the nearest known name.
fn meant(near: Option<&str>) -> String {
    near.map_or_else(String::new, |near| format!(" (did you mean \"{near}\"?)"))
}
