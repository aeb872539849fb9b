//! Explanations, looks and answers of the tracing, in words. Owns the wording; the theory is `fault`'s.

use super::counts::count;
use super::looks::nth;
use crate::fault::{
    Evidence, Fault, FaultKind, Impossible, Look, LookKind, Seen, Suspect, Tracing,
};
use crate::plan::handfuls;
use crate::quantity::{Call, Shaft};

/// Why what was said cannot be.
#[must_use]
pub fn impossible(why: &Impossible) -> String {
    let text = why.to_string();
    let mut chars = text.chars();
    let capital: String = chars
        .next()
        .map(|first| first.to_uppercase().chain(chars).collect())
        .unwrap_or_default();
    format!("{capital}.")
}

/// An explanation: "end 52 was skipped with its heddle on shaft 4."
#[must_use]
pub fn suspect(suspect: &Suspect) -> String {
    let faults: Vec<String> = suspect.faults.iter().map(fault).collect();
    format!("{}.", faults.join("; and "))
}

fn fault(fault: &Fault) -> String {
    let at = fault
        .call
        .map_or_else(String::new, |call| format!(" {}", call.0));
    let shaft = fault
        .shaft
        .map_or_else(String::new, |shaft| format!("shaft {}", shaft.0));
    let size = u32::try_from(fault.count.unsigned_abs()).unwrap_or(u32::MAX);
    let many = if fault.count < 0 { "few" } else { "many" };
    match fault.kind {
        FaultKind::PositionSkipped => {
            format!("call{at} was passed over, end and heddle on {shaft}")
        }
        FaultKind::PositionRepeated => format!("call{at} was threaded twice, on {shaft}"),
        FaultKind::EndsDoubled => format!("two ends share the heddle of call{at} on {shaft}"),
        FaultKind::EndHanging => format!("an end hangs in no heddle at call{at}"),
        FaultKind::WrongShaft => format!("the end of call{at} is on {shaft} instead"),
        FaultKind::HeddlePassed => format!("a heddle on {shaft} was passed by and is empty"),
        FaultKind::EndsMiscounted => format!("{} too {many} counted out", count(size, "end")),
        FaultKind::HeddlesMiscounted => {
            format!(
                "{} too {many} counted out on {shaft}",
                count(size, "heddle")
            )
        }
        FaultKind::HandfulSkipped => format!("a handful of {size} from call{at} was passed over"),
        FaultKind::HandfulRepeated => {
            format!("a handful of {size} from call{at} was threaded twice")
        }
        FaultKind::NeighboursExchanged => format!("call{at} and the next stand exchanged"),
    }
}

/// A look of the tracing as a question, said by knot, handful and place in it.
#[must_use]
pub fn look(look: &Look, batch: u32, first: Call, planned: &[Shaft]) -> String {
    match look.kind {
        LookKind::ShaftOfHeddle => {
            let call = look.call.unwrap_or(first);
            let (handful, place) = place(call, first, planned);
            format!(
                "which shaft holds the {} filled heddle of handful {handful} in the knot of batch {batch}? Type the shaft; none if no heddle is filled there.",
                nth(place)
            )
        }
        LookKind::HeddleHoldingTwo => "run a finger along: does a heddle hold two ends? Type its number in the knot, or none.".to_owned(),
        LookKind::EndInNoHeddle => "look behind the shafts: does an end of this batch hang loose? Type the number of the heddle it hangs after, or none.".to_owned(),
        LookKind::EmptyHeddle => "is a heddle among the threaded ones empty? Type its shaft, or none.".to_owned(),
        LookKind::EndsInKnot => "how many ends of this batch go through heddles? Type the number.".to_owned(),
        LookKind::NeighboursTogether => "lift the odd shafts: do two neighbours rise or stay together? Type the first one's number in the knot, or none.".to_owned(),
        LookKind::ReadBack => "read the shafts as they stand, from the first heddle of the batch. Type them with spaces.".to_owned(),
    }
}

fn place(call: Call, first: Call, planned: &[Shaft]) -> (u32, u32) {
    let mut at = call.0.saturating_sub(first.0);
    let mut handful = 1;
    for len in handfuls(planned).into_iter().map(u32::from) {
        if at < len {
            break;
        }
        at -= len;
        handful += 1;
    }
    (handful, at + 1)
}

/// An answer, for the log.
#[must_use]
pub fn seen(seen: &Seen) -> String {
    let call =
        |call: &Option<Call>| call.map_or_else(|| "none".to_owned(), |c| format!("call {}", c.0));
    let shaft = |shaft: &Option<Shaft>| {
        shaft.map_or_else(|| "none".to_owned(), |s| format!("shaft {}", s.0))
    };
    match seen {
        Seen::Shaft { call, shaft: found } => format!("call {} on {}", call.0, shaft(found)),
        Seen::Double { call: found } => format!("two ends in one heddle: {}", call(found)),
        Seen::Hanging { call: found } => format!("an end in no heddle: {}", call(found)),
        Seen::Empty { shaft: found } => format!("an empty heddle: {}", shaft(found)),
        Seen::Knot { ends } => format!("{} in the knot", count(*ends, "end")),
        Seen::Together { call: found } => format!("neighbours together: {}", call(found)),
        Seen::ReadBack(shafts) => format!("read back: {}", super::counts::shafts(shafts)),
        Seen::CannotTell { .. } => "cannot tell".to_owned(),
    }
}

/// What a tracing comes to, in lines: explanations, then the look or the mending.
#[must_use]
pub fn tracing(tracing: &Tracing, evidence: &Evidence, batch: u32) -> Vec<String> {
    if tracing.counts_agree {
        return vec![
            "The counts agree. That does not say that the batch is right: a look can.".to_owned(),
        ];
    }
    let mut lines: Vec<String> = tracing
        .suspects
        .iter()
        .take(6)
        .map(|s| format!("{:>3.0} %  {}", 100.0 * s.share, suspect(s)))
        .collect();
    if lines.is_empty() {
        lines.push(
            "No one or two mistakes explain this. Draw the batch out and thread it again."
                .to_owned(),
        );
    }
    lines.extend(tracing.look.as_ref().map(|ask| {
        let asked = look(ask, batch, evidence.first, &evidence.planned);
        format!("Look: {asked} ({})", ask.option())
    }));
    lines
}
