//! The cloth against what is printed: plain weave, twills and satins as ISO 3572 defines them (the
//! standard's text was not to hand, so its definitions stand here from memory), and the drafts that
//! the public-domain handbooks work out. Every expected matrix is written from the definition, not
//! from a draft.
#![allow(clippy::unwrap_used)]

mod common;

use common::{demo, drafted as plan};
use endsmeet::plan::{Cloth, EdgeAdvice, Face, PlainWeave, ShedKind, Side, Thread};
use endsmeet::quantity::{Call, Shaft};
use proptest::prelude::*;

fn shafts(list: &[u8]) -> Vec<Shaft> {
    list.iter().copied().map(Shaft).collect()
}

/// A cloth from shafts by call and lifts by pick.
fn cloth(threading: &[u8], lifts: &[Vec<u8>], shafts_of_loom: u8, picks: u32) -> Cloth {
    let lists: Vec<Vec<Shaft>> = lifts.iter().map(|l| shafts(l)).collect();
    let kind = ShedKind::Rising;
    Cloth::from_lists(&shafts(threading), &lists, kind, shafts_of_loom, picks).unwrap()
}

/// A cloth of n shafts threaded straight over so many calls.
fn straight(n: u8, calls: u32, lifts: &[Vec<u8>]) -> Cloth {
    let threading: Vec<u8> = (0..calls).map(|c| (c % u32::from(n)) as u8 + 1).collect();
    cloth(&threading, lifts, n, lifts.len() as u32)
}

/// "Up" as the definition has it, for every crossing.
fn agrees(cloth: &Cloth, picks: u32, up: impl Fn(u32, u32) -> bool) {
    for pick in 1..=picks {
        for call in 1..=cloth.calls() {
            let woven = cloth.warp_up(pick, Call(call));
            assert_eq!(woven, up(pick - 1, call - 1), "pick {pick}, call {call}");
        }
    }
}

// Plain weave: two ends and two picks; each end over one and under one, neighbours the other way
// (ISO 3572, from memory).
#[test]
fn plain_weave_alternates_in_both_directions() {
    let plain = straight(2, 12, &[vec![1], vec![2]]);
    agrees(&plain, 10, |pick, call| (pick + call) % 2 == 0);
    assert_eq!((plain.repeat_ends(), plain.repeat_picks()), (2, 2));
    assert_eq!(
        plain.longest_float(Face::Front),
        None,
        "no thread passes two"
    );
    assert_eq!(plain.longest_float(Face::Back), None);
}

// The skip draft 1, 3, 2, 4 is printed for plain cloth on four shafts (Brooks, "drafts"; Taylor):
// shafts 1 and 2 against 3 and 4.
#[test]
fn the_skip_draft_weaves_plain_with_its_halves() {
    let skip = cloth(&[1, 3, 2, 4, 1, 3, 2, 4], &[vec![1, 2], vec![3, 4]], 4, 2);
    agrees(&skip, 8, |pick, call| (pick + call) % 2 == 0);
    assert_eq!(skip.repeat_ends(), 2, "ends on 1 and 2 work alike");
    let plan = plan(4, "1 3 2 4", 40, "jack", "[[1, 2], [3, 4], [1, 3]]", "1 2");
    assert_eq!(plan.plain_weave(), PlainWeave::Treadles(1, 2));
}

// Twill: each end is tied one pick later than its neighbour, so a line runs across (ISO 3572, from
// memory); a/b: a picks over, b under.
#[test]
fn twills_move_one_pick_from_end_to_end() {
    for (over, under) in [
        (2u32, 2u32),
        (2, 1),
        (1, 2),
        (3, 1),
        (1, 3),
        (3, 2),
        (4, 4),
        (5, 3),
    ] {
        let n = over + under;
        let lift = |p: u32| {
            (0..over)
                .map(|k| ((p + k) % n) as u8 + 1)
                .collect::<Vec<u8>>()
        };
        let lifts: Vec<Vec<u8>> = (0..n).map(lift).collect();
        let twill = straight(n as u8, 3 * n, &lifts);
        agrees(&twill, 3 * n, |pick, call| {
            (call % n + n - pick % n) % n < over
        });
        assert_eq!((twill.repeat_ends(), twill.repeat_picks()), (n, n));
        let length = |face| twill.longest_float(face).map(|float| float.length);
        assert_eq!(
            length(Face::Front),
            Some(over.max(under)).filter(|l| *l > 1),
            "warp over, weft over"
        );
        assert_eq!(length(Face::Back), Some(over.max(under)).filter(|l| *l > 1));
    }
}

// Intersections in a repeat: Taylor 1909, p. 338 (2/1 twill R 3, I 2; 3/2/2/2 twill R 9, I 4) and
// p. 339 (plain R 2, I 2; 2/2 twill R 4, I 2, from 103 x 8/6).
#[test]
fn intersections_are_those_that_taylor_counts() {
    let twill = |pattern: &[u8]| {
        let n: u8 = pattern.iter().sum();
        let mut up = Vec::new();
        let mut at = 1;
        for (nth, run) in pattern.iter().enumerate() {
            up.extend((at..at + run).filter(|_| nth % 2 == 0));
            at += run;
        }
        let lifts: Vec<Vec<u8>> = (0..n)
            .map(|p| up.iter().map(|s| (s - 1 + p) % n + 1).collect())
            .collect();
        straight(n, 4 * u32::from(n), &lifts)
    };
    for (pattern, r, i) in [
        (&[1u8, 1][..], 2, 2),
        (&[2, 1], 3, 2),
        (&[2, 2], 4, 2),
        (&[3, 2, 2, 2], 9, 4),
    ] {
        let woven = twill(pattern);
        assert_eq!(
            (woven.repeat_ends(), woven.intersections(1)),
            (r, i),
            "{pattern:?}"
        );
    }
}

// Satin: one tie for each end and each pick of the repeat, no two ties touching; the counter moves
// the tie on by a constant step (ISO 3572, from memory). The counters are those printed by
// Wolfensberger 1921: 5:2, 7:2 or 3, 8:3, 9:2 or 4, 10:3, 11:2-5, 12:5, 13:2-6, 14:3 or 5,
// 15:2,4,7, 16:3,5,7; 6 is not listed.
#[test]
fn satins_by_the_printed_counters_tie_every_end_once_and_touch_nowhere() {
    let printed: [(u8, &[u8]); 12] = [
        (5, &[2]),
        (6, &[]),
        (7, &[2, 3]),
        (8, &[3]),
        (9, &[2, 4]),
        (10, &[3]),
        (11, &[2, 3, 4, 5]),
        (12, &[5]),
        (13, &[2, 3, 4, 5, 6]),
        (14, &[3, 5]),
        (15, &[2, 4, 7]),
        (16, &[3, 5, 7]),
    ];
    for (n, counters) in printed {
        let good = (2..=n / 2).filter(|&step| is_satin(&satin(n, step), n));
        assert_eq!(good.collect::<Vec<u8>>(), counters, "satin of {n}");
    }
}

/// Weft satin on n shafts: pick p lifts shaft p x step.
fn satin(n: u8, step: u8) -> Cloth {
    let lift = |p: u16| vec![(p * u16::from(step) % u16::from(n)) as u8 + 1];
    let lifts: Vec<Vec<u8>> = (0..u16::from(n)).map(lift).collect();
    straight(n, 2 * u32::from(n), &lifts)
}

fn is_satin(cloth: &Cloth, n: u8) -> bool {
    let n = u32::from(n);
    let up = |pick: u32, call: u32| cloth.warp_up(pick % n + 1, Call(call % n + 1));
    let once = (0..n).all(|call| (0..n).filter(|&pick| up(pick, call)).count() == 1);
    let apart = (0..n * n).all(|at| {
        let (pick, call) = (at / n, at % n);
        let touching = [(1, 0), (0, 1), (1, 1), (1, n - 1)];
        !up(pick, call) || touching.iter().all(|(p, c)| !up(pick + p, call + c))
    });
    once && apart
}

#[test]
fn a_satin_of_five_floats_over_four_on_the_front_and_back() {
    let satin = satin(5, 2);
    let weft = satin.longest_float(Face::Front).unwrap();
    assert_eq!((weft.length, weft.never_tied), (4, false));
    assert!(matches!(weft.thread, Thread::Pick(_)), "weft on the face");
    let warp = satin.longest_float(Face::Back).unwrap();
    assert_eq!(warp.length, 4);
    assert!(matches!(warp.thread, Thread::End(_)), "warp behind");
}

// Honeycomb, a point draft of 8 ends on 5 shafts in the order 1,2,3,4,5,4,3,2 (Brooks, "drafts");
// Taylor p. 230 and Wolfensberger p. 11 for the point draft's repeat of 2n - 2 ends.
#[test]
fn a_point_draft_turns_the_line_back_on_itself() {
    for n in [4u8, 5, 8, 12] {
        let rise: Vec<u8> = (1..=n).collect();
        let back: Vec<u8> = (2..n).rev().collect();
        let point: Vec<u8> = [rise.clone(), back.clone()].concat();
        let threading = point.repeat(3);
        let lifts: Vec<Vec<u8>> = point.iter().map(|s| vec![*s]).collect();
        let woven = cloth(&threading, &lifts, n, 1);
        let repeat = 2 * u32::from(n) - 2;
        assert_eq!(
            (woven.repeat_ends(), woven.repeat_picks()),
            (repeat, repeat)
        );
        // the diamond is the same from either side: the place of a tie mirrors about the first end
        let fold = |x: u32| (x % repeat).min((repeat - x % repeat) % repeat);
        agrees(&woven, repeat, |pick, call| fold(pick) == fold(call));
    }
}

// A stripe of 20 ends of satin and 16 of plain takes at least 7 shafts and repeats after
// lcm(5, 2) = 10 picks (Taylor p. 227).
#[test]
fn a_stripe_of_satin_and_plain_repeats_after_ten_picks_on_seven_shafts() {
    let mut threading: Vec<u8> = [1, 2, 3, 4, 5].repeat(4);
    threading.extend([6, 7].repeat(8));
    let lifts: Vec<Vec<u8>> = (0..10u8).map(|p| vec![p * 2 % 5 + 1, 6 + p % 2]).collect();
    let stripe = cloth(&threading, &lifts, 7, 10);
    assert_eq!(stripe.repeat_picks(), 10);
    assert_eq!(stripe.repeat_ends(), 36);
    agrees(&stripe, 10, |pick, call| {
        if call < 20 {
            call % 5 == pick * 2 % 5
        } else {
            (call - 20) % 2 == pick % 2
        }
    });
}

#[test]
fn a_sinking_list_weaves_the_other_face() {
    let lists = vec![shafts(&[1, 2]), shafts(&[2, 3])];
    let threading = shafts(&[1, 2, 3, 1]);
    let rising = Cloth::from_lists(&threading, &lists, ShedKind::Rising, 3, 2).unwrap();
    let sinking = Cloth::from_lists(&threading, &lists, ShedKind::Sinking, 3, 2).unwrap();
    agrees(&sinking, 2, |p, c| !rising.warp_up(p + 1, Call(c + 1)));
}

proptest! {
    /// Against the definition crossing by crossing, and floats against a plain count of neighbours.
    #[test]
    fn any_draft_weaves_what_threading_and_lifts_say(
        threading in prop::collection::vec(1u8..=6, 1..40),
        lifts in prop::collection::vec(0u64..64, 1..12),
    ) {
        let lists: Vec<Vec<u8>> = lifts.iter()
            .map(|bits| (1..=6).filter(|s| bits >> (s - 1) & 1 == 1).collect())
            .collect();
        let woven = cloth(&threading, &lists, 6, 30);
        for pick in 1..=30u32 {
            for (at, shaft) in threading.iter().enumerate() {
                let list = &lists[(pick as usize - 1) % lists.len()];
                prop_assert_eq!(woven.warp_up(pick, Call(at as u32 + 1)), list.contains(shaft));
            }
        }
        let over = 2;
        let marks = woven.marks(over);
        let rows = lists.len() as u32;
        let calls = threading.len() as i64;
        for pick in 1..=rows {
            for call in 1..=threading.len() as u32 {
                let up = woven.warp_up(pick, Call(call));
                let along = run(|k| woven.warp_up((i64::from(pick) - 1 + k).rem_euclid(i64::from(rows)) as u32 + 1, Call(call)) == up, i64::from(rows));
                let warp = woven.is_marked(&marks, pick, Call(call), if up { Face::Front } else { Face::Back });
                prop_assert_eq!(warp, along > i64::from(over));
                let across = run(|k| {
                    let c = i64::from(call) + k;
                    (1..=calls).contains(&c) && woven.warp_up(pick, Call(c as u32)) == up
                }, calls);
                let weft = woven.is_marked(&marks, pick, Call(call), if up { Face::Back } else { Face::Front });
                prop_assert_eq!(weft, across > i64::from(over));
            }
        }
    }
}

/// How many neighbours on both sides and the place itself are alike, at most `most`.
fn run(alike: impl Fn(i64) -> bool, most: i64) -> i64 {
    let ahead = (1..most).take_while(|k| alike(*k)).count() as i64;
    let behind = (1..most).take_while(|k| alike(-k)).count() as i64;
    (1 + ahead + behind).min(most)
}

#[test]
fn an_end_that_never_moves_is_named() {
    let woven = cloth(&[1, 2, 3, 1], &[vec![1], vec![2]], 3, 4);
    let loose = woven.never_tied();
    assert_eq!(loose.len(), 1);
    assert_eq!(
        loose[0].thread,
        Thread::End(Call(3)),
        "shaft 3 is never lifted"
    );
}

// A turn catches an end that is up in one of its two picks and down in the other (geometry). In a
// 2/2 straight twill that holds from one side only.
#[test]
fn a_straight_twill_catches_its_edges_from_one_side_only() {
    let twill = "[[1, 2], [2, 3], [3, 4], [1, 4]]";
    let plan_2_2 = plan(4, "1 2 3 4", 40, "jack", twill, "1 2 3 4");
    let woven = Cloth::of(&plan_2_2, 4).unwrap();
    let missed = |side| {
        let edges = woven.edges(Side::Right, side);
        (edges.right.missed, edges.left.missed)
    };
    // by hand: shaft 1 (right edge) is up, down, down, up; shaft 4 (left) down, down, up, up
    assert_eq!(missed(Side::Right), (2, 2));
    assert_eq!(missed(Side::Left), (0, 0));
    assert_eq!(
        woven.edge_advice(&plan_2_2),
        EdgeAdvice::StartFrom(Side::Left)
    );
}

#[test]
fn plain_weave_needs_no_floats_and_an_odd_point_twill_does() {
    let plain = plan(2, "1 2", 40, "jack", "[[1], [2]]", "1 2");
    let woven = Cloth::of(&plain, 2).unwrap();
    assert_eq!(woven.edge_advice(&plain), EdgeAdvice::Caught);
    // both edges on shaft 1: what one side catches the other misses
    let point = plan(
        4,
        "(1 2 3 4 3 2) x6 1",
        37,
        "jack",
        "[[1, 2], [2, 3], [3, 4], [1, 4]]",
        "1 2 3 4",
    );
    let woven = Cloth::of(&point, 4).unwrap();
    assert_eq!(woven.edge_advice(&point), EdgeAdvice::FloatsAdvised);
    let runner = demo("hall-runner.json");
    let woven = Cloth::of(&runner, 4).unwrap();
    assert_eq!(woven.edge_advice(&runner), EdgeAdvice::FloatsThere);
}

#[test]
fn an_odd_number_of_picks_is_followed_twice_round() {
    // three picks: each edge meets every turn of the repeat in six picks
    let three = plan(3, "1 2 3", 30, "jack", "[[1, 2], [2, 3], [1, 3]]", "1 2 3");
    let edges = Cloth::of(&three, 3)
        .unwrap()
        .edges(Side::Right, Side::Right);
    assert_eq!((edges.right.turns, edges.left.turns), (3, 3));
    // shaft 1 is up, down, up: turns 2-3, 1-2 (4-5) and 3-1 (6-7): the last keeps it up
    assert_eq!(edges.right.missed, 1);
}
