//! Bands over one another in a window: which get how many rows. Owns the rule, so that a band
//! keeps its place while the same kind of screen is shown.

use super::{Band, Manner};
use crate::terminal::canvas::Canvas;
use crate::terminal::theme::Role;
use ratatui::layout::Rect;

/// A band and the rows that it wishes for.
#[derive(Debug, Clone, PartialEq)]
pub struct Wish {
    /// The band.
    pub band: Band,
    /// Rows that it can do with where there is no room, at the cost of its size.
    pub bare: u16,
    /// Rows that it needs to be of use.
    pub least: u16,
    /// Rows that it is good with.
    pub best: u16,
    /// Rows beyond which it gains nothing.
    pub most: u16,
    /// Bands of low rank go first where there are too few rows; 0 never goes.
    pub rank: u8,
}

/// A band where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// Its rows of the window.
    pub area: Rect,
    /// What is in them.
    pub band: Band,
}

/// A screen: bands from top to bottom. The last one stands at the bottom of the window.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Stack {
    wishes: Vec<Wish>,
}

impl Stack {
    /// Bands of this rank and beyond go before anything else gets smaller.
    pub const PICTURE: u8 = 4;

    /// Adds a band below the others.
    pub fn push(&mut self, wish: Wish) {
        self.wishes.push(wish);
    }

    /// Places the bands in `area`: first with their least rows, as far as that goes, then each
    /// up to its best and its most rows in the order of rank.
    #[must_use]
    pub fn place(self, area: Rect) -> Vec<Placed> {
        let mut wishes = self.wishes;
        make_room(&mut wishes, area.height);
        let mut rows: Vec<u16> = wishes.iter().map(|w| w.least).collect();
        let mut order: Vec<usize> = (0..wishes.len()).collect();
        order.sort_by_key(|i| wishes[*i].rank);
        for goal in [|w: &Wish| w.best, |w: &Wish| w.most] {
            for i in &order {
                let used: u32 = rows.iter().map(|r| u32::from(*r)).sum();
                let spare = u32::from(area.height).saturating_sub(used);
                let wanted = goal(&wishes[*i]).saturating_sub(rows[*i]);
                rows[*i] += wanted.min(u16::try_from(spare).unwrap_or(u16::MAX));
            }
        }
        stand(wishes, &rows, area)
    }
}

fn total(wishes: &[Wish], rows: impl Fn(&Wish) -> u16) -> u32 {
    wishes.iter().map(|w| u32::from(rows(w))).sum()
}

/// Where the least rows are too many: pictures go, then large letters become plain ones from the
/// lowest rank on, then bands that may go do, and at last the tallest is cut off.
fn make_room(wishes: &mut Vec<Wish>, height: u16) {
    let too_many = |wishes: &[Wish]| total(wishes, |w| w.least) > u32::from(height);
    let last_of = |wishes: &[Wish], least_rank: u8| {
        let rank = wishes.iter().map(|w| w.rank).max()?;
        let last = wishes.iter().rposition(|w| w.rank == rank)?;
        (rank >= least_rank).then_some(last)
    };
    while too_many(wishes) {
        let Some(out) = last_of(wishes, Stack::PICTURE) else {
            break;
        };
        wishes.remove(out);
    }
    while too_many(wishes) {
        let large = wishes.iter().enumerate().filter(|(_, w)| w.bare < w.least);
        let Some(at) = large.max_by_key(|(at, w)| (w.rank, *at)).map(|(at, _)| at) else {
            break;
        };
        wishes[at].least = wishes[at].bare;
    }
    while too_many(wishes) {
        let Some(out) = last_of(wishes, 1) else {
            break;
        };
        wishes.remove(out);
    }
    while too_many(wishes) {
        let Some(tallest) = wishes.iter_mut().max_by_key(|w| w.least) else {
            break;
        };
        tallest.least = tallest.least.saturating_sub(1);
    }
}

/// Puts the bands under one another, what is left over above the last one.
fn stand(wishes: Vec<Wish>, rows: &[u16], area: Rect) -> Vec<Placed> {
    let used: u32 = rows.iter().map(|r| u32::from(*r)).sum();
    let spare = u32::from(area.height).saturating_sub(used);
    let spare = u16::try_from(spare).unwrap_or(0);
    let last = wishes.len().saturating_sub(1);
    let mut y = area.y;
    let mut placed = Vec::with_capacity(wishes.len() + 1);
    for (i, (wish, rows)) in wishes.into_iter().zip(rows).enumerate() {
        if i == last && spare > 0 {
            placed.push(Placed {
                area: Rect {
                    y,
                    height: spare,
                    ..area
                },
                band: Band::Blank,
            });
            y = y.saturating_add(spare);
        }
        let height = (*rows).min(area.bottom().saturating_sub(y));
        placed.push(Placed {
            area: Rect { y, height, ..area },
            band: wish.band,
        });
        y = y.saturating_add(height);
    }
    placed
}

impl Placed {
    /// Draws the band on the theme's ground.
    pub fn draw(&self, canvas: &mut Canvas, manner: Manner) {
        let area = self.area.intersection(canvas.area);
        canvas.set_style(area, manner.theme.style(Role::Ground));
        self.band.draw(canvas, area, manner);
    }
}

/// The bands that differ from those shown, as rows; `None` where the layout itself differs.
#[must_use]
pub fn rows_to_draw(shown: &[Placed], now: &[Placed]) -> Option<Vec<u16>> {
    let same_layout =
        shown.len() == now.len() && shown.iter().zip(now).all(|(a, b)| a.area == b.area);
    same_layout.then(|| {
        let changed = shown.iter().zip(now).filter(|(a, b)| a.band != b.band);
        changed
            .flat_map(|(_, band)| band.area.top()..band.area.bottom())
            .collect()
    })
}

/// Draws bands; only those that touch the rows given, or all where none are given.
pub fn draw_bands(bands: &[Placed], rows: Option<&[u16]>, canvas: &mut Canvas, manner: Manner) {
    for placed in bands {
        let touched = rows.is_none_or(|rows| {
            rows.iter()
                .any(|row| (placed.area.top()..placed.area.bottom()).contains(row))
        });
        if touched {
            placed.draw(canvas, manner);
        }
    }
}
