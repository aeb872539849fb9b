//! The slip "Where I stopped": what lies on the loom when it is left, for whoever comes back to it.
//! Owns what stands on it; it is made from the dressing alone.

use super::document::{Block, Document, Part, Strip};
use crate::dressing::ledger::Task;
use crate::dressing::state::Left;
use crate::dressing::{Dressing, Look, Mood};
use crate::method::{Method, Stage};
use crate::quantity::Call;
use crate::words::counts::{count, ends, side};
use crate::words::status::open_matters;
use crate::words::{page, sheet_words};

/// The slip.
#[must_use]
pub fn slip(dressing: &Dressing, method: &Method) -> Document {
    let plan = dressing.plan();
    let mut facts: Vec<(String, String)> = Vec::new();
    let mut fact = |name: &str, value: String| facts.push((name.to_owned(), value));
    if let Some(last) = dressing.last() {
        fact(
            "Stopped on",
            last.wall.format("%A, %-d %B %Y at %H:%M").to_string(),
        );
    }
    let stage = dressing.stage();
    let title = stage.map_or("Ready to weave", |stage| &method.stage(stage).title);
    fact("Stage", title.to_owned());
    for (name, value) in standing(dressing, stage) {
        fact(name, value);
    }
    let now = page(&dressing.view(), plan, method);
    fact("Next", now.lines.first().cloned().unwrap_or(now.heading));
    let mut part = Part::new("Where I stopped").with(Block::Facts(facts));
    part.blocks
        .extend(open_matters(dressing).into_iter().map(Block::Note));
    part.blocks.extend(left(dressing, method));
    let today = sheet_words::STOP_FOR_TODAY.map(str::to_owned).to_vec();
    part.blocks.push(Block::Strip(Strip {
        head: "Before leaving the loom".into(),
        note: None,
        rows: today
            .into_iter()
            .map(|thing| (String::new(), vec![thing]))
            .collect(),
    }));
    part.blocks.push(Block::Note(sheet_words::GO_ON.into()));
    part.blocks.extend(notes(dressing, method));
    part.blocks.push(Block::Lines(3));
    Document {
        title: plan.title.clone(),
        parts: vec![part],
    }
}

/// What is done in the stage; the last threaded end and its shaft, unless a look is asking for it.
fn standing(dressing: &Dressing, stage: Option<Stage>) -> Vec<(&'static str, String)> {
    let plan = dressing.plan();
    let mut found = Vec::new();
    if let Some(stage) = stage.filter(|stage| *stage != Stage::Prepare) {
        let (done, of) = dressing.done_in(stage);
        found.push(("Done in it", format!("{done} of {}", count(of, "end"))));
    }
    let threaded = dressing.ledger().of(Task::Threaded);
    let last = match threaded.first_gap(dressing.calls()) {
        Some(gap) => gap.0.saturating_sub(1),
        None => dressing.calls(),
    };
    let asks_for_it = matches!(
        dressing.mood(),
        Mood::Asking(crate::dressing::Question::Look {
            look: Look::LastShaft,
            ..
        })
    );
    if last > 0 && stage == Some(Stage::Thread) && !asks_for_it {
        let shaft = plan.threading.get(last as usize - 1);
        let shaft = shaft.map_or(String::new(), |shaft| format!(" on shaft {}", shaft.0));
        let from = side(plan.thread_from);
        found.push((
            "Last end threaded",
            format!("end {last} from the {from}{shaft}"),
        ));
        let (group, batch) = (plan.group_of(Call(last)), plan.batch_of(Call(last)));
        found.extend(group.map(|group| {
            let (n, of) = (group.number, plan.groups.len());
            ("Group", format!("{n} of {of}, {}", ends(group.calls)))
        }));
        found.extend(batch.map(|batch| {
            let (n, of) = (batch.number, plan.batches.len());
            ("Batch", format!("{n} of {of}, {}", ends(batch.calls)))
        }));
    }
    if dressing.is_inside_batch() {
        let says = "ends and heddles of a batch are counted out and not used up";
        found.push(("Counted out", says.to_owned()));
    }
    found
}

/// What was passed over or left open.
fn left(dressing: &Dressing, method: &Method) -> Vec<Block> {
    let record = dressing.record();
    let mut lines: Vec<String> = record
        .left
        .iter()
        .map(|left| {
            let stage = &method.stage(left.stage).title;
            match &left.what {
                Left::Question(_) => format!("{stage}: a check was passed over."),
                Left::Mismatch(_) => format!("{stage}: a mismatch was left open."),
                Left::Step(id) => format!("{stage}: left out: {}.", method.step(*id).texts.title),
            }
        })
        .collect();
    lines.extend(crate::words::broken_words::list(dressing));
    if lines.is_empty() {
        return Vec::new();
    }
    let heading = Block::Heading("To look at before weaving".into());
    let notes = lines.into_iter().map(Block::Note);
    std::iter::once(heading).chain(notes).collect()
}

fn notes(dressing: &Dressing, method: &Method) -> Vec<Block> {
    let notes = &dressing.record().notes;
    let said = notes
        .iter()
        .map(|note| Block::Note(format!("{}: {}", method.stage(note.stage).title, note.text)));
    let heading = Block::Heading("Notes".into());
    std::iter::once(heading).chain(said).collect()
}
