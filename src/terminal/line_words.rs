//! What a typed line means. Owns the words of line mode; never touches a dressing.

use super::line_answers::answer;
use super::line_said::{
    amend, batch, broken, cloth, found, heddles, measured, sheds, sighting, width,
};
use crate::dressing::ask::{Amendment, Ask, Choice, Part};
use crate::dressing::state::{Dressing, Mood};
use crate::dressing::{Mismatch, View};
use crate::fault::WayKind;
use crate::plan::Side;
use crate::words::broken_words;

/// What a typed line asks for.
#[derive(Debug, Clone, PartialEq)]
pub enum Typed {
    /// Something for the dressing.
    Ask(Ask),
    /// The way of that number; there are only so many.
    NoSuchWay {
        /// The number as typed.
        said: i64,
        /// How many ways are listed.
        of: usize,
    },
    /// Say the step again.
    SayAgain,
    /// How far the dressing is, all stages.
    Where,
    /// The step's why and what can go wrong, and the words of line mode.
    Help,
    /// Save the slip that says where she stopped.
    Slip,
    /// Leave; everything is saved.
    Leave,
    /// Not understood; the nearest word, if one is near.
    Unknown {
        /// The line as typed, made harmless.
        said: String,
        /// A word that is near.
        near: Option<&'static str>,
    },
    /// Understood, but something is wrong with what stands behind the word.
    Wrong(&'static str),
    /// Something to read that changes nothing: lines to be shown.
    Tell(Vec<String>),
}

/// One word of line mode.
pub struct LineWord {
    /// The word, and a short form where there is one.
    pub words: &'static [&'static str],
    /// What stands behind it.
    pub with: &'static str,
    /// What it does.
    pub does: &'static str,
}

const fn word(words: &'static [&'static str], with: &'static str, does: &'static str) -> LineWord {
    LineWord { words, with, does }
}

/// All words of line mode, as help lists them.
pub const WORDS: &[LineWord] = &[
    word(&["", "next"], "", "done, go on (an empty line)"),
    word(
        &["1", "2", "way"],
        "NUMBER",
        "the way with that number; with way before it also where a number is asked",
    ),
    word(&["back", "b"], "", "take back the last press"),
    word(&["redo"], "", "do again what was taken back"),
    word(&["say", "."], "", "say it again"),
    word(&["where", "w"], "", "how far the dressing is"),
    word(&["uneven", "u"], "", "the batch does not come out even"),
    word(&["stuck", "s"], "", "no heddle, no end, something odd"),
    word(
        &["found"],
        "CALL WHAT",
        "something is wrong at that call: on SHAFT, skipped, twice, double, hanging, exchanged; in the reed: crossed, dent skipped, dent over, dent under",
    ),
    word(&["count"], "", "look at what stands on the loom"),
    word(
        &["read"],
        "BATCH | all",
        "read the shafts back as they stand",
    ),
    word(
        &["off"],
        "GROUP",
        "something is off farther back; the last group that is sure",
    ),
    word(
        &["reed"],
        "GROUP",
        "ends and dents of a sleyed group do not come out",
    ),
    word(&["reopen"], "", "take up what was left open"),
    word(&["skip", "enough"], "", "leave out what may be left out"),
    word(
        &["pause", "p"],
        "",
        "hands are needed elsewhere; again to go on",
    ),
    word(&["stop"], "", "stop for today"),
    word(
        &["slip"],
        "",
        "save the slip that says where you stopped, to be printed",
    ),
    word(
        &["broken"],
        "END",
        "an end broke; its number, or none; left or right for a floating selvedge",
    ),
    word(
        &["mend"],
        "NUMBER",
        "mend a broken end, led move by move; alone: the list of broken ends",
    ),
    word(&["mended"], "NUMBER", "a broken end is mended"),
    word(&["note"], "TEXT", "a remark"),
    word(&["width"], "LENGTH", "a measured width"),
    word(
        &["batch"],
        "repeat | group | NUMBER",
        "other batches from here on",
    ),
    word(&["heddles"], "NUMBERS", "heddles on hand on each shaft"),
    word(&["draft"], "SHAFTS", "another draft from the next batch on"),
    word(
        &["ends"],
        "NUMBER",
        "an end is short or was found: ends wound in all",
    ),
    word(&["sley"], "right | left", "sleying starts at that side"),
    word(
        &["measured"],
        "reed | cloth | picks | warp | woven FIGURE",
        "something measured, in the plan's unit",
    ),
    word(
        &["wrong"],
        "alike | astray LENGTH right | left SHEDS",
        "a spot looks wrong in a shed or in the cloth; alone: asked part by part",
    ),
    word(
        &["cloth"],
        "FLOATS OVER, FROM END, back",
        "the picture of the cloth",
    ),
    word(&["sheds"], "", "every shed: shafts and ends that rise"),
    word(&["helpme"], "", "help is asked for"),
    word(&["hands"], "", "a second pair of hands is wanted"),
    word(&["helpcame"], "", "help or the hands came"),
    word(&["help", "h"], "", "this list, and more about the step"),
    word(&["quit", "q"], "", "leave; everything is saved"),
];

/// What the line means while the dressing is as it is: numbers answer an open question.
#[must_use]
pub fn read(line: &str, dressing: &Dressing) -> Typed {
    let line = line.trim();
    let (first, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
    let (first, rest) = (first.to_lowercase(), rest.trim());
    if let Some(typed) = choice(&first, dressing) {
        return typed;
    }
    if let Some(typed) = way(&first, rest, dressing) {
        return typed;
    }
    if let Some(answer) = answer(line, dressing) {
        return answer;
    }
    match (first.as_str(), rest) {
        ("" | "next", "") => Typed::Ask(Ask::Next),
        ("back" | "b", "") => Typed::Ask(Ask::BackOne),
        ("redo", "") => Typed::Ask(Ask::Redo),
        ("say" | ".", "") => Typed::SayAgain,
        ("where" | "w", "") => Typed::Where,
        ("slip", "") => Typed::Slip,
        ("uneven" | "u", "") => Typed::Ask(Ask::Uneven),
        ("stuck" | "s", "") => Typed::Ask(Ask::Stuck),
        ("found", rest) => found(rest, dressing),
        ("count", "") => Typed::Ask(Ask::Count),
        ("read", "") => Typed::Ask(Ask::ReadBack(Part::Here)),
        ("read", "all") => Typed::Ask(Ask::ReadBack(Part::Whole)),
        ("read", rest) => rest.parse().map_or(
            Typed::Wrong("Type read alone, read and a batch's number, or read all."),
            |batch| Typed::Ask(Ask::ReadBack(Part::Batch(batch))),
        ),
        ("off", "" | "none") => Typed::Ask(Ask::Trace { since: None }),
        ("off", rest) => rest.parse().map_or(
            Typed::Wrong("Type off and the last group that is sure, as: off 3; or off alone."),
            |group| Typed::Ask(Ask::Trace { since: Some(group) }),
        ),
        ("reed", rest) => rest.parse().map_or(
            Typed::Wrong("Type reed and the number of a sleyed group, as: reed 3"),
            |group| Typed::Ask(Ask::TraceReed { group }),
        ),
        ("reopen", "") => Typed::Ask(Ask::TakeUp),
        ("skip" | "enough", "") => Typed::Ask(Ask::Skip),
        ("pause" | "p", "") => Typed::Ask(Ask::Pause),
        ("stop", "") => Typed::Ask(Ask::StopForToday),
        ("sheds", "") => sheds(dressing),
        ("cloth", rest) => cloth(rest, dressing),
        ("measured", rest) => measured(rest),
        ("wrong", "") => Typed::Ask(Ask::Sight(None)),
        ("wrong", rest) => sighting(rest),
        ("helpme", "") => Typed::Ask(Ask::HelpWanted),
        ("hands", "") => Typed::Ask(Ask::HandsWanted),
        ("helpcame", "") => Typed::Ask(Ask::HelpCame),
        ("help" | "h" | "?", "") => Typed::Help,
        ("quit" | "q", "") => Typed::Leave,
        ("note", text) => Typed::Ask(Ask::Note(crate::quantity::harmless(text))),
        ("broken", rest) => broken(rest),
        ("mend", "") => Typed::Tell(broken_words::register(dressing)),
        ("mend", rest) => rest.parse().map_or(
            Typed::Wrong("Type mend and the number of the broken end, as: mend 1"),
            |number| Typed::Ask(Ask::MendEnd { number }),
        ),
        ("mended", rest) => rest.parse().map_or(
            Typed::Wrong("Type mended and the number of the broken end, as: mended 1"),
            |number| Typed::Ask(Ask::EndMended { number }),
        ),
        ("width", rest) => width(rest),
        ("batch", rest) => batch(rest),
        ("heddles", rest) => heddles(rest),
        ("draft", "") => {
            Typed::Wrong("Type draft and the shafts from here on, as: draft (1 2 3 4) x6")
        }
        ("draft", rest) => amend(Amendment::Draft(crate::quantity::harmless(rest))),
        ("ends", rest) => rest.parse().map_or(
            Typed::Wrong("Type ends and how many are wound in all, as: ends 276"),
            |ends| amend(Amendment::Ends(ends)),
        ),
        ("sley", "right") => amend(Amendment::SleyFrom(Side::Right)),
        ("sley", "left") => amend(Amendment::SleyFrom(Side::Left)),
        ("sley", _) => Typed::Wrong("Type sley right or sley left: the side where sleying starts."),
        (word, _) => unknown(line, word),
    }
}

/// A way on by its number: behind `way` always, alone where nothing waits for a number.
fn way(first: &str, rest: &str, dressing: &Dressing) -> Option<Typed> {
    let (called, number) = match (first, rest) {
        ("way", rest) => (true, rest),
        (number, "") => (false, number),
        _ => return None,
    };
    let view = dressing.view();
    let ways = super::ways::ways(&view);
    let waits = match &view {
        View::Disagreeing(view) => crate::words::screen_words::has_look(view),
        _ => false,
    };
    let Ok(said) = number.parse::<i64>() else {
        return called.then_some(Typed::Wrong(WAY));
    };
    if !called && (ways.is_empty() || waits) {
        return None;
    }
    let nth = usize::try_from(said).ok().and_then(|n| n.checked_sub(1));
    let of = ways.len();
    let ask = nth.and_then(|nth| ways.into_iter().nth(nth));
    Some(ask.map_or(Typed::NoSuchWay { said, of }, Typed::Ask))
}

const WAY: &str = "Type way and the number in front of its line, as: way 2";

fn choice(first: &str, dressing: &Dressing) -> Option<Typed> {
    let Mood::Disagreeing(_) = dressing.mood() else {
        return None;
    };
    let choice = match first {
        "again" => Choice::ThreadAgain,
        "right" => Choice::PutRight,
        "loom" => Choice::LoomHolds,
        "back" => Choice::StepBack,
        "look" => Choice::LookAgain,
        "trace" => Choice::Trace,
        "read" => Choice::ReadBack,
        "leave" => Choice::LeaveOpen,
        "wrong" => Choice::Sight,
        "from" => Choice::Way(WayKind::FromTheFault),
        "edge" => Choice::Way(WayKind::ToTheFirstEdge),
        "spot" => Choice::Way(WayKind::OnTheSpot),
        "count-out" => Choice::Way(WayKind::PutCountRight),
        "on" => Choice::Way(WayKind::GoOn),
        "plan" => Choice::Way(WayKind::AmendPlan),
        _ => return None,
    };
    // "back" alone is also one press back: in a batch's mismatch it is that
    let of_look = matches!(dressing.mood(), Mood::Disagreeing(Mismatch::Look { .. }));
    (choice != Choice::StepBack || of_look).then_some(Typed::Ask(Ask::Choose(choice)))
}

fn unknown(line: &str, word: &str) -> Typed {
    let near = WORDS
        .iter()
        .flat_map(|row| row.words)
        .filter(|known| known.len() > 2)
        .map(|known| (strsim::osa_distance(word, known), *known))
        .min()
        .filter(|&(distance, _)| distance <= 2)
        .map(|(_, known)| known);
    Typed::Unknown {
        said: crate::quantity::harmless(line),
        near,
    }
}
