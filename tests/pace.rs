//! The time left, checked on logs whose end is known: weavers of a known pace, uneven from press to
//! press, quicker with practice, with pauses, a miscount and looks on the way. What the program says on
//! the way is held against the work that really came after it.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

mod common;

use common::{at, demo, true_answer};
use endsmeet::dressing::ledger::Task;
use endsmeet::dressing::{Answer, Ask, Dressing, View, decide};
use endsmeet::method::Stage;

/// A weaver: milliseconds a handful or group at first, how uneven, how much quicker at the end.
struct Weaver {
    ms: f64,
    uneven: f64,
    quicker: f64,
    seed: u64,
}

impl Weaver {
    /// A number from 0 to 1, the next of a row that is the same each time.
    fn dice(&mut self) -> f64 {
        self.seed = self
            .seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (self.seed >> 33) as f64 / f64::from(1u32 << 31)
    }

    fn next_ms(&mut self, share_done: f64) -> u64 {
        let spread = 1.0 + self.uneven * (2.0 * self.dice() - 1.0);
        (self.ms * spread * (1.0 - self.quicker * share_done)) as u64
    }
}

/// What was said at a moment: the stage, minutes left in it, and the work of the stage so far.
struct Said {
    stage: Stage,
    minutes: f64,
    share: f64,
    spent_ms: u64,
}

/// A whole dressing of the runner at this pace; what was said on the way, and the work of each stage.
fn dressed(mut weaver: Weaver) -> (Vec<Said>, Dressing) {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    let (mut ms, mut said, mut presses) = (0u64, Vec::new(), 0u32);
    while let Some(stage) = d.stage() {
        let (done, of) = d.done_in(stage);
        let share = f64::from(done) / f64::from(of);
        if let Some(left) = d.about().minutes_left {
            let spent_ms = d.pace().spent_ms(stage);
            let minutes = f64::from(left);
            said.push(Said {
                stage,
                minutes,
                share,
                spent_ms,
            });
        }
        presses += 1;
        // now and then a pause of half an hour, which is no work
        if presses.is_multiple_of(60) {
            let asks = [Ask::Pause, Ask::Pause];
            for ask in &asks {
                ms += 1_800_000;
                if let Ok(entry) = decide(&d, ask, at(ms)) {
                    d.apply(&entry);
                }
            }
        }
        ms += weaver.next_ms(share);
        let ask = match d.view() {
            View::Asking(_) => {
                let n = true_answer(&d).unwrap().parse().unwrap();
                Ask::Answer(Answer::Number(n))
            }
            _ => Ask::Next,
        };
        let entry = decide(&d, &ask, at(ms)).unwrap();
        d.apply(&entry);
    }
    (said, d)
}

/// How far off what was said was, as a share of the work that came after it; once a fifth of the stage
/// was done and while at least three minutes of it were left.
fn errors(said: &[Said], d: &Dressing, stage: Stage) -> Vec<f64> {
    let all = d.pace().spent_ms(stage);
    let fair = said.iter().filter(|s| s.stage == stage && s.share >= 0.2);
    fair.map(|s| (s.minutes, (all - s.spent_ms) as f64 / 60_000.0))
        .filter(|(_, really)| *really >= 3.0)
        .map(|(said, really)| (said - really) / really)
        .collect()
}

fn mean(list: &[f64]) -> f64 {
    list.iter().map(|x| x.abs()).sum::<f64>() / list.len() as f64
}

#[test]
fn the_time_left_is_honest_for_weavers_of_a_known_pace() {
    let weavers = [
        ("steady", 40_000.0, 0.1, 0.0, 0.15),
        ("uneven", 40_000.0, 0.8, 0.0, 0.35),
        ("quicker with practice", 60_000.0, 0.3, 0.3, 0.40),
        ("slow", 150_000.0, 0.5, 0.0, 0.25),
    ];
    for (name, ms, uneven, quicker, most) in weavers {
        for stage in [Stage::Thread, Stage::Spread, Stage::Sley, Stage::TieOn] {
            let mut all = Vec::new();
            for seed in 1..=3 {
                let (said, d) = dressed(Weaver {
                    ms,
                    uneven,
                    quicker,
                    seed,
                });
                assert_eq!(d.ledger().of(Task::TiedSecond).count(), 277);
                all.extend(errors(&said, &d, stage));
            }
            let error = mean(&all);
            println!(
                "{name}, {stage:?}: {:.0} % off on average, {} times",
                error * 100.0,
                all.len()
            );
            assert!(
                !all.is_empty() && error <= most,
                "{name}, {stage:?}: {error}"
            );
        }
    }
}

/// The second round of tying is not begun while the first one goes on, and still it is counted in.
#[test]
fn the_second_round_of_tying_is_counted_in() {
    let (said, d) = dressed(Weaver {
        ms: 30_000.0,
        uneven: 0.0,
        quicker: 0.0,
        seed: 1,
    });
    let first = said.iter().find(|s| s.stage == Stage::TieOn).unwrap();
    let really = (d.pace().spent_ms(Stage::TieOn) - first.spent_ms) as f64 / 60_000.0;
    assert!(
        (first.minutes - really).abs() <= 0.25 * really,
        "{} of {really}",
        first.minutes
    );
}

/// A press a minute: what is left of batch and group goes by the ends that are open in them, counted from
/// the call that is shown, and no figure stands for what was never measured.
#[test]
fn the_time_left_in_batch_and_group_goes_by_their_open_ends() {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    let mut ms = 0;
    let mut tried = 0;
    while tried < 40 {
        ms += 60_000;
        let ask = match d.view() {
            View::Asking(_) => {
                Ask::Answer(Answer::Number(true_answer(&d).unwrap().parse().unwrap()))
            }
            _ => Ask::Next,
        };
        let entry = decide(&d, &ask, at(ms)).unwrap();
        d.apply(&entry);
        let (View::Call(call), Some(left)) = (d.view(), d.time_left()) else {
            continue;
        };
        let pace = d
            .pace()
            .ms_per_unit(endsmeet::method::StepId::ThreadBatch)
            .unwrap();
        let minutes = |ends: u32| u32::try_from((u64::from(ends) * pace).div_ceil(60_000)).unwrap();
        let open = |last: u32| last - call.calls.first.0 + 1;
        let group = d.group_at(call.calls.first).unwrap();
        assert_eq!(left.batch, Some(minutes(open(call.batch.calls.last.0))));
        assert_eq!(left.here, minutes(open(group.calls.last.0)));
        assert_eq!(left.known, left.minutes, "nothing later was measured");
        assert_eq!(left.unmeasured, [Stage::Sley, Stage::TieOn, Stage::Try]);
        tried += 1;
    }
}
