//! Plain weave: whether the threading can, and whether the tie-up holds it. Owns the answer with
//! what is lacking; never changes a tie-up.
//!
//! Plain weave is the weave of two ends and two picks in which every end passes over one pick and
//! under the next, and its neighbours the other way (as ISO 3572 defines it; from memory).

use super::cloth::{all_shafts, bits, shafts_of};
use super::{Action, Plan};
use crate::quantity::{Call, Shaft};

/// Whether a plan can weave plain weave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlainWeave {
    /// One treadle each for the two sheds.
    Treadles(u32, u32),
    /// Treadles pressed together for a shed (two feet); the two sheds.
    Together(Vec<u32>, Vec<u32>),
    /// Levers or lifts: the shafts of the two sheds, to be lifted by turns.
    Lifts(Vec<Shaft>, Vec<Shaft>),
    /// The threading can, but the tie-up lacks a shed: the two sheds that it takes, and the
    /// treadles that give each, if any.
    NotTied {
        /// The shafts that rise in the two sheds.
        sheds: [Vec<Shaft>; 2],
        /// The treadle of each, where there is one.
        treadles: [Option<u32>; 2],
    },
    /// The threading cannot: this call and the one before it would have to rise together.
    NotThreaded {
        /// The call.
        at: Call,
    },
}

/// The shafts in two classes so that neighbours always differ; the first call's class first.
fn classes(plan: &Plan) -> Result<[u64; 2], Call> {
    let mut classes = [0u64; 2];
    let mut side = 0;
    for (at, shaft) in plan.threading.iter().enumerate() {
        let call = Call(u32::try_from(at + 1).unwrap_or(u32::MAX));
        let shares = plan.doubled.binary_search(&call).is_ok();
        if at > 0 && !shares {
            side = 1 - side;
        }
        let bit = bits(&[*shaft]);
        if classes[1 - side] & bit != 0 {
            return Err(call);
        }
        classes[side] |= bit;
    }
    Ok(classes)
}

impl Plan {
    /// Whether the plan can weave plain weave, and how.
    #[must_use]
    pub fn plain_weave(&self) -> PlainWeave {
        let sheds = match classes(self) {
            Ok(classes) => classes,
            Err(at) => return PlainWeave::NotThreaded { at },
        };
        if self.tie_up.is_empty() {
            return PlainWeave::Lifts(shafts_of(sheds[0]), shafts_of(sheds[1]));
        }
        let used = sheds[0] | sheds[1];
        let tied: Vec<u64> = self.tie_up.iter().map(|list| bits(list) & used).collect();
        let one = |shed: u64| tied.iter().position(|&t| t == shed).map(number);
        let treadles = sheds.map(one);
        if let [Some(a), Some(b)] = treadles {
            return PlainWeave::Treadles(a, b);
        }
        // two treadles add up where each only lifts; elsewhere what one sinks the other may lift
        if matches!(self.action, Action::Jack | Action::Table) {
            let two = sheds.map(|shed| together(&tied, shed));
            if let [Some(a), Some(b)] = two {
                return PlainWeave::Together(a, b);
            }
        }
        let sheds = sheds.map(shafts_of);
        PlainWeave::NotTied { sheds, treadles }
    }

    /// Every shaft of the loom, as bits.
    pub(super) fn loom_bits(&self) -> u64 {
        all_shafts(self.shafts)
    }
}

fn number(index: usize) -> u32 {
    u32::try_from(index + 1).unwrap_or(u32::MAX)
}

/// One or two treadles that together lift exactly the shed.
pub(super) fn together(tied: &[u64], shed: u64) -> Option<Vec<u32>> {
    if let Some(one) = tied.iter().position(|&t| t == shed) {
        return Some(vec![number(one)]);
    }
    let inside = |t: u64| t & !shed == 0;
    tied.iter().enumerate().find_map(|(a, &first)| {
        let (b, _) = tied
            .iter()
            .enumerate()
            .skip(a + 1)
            .find(|&(_, &second)| inside(second) && first | second == shed)?;
        inside(first).then(|| vec![number(a), number(b)])
    })
}
