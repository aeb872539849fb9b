//! The work across the warp: groups, raddle, ties, bundles and batches.
//! Owns their checks; the arithmetic is in `groups`, `raddle` and `batches`.

use super::problem::{Filled, Problem, Remark};
use super::work::Work;
use super::{BatchRule, Group};
use super::{batches, groups, raddle};
use crate::quantity::Fraction;

impl Work {
    /// Groups, raddle, ties and bundles.
    pub(super) fn across(&mut self) {
        let (Some(ends), Some(sett)) = (self.figures.ends, self.full.spec.sett) else {
            return;
        };
        let Some(sizes) = groups::group_sizes(ends, sett, self.full.group) else {
            let ends = sett.times(self.full.group).unwrap_or(Fraction::ZERO);
            self.problem(Problem::Group { ends });
            return;
        };
        let found = groups::groups(&sizes, self.full.floats);
        if let (Some(last), Some(before)) = (sizes.last(), sizes.iter().rev().nth(1))
            && last < before
        {
            let group = u32::try_from(sizes.len()).unwrap_or(u32::MAX);
            self.remark(Remark::ShortGroup {
                group,
                ends: *last,
                whole: *before,
            });
        }
        if let Some(width) = self.figures.width {
            self.raddle(&found, sett, width);
        }
        self.figures.bundles = Some(raddle::bundles(&found));
        self.figures.groups = Some(found);
    }

    pub(super) fn raddle(&mut self, found: &[Group], sett: Fraction, width: Fraction) {
        let (spaces, length) = (self.full.spaces, self.full.spec.raddle.length);
        self.figures.ties = raddle::ties(width, self.full.units);
        self.figures.raddle = raddle::raddle(found, sett, width, spaces, length);
        let Some(needed) = self.figures.raddle.as_ref().map(|r| r.spaces) else {
            self.problem(Problem::BeyondExact { figure: "raddle" });
            return;
        };
        let there = length.and_then(|l| l.times(spaces)).map(Fraction::floor);
        if let Some(there) = there
            .and_then(|n| u32::try_from(n).ok())
            .filter(|&n| n < needed)
        {
            self.problem(Problem::RaddleTooShort { needed, there });
        }
    }

    pub(super) fn batches(&mut self) {
        let (Some(threading), Some(groups)) = (&self.figures.threading, &self.figures.groups)
        else {
            return;
        };
        let repeat = self.figures.repeat;
        let rule = self
            .full
            .spec
            .batch
            .unwrap_or_else(|| batches::usual_rule(repeat));
        let cut = batches::Cut {
            threading,
            second: &self.second,
            groups,
            shafts: self.full.shafts,
            repeat,
        };
        let found = batches::batches(cut, rule, 1, 1);
        if self.full.spec.batch.is_none() {
            self.note_rule(rule);
        }
        self.figures.batch_rule = Some(rule);
        self.figures.batches = Some(found);
        if rule == BatchRule::Repeat {
            match repeat {
                None => self.problem(Problem::NoRepeat),
                Some(repeat) if repeat > batches::MOST_IN_BATCH => {
                    self.problem(Problem::RepeatTooLong { repeat });
                }
                Some(_) => {}
            }
        }
    }

    fn note_rule(&mut self, rule: BatchRule) {
        let value = match rule {
            BatchRule::Repeat => "repeat".into(),
            BatchRule::Group => "group".into(),
            BatchRule::Number(n) => n.to_string(),
        };
        let filled = Filled {
            path: "batch",
            value,
            guess: false,
        };
        self.figures.filled.push(filled);
        self.figures.spec.batch = Some(rule);
    }
}
