//! WIF 1.1 (20 April 1997), the open interchange format for drafts: read as far as it concerns dressing,
//! and written with the sections that the standard asks for. Owns the draft as the file has it; turning
//! it into a plan is in `draft`. Names of sections and keys are from memory of the standard.

mod draft;
mod ini;
mod of_plan;
mod read;
mod write;

pub use draft::spec_of_wif;
pub use of_plan::wif_of_plan;
pub use read::read_wif;
pub use write::write_wif;

use crate::quantity::Fraction;

/// The largest file read, in bytes.
pub const LARGEST: usize = 16_000_000;
/// The most picks kept.
pub const MOST_PICKS: u32 = 100_000;
/// The most colours kept.
pub const MOST_COLOURS: u32 = 10_000;

/// The unit of spacing and thickness.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WifUnits {
    /// 1/720 inch.
    Decipoints,
    /// Inches.
    Inches,
    /// Centimetres.
    Centimetres,
}

/// One set of threads.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Threads {
    /// How many, as the file says; 0 where it says nothing.
    pub count: u32,
    /// Colour of all threads that have none of their own, a number of the colour table.
    pub colour: Option<u32>,
    /// Unit of spacing and thickness.
    pub units: Option<WifUnits>,
    /// From thread to thread.
    pub spacing: Option<Fraction>,
    /// Thickness of a thread.
    pub thickness: Option<Fraction>,
    /// Colour of each thread, thread 1 first; 0 for none of its own.
    pub colours: Vec<u32>,
    /// Whether single threads have a spacing of their own.
    pub uneven: bool,
}

/// A draft as the file has it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Wif {
    /// Title, made harmless.
    pub title: Option<String>,
    /// Shafts, as the file says, else the highest used.
    pub shafts: u32,
    /// Treadles, as the file says, else the highest used.
    pub treadles: u32,
    /// Whether tie-up and lift plan name the shafts that rise.
    pub rising: bool,
    /// Warp.
    pub warp: Threads,
    /// Weft.
    pub weft: Threads,
    /// Shafts of each end, end 1 first; empty for an end in no heddle.
    pub threading: Vec<Vec<u32>>,
    /// Shafts of each treadle, treadle 1 first.
    pub tie_up: Vec<Vec<u32>>,
    /// Treadles of each pick, pick 1 first.
    pub treadling: Vec<Vec<u32>>,
    /// Shafts of each pick, pick 1 first.
    pub lift_plan: Vec<Vec<u32>>,
    /// Red, green and blue of each colour, colour 1 first, each 0 to 255.
    pub palette: Vec<[u8; 3]>,
    /// Notes, line by line, made harmless.
    pub notes: Vec<String>,
}

/// Why a file is refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WifFault {
    /// It is larger than any draft.
    #[error("the draft has {bytes} bytes; at most {LARGEST} are read. Is it the right file?")]
    TooLarge {
        /// Its size.
        bytes: usize,
    },
    /// It is no text.
    #[error("the draft is no text: a byte 0 at place {place}. Is it the right file?")]
    Binary {
        /// Where, from 1.
        place: usize,
    },
    /// It has no `[WIF]` section.
    #[error("no [WIF] section: this is no WIF file. Save the draft as WIF 1.1 and try again")]
    NoWif,
    /// It has no threading.
    #[error(
        "no [THREADING] section, or nothing in it: a draft without a threading cannot be dressed. Add it and try again"
    )]
    NoThreading,
    /// A number beyond any loom or warp.
    #[error(
        "line {line}: [{section}] {found} is beyond {most}, the most that is read. Mend that line and try again"
    )]
    Beyond {
        /// The line, from 1.
        line: usize,
        /// The section.
        section: &'static str,
        /// What stands there.
        found: String,
        /// The limit.
        most: u32,
    },
    /// A value that cannot be read.
    #[error(
        "line {line}: [{section}] found \"{found}\"; expected {expected}. Mend that line and try again"
    )]
    Value {
        /// The line, from 1.
        line: usize,
        /// The section.
        section: &'static str,
        /// What stands there, made harmless.
        found: String,
        /// What should.
        expected: &'static str,
    },
    /// An end drawn through several heddles.
    #[error(
        "end {end} is drawn on several shafts ({shafts}): one end in several heddles cannot be counted out here. Keep one shaft for it"
    )]
    SeveralShafts {
        /// The end.
        end: usize,
        /// Its shafts as written.
        shafts: String,
    },
    /// An end inside the warp in no heddle.
    #[error(
        "end {end} of {ends} is on no shaft: only the outermost two ends may be floating selvedges. Give it a shaft"
    )]
    NoShaft {
        /// The end.
        end: usize,
        /// Ends of the draft.
        ends: usize,
    },
}

/// What is worth knowing about a file and refuses nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WifRemark {
    /// Another version than 1.1.
    Version {
        /// What the file says.
        found: String,
    },
    /// Lines that are no `key=value`.
    StrangeLines {
        /// How many.
        count: usize,
        /// The first, from 1.
        first: usize,
    },
    /// Keys said twice in their section.
    SaidTwice {
        /// How many.
        count: usize,
        /// The line of the first second one, from 1.
        first: usize,
    },
    /// `[CONTENTS]` names a section that is not there.
    SectionMissing {
        /// Its name.
        section: String,
    },
    /// The file says another number of threads than the threading has.
    ThreadsDiffer {
        /// What it says.
        said: u32,
        /// What the threading has.
        found: usize,
    },
    /// The file lists sinking shafts; they were turned round.
    Sinking,
    /// Single threads have a spacing of their own; the sley order wants typing.
    SpacingUneven,
    /// Some picks use several treadles; the lifts were worked out pick by pick.
    SeveralTreadles,
    /// Ends in no heddle at the edges were taken as floating selvedges.
    FloatsTaken,
    /// Thread 1 was taken to lie at this edge.
    ThreadOne {
        /// The edge.
        side: super::Side,
    },
    /// Lines of which the key is no number from 1 were passed by.
    KeyPassed {
        /// How many.
        count: usize,
        /// The line of the first, from 1.
        first: usize,
    },
}

impl std::fmt::Display for WifRemark {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Version { found } => {
                write!(f, "the draft says WIF version {found}; it was read as 1.1")
            }
            Self::StrangeLines { count: 1, first } => {
                write!(f, "line {first} is no key=value and was passed by")
            }
            Self::StrangeLines { count, first } => {
                write!(f, "{count} lines are no key=value and were passed by, the first is line {first}")
            }
            Self::SaidTwice { count: 1, first } => {
                write!(f, "line {first} says a key again: the last one holds")
            }
            Self::SaidTwice { count, first } => write!(
                f,
                "{count} lines say a key again, the first is line {first}: the last one holds"
            ),
            Self::SectionMissing { section } => {
                write!(f, "[CONTENTS] names [{section}], which is not there")
            }
            Self::ThreadsDiffer { said, found } => write!(
                f,
                "[WARP] says {said} threads, the threading has {found}: the threading holds"
            ),
            Self::Sinking => f.write_str("the draft lists the shafts that sink; they were turned round"),
            Self::SpacingUneven => f.write_str(
                "single threads have a spacing of their own: type the sley order for crammed and spaced ends",
            ),
            Self::SeveralTreadles => f.write_str(
                "some picks use several treadles at once: the lifts were worked out pick by pick",
            ),
            Self::FloatsTaken => f.write_str(
                "the outermost ends are in no heddle: they were taken as floating selvedges from the warp",
            ),
            Self::ThreadOne { side } => {
                let side = if *side == super::Side::Right { "right" } else { "left" };
                write!(f, "thread 1 of the draft was taken to lie at the {side} edge")
            }
            Self::KeyPassed { count: 1, first } => {
                write!(f, "line {first} has no number in front and was passed by")
            }
            Self::KeyPassed { count, first } => write!(
                f,
                "{count} lines have no number in front and were passed by, the first is line {first}"
            ),
        }
    }
}
