//! The sentences of a plan's problems: what was found, what was expected, where, and what to do now.
//! Owns these words, once; the kinds and figures are in `problem`.

use super::problem::{Move, Problem};
use super::threading::{ThreadingFault, ThreadingWhat};
use std::fmt;

/// `1 end`, `2 ends`.
pub(super) fn counted(n: u32, one: &str) -> String {
    if n == 1 {
        format!("1 {one}")
    } else {
        format!("{n} {one}s")
    }
}

fn list(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

impl Problem {
    /// A short fixed name for JSON.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::NotJson { .. } => "not-json",
            Self::TooLarge { .. } => "too-large",
            Self::TooDeep { .. } => "too-deep",
            Self::NewerFormat { .. } => "newer-format",
            Self::UnknownKey { .. } => "unknown-key",
            Self::SaidTwice { .. } => "said-twice",
            Self::WrongType { .. } => "wrong-type",
            Self::Number { .. } => "number",
            Self::OutOfRange { .. } => "out-of-range",
            Self::NotOneOf { .. } => "not-one-of",
            Self::Length { .. } => "length",
            Self::Missing { .. } => "missing",
            Self::Both { .. } => "both-said",
            Self::Threading { .. } => "threading",
            Self::ThreadingTooLong { .. } => "threading-too-long",
            Self::NoSuchShaft { .. } => "no-such-shaft",
            Self::NoSuchTreadle { .. } => "no-such-treadle",
            Self::NoRepeat => "no-repeat",
            Self::RepeatTooLong { .. } => "repeat-too-long",
            Self::HeddlesShort { .. } => "heddles-short",
            Self::ReedTooShort { .. } => "reed-too-short",
            Self::ReedOffCentre { .. } => "reed-off-centre",
            Self::LoomTooNarrow { .. } => "loom-too-narrow",
            Self::RaddleTooShort { .. } => "raddle-too-short",
            Self::ColoursDoNotAddUp { .. } => "colours-do-not-add-up",
            Self::NoSuchYarn { .. } => "no-such-yarn",
            Self::Yarn { .. } => "yarn",
            Self::OrderEmpty { .. } => "order-empty",
            Self::SectionsDoNotAddUp { .. } => "sections-do-not-add-up",
            Self::Edges { .. } => "edges",
            Self::TooFewEnds { .. } => "too-few-ends",
            Self::Group { .. } => "group",
            Self::BeyondExact { .. } => "beyond-exact",
        }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotJson {
                line,
                column,
                detail,
            } => write!(
                f,
                "the plan is not readable as JSON at line {line}, column {column}: {detail}. Mend that place and try again"
            ),
            Self::TooLarge { bytes, limit } => write!(
                f,
                "the plan has {bytes} bytes; a plan has at most {limit}. Is it the right file?"
            ),
            Self::TooDeep { limit } => write!(
                f,
                "lists or objects stand more than {limit} deep; a plan needs 3. Is it the right file?"
            ),
            Self::NewerFormat { found } => write!(
                f,
                "endsmeet: found {found}; this program reads format 1. Write \"endsmeet\": 1, or use a newer program"
            ),
            Self::UnknownKey {
                path,
                nearest: Some(nearest),
            } => {
                write!(
                    f,
                    "{path}: no plan has this key; did you mean \"{nearest}\"?"
                )
            }
            Self::UnknownKey {
                path,
                nearest: None,
            } => {
                write!(f, "{path}: no plan has this key; take it out")
            }
            Self::SaidTwice { path } => write!(f, "{path}: said twice; keep one"),
            Self::WrongType {
                path,
                found,
                expected,
            } => {
                let path = if path.is_empty() { "the plan" } else { path };
                write!(f, "{path}: found {found}; expected {expected}")
            }
            Self::Number { path, found, fault } => write!(f, "{path}: \"{found}\": {fault}"),
            Self::OutOfRange {
                path,
                found,
                least,
                most,
            } => {
                write!(f, "{path}: found {found}; expected {least} to {most}")
            }
            Self::NotOneOf { path, found, words } => {
                write!(f, "{path}: found \"{found}\"; expected {}", list(words))
            }
            Self::Length {
                path,
                found,
                expected,
            } => {
                write!(f, "{path}: a list of {found}; expected {expected}")
            }
            Self::Missing { path } => {
                write!(f, "{path}: not said, and nothing can stand for it; add it")
            }
            Self::Both { one, other } => {
                write!(f, "{one} and {other}: both said; keep one of them")
            }
            _ => self.of_the_warp(f),
        }
    }
}

impl Problem {
    /// The sentences of what can be read but does not fit.
    fn of_the_warp(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Threading { path, fault } => {
                let space = " ".repeat(fault.caret);
                write!(f, "{path}: {fault}\n  {}\n  {space}^", fault.excerpt)
            }
            Self::ThreadingTooLong { threading, warp } => write!(
                f,
                "threading: {} for {} in heddles; take {} out, or wind {} more",
                counted(*threading, "end"),
                counted(*warp, "end"),
                threading - warp,
                threading - warp
            ),
            Self::NoSuchShaft { path, shaft, shafts } => write!(
                f,
                "{path}: shaft {shaft}, and the loom has {shafts}; use shafts 1 to {shafts}, or a loom with {shaft}"
            ),
            Self::NoSuchTreadle { path, treadle, treadles } => write!(
                f,
                "{path}: treadle {treadle}, and there are {treadles}; use treadles 1 to {treadles}"
            ),
            Self::NoRepeat => f.write_str(
                "batch: \"repeat\", and the threading has no repeat; use \"group\" or a number such as 12",
            ),
            Self::RepeatTooLong { repeat } => write!(
                f,
                "batch: \"repeat\", and one repeat has {repeat} ends; a batch has at most 64: use \"group\" or a number such as 12"
            ),
            Self::HeddlesShort { shaft, needed, on_hand, moves, lacking } => {
                write!(f, "needs {needed} heddles on shaft {shaft}, {on_hand} there: ")?;
                f.write_str(&mending(moves, *lacking, *shaft))
            }
            Self::ReedTooShort { needed, there, reed, fits } => {
                write!(f, "reed {reed}: needs {needed} dents, {there} there; ")?;
                match fits {
                    Some(sett) => write!(
                        f,
                        "take a longer reed or fewer ends, or sett it at {} or closer",
                        sett.decimal(2)
                    ),
                    None => f.write_str("take a longer reed or fewer ends"),
                }
            }
            Self::ReedOffCentre { reed, off, spare } => write!(
                f,
                "reed {reed}: its middle lies {} off the loom's middle, and only {spare} dents are to spare; move the reed nearer to the middle",
                off.mixed()
            ),
            Self::LoomTooNarrow { width, loom, ends, unit } => write!(
                f,
                "width: {} {unit} in the reed, and the loom weaves {} {unit}; at this sett at most {ends} ends fit",
                width.decimal(2),
                loom.mixed()
            ),
            Self::RaddleTooShort { needed, there } => write!(
                f,
                "raddle: needs {needed} spaces, {there} there; take a longer or a coarser raddle"
            ),
            Self::ColoursDoNotAddUp { colours, ends } => write!(
                f,
                "colours: they add up to {}, the warp has {ends}; {} {} to come out",
                counted(*colours, "end"),
                if colours < ends { "add" } else { "take out" },
                colours.abs_diff(*ends)
            ),
            Self::NoSuchYarn { path, found, nearest } => {
                write!(f, "{path}: no yarn is named \"{found}\"; ")?;
                match nearest {
                    Some(nearest) => write!(f, "did you mean \"{nearest}\"?"),
                    None => f.write_str("list it under yarns"),
                }
            }
            Self::Yarn { path, found, fault } => write!(f, "{path}: \"{found}\": {fault}"),
            Self::OrderEmpty { path } => {
                write!(f, "{path}: only empty dents; at least one number must be 1 or more")
            }
            Self::SectionsDoNotAddUp { sections, ends } => write!(
                f,
                "sley_order: the sections hold {}, the warp has {ends} in heddles; only the last section may leave its ends open",
                counted(*sections, "end")
            ),
            Self::Edges { ends, heddled } => write!(
                f,
                "edges.ends: {ends} at each edge of {heddled} in heddles; expected an even number, both edges together at most {heddled}"
            ),
            Self::TooFewEnds { ends } => write!(
                f,
                "ends: {ends}, and two of them are floating selvedges; at least 3 are needed"
            ),
            Self::Group { ends } => write!(
                f,
                "group: would hold {} ends; make it large enough for 1 end or more",
                ends.decimal(3)
            ),
            Self::BeyondExact { figure } => write!(
                f,
                "{figure}: beyond what can be worked out exactly; use plainer numbers"
            ),
            Self::NotJson { .. }
            | Self::TooLarge { .. }
            | Self::TooDeep { .. }
            | Self::NewerFormat { .. }
            | Self::UnknownKey { .. }
            | Self::SaidTwice { .. }
            | Self::WrongType { .. }
            | Self::Number { .. }
            | Self::OutOfRange { .. }
            | Self::NotOneOf { .. }
            | Self::Length { .. }
            | Self::Missing { .. }
            | Self::Both { .. } => Ok(()),
        }
    }
}

/// `move 17 from shaft 4, which has 29 to spare`.
fn mending(moves: &[Move], lacking: u32, shaft: u8) -> String {
    let mut parts: Vec<String> = moves
        .iter()
        .map(|m| {
            format!(
                "move {} from shaft {}, which has {} to spare",
                m.heddles, m.from, m.spare
            )
        })
        .collect();
    match (lacking, parts.is_empty()) {
        (0, _) => {}
        (n, true) => parts.push(format!(
            "no shaft has any to spare; hang {n} more on shaft {shaft}"
        )),
        (n, false) => parts.push(format!("hang {n} more on shaft {shaft}")),
    }
    parts.join("; ")
}

impl fmt::Display for ThreadingFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = self.place;
        match &self.what {
            ThreadingWhat::Nothing => f.write_str("nothing there; type numbers such as 1 2 3 4"),
            ThreadingWhat::TooMuchText => {
                f.write_str("longer than 1,000,000 characters; use ( ) and x for what repeats")
            }
            ThreadingWhat::Unexpected { found } => write!(
                f,
                "'{found}' at character {place}; expected a number, ( ) or x"
            ),
            ThreadingWhat::Zero => write!(f, "0 at character {place}; numbers start at 1"),
            ThreadingWhat::TooGreat { found } => {
                write!(f, "{found} at character {place} is beyond any loom")
            }
            ThreadingWhat::NotOpened => {
                write!(
                    f,
                    "')' at character {place} closes nothing; take it out or open one before it"
                )
            }
            ThreadingWhat::NotClosed => {
                write!(
                    f,
                    "'(' at character {place} is not closed; expected ')' after it"
                )
            }
            ThreadingWhat::EmptyBrackets => {
                write!(
                    f,
                    "nothing between the brackets that close at character {place}; expected a number"
                )
            }
            ThreadingWhat::TooDeep => {
                write!(
                    f,
                    "'(' at character {place} is more than 16 deep; write some of it out"
                )
            }
            ThreadingWhat::NothingToRepeat => {
                write!(
                    f,
                    "x at character {place} repeats nothing; expected ) or a number before it"
                )
            }
            ThreadingWhat::NoTimes => {
                write!(
                    f,
                    "x at character {place} does not say how often; expected a number after it"
                )
            }
            ThreadingWhat::TimesZero => {
                write!(
                    f,
                    "x0 at character {place} repeats it no times; expected 1 or more"
                )
            }
            ThreadingWhat::TooMany { ends } => {
                write!(
                    f,
                    "{ends} ends at character {place}; a warp has at most 100000"
                )
            }
        }
    }
}
