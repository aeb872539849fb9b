//! Reading a threading as weavers write it by hand: `1 2 3 4 (3 2 1 4) x6`, nested if need be.
//! Owns the notation and its faults; knows no loom. Lengths are counted before anything is expanded.

use super::spec::MOST_ENDS;

/// The deepest brackets inside brackets.
const DEEPEST: usize = 16;
/// The longest text read, in bytes.
const LONGEST: usize = 1_000_000;

/// A threading read and expanded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// The numbers, first to last, each at least 1; never empty.
    pub numbers: Vec<u32>,
    /// The length of the outermost `( ) xN` that holds most of the draft, where there is one with N of 2 or more.
    pub bracket: Option<u32>,
}

impl Draft {
    /// The smallest period of the numbers that comes at least twice; else the outermost bracket; else none.
    #[must_use]
    pub fn repeat(&self) -> Option<u32> {
        let period = smallest_period(&self.numbers);
        if period * 2 <= self.numbers.len() {
            return u32::try_from(period).ok();
        }
        self.bracket
    }
}

/// The smallest p with `s[i] = s[i + p]` throughout, by the border table of Knuth, Morris and Pratt
/// (SIAM J. Comput. 6, 1977; from memory); the length itself where there is none.
#[must_use]
pub fn smallest_period(numbers: &[u32]) -> usize {
    let mut border = vec![0_usize; numbers.len()];
    for i in 1..numbers.len() {
        let mut b = border[i - 1];
        while b > 0 && numbers[i] != numbers[b] {
            b = border[b - 1];
        }
        border[i] = if numbers[i] == numbers[b] { b + 1 } else { 0 };
    }
    numbers.len() - border.last().copied().unwrap_or(0)
}

/// The numbers as a weaver would type them: what repeats stands in brackets.
#[must_use]
pub fn threading_text(numbers: &[u32]) -> String {
    let list = |part: &[u32]| {
        part.iter()
            .map(u32::to_string)
            .collect::<Vec<_>>()
            .join(" ")
    };
    let period = smallest_period(numbers);
    let times = numbers.len() / period.max(1);
    if times < 2 {
        return list(numbers);
    }
    let (once, rest) = (&numbers[..period], &numbers[period * times..]);
    let rest = if rest.is_empty() {
        String::new()
    } else {
        format!(" {}", list(rest))
    };
    format!("({}) x{times}{rest}", list(once))
}

/// What is wrong with a typed threading, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ThreadingFault {
    /// The character's place, from 1.
    pub place: usize,
    /// What was found and expected there.
    pub what: ThreadingWhat,
    /// A short stretch of the text around the place, made harmless.
    pub excerpt: String,
    /// The place inside the excerpt, in characters from 0: where a caret goes.
    pub caret: usize,
}

/// The kinds of fault in a typed threading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ThreadingWhat {
    /// Nothing was typed.
    Nothing,
    /// The text is longer than any threading.
    TooMuchText,
    /// A character that no threading has.
    Unexpected {
        /// What stands there.
        found: String,
    },
    /// Shaft or treadle 0.
    Zero,
    /// A number beyond any loom.
    TooGreat {
        /// What stands there.
        found: String,
    },
    /// A bracket closed that was not opened.
    NotOpened,
    /// A bracket opened that is not closed; the place is the bracket's.
    NotClosed,
    /// Brackets with nothing in them.
    EmptyBrackets,
    /// Brackets too deep.
    TooDeep,
    /// An `x` that does not stand behind a bracket or number.
    NothingToRepeat,
    /// An `x` without a number behind it.
    NoTimes,
    /// Times 0.
    TimesZero,
    /// More ends than a warp has.
    TooMany {
        /// How many there would be.
        ends: u64,
    },
}

enum Piece {
    Number(u32),
    Open(usize),
    Close,
    Times(u32),
}

struct Token {
    piece: Piece,
    place: usize,
}

/// A node of the draft: how long it is when written out is known before it is.
enum Node {
    Number(u32),
    Many {
        inner: Vec<Node>,
        times: u32,
        length: u64,
    },
}

impl Node {
    fn length(&self) -> u64 {
        match self {
            Self::Number(_) => 1,
            Self::Many { length, .. } => *length,
        }
    }

    fn write(&self, out: &mut Vec<u32>) {
        match self {
            Self::Number(n) => out.push(*n),
            Self::Many { inner, times, .. } => {
                let start = out.len();
                for node in inner {
                    node.write(out);
                }
                let once = start..out.len();
                for _ in 1..*times {
                    out.extend_from_within(once.clone());
                }
            }
        }
    }
}

/// Reads a threading; `most` is the greatest number that may stand in it.
///
/// # Errors
/// The first fault, with its place.
pub fn read_threading(text: &str, most: u32) -> Result<Draft, ThreadingFault> {
    let fault = |place: usize, what: ThreadingWhat| at_place(text, place, what);
    if text.len() > LONGEST {
        return Err(fault(1, ThreadingWhat::TooMuchText));
    }
    let tokens = tokens(text, most).map_err(|(place, what)| fault(place, what))?;
    let nodes = build(tokens).map_err(|(place, what)| fault(place, what))?;
    if nodes.is_empty() {
        return Err(fault(1, ThreadingWhat::Nothing));
    }
    let mut numbers = Vec::new();
    for node in &nodes {
        node.write(&mut numbers);
    }
    let bracket = outermost(&nodes);
    Ok(Draft { numbers, bracket })
}

fn outermost(nodes: &[Node]) -> Option<u32> {
    nodes
        .iter()
        .filter_map(|node| match node {
            Node::Many { times, length, .. } if *times >= 2 => Some((*length, *times)),
            _ => None,
        })
        .max_by_key(|&(length, _)| length)
        .and_then(|(length, times)| u32::try_from(length / u64::from(times)).ok())
}

type Wrong = (usize, ThreadingWhat);

fn tokens(text: &str, most: u32) -> Result<Vec<Token>, Wrong> {
    let mut found = Vec::new();
    let mut letters = text.chars().enumerate().peekable();
    while let Some((at, letter)) = letters.next() {
        let place = at + 1;
        let piece = match letter {
            ' ' | ',' | '-' | '\t' | '\n' | '\r' => continue,
            '(' => Piece::Open(place),
            ')' => Piece::Close,
            'x' | 'X' | '\u{d7}' | '*' => {
                while letters.next_if(|&(_, c)| c == ' ').is_some() {}
                times(&mut letters).map_err(|what| (place, what))?
            }
            c if c.is_ascii_digit() => one(&mut letters, c, most).map_err(|what| (place, what))?,
            c => return Err((place, unexpected(c))),
        };
        found.push(Token { piece, place });
    }
    Ok(found)
}

type Letters<'t> = std::iter::Peekable<std::iter::Enumerate<std::str::Chars<'t>>>;

/// The number behind an `x`.
fn times(letters: &mut Letters<'_>) -> Result<Piece, ThreadingWhat> {
    match number(letters, None) {
        None => Err(ThreadingWhat::NoTimes),
        Some(Ok(0)) => Err(ThreadingWhat::TimesZero),
        Some(Ok(n)) => Ok(Piece::Times(n)),
        Some(Err(found)) => Err(ThreadingWhat::TooGreat { found }),
    }
}

/// The number that starts with a digit.
fn one(letters: &mut Letters<'_>, first: char, most: u32) -> Result<Piece, ThreadingWhat> {
    match number(letters, Some(first)) {
        None => Err(ThreadingWhat::Nothing),
        Some(Ok(0)) => Err(ThreadingWhat::Zero),
        Some(Ok(n)) if n <= most => Ok(Piece::Number(n)),
        Some(Ok(n)) => Err(ThreadingWhat::TooGreat {
            found: n.to_string(),
        }),
        Some(Err(found)) => Err(ThreadingWhat::TooGreat { found }),
    }
}

fn unexpected(c: char) -> ThreadingWhat {
    let found = if c.is_control() {
        format!("U+{:04X}", u32::from(c))
    } else {
        c.to_string()
    };
    ThreadingWhat::Unexpected { found }
}

/// A run of digits; its text where it is beyond any count.
fn number(letters: &mut Letters<'_>, first: Option<char>) -> Option<Result<u32, String>> {
    let mut digits: String = first.into_iter().collect();
    while let Some((_, c)) = letters.next_if(|&(_, c)| c.is_ascii_digit()) {
        digits.push(c);
    }
    if digits.is_empty() {
        return None;
    }
    Some(
        digits
            .parse()
            .map_err(|_| digits.chars().take(12).collect()),
    )
}

/// What stands between an opening bracket, or the start, and here.
#[derive(Default)]
struct Level {
    open_at: usize,
    nodes: Vec<Node>,
    length: u64,
}

impl Level {
    /// Adds a node and keeps count, so that nothing longer than a warp is ever built.
    fn push(&mut self, node: Node, place: usize) -> Result<(), Wrong> {
        self.length = self.length.saturating_add(node.length());
        self.nodes.push(node);
        if self.length > u64::from(MOST_ENDS) {
            let ends = self.length;
            return Err((place, ThreadingWhat::TooMany { ends }));
        }
        Ok(())
    }

    /// Makes the last node, or what its brackets hold, come so many times.
    fn repeat_last(&mut self, times: u32, place: usize) -> Result<(), Wrong> {
        let Some(node) = self.nodes.pop() else {
            return Err((place, ThreadingWhat::NothingToRepeat));
        };
        let once = node.length();
        self.length -= once;
        let inner = match node {
            Node::Many {
                inner, times: 1, ..
            } => inner,
            other => vec![other],
        };
        let length = once.saturating_mul(u64::from(times));
        self.push(
            Node::Many {
                inner,
                times,
                length,
            },
            place,
        )
    }
}

fn build(tokens: Vec<Token>) -> Result<Vec<Node>, Wrong> {
    let mut outer: Vec<Level> = Vec::new();
    let mut here = Level::default();
    let mut repeatable = false;
    for Token { piece, place } in tokens {
        let next = matches!(piece, Piece::Close | Piece::Number(_));
        match piece {
            Piece::Number(n) => here.push(Node::Number(n), place)?,
            Piece::Open(open_at) => {
                if outer.len() >= DEEPEST {
                    return Err((place, ThreadingWhat::TooDeep));
                }
                let inner = Level {
                    open_at,
                    ..Level::default()
                };
                outer.push(std::mem::replace(&mut here, inner));
            }
            Piece::Close => {
                let Some(level) = outer.pop() else {
                    return Err((place, ThreadingWhat::NotOpened));
                };
                let Level {
                    nodes: inner,
                    length,
                    ..
                } = std::mem::replace(&mut here, level);
                if inner.is_empty() {
                    return Err((place, ThreadingWhat::EmptyBrackets));
                }
                here.push(
                    Node::Many {
                        inner,
                        times: 1,
                        length,
                    },
                    place,
                )?;
            }
            Piece::Times(_) if !repeatable => return Err((place, ThreadingWhat::NothingToRepeat)),
            Piece::Times(times) => here.repeat_last(times, place)?,
        }
        repeatable = next;
    }
    if outer.is_empty() {
        return Ok(here.nodes);
    }
    Err((here.open_at, ThreadingWhat::NotClosed))
}

fn at_place(text: &str, place: usize, what: ThreadingWhat) -> ThreadingFault {
    const BEFORE: usize = 24;
    const AFTER: usize = 24;
    let at = place.saturating_sub(1);
    let start = at.saturating_sub(BEFORE);
    let cut: String = text
        .chars()
        .skip(start)
        .take(at - start + AFTER)
        .map(|c| {
            if c.is_ascii_graphic() || c == ' ' {
                c
            } else {
                '?'
            }
        })
        .collect();
    let lead = if start > 0 { "..." } else { "" };
    ThreadingFault {
        place,
        what,
        caret: lead.len() + at - start,
        excerpt: format!("{lead}{cut}"),
    }
}
