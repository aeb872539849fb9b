//! The reed's part of the work: which reed, which order, which dents, and whether it all fits.
//! Owns the choice; the dealing itself is in `dents`.

use super::Floats;
use super::dents::{Deal, Reed, Sleying, before, deal, sley};
use super::order::{Order, sett_of_order};
use super::problem::{Problem, Remark};
use super::reeds::{dents_per_unit, per_of, per_text, rank};
use super::spec::{Doubled, MOST_DENTS, OrderSection, OrderSpec, ReedSpec};
use super::work::Work;
use crate::quantity::Fraction;

impl Work {
    /// Reed, order, dents and width.
    pub(super) fn sley(&mut self) {
        let (Some(sett), Some(heddled)) = (self.full.spec.sett, self.figures.heddled_ends) else {
            return;
        };
        let Some((reed, order)) = self.choose(sett) else {
            self.figures.width = self.plain_width(sett);
            self.problem(Problem::BeyondExact { figure: "sley" });
            return;
        };
        let Some(per_unit) = dents_per_unit(&reed, self.full.units) else {
            return;
        };
        let sections = match &self.full.spec.order {
            Some(OrderSpec::Sections(sections)) => sections.clone(),
            _ => vec![OrderSection {
                order: order.dents.clone(),
                ends: None,
            }],
        };
        if !self.sections_add_up(&sections, heddled) {
            return;
        }
        let doubled = matches!(
            self.full.spec.edges.doubled.unwrap_or(Doubled::Dent),
            Doubled::Dent | Doubled::Both
        );
        let half_ends = if doubled { self.full.edge_ends } else { 0 };
        let dealt = deal(&Deal {
            sections: &sections,
            heddled,
            half_ends,
        });
        self.place(reed, per_unit, order, &dealt, heddled);
    }

    /// The reed and order: the best ranked reed; with a typed order the first reed in which it gives the
    /// sett, else the first.
    fn choose(&mut self, sett: Fraction) -> Option<(ReedSpec, Order)> {
        let reeds = self.full.spec.reeds.clone();
        let units = self.full.units;
        let typed = match &self.full.spec.order {
            Some(OrderSpec::Typed(order)) => Some(order.clone()),
            Some(OrderSpec::Sections(sections)) => sections.first().map(|s| s.order.clone()),
            Some(OrderSpec::Computed) | None => None,
        };
        let Some(typed) = typed else {
            let best = rank(&reeds, units, sett).into_iter().next()?;
            let reed = *reeds.get(best.index)?;
            self.say_reed(&reed, reeds.len());
            self.say_near(&best.order, sett);
            return Some((reed, best.order));
        };
        let gives = |reed: &ReedSpec| sett_of_order(&typed, dents_per_unit(reed, units)?);
        let reed = *reeds
            .iter()
            .find(|r| gives(r) == Some(sett))
            .or(reeds.first())?;
        let given = gives(&reed)?;
        self.say_reed(&reed, reeds.len());
        let one = matches!(self.full.spec.order, Some(OrderSpec::Typed(_)));
        if one && given != sett {
            let unit = units.short();
            self.remark(Remark::OrderGives {
                wanted: sett,
                given,
                unit,
            });
        }
        Some((
            reed,
            Order {
                dents: typed,
                sett: given,
                exact: given == sett,
            },
        ))
    }

    fn say_reed(&mut self, reed: &ReedSpec, of: usize) {
        let per = per_text(per_of(reed, self.full.units));
        let dents = reed.dents;
        if self.figures.filled.iter().any(|f| f.path == "reeds") {
            self.remark(Remark::ReedAssumed { dents, unit: per });
        } else if of > 1 {
            self.remark(Remark::ReedChosen { dents, per });
        }
    }

    fn say_near(&mut self, order: &Order, sett: Fraction) {
        if !order.exact {
            let unit = self.full.units.short();
            let (given, order) = (order.sett, order.dents.clone());
            self.remark(Remark::SettNotExact {
                wanted: sett,
                given,
                order,
                unit,
            });
        }
    }

    fn sections_add_up(&mut self, sections: &[OrderSection], heddled: u32) -> bool {
        let open = sections.last().is_some_and(|s| s.ends.is_none());
        let closed: u64 = sections.iter().filter_map(|s| s.ends).map(u64::from).sum();
        let early_open = sections.iter().rev().skip(1).any(|s| s.ends.is_none());
        let fits = closed == u64::from(heddled) || (open && closed < u64::from(heddled));
        if early_open || !fits {
            let sections = u32::try_from(closed).unwrap_or(u32::MAX);
            self.problem(Problem::SectionsDoNotAddUp {
                sections,
                ends: heddled,
            });
            return false;
        }
        true
    }

    /// Ends / sett, where no reed can tell better.
    fn plain_width(&self, sett: Fraction) -> Option<Fraction> {
        Fraction::from(self.figures.ends?).over(sett)
    }

    fn place(
        &mut self,
        reed: ReedSpec,
        per_unit: Fraction,
        order: Order,
        dealt: &[u32],
        heddled: u32,
    ) {
        self.figures.width = self.width(per_unit, &order, dealt);
        let floats = self.full.floats != Floats::None;
        let used = dealt.len() + 2 * usize::from(floats);
        let used = u32::try_from(used).unwrap_or(u32::MAX);
        self.short_dent(dealt, &order);
        let Some(reed) = self.as_it_lies(reed, per_unit, used) else {
            return;
        };
        let (sections, sett) = self.by_section(order.sett, heddled);
        if let Some(wanted) = self
            .full
            .spec
            .sett
            .filter(|&w| !sections.is_empty() && w != sett)
        {
            let unit = self.full.units.short();
            self.remark(Remark::OrderGives {
                wanted,
                given: sett,
                unit,
            });
        }
        let how = Sleying {
            reed: &reed,
            order: order.dents,
            exact: Some(sett) == self.full.spec.sett,
            sections,
            sett,
            heddled,
            floats,
            thread_from: self.full.thread_from,
            sley_from: self.full.sley_from,
        };
        self.figures.sley = sley(how, dealt);
    }

    /// The sections where the order was typed so, and the sett: with sections the mean over their dents.
    fn by_section(&self, sett: Fraction, heddled: u32) -> (Vec<OrderSection>, Fraction) {
        match &self.full.spec.order {
            Some(OrderSpec::Sections(sections)) => {
                let mean = self
                    .figures
                    .width
                    .and_then(|w| Fraction::from(heddled).over(w));
                (sections.clone(), mean.unwrap_or(sett))
            }
            Some(OrderSpec::Typed(_) | OrderSpec::Computed) | None => (Vec::new(), sett),
        }
    }

    /// Width in the reed: ends / sett for a computed order, else what the dents take.
    fn width(&self, per_unit: Fraction, order: &Order, dealt: &[u32]) -> Option<Fraction> {
        let computed = matches!(self.full.spec.order, None | Some(OrderSpec::Computed));
        if computed && self.full.edge_ends == 0 {
            return self.plain_width(order.sett);
        }
        Fraction::whole(i64::try_from(dealt.len()).ok()?).over(per_unit)
    }

    /// The reed in the beater, checked against the warp; `None` where it has more dents than are counted.
    fn as_it_lies(&mut self, reed: ReedSpec, per_unit: Fraction, used: u32) -> Option<Reed> {
        let length = self.reed_length(&reed, per_unit, used);
        let total = length.times(per_unit).map_or(0, Fraction::floor);
        let total = u32::try_from(total).unwrap_or(u32::MAX);
        let label = format!(
            "{} per {}",
            reed.dents,
            per_text(per_of(&reed, self.full.units))
        );
        self.fits(used, total, length, &label);
        if total > MOST_DENTS {
            self.problem(Problem::OutOfRange {
                path: "reeds, dents in all".into(),
                found: total.to_string(),
                least: "1".into(),
                most: MOST_DENTS.to_string(),
            });
            return None;
        }
        let off = reed.off_centre.unwrap_or(Fraction::ZERO);
        let off_centre = match self.full.sley_from {
            super::Side::Right => off,
            super::Side::Left => Fraction::ZERO.minus(off).unwrap_or(off),
        };
        let reed = Reed {
            per_unit,
            length,
            total,
            label,
            off_centre,
        };
        if used <= total && before(&reed, used).is_none() {
            let (reed, spare) = (reed.label.clone(), total - used);
            self.problem(Problem::ReedOffCentre { reed, off, spare });
        }
        Some(reed)
    }

    /// The reed's own length; the loom's width; else the next whole foot (or 30 cm) that holds the warp.
    fn reed_length(&mut self, reed: &ReedSpec, per_unit: Fraction, used: u32) -> Fraction {
        if let Some(length) = reed.length.or(self.full.spec.loom.width) {
            return length;
        }
        let step = Fraction::whole(if self.full.units == super::Units::In {
            12
        } else {
            30
        });
        let needed = Fraction::from(used).over(per_unit).unwrap_or(Fraction::ONE);
        let steps = needed.over(step).map_or(1, Fraction::ceil).max(1);
        let steps = Fraction::whole(i64::try_from(steps).unwrap_or(i64::MAX));
        let width = steps.times(step).unwrap_or(step);
        let unit = self.full.units.short();
        self.remark(Remark::LoomWidthAssumed { width, unit });
        width
    }

    fn fits(&mut self, needed: u32, there: u32, length: Fraction, label: &str) {
        let floats = 2 * u32::from(self.full.floats != Floats::None);
        if needed > there {
            let ends = self.figures.heddled_ends.map(Fraction::from);
            let room = there
                .checked_sub(floats)
                .filter(|&n| n > 0)
                .map(Fraction::from);
            let mean = ends.zip(room).and_then(|(ends, room)| ends.over(room));
            let per_unit = Fraction::from(there).over(length);
            let fits = mean.zip(per_unit).and_then(|(mean, per)| mean.times(per));
            let reed = label.to_owned();
            self.problem(Problem::ReedTooShort {
                needed,
                there,
                reed,
                fits,
            });
        }
        let (Some(loom), Some(width)) = (self.full.spec.loom.width, self.figures.width) else {
            return;
        };
        if width > loom {
            let ends = self
                .full
                .spec
                .sett
                .and_then(|s| s.times(loom))
                .map_or(0, Fraction::floor);
            let (ends, unit) = (u32::try_from(ends).unwrap_or(0), self.full.units.short());
            self.problem(Problem::LoomTooNarrow {
                width,
                loom,
                ends,
                unit,
            });
        }
    }

    fn short_dent(&mut self, dealt: &[u32], order: &Order) {
        let computed = matches!(self.full.spec.order, None | Some(OrderSpec::Computed));
        let index = dealt.len().saturating_sub(1);
        let (Some(&ends), true) = (dealt.last(), computed && self.full.edge_ends == 0) else {
            return;
        };
        let skipped = order.dents.iter().take_while(|&&n| n == 0).count();
        let at = (index + skipped) % order.dents.len().max(1);
        let wanted = order.dents.get(at).copied().unwrap_or(ends);
        if ends < wanted {
            let dent = u32::try_from(index + 1).unwrap_or(u32::MAX);
            self.remark(Remark::ShortDent {
                dent,
                ends,
                order: wanted,
            });
        }
    }
}
