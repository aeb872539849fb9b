//! Something is wrong, as the weaver says it part by part: what, in which knot, at which end. Owns the
//! parts, their order and what can be said as the work stands; what it leads to is an ask like any
//! other, which may still be refused. Changes nothing.

use super::ask::{Ask, Part};
use super::decide::decide;
use super::event::When;
use super::ledger::Task;
use super::refusal::Refusal;
use super::state::{Dressing, Mood};
use crate::fault::{Fault, FaultKind, Found, ReedFault};
use crate::method::Stage;
use crate::plan::{Floats, Side};
use crate::quantity::{Call, Calls, Shaft};
use chrono::DateTime;

/// The next part of what is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReportPart {
    /// One line of a list is chosen.
    List(ReportList),
    /// The knot, or the group, that it is in; 0 where the end's number in the warp is said instead.
    Knot(Wrong),
    /// The end in that knot, or in the whole warp.
    End(Wrong, Option<u32>),
    /// The shaft that the end of this call stands on.
    Shaft(Call),
    /// The last group that is sure to be right; 0 for none.
    SureGroup,
    /// The knot that is read back; 0 for all that is threaded.
    Batch,
    /// The sleyed group whose ends and dents do not come out.
    ReedGroup,
}

/// A list to choose from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReportList {
    /// What is wrong.
    What,
    /// Which end broke.
    Broken,
    /// Which mistake stands in the heddles.
    Heddles,
    /// Which mistake stands in the reed.
    Reed,
    /// The broken ends.
    Ends,
    /// What is done with the broken end of this number.
    OneEnd(u32),
}

/// One line of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReportItem {
    /// Leads to another list.
    To(ReportList),
    /// This is wrong at an end, whose place comes next.
    At(Wrong),
    /// The floating selvedge of this edge broke.
    Float(Side),
    /// An end broke, and which one is not known.
    SomeEnd,
    /// The broken end of this number is mended now, led move by move.
    Mend(u32),
    /// The broken end of this number is mended.
    Mended(u32),
    /// Something is off farther back.
    FartherBack,
    /// Ends and dents of a sleyed group do not come out.
    InDents,
    /// The shafts are read back.
    ReadBack,
    /// A spot looks wrong in a shed or in the cloth.
    InCloth,
    /// What was left open is taken up.
    TakeUp,
    /// Nothing of these: one part back.
    GoBack,
}

/// What is wrong at an end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrong {
    /// It broke.
    Broke,
    /// It is not in the heddles as planned.
    InHeddles(FaultKind),
    /// It is not in the reed as planned.
    InReed(ReedFault),
}

/// What saying a part leads to.
#[derive(Debug, Clone, PartialEq)]
pub enum Said {
    /// The next part.
    Next(ReportPart),
    /// All is said.
    Ask(Box<Ask>),
    /// One part back.
    Back,
}

/// The mistakes in heddles that can be seen at one end.
const IN_HEDDLES: [FaultKind; 6] = [
    FaultKind::WrongShaft,
    FaultKind::PositionSkipped,
    FaultKind::PositionRepeated,
    FaultKind::EndsDoubled,
    FaultKind::EndHanging,
    FaultKind::NeighboursExchanged,
];

/// The mistakes in the reed that can be seen at one end.
const IN_REED: [ReedFault; 6] = [
    ReedFault::EndsCrossed,
    ReedFault::DentSkipped,
    ReedFault::EndTooMany,
    ReedFault::EndTooFew,
    ReedFault::OrderAhead,
    ReedFault::OrderBehind,
];

impl Dressing {
    /// The lines of a list: only what can be said as the work stands, the way back last.
    #[must_use]
    pub fn report_items(&self, list: ReportList) -> Vec<ReportItem> {
        let mut items = match list {
            ReportList::What => self.what_can_be_wrong(),
            ReportList::Broken => self.ends_that_break(),
            ReportList::Heddles => IN_HEDDLES
                .map(|kind| ReportItem::At(Wrong::InHeddles(kind)))
                .to_vec(),
            ReportList::Reed => IN_REED
                .map(|kind| ReportItem::At(Wrong::InReed(kind)))
                .to_vec(),
            ReportList::Ends => self
                .open_ends()
                .map(|number| ReportItem::To(ReportList::OneEnd(number)))
                .collect(),
            ReportList::OneEnd(number) => {
                let mend = ReportItem::Mend(number);
                let led = self.can(&Ask::MendEnd { number }).then_some(mend);
                led.into_iter()
                    .chain([ReportItem::Mended(number)])
                    .collect()
            }
        };
        items.push(ReportItem::GoBack);
        items
    }

    fn what_can_be_wrong(&self) -> Vec<ReportItem> {
        let working = *self.mood() == Mood::Working;
        let done = |task| working && self.ledger().of(task).count() > 0;
        let farther = self.can(&Ask::Trace { since: None });
        let lines = [
            (true, ReportItem::To(ReportList::Broken)),
            (
                !self.record().broken.is_empty(),
                ReportItem::To(ReportList::Ends),
            ),
            (done(Task::Threaded), ReportItem::To(ReportList::Heddles)),
            (done(Task::Sleyed), ReportItem::To(ReportList::Reed)),
            (done(Task::Sleyed), ReportItem::InDents),
            (farther, ReportItem::FartherBack),
            (self.can(&Ask::ReadBack(Part::Here)), ReportItem::ReadBack),
            (self.can(&Ask::Sight(None)), ReportItem::InCloth),
            (self.can(&Ask::TakeUp), ReportItem::TakeUp),
        ];
        let there = lines.into_iter().filter(|(there, _)| *there);
        there.map(|(_, item)| item).collect()
    }

    fn ends_that_break(&self) -> Vec<ReportItem> {
        let floats = match self.plan().floats {
            Floats::None => &[][..],
            _ => &[
                ReportItem::Float(Side::Right),
                ReportItem::Float(Side::Left),
            ],
        };
        let mut items = vec![ReportItem::At(Wrong::Broke)];
        items.extend(floats);
        items.push(ReportItem::SomeEnd);
        items
    }

    fn open_ends(&self) -> impl Iterator<Item = u32> + '_ {
        let ends = self.record().broken.iter();
        ends.filter(|end| !end.mended).map(|end| end.number)
    }

    /// Whether the ask would be taken now; the time does not matter to any of them.
    fn can(&self, ask: &Ask) -> bool {
        let when = self.last().unwrap_or(When {
            wall: DateTime::UNIX_EPOCH.fixed_offset(),
            elapsed_ms: 0,
        });
        decide(self, ask, when).is_ok()
    }

    /// What a line of a list leads to.
    #[must_use]
    pub fn report_chosen(&self, item: ReportItem) -> Said {
        let ask = |ask| Said::Ask(Box::new(ask));
        match item {
            ReportItem::To(list) => Said::Next(ReportPart::List(list)),
            ReportItem::At(wrong) => Said::Next(ReportPart::Knot(wrong)),
            ReportItem::Float(side) => ask(Ask::BrokenFloat { side }),
            ReportItem::SomeEnd => ask(Ask::BrokenEnd { call: None }),
            ReportItem::Mend(number) => ask(Ask::MendEnd { number }),
            ReportItem::Mended(number) => ask(Ask::EndMended { number }),
            ReportItem::FartherBack => Said::Next(ReportPart::SureGroup),
            ReportItem::InDents => Said::Next(ReportPart::ReedGroup),
            ReportItem::ReadBack => Said::Next(ReportPart::Batch),
            ReportItem::InCloth => ask(Ask::Sight(None)),
            ReportItem::TakeUp => ask(Ask::TakeUp),
            ReportItem::GoBack => Said::Back,
        }
    }

    /// What a number leads to.
    ///
    /// # Errors
    /// The number cannot be; what could be is in the refusal.
    pub fn report_number(&self, part: ReportPart, said: i64) -> Result<Said, Refusal> {
        let (least, most) = self.report_range(part);
        let n = u32::try_from(said).ok();
        let n = n.filter(|_| (least..=most).contains(&said));
        let n = n.ok_or(Refusal::OutOfRange { said, least, most })?;
        let ask = |ask| Ok(Said::Ask(Box::new(ask)));
        match part {
            ReportPart::List(_) => Ok(Said::Back),
            ReportPart::Knot(wrong) => Ok(Said::Next(ReportPart::End(wrong, (n > 0).then_some(n)))),
            ReportPart::End(wrong, knot) => {
                let knot = knot.and_then(|knot| self.report_knot(knot));
                let first = knot.map_or(1, |knot| knot.first.0);
                Ok(self.wrong_at(wrong, Call(first + n - 1)))
            }
            ReportPart::Shaft(call) => {
                let shaft = Shaft(u8::try_from(n).unwrap_or(u8::MAX));
                let fault = Fault::at(FaultKind::WrongShaft, call, shaft);
                ask(Ask::Found(Found::InHeddles(fault)))
            }
            ReportPart::SureGroup => ask(Ask::Trace {
                since: (n > 0).then_some(n),
            }),
            ReportPart::ReedGroup => ask(Ask::TraceReed { group: n }),
            ReportPart::Batch if n == 0 => ask(Ask::ReadBack(Part::Whole)),
            ReportPart::Batch => ask(Ask::ReadBack(Part::Batch(n))),
        }
    }

    fn wrong_at(&self, wrong: Wrong, call: Call) -> Said {
        let found = match wrong {
            Wrong::Broke => return Said::Ask(Box::new(Ask::BrokenEnd { call: Some(call) })),
            Wrong::InHeddles(FaultKind::WrongShaft) => {
                return Said::Next(ReportPart::Shaft(call));
            }
            Wrong::InHeddles(kind) => self.found_in_heddles(kind, call),
            Wrong::InReed(kind) => Found::InReed(kind, call),
        };
        Said::Ask(Box::new(Ask::Found(found)))
    }

    /// A mistake at a call, on the shaft that the plan wants there.
    #[must_use]
    pub fn found_in_heddles(&self, kind: FaultKind, call: Call) -> Found {
        let planned = (call.0 as usize).checked_sub(1);
        let planned = planned
            .and_then(|at| self.plan().threading.get(at))
            .copied();
        let fault = Fault::at(kind, call, planned.unwrap_or(Shaft(1)));
        Found::InHeddles(match kind {
            FaultKind::NeighboursExchanged => Fault {
                shaft: None,
                ..fault
            },
            _ => fault,
        })
    }

    /// The least and the most that the number of a part can be.
    #[must_use]
    pub fn report_range(&self, part: ReportPart) -> (i64, i64) {
        let (least, most) = match part {
            ReportPart::List(_) => (0, 0),
            ReportPart::Knot(Wrong::InHeddles(_)) => (0, self.report_knots_hung()),
            ReportPart::Knot(_) => (0, self.report_knots()),
            ReportPart::End(_, knot) => {
                let knot = knot.and_then(|knot| self.report_knot(knot));
                (1, knot.map_or(self.calls(), |knot| knot.len()))
            }
            ReportPart::Shaft(_) => (1, u32::from(self.plan().shafts)),
            ReportPart::SureGroup => (0, self.plan().groups.len() as u32),
            ReportPart::ReedGroup => (1, self.plan().groups.len() as u32),
            ReportPart::Batch => (0, self.plan().batches.len() as u32),
        };
        (least, i64::from(most))
    }

    /// Whether ends hang in the knots of the batches now; else places are said by group.
    #[must_use]
    pub fn knots_are_batches(&self) -> bool {
        self.stage() == Some(Stage::Thread)
    }

    fn report_knots(&self) -> u32 {
        let (batches, groups) = (&self.plan().batches, &self.plan().groups);
        if self.knots_are_batches() {
            batches.len() as u32
        } else {
            groups.len() as u32
        }
    }

    /// Knots, or groups, of which an end is threaded.
    fn report_knots_hung(&self) -> u32 {
        let threaded = self.ledger().of(Task::Threaded).stretches();
        let last = threaded.last().map_or(Call(1), |run| run.last);
        if self.knots_are_batches() {
            self.batch_at(last).map_or(0, |batch| batch.number)
        } else {
            self.group_at(last).map_or(0, |group| group.number)
        }
    }

    /// The ends of the knot, or of the group, with this number.
    #[must_use]
    pub fn report_knot(&self, number: u32) -> Option<Calls> {
        let at = (number as usize).checked_sub(1)?;
        if self.knots_are_batches() {
            self.plan().batches.get(at).map(|batch| batch.calls)
        } else {
            self.plan().groups.get(at).map(|group| group.calls)
        }
    }
}
