//! A document as data: parts, tables, strips with boxes, pictures. Owns the shape that text, HTML and
//! CSV are all made from; knows no plan and no layout.

/// A document; every part begins on a new page.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Document {
    /// What it is about, on every page.
    pub title: String,
    /// Its parts.
    pub parts: Vec<Part>,
}

/// One part.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Part {
    /// Its name.
    pub heading: String,
    /// What stands in it, from top to bottom.
    pub blocks: Vec<Block>,
}

/// One thing in a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Block {
    /// A smaller heading; stays with what follows it.
    Heading(String),
    /// A sentence or two.
    Note(String),
    /// Where the work can hurt.
    Caution(String),
    /// Names and what they are.
    Facts(Vec<(String, String)>),
    /// Rows under heads.
    Table(Table),
    /// Things to tick, in named rows.
    Strip(Strip),
    /// Steps to be done in order.
    Steps(Vec<StepLine>),
    /// A picture, drawn and in letters.
    Picture(Picture),
    /// So many blank lines to write on.
    Lines(u32),
}

/// Rows under heads.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Table {
    /// The heads, with whether the column is set to the right.
    pub heads: Vec<(String, bool)>,
    /// The rows, each as long as the heads.
    pub rows: Vec<Vec<String>>,
    /// Whether each row begins with a box to tick.
    pub ticks: bool,
}

/// Things to tick, in named rows; kept together on a page.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Strip {
    /// What it is for.
    pub head: String,
    /// What to know of it.
    pub note: Option<String>,
    /// Each row's name and its things, each with a box.
    pub rows: Vec<(String, Vec<String>)>,
}

/// One step of a list.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StepLine {
    /// A few words that name it.
    pub title: String,
    /// What to do.
    pub text: String,
    /// Where it can hurt.
    pub caution: Option<String>,
}

/// A picture.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Picture {
    /// In letters, at most 80 columns.
    pub text: Vec<String>,
    /// Drawn: a whole `svg` element.
    pub svg: String,
    /// What it shows, for who cannot see it.
    pub says: String,
}

/// The paper that pages are made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8 1/2 by 11 in.
    Letter,
}

impl Part {
    /// A part with nothing in it yet.
    #[must_use]
    pub fn new(heading: &str) -> Self {
        Self {
            heading: heading.to_owned(),
            blocks: Vec::new(),
        }
    }

    /// The part with one more block.
    #[must_use]
    pub fn with(mut self, block: Block) -> Self {
        self.blocks.push(block);
        self
    }

    /// The part with these blocks as well.
    #[must_use]
    pub fn and(mut self, blocks: impl IntoIterator<Item = Block>) -> Self {
        self.blocks.extend(blocks);
        self
    }
}

impl Table {
    /// A table with these heads: `>` before a head sets its column to the right.
    #[must_use]
    pub fn new(heads: &[&str]) -> Self {
        let head = |head: &&str| {
            let right = head.strip_prefix('>');
            (right.unwrap_or(head).to_owned(), right.is_some())
        };
        Self {
            heads: heads.iter().map(head).collect(),
            ..Self::default()
        }
    }

    /// The table with boxes to tick.
    #[must_use]
    pub fn ticked(mut self) -> Self {
        self.ticks = true;
        self
    }
}
