//! Drafts and slips drawn at random.

use super::Slip;
use super::dice::Dice;
use endsmeet::fault::FaultKind;
use endsmeet::plan::handfuls;
use endsmeet::quantity::Shaft;

/// A batch of a random draft.
#[derive(Debug, Clone)]
pub struct Draft {
    pub shafts: u8,
    pub planned: Vec<u8>,
    pub kind: &'static str,
}

impl Draft {
    /// 4 to 16 shafts; straight, point, advancing or random; 4 to 24 ends.
    pub fn at_random(dice: &mut Dice) -> Draft {
        let shafts = dice.from(4, 16) as u8;
        let n = dice.from(4, 24);
        let start = dice.from(0, 40);
        let (kind, at): (_, Box<dyn Fn(usize) -> usize>) = match dice.from(0, 3) {
            0 => ("straight", Box::new(move |i| i % shafts as usize)),
            1 => ("point", Box::new(move |i| point(i, shafts as usize))),
            2 => {
                let run = dice.from(3, 4);
                (
                    "advancing",
                    Box::new(move |i| (i % run + i / run) % shafts as usize),
                )
            }
            _ => {
                let list = random_line(dice, shafts);
                ("random", Box::new(move |i| list[i % list.len()]))
            }
        };
        let planned = (start..start + n).map(|i| at(i) as u8 + 1).collect();
        Draft {
            shafts,
            planned,
            kind,
        }
    }

    /// Lengths of the handfuls with their first call.
    pub fn handfuls(&self) -> Vec<(usize, usize)> {
        let shafts: Vec<Shaft> = self.planned.iter().map(|&s| Shaft(s)).collect();
        let mut at = 0;
        let cut = handfuls(&shafts).into_iter().map(|len| {
            let first = at;
            at += len as usize;
            (first, at)
        });
        cut.collect()
    }

    /// A slip of this kind at a random place; `None` where the draft has no place for it.
    pub fn slip(&self, kind: FaultKind, dice: &mut Dice) -> Option<Slip> {
        let n = self.planned.len();
        let k = dice.from(0, n - 1);
        let any = dice.from(1, self.shafts as usize) as u8;
        let by = dice.pick(&[-2, -1, -1, 1, 1, 2]);
        let handful = |dice: &mut Dice| {
            let whole: Vec<_> = self
                .handfuls()
                .into_iter()
                .filter(|(a, b)| b - a >= 2)
                .collect();
            (!whole.is_empty()).then(|| dice.pick(&whole))
        };
        match kind {
            FaultKind::PositionSkipped => Some(Slip::Skip(k, k + 1)),
            FaultKind::PositionRepeated => Some(Slip::Repeat(k, k + 1)),
            FaultKind::EndsDoubled => Some(Slip::Double(k)),
            FaultKind::EndHanging => Some(Slip::Hang(k)),
            FaultKind::WrongShaft => (any != self.planned[k]).then_some(Slip::Wrong(k, any)),
            FaultKind::HeddlePassed if dice.coin() => Some(Slip::PassEmpty(k, any)),
            FaultKind::HeddlePassed => (any != self.planned[k]).then_some(Slip::ThroughTwo(k, any)),
            FaultKind::EndsMiscounted => Some(Slip::EndsOut(by)),
            FaultKind::HeddlesMiscounted => {
                let there = self.planned.iter().filter(|&&s| s == any).count() as i64;
                (there > 0 && there + by >= 0).then_some(Slip::HeddlesOut(any, by))
            }
            FaultKind::HandfulSkipped => handful(dice).map(|(a, b)| Slip::Skip(a, b)),
            FaultKind::HandfulRepeated => handful(dice).map(|(a, b)| Slip::Repeat(a, b)),
            FaultKind::NeighboursExchanged => {
                let differ = k + 1 < n && self.planned[k] != self.planned[k + 1];
                differ.then_some(Slip::Exchange(k))
            }
        }
    }
}

fn point(i: usize, shafts: usize) -> usize {
    let at = i % (2 * shafts - 2);
    if at < shafts { at } else { 2 * shafts - 2 - at }
}

/// Mostly without the same shaft twice running, as drafts are; now and then with.
fn random_line(dice: &mut Dice, shafts: u8) -> Vec<usize> {
    let twice = dice.from(0, 3) == 0;
    let mut line: Vec<usize> = Vec::new();
    while line.len() < 64 {
        let shaft = dice.from(0, shafts as usize - 1);
        if twice || line.last() != Some(&shaft) {
            line.push(shaft);
        }
    }
    line
}
