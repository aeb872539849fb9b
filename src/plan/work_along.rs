//! The work along the warp and under it: lengths, beam, treadles.
//! Owns their checks; the arithmetic is in `beam`.

use super::Action;
use super::beam::{Lengthwise, beam, warp_length};
use super::problem::{Problem, Remark};
use super::spec::MOST_TREADLES;
use super::threading::read_threading;
use super::work::Work;
use crate::quantity::Fraction;

impl Work {
    pub(super) fn lengthwise(&mut self) {
        let length = &self.full.spec.length;
        let of = length.finished.and_then(|finished| {
            Some(Lengthwise {
                finished,
                pieces: length.pieces?,
                shrinkage: length.shrinkage?,
                take_up: length.take_up?,
                fringe: length.fringe?,
                waste: length.waste?,
            })
        });
        if let Some(of) = of {
            self.figures.warp_length = warp_length(&of);
            if self.figures.warp_length.is_none() {
                self.problem(Problem::BeyondExact {
                    figure: "warp_length",
                });
            }
        }
        let girth = self.full.spec.loom.beam_girth;
        if girth.is_none() {
            self.remark(Remark::GirthUnknown);
        }
        let (front, thickness) = (self.full.front, self.full.packing);
        self.figures.beam = beam(self.figures.warp_length, front, girth, thickness);
        self.unusual();
        self.yarn(of.as_ref());
    }

    pub(super) fn unusual(&mut self) {
        let percent = |n| Fraction::new(n, 100).unwrap_or(Fraction::ZERO);
        let given = &self.full.spec.length;
        let mut found = Vec::new();
        for (path, value, from, to) in [
            ("length.take_up", given.take_up, 1, 15),
            ("length.shrinkage", given.shrinkage, 0, 40),
            ("length.draw_in", given.draw_in, 1, 15),
        ] {
            let (from, to) = (percent(from), percent(to));
            if let Some(value) = value.filter(|v| *v < from || *v > to) {
                found.push(Remark::Unusual {
                    path,
                    found: value,
                    from,
                    to,
                });
            }
        }
        self.figures.remarks.extend(found);
    }

    pub(super) fn treadles(&mut self) {
        let shafts = u32::from(self.full.shafts);
        let spec = self.full.spec.clone();
        self.tied_shafts(shafts);
        let treadles = self.full.treadles;
        let tied = u32::try_from(spec.tie_up.len()).unwrap_or(u32::MAX);
        if tied > treadles && treadles > 0 {
            let path = "tie_up".into();
            self.problem(Problem::NoSuchTreadle {
                path,
                treadle: tied,
                treadles,
            });
        }
        self.read_treadling(
            spec.treadling.as_deref(),
            if tied > 0 { tied } else { treadles },
        );
        if self.full.action == Action::Counterbalance {
            for (row, treadle) in spec.tie_up.iter().zip(1..) {
                let tied = u32::try_from(row.len()).unwrap_or(u32::MAX);
                if tied * 2 != shafts {
                    self.remark(Remark::Unbalanced {
                        treadle,
                        tied,
                        shafts,
                    });
                }
            }
        }
    }

    /// Every shaft that is tied or lifted is one of the loom's.
    fn tied_shafts(&mut self, shafts: u32) {
        let spec = self.full.spec.clone();
        for (path, rows) in [("tie_up", &spec.tie_up), ("lift_plan", &spec.lift_plan)] {
            let lacking = rows.iter().zip(1..).find_map(|(row, at)| {
                let shaft = row.iter().copied().find(|&s| s > shafts)?;
                Some((at, shaft))
            });
            if let Some((at, shaft)) = lacking {
                let path = format!("{path}[{}]", at - 1);
                self.problem(Problem::NoSuchShaft {
                    path,
                    shaft,
                    shafts,
                });
            }
        }
    }

    fn read_treadling(&mut self, text: Option<&str>, treadles: u32) {
        let Some(text) = text.filter(|t| !t.trim().is_empty()) else {
            return;
        };
        match read_threading(text, MOST_TREADLES) {
            Ok(draft) => {
                let lacking = draft.numbers.iter().zip(1..).find(|&(&n, _)| n > treadles);
                if let Some((&treadle, at)) = lacking.filter(|_| treadles > 0) {
                    let path = format!("treadling, number {at}");
                    self.problem(Problem::NoSuchTreadle {
                        path,
                        treadle,
                        treadles,
                    });
                }
                self.figures.treadling = draft.numbers;
            }
            Err(fault) => self.problem(Problem::Threading {
                path: "treadling",
                fault,
            }),
        }
    }
}
