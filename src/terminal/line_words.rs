//! What a typed line means. Owns the words of line mode; never touches a dressing.

use super::line_traced;
use crate::dressing::ask::{Amendment, Answer, Ask, Choice, Part};
use crate::dressing::measure::Measured;
use crate::dressing::sighting::Sighting;
use crate::dressing::state::{Dressing, Mood, open_look};
use crate::dressing::{self, Mismatch, Question, View};
use crate::fault::cloth_spot::Sign;
use crate::fault::{Fault, FaultKind, Found, Look, LookKind, ReedFault, Seen, WayKind};
use crate::plan::{BatchRule, Face, Side};
use crate::quantity::{Call, Shaft};
use crate::words::cloth_picture::{self, Excerpt};
use crate::words::lines::AFTER_THE_LOOK;
use crate::words::{broken_words, cloth_words, try_words};

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

const MEASURED: &str = "Type measured, what and the figure, as: measured cloth 13 1/4, measured picks 18, measured warp 20, measured woven 18";

/// A measure with its figure in the plan's unit.
fn measured(rest: &str) -> Typed {
    let (word, figure) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
    let what = match word {
        "reed" => Measured::Reed,
        "cloth" => Measured::Cloth,
        "picks" => Measured::Picks,
        "warp" => Measured::Warp,
        "woven" => Measured::Woven,
        _ => return Typed::Wrong(MEASURED),
    };
    thousandths(figure).map_or(Typed::Wrong(MEASURED), |thousandths| {
        Typed::Ask(Ask::Measured { what, thousandths })
    })
}

/// A figure in thousandths.
fn thousandths(text: &str) -> Option<u32> {
    let figure = crate::quantity::parse_fraction(text.trim()).ok()?;
    let figure = figure.times(crate::quantity::Fraction::whole(1000))?;
    u32::try_from(figure.round()).ok()
}

const WRONG: &str = "Type wrong, what, how far in from which edge, and the sheds that show it, as: wrong alike 5 3/8 right 2 4";

/// All of what looks wrong in one line.
fn sighting(rest: &str) -> Typed {
    let (sign, rest) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
    let sign = match sign {
        "alike" => Sign::TwoAlike,
        "astray" => Sign::OneAstray,
        _ => return Typed::Wrong(WRONG),
    };
    let edge = [("right", Side::Right), ("left", Side::Left)]
        .into_iter()
        .find_map(|(word, side)| rest.split_once(word).map(|(at, sheds)| (at, sheds, side)));
    let parts = edge.and_then(|(at, sheds, from)| {
        let sheds = numbers(sheds)?.into_iter().map(u32::try_from);
        Some((
            thousandths(at)?,
            sheds.collect::<Result<Vec<_>, _>>().ok()?,
            from,
        ))
    });
    let Some((thousandths, sheds, from)) = parts else {
        return Typed::Wrong(WRONG);
    };
    Typed::Ask(Ask::Sight(Some(Sighting {
        sign: Some(sign),
        from: Some(from),
        whole: None,
        thousandths: Some(thousandths),
        sheds,
        complete: true,
    })))
}

/// The cloth in lines: floats over so many threads marked, from an end on, from the back.
fn cloth(rest: &str, dressing: &Dressing) -> Typed {
    if open_look(dressing.mood()).is_some() {
        return Typed::Wrong(AFTER_THE_LOOK);
    }
    let mut excerpt = Excerpt::default();
    let mut numbers = Vec::new();
    for word in rest.split_whitespace() {
        match (word, word.parse::<u32>()) {
            ("back", _) => excerpt.face = Face::Back,
            (_, Ok(number)) => numbers.push(number),
            _ => return Typed::Wrong(CLOTH),
        }
    }
    excerpt.over = numbers.first().copied();
    excerpt.first = numbers.get(1).copied().unwrap_or(1);
    cloth_picture::in_lines(dressing.plan(), &excerpt)
        .map_or(Typed::Wrong(cloth_words::NO_PICKS), Typed::Tell)
}

const CLOTH: &str = "Type cloth, or the length over which floats are marked, the first end, and back for the other face, as: cloth 3 73 back";

/// The sheds in a list; not while a look is open, which may ask for one of their figures.
fn sheds(dressing: &Dressing) -> Typed {
    if open_look(dressing.mood()).is_some() {
        return Typed::Wrong(AFTER_THE_LOOK);
    }
    Typed::Tell(try_words::list_of_sheds(dressing.plan()))
}

/// Numbers, `none` and `?` while something is asked.
fn answer(line: &str, dressing: &Dressing) -> Option<Typed> {
    let numbers = numbers(line);
    let said = |answer| Some(Typed::Ask(Ask::Answer(answer)));
    match dressing.mood() {
        Mood::Disagreeing(Mismatch::Sighting(_)) => {
            let nth = u8::try_from(numbers?.first()?.checked_sub(1)?).ok()?;
            Some(Typed::Ask(Ask::Choose(Choice::Suspect(nth))))
        }
        Mood::Working
        | Mood::Mending(_)
        | Mood::Disagreeing(
            Mismatch::Look { .. } | Mismatch::ReadBack { .. } | Mismatch::Found(_),
        ) => said(Answer::Number(*numbers?.first()?)),
        Mood::Asking(Question::HeddlesLeft { .. } | Question::WarpHeddles { .. })
            if line != "?" =>
        {
            said(Answer::Numbers(dressing.plan().on_all_shafts(&numbers?)))
        }
        Mood::Asking(Question::Look {
            look: dressing::Look::ReadBack { .. },
            ..
        }) => said(line_traced::reading(line)?),
        Mood::Asking(_) if line == "?" => said(Answer::CannotTell),
        Mood::Asking(_) if line == "none" => said(Answer::Number(0)),
        Mood::Asking(_) => match numbers?.as_slice() {
            [n] => said(Answer::Number(*n)),
            many => said(Answer::Numbers(many.to_vec())),
        },
        Mood::Disagreeing(Mismatch::Warp { .. } | Mismatch::Reed { .. }) => {
            said(seen_beyond(line, dressing)?)
        }
        Mood::Disagreeing(Mismatch::Batch { .. }) => {
            let view = dressing.view();
            let View::Disagreeing(view) = view else {
                return None;
            };
            let crate::dressing::view::Disagreeing::Batch { tracing, batch, .. } = view.what else {
                return None;
            };
            said(Answer::Seen(seen(
                tracing.look.as_ref()?,
                batch.calls.first,
                line,
            )?))
        }
    }
}

/// What was seen at a look along the warp or at the reed.
pub(super) fn seen_beyond(line: &str, dressing: &Dressing) -> Option<Answer> {
    use dressing::view::Disagreeing;
    let dressing::View::Disagreeing(view) = dressing.view() else {
        return None;
    };
    match view.what {
        Disagreeing::Warp(warp) => {
            line_traced::warp_seen(warp.tracing.look?, line, dressing).map(Answer::WarpSeen)
        }
        Disagreeing::Reed(reed) => {
            line_traced::reed_seen(reed.tracing.look?, line).map(Answer::ReedSeen)
        }
        Disagreeing::Batch { .. }
        | Disagreeing::Look { .. }
        | Disagreeing::Found { .. }
        | Disagreeing::Sighting { .. }
        | Disagreeing::ReadBack(_) => None,
    }
}

/// What was seen at a look of the tracing: heddles are typed by their number in the knot.
pub(super) fn seen(look: &Look, first: Call, line: &str) -> Option<Seen> {
    if line == "?" {
        let (look, call) = (look.kind, look.call);
        return Some(Seen::CannotTell { look, call });
    }
    // 0 says none, but where ends are counted
    let none = line == "0" && look.kind != LookKind::EndsInKnot;
    let numbers = numbers_or_none(if none { "none" } else { line })?;
    let one = numbers
        .first()
        .map(|&n| u32::try_from(n))
        .transpose()
        .ok()?;
    let shaft = one.map(u8::try_from).transpose().ok()?.map(Shaft);
    let call = one
        .filter(|&n| n > 0)
        .map(|n| Call(first.0.saturating_add(n - 1)));
    Some(match look.kind {
        LookKind::ShaftOfHeddle => Seen::Shaft {
            call: look.call?,
            shaft,
        },
        LookKind::HeddleHoldingTwo => Seen::Double { call },
        LookKind::EndInNoHeddle => Seen::Hanging { call },
        LookKind::EmptyHeddle => Seen::Empty { shaft },
        LookKind::EndsInKnot => Seen::Knot {
            ends: one.unwrap_or(0),
        },
        LookKind::NeighboursTogether => Seen::Together { call },
        LookKind::ReadBack => {
            let shafts: Result<Vec<u8>, _> = numbers.iter().map(|&n| u8::try_from(n)).collect();
            Seen::ReadBack(shafts.ok()?.into_iter().map(Shaft).collect())
        }
    })
}

/// Numbers as typed at a look; `none` is no number.
pub(super) fn numbers_or_none(line: &str) -> Option<Vec<i64>> {
    if line == "none" {
        return Some(Vec::new());
    }
    numbers(line)
}

/// Numbers divided by spaces or commas; `None` where something else stands among them.
pub(super) fn numbers(line: &str) -> Option<Vec<i64>> {
    let parts = line.split([' ', ',', '\t']).filter(|part| !part.is_empty());
    let numbers: Option<Vec<i64>> = parts.map(|part| part.parse().ok()).collect();
    numbers.filter(|numbers| !numbers.is_empty())
}

fn amend(change: Amendment) -> Typed {
    Typed::Ask(Ask::Amend(change))
}

fn broken(rest: &str) -> Typed {
    match rest {
        "" | "none" => return Typed::Ask(Ask::BrokenEnd { call: None }),
        "left" => return Typed::Ask(Ask::BrokenFloat { side: Side::Left }),
        "right" => return Typed::Ask(Ask::BrokenFloat { side: Side::Right }),
        _ => {}
    }
    rest.parse().map_or(
        Typed::Wrong(
            "Type broken and the end's number in the order of threading, or broken alone.",
        ),
        |call| {
            Typed::Ask(Ask::BrokenEnd {
                call: Some(Call(call)),
            })
        },
    )
}

const FOUND: &str = "Type found, the call and what is wrong there, as: found 54 on 3. Or skipped, twice, double, hanging, exchanged, crossed, dent skipped, dent over, dent under.";

/// What she sees to be wrong, at a call: the planned shaft is the plan's to know.
fn found(rest: &str, dressing: &Dressing) -> Typed {
    let Some((call, what)) = rest.split_once(char::is_whitespace) else {
        return Typed::Wrong(FOUND);
    };
    let Some(call) = call.parse().ok().filter(|&call| call > 0).map(Call) else {
        return Typed::Wrong(FOUND);
    };
    let planned = dressing.plan().threading.get(call.0 as usize - 1).copied();
    let at = |kind| {
        let shaft = planned.unwrap_or(Shaft(1));
        Some(Found::InHeddles(Fault::at(kind, call, shaft)))
    };
    let in_reed = |kind| Some(Found::InReed(kind, call));
    let words: Vec<&str> = what.split_whitespace().collect();
    let found = match words[..] {
        ["on", shaft] => shaft
            .parse()
            .ok()
            .map(|shaft| Found::InHeddles(Fault::at(FaultKind::WrongShaft, call, Shaft(shaft)))),
        ["skipped"] => at(FaultKind::PositionSkipped),
        ["twice"] => at(FaultKind::PositionRepeated),
        ["double"] => at(FaultKind::EndsDoubled),
        ["hanging"] => at(FaultKind::EndHanging),
        ["exchanged"] => Some(Found::InHeddles(Fault {
            shaft: None,
            ..Fault::at(FaultKind::NeighboursExchanged, call, Shaft(1))
        })),
        ["crossed"] => in_reed(ReedFault::EndsCrossed),
        ["dent", "skipped"] => in_reed(ReedFault::DentSkipped),
        ["dent", "over"] => in_reed(ReedFault::EndTooMany),
        ["dent", "under"] => in_reed(ReedFault::EndTooFew),
        _ => None,
    };
    found.map_or(Typed::Wrong(FOUND), |found| Typed::Ask(Ask::Found(found)))
}

fn width(rest: &str) -> Typed {
    thousandths(rest).map_or(
        Typed::Wrong("Type width and a length in the plan's unit, as: width 13 3/4"),
        |thousandths| Typed::Ask(Ask::MeasuredWidth { thousandths }),
    )
}

fn batch(rest: &str) -> Typed {
    let rule = match rest {
        "repeat" => Some(BatchRule::Repeat),
        "group" => Some(BatchRule::Group),
        n => n
            .parse()
            .ok()
            .filter(|n| (1..=64).contains(n))
            .map(BatchRule::Number),
    };
    rule.map_or(
        Typed::Wrong("Type batch and repeat, group or a number from 1 to 64, as: batch 8"),
        |rule| Typed::Ask(Ask::Amend(Amendment::BatchRule(rule))),
    )
}

fn heddles(rest: &str) -> Typed {
    let list = numbers(rest).and_then(|list| {
        let list: Option<Vec<u32>> = list.into_iter().map(|n| u32::try_from(n).ok()).collect();
        list
    });
    list.map_or(
        Typed::Wrong("Type heddles and how many are on each shaft, as: heddles 60 100 100 60"),
        |list| Typed::Ask(Ask::Amend(Amendment::HeddlesOnHand(list))),
    )
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
