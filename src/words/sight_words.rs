//! Something that looks wrong in a shed or in the cloth, in sentences: its questions, the ends that may
//! be behind it. Owns the wording; what may be behind it is `fault`'s.

use super::cloth_words;
use super::counts::{other, side};
use super::page::Page;
use super::trail::chosen;
use crate::dressing::ask::Choice;
use crate::dressing::sighting::{Sighting, Sought};
use crate::dressing::view::{Disagreeing, DisagreeingView};
use crate::fault::cloth_spot::{Astray, ClothSuspect, Sign};
use crate::plan::{Plan, Side};
use crate::quantity::Fraction;

/// The heading of the questions.
pub const HEADING: &str = "Something looks wrong: what, where, in which sheds";

/// The distance line and the question of one part.
#[must_use]
pub fn question(sought: Sought, plan: &Plan) -> (&'static str, String) {
    match sought {
        Sought::Sign => (
            "WHAT LOOKS WRONG?",
            "What do you see? 1: two neighbours move alike. 2: one end is up or down alone, or stands in the gap.".to_owned(),
        ),
        Sought::Edge => (
            "FROM WHICH EDGE?",
            "Measure how far in it is. From which edge? 1: the right one. 2: the left one.".to_owned(),
        ),
        Sought::Whole => (
            "HOW FAR IN?",
            "How far in from that edge? Say the whole inches first, 0 if it is less than one.".to_owned(),
        ),
        Sought::Eighths => (
            "EIGHTHS BEYOND?",
            "And how many eighths of an inch beyond them? 0 to 7.".to_owned(),
        ),
        Sought::Millimetres => (
            "HOW FAR IN?",
            "How many millimetres in from that edge?".to_owned(),
        ),
        Sought::Shed if plan.tie_up.is_empty() => (
            "WHICH SHEDS?",
            "Which shed shows it? Its number in the order of trying; 0 when that is all.".to_owned(),
        ),
        Sought::Shed => (
            "WHICH TREADLES?",
            "Which treadle shows it? Its number; then the next one; 0 when that is all.".to_owned(),
        ),
    }
}

/// "Two neighbours alike, 5 3/8 in from the right edge, on treadles 2 4".
#[must_use]
pub fn said(sighting: &Sighting, plan: &Plan) -> String {
    let what = match sighting.sign {
        Some(Sign::TwoAlike) => "Two neighbours alike",
        Some(Sign::OneAstray) => "One end astray",
        None => "Something wrong",
    };
    let at = sighting
        .thousandths
        .and_then(|n| Fraction::new(i64::from(n), 1000));
    let at = at.map_or_else(String::new, |at| plan.units.fine_tape(at));
    let sheds: Vec<String> = sighting.sheds.iter().map(u32::to_string).collect();
    let by = if plan.tie_up.is_empty() {
        "in sheds"
    } else {
        "on treadles"
    };
    format!(
        "{what}, {at} from the {} edge, {by} {}",
        side(sighting.from.unwrap_or(Side::Right)),
        sheds.join(" ")
    )
}

/// A sighting as a page: where to look, and what may be there.
#[must_use]
pub fn page(view: &DisagreeingView, plan: &Plan) -> Page {
    let Disagreeing::Sighting {
        sighting,
        suspects,
        none,
        float,
    } = &view.what
    else {
        return Page::default();
    };
    let from = sighting.from.unwrap_or(Side::Right);
    let mut lines = vec![format!("{}.", said(sighting, plan))];
    if let Some(none) = none {
        lines.push(format!("{}.", super::lines::capital(&none.to_string())));
    } else if suspects.is_empty() {
        lines.push(format!(
            "No single end there explains it: measure once more, also from the {} edge, and press every treadle.",
            side(other(from))
        ));
    } else {
        lines.push("Look at these ends, one after the other:".to_owned());
    }
    let numbered = (1..).zip(suspects);
    lines.extend(
        numbered.map(|(n, suspect)| format!("{n}. {}", cloth_words::suspect(suspect, from, plan))),
    );
    if *float {
        lines.push("A floating selvedge lies there; it is in no heddle and in no shed.".to_owned());
    }
    Page {
        heading: "Something looks wrong: which end is it".to_owned(),
        far: "LOOK AT THE HEDDLES".to_owned(),
        say: lines.get(2).or(lines.get(1)).cloned().unwrap_or_default(),
        lines,
        typed: ways(view),
        caution: Some(super::try_words::SHED_CAUTION.to_owned()),
        press: "choose what you found".to_owned(),
    }
}

fn ways(view: &DisagreeingView) -> Vec<String> {
    let said = |choice: &Choice| format!("Or {}: {}.", word(*choice), choice_words(view, *choice));
    view.choices.iter().map(said).collect()
}

fn word(choice: Choice) -> String {
    match choice {
        Choice::Suspect(nth) => (u32::from(nth) + 1).to_string(),
        other => super::choices::word(other).to_owned(),
    }
}

/// A way out by what it says.
#[must_use]
pub fn choice_words(view: &DisagreeingView, choice: Choice) -> String {
    let (Choice::Suspect(nth), Disagreeing::Sighting { suspects, .. }) = (choice, &view.what)
    else {
        return chosen(choice).to_owned();
    };
    suspects
        .get(usize::from(nth))
        .map_or_else(|| chosen(choice).to_owned(), found)
}

/// What she found: "end 52 is on shaft 3".
fn found(suspect: &ClothSuspect) -> String {
    let end = suspect.call.0;
    match suspect.astray {
        Astray::OnShaft(shaft) => format!("end {end} is on shaft {}", shaft.0),
        Astray::InHeddleOf(call, _) => format!("end {end} shares the heddle of end {}", call.0),
        Astray::InNoHeddle => format!("end {end} is in no heddle eye"),
        Astray::WithTheNext => {
            format!("ends {end} and {} stand exchanged", end.saturating_add(1))
        }
    }
}
