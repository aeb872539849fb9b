//! How long a plan takes, from 100 to 100,000 ends, and a large draft file: the time for one end should
//! stay the same (linear growth). Prints medians; asserts nothing by the clock.

#![allow(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use endsmeet::plan::wif::{read_wif, spec_of_wif};
use endsmeet::plan::{Side, json::plan_value, read_spec, spec_value, work_out};
use std::fmt::Write;
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

fn plan_text(ends: u32) -> String {
    format!(
        r#"{{"title": "bench", "sett": 20, "ends": {ends}, "threading": "(1 2 3 4 5 6 7 8 7 6 5 4 3 2)",
        "floating_selvedges": "added", "sley_from": "left", "loom": {{"shafts": 8}},
        "reeds": [{{"dents": 8, "length": 5000}}], "length": {{"finished": 60}},
        "yarns": [{{"name": "a", "size": "8/2 cotton"}}]}}"#
    )
}

/// A draft of 10,000 ends on 40 shafts without a repeat, with a lift plan of 2,000 picks.
fn draft_text(ends: u32, shafts: u32) -> String {
    let mut text = format!("[WIF]\nVersion=1.1\n[WEAVING]\nShafts={shafts}\n[THREADING]\n");
    let mut shaft = 1;
    for end in 1..=ends {
        shaft = (shaft * 7 + end) % shafts;
        let _ = writeln!(text, "{end}={}", shaft + 1);
    }
    text.push_str("[LIFTPLAN]\n");
    for pick in 1..=2000 {
        let _ = writeln!(
            text,
            "{pick}={},{},{}",
            pick % shafts + 1,
            pick % 7 + 1,
            pick % 13 + 1
        );
    }
    text
}

fn main() {
    println!(
        "{:<34} {:>10} {:>12} {:>10}",
        "", "ends", "median", "ns an end"
    );
    for ends in [100, 1_000, 10_000, 100_000] {
        let text = plan_text(ends);
        row(
            "plan: text to finished plan",
            ends,
            median(|| {
                let spec = read_spec(black_box(&text)).unwrap_or_default();
                black_box(work_out(&spec).plan());
            }),
        );
        let spec = read_spec(&text).unwrap_or_default();
        row(
            "plan: as JSON text",
            ends,
            median(|| {
                black_box(plan_value(&work_out(&spec)).to_string());
            }),
        );
        row(
            "plan: stored and read back",
            ends,
            median(|| {
                let stored = spec_value(&work_out(&spec).spec).to_string();
                black_box(read_spec(&stored).map(|s| work_out(&s).plan()).ok());
            }),
        );
        if ends >= 1_000 {
            let draft = draft_text(ends, 40);
            row(
                "draft of 40 shafts: file to plan",
                ends,
                median(|| {
                    let Ok((wif, _)) = read_wif(black_box(draft.as_bytes())) else {
                        return;
                    };
                    let Ok((mut spec, _)) = spec_of_wif(&wif, Side::Right) else {
                        return;
                    };
                    spec.title = Some("draft".into());
                    spec.sett = Some(endsmeet::quantity::Fraction::whole(40));
                    black_box(work_out(&spec).plan());
                }),
            );
        }
    }
}

fn row(what: &str, ends: u32, time: Duration) {
    let each = time.as_nanos() / u128::from(ends);
    println!(
        "{what:<34} {ends:>10} {:>12} {each:>10}",
        format!("{:.3} ms", time.as_secs_f64() * 1e3)
    );
}
