//! How common each fault is and how long each look takes: the one table of the ranking.
//! Owns figures that are judgements, each with its reason; never uses them itself.
//!
//! None of them comes from a published count (common practice, no source). They only order
//! explanations that fit equally well and choose between looks; what fits is worked out exactly.

use super::kind::FaultKind;
use super::look::LookKind;

/// How often a fault of this kind happens in a batch of a dozen or two, in batches of a thousand.
pub(super) fn per_thousand_batches(kind: FaultKind) -> f64 {
    match kind {
        // the eye jumps a call, or the caller is a call ahead: the commonest slip of the hand
        FaultKind::PositionSkipped => 10.0,
        // after a pause a call is made again; rarer, because the threaded end is in sight
        FaultKind::PositionRepeated => 7.0,
        // two ends come off the lease sticks as one, in fine or hairy yarn
        FaultKind::EndsDoubled => 5.0,
        // an end is passed by at the lease; the next one comes to hand as easily
        FaultKind::EndHanging => 4.0,
        // the next heddle on the neighbouring shaft is taken: as common as a skip
        FaultKind::WrongShaft => 10.0,
        // two heddles cling together and one is pushed over with the threaded ones
        FaultKind::HeddlePassed => 4.0,
        // counting a dozen thin ends out by one happens to everyone
        FaultKind::EndsMiscounted => 8.0,
        // as many counts as shafts, but of few and stiff things
        FaultKind::HeddlesMiscounted => 8.0,
        // handfuls are said one at a time and pressed for: seldom lost whole
        FaultKind::HandfulSkipped => 3.0,
        // a handful made again after a pause
        FaultKind::HandfulRepeated => 3.0,
        // two ends picked up crossed from the lease
        FaultKind::NeighboursExchanged => 3.0,
    }
}

/// How much likelier a second fault is in a batch that has one: hands that are tired or were
/// called away make two. A judgement.
pub(super) const SECOND_FAULT: f64 = 6.0;

/// Each further end or heddle counted out wrong is this much rarer than the one before.
pub(super) const ONE_MORE_MISCOUNTED: f64 = 0.35;

/// A shaft beside the right one is taken this many times as often as one farther off.
pub(super) const NEIGHBOURING_SHAFT: f64 = 3.0;

/// The share that explanations with one fault more may hold together before the simplest one is
/// taken for settled: above it one more look is worth its seconds.
pub(super) const RIVALS_ALLOWED: f64 = 0.02;

/// The same for a fault that shifts what follows and that looks have placed: each of those looks
/// has seen a shifted heddle, or one not yet shifted, where the plan put it.
pub(super) const RIVALS_OF_A_PLACED_SHIFT: f64 = 0.12;

/// How often an answer to a look is wrong: a heddle miscounted within the knot, a line misread. A
/// judgement.
pub(super) const ANSWER_WRONG: f64 = 0.02;

/// From this chance on that an answer is wrong it is looked at once more.
pub(super) const DOUBTED_FROM: f64 = 0.3;

/// What a look costs in seconds: reading the question, turning to the loom, answering, and the
/// looking itself over `ends` ends. Judgements of a practised hand, to be put right by use.
pub(super) fn seconds(kind: LookKind, ends: usize) -> f64 {
    let ends = ends as f64;
    match kind {
        // find the knot, the handful, the place: the same for every heddle
        LookKind::ShaftOfHeddle => 10.0,
        // a finger along the eyes
        LookKind::HeddleHoldingTwo => 8.0 + 0.7 * ends,
        // a look behind the shafts
        LookKind::EndInNoHeddle => 8.0 + 0.4 * ends,
        // part the heddles of each shaft
        LookKind::EmptyHeddle => 8.0 + 0.7 * ends,
        // count what goes into one knot
        LookKind::EndsInKnot => 6.0 + 0.7 * ends,
        // lift the odd shafts and look along
        LookKind::NeighboursTogether => 10.0 + 0.4 * ends,
        // read a handful, turn from the loom, type it: every shaft
        LookKind::ReadBack => 8.0 + 4.0 * ends,
    }
}

/// Seconds of any look along a warp: reading the question, turning to the loom, answering.
pub(super) const A_LOOK: f64 = 8.0;
/// Seconds to find a knot along the warp and read the shaft of its first heddle.
pub(super) const SHAFT_IN_A_KNOT: f64 = 12.0;
/// Seconds more to count into the knot to another heddle.
pub(super) const COUNTING_INTO_A_KNOT: f64 = 4.0;
/// Seconds to count one end in a knot.
pub(super) const COUNTING_AN_END: f64 = 0.7;
/// Seconds to see how many ends of a knot rise.
pub(super) const KNOT_AT_A_GLANCE: f64 = 1.0;
/// Seconds to pass one end when looking along the warp for something that catches the eye.
pub(super) const LOOKING_ALONG_AN_END: f64 = 0.1;
