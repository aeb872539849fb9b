//! The fields of the form, in the order in which they are asked.
//! Owns what is asked and how; each key is a key of the plan file.

/// How an answer is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Any text.
    Text,
    /// A number, fractions and percent allowed.
    Number,
    /// One word of a list.
    Word(&'static [&'static str]),
    /// A word of a list, or a number.
    WordOrNumber(&'static [&'static str]),
    /// Whole numbers in a row: `60 100 100 60`.
    Counts,
    /// Ends per dent, repeating: `2 2 0 1`; by sections, parted by `;`: `2 for 40; 1 2`.
    Order,
    /// Reeds, parted by `;`: `10; 12; 40 per 10cm; 72 bradford`, a length after `long`, the way off the
    /// loom's middle after `off`: `10 long 24 off -2`.
    Reeds,
    /// Yarns, parted by `;`: `flax = 16/2 linen; tow = 8/1 linen at 12`, the price of a pound or kilogram
    /// after `at`.
    Yarns,
    /// Stripes, parted by `;` or `,`: `20 flax, 10 tow, 20 flax`.
    Stripes,
    /// Lists of shafts, parted by `;`: `1 2; 2 3; 3 4; 1 4`.
    Lists,
    /// A yarn and its picks: `flax 18`.
    Weft,
}

/// One field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Field {
    /// The key in the plan file: `loom.heddles`.
    pub key: &'static str,
    /// What is asked, a few words.
    pub asks: &'static str,
    /// A line of help, with an example.
    pub help: &'static str,
    /// How it is typed.
    pub kind: Kind,
    /// Whether a plan cannot do without it.
    pub needed: bool,
}

const fn needed(key: &'static str, asks: &'static str, help: &'static str, kind: Kind) -> Field {
    Field {
        key,
        asks,
        help,
        kind,
        needed: true,
    }
}

const fn field(key: &'static str, asks: &'static str, help: &'static str, kind: Kind) -> Field {
    Field {
        key,
        asks,
        help,
        kind,
        needed: false,
    }
}

const SIDES: Kind = Kind::Word(&["right", "left"]);

/// Every field, in the order of asking.
pub const FIELDS: &[Field] = &[
    needed(
        "title",
        "Name of the warp",
        "As you will look for it later, such as Hall runner",
        Kind::Text,
    ),
    field(
        "units",
        "Inches or centimetres",
        "in or cm: type one of them; every length below is in it",
        Kind::Word(&["in", "cm"]),
    ),
    needed(
        "sett",
        "Sett",
        "Ends per inch, or per centimetre: 20, or 7 1/2",
        Kind::Number,
    ),
    needed(
        "ends",
        "Ends to wind",
        "How many, as 277; leave it blank to give a width instead",
        Kind::Number,
    ),
    needed(
        "threading",
        "Threading",
        "Shaft by shaft from the edge where you start; ( ) x6 is six times: 1 2 3 4 (3 2 1 4) x6",
        Kind::Text,
    ),
    field(
        "width",
        "Width in the reed",
        "Only where the ends are not given; the sett then gives them: 13 7/8",
        Kind::Number,
    ),
    field(
        "finished_width",
        "Finished width",
        "Only where neither ends nor width in the reed are given",
        Kind::Number,
    ),
    field(
        "floating_selvedges",
        "Floating selvedges",
        "none, from-warp (the outermost two wound) or added",
        Kind::Word(&["none", "from-warp", "added"]),
    ),
    field(
        "thread_from",
        "Thread from",
        "The edge where threading starts: right or left",
        SIDES,
    ),
    field(
        "sley_from",
        "Sley from",
        "The edge where sleying starts: right or left",
        SIDES,
    ),
    field(
        "loom.name",
        "Name of the loom",
        "As you call it; blank will do",
        Kind::Text,
    ),
    field(
        "loom.action",
        "Kind of loom",
        "jack, counterbalance, countermarch, table or lift",
        Kind::Word(&["jack", "counterbalance", "countermarch", "table", "lift"]),
    ),
    field(
        "loom.shafts",
        "Shafts",
        "How many the loom has",
        Kind::Number,
    ),
    field(
        "loom.treadles",
        "Treadles",
        "How many; 0 where levers do their work",
        Kind::Number,
    ),
    field(
        "loom.heddles",
        "Heddles on each shaft",
        "Counted once in tens, shaft 1 first: 60 100 100 60",
        Kind::Counts,
    ),
    field(
        "loom.width",
        "Weaving width of the loom",
        "The widest warp that it takes",
        Kind::Number,
    ),
    field(
        "reeds",
        "Reeds to hand",
        "10; 12; or 40 per 10cm; with a length: 10 long 24",
        Kind::Reeds,
    ),
    field(
        "sley_order",
        "Sley order",
        "Blank to have it worked out; typed: 2 2 0 1 (0 is an empty dent); by sections: 2 for 40; 1 2",
        Kind::Order,
    ),
    field(
        "edges.ends",
        "Doubled ends at each edge",
        "How many at each edge, an even number; 0 for none",
        Kind::Number,
    ),
    field(
        "edges.doubled",
        "Doubled in",
        "Two ends share a dent, a heddle or both: dent, heddle or both",
        Kind::Word(&["dent", "heddle", "both"]),
    ),
    field(
        "raddle.spaces",
        "Raddle spaces",
        "Per inch, or per centimetre: 2",
        Kind::Number,
    ),
    field(
        "raddle.length",
        "Raddle length",
        "Blank where it need not be checked",
        Kind::Number,
    ),
    field(
        "group",
        "Group",
        "Length of warp between two crossings of the counting thread: 1",
        Kind::Number,
    ),
    field(
        "batch",
        "Batch",
        "Ends threaded at one go: repeat, group, or a number up to 64",
        Kind::WordOrNumber(&["repeat", "group"]),
    ),
    field(
        "length.finished",
        "Finished length of one piece",
        "Blank where the warp is wound",
        Kind::Number,
    ),
    field(
        "length.pieces",
        "Pieces",
        "How many on this warp",
        Kind::Number,
    ),
    field(
        "length.shrinkage",
        "Shrinkage",
        "Share lost in washing: linen 3-10%, cotton 5-15%, wool 10-30%",
        Kind::Number,
    ),
    field(
        "length.take_up",
        "Take-up",
        "Share of length lost in weaving, 5-15%",
        Kind::Number,
    ),
    field(
        "length.waste",
        "Loom waste",
        "What can never be woven: 18 to 45 in",
        Kind::Number,
    ),
    field(
        "length.fringe",
        "Fringe",
        "At each end of each piece",
        Kind::Number,
    ),
    field(
        "length.spare",
        "Spare yarn",
        "A share of the yarn on top, such as 5%",
        Kind::Number,
    ),
    field(
        "loom.beam_girth",
        "Girth of the warp beam",
        "Once round the bare beam; without it no turns are given",
        Kind::Number,
    ),
    field(
        "loom.packing",
        "Thickness of a turn",
        "How much one turn of warp and packing adds: 1/50",
        Kind::Number,
    ),
    field(
        "loom.front_allowance",
        "Left in front of the shafts",
        "When beaming stops, 8 to 18 in",
        Kind::Number,
    ),
    field(
        "yarns",
        "Yarns",
        "Name, size, colour: flax = 16/2 linen in natural; tow = 8/1 linen",
        Kind::Yarns,
    ),
    field(
        "colours",
        "Colours across the warp",
        "From the edge where threading starts: 20 flax, 10 tow, 20 flax",
        Kind::Stripes,
    ),
    field(
        "weft",
        "Weft",
        "A yarn and its picks per inch or centimetre: flax 18",
        Kind::Weft,
    ),
    field(
        "wind.bout",
        "Ends in a bout",
        "60 to 200 are usual",
        Kind::Number,
    ),
    field(
        "wind.together",
        "Ends wound together",
        "In the hand at once",
        Kind::Number,
    ),
    field(
        "tie_up",
        "Tie-up",
        "Shafts of each treadle: 1 2; 2 3; 3 4; 1 4",
        Kind::Lists,
    ),
    field(
        "treadling",
        "Treadling",
        "Treadles pick by pick: 1 2 3 4",
        Kind::Text,
    ),
    field(
        "lift_plan",
        "Lifts",
        "Shafts of each pick where levers lift: 1 2; 3 4",
        Kind::Lists,
    ),
];
