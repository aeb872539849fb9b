//! Something is wrong, part by part, in words: the lists and the questions. Owns the wording; what can be
//! said and what it leads to is the dressing's.

use super::counts::{count, ends, side};
use crate::dressing::Dressing;
use crate::dressing::report::{ReportItem, ReportList, ReportPart, Wrong};
use crate::fault::{FaultKind, ReedFault};

/// The heading.
pub const HEADING: &str = "Something is wrong";
/// The lit word that leaves a number open and goes one part back.
pub const GO_BACK: &str = "GO BACK";
/// What the button does where a number is asked and none is given.
pub const PRESS: &str = "go back";
/// What the button's key is told to do where no line is lit yet.
pub const NOTHING_LIT: &str = "Choose a line by its number, or light the lines and press.";

/// The distance line of a part.
#[must_use]
pub fn far(part: ReportPart, dressing: &Dressing) -> &'static str {
    match part {
        ReportPart::List(ReportList::What) => "WHAT IS WRONG?",
        ReportPart::List(ReportList::Broken) => "WHICH END BROKE?",
        ReportPart::List(ReportList::Heddles | ReportList::Reed) => "WHAT DO YOU SEE?",
        ReportPart::List(ReportList::Ends) => "BROKEN ENDS",
        ReportPart::List(ReportList::OneEnd(_)) => "MEND IT NOW?",
        ReportPart::Knot(_) if dressing.knots_are_batches() => "WHICH KNOT?",
        ReportPart::Knot(_) => "WHICH GROUP?",
        ReportPart::End(_, None) => "WHICH END?",
        ReportPart::End(..) => "WHICH END IN IT?",
        ReportPart::Shaft(_) => "ON WHICH SHAFT?",
        ReportPart::SureGroup => "SURE UP TO GROUP?",
        ReportPart::Batch => "READ WHICH KNOT?",
        ReportPart::ReedGroup => "WHICH GROUP?",
    }
}

/// What is asked, and how it is counted.
#[must_use]
pub fn lines(part: ReportPart, dressing: &Dressing) -> Vec<String> {
    let plan = dressing.plan();
    let (_, most) = dressing.report_range(part);
    let from = format!("counted from the {}", side(plan.thread_from));
    match part {
        ReportPart::List(ReportList::OneEnd(number)) => vec![one_end(number, dressing)],
        ReportPart::List(ReportList::Ends) => ends_mended(dressing),
        ReportPart::List(_) => vec![NOTHING_LIT.to_owned()],
        ReportPart::Knot(wrong) => vec![
            format!("{}.", sentence(wrong)),
            if dressing.knots_are_batches() {
                format!("Which knot is it in, {from}? 1 to {most}.")
            } else {
                format!("Which group is it in, {from}? 1 to {most}.")
            },
            "0: say the end's number in the whole warp instead.".to_owned(),
        ],
        ReportPart::End(wrong, knot) => {
            let first = match knot.and_then(|n| Some((n, dressing.report_knot(n)?))) {
                Some((n, calls)) if dressing.knots_are_batches() => {
                    format!(
                        "Knot {n} holds {}. Which of them is it, {from}?",
                        ends(calls)
                    )
                }
                Some((n, calls)) => {
                    format!("Group {n} is {}. Which of them is it, {from}?", ends(calls))
                }
                None => format!("Which end is it in the order of threading? 1 to {most}."),
            };
            let mut lines = vec![format!("{}.", sentence(wrong)), first];
            if knot.is_some() {
                lines.push(format!("1 is the first of them, {most} the last."));
            }
            lines
        }
        ReportPart::Shaft(call) => vec![format!(
            "On which shaft does end {} stand? 1 to {most}.",
            call.0
        )],
        ReportPart::SureGroup => vec![
            "Something is off farther back.".to_owned(),
            format!("Up to which group, {from}, are you sure that all is right? 0: of none."),
        ],
        ReportPart::ReedGroup => vec![format!(
            "Ends and dents do not come out in the reed. In which group, {from}? 1 to {most}."
        )],
        ReportPart::Batch => vec![format!(
            "The shafts are read back as they stand. Of which knot, {from}? 0: of all that is threaded."
        )],
    }
}

/// What is wrong at an end, as a sentence without its stop.
fn sentence(wrong: Wrong) -> String {
    super::lines::capital(what(wrong))
}

fn what(wrong: Wrong) -> &'static str {
    match wrong {
        Wrong::Broke => "an end broke",
        Wrong::InHeddles(kind) => in_heddles(kind),
        Wrong::InReed(kind) => in_reed(kind),
    }
}

fn in_heddles(kind: FaultKind) -> &'static str {
    match kind {
        FaultKind::WrongShaft => "an end is on another shaft",
        FaultKind::PositionSkipped => "a call was passed over, with its end and heddle",
        FaultKind::PositionRepeated => "a call was threaded twice",
        FaultKind::EndsDoubled => "two ends are in one heddle",
        FaultKind::EndHanging => "an end hangs in no heddle",
        FaultKind::NeighboursExchanged => "two neighbours are exchanged",
        FaultKind::HeddlePassed => "a heddle was passed by and is empty",
        FaultKind::HandfulSkipped => "a handful was passed over",
        FaultKind::HandfulRepeated => "a handful was threaded twice",
        FaultKind::EndsMiscounted => "ends were counted out wrong",
        FaultKind::HeddlesMiscounted => "heddles were counted out wrong",
    }
}

fn in_reed(kind: ReedFault) -> &'static str {
    match kind {
        ReedFault::EndsCrossed => "two ends cross in the reed or before it",
        ReedFault::DentSkipped => "a dent was passed over and is empty",
        ReedFault::EndTooMany => "a dent holds one end too many",
        ReedFault::EndTooFew => "a dent holds one end too few",
        ReedFault::OrderAhead => "the sley order jumped a dent ahead",
        ReedFault::OrderBehind => "the sley order fell a dent behind",
    }
}

/// A line of a list.
#[must_use]
pub fn item(item: ReportItem, dressing: &Dressing) -> String {
    match item {
        ReportItem::To(ReportList::Broken) => "an end broke".to_owned(),
        ReportItem::To(ReportList::Ends) => {
            let of = dressing.record().broken.len() as u32;
            let open = dressing.about().broken;
            format!("the list of {}: {open} to mend", count(of, "broken end"))
        }
        ReportItem::To(ReportList::OneEnd(number)) => one_end(number, dressing),
        ReportItem::To(ReportList::Heddles) => "I see a mistake in the heddles".to_owned(),
        ReportItem::To(ReportList::Reed) => "I see a mistake in the reed".to_owned(),
        ReportItem::To(ReportList::What) | ReportItem::GoBack => {
            "none of these: go back".to_owned()
        }
        ReportItem::At(Wrong::Broke) => "an end in a heddle, or meant for one".to_owned(),
        ReportItem::At(wrong) => what(wrong).to_owned(),
        ReportItem::Float(at) => format!("the floating selvedge at the {}", side(at)),
        ReportItem::SomeEnd => "which one is not known".to_owned(),
        ReportItem::Mend(_) => "mend it now, move by move".to_owned(),
        ReportItem::Mended(_) => "it is mended".to_owned(),
        ReportItem::FartherBack => "something is off farther back: find it".to_owned(),
        ReportItem::InDents => "ends and dents of a sleyed group do not come out".to_owned(),
        ReportItem::ReadBack => "read the shafts back as they stand".to_owned(),
        ReportItem::InCloth => "a spot looks wrong in a shed or in the cloth".to_owned(),
        ReportItem::TakeUp => "take up what was left open".to_owned(),
    }
}

/// So many mended ends are shown above those to mend.
const MENDED_SHOWN: usize = 3;

/// The broken ends that are mended, above those that are to be.
fn ends_mended(dressing: &Dressing) -> Vec<String> {
    let units = dressing.plan().units;
    let ends = dressing.broken_ends();
    let mended: Vec<_> = ends.iter().filter(|end| end.mended).collect();
    let earlier = mended.len().saturating_sub(MENDED_SHOWN);
    let shown = mended.iter().skip(earlier);
    let mut lines: Vec<String> = shown
        .map(|end| super::broken_words::line(end, units))
        .collect();
    if earlier > 0 {
        lines.insert(
            0,
            format!("{earlier} more mended before: the status lists them."),
        );
    }
    if ends.iter().any(|end| !end.mended) {
        lines.push("These are to be mended, each with what is left to do:".to_owned());
    }
    lines
}

/// A broken end with its place and what is left to do.
fn one_end(number: u32, dressing: &Dressing) -> String {
    let ends = dressing.broken_ends();
    let end = ends.iter().find(|end| end.number == number);
    end.map_or_else(String::new, |end| {
        let line = super::broken_words::line(end, dressing.plan().units);
        line.trim_end_matches('.').to_owned()
    })
}
