//! What the practice warp says beside the page: what to try now, and what would be seen on a loom
//! that is not there. Owns the small story; decides nothing. Reads only what the dressing shows.
//!
//! The story: a batch that comes out even; a batch in which one call was passed over; a night
//! between; a last batch.

use super::counts::shafts;
use crate::dressing::event::{Look, Question};
use crate::dressing::ledger::Task;
use crate::dressing::view::{Asked, Disagreeing, View};
use crate::dressing::{Ask, Dressing, Mood};
use crate::fault::LookKind;
use crate::quantity::{Call, Calls, Shaft};

/// The call that is passed over in the story: the third of the second batch.
pub const PASSED_OVER: Call = Call(11);

/// How the one who practises presses, for what the button is taught to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Button {
    /// She types lines; there is no menu.
    Lines,
    /// A held button opens the menu.
    Hold,
    /// Three quick presses do.
    Triple,
}

/// What to say beside the page now.
#[must_use]
pub fn hint(dressing: &Dressing, button: Button) -> Vec<String> {
    let batch = dressing.next_batch().map_or(0, |batch| batch.number);
    let caught = dressing.record().caught > 0;
    let lines: Vec<String> = match (dressing.view(), batch) {
        (View::CountOut(_), 1) => vec![
            "PRACTICE. Nothing here is saved, and the loom is in your mind.".to_owned(),
            "One press says: done, go on. Press when the ends and heddles would lie ready.".to_owned(),
        ],
        (View::Call(call), 1) if call.handful == 1 => vec![
            "Read the shafts, thread them in your mind, press. One press too many? Take it back.".to_owned(),
        ],
        (View::Call(_), 1) => vec![menu_tried(button).to_owned()],
        (View::UsedUp(_), 1) => vec!["All eight ends and heddles are used up. Press.".to_owned()],
        (View::UsedUp(_), 2) if !caught => vec![
            "Now something goes wrong: 1 end is left over, and 1 heddle on shaft 3.".to_owned(),
            does_not_come_out(button).to_owned(),
        ],
        (View::UsedUp(_), 2) => vec!["Put right, all is used up now. Press.".to_owned()],
        (View::Asking(asking), _) => vec![seen_at(asking.asked, dressing)],
        (View::Disagreeing(view), _) => tracing(&view.what),
        (View::CountOut(_), 2) if caught => vec![
            "You chose to thread the batch again. That is the surest way when it was just threaded.".to_owned(),
        ],
        (View::CountOut(_), 3) if !caught => vec![
            "That end is still left over. Take the last press back, and say so at the batch's end.".to_owned(),
        ],
        (View::CountOut(_), 3) => vec!["The last batch. It comes out even.".to_owned()],
        _ => Vec::new(),
    };
    lines
}

/// The first thing to try beside a press.
fn menu_tried(button: Button) -> &'static str {
    match button {
        Button::Lines => "Type back, and see the call before come back. Then an empty line again.",
        Button::Hold => {
            "Hold the button until a menu opens. It lights its lines in turn: press at GO ON."
        }
        Button::Triple => {
            "Press three times quickly: a menu opens. It lights its lines in turn: press at GO ON."
        }
    }
}

/// What to do at the end of a batch that does not come out.
fn does_not_come_out(button: Button) -> &'static str {
    match button {
        Button::Lines => "Do not press on. Say that it does not come out even.",
        Button::Hold => "Do not press on: press 2, or hold the button and take STUCK in the menu.",
        Button::Triple => {
            "Do not press on: press 2, or press three times quickly and take STUCK in the menu."
        }
    }
}

/// What the loom of the story would answer.
fn seen_at(asked: Asked, dressing: &Dressing) -> String {
    let said = |n: i64| format!("On this loom you would find: {n}. Answer that.");
    match asked {
        Asked::CallsMade { .. } => "Say how many are in their heddles: 8 if all are.".to_owned(),
        Asked::EndsLeft { .. } => said(1),
        Asked::HeddlesLeft { .. } => {
            "One heddle is left on shaft 3 and none elsewhere. So: 0 0 1 0.".to_owned()
        }
        Asked::WarpEnds { .. }
        | Asked::WarpHeddles { .. }
        | Asked::ReedEnds { .. }
        | Asked::ReedTape { .. } => "Answer what you would find.".to_owned(),
        Asked::ReadBack { .. } => read_back(dressing),
        Asked::Sought(_) | Asked::Measure { .. } => "Answer what you would see.".to_owned(),
        Asked::Look { look, .. } => match look {
            Look::LastShaft => {
                let last = dressing.ledger().of(Task::Threaded).count() as usize;
                let shaft = dressing.plan().threading.get(last.wrapping_sub(1));
                said(shaft.map_or(0, |shaft| i64::from(shaft.0)))
            }
            Look::ShaftOf { call } => {
                let shaft = dressing.plan().threading.get(call.0 as usize - 1);
                said(shaft.map_or(0, |shaft| i64::from(shaft.0)))
            }
            Look::Together { calls }
                if dressing.record().caught == 0 && calls.contains(PASSED_OVER) =>
            {
                "On this loom heddles 2 and 3 of the knot rise together: 2.".to_owned()
            }
            Look::Together { .. } => "On this loom no two neighbours rise together: 0.".to_owned(),
            _ => "Answer what you would count.".to_owned(),
        },
    }
}

/// What would be read on the loom of the story: the threading as it is put right by now.
fn read_back(dressing: &Dressing) -> String {
    let Mood::Asking(Question::Look {
        look: Look::ReadBack { calls },
        answers,
        ..
    }) = dressing.mood()
    else {
        return String::new();
    };
    let rest = dressing.plan().threading.get(calls.indices());
    let rest = rest.and_then(|all| all.get(answers.len()..)).unwrap_or(&[]);
    match rest {
        [] => "That is all that hangs there: say done, or give 0.".to_owned(),
        rest => format!(
            "On this loom they stand: {}. Answer that, handful by handful.",
            shafts(rest)
        ),
    }
}

/// The shafts of the filled heddles after the story's fault.
fn standing(batch: Calls, planned: &[Shaft]) -> Vec<Shaft> {
    (batch.first.0..)
        .zip(planned)
        .filter(|(call, _)| *call != PASSED_OVER.0)
        .map(|(_, shaft)| *shaft)
        .collect()
}

fn tracing(what: &Disagreeing) -> Vec<String> {
    let Disagreeing::Batch {
        batch,
        tracing,
        planned,
        ends_left,
        heddles_left,
        ..
    } = what
    else {
        return vec!["Choose one of the ways out.".to_owned()];
    };
    if (*ends_left, heddles_left.as_slice()) != (1, &[0, 0, 1, 0]) {
        return vec![
            "On this loom 1 end is left, and 1 heddle on shaft 3. Take the answers back."
                .to_owned(),
        ];
    }
    let line = standing(batch.calls, planned);
    let mut lines = vec![format!(
        "On this loom the heddles stand: {}.",
        shafts(&line)
    )];
    lines.push(match tracing.look.map(|look| (look.kind, look.call)) {
        Some((LookKind::ShaftOfHeddle, Some(call))) => {
            let at = call.0.saturating_sub(batch.calls.first.0) as usize;
            let found = line
                .get(at)
                .map_or_else(|| "none".to_owned(), |shaft| shaft.0.to_string());
            format!("So the look finds: {found}. Answer that.")
        }
        Some((LookKind::NeighboursTogether, _)) => {
            let alike = |pair: &[Shaft]| pair[0].0 % 2 == pair[1].0 % 2;
            let first = line.windows(2).position(alike);
            let found = first.map_or_else(|| "none".to_owned(), |at| (at + 1).to_string());
            format!("So the look finds: {found}. Answer that.")
        }
        Some((LookKind::EndsInKnot, _)) => {
            format!("So the look finds: {}. Answer that.", line.len())
        }
        Some(_) => "So the look finds: none. Answer that.".to_owned(),
        None => {
            "The place is found. Choose to thread the batch again, or say that you put it right."
                .to_owned()
        }
    });
    lines
}

/// What the story does by itself before the next press: a night goes by after the second batch.
#[must_use]
pub fn turn_of_events(dressing: &Dressing) -> Option<Ask> {
    let between = matches!(dressing.view(), View::CountOut(view) if view.batch.number == 3);
    let slept = dressing.record().interruptions > 0;
    let caught = dressing.record().caught > 0;
    (between && caught && !slept).then_some(Ask::Opened)
}

/// Whether the story is at its end: all ends are threaded and counted off.
#[must_use]
pub fn is_over(dressing: &Dressing) -> bool {
    dressing.ledger().of(Task::Checked).count() == dressing.calls()
        && matches!(dressing.view(), View::Step(_) | View::Sley(_))
}

/// What is said at the end.
pub const OVER: &str = "That is all there is to it: press when done, count at the batch's end, say when it does not come out, look when you come back. Start your own with: endsmeet new";
/// She left the practice.
pub const LEFT: &str = "Nothing of a practice is kept. Practise again with: endsmeet practice";
/// What is said when the night goes by.
pub const NIGHT: &str = "A night goes by. The program is opened again.";
