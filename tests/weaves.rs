//! The basic weaves as ISO 3572 names them, their lines, moves, interlacings and floats, and the figures
//! that the public-domain handbooks print of them. The standard's text was not to hand: its three
//! definitions stand here from memory, and so do the names of the twills' lines.
//!
//! - plain: a repeat of two ends and two picks, each end over one and under one, its neighbour the other way
//! - twill: a repeat of three or more, each end's tie one pick on from its neighbour's, so a line runs across
//! - satin: a repeat of five or more, one tie for each end and pick, a constant move of two or more, so that
//!   no two ties touch
#![allow(clippy::unwrap_used)]

use endsmeet::plan::{Cloth, Face, ShedKind, Thread};
use endsmeet::quantity::{Call, Shaft};

/// A cloth of these shafts by end, with the lifts pick by pick.
fn woven(threading: &[u8], lifts: &[Vec<u8>], loom: u8) -> Cloth {
    let shafts = |list: &[u8]| -> Vec<Shaft> { list.iter().copied().map(Shaft).collect() };
    let lists: Vec<Vec<Shaft>> = lifts.iter().map(|list| shafts(list)).collect();
    let picks = u32::try_from(lifts.len()).unwrap();
    Cloth::from_lists(&shafts(threading), &lists, ShedKind::Rising, loom, picks).unwrap()
}

/// Threaded straight, `up` shafts raised by the first pick and each pick `step` shafts on.
fn stepped(n: u8, up: &[u8], step: u8, repeats: usize) -> Cloth {
    let threading: Vec<u8> = (1..=n).collect::<Vec<u8>>().repeat(repeats);
    let on = |shaft: u8, pick: u8| {
        ((u16::from(shaft) - 1 + u16::from(pick) * u16::from(step)) % u16::from(n)) as u8 + 1
    };
    let lifts: Vec<Vec<u8>> = (0..n)
        .map(|pick| up.iter().map(|shaft| on(*shaft, pick)).collect())
        .collect();
    woven(&threading, &lifts, n)
}

/// The shafts up in the first pick of a twill that is written 3/2/2/2: up, down, up, down.
fn runs(pattern: &[u8]) -> (u8, Vec<u8>) {
    let (mut at, mut up) = (1, Vec::new());
    for (nth, run) in pattern.iter().enumerate() {
        up.extend((at..at + run).filter(|_| nth % 2 == 0));
        at += run;
    }
    (at - 1, up)
}

fn twill(pattern: &[u8]) -> Cloth {
    let (n, up) = runs(pattern);
    stepped(n, &up, 1, 3)
}

fn float(cloth: &Cloth, face: Face) -> Option<(u32, bool)> {
    let float = cloth.longest_float(face)?;
    Some((float.length, matches!(float.thread, Thread::Pick(_))))
}

/// Picks, modulo the repeat, by which the next end's tie lies higher: every one that fits.
fn moves(cloth: &Cloth) -> Vec<u32> {
    let n = cloth.repeat_picks();
    let up = |pick: u32, end: u32| cloth.warp_up(pick % n + 1, Call(end + 1));
    let fits = |by: &u32| {
        (0..cloth.repeat_ends()).all(|end| (0..n).all(|p| up(p, end) == up(p + by, end + 1)))
    };
    (0..n).filter(fits).collect()
}

// ISO 3572, from memory. Of the four crossings of the repeat two are up; along every thread the face
// changes at every crossing, so there are two interlacings a pick and no float.
#[test]
fn plain_weave_has_every_crossing_tied() {
    let plain = stepped(2, &[1], 1, 6);
    assert_eq!((plain.repeat_ends(), plain.repeat_picks()), (2, 2));
    assert_eq!(moves(&plain), [1]);
    assert_eq!((plain.intersections(1), plain.intersections(2)), (2, 2));
    assert_eq!(
        (float(&plain, Face::Front), float(&plain, Face::Back)),
        (None, None)
    );
}

// ISO 3572, from memory: the move of a twill is one, and one only. Floats by hand from the name: the
// longest run of the pattern. 3/1 has three picks over on the face, and behind it three ends over.
#[test]
fn twills_move_by_one_and_float_over_their_longest_run() {
    for (pattern, n, interlacings, longest) in [
        (&[2u8, 1][..], 3, 2, 2),
        (&[1, 2], 3, 2, 2),
        (&[2, 2], 4, 2, 2),
        (&[3, 1], 4, 2, 3),
        (&[1, 3], 4, 2, 3),
        (&[3, 3], 6, 2, 3),
        (&[4, 4], 8, 2, 4),
        (&[3, 1, 1, 3], 8, 4, 3),
        (&[3, 2, 2, 2], 9, 4, 3),
    ] {
        let cloth = twill(pattern);
        assert_eq!(
            (cloth.repeat_ends(), cloth.repeat_picks()),
            (n, n),
            "{pattern:?}"
        );
        assert_eq!(moves(&cloth), [1], "{pattern:?}");
        assert!(
            (1..=n).all(|pick| cloth.intersections(pick) == interlacings),
            "{pattern:?}"
        );
        for face in [Face::Front, Face::Back] {
            assert_eq!(
                float(&cloth, face).unwrap().0,
                longest,
                "{pattern:?}, {face:?}"
            );
        }
    }
    // which thread floats: the warp over three picks on the face of a 3/1, the weft on its back
    let three = twill(&[3, 1]);
    assert_eq!(float(&three, Face::Front), Some((3, false)));
    assert_eq!(float(&three, Face::Back), Some((3, true)));
    // and the other way on a 1/3
    let one = twill(&[1, 3]);
    assert_eq!(float(&one, Face::Front), Some((3, true)));
    assert_eq!(float(&one, Face::Back), Some((3, false)));
}

// The angle of the line is that of its move: tan = picks by ends at equal setts. One by one is 45
// degrees, two picks an end 63, two ends a pick 27 (geometry; "steep" and "reclining" from memory).
#[test]
fn the_line_of_a_twill_rises_at_the_angle_of_its_move() {
    let degrees =
        |picks: u32, ends: u32| f64::from(picks).atan2(f64::from(ends)).to_degrees().round();
    let line = |cloth: &Cloth| -> (u32, u32) {
        let n = cloth.repeat_picks();
        let first_up = |end: u32| {
            let starts = |p: &u32| {
                cloth.warp_up(*p, Call(end)) && !cloth.warp_up((p + n - 2) % n + 1, Call(end))
            };
            (1..=n).find(starts).unwrap()
        };
        // picks climbed over so many ends until the tie has moved
        let ends = (1..n).find(|k| first_up(1 + k) != first_up(1)).unwrap();
        ((first_up(1 + ends) + n - first_up(1)) % n, ends)
    };
    let even = twill(&[2, 2]);
    assert_eq!(line(&even), (1, 1));
    assert_eq!(degrees(1, 1), 45.0);
    // by hand: end 1 over picks 1 to 3, end 2 over 3 to 5, end 3 over 5 to 2, two picks on each time
    let lifts = [
        vec![1, 3, 5],
        vec![1, 3, 4],
        vec![1, 2, 4],
        vec![2, 4, 5],
        vec![2, 3, 5],
    ];
    let steep = woven(&[1, 2, 3, 4, 5].repeat(3), &lifts, 5);
    assert_eq!((moves(&steep), line(&steep)), (vec![2], (2, 1)));
    assert_eq!(degrees(2, 1), 63.0);
    // every end twice on its shaft: one pick for two ends
    let threading: Vec<u8> = [1, 1, 2, 2, 3, 3, 4, 4].repeat(2);
    let lifts = [vec![1, 2], vec![2, 3], vec![3, 4], vec![4, 1]];
    let reclining = woven(&threading, &lifts, 4);
    assert_eq!(line(&reclining), (1, 2));
    assert_eq!(degrees(1, 2), 27.0);
    // the treadling turned about turns the line about: the next end's tie is one pick earlier
    let turned: Vec<Vec<u8>> = lifts.iter().rev().cloned().collect();
    let other_hand = woven(&[1, 2, 3, 4].repeat(3), &turned, 4);
    assert_eq!(
        moves(&other_hand),
        [3],
        "three on in a repeat of four is one back"
    );
}

// ISO 3572, from memory. The counters are those that Wolfensberger 1921 prints (table of counters;
// 6 is not listed). A counter c of n has n - c, c's inverse and its complement beside it: the same cloth
// turned. By hand: one tie a pick, so two interlacings a pick; floats over n - 1 on both faces.
#[test]
fn satins_tie_once_and_float_over_all_but_one() {
    for (n, counters) in [
        (5u8, &[2u8][..]),
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
    ] {
        for counter in counters {
            let cloth = stepped(n, &[1], *counter, 2);
            let all = u32::from(n);
            assert_eq!((cloth.repeat_ends(), cloth.repeat_picks()), (all, all));
            assert_eq!(
                float(&cloth, Face::Front),
                Some((all - 1, true)),
                "{n}:{counter}"
            );
            assert_eq!(
                float(&cloth, Face::Back),
                Some((all - 1, false)),
                "{n}:{counter}"
            );
            assert!((1..=all).all(|pick| cloth.intersections(pick) == 2));
            // the counter goes from pick to pick; from end to end the move is its inverse in n
            let by = moves(&cloth);
            assert_eq!(by.len(), 1, "{n}:{counter}");
            assert_eq!(by[0] * u32::from(*counter) % all, 1, "{n}:{counter}");
            assert!(by[0] >= 2 && by[0] <= all - 2, "no two ties touch");
        }
    }
    // by hand, the satin of five with counter 2: ends 1, 3, 5, 2, 4 are up in picks 1 to 5
    let five = stepped(5, &[1], 2, 1);
    let up: Vec<u32> = (1..=5)
        .map(|pick| (1..=5).find(|end| five.warp_up(pick, Call(*end))).unwrap())
        .collect();
    assert_eq!(up, [1, 3, 5, 2, 4]);
    assert_eq!(moves(&five), [3], "2 x 3 = 6, one round and one");
    // six has none: 2, 3 and 4 share a factor with it, so ends stay untied or the line is a twill's
    for counter in 2..=4 {
        assert_ne!(
            stepped(6, &[1], counter, 1).never_tied().len(),
            0,
            "{counter}"
        );
    }
}

// Taylor 1909: setts from R ends and I intersections of a repeat, sett = D x R / (R + I).
// P. 338: 2/1 twill of 24s (D 135) 81; 3/2/2/2 twill of 44s (D 183) 126, print cut short from 126.69.
// P. 339: plain 103 gives a 2/2 twill of the same firmness 137 1/3.
#[test]
fn the_setts_that_taylor_works_out_follow_from_the_interlacings() {
    let share = |cloth: &Cloth| {
        let (r, i) = (
            f64::from(cloth.repeat_ends()),
            f64::from(cloth.intersections(1)),
        );
        r / (r + i)
    };
    assert_eq!(135.0 * share(&twill(&[2, 1])), 81.0);
    assert_eq!((183.0 * share(&twill(&[3, 2, 2, 2]))).floor(), 126.0);
    let (plain, two) = (share(&stepped(2, &[1], 1, 2)), share(&twill(&[2, 2])));
    assert!((103.0 * two / plain - (137.0 + 1.0 / 3.0)).abs() < 1e-9);
}

// Taylor 1909, p. 328-329: intersections in an inch. A satin of 5 with 180 picks has 72; plain weave has as
// many as picks (printed "as ends", a slip of the print), and so 120 x 4 / 70 = 6 6/7 % and 60 x 3 / 40 =
// 4 1/2 % of contraction.
#[test]
fn the_intersections_in_an_inch_are_those_of_taylors_examples() {
    let in_an_inch = |cloth: &Cloth, picks: f64| {
        let along: u32 = (1..=cloth.repeat_picks())
            .map(|pick| cloth.intersections(pick))
            .sum();
        picks * f64::from(along) / f64::from(cloth.repeat_ends()) / f64::from(cloth.repeat_picks())
    };
    let satin = stepped(5, &[1], 2, 2);
    let plain = stepped(2, &[1], 1, 2);
    assert_eq!(in_an_inch(&satin, 180.0), 72.0);
    assert_eq!(in_an_inch(&plain, 120.0) * 4.0 / 70.0, 48.0 / 7.0);
    assert_eq!(in_an_inch(&plain, 60.0) * 3.0 / 40.0, 4.5);
}

// Brooks, "drafts": the skip draft 1, 3, 2, 4. Wolfensberger p. 9: 1, 3, 5, 7, 2, 4, 6, 8. The front half of
// the shafts against the back half (odd calls against even) is plain weave on both.
#[test]
fn skip_drafts_weave_plain_with_the_shafts_in_halves() {
    for draft in [&[1u8, 3, 2, 4][..], &[1, 3, 5, 7, 2, 4, 6, 8]] {
        let half =
            |from: usize| -> Vec<u8> { draft.iter().copied().skip(from).step_by(2).collect() };
        let cloth = woven(&draft.repeat(2), &[half(0), half(1)], 8);
        assert_eq!(
            (cloth.repeat_ends(), cloth.repeat_picks()),
            (2, 2),
            "{draft:?}"
        );
        assert_eq!(cloth.longest_float(Face::Front), None);
    }
}

// Wolfensberger p. 13: a section draw, eight ends straight on 1 to 4, then two on 5 and 6. By hand: the
// first section as 2/2 twill beside plain on the second. Ends 1 2 3 4 1 2 3 4 5 6; pick 1 raises 1, 2 and 5,
// pick 2 raises 2, 3 and 6, pick 3 raises 3, 4 and 5, pick 4 raises 4, 1 and 6.
#[test]
fn a_section_draw_has_a_weave_for_each_section() {
    let draw = [1, 2, 3, 4, 1, 2, 3, 4, 5, 6];
    let lifts = [vec![1, 2, 5], vec![2, 3, 6], vec![3, 4, 5], vec![4, 1, 6]];
    let cloth = woven(&draw.repeat(3), &lifts, 6);
    assert_eq!((cloth.repeat_ends(), cloth.repeat_picks()), (10, 4));
    // pick 3, two repeats: . . X X . . X X X . | . . X X: end 7, 8 and 9 up is three together, and the
    // tenth with the next repeat's first two is three down
    let three: Vec<bool> = (1..=13).map(|end| cloth.warp_up(3, Call(end))).collect();
    let by_hand = "..XX..XXX...X".chars().map(|c| c == 'X');
    assert_eq!(three, by_hand.collect::<Vec<bool>>());
    assert_eq!(float(&cloth, Face::Front).unwrap().0, 3);
    assert_eq!(float(&cloth, Face::Back).unwrap().0, 3);
}

// Taylor p. 230, Wolfensberger p. 11 and Brooks, "drafts": a point draft has 2n - 2 ends, the first and the
// last shaft once, the others twice. By hand on four shafts with a 2/2: at the point ends 3 4 3 are down
// together in pick 1, and 2 1 2 up, so the weft floats over three there, the warp over two everywhere.
#[test]
fn a_point_twill_floats_over_three_at_its_points() {
    let cloth = woven(
        &[1, 2, 3, 4, 3, 2].repeat(3),
        &[vec![1, 2], vec![2, 3], vec![3, 4], vec![4, 1]],
        4,
    );
    assert_eq!((cloth.repeat_ends(), cloth.repeat_picks()), (6, 4));
    assert_eq!(float(&cloth, Face::Front), Some((3, true)));
    assert_eq!(float(&cloth, Face::Back), Some((3, true)));
    let counts = |n: u8| -> Vec<usize> {
        let point: Vec<u8> = (1..=n).chain((2..n).rev()).collect();
        (1..=n)
            .map(|s| point.iter().filter(|p| **p == s).count())
            .collect()
    };
    assert_eq!(
        counts(5),
        [1, 2, 2, 2, 1],
        "Brooks's honeycomb on five healds"
    );
    assert_eq!(counts(8).iter().sum::<usize>(), 14, "Taylor's eight staves");
    assert_eq!(
        counts(12).iter().sum::<usize>(),
        22,
        "Wolfensberger's twelve shafts"
    );
}
