//! Working a plan out whole: every figure that can be known, every problem and remark at once.
//! Owns the order of the work; each figure's arithmetic is in its own file.

use super::beam::{Lengthwise, beam, before_loss, warp_length};
use super::fill::{Full, fill};
use super::problem::{Filled, Problem, Remark};
use super::spec::{Doubled, MOST_ENDS, MOST_SHAFTS, MOST_TREADLES, Spec};
use super::threading::{Draft, read_threading};
use super::{
    Action, Batch, BatchRule, Beam, Bundle, Floats, Group, Heddles, Plan, Raddle, Sley, Stripe,
    Units, YarnNeed,
};
use super::{batches, groups, heddles, raddle};
use crate::quantity::{Call, Fraction, Shaft};

/// Everything that could be worked out; `None` where a problem stood in the way.
#[derive(Debug, Clone)]
pub struct Figures {
    /// The plan with every default filled in, as it would stand in a file.
    pub spec: Spec,
    /// What was filled in.
    pub filled: Vec<Filled>,
    /// What refuses the plan.
    pub problems: Vec<Problem>,
    /// What does not.
    pub remarks: Vec<Remark>,
    /// Units of every length.
    pub units: Units,
    /// Ends wound.
    pub ends: Option<u32>,
    /// Ends in heddles.
    pub heddled_ends: Option<u32>,
    /// Floating selvedges: 0 or 2.
    pub floating: u32,
    /// Width in the reed, plan units.
    pub width: Option<Fraction>,
    /// The shaft of each call.
    pub threading: Option<Vec<Shaft>>,
    /// Calls that share the heddle of the call before.
    pub doubled: Vec<Call>,
    /// Groups.
    pub groups: Option<Vec<Group>>,
    /// How batches are cut.
    pub batch_rule: Option<BatchRule>,
    /// Batches.
    pub batches: Option<Vec<Batch>>,
    /// Heddles.
    pub heddles: Option<Heddles>,
    /// The reed stage.
    pub sley: Option<Sley>,
    /// The raddle stage.
    pub raddle: Option<Raddle>,
    /// Ties on the rod.
    pub ties: Option<u32>,
    /// Bundles.
    pub bundles: Option<Vec<Bundle>>,
    /// Beam.
    pub beam: Beam,
    /// Length to wind for one end.
    pub warp_length: Option<Fraction>,
    /// Yarn by name.
    pub yarn: Vec<YarnNeed>,
    /// Stripes of colour.
    pub stripes: Vec<Stripe>,
    /// Treadles pick by pick.
    pub treadling: Vec<u32>,
    /// The draft's repeat in heddles.
    pub repeat: Option<u32>,
    /// The loom's figures as resolved.
    pub(super) full: FullFacts,
}

/// What of the filled-in plan goes into a [`Plan`] unchanged.
#[derive(Debug, Clone, Copy)]
pub(super) struct FullFacts {
    pub(super) floats: Floats,
    pub(super) thread_from: super::Side,
    pub(super) sley_from: super::Side,
    pub(super) action: Action,
    pub(super) shafts: u8,
    pub(super) treadles: u32,
    pub(super) front: Fraction,
    pub(super) group: Fraction,
    pub(super) bout: u32,
}

/// Works a plan out.
#[must_use]
pub fn work_out(spec: &Spec) -> Figures {
    let mut problems = Vec::new();
    let draft = read_draft(spec, &mut problems);
    let full = fill(spec, draft.as_ref());
    let mut work = Work::new(full, problems);
    work.ends();
    work.threading(draft);
    work.sley();
    work.across();
    work.batches();
    work.lengthwise();
    work.treadles();
    work.done()
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

    /// Ends, from themselves or from width x sett; what is needed and not said.
    fn ends(&mut self) {
        let spec = self.full.spec.clone();
        let needed = [
            ("title", spec.title.is_none()),
            ("sett", spec.sett.is_none()),
            ("threading", spec.threading.is_none()),
        ];
        for (path, missing) in needed {
            if missing {
                self.problem(Problem::Missing { path });
            }
        }
        if spec.ends.is_some() && spec.width.is_some() {
            self.problem(Problem::Both {
                one: "ends",
                other: "width",
            });
        }
        let ends = match (spec.ends, self.width_given(&spec), spec.sett) {
            (Some(ends), ..) => Some(ends),
            (None, Some(width), Some(sett)) => self.ends_of(width, sett),
            (None, None, _) => {
                self.problem(Problem::Missing {
                    path: "ends (or width)",
                });
                None
            }
            (None, Some(_), None) => None,
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

    /// Width in the reed: as given, or finished / (1 - shrinkage) / (1 - draw-in).
    fn width_given(&mut self, spec: &Spec) -> Option<Fraction> {
        if spec.width.is_some() {
            return spec.width;
        }
        let finished = spec.finished_width?;
        let percent = |n| Fraction::new(n, 100);
        let shrinkage = spec.length.shrinkage.or(percent(10))?;
        let draw_in = spec.length.draw_in.or(percent(7))?;
        before_loss(before_loss(finished, shrinkage)?, draw_in)
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
        let heddles = heddled - u32::try_from(second.iter().filter(|s| **s).count()).unwrap_or(0);
        let typed = u32::try_from(draft.numbers.len()).unwrap_or(u32::MAX);
        if typed > heddles {
            self.problem(Problem::ThreadingTooLong {
                threading: typed,
                warp: heddles,
            });
            return;
        }
        let (whole, rest) = (heddles / typed.max(1), heddles % typed.max(1));
        if rest > 0 {
            self.remark(Remark::RepeatCutShort {
                threading: typed,
                whole,
                rest,
            });
        }
        let mut numbers = draft.numbers.iter().cycle();
        let mut shaft = Shaft(1);
        let mut threading = Vec::with_capacity(heddled as usize);
        for &shares in &second {
            if !shares {
                let number = numbers.next().copied().unwrap_or(1);
                shaft = Shaft(u8::try_from(number).unwrap_or(u8::MAX));
            }
            threading.push(shaft);
        }
        let along = draft.numbers.iter().copied().cycle().take(heddles as usize);
        let along = Draft {
            numbers: along.collect(),
            bracket: draft.bracket,
        };
        self.figures.repeat = along.repeat();
        self.figures.doubled = second
            .iter()
            .zip(1..)
            .filter(|(shares, _)| **shares)
            .map(|(_, call)| Call(call))
            .collect();
        let needed = heddles::needed(&threading, &second, self.full.shafts);
        self.second = second;
        self.figures.threading = Some(threading);
        self.heddles(needed);
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
        let found = heddles::heddles(needed, on_hand.as_deref());
        self.figures.problems.extend(found.problems());
        self.figures.heddles = Some(found);
    }

    /// Groups, raddle, ties and bundles.
    fn across(&mut self) {
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

    fn raddle(&mut self, found: &[Group], sett: Fraction, width: Fraction) {
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

    fn batches(&mut self) {
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
            let value = match rule {
                BatchRule::Repeat => "repeat".into(),
                BatchRule::Group => "group".into(),
                BatchRule::Number(n) => n.to_string(),
            };
            self.figures.filled.push(Filled {
                path: "batch",
                value,
                guess: false,
            });
            self.figures.spec.batch = Some(rule);
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

    fn lengthwise(&mut self) {
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

    fn unusual(&mut self) {
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

    fn treadles(&mut self) {
        let shafts = u32::from(self.full.shafts);
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

    fn done(self) -> Figures {
        self.figures
    }
}

impl Figures {
    /// The plan, where nothing refuses it.
    #[must_use]
    pub fn plan(&self) -> Option<Plan> {
        if !self.problems.is_empty() {
            return None;
        }
        let shafts = |row: &Vec<u32>| {
            row.iter()
                .map(|&s| Shaft(u8::try_from(s).unwrap_or(u8::MAX)))
                .collect()
        };
        let (full, spec) = (self.full, &self.spec);
        Some(Plan {
            title: spec.title.clone()?,
            units: self.units,
            sett: spec.sett?,
            ends: self.ends?,
            floats: full.floats,
            width: self.width?,
            thread_from: full.thread_from,
            sley_from: full.sley_from,
            action: full.action,
            shafts: full.shafts,
            treadles: u8::try_from(full.treadles).ok()?,
            threading: self.threading.clone()?,
            doubled: self.doubled.clone(),
            groups: self.groups.clone()?,
            batch_rule: self.batch_rule?,
            batches: self.batches.clone()?,
            heddles: self.heddles.clone()?,
            sley: self.sley.clone()?,
            raddle: self.raddle.clone()?,
            ties: self.ties?,
            bundles: self.bundles.clone()?,
            beam: self.beam.clone(),
            front_allowance: full.front,
            tie_up: spec.tie_up.iter().map(shafts).collect(),
            treadling: self.treadling.clone(),
            lift_plan: spec.lift_plan.iter().map(shafts).collect(),
            repeat: self.repeat,
            stripes: self.stripes.clone(),
            warp_length: self.warp_length,
            yarn: self.yarn.clone(),
            group_unit: full.group,
            bout: full.bout,
        })
    }
}
