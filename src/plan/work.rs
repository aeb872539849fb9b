//! Working a plan out whole: every figure that can be known, every problem and remark at once.
//! Owns the order of the work; each figure's arithmetic is in its own file.

use super::beam::before_loss;
use super::fill::{Full, fill};
use super::heddles;
use super::problem::{Filled, Problem, Remark};
use super::spec::{Doubled, MOST_ENDS, MOST_SHAFTS, Spec};
use super::threading::{Draft, read_threading};
use super::worked::{Figures, FullFacts};
use super::{Beam, Cloth, EdgeAdvice, Floats, Plan};
use crate::quantity::{Call, Fraction, Shaft};

/// Works a plan out.
#[must_use]
pub fn work_out(spec: &Spec) -> Figures {
    let mut problems = Vec::new();
    let draft = read_draft(spec, &mut problems);
    let full = fill(spec, draft.as_ref());
    let mut work = Work::new(full, problems);
    work.said();
    work.ends();
    work.threading(draft);
    work.sley();
    work.across();
    work.batches();
    work.lengthwise();
    work.treadles();
    let mut figures = work.done();
    let edges = figures.plan().and_then(|plan| edges_of(&plan));
    figures.remarks.extend(edges);
    figures
}

/// What the edges of the cloth ask for, where the plan says picks.
fn edges_of(plan: &Plan) -> Option<Remark> {
    match Cloth::of(plan, 0)?.edge_advice(plan) {
        EdgeAdvice::FloatsAdvised => Some(Remark::EdgeEndsMissed { start_from: None }),
        EdgeAdvice::StartFrom(side) => Some(Remark::EdgeEndsMissed {
            start_from: Some(side),
        }),
        EdgeAdvice::Caught | EdgeAdvice::FloatsThere => None,
    }
}

fn read_draft(spec: &Spec, problems: &mut Vec<Problem>) -> Option<Draft> {
    let text = spec.threading.as_deref()?;
    read_threading(text, MOST_SHAFTS)
        .map_err(|fault| {
            problems.push(Problem::Threading {
                path: "threading",
                fault,
            })
        })
        .ok()
}

/// Width in the reed: as given, or finished / (1 - shrinkage) / (1 - draw-in).
fn width_given(spec: &Spec) -> Option<Fraction> {
    if spec.width.is_some() {
        return spec.width;
    }
    let before_washing = before_loss(spec.finished_width?, spec.length.shrinkage?)?;
    before_loss(before_washing, spec.length.draw_in?)
}

/// The shaft of each call: the next one of the draft, the same again for the second end of a heddle.
fn along_calls(numbers: &[u32], second: &[bool]) -> Vec<Shaft> {
    let mut numbers = numbers.iter();
    let mut shaft = Shaft(1);
    let next = |&shares: &bool| {
        if !shares {
            let number = numbers.next().copied().unwrap_or(1);
            shaft = Shaft(u8::try_from(number).unwrap_or(u8::MAX));
        }
        shaft
    };
    second.iter().map(next).collect()
}

/// The work in hand.
pub(super) struct Work {
    pub(super) full: Full,
    pub(super) figures: Figures,
    /// `second[i]`: call i + 1 shares the heddle of the call before it.
    pub(super) second: Vec<bool>,
}

impl Work {
    fn new(full: Full, problems: Vec<Problem>) -> Self {
        let facts = FullFacts {
            floats: full.floats,
            thread_from: full.thread_from,
            sley_from: full.sley_from,
            action: full.action,
            shafts: full.shafts,
            treadles: full.treadles,
            front: full.front,
            group: full.group,
            bout: full.bout,
            together: full.together,
        };
        let figures = Figures {
            spec: full.spec.clone(),
            filled: full.filled.clone(),
            problems,
            remarks: Vec::new(),
            units: full.units,
            ends: None,
            heddled_ends: None,
            floating: if full.floats == Floats::None { 0 } else { 2 },
            width: None,
            threading: None,
            doubled: Vec::new(),
            groups: None,
            batch_rule: None,
            batches: None,
            heddles: None,
            sley: None,
            raddle: None,
            ties: None,
            bundles: None,
            beam: Beam {
                turns: None,
                packing: None,
            },
            warp_length: None,
            yarn: Vec::new(),
            stripes: Vec::new(),
            treadling: Vec::new(),
            repeat: None,
            full: facts,
        };
        Self {
            full,
            figures,
            second: Vec::new(),
        }
    }

    pub(super) fn problem(&mut self, problem: Problem) {
        self.figures.problems.push(problem);
    }

    pub(super) fn remark(&mut self, remark: Remark) {
        self.figures.remarks.push(remark);
    }

    /// What is needed and not said, or said in two ways.
    fn said(&mut self) {
        let spec = &self.full.spec;
        let mut found = Vec::new();
        for (path, missing) in [
            ("title", spec.title.is_none()),
            ("sett", spec.sett.is_none()),
            ("threading", spec.threading.is_none()),
            (
                "ends (or width)",
                spec.ends.or(spec.width.map(|_| 1)).is_none() && spec.finished_width.is_none(),
            ),
        ] {
            if missing {
                found.push(Problem::Missing { path });
            }
        }
        if spec.ends.is_some() && spec.width.is_some() {
            found.push(Problem::Both {
                one: "ends",
                other: "width",
            });
        }
        self.figures.problems.extend(found);
    }

    /// Ends, from themselves or from width x sett.
    fn ends(&mut self) {
        let spec = &self.full.spec;
        let ends = match (spec.ends, width_given(spec), spec.sett) {
            (Some(ends), ..) => Some(ends),
            (None, Some(width), Some(sett)) => self.ends_of(width, sett),
            (None, ..) => None,
        };
        let Some(ends) = ends else { return };
        self.figures.ends = Some(ends);
        self.figures.spec.ends = Some(ends);
        (self.figures.spec.width, self.figures.spec.finished_width) = (None, None);
        let taken = if self.full.floats == Floats::FromWarp {
            2
        } else {
            0
        };
        match ends.checked_sub(taken).filter(|&n| n > 0) {
            Some(heddled) => self.figures.heddled_ends = Some(heddled),
            None => self.problem(Problem::TooFewEnds { ends }),
        }
        if ends % 2 == 1 {
            self.remark(Remark::OddEnds { ends });
        }
    }

    fn ends_of(&mut self, width: Fraction, sett: Fraction) -> Option<u32> {
        let exact = width.times(sett)?;
        let ends = u32::try_from(exact.round())
            .ok()
            .filter(|n| (1..=MOST_ENDS).contains(n));
        match ends {
            Some(ends) if !exact.is_whole() => self.remark(Remark::EndsRounded { exact, ends }),
            Some(_) => {}
            None => self.problem(Problem::OutOfRange {
                path: "width x sett".into(),
                found: exact.decimal(2),
                least: "1 end".into(),
                most: format!("{MOST_ENDS} ends"),
            }),
        }
        ends
    }

    /// The shaft of each call: the draft along the heddles, the ends of doubled edges in pairs.
    fn threading(&mut self, draft: Option<Draft>) {
        let (Some(draft), Some(heddled)) = (draft, self.figures.heddled_ends) else {
            return;
        };
        self.check_shafts(&draft);
        let Some(second) = self.doubled_edges(heddled) else {
            return;
        };
        let shared = u32::try_from(second.iter().filter(|s| **s).count()).unwrap_or(0);
        let heddles = heddled - shared;
        if !self.comes_out(&draft, heddles) {
            return;
        }
        let along = draft.numbers.iter().copied().cycle().take(heddles as usize);
        let along = Draft {
            numbers: along.collect(),
            bracket: draft.bracket,
        };
        self.figures.repeat = along.repeat();
        let calls = second.iter().zip(1..).filter(|(shares, _)| **shares);
        self.figures.doubled = calls.map(|(_, call)| Call(call)).collect();
        let threading = along_calls(&along.numbers, &second);
        let needed = heddles::needed(&threading, &second, self.full.shafts);
        self.second = second;
        self.figures.threading = Some(threading);
        self.bare_shafts(&needed);
        self.heddles(needed);
    }

    /// A slip of the key, such as 9 for 4, asks for shafts that no loom of hers may have.
    fn bare_shafts(&mut self, needed: &[u32]) {
        let assumed = |f: &Filled| f.path == "loom.shafts";
        let highest = needed.iter().rposition(|&n| n > 0).unwrap_or(0);
        let bare = (1..).zip(needed.iter().take(highest));
        let bare: Vec<u32> = bare.filter(|(_, n)| **n == 0).map(|(s, _)| s).collect();
        if !bare.is_empty() && self.figures.filled.iter().any(assumed) {
            let of = self.full.shafts;
            self.remark(Remark::ShaftsBare { bare, of });
        }
    }

    /// Whether the draft is no longer than the warp; a remark where it does not come out even.
    fn comes_out(&mut self, draft: &Draft, heddles: u32) -> bool {
        let typed = u32::try_from(draft.numbers.len())
            .unwrap_or(u32::MAX)
            .max(1);
        if typed > heddles {
            self.problem(Problem::ThreadingTooLong {
                threading: typed,
                warp: heddles,
            });
            return false;
        }
        let (whole, rest) = (heddles / typed, heddles % typed);
        if rest > 0 {
            self.remark(Remark::RepeatCutShort {
                threading: typed,
                whole,
                rest,
            });
        }
        true
    }

    fn check_shafts(&mut self, draft: &Draft) {
        let shafts = u32::from(self.full.shafts);
        let lacking = draft.numbers.iter().zip(1..).find(|&(&n, _)| n > shafts);
        if let Some((&shaft, at)) = lacking {
            let path = format!("threading, number {at}");
            self.problem(Problem::NoSuchShaft {
                path,
                shaft,
                shafts,
            });
        }
        let listed = self.full.spec.loom.heddles.as_ref().map(Vec::len);
        if let Some(found) = listed.filter(|&n| n != shafts as usize) {
            let (path, expected) = (
                "loom.heddles".into(),
                format!("{shafts}, one for each shaft"),
            );
            self.problem(Problem::Length {
                path,
                found,
                expected,
            });
        }
    }

    /// Which calls are the second end of a heddle.
    fn doubled_edges(&mut self, heddled: u32) -> Option<Vec<bool>> {
        let ends = self.full.edge_ends;
        if ends % 2 == 1 || ends.checked_mul(2).is_none_or(|both| both > heddled) {
            self.problem(Problem::Edges { ends, heddled });
            return None;
        }
        let shares = matches!(
            self.full.spec.edges.doubled,
            Some(Doubled::Heddle | Doubled::Both)
        );
        let edge = if shares { ends } else { 0 };
        let second = |i: u32| {
            let from_end = heddled - 1 - i;
            (i < edge && i % 2 == 1) || (from_end < edge && from_end.is_multiple_of(2))
        };
        Some((0..heddled).map(second).collect())
    }

    fn heddles(&mut self, needed: Vec<u32>) {
        let on_hand = self.full.spec.loom.heddles.clone();
        if on_hand.is_none() {
            self.remark(Remark::HeddlesNotCounted);
        }
        // A list of the wrong length is a problem already; nothing can be compared with it.
        let on_hand = on_hand.filter(|list| list.len() == needed.len());
        let found = heddles::heddles(needed, on_hand.as_deref());
        self.figures.problems.extend(found.problems());
        self.figures.heddles = Some(found);
    }

    fn done(self) -> Figures {
        self.figures
    }
}
