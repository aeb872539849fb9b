//! Items lit in turn for a hand with one button. Owns the order of the items and whose turn it
//! is; never takes one by itself, but for a menu that nobody touches, which shuts.

use super::MenuItem;
use std::time::Duration;

/// One thing that can be lit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LitItem {
    /// An item of the menu.
    Menu(MenuItem),
    /// A choice of a question or a list, counted from 0.
    Choice(u8),
    /// A digit.
    Digit(u8),
    /// The minus sign.
    Minus,
    /// Take the last digit away.
    Erase,
    /// The number is done.
    Done,
    /// Leave the question unanswered. Lit first, so that a press by reflex answers nothing.
    NotLooked,
}

/// What is lit now, and the row that it stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lit<'a> {
    /// The items in their order.
    pub items: &'a [LitItem],
    /// The place of the lit one among them.
    pub at: usize,
}

impl Lit<'_> {
    /// The lit item.
    #[must_use]
    pub fn item(&self) -> Option<LitItem> {
        self.items.get(self.at).copied()
    }
}

/// A row of items of which one is lit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Turn {
    items: Vec<LitItem>,
    at: usize,
    since: Duration,
    rounds: u32,
    timed: bool,
}

impl Turn {
    /// The first item lit, from now on; `timed` where the light moves by itself.
    pub fn new(items: Vec<LitItem>, since: Duration, timed: bool) -> Self {
        Self {
            items,
            at: 0,
            since,
            rounds: 0,
            timed,
        }
    }

    /// What is lit.
    pub fn lit(&self) -> Lit<'_> {
        Lit {
            items: &self.items,
            at: self.at,
        }
    }

    /// The lit item.
    pub fn item(&self) -> Option<LitItem> {
        self.items.get(self.at).copied()
    }

    /// When the light moves on.
    pub fn moves_at(&self, each: Duration) -> Option<Duration> {
        (self.timed && !self.items.is_empty()).then(|| self.since.saturating_add(each))
    }

    /// Moves the light on where its time is up; whether it moved. However late the caller is, it
    /// moves by one item, so that each item is lit for its whole time.
    pub fn tick(&mut self, now: Duration, each: Duration) -> bool {
        let due = self.moves_at(each).is_some_and(|at| now >= at);
        if due {
            self.steps(1, now);
        }
        due
    }

    /// Moves the light by so many items, onwards or back, round the end.
    pub fn steps(&mut self, by: isize, now: Duration) {
        let count = self.items.len();
        if count == 0 {
            return;
        }
        let ahead = by.rem_euclid(isize::try_from(count).unwrap_or(1));
        let next = self.at + usize::try_from(ahead).unwrap_or(0);
        if next >= count {
            self.rounds = self.rounds.saturating_add(1);
        }
        self.at = next % count;
        self.since = now;
    }

    /// From now on the light stays where it is until it is moved.
    pub fn stands(&mut self) {
        self.timed = false;
    }

    /// How often the light came round.
    pub fn rounds(&self) -> u32 {
        self.rounds
    }
}

/// The menu's items; while a look is asked also the two that pass it, last, so that a hold, a wait
/// and a press are needed: never a reflex.
pub(super) fn menu_items(look: bool, other_way: bool) -> Vec<LitItem> {
    let passes = |item: &MenuItem| matches!(item, MenuItem::CannotTell | MenuItem::LeaveOut);
    // an open look comes before another one
    let looks = |item: &MenuItem| *item == MenuItem::Count;
    let there = |item: &MenuItem| if look { !looks(item) } else { !passes(item) };
    let way = |item: &MenuItem| *item != MenuItem::OtherWay || other_way;
    let items = MenuItem::ALL.into_iter().filter(there).filter(way);
    items.map(LitItem::Menu).collect()
}

/// The items for a number: nothing given yet lights NOT LOOKED first; after a digit DONE comes
/// first, so that an answer of one digit takes two presses.
pub(super) fn number_items(start: u8, minus: bool, empty: bool) -> Vec<LitItem> {
    let digits = (0..10).map(|i| LitItem::Digit((start % 10 + i) % 10));
    let mut items = vec![if empty {
        LitItem::NotLooked
    } else {
        LitItem::Done
    }];
    items.extend(digits);
    if minus && empty {
        items.push(LitItem::Minus);
    }
    if !empty {
        items.push(LitItem::Erase);
    }
    items
}

/// The items for a question with choices.
pub(super) fn choice_items(count: u8, start: u8) -> Vec<LitItem> {
    (0..count)
        .map(|i| {
            let turned = (u16::from(start) + u16::from(i)) % u16::from(count.max(1));
            LitItem::Choice(u8::try_from(turned).unwrap_or(0))
        })
        .collect()
}
