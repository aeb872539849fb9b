//! The sheets of a plan as documents: worksheet, threading, sley, tie-up with draft and cloth, wall
//! card. Owns what stands on each; the figures are the plan's, the steps the method's.

use super::document::{Block, Document, Part, Picture, StepLine, Strip, Table};
use super::sley_strip::sley_part;
use super::svg::{cloth_svg, draft_svg};
use crate::dressing::Dressing;
use crate::method::{Method, Stage};
use crate::plan::{Action, Batch, Cloth, Floats, Plan, handfuls};
use crate::quantity::{Call, Calls, Fraction};
use crate::words::cloth_picture::{Letters, Window, draft};
use crate::words::counts::{batch_rule, count, ends, on_shafts, shafts, side};
use crate::words::fill::{fill, loom_kind};
use crate::words::{cloth_words, sheet_words};

/// One sheet of a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sheet {
    /// The plan's figures.
    Plan,
    /// The threading, batch by batch.
    Threading,
    /// The sley, group by group.
    Sley,
    /// Draft, tie-up, treadling and cloth.
    TieUp,
    /// The stages and steps with their cautions, for the wall.
    WallCard,
}

impl Sheet {
    /// All of them, in the order of the work.
    pub const ALL: [Self; 5] = [
        Self::Plan,
        Self::Threading,
        Self::Sley,
        Self::TieUp,
        Self::WallCard,
    ];

    /// Its name on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::Threading => "threading",
            Self::Sley => "sley",
            Self::TieUp => "tie-up",
            Self::WallCard => "wall",
        }
    }
}

/// The wanted sheets of a plan as one document.
#[must_use]
pub fn sheets(wanted: &[Sheet], plan: &Plan, method: &Method) -> Document {
    let parts = wanted.iter().flat_map(|sheet| match sheet {
        Sheet::Plan => vec![worksheet(plan)],
        Sheet::Threading => vec![threading(plan)],
        Sheet::Sley => vec![sley_part(plan)],
        Sheet::TieUp => vec![tie_up(plan)],
        Sheet::WallCard => wall_card(plan, method),
    });
    Document {
        title: plan.title.clone(),
        parts: parts.collect(),
    }
}

fn worksheet(plan: &Plan) -> Part {
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
        .and(colours(plan))
        .and(yarn(plan))
        .with(Block::Heading("Notes".into()))
        .with(Block::Lines(4))
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
    let on_hand = plan.heddles.on_hand.as_ref();
    let not_known = || "not counted, so not checked".to_owned();
    let batches = format!("{}, {}", plan.batches.len(), batch_rule(plan.batch_rule));
    vec![
        ("Batches", batches),
        ("Heddles needed", on_shafts(&plan.heddles.needed)),
        (
            "Heddles on hand",
            on_hand.map_or_else(not_known, |h| on_shafts(h)),
        ),
        ("Threading from the", side(plan.thread_from).to_owned()),
    ]
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

fn threading(plan: &Plan) -> Part {
    let mut part = Part::new("Threading").with(Block::Note(sheet_words::read_strips(plan)));
    if !plan.doubled.is_empty() {
        part.blocks
            .push(Block::Note(sheet_words::SHARED_HEDDLE.into()));
    }
    let mut before = 0;
    for batch in &plan.batches {
        part.blocks.push(Block::Strip(strip(plan, batch, before)));
        before = batch.calls.last.0;
    }
    part
}

fn strip(plan: &Plan, batch: &Batch, before: u32) -> Strip {
    let out = vec![count(batch.calls.len(), "end")];
    let heddles = (1u32..).zip(&batch.heddles).filter(|(_, n)| **n > 0);
    let heddles = heddles
        .map(|(shaft, n)| format!("{n} on {shaft}"))
        .collect();
    let mut then = vec!["used up".to_owned(), "knotted".to_owned()];
    // the group that comes out even with this batch, and what the next one has already
    let evened = plan.groups.iter().rev().find(|group| {
        let last = group.calls.last.0;
        last > before && last <= batch.calls.last.0
    });
    if let Some(group) = evened {
        let carry = batch.calls.last.0 - group.calls.last.0;
        let carry = match carry {
            0 => String::new(),
            n => format!(", {} of group {} in", count(n, "end"), group.number + 1),
        };
        then.push(format!("group {} even{carry}", group.number));
    }
    Strip {
        head: format!(
            "Batch {} of {}: {}",
            batch.number,
            plan.batches.len(),
            ends(batch.calls)
        ),
        note: None,
        rows: vec![
            ("count out".into(), out),
            ("heddles".into(), heddles),
            ("thread".into(), calls(plan, batch.calls)),
            ("then".into(), then),
        ],
    }
}

/// The calls handful by handful: "1 2 3 4"; a plus before an end that shares the heddle before it.
fn calls(plan: &Plan, run: Calls) -> Vec<String> {
    let list = plan.threading.get(run.indices()).unwrap_or(&[]);
    let mut call = run.first.0;
    handfuls(list)
        .into_iter()
        .map(|len| {
            let mut text = String::new();
            for n in 0..u32::from(len) {
                let at = Call(call + n);
                let shared = plan.doubled.binary_search(&at).is_ok();
                match (text.is_empty(), shared) {
                    (true, false) => {}
                    (_, true) => text.push('+'),
                    (false, false) => text.push(' '),
                }
                let shaft = plan.threading.get(at.0 as usize - 1);
                text.push_str(&shaft.map_or(String::new(), |s| s.0.to_string()));
            }
            call += u32::from(len);
            text
        })
        .collect()
}

fn tie_up(plan: &Plan) -> Part {
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

/// The stages as parts of a card, each step with its caution; only what belongs to this plan.
fn wall_card(plan: &Plan, method: &Method) -> Vec<Part> {
    let dressing = Dressing::new(plan.clone(), &[]);
    let kind = loom_kind(plan);
    let mut parts = vec![Part::new("Wall card").with(Block::Caution(method.defers().to_owned()))];
    for (nth, stage) in (1..).zip(Stage::ALL) {
        let text = method.stage(stage);
        let steps = method
            .steps()
            .filter(|s| s.id.stage() == stage && dressing.applies(s.id));
        let steps: Vec<StepLine> = steps
            .filter(|step| method.includes(step.id, kind))
            .map(|step| {
                let texts = step.on(kind);
                StepLine {
                    title: fill(&texts.title, plan),
                    text: fill(&texts.imperative, plan),
                    caution: texts.caution.map(|caution| fill(&caution, plan)),
                }
            })
            .collect();
        let heading = Block::Heading(format!("{nth}. {}", text.title));
        if let Some(part) = parts.last_mut().filter(|_| !steps.is_empty()) {
            part.blocks.extend([
                heading,
                Block::Note(fill(&text.aim, plan)),
                Block::Steps(steps),
            ]);
        }
    }
    parts
}
