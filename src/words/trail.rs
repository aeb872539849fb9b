//! What happened, in sentences: the log, and what one step back takes back.

use super::counts::{batch_rule, ends};
use super::looks;
use super::measure_words::measured;
use crate::dressing::Dressing;
use crate::dressing::ask::{Amendment, Answer, Choice};
use crate::dressing::event::{Entry, Event, Mismatch, Question};
use crate::dressing::ledger::Task;
use crate::dressing::measure::Measured;
use crate::dressing::sighting::Sighting;
use crate::dressing::state::open_look;
use crate::dressing::view::TakesBack;
use crate::method::{Method, StepId};
use crate::plan::Units;

/// One entry of the log as a line: what its events say, one after the other.
#[must_use]
pub fn entry(entry: &Entry, units: Units, method: &Method) -> String {
    // the last measure ends its step, and what is given up ends its questions: nothing agreed there
    let told = entry.events.iter().any(|e| match e {
        Event::StepDone(key) => key.id == StepId::Measure,
        Event::Answered(answer) => *answer == Answer::CannotTell,
        _ => false,
    });
    let events = entry.events.iter();
    let said: Vec<String> = events
        .filter(|e| !told || **e != Event::Settled)
        .filter_map(|e| event(e, units, method))
        .collect();
    said.join("; ")
}

/// What is said in place of the log before an open look.
pub const BEFORE_THE_LOOK: &str = "A look at the loom is open, so what came before it is not shown: it would tell the figure. Answer the look or pass it over, then ask for the log again.";

/// The entries as lines of the log; while a look is open only what came since it was put.
#[must_use]
pub fn log<'a>(
    entries: &'a [Entry],
    dressing: &Dressing,
    method: &Method,
) -> (bool, Vec<(&'a Entry, String)>) {
    let units = dressing.plan().units;
    let put = |event: &Event| matches!(event, Event::Put(Question::Look { .. }));
    let first = open_look(dressing.mood())
        .and_then(|_| entries.iter().rposition(|e| e.events.iter().any(put)));
    let shown = entries.iter().skip(first.unwrap_or(0));
    let lines = shown.enumerate().map(|(nth, whole)| {
        let before = whole.events.iter().take_while(|event| !put(event)).count();
        let hidden = if first.is_some() && nth == 0 {
            before
        } else {
            0
        };
        let said = whole.events.iter().skip(hidden);
        let said: Vec<String> = said.filter_map(|e| event(e, units, method)).collect();
        (whole, said.join("; "))
    });
    (first.is_some(), lines.collect())
}

fn event(event: &Event, units: Units, method: &Method) -> Option<String> {
    Some(match event {
        Event::StepDone(key) => match (key.id, key.number) {
            (StepId::BeamTurn, None) => "enough is on the beam".to_owned(),
            (StepId::TieUp, Some(n)) => format!("treadle {n} tied"),
            (StepId::OpenShed, Some(n)) => format!("shed {n} looked through"),
            (StepId::Header, None) => "the header is closed".to_owned(),
            (StepId::FirstPicks, None) => "picks enough".to_owned(),
            (StepId::Header, Some(n)) => format!("header pick {n} woven"),
            (StepId::FirstPicks, Some(n)) => format!("pick {n} woven"),
            (_, Some(n)) => format!("{} {n} done", title(key.id, method)),
            (_, None) => format!("{} done", title(key.id, method)),
        },
        Event::StepLeftOut(key) => format!("{} left out", title(key.id, method)),
        Event::WindLeftOut => "winding left out: the warp came wound".to_owned(),
        Event::Marked { task, calls, .. } => format!("{} {}", ends(*calls), done(*task)),
        Event::Unmarked { task, calls } => format!("{} no longer {}", ends(*calls), done(*task)),
        Event::Put(question) => format!("asked for {}", asked(question)),
        Event::Answered(answer) => format!("answered {}", said(answer)),
        Event::PassedOver => "passed over".to_owned(),
        Event::Settled => "it agrees".to_owned(),
        Event::Disagreed(mismatch) => disagreed(mismatch),
        Event::Chose(choice) => format!("chose: {}", chosen(*choice)),
        Event::MendBegun { moves, .. } => {
            format!(
                "a mending of {} begun",
                super::counts::count(moves.len() as u32, "move")
            )
        }
        Event::MoveMade { number } => format!("move {number} of the mending made"),
        Event::Mended => "mended".to_owned(),
        Event::Undone { entry } => format!("entry {entry} taken back"),
        Event::Redone { entry } => format!("entry {entry} done again"),
        Event::Paused => "paused".to_owned(),
        Event::Stopped => "stopped for today".to_owned(),
        Event::WentOn => "went on".to_owned(),
        Event::Opened => "opened again".to_owned(),
        Event::Interrupted { gap_ms } => match gap_ms / 60_000 {
            0 => return None,
            minutes => format!("{minutes} min without a press"),
        },
        Event::HelpWanted => "help asked for".to_owned(),
        Event::HandsWanted => "a second pair of hands wanted".to_owned(),
        Event::HelpCame => "help came".to_owned(),
        Event::TakenUp { entry } => format!("what entry {entry} left open is taken up again"),
        Event::BrokenEnd { call } => call.map_or_else(
            || "an end broke".to_owned(),
            |call| format!("end {} broke", call.0),
        ),
        Event::BrokenFloat { side } => {
            format!(
                "the floating selvedge at the {} broke",
                super::counts::side(*side)
            )
        }
        Event::EndMendBegun { number, .. } => {
            format!("mending of broken end {number} begun")
        }
        Event::EndMended { number } => format!("broken end {number} mended"),
        Event::Note(text) => format!("note: {text}"),
        Event::MeasuredWidth { thousandths } => {
            let width = measured(Measured::Reed, *thousandths, units);
            format!("width measured: {width}")
        }
        Event::Measured { what, thousandths } => format!(
            "{} measured: {}",
            super::measure_words::name(*what),
            measured(*what, *thousandths, units)
        ),
        Event::Amended { from, change, .. } => {
            format!("plan changed from end {} on: {}", from.0, changed(change))
        }
    })
}

fn title(id: StepId, method: &Method) -> String {
    format!("\"{}\"", method.step(id).texts.title)
}

/// A task in its done form.
#[must_use]
pub fn done(task: Task) -> &'static str {
    match task {
        Task::Wound => "wound",
        Task::Spread => "spread",
        Task::Knotted => "slip-knotted",
        Task::Cut => "cut",
        Task::CountedOut => "counted out",
        Task::Threaded => "threaded",
        Task::Checked => "used up and knotted",
        Task::Sleyed => "sleyed",
        Task::TiedFirst => "tied, first round",
        Task::TiedSecond => "finished, second round",
    }
}

fn asked(question: &Question) -> String {
    match question {
        Question::CallsMade { .. } => "the calls made".to_owned(),
        Question::EndsLeft { .. } => "the ends left".to_owned(),
        Question::HeddlesLeft { .. } => "the heddles left".to_owned(),
        Question::WarpEnds { .. } => "the ends left over along the warp".to_owned(),
        Question::WarpHeddles { .. } => "the heddles left over along the warp".to_owned(),
        Question::ReedEnds { .. } => "the ends left in the reed".to_owned(),
        Question::ReedTape { .. } => "the last dent on the tape".to_owned(),
        Question::Sighting(_) => "what looks wrong, and where".to_owned(),
        Question::Measure { what, .. } => format!("the {}", super::measure_words::name(*what)),
        Question::Look { look, .. } => looks::name(*look).to_owned(),
    }
}

fn said(answer: &Answer) -> String {
    match answer {
        Answer::Number(n) => n.to_string(),
        Answer::Numbers(list) if list.is_empty() => "that is all".to_owned(),
        Answer::Numbers(list) => {
            let list: Vec<String> = list.iter().map(ToString::to_string).collect();
            list.join(" ")
        }
        Answer::Seen(seen) => super::fault_words::seen(seen),
        Answer::WarpSeen(seen) => super::trace_words::warp_seen(seen),
        Answer::ReedSeen(seen) => super::trace_words::reed_seen(seen),
        Answer::CannotTell => "cannot tell".to_owned(),
    }
}

/// A mismatch in words, without a stop.
pub(super) fn disagreed(mismatch: &Mismatch) -> String {
    match mismatch {
        Mismatch::Sighting(sighting) => sighted(sighting),
        Mismatch::Batch { batch, .. } => format!("{} do not come out even", ends(*batch)),
        Mismatch::Found(found) => format!("found: {}", super::mend_words::found(found)),
        Mismatch::ReadBack { calls, .. } => {
            format!("{} are read otherwise than planned", ends(*calls))
        }
        Mismatch::Warp { stretch, .. } => {
            format!("{} do not come out even along the warp", ends(*stretch))
        }
        Mismatch::Reed { calls, .. } => {
            format!("{} do not come out in the reed", ends(*calls))
        }
        Mismatch::Look { look, loom, .. } => {
            format!(
                "{} is {loom} on the loom, and the record differs",
                looks::name(*look)
            )
        }
    }
}

fn sighted(sighting: &Sighting) -> String {
    let sheds: Vec<String> = sighting.sheds.iter().map(u32::to_string).collect();
    format!("something looks wrong in shed {}", sheds.join(", "))
}

/// A way out by what it does.
#[must_use]
pub fn chosen(choice: Choice) -> &'static str {
    match choice {
        Choice::ThreadAgain => "draw the batch out and thread it again",
        Choice::PutRight => "it is put right where it stands",
        Choice::LoomHolds => "the loom's count holds",
        Choice::StepBack => "back to the start of the batch",
        Choice::LookAgain => "look again",
        Choice::ReadBack => "read the threading back as it stands",
        Choice::Trace => "trace it to its place, look by look",
        Choice::LeaveOpen => "go on with it open",
        Choice::Suspect(_) => "it is one of the ends that were listed",
        Choice::Sight => "say what you see, and where",
        Choice::Way(kind) => super::mend_words::way(kind),
    }
}

fn changed(change: &Amendment) -> String {
    match change {
        Amendment::BatchRule(rule) => format!("batches {}", batch_rule(*rule)),
        Amendment::Draft(typed) => format!("the draft goes on {typed}"),
        Amendment::Ends(ends) => format!("{} wound", super::counts::count(*ends, "end")),
        Amendment::SleyFrom(from) => format!("sleying from the {}", super::counts::side(*from)),
        Amendment::Stands { line, .. } => {
            format!("to what stands: {}", super::counts::shafts(line))
        }
        Amendment::HeddlesOnHand(list) => {
            let list: Vec<String> = list.iter().map(ToString::to_string).collect();
            format!("heddles on hand {}", list.join(" "))
        }
    }
}

/// What one step back takes back: "ends 13 to 16 threaded".
#[must_use]
pub fn takes_back(what: TakesBack, method: &Method) -> String {
    match what {
        TakesBack::Step(id) => title(id, method),
        TakesBack::Task(task, calls) => format!("{} {}", ends(calls), done(task)),
        TakesBack::Answer => "the last answer".to_owned(),
        TakesBack::Choice => "the way out".to_owned(),
        TakesBack::Amendment => "the change of the plan".to_owned(),
    }
}
