//! Something is wrong, said on the full screen: keys in, screen out. Every report that a typed line can
//! make is made here by keys, and by one button.

#![allow(clippy::unwrap_used)]

mod common;
mod desk;

use common::{ask, demo, lead, small};
use desk::{COLOUR, Desk, at_desk, quick, shown, wait_for_light};
use endsmeet::dressing::state::BrokenEnd;
use endsmeet::dressing::view::{Asked, Disagreeing};
use endsmeet::dressing::{
    Answer, Ask, Choice, Dressing, Look, Mismatch, Mood, Question, Refusal, View,
};
use endsmeet::fault::{Fault, FaultKind, Found, ReedFault, ReedSeen, WayKind};
use endsmeet::hand::{Key, Settings};
use endsmeet::method::{Method, Stage};
use endsmeet::plan::Side;
use endsmeet::quantity::{Call, Shaft};
use endsmeet::terminal::line_words::{Typed, read};
use endsmeet::words::choices::choice_words;
use endsmeet::words::{page, status};
use proptest::prelude::*;

/// The runner with its seventh batch called.
fn threading() -> Dressing {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::Call(c) if c.batch.number == 7),
    );
    d
}

fn sleying() -> Dressing {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Sley(s) if s.nth == 5));
    d
}

/// Presses the number of the line that holds this text.
fn choose(desk: &mut Desk, text: &str) {
    let screen = desk.text();
    let row = screen.lines().find(|row| row.contains(text));
    let row = row.unwrap_or_else(|| panic!("{text:?} is not on\n{screen}"));
    let number: String = row.trim_start_matches(['>', ' ']).chars().take(1).collect();
    desk.keys(&number);
}

fn number(desk: &mut Desk, n: u32) {
    for digit in n.to_string().chars() {
        desk.press(Key::Char(digit));
    }
    desk.keys("enter");
}

/// F7, then these lines of lists and numbers.
fn says(d: &Dressing, parts: &[&str]) -> Dressing {
    let ((), after) = at_desk(d, quick(), |desk| {
        desk.keys("f7");
        for part in parts {
            match part.parse() {
                Ok(n) => number(desk, n),
                Err(_) => choose(desk, part),
            }
        }
    });
    after
}

fn found(d: &Dressing) -> Option<Found> {
    match d.mood() {
        Mood::Disagreeing(Mismatch::Found(found)) => Some(*found),
        _ => None,
    }
}

#[test]
fn a_broken_end_is_said_by_knot_by_number_by_edge_or_as_not_known() {
    let broken = |parts: &[&str]| -> BrokenEnd {
        let d = says(&threading(), &[&["an end broke"], parts].concat());
        assert_eq!(d.record().broken.len(), 1, "{parts:?}");
        d.record().broken[0]
    };
    // knots hold 12 ends each: the sixth of knot 5 is end 54
    let by_knot = broken(&["an end in a heddle", "5", "6"]);
    assert_eq!(
        (by_knot.call, by_knot.stage),
        (Some(Call(54)), Stage::Thread)
    );
    assert_eq!(
        broken(&["an end in a heddle", "0", "200"]).call,
        Some(Call(200))
    );
    let float = broken(&["floating selvedge at the left"]);
    assert_eq!((float.call, float.float), (None, Some(Side::Left)));
    let unknown = broken(&["not known"]);
    assert_eq!((unknown.call, unknown.float), (None, None));
    // after threading a place is said by group: the runner's hold 20
    let d = says(
        &sleying(),
        &["an end broke", "an end in a heddle", "3", "1"],
    );
    assert_eq!(d.record().broken[0].call, Some(Call(41)));
}

#[test]
fn mistakes_in_the_heddles_are_said_with_their_place() {
    let wrong = says(
        &threading(),
        &["mistake in the heddles", "another shaft", "5", "6", "4"],
    );
    let fault = Fault::at(FaultKind::WrongShaft, Call(54), Shaft(4));
    assert_eq!(found(&wrong), Some(Found::InHeddles(fault)));
    for (text, kind) in [
        ("call was passed over", FaultKind::PositionSkipped),
        ("threaded twice", FaultKind::PositionRepeated),
        ("two ends are in one heddle", FaultKind::EndsDoubled),
        ("in no heddle", FaultKind::EndHanging),
        ("neighbours are exchanged", FaultKind::NeighboursExchanged),
    ] {
        let d = says(&threading(), &["mistake in the heddles", text, "5", "6"]);
        let Some(Found::InHeddles(fault)) = found(&d) else {
            panic!("{text}: {:?}", d.mood());
        };
        assert_eq!((fault.kind, fault.call), (kind, Some(Call(54))), "{text}");
    }
}

#[test]
fn mistakes_in_the_reed_are_said_with_their_place() {
    for (text, kind) in [
        ("two ends cross", ReedFault::EndsCrossed),
        ("a dent was passed over", ReedFault::DentSkipped),
        ("one end too many", ReedFault::EndTooMany),
        ("one end too few", ReedFault::EndTooFew),
    ] {
        // the runner is sleyed from the left, so its last groups are in the reed first
        let d = says(&sleying(), &["mistake in the reed", text, "13", "5"]);
        assert_eq!(found(&d), Some(Found::InReed(kind, Call(245))), "{text}");
    }
}

#[test]
fn reading_back_tracing_the_cloth_and_what_was_left_open_begin_from_the_list() {
    let reads = |parts: &[&str]| {
        let d = says(&threading(), &[&["read the shafts back"], parts].concat());
        match d.mood() {
            Mood::Asking(Question::Look {
                look: Look::ReadBack { calls },
                ..
            }) => (calls.first.0, calls.last.0),
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(reads(&["2"]), (13, 24));
    assert_eq!(reads(&["0"]), (1, 72));
    let d = says(&threading(), &["off farther back", "2"]);
    assert!(
        matches!(d.mood(), Mood::Asking(Question::Look { look: Look::BatchesKnotted { first }, .. }) if *first == Call(41)),
        "{:?}",
        d.mood()
    );
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Shed(_)));
    let d = says(&d, &["looks wrong in a shed"]);
    assert!(matches!(d.mood(), Mood::Asking(Question::Sighting(_))));
}

/// What was left open and makes two stages disagree is taken up from the list.
#[test]
fn what_was_left_open_is_taken_up_from_the_list() {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::UsedUp(u) if u.batch.number == 3),
    );
    ask(&mut d, &Ask::Uneven).unwrap();
    ask(&mut d, &Ask::Answer(Answer::Number(1))).unwrap();
    let heddles = Answer::Numbers(vec![0, 1, 0, 0]);
    ask(&mut d, &Ask::Answer(heddles)).unwrap();
    ask(&mut d, &Ask::Choose(Choice::LeaveOpen)).unwrap();
    assert!(d.about().disagreement.is_some());
    let d = says(&d, &["take up what was left open"]);
    assert!(
        matches!(d.view(), View::Disagreeing(v) if matches!(v.what, Disagreeing::Batch { .. })),
        "{:?}",
        d.mood()
    );
}

#[test]
fn only_what_can_be_said_is_listed_and_a_number_that_cannot_be_is_said_again() {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    at_desk(&d, quick(), |desk| {
        desk.keys("f7");
        let text = desk.text();
        assert!(text.contains("1 an end broke"), "{text}");
        assert!(
            !text.contains("heddles") && !text.contains("reed"),
            "{text}"
        );
        desk.keys("esc");
        assert!(!desk.text().contains("an end broke"));
    });
    // while a look is open an end may still break
    lead(
        &mut d,
        |d| matches!(d.view(), View::Asking(a) if matches!(a.asked, Asked::Look { .. })),
    );
    let before = d.mood().clone();
    let d = says(&d, &["an end broke", "not known"]);
    assert_eq!((d.record().broken.len(), d.mood()), (1, &before));
    at_desk(&threading(), quick(), |desk| {
        desk.keys("f7");
        choose(desk, "mistake in the heddles");
        choose(desk, "another shaft");
        number(desk, 99);
        let text = desk.text();
        assert!(
            text.contains("99 cannot be: from 0 to 6 is possible"),
            "{text}"
        );
        number(desk, 5);
        number(desk, 6);
        // the plan has end 54 on shaft 2: that is no mistake
        let planned = desk.sitting.dressing().plan().threading[53].0;
        number(desk, u32::from(planned));
        assert!(desk.text().contains("It cannot be that"), "{}", desk.text());
        // one part back, and at last the work as it was
        desk.keys("back");
        assert!(desk.text().contains("Knot 5 holds"), "{}", desk.text());
        desk.keys("back back back back");
        assert!(desk.text().contains("Batch 7"), "{}", desk.text());
        assert!(found(desk.sitting.dressing()).is_none());
    });
}

/// The list and its questions at both sizes, as a weaver sees them.
#[test]
fn the_report_as_it_looks() {
    for (size, name) in [((80, 24), "small"), ((120, 40), "large")] {
        let of = |keys: &str| shown(&threading(), keys, COLOUR, size);
        insta::assert_snapshot!(format!("what_is_wrong_{name}"), of("f7"));
        insta::assert_snapshot!(format!("which_knot_{name}"), of("f7 2 1"));
    }
}

/// The menu and lit lines and digits, nothing else: an end on another shaft, said with one button.
#[test]
fn one_button_says_what_is_wrong() {
    let settings = Settings {
        one_button: true,
        ..Settings::default()
    };
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::UsedUp(_)));
    let ((), d) = at_desk(&d, settings, |desk| {
        desk.keys("tab");
        take(desk, "something is wrong");
        let gives = |desk: &mut Desk, digit: &str| {
            take(desk, digit);
            take(desk, "done");
        };
        for line in [
            "I see a mistake in the heddles",
            "an end is on another shaft",
        ] {
            // a press lights the list, which takes nothing
            desk.press(Key::Space);
            take(desk, line);
        }
        gives(desk, "1");
        gives(desk, "3");
        gives(desk, "1");
    });
    let fault = Fault::at(FaultKind::WrongShaft, Call(3), Shaft(1));
    assert_eq!(found(&d), Some(Found::InHeddles(fault)));
}

fn take(desk: &mut Desk, word: &str) {
    wait_for_light(desk, word);
    desk.press(Key::Space);
}

/// With one button a report can be left: GO BACK is lit first where a number is asked, and the last line
/// of every list goes back.
#[test]
fn one_button_leaves_a_report_without_saying_anything() {
    let settings = Settings {
        one_button: true,
        ..Settings::default()
    };
    let d = threading();
    let entries = d.entries();
    let ((), d) = at_desk(&d, settings, |desk| {
        desk.keys("tab");
        take(desk, "something is wrong");
        desk.press(Key::Space);
        take(desk, "read the shafts back as they stand");
        take(desk, "go back");
        desk.press(Key::Space);
        take(desk, "none of these: go back");
        assert!(desk.text().contains("Batch 7"), "{}", desk.text());
    });
    assert_eq!(d.entries(), entries);
}

/// A group that was sleyed long ago is traced too, also after tying on; sleyed again it loses its bundles.
#[test]
fn any_sleyed_group_is_traced_in_the_reed() {
    let mut tied = Dressing::new(demo("hall-runner.json"), &[]);
    lead(
        &mut tied,
        |d| matches!(d.view(), View::Tie(t) if t.bundle.number == 9),
    );
    for d in [sleying(), tied] {
        // from the left the thirteenth group is among the first that were sleyed
        let d = says(&d, &["a sleyed group do not come out", "13"]);
        let Mood::Asking(Question::ReedEnds { calls }) = d.mood() else {
            panic!("{:?}", d.mood());
        };
        assert_eq!((calls.first.0, calls.last.0), (241, 260));
        // no end too many or too few, the last filled dent one too far, the third of the group empty
        let number = |n| Ask::Answer(Answer::Number(n));
        let mut d = d.clone();
        ask(&mut d, &number(0)).unwrap();
        ask(&mut d, &number(1)).unwrap();
        let seen = ReedSeen::EmptyDent { dent: Some(3) };
        ask(&mut d, &Ask::Answer(Answer::ReedSeen(seen))).unwrap();
        // two in a dent from end 277 down: 260 lies with 261, then 259 258, and 257 should be in the third
        let skipped = Found::InReed(ReedFault::DentSkipped, Call(257));
        assert_eq!(found(&d), Some(skipped));
        let again = Choice::Way(WayKind::FromTheFault);
        let View::Disagreeing(view) = d.view() else {
            panic!("{:?}", d.view());
        };
        // nothing is threaded again in the reed
        let said = choice_words(&view, again, d.plan());
        assert!(
            said.contains("out of the reed and sley them again"),
            "{said}"
        );
        ask(&mut d, &Ask::Choose(again)).unwrap();
        let page = page(&d.view(), d.plan(), &Method::embedded());
        let heading = "Mending group 13 in the reed: move 1 of";
        assert!(page.heading.starts_with(heading), "{}", page.heading);
        assert!(!page.lines.join(" ").contains("thread"), "{:?}", page.lines);
        lead(&mut d, |d| !matches!(d.view(), View::Mending(_)));
        assert!(matches!(d.view(), View::Sley(_)), "{:?}", d.view());
        lead(&mut d, |d| matches!(d.view(), View::Ready(_)));
    }
    let mut d = sleying();
    let refused = ask(&mut d, &Ask::TraceReed { group: 2 });
    assert_eq!(refused, Err(Refusal::NotSleyed { said: 2 }));
}

/// A loom of twelve shafts with a plan on four: the eight bare ones are not asked one by one.
#[test]
fn heddles_of_bare_shafts_are_not_asked() {
    let plan = common::plan_from(
        &common::SMALL
            .replace("\"shafts\": 4", "\"shafts\": 12")
            .replace("\"1 2 3 4\"", "\"1 2 5 12\"")
            .replace(
                "[10, 10, 10, 10]",
                "[10, 10, 0, 0, 10, 0, 0, 0, 0, 0, 0, 10]",
            ),
    );
    let mut d = Dressing::new(plan, &[]);
    lead(&mut d, |d| matches!(d.view(), View::UsedUp(_)));
    ask(&mut d, &Ask::Uneven).unwrap();
    let ((), after) = at_desk(&d, quick(), |desk| {
        number(desk, 1);
        for shaft in [1, 2, 5, 12] {
            let text = desk.text();
            assert!(text.contains(&format!("left on shaft {shaft}?")), "{text}");
            number(desk, u32::from(shaft == 5));
        }
    });
    let report = |d: &Dressing| match d.mood() {
        Mood::Disagreeing(Mismatch::Batch { heddles_left, .. }) => heddles_left.clone(),
        other => panic!("{other:?}"),
    };
    assert_eq!(report(&after), [0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0]);
    // typed: one number for each shaft that holds heddles, or one for each of the loom
    for line in ["0 0 1 0", "0 0 0 0 1 0 0 0 0 0 0 0"] {
        let mut d = d.clone();
        ask(&mut d, &Ask::Answer(Answer::Number(1))).unwrap();
        let Typed::Ask(said) = read(line, &d) else {
            panic!("{line}");
        };
        ask(&mut d, &said).unwrap();
        assert_eq!(report(&d), report(&after), "{line}");
    }
}

/// The register: each broken end with its place, its state and what is left to do, on the screen, in lines and
/// in the status; from the list one is mended, move by move, or said to be mended.
#[test]
fn the_register_of_broken_ends_is_seen_and_worked_off() {
    let mut d = threading();
    ask(
        &mut d,
        &Ask::BrokenEnd {
            call: Some(Call(54)),
        },
    )
    .unwrap();
    ask(&mut d, &Ask::BrokenFloat { side: Side::Left }).unwrap();
    let told = "Broken end 1: end 54, group 3, number 55 from the right, shaft 2; not mended yet; to do: knot a new length on, into the cross, heddle on shaft 2, slip knot.";
    let status = |d: &Dressing| status::status(d, &Method::embedded());
    assert!(
        status(&d).iter().any(|line| line == told),
        "{:?}",
        status(&d)
    );
    let Typed::Tell(lines) = read("mend", &d) else {
        panic!("{:?}", read("mend", &d));
    };
    assert_eq!(lines[0], told);
    assert_eq!(lines.len(), 3);
    insta::assert_snapshot!("the_register", shown(&d, "f7 2", COLOUR, (80, 24)));
    let ((), after) = at_desk(&d, quick(), |desk| {
        desk.keys("f7");
        choose(desk, "the list of 2 broken ends: 2 to mend");
        let shown = desk::letters(&desk.text());
        assert!(
            shown.contains(&desk::letters(told.trim_end_matches('.'))),
            "{}",
            desk.text()
        );
        choose(desk, "Broken end 1");
        choose(desk, "mend it now");
        assert!(
            desk.text().contains("Broken end 1: move 1 of 4"),
            "{}",
            desk.text()
        );
        desk.keys("space");
    });
    let line = status(&after)
        .into_iter()
        .find(|line| line.starts_with("Broken end 1"));
    let left =
        "being mended, move 2 of 4; left to do: into the cross, heddle on shaft 2, slip knot.";
    assert!(
        line.as_ref().is_some_and(|line| line.ends_with(left)),
        "{line:?}"
    );
    let mut after = after;
    lead(&mut after, |d| !matches!(d.view(), View::Mending(_)));
    let done = says(
        &after,
        &[
            "the list of 2 broken ends: 1 to mend",
            "Broken end 2",
            "it is mended",
        ],
    );
    assert_eq!(done.about().broken, 0);
    let ((), _) = at_desk(&done, quick(), |desk| {
        desk.keys("f7");
        choose(desk, "the list of 2 broken ends: 0 to mend");
        assert!(desk.text().contains("to be looked at"), "{}", desk.text());
    });
}

/// While a look is open the register tells no shaft and no dent: they may be what is asked.
#[test]
fn the_register_keeps_to_itself_what_a_look_asks() {
    let mut d = threading();
    let last = d
        .ledger()
        .of(endsmeet::dressing::Task::Threaded)
        .stretches()[0]
        .last;
    ask(&mut d, &Ask::BrokenEnd { call: Some(last) }).unwrap();
    let shaft = |d: &Dressing| d.broken_ends()[0].shaft;
    assert!(shaft(&d).is_some());
    ask(&mut d, &Ask::Opened).unwrap();
    assert!(
        matches!(d.view(), View::Asking(a) if matches!(a.asked, Asked::Look { look: Look::LastShaft, .. }))
    );
    assert_eq!((shaft(&d), d.broken_ends()[0].to_do.len()), (None, 0));
}

/// States from which something may be wrong: early, threading, a look, a mismatch, the reed, tied, ready.
fn states() -> &'static Vec<Dressing> {
    static STATES: std::sync::OnceLock<Vec<Dressing>> = std::sync::OnceLock::new();
    STATES.get_or_init(|| {
        let mut d = Dressing::new(small(), &[]);
        let mut states = vec![d.clone()];
        let wanted: [fn(&Dressing) -> bool; 6] = [
            |d| matches!(d.view(), View::Call(_)),
            |d| matches!(d.view(), View::UsedUp(u) if u.batch.number == 2),
            |d| matches!(d.view(), View::Sley(s) if s.nth == 3),
            |d| matches!(d.view(), View::Tie(_)),
            |d| matches!(d.view(), View::Shed(_)),
            |d| matches!(d.view(), View::Ready(_)),
        ];
        for at in wanted {
            lead(&mut d, at);
            states.push(d.clone());
            for beside in [
                Ask::Count,
                Ask::Uneven,
                Ask::BrokenEnd {
                    call: Some(Call(2)),
                },
            ] {
                let mut d = d.clone();
                if ask(&mut d, &beside).is_ok() {
                    states.push(d);
                }
            }
        }
        states
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Whatever is pressed while something wrong is said: the dressing keeps its invariants, every question
    /// says the numbers that it takes, and going back long enough leads out of it.
    #[test]
    fn any_presses_are_safe_while_something_wrong_is_said(
        state in any::<prop::sample::Index>(),
        presses in prop::collection::vec(0usize..16, 1..40),
        one_button in any::<bool>(),
    ) {
        const KEYS: [&str; 16] = [
            "f7", "1", "2", "3", "4", "5", "6", "0", "enter", "enter", "space", "down", "back", "f8", "f9", "tab",
        ];
        let d: &Dressing = state.get(states());
        let settings = Settings { one_button, ..quick() };
        let (out, after) = at_desk(d, settings, |desk| {
            desk.keys("f7");
            for press in &presses {
                desk.keys(KEYS[*press]);
            }
            // shut what is open over the work: the menu, the questions of the report
            for _ in 0..12 {
                desk.keys("esc");
                if !desk.text().contains("F7 back to the work") {
                    break;
                }
            }
            !desk.text().contains("F7 back to the work")
        });
        prop_assert!(out, "the report can be left");
        prop_assert_eq!(after.check(), Ok(()));
    }
}
