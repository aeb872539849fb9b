//! The ids as they stand in a file. Owns the spelling; it agrees with the stored form (a test
//! compares the two) and never changes, since logs and house files name steps by it.

use super::{LoomKind, Stage, StepId};

impl Stage {
    /// The id as a file spells it, such as `tie-on`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Prepare => "prepare",
            Self::Wind => "wind",
            Self::Spread => "spread",
            Self::Beam => "beam",
            Self::Thread => "thread",
            Self::Sley => "sley",
            Self::TieOn => "tie-on",
            Self::Try => "try",
        }
    }

    /// The stage that a file means by `name`.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|stage| stage.name() == name)
    }
}

impl StepId {
    /// The id as a file spells it, such as `beam-turn`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Gather => "gather",
            Self::CountHeddles => "count-heddles",
            Self::MoveHeddles => "move-heddles",
            Self::ClearShafts => "clear-shafts",
            Self::CentreLine => "centre-line",
            Self::GuideString => "guide-string",
            Self::WindGroup => "wind-group",
            Self::CrossTies => "cross-ties",
            Self::Chokes => "chokes",
            Self::WarpOff => "warp-off",
            Self::RaddleFast => "raddle-fast",
            Self::RodSlings => "rod-slings",
            Self::SticksInCross => "sticks-in-cross",
            Self::SticksTied => "sticks-tied",
            Self::CrossTiesOff => "cross-ties-off",
            Self::LoopOnRod => "loop-on-rod",
            Self::RodsTiedLoosely => "rods-tied-loosely",
            Self::CountingThreadUntied => "counting-thread-untied",
            Self::SpreadGroup => "spread-group",
            Self::RodsTiedFast => "rods-tied-fast",
            Self::CountingThreadOut => "counting-thread-out",
            Self::RaddleBands => "raddle-bands",
            Self::RaddleChokeOff => "raddle-choke-off",
            Self::SlingsOff => "slings-off",
            Self::BeaterOut => "beater-out",
            Self::RodsToBeam => "rods-to-beam",
            Self::PackingIn => "packing-in",
            Self::BeamTurn => "beam-turn",
            Self::StopBeaming => "stop-beaming",
            Self::PawlAndBrake => "pawl-and-brake",
            Self::KnotGroup => "knot-group",
            Self::CutLoops => "cut-loops",
            Self::FloatAside => "float-aside",
            Self::ThreadBatch => "thread-batch",
            Self::FloatLast => "float-last",
            Self::ReedIn => "reed-in",
            Self::StartMark => "start-mark",
            Self::SleyFirstFloat => "sley-first-float",
            Self::SleyGroup => "sley-group",
            Self::SleyLastFloat => "sley-last-float",
            Self::RaddleOut => "raddle-out",
            Self::SticksBack => "sticks-back",
            Self::RodOver => "rod-over",
            Self::TieFirst => "tie-first",
            Self::TieSecond => "tie-second",
            Self::TieThird => "tie-third",
            Self::PinsOut => "pins-out",
            Self::TieUp => "tie-up",
            Self::OpenShed => "open-shed",
            Self::MendEnds => "mend-ends",
            Self::Header => "header",
            Self::FirstPicks => "first-picks",
            Self::LookAgain => "look-again",
            Self::SticksOut => "sticks-out",
            Self::Measure => "measure",
        }
    }

    /// The step that a file means by `name`.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|step| step.name() == name)
    }
}

impl LoomKind {
    /// The kind as a file spells it, such as `countermarch`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Jack => "jack",
            Self::Counterbalance => "counterbalance",
            Self::Countermarch => "countermarch",
            Self::Table => "table",
            Self::Lift => "lift",
        }
    }

    /// The kind that a file means by `name`.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }
}
