//! Sheds, edges, floats and plain weave in sentences: the stage Try, the cloth, the paper. Owns the
//! wording; the figures are the plan's.

use super::cloth_picture::Letters;
use super::counts::{count, plural, shafts, side};
use crate::fault::cloth_spot::{Astray, ClothSuspect};
use crate::plan::{
    Action, Cloth, EdgeAdvice, Face, Float, Opens, PlainWeave, Plan, Shed, ShedWarning, Side,
    Thread,
};
use crate::quantity::{Calls, Shaft};

/// What a clean shed looks like.
pub const CLEAN_SHED: &str = "A clean shed: every raised end at one height, every other flat, and nothing standing in the gap from edge to edge.";

/// What is seen in a shed, what it means, and what to do. Common practice; the signs are those of
/// the usual lists of faults (crossed, doubled, missing ends).
pub const STRAY_ENDS: [(&str, &str); 6] = [
    (
        "One end hangs in the gap in some sheds only",
        "it is on a wrong shaft, or beside its eye: look at its heddle",
    ),
    (
        "One end hangs in the gap in every shed",
        "it is in no heddle eye, slack or broken: pull it gently and follow it back",
    ),
    (
        "One end stands across its neighbour",
        "it is crossed between heddles and reed: take the two out of the reed and sley them again",
    ),
    (
        "Two neighbours move together where they should not",
        "one is on the other's shaft, or both are in one heddle: count the heddles there",
    ),
    (
        "A whole group stands low or high",
        "its bundle is slack or tight, or a shaft hangs aslant: feel the warp, then level the shaft",
    ),
    (
        "A shaft rises that should not, or stays",
        "a tie is on the wrong treadle or has slipped: compare the treadle with the list",
    ),
];

/// No cloth can be drawn.
pub const NO_PICKS: &str = "The plan says no picks, so there is no cloth to draw. Give it a tie_up and a treadling, or a lift_plan.";

/// "Treadle 3", "Lever 2", "Pick 5".
#[must_use]
pub fn opens(opens: Opens) -> String {
    match opens {
        Opens::Treadle(n) => format!("Treadle {n}"),
        Opens::Shaft(shaft) => format!("Lever {}", shaft.0),
        Opens::Pick(n) => format!("Pick {n}"),
    }
}

fn listed(list: &[Shaft]) -> String {
    if list.is_empty() {
        return "no shaft".to_owned();
    }
    let n = u32::try_from(list.len()).unwrap_or(u32::MAX);
    format!("{} {}", plural(n, "shaft"), shafts(list))
}

/// "Treadle 3: shafts 3 4 rise, shafts 1 2 sink; 138 ends rise."
#[must_use]
pub fn shed(shed: &Shed, action: Action) -> String {
    let others = match action {
        Action::Countermarch | Action::Counterbalance => "sink",
        Action::Jack | Action::Table | Action::Lift => "stay",
    };
    format!(
        "{}: {} rise, {} {others}; {} rise.",
        opens(shed.opens),
        listed(&shed.rising),
        listed(&shed.others),
        count(shed.ends, "end")
    )
}

/// What is worth saying of a shed.
#[must_use]
pub fn shed_warning(warning: ShedWarning) -> String {
    match warning {
        ShedWarning::NothingRises => {
            "No end rises here, so there is no shed: check this treadle's ties.".to_owned()
        }
        ShedWarning::EverythingRises => {
            "Every end rises here, so there is no shed: check this treadle's ties.".to_owned()
        }
        ShedWarning::Unbalanced { rising, sinking } => format!(
            "{rising} up against {sinking} down: a counterbalance loom hangs its shafts in pairs, so this shed opens poorly or not. Your loom maker's manual says whether a shed regulator helps."
        ),
    }
}

/// How the treadles are tied on this kind of loom.
#[must_use]
pub fn tying(action: Action) -> &'static str {
    match action {
        Action::Jack => {
            "Tie each treadle to the lams of the shafts that it lifts; leave the others."
        }
        Action::Counterbalance => {
            "Tie each treadle to the lams of the shafts that sink; the others rise by the rollers."
        }
        Action::Countermarch => {
            "Tie every shaft to every treadle: those that rise to the long lower lams, those that sink to the short upper ones. Take the pins out before the first treadle is pressed."
        }
        Action::Table => {
            "There are no treadles: lift the levers of the shafts named, and let them all down between."
        }
        Action::Lift => "Lift the shafts named, pick by pick.",
    }
}

/// Whether and how plain weave can be woven, as for a header.
#[must_use]
pub fn plain_weave(plain: &PlainWeave) -> String {
    let list = |t: &[u32]| {
        let t: Vec<String> = t.iter().map(ToString::to_string).collect();
        t.join(" and ")
    };
    match plain {
        PlainWeave::Treadles(a, b) => {
            format!("Plain weave: treadles {a} and {b} by turns.")
        }
        PlainWeave::Together(a, b) => {
            format!(
                "Plain weave: treadles {} together, then {}.",
                list(a),
                list(b)
            )
        }
        PlainWeave::Lifts(a, b) => format!(
            "Plain weave: lift {}, then {}, by turns.",
            listed(a),
            listed(b)
        ),
        PlainWeave::NotTied { sheds, treadles } => {
            let lacking = sheds.iter().zip(treadles).filter(|(_, t)| t.is_none());
            let lacking: Vec<String> = lacking.map(|(s, _)| listed(s)).collect();
            format!(
                "The tie-up holds no plain weave: no treadle lifts {}. Tie one, or weave the header in the pattern.",
                lacking.join(", and none ")
            )
        }
        PlainWeave::NotThreaded { at } => format!(
            "This threading cannot weave plain: end {} would rise together with its neighbour. Weave the header in the pattern.",
            at.0
        ),
    }
}

/// What the edges ask for.
#[must_use]
pub fn edges(advice: EdgeAdvice) -> String {
    match advice {
        EdgeAdvice::Caught => "The weft catches both edge ends at every turn.".to_owned(),
        EdgeAdvice::StartFrom(from) => format!(
            "Throw the first pick from the {}: then the weft catches both edge ends at every turn; from the other side it misses some.",
            side(from)
        ),
        EdgeAdvice::FloatsAdvised => "At some turns the weft would miss an edge end, from whichever side you start: floating selvedges are advised.".to_owned(),
        EdgeAdvice::FloatsThere => "The floating selvedges hold the weft: go over the one where the shuttle enters, under the one where it comes out.".to_owned(),
    }
}

/// A float by its place: "front: weft of pick 2 passes over 4 ends, 3 to 6".
#[must_use]
pub fn float(float: &Float, cloth: &Cloth) -> String {
    let face = match float.face {
        Face::Front => "front",
        Face::Back => "back",
    };
    let (first, last) = (float.first, float.last);
    match float.thread {
        Thread::Pick(pick) => format!(
            "{face}: the weft of pick {pick} passes {}, {first} to {last} in the order of threading",
            count(float.length, "end")
        ),
        Thread::End(call) => {
            let picks = cloth.lifts_given();
            let round = if last > picks {
                format!("{first} to {} of the next repeat", last - picks)
            } else {
                format!("{first} to {last}")
            };
            format!(
                "{face}: end {} and the {} on its shaft pass {}, {round}",
                call.0,
                count(cloth.ends_like(call).saturating_sub(1), "other"),
                count(float.length, "pick")
            )
        }
    }
}

/// A suspected end: "end 52, 5 3/8 in from the right edge, in dent 104: on shaft 3 instead of 4?"
#[must_use]
pub fn suspect(suspect: &ClothSuspect, from: Side, plan: &Plan) -> String {
    let own = plan
        .threading
        .get((suspect.call.0 as usize).wrapping_sub(1));
    let own = own.map_or(String::new(), |shaft| format!(" instead of {}", shaft.0));
    let what = match suspect.astray {
        Astray::OnShaft(shaft) => format!("look whether it hangs on shaft {}{own}", shaft.0),
        Astray::InHeddleOf(call, shaft) => format!(
            "look whether it shares the heddle of end {} on shaft {}",
            call.0, shaft.0
        ),
        Astray::InNoHeddle => "look whether it runs beside its eye, or in no heddle".to_owned(),
        Astray::WithTheNext => {
            format!(
                "look whether it and end {} stand exchanged",
                suspect.call.0 + 1
            )
        }
    };
    format!(
        "End {}, {} from the {} edge in the reed, in dent {}: {what}.",
        suspect.call.0,
        plan.units.fine_tape(suspect.place),
        side(from),
        suspect.dent
    )
}

/// What a picture of the cloth shows: "The first 16 picks of ends 1 to 72, seen from the front; ..."
#[must_use]
pub fn caption(calls: Calls, picks: u32, face: Face) -> String {
    let face = match face {
        Face::Front => "the front",
        Face::Back => "the back, right and left as on the loom",
    };
    format!(
        "The first {} of {}, seen from {face}; pick 1 at the bottom.",
        count(picks, "pick"),
        super::counts::ends(calls)
    )
}

/// What is marked in it, and how.
#[must_use]
pub fn marked(over: u32, letters: Letters) -> String {
    let how = match letters {
        Letters::Ascii => "I along the warp, = along the weft",
        Letters::Lines => "heavy lines",
        Letters::Blocks => "not shown in this picture",
    };
    format!("Floats over more than {}: {how}.", count(over, "thread"))
}

/// The longest float on each face, and threads that are never tied; nothing in plain weave.
#[must_use]
pub fn floats(cloth: &Cloth) -> Vec<String> {
    let longest = [Face::Front, Face::Back].into_iter().filter_map(|face| {
        let found = cloth.longest_float(face)?;
        Some(format!("Longest float, {}.", float(&found, cloth)))
    });
    let loose = cloth.never_tied().into_iter().map(|found| {
        let what = match found.thread {
            Thread::End(call) => format!("end {} and its shaft are", call.0),
            Thread::Pick(pick) => format!("pick {pick} is"),
        };
        format!("Never tied in: {what} never crossed by the other thread.")
    });
    longest.chain(loose).collect()
}

/// What the cloth of a plan has to say before the first pick.
#[must_use]
pub fn cloth(plan: &Plan) -> Vec<String> {
    let mut lines = vec![plain_weave(&plan.plain_weave())];
    if let Some(cloth) = Cloth::of(plan, 0) {
        lines.push(edges(cloth.edge_advice(plan)));
        lines.extend(floats(&cloth));
        lines.push(format!(
            "The weave repeats after {} and {}.",
            count(cloth.repeat_ends(), "end"),
            count(cloth.repeat_picks(), "pick")
        ));
    }
    lines
}
