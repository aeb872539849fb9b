//! Numbers and shafts typed at an open question, read into its answer. Never touches a dressing.

use super::line_traced;
use super::line_words::Typed;
use crate::dressing::ask::{Answer, Ask, Choice};
use crate::dressing::state::{Dressing, Mood};
use crate::dressing::{self, Mismatch, Question, View};
use crate::fault::{Look, LookKind, Seen};
use crate::quantity::{Call, Shaft};

/// Numbers, `none` and `?` while something is asked.
pub(super) fn answer(line: &str, dressing: &Dressing) -> Option<Typed> {
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
