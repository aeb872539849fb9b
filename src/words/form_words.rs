//! The form of a plan, in words: what is asked, and what the answers come to so far.

use super::counts::{count, plural};
use crate::plan::form::{FIELDS, Field, Form, Moot};
use crate::plan::{Figures, Problem, Remark};

/// How the form is typed in lines.
pub const HOW: [&str; 3] = [
    "Type an answer and press Enter; Enter alone takes what is usual. A few answers are needed, all others may stay as usual.",
    "Other words: back; clear (take this answer away); show (all answers); go 5 or go sett (any field); card NAME (a loom kept before); figures; done; quit.",
    "Every answer is saved at once, so you can quit and come back at any time.",
];
/// How the form in lines is finished, behind a sentence that it can be.
pub const DONE_IN_LINES: &str =
    "Type done to begin the dressing, or go on: what is not answered stays as usual.";
/// The same for the full screen.
pub const DONE_ON_SCREEN: &str = "F4 begins the dressing; what is not answered stays as usual.";
/// Why there is no cloth to look at yet.
pub const NO_CLOTH_YET: &str =
    "No cloth yet: it takes all that is needed, and a tie-up with its treadling or a lift plan.";
/// What was just answered was the last field, in lines.
pub const LAST_IN_LINES: &str =
    "That was the last field. Type done, or go and a field's name to change one.";
/// The same for the full screen.
pub const LAST_ON_SCREEN: &str = "That was the last field. Up and Down reach any of them again.";
/// The heading of the form.
pub const HEADING: &str = "A new plan";
/// The word for a needed field without an answer.
pub const NEEDED: &str = "NEEDED";
/// The heading of the form's help.
pub const HELP_HEADING: &str = "How the form is filled in";
/// The heading of all figures.
pub const FIGURES: &str = "What the answers come to";
/// The heading of the loom cards.
pub const CARDS: &str = "Put the plan on which loom?";
/// What a card fills in.
pub const CARD_FILLS: &str = "Enter takes the lit loom: its shafts, heddles, reeds and raddle go into the plan. Esc goes back.";
/// The item that keeps the loom of this plan.
pub const KEEP_LOOM: &str = "Keep the loom of this plan as a card, for the next plan";
/// There is nothing to keep the loom under.
pub const LOOM_UNNAMED: &str =
    "Give the loom a name first (Name of the loom), then it can be kept as a card.";
/// There is no loom card yet, in the list of them.
pub const NO_CARDS: &str = "No loom is kept yet. Fill in the loom once, then keep it here.";

/// What stands before what does not fit.
const NO: &str = "Does not fit";

/// What the keys of the form do, for its help.
pub const HELP: [&str; 11] = [
    "Type the answer to the lit field; Enter takes it and goes on to the next.",
    "Enter alone leaves the field as usual. Esc clears what is typed; once more brings the answer back.",
    "Up, Down, PageUp and PageDown go to any field; what was typed is taken on the way.",
    "F2 puts the plan on a loom that was measured before, or keeps the loom of this plan.",
    "F3 shows every figure, all that does not fit and what is worth knowing.",
    "F6 shows the cloth as it will look, and the draft.",
    "F4 begins the dressing as soon as the needed fields are answered and all fits. Ctrl-D does so too.",
    "Ctrl-C leaves. Every answer is saved; endsmeet new goes on where you left.",
    "! is needed, + is answered, everything else stays as usual.",
    "Lengths may be 13 7/8 or 13.875; shares 10%; the threading repeats until the warp is full.",
    "Any key goes back to the form.",
];

/// What the keys do, in the rows at the bottom of the form.
#[must_use]
pub fn hints(ready: bool) -> [Vec<(String, String)>; 2] {
    let rows: [&[(&str, &str)]; 2] = [
        &[
            ("Enter", "take it, next"),
            ("Up Down", "other fields"),
            ("Esc", "clear"),
            ("Ctrl-C", "leave, saved"),
        ],
        &[
            ("F2", "loom card"),
            ("F3", "all figures"),
            (
                "F4",
                if ready {
                    "DONE: begin the dressing"
                } else {
                    "done"
                },
            ),
            ("F6", "cloth"),
            ("F1", "help"),
        ],
    ];
    rows.map(|row| {
        let named = |(key, does): &(&str, &str)| ((*key).to_owned(), (*does).to_owned());
        row.iter().map(named).collect()
    })
}

/// What the keys do on a page over the form.
#[must_use]
pub fn page_hints(keys: &[(&str, &str)]) -> Vec<(String, String)> {
    let named = |(key, does): &(&str, &str)| ((*key).to_owned(), (*does).to_owned());
    keys.iter().map(named).collect()
}

/// "Sett, needed".
#[must_use]
pub fn asked(form: &Form, field: &Field) -> String {
    let needed = if form.is_open(field) { ", needed" } else { "" };
    format!("{}{needed}", field.asks)
}

/// What a field asks, with its help and the usual value that stands without an answer.
#[must_use]
pub fn asks(form: &Form, usual: Option<&str>) -> Vec<String> {
    let (field, place) = (form.field(), form.place());
    let mut lines = vec![
        format!("{} of {}. {}", place.0, place.1, asked(form, field)),
        format!("  {}", field.help),
    ];
    lines.push(match form.answer(field.key) {
        Some(answer) => format!("  Now: {answer}. Enter alone keeps it."),
        None => format!("  {}", hint(form, usual)),
    });
    lines.extend(form.moot(field.key).map(|why| format!("  {}.", moot(why))));
    lines
}

/// What stands where nothing is typed: what Enter alone takes.
#[must_use]
pub fn hint(form: &Form, usual: Option<&str>) -> String {
    let field = form.field();
    match without(field.key, usual) {
        Some(stands) => format!("Enter alone: {stands}"),
        None if form.is_open(field) => "type the answer".to_owned(),
        None => "Enter alone: stays blank".to_owned(),
    }
}

/// What stands where a field has no answer: its usual value, or what goes without one.
fn without(key: &str, usual: Option<&str>) -> Option<String> {
    let stands = match key {
        "sley_order" => Some("worked out"),
        "loom.heddles" => Some("not counted, so not checked"),
        "loom.width" | "raddle.length" => Some("not known, so not checked"),
        "loom.beam_girth" => Some("not known, so no turns are given"),
        _ => usual,
    };
    stands.map(str::to_owned)
}

/// How a field stands in a list: a mark ('!' needed, '+' answered, ' ' as usual) and its value in words.
#[must_use]
pub fn standing(form: &Form, figures: &Figures, field: &Field) -> (char, String) {
    if let Some(answer) = form.answer(field.key) {
        return ('+', answer.to_owned());
    }
    if form.is_open(field) {
        return ('!', NEEDED.to_owned());
    }
    if let Some(why) = form.moot(field.key) {
        return (' ', moot(why));
    }
    let usual = Form::usual(figures, field.key);
    let says = match without(field.key, usual.as_deref()) {
        // a reed is at hand or not: none is usual
        Some(stands) if field.key == "reeds" => format!("taken to be {stands}"),
        Some(stands) if usual.is_some() => format!("as usual: {stands}"),
        Some(stands) => stands,
        None => "-".to_owned(),
    };
    (' ', says)
}

/// Why a field need not be answered.
#[must_use]
pub fn moot(why: Moot) -> String {
    match why {
        Moot::Settled(by) => format!("not asked: {} is given", by.asks),
        Moot::HangsOn(by) => format!("only with {}", by.asks),
    }
}

/// What was typed for a field and cannot be taken, without the names of a plan file.
#[must_use]
pub fn not_taken(field: &Field, problem: &Problem) -> String {
    let text = in_the_forms_words(problem);
    match text.strip_prefix(field.asks) {
        Some(_) => text,
        None => format!("{}: {text}", field.asks),
    }
}

/// A problem in the form's words: `reeds[0].dents` is "Reeds to hand, number 1". One line.
#[must_use]
pub fn in_the_forms_words(problem: &Problem) -> String {
    let text = problem.to_string();
    let text = text.lines().next().unwrap_or_default();
    let of = |field: &&Field| {
        text.strip_prefix(field.key)
            .filter(|rest| rest.starts_with([':', '[', '.', ',']))
            .map(|rest| (field.asks, rest))
    };
    // the longest key is meant: "loom.width" is no "loom"
    let found = FIELDS.iter().filter_map(|field| of(&field));
    let Some((asks, rest)) = found.min_by_key(|(_, rest)| rest.len()) else {
        return text.to_owned();
    };
    let (place, says) = rest.split_once(": ").unwrap_or(("", rest));
    let number = place
        .trim_start_matches('[')
        .split(']')
        .next()
        .and_then(|n| n.parse::<u32>().ok());
    match number {
        Some(n) if place.starts_with('[') => format!("{asks}, number {}: {says}", n + 1),
        _ => format!("{asks}: {says}"),
    }
}

/// Where in the typed text the fault lies, in characters from 0; `None` where it is not said.
#[must_use]
pub fn place_of(problem: &Problem) -> Option<usize> {
    match problem {
        Problem::Threading { fault, .. } => fault.place.checked_sub(1),
        _ => None,
    }
}

/// What does not fit yet; what is only not answered yet is left to the asking.
#[must_use]
pub fn does_not_fit(problems: &[Problem]) -> Vec<String> {
    let told = problems
        .iter()
        .filter(|problem| !matches!(problem, Problem::Missing { .. }));
    told.map(|problem| format!("{NO}: {}.", in_the_forms_words(problem)))
        .collect()
}

/// Whether a line of [`live`](super::form_figures::live) or [`does_not_fit`] says that something does not fit.
#[must_use]
pub fn says_no(line: &str) -> bool {
    line.starts_with(NO)
}

/// What is worth knowing.
#[must_use]
pub fn worth_knowing(remarks: &[Remark]) -> Vec<String> {
    let told = remarks.iter().map(|remark| format!("Know: {remark}."));
    told.collect()
}

/// Whether the plan can be dressed as it stands.
#[must_use]
pub fn is_ready(figures: &Figures) -> bool {
    figures.problems.is_empty()
}

/// What is still in the way of the dressing, or that nothing is, and how the form is finished then.
#[must_use]
pub fn how_far(form: &Form, figures: &Figures, done: &str) -> String {
    let open = form.still_needed();
    if !open.is_empty() {
        let named = |field: &&Field| match field.key {
            "ends" => format!("{} (or a width)", field.asks),
            _ => field.asks.to_owned(),
        };
        let open: Vec<String> = open.iter().map(named).collect();
        return format!("Still needed: {}.", open.join("; "));
    }
    match does_not_fit(&figures.problems).len() {
        0 if is_ready(figures) => format!("Everything needed is answered. {done}"),
        n => format!(
            "Everything needed is answered, but {} not fit. Change an answer.",
            match n {
                0 | 1 => "one thing does".to_owned(),
                n => format!("{n} {} do", plural(n as u32, "thing")),
            }
        ),
    }
}

/// How far the form is, short, for the top of the screen.
#[must_use]
pub fn place(form: &Form) -> String {
    let (at, of) = form.place();
    match form.still_needed().len() {
        0 => format!("field {at} of {of}"),
        n => format!("field {at} of {of}, {n} still needed"),
    }
}

/// No field is meant by these words.
#[must_use]
pub fn no_field(meant: &str) -> String {
    format!(
        "There is no field {}. Type show for all of them with their numbers.",
        crate::quantity::harmless_within(meant, 40)
    )
}

/// The plan could not be kept.
#[must_use]
pub fn not_saved(why: &str) -> String {
    format!("NOT SAVED. {why}")
}

/// A loom card was put into the plan.
#[must_use]
pub fn card_taken(name: &str) -> String {
    format!("The plan is on the loom {name} now.")
}

/// A loom card was kept.
#[must_use]
pub fn card_kept(name: &str) -> String {
    format!("The loom is kept as {name}. F2 puts the next plan on it.")
}

/// So many lines more than there is room for.
#[must_use]
pub fn more(n: usize) -> String {
    format!("({} more: F3)", count(n as u32, "line"))
}
