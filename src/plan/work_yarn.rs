//! The yarn's part of the work: stripes of colour, length, weight and cost of each yarn.
//! Owns the sums; knows no yarn system by name.

use super::beam::{Lengthwise, woven_length};
use super::problem::{Problem, Remark};
use super::spec::YarnSpec;
use super::work::Work;
use super::yarn::{Yarn, read_yarn};
use super::{Floats, Stripe, Units, YarnNeed};
use crate::quantity::Fraction;

impl Work {
    /// Stripes, then what each yarn must be there for.
    pub(super) fn yarn(&mut self, of: Option<&Lengthwise>) {
        let Some(ends) = self.figures.ends else {
            return;
        };
        let yarns = self.full.spec.yarns.clone();
        if !self.stripes(&yarns, ends) {
            return;
        }
        let read = self.sizes(&yarns);
        let weft = self.weft_length(&yarns, of);
        let Some(each) = self.figures.warp_length else {
            return;
        };
        for (yarn, size) in yarns.iter().zip(read) {
            let ends = self.ends_of_yarn(&yarn.name);
            let weft = weft
                .filter(|_| self.is_weft(&yarn.name))
                .unwrap_or(Fraction::ZERO);
            match self.need(yarn, size.as_ref(), ends, each, weft) {
                Some(need) => self.figures.yarn.push(need),
                None => self.problem(Problem::BeyondExact { figure: "yarn" }),
            }
        }
    }

    fn stripes(&mut self, yarns: &[YarnSpec], ends: u32) -> bool {
        let colours = self.full.spec.colours.clone();
        let mut stripes = Vec::with_capacity(colours.len().max(1));
        let mut done = 0_u32;
        for (i, colour) in colours.iter().enumerate() {
            self.known(&colour.yarn, yarns, &format!("colours[{i}].yarn"));
            let (first, last) = (done.saturating_add(1), done.saturating_add(colour.ends));
            stripes.push(Stripe {
                yarn: colour.yarn.clone(),
                first,
                last,
            });
            done = last;
        }
        if colours.is_empty() {
            let all = |y: &YarnSpec| Stripe {
                yarn: y.name.clone(),
                first: 1,
                last: ends,
            };
            stripes.extend(yarns.first().map(all));
        } else if done != ends {
            self.problem(Problem::ColoursDoNotAddUp {
                colours: done,
                ends,
            });
            return false;
        }
        self.figures.stripes = stripes;
        true
    }

    fn known(&mut self, name: &str, yarns: &[YarnSpec], path: &str) {
        if yarns.iter().any(|y| y.name == name) {
            return;
        }
        let names: Vec<&str> = yarns.iter().map(|y| y.name.as_str()).collect();
        let nearest = super::fields::nearest(name, &names).map(str::to_owned);
        let (path, found) = (path.to_owned(), name.to_owned());
        self.problem(Problem::NoSuchYarn {
            path,
            found,
            nearest,
        });
    }

    fn sizes(&mut self, yarns: &[YarnSpec]) -> Vec<Option<Yarn>> {
        let mut found = Vec::with_capacity(yarns.len());
        for (i, yarn) in yarns.iter().enumerate() {
            let Some(text) = &yarn.size else {
                self.remark(Remark::SizeUnknown {
                    yarn: yarn.name.clone(),
                });
                found.push(None);
                continue;
            };
            match read_yarn(text) {
                Ok(size) => found.push(Some(size)),
                Err(fault) => {
                    let (path, text) = (format!("yarns[{i}].size"), text.clone());
                    self.problem(Problem::Yarn {
                        path,
                        found: text,
                        fault,
                    });
                    found.push(None);
                }
            }
        }
        found
    }

    fn is_weft(&self, name: &str) -> bool {
        self.full.spec.weft.as_ref().is_some_and(|w| w.yarn == name)
    }

    /// Weft = width in the reed x picks x woven length (Taylor p. 312), in plan units of length.
    fn weft_length(&mut self, yarns: &[YarnSpec], of: Option<&Lengthwise>) -> Option<Fraction> {
        let weft = self.full.spec.weft.clone()?;
        self.known(&weft.yarn, yarns, "weft.yarn");
        let picks = weft.picks.times(woven_length(of?)?)?;
        self.figures.width?.times(picks)
    }

    /// Wound ends of the yarn, and the added floats: one beside each edge, of that edge's yarn.
    fn ends_of_yarn(&self, name: &str) -> u32 {
        let stripes = &self.figures.stripes;
        let own = stripes.iter().filter(|s| s.yarn == name);
        let wound: u32 = own.map(|s| s.last - s.first + 1).sum();
        if self.full.floats != Floats::Added {
            return wound;
        }
        let edges = [stripes.first(), stripes.last()];
        let floats = edges.iter().flatten().filter(|s| s.yarn == name).count();
        wound + u32::try_from(floats).unwrap_or(0)
    }

    fn need(
        &self,
        yarn: &YarnSpec,
        size: Option<&Yarn>,
        ends: u32,
        each: Fraction,
        weft: Fraction,
    ) -> Option<YarnNeed> {
        let spare = Fraction::ONE.plus(self.full.spec.length.spare.unwrap_or(Fraction::ZERO))?;
        let per = Fraction::whole(match self.full.units {
            Units::In => 36,
            Units::Cm => 100,
        });
        let weft = weft.times(spare)?.over(per)?;
        let length = each
            .times(Fraction::from(ends))?
            .times(spare)?
            .over(per)?
            .plus(weft)?;
        let weight = match size {
            Some(size) => Some(weight(size, length, self.full.units)?),
            None => None,
        };
        let cost = weight.zip(yarn.price).and_then(|(w, price)| w.times(price));
        Some(YarnNeed {
            name: yarn.name.clone(),
            size: yarn.size.clone(),
            ends,
            length,
            weft,
            weight,
            cost,
        })
    }
}

/// Pounds of so many yards, kilograms of so many metres.
fn weight(yarn: &Yarn, length: Fraction, units: Units) -> Option<Fraction> {
    use super::yarn::System;
    match units {
        Units::In => length.over(yarn.number(System::YardsPerPound)?),
        Units::Cm => length.over(yarn.number(System::MetresPerKilogram)?),
    }
}
