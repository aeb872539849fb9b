//! What does not fit, as data: problems refuse the plan, remarks do not.
//! Owns the kinds and their figures; the sentences are in `say`.

pub use super::moves::{Filled, Move};
use super::threading::ThreadingFault;
use crate::quantity::{Fraction, FractionFault};

/// Where in a plan file: `loom.heddles[2]`.
pub type Path = String;

/// Why a plan is refused.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Problem {
    /// The text is no JSON.
    NotJson {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the reader says.
        detail: String,
    },
    /// The text is larger than any plan.
    TooLarge {
        /// Its size in bytes.
        bytes: usize,
        /// The limit in bytes.
        limit: usize,
    },
    /// Lists or objects inside one another beyond the limit.
    TooDeep {
        /// The limit.
        limit: usize,
    },
    /// The plan file's format is newer than this program.
    NewerFormat {
        /// The number found.
        found: String,
    },
    /// A key that no plan has.
    UnknownKey {
        /// Where.
        path: Path,
        /// The known key nearest to it.
        nearest: Option<&'static str>,
    },
    /// A key said twice.
    SaidTwice {
        /// Where.
        path: Path,
    },
    /// Another kind of value than expected.
    WrongType {
        /// Where.
        path: Path,
        /// What stands there.
        found: String,
        /// What should.
        expected: &'static str,
    },
    /// A number that cannot be read.
    Number {
        /// Where.
        path: Path,
        /// What stands there.
        found: String,
        /// What is wrong with it.
        fault: FractionFault,
    },
    /// A number outside its range.
    OutOfRange {
        /// Where.
        path: Path,
        /// What stands there.
        found: String,
        /// The least.
        least: String,
        /// The most.
        most: String,
    },
    /// A word that is not one of the list.
    NotOneOf {
        /// Where.
        path: Path,
        /// What stands there.
        found: String,
        /// The words allowed.
        words: Vec<&'static str>,
    },
    /// A list too long or too short.
    Length {
        /// Where.
        path: Path,
        /// How many are there.
        found: usize,
        /// How many should be.
        expected: String,
    },
    /// Something needed that was not said.
    Missing {
        /// Where.
        path: &'static str,
    },
    /// Two things said that exclude each other.
    Both {
        /// The one.
        one: &'static str,
        /// The other.
        other: &'static str,
    },
    /// The threading, or the treadling, cannot be read.
    Threading {
        /// `threading` or `treadling`.
        path: &'static str,
        /// The fault with its place.
        fault: ThreadingFault,
    },
    /// The threading is longer than the warp.
    ThreadingTooLong {
        /// Heddles that it takes.
        threading: u32,
        /// Heddles that the warp takes.
        warp: u32,
    },
    /// The threading uses a shaft that the loom has not.
    NoSuchShaft {
        /// Where it is used.
        path: Path,
        /// The shaft.
        shaft: u32,
        /// Shafts of the loom.
        shafts: u32,
    },
    /// The treadling uses a treadle that the loom, or the tie-up, has not.
    NoSuchTreadle {
        /// Where it is used.
        path: Path,
        /// The treadle.
        treadle: u32,
        /// Treadles there are.
        treadles: u32,
    },
    /// A batch rule that needs a repeat, and a threading without one.
    NoRepeat,
    /// The repeat is longer than a batch may be.
    RepeatTooLong {
        /// Ends of the repeat.
        repeat: u32,
    },
    /// A shaft lacks heddles.
    HeddlesShort {
        /// The shaft.
        shaft: u8,
        /// What the threading needs.
        needed: u32,
        /// What is there.
        on_hand: u32,
        /// Which to move here.
        moves: Vec<Move>,
        /// What is still lacking after the moves.
        lacking: u32,
    },
    /// The warp needs more dents than the reed has.
    ReedTooShort {
        /// Dents needed, floats among them.
        needed: u32,
        /// Dents there.
        there: u32,
        /// The reed's number as given.
        reed: String,
        /// The sett that would just fit.
        fits: Option<Fraction>,
    },
    /// The reed is long enough, but so far off the loom's middle that the warp does not lie in it.
    ReedOffCentre {
        /// The reed's number as given.
        reed: String,
        /// How far off, plan units, to the right.
        off: Fraction,
        /// Dents to spare in all.
        spare: u32,
    },
    /// The warp is wider than the loom.
    LoomTooNarrow {
        /// Width of the warp, plan units.
        width: Fraction,
        /// Weaving width of the loom, plan units.
        loom: Fraction,
        /// The most ends that fit at this sett.
        ends: u32,
        /// The units' short name.
        unit: &'static str,
    },
    /// The warp needs more spaces than the raddle has.
    RaddleTooShort {
        /// Spaces needed.
        needed: u32,
        /// Spaces there.
        there: u32,
    },
    /// The colours do not add up to the ends.
    ColoursDoNotAddUp {
        /// Sum of the colours.
        colours: u32,
        /// Ends of the warp.
        ends: u32,
    },
    /// A colour or the weft names a yarn that is not in the list.
    NoSuchYarn {
        /// Where.
        path: Path,
        /// The name.
        found: String,
        /// The listed name nearest to it.
        nearest: Option<String>,
    },
    /// The yarn's size cannot be read.
    Yarn {
        /// Where.
        path: Path,
        /// What stands there.
        found: String,
        /// What is wrong.
        fault: super::yarn::YarnFault,
    },
    /// A sley order of empty dents only.
    OrderEmpty {
        /// Where.
        path: Path,
    },
    /// Sections of the sley order that do not add up to the ends.
    SectionsDoNotAddUp {
        /// Sum of the sections.
        sections: u32,
        /// Heddled ends of the warp.
        ends: u32,
    },
    /// More edge ends than the warp has, or an odd number.
    Edges {
        /// Ends asked for at each edge.
        ends: u32,
        /// Heddled ends of the warp.
        heddled: u32,
    },
    /// Too few ends for floats from the warp.
    TooFewEnds {
        /// Ends of the warp.
        ends: u32,
    },
    /// A group that would hold no end, or more than may be counted.
    Group {
        /// Ends of one group at this sett.
        ends: Fraction,
    },
    /// A figure beyond what can be worked out exactly.
    BeyondExact {
        /// The figure.
        figure: &'static str,
    },
}

/// What is worth knowing and refuses nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Remark {
    /// The threading does not come out even.
    RepeatCutShort {
        /// Ends of the threading as typed.
        threading: u32,
        /// Whole repeats.
        whole: u32,
        /// Ends of the part that is left.
        rest: u32,
    },
    /// The ends were worked out from a width and rounded.
    EndsRounded {
        /// The exact product.
        exact: Fraction,
        /// What was taken.
        ends: u32,
    },
    /// The reed cannot give the sett exactly.
    SettNotExact {
        /// The sett asked for.
        wanted: Fraction,
        /// The sett that the order gives.
        given: Fraction,
        /// The order.
        order: Vec<u32>,
        /// The units' short name.
        unit: &'static str,
    },
    /// A typed order gives another sett than the plan's.
    OrderGives {
        /// The sett asked for.
        wanted: Fraction,
        /// The sett that the order gives.
        given: Fraction,
        /// The units' short name.
        unit: &'static str,
    },
    /// Heddles were not counted.
    HeddlesNotCounted,
    /// The beam's girth is not known, so turns are not given.
    GirthUnknown,
    /// The loom's width was assumed.
    LoomWidthAssumed {
        /// What was assumed, plan units.
        width: Fraction,
        /// The units' short name.
        unit: &'static str,
    },
    /// The loom's shafts were not given, and some below the highest threaded hold no end.
    ShaftsBare {
        /// Those shafts, from the front.
        bare: Vec<u32>,
        /// How many shafts were assumed.
        of: u8,
    },
    /// No reed was given; one was assumed.
    ReedAssumed {
        /// Its number per unit.
        dents: Fraction,
        /// The units' short name.
        unit: &'static str,
    },
    /// Of several reeds, this one was taken.
    ReedChosen {
        /// Its number.
        dents: Fraction,
        /// What the number counts by.
        per: &'static str,
    },
    /// An odd number of ends; loops on a rod want an even one.
    OddEnds {
        /// The ends.
        ends: u32,
    },
    /// A short group at the edge threaded last.
    ShortGroup {
        /// Its number.
        group: u32,
        /// Ends in it.
        ends: u32,
        /// Ends of a whole group before it.
        whole: u32,
    },
    /// The last dent is part-filled.
    ShortDent {
        /// The dent.
        dent: u32,
        /// Ends in it.
        ends: u32,
        /// What the order says.
        order: u32,
    },
    /// A counterbalance loom with a treadle that lifts other than half of the shafts.
    Unbalanced {
        /// The treadle.
        treadle: u32,
        /// Shafts tied to it.
        tied: u32,
        /// Shafts of the loom.
        shafts: u32,
    },
    /// At some turns the weft would miss an edge end, and there are no floating selvedges.
    EdgeEndsMissed {
        /// The side from which the first pick must come so that none is missed; `None`: from either
        /// side some are.
        start_from: Option<super::Side>,
    },
    /// A share outside its usual range.
    Unusual {
        /// Where.
        path: &'static str,
        /// What was given.
        found: Fraction,
        /// Usual from.
        from: Fraction,
        /// Usual to.
        to: Fraction,
    },
    /// A yarn of which the size is not known: length is given, weight is not.
    SizeUnknown {
        /// The yarn.
        yarn: String,
    },
}
