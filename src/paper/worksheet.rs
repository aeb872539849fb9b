//! The worksheet of a plan as a document: its figures, the heddles, the winding, the yarn. Owns what
//! stands on it; the figures are the plan's.

use super::document::{Block, Part, Table};
use crate::plan::{Floats, Plan};
use crate::quantity::Fraction;
use crate::words::counts::{batch_rule, count, side};
use crate::words::sheet_words;

/// The worksheet.
#[must_use]
pub(super) fn worksheet(plan: &Plan) -> Part {
    let facts = [
        warp_facts(plan),
        heddle_facts(plan),
        reed_facts(plan),
        beam_facts(plan),
    ];
    let facts = facts.into_iter().flatten();
    let facts = facts.map(|(name, value)| (name.to_owned(), value));
    Part::new("Worksheet")
        .with(Block::Facts(facts.collect()))
        .and(heddles(plan))
        .and(colours(plan))
        .and(yarn(plan))
        .with(Block::Heading("Notes".into()))
        .with(Block::Lines(3))
}

/// A figure's name and the figure.
type Fact = (&'static str, String);

fn warp_facts(plan: &Plan) -> Vec<Fact> {
    let per = plan.units.short();
    let floats = match plan.floats {
        Floats::None => "none".to_owned(),
        Floats::FromWarp => "2, the outermost of the wound ends".to_owned(),
        Floats::Added => "2, wound apart and added at the sley".to_owned(),
    };
    let groups = format!("{} of {} {per}", plan.groups.len(), plan.group_unit.mixed());
    vec![
        ("Ends wound", count(plan.ends, "end")),
        ("Ends in heddles", count(plan.heddled_ends(), "end")),
        ("Floating selvedges", floats),
        ("Sett", format!("{} per {per}", plan.sett.mixed())),
        ("Width in the reed", plan.units.tape(plan.width)),
        ("Groups", groups),
    ]
}

fn heddle_facts(plan: &Plan) -> Vec<Fact> {
    let batches = format!("{}, {}", plan.batches.len(), batch_rule(plan.batch_rule));
    vec![
        ("Batches", batches),
        ("Threading from the", side(plan.thread_from).to_owned()),
    ]
}

/// Heddles needed, there and spare on each shaft, so many shafts in a row.
fn heddles(plan: &Plan) -> Vec<Block> {
    const IN_A_ROW: usize = 8;
    let needed = &plan.heddles.needed;
    let spare = plan.heddles.spare();
    let there = plan.heddles.on_hand.as_deref();
    let mut blocks = vec![Block::Heading("Heddles".into())];
    if there.is_none() {
        blocks.push(Block::Note(sheet_words::HEDDLES_NOT_COUNTED.into()));
    }
    for first in (0..needed.len()).step_by(IN_A_ROW) {
        let until = (first + IN_A_ROW).min(needed.len());
        let shafts: Vec<String> = (first..until).map(|at| format!(">{}", at + 1)).collect();
        let heads: Vec<&str> = std::iter::once("Shaft")
            .chain(shafts.iter().map(String::as_str))
            .collect();
        let mut table = Table::new(&heads);
        let mut row = |name: &str, list: &[u32]| {
            let cells = list.get(first..until).unwrap_or_default().iter();
            let cells = cells.map(u32::to_string);
            let row = std::iter::once(name.to_owned()).chain(cells);
            table.rows.push(row.collect());
        };
        row("needed", needed);
        if let Some(there) = there {
            row("there", there);
            row("spare", &spare);
        }
        blocks.push(Block::Table(table));
    }
    blocks
}

fn reed_facts(plan: &Plan) -> Vec<Fact> {
    let tape = |length: Fraction| plan.units.tape(length);
    let sley = &plan.sley;
    let begins = format!(
        "{}; the warp begins {} from the reed's edge, {} from its middle; heddled ends from dent {}",
        side(plan.sley_from),
        tape(sley.from_reed_edge),
        tape(sley.from_middle),
        sley.first_dent
    );
    vec![
        ("Reed", sley.reed.clone()),
        ("Ends per dent", super::sley_strip::pattern(&sley.order)),
        ("Sleying from the", begins),
    ]
}

fn beam_facts(plan: &Plan) -> Vec<Fact> {
    let tape = |length: Fraction| plan.units.tape(length);
    let raddle = format!(
        "{} spaces, the first is number {} from the middle",
        plan.raddle.spaces, plan.raddle.first_space_from_middle
    );
    let mut facts = vec![
        ("Raddle", raddle),
        ("Ties on the rod", plan.ties.to_string()),
        ("Bundles", plan.bundles.len().to_string()),
    ];
    facts.extend(plan.warp_length.map(|length| ("Warp length", tape(length))));
    let turns = plan.beam.turns.map(|turns| turns.to_string());
    facts.extend(turns.map(|turns| ("Turns of the beam", turns)));
    facts.extend(plan.beam.packing.map(|packing| ("Packing", tape(packing))));
    facts
}

/// The order in which colours are wound, from the threading edge.
fn colours(plan: &Plan) -> Vec<Block> {
    if plan.stripes.len() < 2 {
        return Vec::new();
    }
    let mut table = Table::new(&["Colour", ">First end", ">Last end", ">Ends"]).ticked();
    table.rows = plan
        .stripes
        .iter()
        .map(|stripe| {
            let many = stripe.last.saturating_sub(stripe.first) + 1;
            [stripe.first, stripe.last, many]
                .iter()
                .map(u32::to_string)
                .fold(vec![stripe.yarn.clone()], |mut row, cell| {
                    row.push(cell);
                    row
                })
        })
        .collect();
    let heading = format!("Winding, from the {} edge", side(plan.thread_from));
    vec![Block::Heading(heading), Block::Table(table)]
}

fn yarn(plan: &Plan) -> Vec<Block> {
    if plan.yarn.is_empty() {
        return Vec::new();
    }
    let (long, heavy) = match plan.units {
        crate::plan::Units::In => (">Yards", ">Pounds"),
        crate::plan::Units::Cm => (">Metres", ">Kilograms"),
    };
    let mut table = Table::new(&["Yarn", "Size", ">Ends", long, heavy]).ticked();
    table.rows = plan
        .yarn
        .iter()
        .map(|need| {
            vec![
                need.name.clone(),
                need.size.clone().unwrap_or_default(),
                need.ends.to_string(),
                need.length.decimal(0),
                need.weight.map_or("-".into(), |w| w.decimal(3)),
            ]
        })
        .collect();
    vec![Block::Heading("Yarn".into()), Block::Table(table)]
}
