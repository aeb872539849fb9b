//! The looks that a weaver can be asked for, and the choice of the one worth most for its seconds.
//! Owns the choice; never reads an answer.

use super::class::Class;
use super::evidence::{Evidence, Seen};
use super::{weigh, weights};
use crate::quantity::Call;
use serde::{Deserialize, Serialize};

/// A kind of look at the loom.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LookKind {
    /// Which shaft holds the filled heddle of a call.
    ShaftOfHeddle,
    /// Which heddle holds two ends.
    HeddleHoldingTwo,
    /// Whether an end hangs loose behind the shafts, and after which heddle.
    EndInNoHeddle,
    /// Whether a heddle among the threaded is empty or shares its end with another.
    EmptyHeddle,
    /// How many ends of the batch go through heddles.
    EndsInKnot,
    /// Whether neighbours rise or stay together where odd and even should alternate.
    NeighboursTogether,
    /// All shafts as they stand.
    ReadBack,
}

impl LookKind {
    /// All looks at a batch.
    pub const ALL: [Self; 7] = [
        Self::ShaftOfHeddle,
        Self::HeddleHoldingTwo,
        Self::EndInNoHeddle,
        Self::EmptyHeddle,
        Self::EndsInKnot,
        Self::NeighboursTogether,
        Self::ReadBack,
    ];

    /// The name in JSON.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::ShaftOfHeddle => "shaft-of-heddle",
            Self::HeddleHoldingTwo => "heddle-holding-two",
            Self::EndInNoHeddle => "end-in-no-heddle",
            Self::EmptyHeddle => "empty-heddle",
            Self::EndsInKnot => "ends-in-knot",
            Self::NeighboursTogether => "neighbours-together",
            Self::ReadBack => "read-back",
        }
    }
}

/// One look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Look {
    /// What to look at.
    pub kind: LookKind,
    /// The call whose filled heddle is meant; only for [`LookKind::ShaftOfHeddle`].
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub call: Option<Call>,
    /// How many were found by the same look before: above 0 it asks for another. Only for the looks
    /// for doubled, hanging and empty ones.
    #[serde(skip_serializing_if = "is_zero", default)]
    pub found: u8,
}

fn is_zero(found: &u8) -> bool {
    *found == 0
}

impl Look {
    /// A look at the whole batch.
    #[must_use]
    pub fn whole(kind: LookKind) -> Self {
        Self {
            kind,
            call: None,
            found: 0,
        }
    }

    /// The look at one filled heddle.
    #[must_use]
    pub fn at(call: Call) -> Self {
        Self {
            kind: LookKind::ShaftOfHeddle,
            call: Some(call),
            found: 0,
        }
    }

    /// The command line option that answers it.
    #[must_use]
    pub fn option(&self) -> String {
        match self.kind {
            LookKind::ShaftOfHeddle => {
                format!("--seen {}=SHAFT", self.call.map_or(0, |call| call.0))
            }
            LookKind::HeddleHoldingTwo => "--double CALL".into(),
            LookKind::EndInNoHeddle => "--hanging CALL".into(),
            LookKind::EmptyHeddle => "--empty SHAFT".into(),
            LookKind::EndsInKnot => "--knot N".into(),
            LookKind::NeighboursTogether => "--together CALL".into(),
            LookKind::ReadBack => "--read 1,2,3,...".into(),
        }
    }

    /// What the look costs in seconds, over `ends` ends.
    #[must_use]
    pub fn seconds(&self, ends: usize) -> f64 {
        weights::seconds(self.kind, ends)
    }
}

impl Seen {
    /// The look that this answers.
    #[must_use]
    pub fn look(&self) -> Look {
        match self {
            Self::Shaft { call, .. } => Look::at(*call),
            Self::Double { .. } => Look::whole(LookKind::HeddleHoldingTwo),
            Self::Hanging { .. } => Look::whole(LookKind::EndInNoHeddle),
            Self::Empty { .. } => Look::whole(LookKind::EmptyHeddle),
            Self::Knot { .. } => Look::whole(LookKind::EndsInKnot),
            Self::Together { .. } => Look::whole(LookKind::NeighboursTogether),
            Self::ReadBack(_) => Look::whole(LookKind::ReadBack),
            Self::CannotTell { look, call } => Look {
                kind: *look,
                call: *call,
                found: 0,
            },
        }
    }
}

/// Whether odd and even shafts alternate throughout, so that lifting the odd ones shows faults.
pub(super) fn alternates(shafts: impl Iterator<Item = u8>) -> bool {
    let mut last = None;
    let mut seen = 0;
    for shaft in shafts {
        if last.is_some_and(|last: u8| last % 2 == shaft % 2) {
            return false;
        }
        last = Some(shaft);
        seen += 1;
    }
    seen >= 2
}

impl Seen {
    /// Whether the answer found a doubled, a hanging or an empty one, so that there may be another.
    #[must_use]
    pub fn found(&self) -> bool {
        match self {
            Self::Double { call } | Self::Hanging { call } => call.is_some(),
            Self::Empty { shaft } => shaft.is_some(),
            _ => false,
        }
    }
}

/// Every look that the batch allows and that has not been answered; a doubted answer's look may be
/// asked once more, and a look that found something may ask for another.
fn open_looks(evidence: &Evidence, doubted: Option<&Seen>) -> Vec<Look> {
    let again = doubted.map(Seen::look);
    let open = |look: Look| {
        let answers = || evidence.seen.iter().filter(|seen| seen.look() == look);
        let found = answers().filter(|seen| seen.found()).count();
        let known = answers().count() - found > usize::from(again == Some(look));
        let found = u8::try_from(found).unwrap_or(u8::MAX);
        (!known && found < MOST_FOUND).then_some(Look { found, ..look })
    };
    let made = evidence.calls_made as usize;
    let lifts = alternates(evidence.planned.iter().map(|s| s.0));
    // where she stopped there may be a heddle more than calls were made
    let heddles =
        (0..(made + 1).min(evidence.planned.len())).map(|at| Look::at(evidence.call_of(at)));
    let whole = LookKind::ALL.into_iter().filter(|kind| match kind {
        LookKind::ShaftOfHeddle => false,
        LookKind::NeighboursTogether => lifts,
        _ => true,
    });
    heddles
        .chain(whole.map(Look::whole))
        .filter_map(open)
        .collect()
}

/// Two faults are looked for: after two are found, no third is asked for.
const MOST_FOUND: u8 = 2;

/// The open look with the most expected information about the mending per second of its cost;
/// `None` where no look would tell the explanations apart.
pub(super) fn best_look(
    evidence: &Evidence,
    classes: &[Class],
    doubted: Option<&Seen>,
) -> Option<Look> {
    let ends = evidence.calls_made.max(1) as usize;
    let worth = |look: &Look| {
        let answers = classes
            .iter()
            .map(|class| (class.standing.answer(look, evidence), class.weight));
        weigh::bits(answers) / look.seconds(ends)
    };
    weigh::best(open_looks(evidence, doubted), worth)
}
