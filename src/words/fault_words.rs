//! Explanations, looks and answers of the tracing, in words. Owns the wording; the theory is
//! `fault`'s. A call is said by its number and, where hands have to find it, by knot, handful and
//! place in it.

use super::counts::count;
use super::fault_ways;
use super::looks::nth;
use crate::fault::{
    Column, Evidence, Fault, FaultKind, Impossible, Look, LookKind, Seen, Suspect, Tracing, Work,
    group_end_look, mend, read_back,
};
use crate::plan::handfuls;
use crate::quantity::{Call, Shaft};

/// Why what was said cannot be.
#[must_use]
pub fn impossible(why: &Impossible) -> String {
    let text = why.to_string();
    let mut chars = text.chars();
    let first = chars
        .next()
        .map(|first| first.to_uppercase().chain(chars).collect::<String>());
    format!("{}.", first.unwrap_or_default())
}

/// An explanation: "Call 52, shaft 4, was passed over."
#[must_use]
pub fn suspect(suspect: &Suspect) -> String {
    let faults: Vec<String> = suspect.faults.iter().map(fault).collect();
    let only_counts = suspect.faults.iter().all(|fault| fault.kind.is_miscount());
    let rest = if only_counts {
        "; the threaded ones are right"
    } else {
        ""
    };
    format!("{}{rest}.", faults.join("; and "))
}

/// One fault in the heddles, without a stop.
pub(super) fn fault(fault: &Fault) -> String {
    let call = fault
        .call
        .map_or_else(String::new, |call| format!("call {}", call.0));
    let next = fault
        .call
        .map_or_else(String::new, |call| format!("{}", call.0.saturating_add(1)));
    let shaft = fault
        .shaft
        .map_or_else(String::new, |shaft| format!("shaft {}", shaft.0));
    let size = u32::try_from(fault.count.unsigned_abs()).unwrap_or(u32::MAX);
    let many = if fault.count < 0 { "few" } else { "many" };
    match fault.kind {
        FaultKind::PositionSkipped => format!("{call}, {shaft}, was passed over"),
        FaultKind::PositionRepeated => format!("{call}, {shaft}, was threaded twice"),
        FaultKind::EndsDoubled => format!("the heddle of {call}, {shaft}, holds two ends"),
        FaultKind::EndHanging => format!("an end hangs in no heddle beside {call}"),
        FaultKind::WrongShaft => format!("the end of {call} is on {shaft}"),
        FaultKind::HeddlePassed => format!(
            "a heddle of {shaft} is empty among the threaded, or an end goes through it and its own"
        ),
        FaultKind::EndsMiscounted => {
            format!("{} too {many} counted out", count(size, "end"))
        }
        FaultKind::HeddlesMiscounted => format!(
            "{} too {many} counted out on {shaft}",
            count(size, "heddle")
        ),
        FaultKind::HandfulSkipped => format!("the handful of {size} from {call} was passed over"),
        FaultKind::HandfulRepeated => {
            format!("the handful of {size} from {call} was threaded twice")
        }
        FaultKind::NeighboursExchanged => {
            format!("{call} and {next} are in each other's heddles")
        }
    }
}

/// A look of the tracing as a question, said by knot, handful and place in it.
#[must_use]
pub fn look(look: &Look, batch: u32, first: Call, planned: &[Shaft]) -> String {
    match look.kind {
        LookKind::ShaftOfHeddle => {
            let heddle = place_of(look.call.unwrap_or(first), batch, first, planned);
            format!(
                "which shaft holds {heddle}? Count filled heddles only. Type the shaft; 0 for none."
            )
        }
        LookKind::HeddleHoldingTwo if look.found > 0 => {
            "does another heddle hold two ends? Type its number in the knot; 0 for none.".to_owned()
        }
        LookKind::HeddleHoldingTwo => "run a finger along: does a heddle hold two ends? Type its number in the knot; 0 for none.".to_owned(),
        LookKind::EndInNoHeddle if look.found > 0 => {
            "does another end of this batch hang loose? Type the number of the heddle that it hangs after; 0 for none.".to_owned()
        }
        LookKind::EndInNoHeddle => "look behind the shafts: does an end of this batch hang loose? Type the number of the heddle that it hangs after; 0 for none.".to_owned(),
        LookKind::EmptyHeddle if look.found > 0 => {
            "is there another empty heddle, or one whose end goes through two? Type its shaft; 0 for none.".to_owned()
        }
        LookKind::EmptyHeddle => "is a heddle among the threaded ones empty, or does an end go through two? Type its shaft; 0 for none.".to_owned(),
        LookKind::EndsInKnot => "how many ends of this batch go through heddles? Type the number.".to_owned(),
        LookKind::NeighboursTogether => "lift the odd shafts: do two neighbours rise or stay together? Type the first one's number in the knot; 0 for none.".to_owned(),
        LookKind::ReadBack => "read the shafts as they stand, from the first heddle of the batch. Type them with spaces.".to_owned(),
    }
}

/// "the 2nd heddle of handful 3 in the knot of batch 5".
#[must_use]
pub fn place_of(call: Call, batch: u32, first: Call, planned: &[Shaft]) -> String {
    let (handful, place) = place(call, first, planned);
    format!(
        "the {} heddle of handful {handful} in the knot of batch {batch}",
        nth(place)
    )
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

/// What a tracing comes to, in lines: explanations, then the look or the ways of mending. The last
/// line is always what to do now.
#[must_use]
pub fn tracing(tracing: &Tracing, evidence: &Evidence, batch: u32) -> Vec<String> {
    if tracing.counts_agree && tracing.suspects.is_empty() {
        return unseen(evidence, batch);
    }
    let mut lines: Vec<String> = doubted(tracing).into_iter().collect();
    let fewest = tracing.suspects.first().map_or(0, |s| s.faults.len());
    let simplest = tracing.suspects.iter().filter(|s| s.faults.len() == fewest);
    let shown = simplest.clone().take(SUSPECTS_SHOWN);
    lines.extend(shown.map(|s| format!("{:>3.0} %  {}", 100.0 * s.share, suspect(s))));
    let more = u32::try_from(simplest.count().saturating_sub(SUSPECTS_SHOWN)).unwrap_or(0);
    if more > 0 {
        lines.push(format!("and {} more", count(more, "place")));
    }
    match (&tracing.look, tracing.suspects.first()) {
        (Some(ask), _) => lines.push(asked(ask, tracing.again, evidence, batch)),
        (None, Some(found)) => lines.extend(mended(found, tracing.settled, evidence)),
        (None, None) => lines.push(unexplained(evidence)),
    }
    lines
}

/// At most so many explanations are read out; more do not help hands that are full.
const SUSPECTS_SHOWN: usize = 6;

fn asked(ask: &Look, again: bool, evidence: &Evidence, batch: u32) -> String {
    let asked = look(ask, batch, evidence.first, &evidence.planned);
    format!("{}: {asked} ({})", look_word(again), ask.option())
}

/// The counts agree, and what they cannot see is said, with the look that would see most of it.
fn unseen(evidence: &Evidence, batch: u32) -> Vec<String> {
    let ask = group_end_look(evidence.first, &evidence.planned, None);
    vec![
        "The counts agree. That does not say that the batch is right.".to_owned(),
        "No count sees neighbours exchanged, ends crossed, an end beside its eye, a twisted heddle, \
         or a skip and a repeat on one shaft."
            .to_owned(),
        asked(&ask, false, evidence, batch),
    ]
}

/// How a look is asked for, the first time and where only its answer speaks for something rare.
pub(super) fn look_word(again: bool) -> &'static str {
    if again { "Look once more" } else { "Look" }
}

pub(super) fn doubted(tracing: &Tracing) -> Option<String> {
    let answer = seen(tracing.doubted.as_ref()?);
    Some(match tracing.again {
        true => format!("One answer speaks against the rest: {answer}."),
        false => not_with_the_others(&answer),
    })
}

/// The answer that is doubted, named.
pub(super) fn not_with_the_others(answer: &str) -> String {
    format!("One answer does not go with the others and is left out: {answer}. Look there again.")
}

fn mended(found: &Suspect, settled: bool, evidence: &Evidence) -> Vec<String> {
    let work = Work::threading(evidence.last());
    let mut lines: Vec<String> = Vec::new();
    if !settled {
        lines.push("No look that is left tells these apart.".to_owned());
    }
    lines.extend(picture(found, evidence));
    let ways = mend(evidence, found, &work);
    lines.extend(
        ways.iter()
            .rev()
            .map(|way| format!("Or: {}", fault_ways::way(way, evidence.first))),
    );
    // the first way is the one to take: it stands last, where the next move is looked for
    if let Some(last) = lines.last_mut() {
        *last = format!("Mend: {}", last.trim_start_matches("Or: "));
    }
    lines
}

fn unexplained(evidence: &Evidence) -> String {
    let made = evidence.calls_made;
    format!(
        "No one or two mistakes explain this. Draw the batch out and thread it again: {}, about {}.",
        count(made, "end"),
        fault_ways::time(f64::from(made) * 15.0)
    )
}

/// The heddles as planned above and as they would stand below, each difference under the other;
/// nothing where no heddle differs.
#[must_use]
pub fn picture(suspect: &Suspect, evidence: &Evidence) -> Vec<String> {
    let made = evidence.calls_made as usize;
    let planned = evidence.planned.get(..made).unwrap_or_default();
    let columns = read_back(planned, &suspect.stands(evidence), false);
    if columns.iter().any(Column::differs) {
        under_each_other(&columns)
    } else {
        Vec::new()
    }
}

/// A reading under the plan: the plan's shafts above, what stands below, `^` under a difference.
#[must_use]
pub fn under_each_other(columns: &[Column]) -> Vec<String> {
    let mut rows = [
        "planned:".to_owned(),
        "stands: ".to_owned(),
        "        ".to_owned(),
    ];
    let mut add = |above: Option<Shaft>, below: Option<Shaft>, mark: &str| {
        let cell = |shaft: Option<Shaft>| {
            shaft.map_or_else(|| "  .".to_owned(), |shaft| format!("{:>3}", shaft.0))
        };
        rows[0].push_str(&cell(above));
        rows[1].push_str(&cell(below));
        rows[2].push_str(&format!("{mark:>3}"));
    };
    for column in columns {
        match *column {
            Column::Same(shaft) => add(Some(shaft), Some(shaft), ""),
            Column::Other(planned, stands) => add(Some(planned), Some(stands), "^"),
            Column::Missing(planned) => add(Some(planned), None, "^"),
            Column::Extra(stands) => add(None, Some(stands), "^"),
            Column::Exchanged(first, second) => {
                add(Some(first), Some(second), "^");
                add(Some(second), Some(first), "^");
            }
            Column::NotRead(planned) => add(Some(planned), None, ""),
        }
    }
    rows.map(|row| row.trim_end().to_owned()).to_vec()
}
