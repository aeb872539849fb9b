//! What was read off the loom, laid beside the plan so that each difference stands under the other.
//! Owns the alignment; never explains a difference.

use crate::quantity::Shaft;
use serde::{Deserialize, Serialize};

/// More cells than this are not worked through at once; the readings are then laid side by side.
const MOST_CELLS: usize = 16_000_000;

/// One column of the plan above and the reading below.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Column {
    /// The reading is the plan's shaft.
    Same(Shaft),
    /// Another shaft stands there: planned, read.
    Other(Shaft, Shaft),
    /// Planned, and not there.
    Missing(Shaft),
    /// There, and not planned.
    Extra(Shaft),
    /// Two neighbours stand exchanged: the two as planned.
    Exchanged(Shaft, Shaft),
    /// Planned, and beyond what was read.
    NotRead(Shaft),
}

impl Column {
    /// Whether it shows a difference.
    #[must_use]
    pub fn differs(&self) -> bool {
        !matches!(self, Self::Same(_) | Self::NotRead(_))
    }
}

/// Lays a reading beside the plan with the fewest differences (optimal string alignment: a wrong,
/// missing or extra shaft and an exchange of neighbours count one each). A reading of a `part` may
/// stop before the plan's end at no cost.
#[must_use]
pub fn read_back(planned: &[Shaft], read: &[Shaft], part: bool) -> Vec<Column> {
    let same = planned.iter().zip(read).take_while(|(a, b)| a == b).count();
    let (head, planned) = planned.split_at(same);
    let read = read.get(same..).unwrap_or_default();
    let mut columns: Vec<Column> = head.iter().copied().map(Column::Same).collect();
    if planned.len().saturating_mul(read.len()) > MOST_CELLS {
        columns.extend(side_by_side(planned, read, part));
    } else {
        columns.extend(Table::of(planned, read).columns(part));
    }
    columns
}

/// How many differences a reading shows.
#[must_use]
pub fn differences(columns: &[Column]) -> usize {
    columns.iter().filter(|column| column.differs()).count()
}

fn side_by_side(planned: &[Shaft], read: &[Shaft], part: bool) -> Vec<Column> {
    let pair = |at: usize| match (planned.get(at), read.get(at)) {
        (Some(&a), Some(&b)) if a == b => Some(Column::Same(a)),
        (Some(&a), Some(&b)) => Some(Column::Other(a, b)),
        (Some(&a), None) if part => Some(Column::NotRead(a)),
        (Some(&a), None) => Some(Column::Missing(a)),
        (None, Some(&b)) => Some(Column::Extra(b)),
        (None, None) => None,
    };
    (0..).map_while(pair).collect()
}

/// The fewest differences between every head of the plan and every head of the reading.
struct Table<'a> {
    planned: &'a [Shaft],
    read: &'a [Shaft],
    cells: Vec<u32>,
}

impl<'a> Table<'a> {
    fn of(planned: &'a [Shaft], read: &'a [Shaft]) -> Self {
        let cells = vec![0; (planned.len() + 1) * (read.len() + 1)];
        let mut table = Self {
            planned,
            read,
            cells,
        };
        for p in 0..=planned.len() {
            for r in 0..=read.len() {
                let least = table
                    .steps(p, r)
                    .into_iter()
                    .flatten()
                    .map(|(cost, ..)| cost)
                    .min();
                let at = table.at(p, r);
                table.cells[at] = least.unwrap_or(0);
            }
        }
        table
    }

    fn at(&self, p: usize, r: usize) -> usize {
        p * (self.read.len() + 1) + r
    }

    /// The ways to come to a cell: the differences then, the cell before, and the column.
    #[allow(
        clippy::type_complexity,
        reason = "a short list that only `columns` and `of` read"
    )]
    fn steps(&self, p: usize, r: usize) -> [Option<(u32, usize, usize, Column)>; 4] {
        let (plan, read) = (self.planned, self.read);
        let cost = |p: usize, r: usize, more: u32| self.cells[self.at(p, r)] + more;
        let both = (p > 0 && r > 0).then(|| {
            let (a, b) = (plan[p - 1], read[r - 1]);
            let column = if a == b {
                Column::Same(a)
            } else {
                Column::Other(a, b)
            };
            (cost(p - 1, r - 1, u32::from(a != b)), p - 1, r - 1, column)
        });
        let crossed = p > 1
            && r > 1
            && plan[p - 1] == read[r - 2]
            && plan[p - 2] == read[r - 1]
            && plan[p - 1] != plan[p - 2];
        let exchanged = crossed.then(|| {
            let column = Column::Exchanged(plan[p - 2], plan[p - 1]);
            (cost(p - 2, r - 2, 1), p - 2, r - 2, column)
        });
        let missing = (p > 0).then(|| (cost(p - 1, r, 1), p - 1, r, Column::Missing(plan[p - 1])));
        let extra = (r > 0).then(|| (cost(p, r - 1, 1), p, r - 1, Column::Extra(read[r - 1])));
        [both, exchanged, missing, extra]
    }

    fn columns(&self, part: bool) -> Vec<Column> {
        let (mut p, mut r) = (self.planned.len(), self.read.len());
        if part {
            // the latest place where the reading can stop with the fewest differences
            let stop = (0..=p)
                .rev()
                .min_by_key(|&stop| self.cells[self.at(stop, r)]);
            p = stop.unwrap_or(p);
        }
        let mut columns: Vec<Column> = self.planned[p..]
            .iter()
            .rev()
            .copied()
            .map(Column::NotRead)
            .collect();
        while (p, r) != (0, 0) {
            let steps = self.steps(p, r).into_iter().flatten();
            let Some((_, before_p, before_r, column)) = steps.min_by_key(|&(cost, ..)| cost) else {
                break;
            };
            columns.push(column);
            (p, r) = (before_p, before_r);
        }
        columns.reverse();
        columns
    }
}
