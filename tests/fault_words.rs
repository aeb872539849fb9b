//! What the tracing says, word for word: each message says what is, and ends with the next move.

use endsmeet::fault::{
    Evidence, ReedEvidence, Seen, WarpEvidence, WarpLook, Work, mend, read_back, trace, trace_reed,
    trace_warp,
};
use endsmeet::plan::{Plan, read_spec, work_out};
use endsmeet::quantity::{Call, Calls, Shaft};
use endsmeet::words::{fault_ways, fault_words, trace_words};

fn shafts(list: &[u8]) -> Vec<Shaft> {
    list.iter().map(|&s| Shaft(s)).collect()
}

fn skipped() -> Evidence {
    let planned = shafts(&[1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2]);
    Evidence::report(Call(49), planned, 4, 12, 1, vec![0, 0, 0, 1])
}

fn said(evidence: &Evidence) -> Vec<String> {
    fault_words::tracing(&trace(evidence).expect("possible evidence"), evidence, 5)
}

#[test]
fn an_open_trace_says_the_places_and_ends_with_the_look() {
    assert_eq!(
        said(&skipped()),
        [
            " 48 %  call 52, shaft 4, was passed over.",
            " 48 %  call 58, shaft 4, was passed over.",
            "Look: which shaft holds the 3rd heddle of handful 3 in the knot of batch 5? Count filled heddles only. Type the shaft; 0 for none. (--seen 57=SHAFT)",
        ]
    );
}

#[test]
fn a_settled_trace_shows_the_heddles_and_ends_with_the_mending() {
    let mut evidence = skipped();
    evidence.seen.push(Seen::Shaft {
        call: Call(55),
        shaft: Some(Shaft(2)),
    });
    assert_eq!(
        said(&evidence),
        [
            " 97 %  call 52, shaft 4, was passed over.",
            "planned:  1  2  3  4  3  2  1  2  3  4  3  2",
            "stands:   1  2  3  .  3  2  1  2  3  4  3  2",
            "                   ^",
            "Or: leave it as it is; the cloth will show it.",
            "Or: leave what stands and change the plan to it.",
            "Or: hang a repair heddle on shaft 4 before the 4th heddle of the knot, enter an added end, weighted over the back beam, on shaft 4 before the 4th heddle of the knot: 1 end in, 1 knot, 1 repair heddle, 1 end added, 1 end taken out, about 5 min.",
            "Or: draw out from the 4th heddle of the knot on and thread that again: 8 ends out, 9 ends in, 1 knot, about 2 min.",
            "Mend: draw the batch out and thread it again: 11 ends out, 12 ends in, 1 knot, about 3 min.",
        ]
    );
}

#[test]
fn counts_that_agree_are_not_called_right_and_end_with_a_look() {
    let planned = shafts(&[1, 2, 3, 4, 1, 2, 3, 4]);
    let lines = said(&Evidence::report(Call(1), planned, 4, 8, 0, vec![0; 4]));
    assert_eq!(
        lines[0],
        "The counts agree. That does not say that the batch is right."
    );
    assert!(
        lines
            .last()
            .unwrap()
            .starts_with("Look: lift the odd shafts"),
        "{lines:?}"
    );
}

#[test]
fn what_no_two_faults_explain_ends_with_threading_again_and_its_price() {
    let evidence = Evidence {
        ends_left: -5,
        heddles_left: vec![2, 0, -2, 2],
        ..skipped()
    };
    assert_eq!(
        said(&evidence),
        [
            "No one or two mistakes explain this. Draw the batch out and thread it again: 12 ends, about 3 min."
        ]
    );
}

#[test]
fn a_doubted_answer_is_said() {
    let seen = |call, shaft| Seen::Shaft {
        call: Call(call),
        shaft: Some(Shaft(shaft)),
    };
    let evidence = Evidence {
        seen: vec![seen(54, 1), seen(55, 4), seen(56, 3)],
        ..skipped()
    };
    assert_eq!(
        said(&evidence)[0],
        "One answer speaks against the rest: call 55 on shaft 4."
    );
    let look = said(&evidence).pop().unwrap();
    assert!(look.starts_with("Look once more: "), "{look}");
    // the same answer twice is believed; another one leaves the first out
    let evidence = Evidence {
        seen: vec![seen(54, 1), seen(55, 4), seen(56, 3), seen(55, 2)],
        ..skipped()
    };
    assert_eq!(
        said(&evidence)[0],
        "One answer does not go with the others and is left out: call 55 on shaft 4. Look there again."
    );
}

#[test]
fn an_exchange_is_shown_under_the_plan() {
    let columns = read_back(&shafts(&[1, 2, 3, 4]), &shafts(&[1, 3, 2]), true);
    assert_eq!(
        fault_words::under_each_other(&columns),
        [
            "planned:  1  2  3  4",
            "stands:   1  3  2  .",
            "             ^  ^"
        ]
    );
}

#[test]
fn every_way_and_every_move_has_words() {
    let evidence = skipped();
    for suspect in trace(&evidence).unwrap().suspects {
        for way in mend(&evidence, &suspect, &Work::threading(Call(120))) {
            let text = fault_ways::way(&way, evidence.first);
            assert!(text.ends_with('.') && text.len() > 10, "{text}");
            for step in &way.moves {
                assert!(!fault_ways::step(step, evidence.first).is_empty());
            }
        }
    }
}

/// The demo's runner: 277 ends at 20 to the inch.
fn runner() -> Plan {
    let text = r#"{ "endsmeet": 1, "title": "Hall runner", "units": "in", "sett": 20, "ends": 277,
        "threading": "(1 2 3 4 3 2) x46 1", "floating_selvedges": "added", "sley_from": "left",
        "reeds": [{"dents": 10, "per": "in", "length": 24}] }"#;
    let figures = work_out(&read_spec(text).expect("a plan"));
    figures
        .plan()
        .unwrap_or_else(|| panic!("{:?}", figures.problems))
}

#[test]
fn a_group_where_two_stages_disagree_starts_a_trace_of_the_warp() {
    let plan = runner();
    let group = plan.groups[4].calls;
    let stretch = Calls::new(group.first.0, 277).unwrap();
    let evidence = WarpEvidence::of_plan(&plan, stretch, 1, Some(vec![0, 0, 0, 1]));
    let tracing = trace_warp(&evidence).unwrap();
    assert!(
        tracing
            .suspects
            .iter()
            .all(|s| stretch.contains(s.calls.first))
    );
    assert_eq!(
        trace_words::warp_suspect(&tracing.suspects[0]),
        "a call was passed over somewhere in ends 82 to 274."
    );
    let look = tracing.look.unwrap();
    let asked = trace_words::warp_look(&look, None, None, &plan);
    assert!(asked.contains("Type "), "{asked}");
    let shaft = WarpLook::Shaft { call: Call(146) };
    let place = endsmeet::dressing::Dressing::new(plan.clone(), &[]).place_of(Call(146));
    // sleyed from the left, so the odd end has the last dent at the right, beside the float: the
    // 146th end lies in the 75th dent from there, its middle at 74 1/2 tenths of an inch
    assert_eq!(
        trace_words::warp_look(&shaft, place, None, &plan),
        "which shaft holds the 2nd heddle of handful 1 in the knot of batch 13, about 7 1/2 in from the right edge of the warp? Count filled heddles only. Type the shaft; 0 for none."
    );
}

#[test]
fn a_group_of_the_reed_is_taken_from_the_plan_in_the_order_of_sleying() {
    let plan = runner();
    let group = plan.groups[2].calls;
    let mut evidence = ReedEvidence::of_plan(&plan, group, 0, None);
    evidence.ends_left = i64::from(*evidence.dents.last().unwrap());
    assert_eq!(evidence.dents.iter().sum::<u32>(), 20);
    // sleyed from the left, threaded from the right: the group's last end is sleyed first
    assert_eq!(evidence.shafts.len(), 20);
    assert_eq!(
        evidence.shafts[0],
        plan.threading[group.last.0 as usize - 1]
    );
    let tracing = trace_reed(&evidence).unwrap();
    let look = tracing.look.unwrap();
    let reed = endsmeet::dressing::view::ReedView {
        group: 3,
        ends_left: evidence.ends_left,
        tape: None,
        tracing: tracing.clone(),
        dents: Vec::new(),
    };
    assert!(trace_words::reed_look(&look, &reed, plan.units).contains("Type "));
    let suspect = trace_words::reed_suspect(&tracing.suspects[0], &reed, plan.units);
    assert!(suspect.starts_with("the "), "{suspect}");
}

#[test]
fn time_is_said_in_whole_minutes_and_hours() {
    assert_eq!(fault_ways::time(12.0), "1 min");
    assert_eq!(fault_ways::time(200.0), "3 min");
    assert_eq!(fault_ways::time(12_000.0), "3 h 20 min");
}
