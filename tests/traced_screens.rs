//! The screens of a trace and of its mending, at both sizes, as a weaver sees them.

#![allow(clippy::unwrap_used)]

mod common;
mod desk;

use common::{ask, demo, lead};
use desk::{COLOUR, shown};
use endsmeet::dressing::{Answer, Ask, Choice, Dressing, Part, View};
use endsmeet::fault::{FaultKind, WayKind};
use endsmeet::quantity::Call;

fn runner(until: impl Fn(&Dressing) -> bool) -> Dressing {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    lead(&mut d, until);
    d
}

fn asked(d: &Dressing, asks: &[Ask]) -> Dressing {
    let mut d = d.clone();
    for said in asks {
        ask(&mut d, said).unwrap();
    }
    d
}

fn number(n: i64) -> Ask {
    Ask::Answer(Answer::Number(n))
}

fn numbers(list: &[i64]) -> Ask {
    Ask::Answer(Answer::Numbers(list.to_vec()))
}

fn at_both_sizes(name: &str, d: &Dressing, keys: &str) {
    // the distance line can be read from the loom, however much is said below it
    let large = shown(d, keys, COLOUR, (80, 24));
    let rows = large.lines().filter(|row| row.contains(['█', '▀'])).count();
    assert!(rows >= 4, "{name}: {large}");
    for (size, word) in [((80, 24), "small"), ((120, 40), "large")] {
        insta::assert_snapshot!(format!("{name}_{word}"), shown(d, keys, COLOUR, size));
    }
}

/// The runner's seventh batch, threaded and not come out: one end and one heddle of shaft 2 left.
fn left_over() -> Dressing {
    let d = runner(|d| matches!(d.view(), View::UsedUp(u) if u.batch.number == 7));
    asked(&d, &[Ask::Uneven, number(1), numbers(&[0, 1, 0, 0])])
}

#[test]
fn a_look_of_a_trace_its_answer_and_the_ways_once_it_is_settled() {
    let d = left_over();
    at_both_sizes("a_look", &d, "");
    at_both_sizes("a_look_answered", &d, "1");
    at_both_sizes("an_explanation", &d, "1 3 enter 1 1 enter");
}

#[test]
fn along_the_warp() {
    let d = runner(|d| matches!(d.view(), View::CountOut(c) if c.batch.number == 9));
    let trace = Ask::Trace { since: None };
    let cannot = Ask::Answer(Answer::CannotTell);
    let d = asked(&d, &[trace, cannot, number(1), numbers(&[0, 1, 0, 0])]);
    at_both_sizes("along_the_warp", &d, "");
}

#[test]
fn in_the_reed() {
    let d = runner(|d| matches!(d.view(), View::Sley(s) if s.nth == 5));
    let d = asked(&d, &[Ask::Uneven, number(0), number(1)]);
    at_both_sizes("in_the_reed", &d, "");
}

#[test]
fn a_reading_beside_the_plan() {
    let d = runner(|d| matches!(d.view(), View::CountOut(c) if c.batch.number == 9));
    // 1 2 3 4 3 2 twice as planned; one heddle passed over and one taken of another shaft
    let reading = [
        Ask::ReadBack(Part::Here),
        numbers(&[1, 2, 3, 4]),
        numbers(&[2, 1, 2, 3]),
    ];
    let d = asked(&d, &reading);
    let d = asked(&d, &[numbers(&[1, 3, 2]), numbers(&[])]);
    at_both_sizes("a_reading", &d, "");
}

#[test]
fn the_ways_of_mending_and_a_move_of_one() {
    let d = runner(|d| matches!(d.view(), View::CountOut(c) if c.batch.number == 9));
    let found = d.found_in_heddles(FaultKind::PositionSkipped, Call(54));
    let d = asked(&d, &[Ask::Found(found)]);
    at_both_sizes("the_ways", &d, "");
    let d = asked(&d, &[Ask::Choose(Choice::Way(WayKind::OnTheSpot))]);
    at_both_sizes("a_move", &d, "");
}
