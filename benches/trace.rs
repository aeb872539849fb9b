//! How long the next look takes: a batch of 4 to 64 ends with two faults, a warp of 100 to 100,000
//! ends with one. A look in a batch of 24 should take under 10 ms, one in a warp of 10,000 ends under
//! 100 ms. Prints medians and the growth; asserts nothing by the clock.

#![allow(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use endsmeet::fault::{
    Evidence, ReedEvidence, Seen, WarpEvidence, Work, group_end_look, mend, trace, trace_reed,
    trace_warp,
};
use endsmeet::quantity::{Call, Calls, Shaft};
use std::hint::black_box;
use std::time::{Duration, Instant};

/// Median of as many runs as fit about half a second, at least 5.
fn median(mut run: impl FnMut()) -> Duration {
    let mut times = Vec::new();
    let start = Instant::now();
    while times.len() < 5 || (start.elapsed() < Duration::from_millis(500) && times.len() < 1000) {
        let one = Instant::now();
        run();
        times.push(one.elapsed());
    }
    times.sort();
    times[times.len() / 2]
}

fn straight(ends: usize, shafts: u8) -> Vec<Shaft> {
    (1..=shafts).map(Shaft).cycle().take(ends).collect()
}

/// A batch with these counts at its end; the first two shafts differ by what two faults leave.
fn batch(ends: usize, shafts: u8, ends_left: i64, first: i64, second: i64) -> Evidence {
    let mut heddles = vec![0; usize::from(shafts)];
    (heddles[0], heddles[1]) = (first, second);
    let planned = straight(ends, shafts);
    Evidence::report(Call(1), planned, shafts, ends as u32, ends_left, heddles)
}

fn batches() {
    println!("{:<52} {:>12}", "a look in a batch", "median");
    for (ends, shafts) in [
        (4, 4),
        (8, 4),
        (12, 4),
        (24, 4),
        (24, 8),
        (24, 16),
        (48, 16),
        (64, 64),
        (128, 64),
    ] {
        let cases = [
            (
                "skip and repeat, or a wrong shaft",
                batch(ends, shafts, 0, 1, -1),
            ),
            ("two skips", batch(ends, shafts, 2, 1, 1)),
            ("counts even, a look that found something", {
                let mut even = batch(ends, shafts, 0, 0, 0);
                even.seen.push(Seen::Shaft {
                    call: Call(3),
                    shaft: Some(Shaft(2)),
                });
                even
            }),
        ];
        for (name, evidence) in cases {
            let time = median(|| {
                black_box(trace(black_box(&evidence)).is_ok());
            });
            println!("{ends:>4} ends, {shafts:>2} shafts, {name:<27} {time:>12.1?}");
        }
    }
    let planned = straight(24, 8);
    let time = median(|| {
        black_box(group_end_look(Call(1), black_box(&planned), None));
    });
    println!("the look at the end of a group of 24 {time:>28.1?}");
    let evidence = batch(24, 8, 1, 1, 0);
    if let Some(suspect) = trace(&evidence)
        .ok()
        .and_then(|t| t.suspects.first().cloned())
    {
        let work = Work::threading(Call(24));
        let time = median(|| {
            black_box(mend(&evidence, black_box(&suspect), &work).len());
        });
        println!("the ways of mending it {time:>42.1?}");
    }
}

fn warp(ends: usize, ends_left: i64, first: i64) -> WarpEvidence {
    let mut heddles = vec![0; 8];
    heddles[0] = first;
    let size = 16_u32;
    let last = ends as u32;
    let knots = (0..last.div_ceil(size))
        .filter_map(|k| Calls::new(k * size + 1, (k * size + size).min(last)));
    WarpEvidence {
        planned: straight(ends, 8),
        shafts: 8,
        knots: knots.collect(),
        stretch: Calls {
            first: Call(1),
            last: Call(last),
        },
        ends_left,
        heddles_left: Some(heddles),
        seen: Vec::new(),
    }
}

fn warps() {
    println!(
        "\n{:<40} {:>12} {:>10}",
        "a look along a warp", "median", "per end"
    );
    for ends in [100, 1_000, 10_000, 100_000] {
        for (name, evidence) in [
            ("skip", warp(ends, 1, 1)),
            ("doubled or hanging", warp(ends, -1, 0)),
        ] {
            let time = median(|| {
                black_box(trace_warp(black_box(&evidence)).is_ok());
            });
            println!(
                "{ends:>7} ends, {name:<25} {time:>12.1?} {:>10.1?}",
                time / ends as u32
            );
        }
    }
    println!(
        "\n{:<40} {:>12} {:>10}",
        "a look at the reed", "median", "per dent"
    );
    for dents in [100, 1_000, 10_000, 40_000] {
        let evidence = ReedEvidence {
            dents: [1, 2].into_iter().cycle().take(dents).collect(),
            shafts: straight(dents * 3 / 2, 8),
            ends_left: 2,
            tape: None,
            seen: Vec::new(),
        };
        let time = median(|| {
            black_box(trace_reed(black_box(&evidence)).is_ok());
        });
        println!(
            "{dents:>7} dents {time:>40.1?} {:>10.1?}",
            time / dents as u32
        );
    }
}

fn main() {
    batches();
    warps();
}
