//! What stands behind a word of line mode, read into what it asks for. Owns the forms in which figures,
//! places and faults are typed; never touches a dressing.

use super::line_answers::numbers;
use super::line_words::Typed;
use crate::dressing::ask::{Amendment, Ask};
use crate::dressing::measure::Measured;
use crate::dressing::sighting::Sighting;
use crate::dressing::state::{Dressing, open_look};
use crate::fault::cloth_spot::Sign;
use crate::fault::{Fault, FaultKind, Found, ReedFault};
use crate::plan::{BatchRule, Face, Side};
use crate::quantity::{Call, Shaft};
use crate::words::cloth_picture::{self, Excerpt};
use crate::words::lines::{AFTER_THE_LOOK, why_no_sheds};
use crate::words::{cloth_words, try_words};

const MEASURED: &str = "Type measured, what and the figure, as: measured cloth 13 1/4, measured picks 18, measured warp 20, measured woven 18";

/// A measure with its figure in the plan's unit.
pub(super) fn measured(rest: &str) -> Typed {
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
pub(super) fn thousandths(text: &str) -> Option<u32> {
    let figure = crate::quantity::parse_fraction(text.trim()).ok()?;
    let figure = figure.times(crate::quantity::Fraction::whole(1000))?;
    u32::try_from(figure.round()).ok()
}

const WRONG: &str = "Type wrong, what, how far in from which edge, and the sheds that show it, as: wrong alike 5 3/8 right 2 4";

/// All of what looks wrong in one line.
pub(super) fn sighting(rest: &str) -> Typed {
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
pub(super) fn cloth(rest: &str, dressing: &Dressing) -> Typed {
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

/// The sheds in a list; not where a look asks, or will ask next, for one of their figures.
pub(super) fn sheds(dressing: &Dressing) -> Typed {
    match why_no_sheds(dressing) {
        Some(why) => Typed::Wrong(why),
        None => Typed::Tell(try_words::list_of_sheds(dressing.plan())),
    }
}

pub(super) fn amend(change: Amendment) -> Typed {
    Typed::Ask(Ask::Amend(change))
}

pub(super) fn broken(rest: &str) -> Typed {
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
pub(super) fn found(rest: &str, dressing: &Dressing) -> Typed {
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

pub(super) fn width(rest: &str) -> Typed {
    thousandths(rest).map_or(
        Typed::Wrong("Type width and a length in the plan's unit, as: width 13 3/4"),
        |thousandths| Typed::Ask(Ask::MeasuredWidth { thousandths }),
    )
}

pub(super) fn batch(rest: &str) -> Typed {
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

pub(super) fn heddles(rest: &str) -> Typed {
    let list = numbers(rest).and_then(|list| {
        let list: Option<Vec<u32>> = list.into_iter().map(|n| u32::try_from(n).ok()).collect();
        list
    });
    list.map_or(
        Typed::Wrong("Type heddles and how many are on each shaft, as: heddles 60 100 100 60"),
        |list| Typed::Ask(Ask::Amend(Amendment::HeddlesOnHand(list))),
    )
}
