//! The sley strip: group by group its dents, what goes into them, and where on the tape the last one
//! ends. Owns the sheet; dents and tape are the plan's.

use super::document::{Block, Part, Table};
use crate::plan::{Dent, DentEnds, Plan, Side};
use crate::quantity::Calls;
use crate::words::counts::{ends, side};
use crate::words::sheet_words;

/// The dents that a group's ends are in.
struct GroupDents {
    group: u32,
    calls: Calls,
    first: u32,
    last: u32,
    fills: Vec<u32>,
}

/// The sheet.
#[must_use]
pub(super) fn sley_part(plan: &Plan) -> Part {
    let mut table = Table::new(&[
        ">Group",
        "Ends",
        ">First dent",
        ">Last dent",
        "Ends in each dent",
        ">Tape",
    ])
    .ticked();
    let mut part = Part::new("Sley").with(Block::Note(sheet_words::read_sley(plan)));
    let mark = |dent: u32| {
        plan.tape_of_dent(dent)
            .map_or(String::new(), |at| plan.units.tape(at))
    };
    for float in floats(plan).into_iter().take(1) {
        table.rows.push(float_row(plan, float, mark(float)));
    }
    for here in in_groups(plan) {
        table.rows.push(vec![
            here.group.to_string(),
            ends(here.calls),
            here.first.to_string(),
            here.last.to_string(),
            pattern(&here.fills),
            mark(here.last),
        ]);
    }
    for float in floats(plan).into_iter().skip(1) {
        table.rows.push(float_row(plan, float, mark(float)));
    }
    let start = format!(
        "Start at {} from the reed's edge on the {}; that is {} from the reed's middle.",
        plan.units.fine_tape(plan.sley.from_reed_edge),
        side(plan.sley_from),
        plan.units.fine_tape(plan.sley.from_middle)
    );
    part.blocks.push(Block::Note(start));
    part.with(Block::Table(table))
        .with(Block::Heading("Tape".into()))
        .with(Block::Note(
            "Tape marks are measured from the reed's edge to the far side of the last dent.".into(),
        ))
}

fn float_row(plan: &Plan, dent: u32, mark: String) -> Vec<String> {
    let first = plan.sley.dents.first().is_some_and(|d| d.number == dent);
    let edge = match (plan.sley_from, first) {
        (Side::Right, true) | (Side::Left, false) => "right",
        _ => "left",
    };
    let dent = dent.to_string();
    let words = format!("floating selvedge, {edge}");
    vec![
        "-".into(),
        words,
        dent.clone(),
        dent,
        "1, alone".into(),
        mark,
    ]
}

/// The dents of the floats, in the order of sleying.
fn floats(plan: &Plan) -> Vec<u32> {
    let is_float = |dent: &&Dent| matches!(dent.ends, DentEnds::Float { .. });
    let dents = plan.sley.dents.iter().filter(is_float);
    dents.map(|dent| dent.number).collect()
}

/// One pass over the dents: each group's share, in the order of sleying; a dent that two groups
/// share stands in both with each one's ends.
fn in_groups(plan: &Plan) -> Vec<GroupDents> {
    let mut found: Vec<GroupDents> = Vec::new();
    let mut empty: Vec<u32> = Vec::new();
    let upwards = plan.thread_from == plan.sley_from;
    for dent in &plan.sley.dents {
        let DentEnds::Calls(calls) = dent.ends else {
            empty.extend(matches!(dent.ends, DentEnds::Empty).then_some(0));
            continue;
        };
        for (group, run, share) in shares(plan, calls, upwards) {
            match found.last_mut().filter(|last| last.group == group) {
                Some(last) => {
                    last.fills.append(&mut empty);
                    last.fills.push(share);
                    last.last = dent.number;
                }
                None => {
                    empty.clear();
                    found.push(GroupDents {
                        group,
                        calls: run,
                        first: dent.number,
                        last: dent.number,
                        fills: vec![share],
                    });
                }
            }
        }
    }
    found
}

/// The groups in one dent, in the order of sleying, with the ends of each.
fn shares(plan: &Plan, calls: Calls, upwards: bool) -> Vec<(u32, Calls, u32)> {
    let from = plan.groups.partition_point(|g| g.calls.last < calls.first);
    let mut found: Vec<(u32, Calls, u32)> = plan
        .groups
        .iter()
        .skip(from)
        .take_while(|group| group.calls.first <= calls.last)
        .map(|group| {
            let first = group.calls.first.max(calls.first);
            let last = group.calls.last.min(calls.last);
            (group.number, group.calls, last.0 - first.0 + 1)
        })
        .collect();
    if !upwards {
        found.reverse();
    }
    found
}

/// A list by its shortest repeat: "2 x10", "1 2 x5, 1"; as it is where nothing repeats.
pub(super) fn pattern(list: &[u32]) -> String {
    let text = |part: &[u32]| {
        part.iter()
            .map(u32::to_string)
            .collect::<Vec<_>>()
            .join(" ")
    };
    let repeats = |n: &usize| list.iter().zip(&list[*n..]).all(|(a, b)| a == b);
    let Some(n) = (1..=list.len() / 2).find(repeats) else {
        return in_runs(list);
    };
    let (times, rest) = (list.len() / n, list.len() % n);
    let head = format!("{} x{times}", text(&list[..n]));
    if rest == 0 {
        head
    } else {
        format!("{head}, {}", text(&list[..rest]))
    }
}

/// A list by runs of equal numbers: "1, 2 x9, 1"; short ones as they are.
fn in_runs(list: &[u32]) -> String {
    let runs: Vec<(u32, usize)> = list
        .chunk_by(|a, b| a == b)
        .filter_map(|run| Some((*run.first()?, run.len())))
        .collect();
    if runs.iter().all(|(_, len)| *len < 3) {
        return list
            .iter()
            .map(u32::to_string)
            .collect::<Vec<_>>()
            .join(" ");
    }
    let said = runs.iter().map(|(n, len)| match len {
        1 => n.to_string(),
        len => format!("{n} x{len}"),
    });
    said.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::pattern;

    #[test]
    fn a_list_is_said_by_its_repeat() {
        assert_eq!(pattern(&[2; 10]), "2 x10");
        assert_eq!(pattern(&[1, 2, 1, 2, 1]), "1 2 x2, 1");
        assert_eq!(pattern(&[2, 2, 2, 1]), "2 x3, 1");
        assert_eq!(pattern(&[1, 2, 2, 2, 2, 1]), "1, 2 x4, 1");
        assert_eq!(pattern(&[2, 0, 1]), "2 0 1");
        assert_eq!(pattern(&[2]), "2");
        assert_eq!(pattern(&[]), "");
    }
}
