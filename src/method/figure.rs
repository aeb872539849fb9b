//! The figures that a text may name in braces, such as `{ties}`. Owns their names, how wide each
//! can become and how they are put in; never works a figure out.

/// A figure of the plan that a text may name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Figure {
    /// Groups in the warp: a count.
    Groups,
    /// Ties on the rods: an odd count.
    Ties,
    /// The first raddle space, counted outwards from the middle on the threading side.
    FirstSpace,
    /// Turns of the beam expected: a count; not known without the beam's girth.
    Turns,
    /// Length left in front of the shafts when beaming stops, with its unit.
    FrontAllowance,
    /// Shafts on the loom: a count.
    Shafts,
    /// Ends wound: a count.
    Ends,
    /// Dents from the first filled one to the last: a count with its noun, "139 dents".
    Dents,
    /// The first dent with a threaded end, counted from the sleying side.
    FirstDent,
    /// Bundles on the front apron rod: a count.
    Bundles,
    /// Width in the reed, with its unit.
    Width,
    /// Heddles needed on each shaft: a list, "47 on shaft 1, 92 on shaft 2".
    Heddles,
    /// From either end of the reed to its middle, with its unit.
    ReedMiddle,
    /// The side where threading starts: right or left.
    ThreadingSide,
    /// The side where sleying ends: right or left.
    FinishingSide,
    /// The side where sleying starts: right or left.
    SleyingSide,
}

/// One piece of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Piece<'a> {
    /// Words as they stand.
    Words(&'a str),
    /// A known figure.
    Figure(Figure),
    /// Something in braces that is no figure, or a brace without its partner.
    Unknown(&'a str),
}

impl Figure {
    /// All figures.
    pub const ALL: [Self; 16] = [
        Self::Groups,
        Self::Ties,
        Self::FirstSpace,
        Self::Turns,
        Self::FrontAllowance,
        Self::Shafts,
        Self::Ends,
        Self::Dents,
        Self::FirstDent,
        Self::Bundles,
        Self::Width,
        Self::Heddles,
        Self::ReedMiddle,
        Self::ThreadingSide,
        Self::FinishingSide,
        Self::SleyingSide,
    ];

    /// The name as it stands between the braces.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Groups => "groups",
            Self::Ties => "ties",
            Self::FirstSpace => "first_space",
            Self::Turns => "turns",
            Self::FrontAllowance => "front_allowance",
            Self::Shafts => "shafts",
            Self::Ends => "ends",
            Self::Dents => "dents",
            Self::FirstDent => "first_dent",
            Self::Bundles => "bundles",
            Self::Width => "width",
            Self::Heddles => "heddles",
            Self::ReedMiddle => "reed_middle",
            Self::ThreadingSide => "threading_side",
            Self::FinishingSide => "finishing_side",
            Self::SleyingSide => "sleying_side",
        }
    }

    /// The figure of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|figure| figure.name() == name)
    }

    /// The widest text that the figure becomes within the program's limits; `None` where it is a
    /// list with no such bound, which therefore never stands in a short line.
    #[must_use]
    pub fn widest(self) -> Option<&'static str> {
        match self {
            Self::Shafts => Some("64"),
            Self::FirstDent | Self::FirstSpace => Some("40000"),
            Self::Turns | Self::Ties => Some("1000"),
            Self::Groups | Self::Ends | Self::Bundles => Some("100000"),
            Self::Dents => Some("40000 dents"),
            Self::FrontAllowance | Self::Width | Self::ReedMiddle => Some("120 15/16 in"),
            Self::ThreadingSide | Self::FinishingSide | Self::SleyingSide => Some("right"),
            Self::Heddles => None,
        }
    }

    /// Whether a plan that was accepted can still lack the figure. The sentence that names it is
    /// then left out, so it never opens a text.
    #[must_use]
    pub fn may_be_unknown(self) -> bool {
        matches!(self, Self::Turns)
    }
}

/// The text cut into words and figures, in order.
#[must_use]
pub fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut found = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find(['{', '}']) {
        let (words, tail) = rest.split_at(at);
        if !words.is_empty() {
            found.push(Piece::Words(words));
        }
        let (piece, after) = braced(tail);
        found.push(piece);
        rest = after;
    }
    if !rest.is_empty() {
        found.push(Piece::Words(rest));
    }
    found
}

/// What the brace at the start of `tail` holds, and what follows it.
fn braced(tail: &str) -> (Piece<'_>, &str) {
    let closed = tail
        .strip_prefix('{')
        .and_then(|inside| inside.split_once('}'))
        .filter(|(name, _)| !name.contains('{'));
    match closed {
        Some((name, after)) => match Figure::named(name) {
            Some(figure) => (Piece::Figure(figure), after),
            None => (Piece::Unknown(name), after),
        },
        None => (Piece::Unknown(&tail[..1]), &tail[1..]),
    }
}

/// The sentences of a text, each with its closing mark.
#[must_use]
pub fn sentences(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut start = 0;
    let mut marks = text.char_indices().peekable();
    while let Some((_, letter)) = marks.next() {
        let next = marks.peek().copied();
        let ends = matches!(letter, '.' | '!' | '?') && next.is_none_or(|(_, c)| c == ' ');
        if ends || next.is_none() {
            let stop = next.map_or(text.len(), |(at, _)| at);
            found.push(text[start..stop].trim());
            start = stop;
        }
    }
    found.retain(|sentence| !sentence.is_empty());
    found
}

/// The text with its figures put in. A sentence that names a figure which `value` does not know is
/// left out; a checked text never opens with one that may be unknown.
pub fn fill(text: &str, value: impl Fn(Figure) -> Option<String>) -> String {
    let filled: Vec<String> = sentences(text)
        .into_iter()
        .filter_map(|sentence| fill_sentence(sentence, &value))
        .collect();
    filled.join(" ")
}

fn fill_sentence(sentence: &str, value: &impl Fn(Figure) -> Option<String>) -> Option<String> {
    pieces(sentence)
        .into_iter()
        .map(|piece| match piece {
            Piece::Words(words) | Piece::Unknown(words) => Some(words.to_owned()),
            Piece::Figure(figure) => value(figure),
        })
        .collect()
}

/// The text at its widest: every figure as long as it can get. `None` where a figure has no bound.
#[must_use]
pub fn at_its_widest(text: &str) -> Option<String> {
    let known = pieces(text).into_iter().all(|piece| match piece {
        Piece::Figure(figure) => figure.widest().is_some(),
        Piece::Words(_) | Piece::Unknown(_) => true,
    });
    known.then(|| fill(text, |figure| figure.widest().map(str::to_owned)))
}
