//! The stage Try beside its sheds: what is measured, and what looks wrong in a shed or in the cloth.

use super::{Events, in_every_stage, working};
use crate::dressing::ask::{Answer, Choice};
use crate::dressing::event::{Event, Mismatch, Question, StepKey};
use crate::dressing::measure::Measured;
use crate::dressing::refusal::Refusal;
use crate::dressing::sighting::Sighting;
use crate::dressing::state::Dressing;
use crate::method::{Stage, StepId};
use crate::plan::Units;

/// The most that a measure can be, thousandths.
pub(in crate::dressing) const MOST_MEASURED: u32 = 10_000_000;

/// Something looks wrong: the questions, or all of it said at once.
pub(super) fn sight(d: &Dressing, stage: Option<Stage>, said: Option<&Sighting>) -> Events {
    working(d)?;
    match stage {
        Some(Stage::Try) | None => {}
        Some(
            stage @ (Stage::Prepare
            | Stage::Wind
            | Stage::Spread
            | Stage::Beam
            | Stage::Thread
            | Stage::Sley
            | Stage::TieOn),
        ) => return Err(Refusal::NoShedYet(stage)),
    }
    let Some(said) = said else {
        return Ok(vec![Event::Put(Question::Sighting(Sighting::default()))]);
    };
    can_be(d, said)?;
    let put = Event::Put(Question::Sighting(said.clone()));
    Ok(vec![
        put,
        Event::Disagreed(Mismatch::Sighting(said.clone())),
    ])
}

/// Every part is said, and the plan has such sheds.
fn can_be(d: &Dressing, said: &Sighting) -> Result<(), Refusal> {
    let most = i64::from(d.sheds());
    let wrong = said.sheds.iter().find(|n| !(1..=d.sheds()).contains(n));
    let said_wrong = wrong.map_or(0, |n| i64::from(*n));
    let whole = said.sought(d.plan().units).is_none();
    if wrong.is_some() || said.sheds.is_empty() || !whole {
        return Err(Refusal::OutOfRange {
            said: said_wrong,
            least: 1,
            most,
        });
    }
    Ok(())
}

/// The answer to a question of a sighting: the next one, or the suspects.
pub(super) fn sighted(d: &Dressing, so_far: &Sighting, said: &Answer) -> Events {
    let units = d.plan().units;
    let numbers = match said {
        Answer::CannotTell => {
            return Ok(vec![Event::Answered(said.clone()), Event::Settled]);
        }
        Answer::Number(n) => vec![*n],
        Answer::Numbers(list) => list.iter().copied().chain([0]).collect(),
        Answer::Seen(_) | Answer::WarpSeen(_) | Answer::ReedSeen(_) => {
            return Err(Refusal::OtherAnswer(Question::Sighting(so_far.clone())));
        }
    };
    let mut now = so_far.clone();
    for number in numbers {
        let (least, most) = now.range(units, d.sheds());
        now = now
            .with(number, units, d.sheds())
            .ok_or(Refusal::OutOfRange {
                said: number,
                least,
                most,
            })?;
    }
    let next = if now.sought(units).is_some() {
        Event::Put(Question::Sighting(now))
    } else {
        Event::Disagreed(Mismatch::Sighting(now))
    };
    Ok(vec![Event::Answered(said.clone()), next])
}

/// A way out of a sighting.
pub(super) fn of_sighting(d: &Dressing, sighting: &Sighting, choice: Choice) -> Events {
    match choice {
        Choice::Suspect(nth) => {
            let suspects = d.suspects_of(sighting);
            let suspect = suspects.get(usize::from(nth)).ok_or(Refusal::NotThisWay)?;
            let found = suspect.found(d.plan());
            if !super::stands_wrong(d, found) {
                return Err(Refusal::CannotBeThere(found));
            }
            Ok(vec![Event::Disagreed(Mismatch::Found(found))])
        }
        Choice::LookAgain | Choice::Sight => {
            Ok(vec![Event::Put(Question::Sighting(Sighting::default()))])
        }
        Choice::PutRight | Choice::LeaveOpen => Ok(Vec::new()),
        _ => Err(Refusal::NotThisWay),
    }
}

/// The step of measuring asks for the first measure.
pub(super) fn measure(key: StepKey) -> Option<Event> {
    (key.id == StepId::Measure)
        .then(|| Measured::after(None))
        .flatten()
        .map(put)
}

fn put(what: Measured) -> Event {
    Event::Put(Question::Measure { what, whole: None })
}

/// The answer to a measure: the eighths are still to be said, or it is whole and the next is asked.
pub(super) fn measured_now(
    d: &Dressing,
    (what, whole): (Measured, Option<u32>),
    said: &Answer,
) -> Events {
    let answered = Event::Answered(said.clone());
    let number = match said {
        Answer::CannotTell => return Ok(then(d, what, vec![answered])),
        Answer::Number(n) => *n,
        _ => return Err(Refusal::OtherAnswer(Question::Measure { what, whole })),
    };
    let inches = d.plan().units == Units::In;
    let parts = inches && matches!(what, Measured::Reed | Measured::Cloth);
    let (least, most) = if parts && whole.is_some() {
        (0, 7)
    } else {
        (i64::from(!parts), 10_000)
    };
    let refused = Refusal::OutOfRange {
        said: number,
        least,
        most,
    };
    if !(least..=most).contains(&number) {
        return Err(refused);
    }
    let number = u32::try_from(number).map_err(|_| refused)?;
    let thousandths = match (parts, whole, inches) {
        (true, None, _) => {
            let whole = Some(number);
            return Ok(vec![
                answered,
                Event::Put(Question::Measure { what, whole }),
            ]);
        }
        (true, Some(whole), _) => whole.saturating_mul(1000) + number * 125,
        // picks are counted in an inch; elsewhere millimetres, and picks in 10 cm
        (false, _, true) => number * 1000,
        (false, _, false) => number * 100,
    };
    let measured = (1..=MOST_MEASURED)
        .contains(&thousandths)
        .then_some(event(what, thousandths));
    Ok(then(
        d,
        what,
        [answered].into_iter().chain(measured).collect(),
    ))
}

/// What comes after a measure, taken or passed over: the next one, or the step is done.
pub(super) fn then(d: &Dressing, what: Measured, mut events: Vec<Event>) -> Vec<Event> {
    match Measured::after(Some(what)) {
        Some(next) => events.push(put(next)),
        None => {
            events.push(Event::Settled);
            let key = d.current().filter(|key| key.id == StepId::Measure);
            events.extend(key.map(Event::StepDone));
        }
    }
    events
}

/// The event of a measure; the width in the reed has had one of its own from the beginning.
fn event(what: Measured, thousandths: u32) -> Event {
    match what {
        Measured::Reed => Event::MeasuredWidth { thousandths },
        _ => Event::Measured { what, thousandths },
    }
}

/// A measure said by itself, at any time.
pub(super) fn measured(stage: Option<Stage>, what: Measured, thousandths: u32) -> Events {
    if !(1..=MOST_MEASURED).contains(&thousandths) {
        return Err(Refusal::NoSuchWidth);
    }
    Ok(in_every_stage(stage, vec![event(what, thousandths)]))
}
