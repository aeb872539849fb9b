//! The closed lists of stages and steps. A house's own wording may reword them and leave optional
//! ones out; it never adds one.

use serde::{Deserialize, Serialize};

/// A stage of the job, in the order in which a loom is dressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// Before a thread is on the loom.
    Prepare,
    /// The warp is wound; skipped where it came wound.
    Wind,
    /// The groups go into the raddle.
    Spread,
    /// The warp goes on the beam.
    Beam,
    /// Each end through its heddle.
    Thread,
    /// Each end through its dent.
    Sley,
    /// The bundles go on the front apron rod.
    TieOn,
    /// Sheds, header, a last look.
    Try,
}

impl Stage {
    /// All stages, first to last.
    pub const ALL: [Self; 8] = [
        Self::Prepare,
        Self::Wind,
        Self::Spread,
        Self::Beam,
        Self::Thread,
        Self::Sley,
        Self::TieOn,
        Self::Try,
    ];
}

/// A step of the job. The order here is the order of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepId {
    /// Things laid ready.
    Gather,
    /// Heddles on each shaft counted in tens.
    CountHeddles,
    /// Heddles moved between shafts or sides while the shafts are empty.
    MoveHeddles,
    /// Shafts pinned or tied clear.
    ClearShafts,
    /// Beam, reed and breast beam on one middle line.
    CentreLine,
    /// The guide string laid on the warping frame.
    GuideString,
    /// One group wound and the counting thread crossed.
    WindGroup,
    /// Four ties at the cross, one at the end.
    CrossTies,
    /// A choke each yard or metre.
    Chokes,
    /// The warp taken off its frame.
    WarpOff,
    /// The raddle flat and tied fast.
    RaddleFast,
    /// Slings hung for the rods.
    RodSlings,
    /// Lease sticks in the cross.
    SticksInCross,
    /// Sticks tied to each other at both ends and to the loom.
    SticksTied,
    /// The ties at the cross taken off.
    CrossTiesOff,
    /// The end loop on the warp rod.
    LoopOnRod,
    /// The two rods tied together loosely.
    RodsTiedLoosely,
    /// The counting thread untied, not drawn out.
    CountingThreadUntied,
    /// One group laid into its spaces.
    SpreadGroup,
    /// The rods tied fast at an odd number of places, the middle first.
    RodsTiedFast,
    /// The counting thread drawn out.
    CountingThreadOut,
    /// Bands over the raddle.
    RaddleBands,
    /// The choke at the raddle taken off.
    RaddleChokeOff,
    /// The slings taken off.
    SlingsOff,
    /// Beater cap and reed lifted out.
    BeaterOut,
    /// Wound until the rods meet the beam.
    RodsToBeam,
    /// The first packing in, straight.
    PackingIn,
    /// One turn of the beam.
    BeamTurn,
    /// Stopped with enough in front of the shafts.
    StopBeaming,
    /// Pawl seated, brake on.
    PawlAndBrake,
    /// One group slip-knotted in front of the sticks.
    KnotGroup,
    /// The end loops of one group cut; cannot be taken back.
    CutLoops,
    /// The first wound end set aside in its own knot (floats from the warp).
    FloatAside,
    /// One batch counted out, threaded, knotted.
    ThreadBatch,
    /// The last wound end set aside in its own knot (floats from the warp).
    FloatLast,
    /// Reed and beater cap back, middle on middle.
    ReedIn,
    /// The first dent marked.
    StartMark,
    /// The float at the sleying edge through its own dent.
    SleyFirstFloat,
    /// One group sleyed and slip-knotted.
    SleyGroup,
    /// The float at the finishing edge through its own dent.
    SleyLastFloat,
    /// The raddle out of the warp's path.
    RaddleOut,
    /// Lease sticks pushed back, left in.
    SticksBack,
    /// The front apron rod brought over the breast beam.
    RodOver,
    /// One bundle tied with the first half of a surgeon's knot.
    TieFirst,
    /// One bundle drawn snug and its knot finished.
    TieSecond,
    /// A third round, only where the feel says so.
    TieThird,
    /// One treadle tied, on a countermarch loom with the pins still in; or all levers tried, at once.
    TieUp,
    /// The pins taken out (countermarch), before the first treadle is pressed.
    PinsOut,
    /// One shed opened and looked through.
    OpenShed,
    /// Broken ends mended.
    MendEnds,
    /// One pick of the header woven.
    Header,
    /// One of the first picks of the draft woven.
    FirstPicks,
    /// A second look at the sheds and the cloth.
    LookAgain,
    /// The lease sticks taken out; cannot be taken back.
    SticksOut,
    /// Width and picks measured.
    Measure,
}

impl StepId {
    /// All steps, first to last.
    pub const ALL: [Self; 55] = [
        Self::Gather,
        Self::CountHeddles,
        Self::MoveHeddles,
        Self::ClearShafts,
        Self::CentreLine,
        Self::GuideString,
        Self::WindGroup,
        Self::CrossTies,
        Self::Chokes,
        Self::WarpOff,
        Self::RaddleFast,
        Self::RodSlings,
        Self::SticksInCross,
        Self::SticksTied,
        Self::CrossTiesOff,
        Self::LoopOnRod,
        Self::RodsTiedLoosely,
        Self::CountingThreadUntied,
        Self::SpreadGroup,
        Self::RodsTiedFast,
        Self::CountingThreadOut,
        Self::RaddleBands,
        Self::RaddleChokeOff,
        Self::SlingsOff,
        Self::BeaterOut,
        Self::RodsToBeam,
        Self::PackingIn,
        Self::BeamTurn,
        Self::StopBeaming,
        Self::PawlAndBrake,
        Self::KnotGroup,
        Self::CutLoops,
        Self::FloatAside,
        Self::ThreadBatch,
        Self::FloatLast,
        Self::ReedIn,
        Self::StartMark,
        Self::SleyFirstFloat,
        Self::SleyGroup,
        Self::SleyLastFloat,
        Self::RaddleOut,
        Self::SticksBack,
        Self::RodOver,
        Self::TieFirst,
        Self::TieSecond,
        Self::TieThird,
        Self::TieUp,
        Self::PinsOut,
        Self::OpenShed,
        Self::MendEnds,
        Self::Header,
        Self::FirstPicks,
        Self::LookAgain,
        Self::SticksOut,
        Self::Measure,
    ];

    /// The stage that the step belongs to.
    #[must_use]
    pub fn stage(self) -> Stage {
        match self {
            Self::Gather
            | Self::CountHeddles
            | Self::MoveHeddles
            | Self::ClearShafts
            | Self::CentreLine => Stage::Prepare,
            Self::GuideString
            | Self::WindGroup
            | Self::CrossTies
            | Self::Chokes
            | Self::WarpOff => Stage::Wind,
            Self::RaddleFast
            | Self::RodSlings
            | Self::SticksInCross
            | Self::SticksTied
            | Self::CrossTiesOff
            | Self::LoopOnRod
            | Self::RodsTiedLoosely
            | Self::CountingThreadUntied
            | Self::SpreadGroup
            | Self::RodsTiedFast
            | Self::CountingThreadOut
            | Self::RaddleBands
            | Self::RaddleChokeOff
            | Self::SlingsOff => Stage::Spread,
            Self::BeaterOut
            | Self::RodsToBeam
            | Self::PackingIn
            | Self::BeamTurn
            | Self::StopBeaming
            | Self::PawlAndBrake
            | Self::KnotGroup
            | Self::CutLoops => Stage::Beam,
            Self::FloatAside | Self::ThreadBatch | Self::FloatLast => Stage::Thread,
            Self::ReedIn
            | Self::StartMark
            | Self::SleyFirstFloat
            | Self::SleyGroup
            | Self::SleyLastFloat => Stage::Sley,
            Self::RaddleOut
            | Self::SticksBack
            | Self::RodOver
            | Self::TieFirst
            | Self::TieSecond
            | Self::TieThird => Stage::TieOn,
            Self::TieUp
            | Self::PinsOut
            | Self::OpenShed
            | Self::MendEnds
            | Self::Header
            | Self::FirstPicks
            | Self::LookAgain
            | Self::SticksOut
            | Self::Measure => Stage::Try,
        }
    }

    /// Whether the step comes round once for each group, turn, batch, bundle, treadle, shed or
    /// pick.
    #[must_use]
    pub fn is_counted(self) -> bool {
        matches!(
            self,
            Self::WindGroup
                | Self::SpreadGroup
                | Self::BeamTurn
                | Self::KnotGroup
                | Self::CutLoops
                | Self::ThreadBatch
                | Self::SleyGroup
                | Self::TieFirst
                | Self::TieSecond
                | Self::TieUp
                | Self::OpenShed
                | Self::Header
                | Self::FirstPicks
        )
    }
}
