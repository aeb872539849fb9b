//! Draft, tie-up, treadling and cloth as a document, and what a clean shed looks like. Owns what stands
//! on it; the figures are the plan's.

use super::document::{Block, Part, Picture, Table};
use super::svg::{cloth_svg, draft_svg};
use crate::plan::{Action, Cloth, Plan};
use crate::quantity::Calls;
use crate::words::cloth_picture::{Letters, Window, draft};
use crate::words::counts::{ends, shafts, side};
use crate::words::{cloth_words, sheet_words};

/// The sheet.
#[must_use]
pub(super) fn tie_up(plan: &Plan) -> Part {
    let mut part =
        Part::new("Draft, tie-up and cloth").with(Block::Note(sheet_words::READ_DRAFT.into()));
    part.blocks.extend(pictures(plan));
    part.blocks
        .push(Block::Heading("What each one lifts".into()));
    part.blocks
        .push(Block::Note(cloth_words::tying(plan.action).into()));
    part.blocks.push(Block::Table(sheds(plan)));
    let warned = plan.all_sheds();
    for shed in &warned {
        for warning in &shed.warnings {
            let says = cloth_words::shed_warning(*warning);
            let says = format!("{}: {says}", cloth_words::opens(shed.opens));
            part.blocks.push(Block::Note(says));
        }
    }
    part.blocks
        .extend(cloth_words::cloth(plan).into_iter().map(Block::Note));
    part.and(picks(plan)).and(stray_ends())
}

fn stray_ends() -> [Block; 3] {
    let mut table = Table::new(&["In the shed", "What it means, and what to do"]);
    table.rows = cloth_words::STRAY_ENDS
        .iter()
        .map(|(sign, then)| vec![(*sign).to_owned(), (*then).to_owned()])
        .collect();
    [
        Block::Heading("Looking through the sheds".into()),
        Block::Note(cloth_words::CLEAN_SHED.into()),
        Block::Table(table),
    ]
}

fn pictures(plan: &Plan) -> Vec<Block> {
    let Some(cloth) = Cloth::of(plan, 24) else {
        return Vec::new();
    };
    let rows = cloth.repeat_picks().clamp(8, 24);
    let shown = cloth
        .repeat_ends()
        .saturating_mul(2)
        .clamp(12, 48)
        .min(plan.heddled_ends());
    let mut blocks = Vec::new();
    if let (Some(text), Some(svg)) = (draft(plan, 78, rows), draft_svg(plan, shown, rows)) {
        let says = format!("The draft of {}", plan.title);
        blocks.push(Block::Picture(Picture { text, svg, says }));
    }
    let run = Calls::new(1, plan.heddled_ends().min(72));
    if let (Some(calls), Some(drawn)) = (run, run.and_then(|run| cloth_svg(plan, run, 24))) {
        let window = Window {
            cloth: &cloth,
            thread_from: plan.thread_from,
            calls,
            picks: (1, 16),
            letters: Letters::Ascii,
            marks: None,
        };
        let edge = side(plan.thread_from);
        blocks.push(Block::Heading(format!(
            "The first picks as they lie on the loom, {} from the {edge} edge",
            ends(calls)
        )));
        let says = "The first picks of the cloth".to_owned();
        let text = window.rows();
        blocks.push(Block::Picture(Picture {
            text,
            svg: drawn,
            says,
        }));
    }
    blocks
}

fn sheds(plan: &Plan) -> Table {
    let falls = match plan.action {
        Action::Countermarch | Action::Counterbalance => "Sink",
        Action::Jack | Action::Table | Action::Lift => "Stay",
    };
    let mut table = Table::new(&["", "Rise", falls, ">Ends up", ">Each group"]).ticked();
    let list = plan.all_sheds();
    table.rows = list
        .iter()
        .map(|shed| {
            let of_groups = shed.groups.iter().map(|g| g.rising);
            let (least, most) = (of_groups.clone().min(), of_groups.max());
            let each = match (least, most) {
                (Some(a), Some(b)) if a == b => a.to_string(),
                (Some(a), Some(b)) => format!("{a} to {b}"),
                _ => String::new(),
            };
            vec![
                cloth_words::opens(shed.opens),
                shafts(&shed.rising),
                shafts(&shed.others),
                shed.ends.to_string(),
                each,
            ]
        })
        .collect();
    table
}

/// Treadles or lifts pick by pick.
fn picks(plan: &Plan) -> Vec<Block> {
    if !plan.lift_plan.is_empty() {
        let mut table = Table::new(&[">Pick", "Lift shafts"]).ticked();
        let rows = (1u32..).zip(&plan.lift_plan);
        table.rows = rows
            .map(|(n, list)| vec![n.to_string(), shafts(list)])
            .collect();
        return vec![Block::Heading("Lifts".into()), Block::Table(table)];
    }
    if plan.treadling.is_empty() {
        return Vec::new();
    }
    const IN_A_ROW: usize = 16;
    let mut table = Table::new(&[">Picks", "Treadles"]).ticked();
    let rows = plan.treadling.chunks(IN_A_ROW).enumerate();
    table.rows = rows
        .map(|(at, run)| {
            let first = at * IN_A_ROW + 1;
            let list: Vec<String> = run.iter().map(u32::to_string).collect();
            vec![
                format!("{first} to {}", first + run.len() - 1),
                list.join(" "),
            ]
        })
        .collect();
    vec![
        Block::Heading("Treadling, one repeat".into()),
        Block::Table(table),
    ]
}
