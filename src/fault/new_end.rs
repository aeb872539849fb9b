//! A broken end made good: what is done to the new length, from the beam to the front.
//! Owns the order of these steps for how far the end had come; never a fault of the threading.
//! All of it is common practice, no source.

use crate::quantity::Shaft;
use serde::{Deserialize, Serialize};

/// One thing to do with the new length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NewEnd {
    /// Unwind to the last peg at the warp's end and join the yarn on there. While winding.
    JoinAtPeg,
    /// Knot a new length to the end that comes from the beam. Before tying on.
    JoinOn,
    /// Hang a new length on, weighted over the back beam. Once the warp is tied on, when a knot would
    /// have to go through heddle and reed under tension.
    HangOn,
    /// Lay it in the cross as the broken end lay. While the sticks are in.
    IntoCross,
    /// Draw it through its heddle on this shaft.
    ThroughHeddle(Shaft),
    /// Draw it through the heddle of this shaft that it shares with its neighbour.
    ThroughSharedHeddle(Shaft),
    /// Draw it through its dent, by number from the sleying side.
    ThroughDent(u32),
    /// Where it is not known which end it was: through the heddle and the dent that are empty.
    ThroughWhatIsEmpty,
    /// Tie it into the slip knot of its group or batch.
    IntoKnot,
    /// Pin it to the front, or tie it in with its bundle, as tight as its neighbours.
    ToTheFront,
}

/// How far an end had come when it broke.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reached {
    /// On the beam or in the raddle: wound and off the frame.
    pub off_the_frame: bool,
    /// The lease sticks are in it.
    pub sticks_in: bool,
    /// Its heddle, where it is threaded; `true` where it shares it with its neighbour.
    pub heddle: Option<(Shaft, bool)>,
    /// Its dent, where it is sleyed.
    pub dent: Option<u32>,
    /// It is tied on.
    pub tied: bool,
    /// Which end it was is not known, and ends are threaded by now.
    pub unknown: bool,
}

/// What is to be done, in order.
#[must_use]
pub fn new_end(reached: Reached) -> Vec<NewEnd> {
    if !reached.off_the_frame {
        return vec![NewEnd::JoinAtPeg];
    }
    let mut steps = vec![if reached.tied {
        NewEnd::HangOn
    } else {
        NewEnd::JoinOn
    }];
    if reached.sticks_in {
        steps.push(NewEnd::IntoCross);
    }
    steps.extend(reached.heddle.map(|(shaft, shared)| {
        if shared {
            NewEnd::ThroughSharedHeddle(shaft)
        } else {
            NewEnd::ThroughHeddle(shaft)
        }
    }));
    steps.extend(reached.dent.map(NewEnd::ThroughDent));
    if reached.unknown {
        steps.push(NewEnd::ThroughWhatIsEmpty);
    }
    steps.push(if reached.tied {
        NewEnd::ToTheFront
    } else {
        NewEnd::IntoKnot
    });
    steps
}

#[cfg(test)]
mod tests {
    use super::*;

    const ON_THE_BEAM: Reached = Reached {
        off_the_frame: true,
        sticks_in: true,
        heddle: None,
        dent: None,
        tied: false,
        unknown: false,
    };

    /// Common practice, no source: what is done follows the end's own way from the back to the front.
    #[test]
    fn the_new_length_goes_the_way_that_the_end_had_gone() {
        let winding = Reached {
            off_the_frame: false,
            ..ON_THE_BEAM
        };
        assert_eq!(new_end(winding), [NewEnd::JoinAtPeg]);
        assert_eq!(
            new_end(ON_THE_BEAM),
            [NewEnd::JoinOn, NewEnd::IntoCross, NewEnd::IntoKnot]
        );
        let tied = Reached {
            sticks_in: false,
            heddle: Some((Shaft(3), false)),
            dent: Some(61),
            tied: true,
            ..ON_THE_BEAM
        };
        assert_eq!(
            new_end(tied),
            [
                NewEnd::HangOn,
                NewEnd::ThroughHeddle(Shaft(3)),
                NewEnd::ThroughDent(61),
                NewEnd::ToTheFront
            ]
        );
        let doubled = Reached {
            heddle: Some((Shaft(1), true)),
            ..ON_THE_BEAM
        };
        assert!(new_end(doubled).contains(&NewEnd::ThroughSharedHeddle(Shaft(1))));
        let unknown = Reached {
            unknown: true,
            ..ON_THE_BEAM
        };
        assert!(new_end(unknown).contains(&NewEnd::ThroughWhatIsEmpty));
    }
}
