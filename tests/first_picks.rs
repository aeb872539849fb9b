//! Header and first picks, one press a pick: what is pressed, what rises and how many ends are up in each
//! group, counted by hand on small drafts; taken back, ended sooner, gone on with.

#![allow(clippy::unwrap_used)]

mod common;

use common::{ask, lead, plan_from, small};
use endsmeet::dressing::view::PickView;
use endsmeet::dressing::{Ask, Dressing, Entry, Event, Mood, Question, View};
use endsmeet::method::{Method, StepId};
use endsmeet::plan::{HEADER_PICKS, Plan};
use endsmeet::quantity::Shaft;
use endsmeet::words::page;

/// Ten ends on four shafts, straight draw, groups of 4, 4 and 2.
fn on(loom: &str, lifts: &str) -> Plan {
    plan_from(&format!(
        r#"{{ "endsmeet": 1, "title": "T", "units": "in", "sett": 4, "ends": 10, "threading": "1 2 3 4",
        "loom": {{{loom}, "shafts": 4, "width": 20, "beam_girth": 18}}, "length": {{"finished": 36, "waste": 20}},
        "reeds": [{{"dents": 4, "per": "in", "length": 20}}],
        {lifts} }}"#
    ))
}

/// What is pressed, what rises and how many ends are up in each group, pick by pick.
type Woven = (Vec<u32>, Vec<u8>, Vec<u32>);

fn woven(view: &PickView) -> Woven {
    let shed = &view.pick.shed;
    (
        view.pick.press.clone(),
        shed.rising.iter().map(|s| s.0).collect(),
        shed.groups.iter().map(|g| g.rising).collect(),
    )
}

/// Led to the step, then pressed through it.
fn through(d: &mut Dressing, step: StepId) -> Vec<Woven> {
    lead(
        d,
        |d| matches!(d.view(), View::Pick(view) if view.step == step),
    );
    let mut out = Vec::new();
    while let View::Pick(view) = d.view()
        && view.step == step
    {
        assert_eq!(view.number as usize, out.len() + 1);
        out.push(woven(&view));
        let before = d.entries();
        ask(d, &Ask::Next).unwrap();
        assert_eq!(d.entries(), before + 1, "one press, one entry");
    }
    out
}

fn pick(press: &[u32], rising: &[u8], groups: &[u32]) -> Woven {
    (press.to_vec(), rising.to_vec(), groups.to_vec())
}

#[test]
fn a_twill_on_treadles_has_a_plain_header_and_then_its_own_picks() {
    let plan = on(
        r#""action": "jack", "treadles": 6"#,
        r#""tie_up": [[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4]], "treadling": "1 2 3 4""#,
    );
    let mut d = Dressing::new(plan, &[]);
    // by hand: ends 1 2 3 4 | 1 2 3 4 | 1 2, so odd shafts are up at 2, 2 and 1 ends, even ones too
    let header = through(&mut d, StepId::Header);
    assert_eq!(header.len(), HEADER_PICKS as usize);
    for (n, made) in header.iter().enumerate() {
        let (treadle, rising): (u32, &[u8]) = if n % 2 == 0 {
            (5, &[1, 3])
        } else {
            (6, &[2, 4])
        };
        assert_eq!(*made, pick(&[treadle], rising, &[2, 2, 1]));
    }
    // the last group holds shafts 1 and 2 only: 2, 1, 0 and 1 of its ends rise
    let picks = through(&mut d, StepId::FirstPicks);
    let repeat = [
        pick(&[1], &[1, 2], &[2, 2, 2]),
        pick(&[2], &[2, 3], &[2, 2, 1]),
        pick(&[3], &[3, 4], &[2, 2, 0]),
        pick(&[4], &[1, 4], &[2, 2, 1]),
    ];
    assert_eq!(
        picks,
        [repeat.clone(), repeat].concat(),
        "two repeats of four"
    );
    assert_eq!(d.current().unwrap().id, StepId::LookAgain);
}

#[test]
fn a_lift_plan_lifts_shafts_or_presses_its_skeleton() {
    let lifts = r#""lift_plan": [[1], [2, 3], [1, 4]]"#;
    let mut d = Dressing::new(on(r#""action": "lift", "treadles": 0"#, lifts), &[]);
    let header = through(&mut d, StepId::Header);
    assert_eq!(
        header[0],
        pick(&[], &[1, 3], &[2, 2, 1]),
        "levers open any shed"
    );
    assert_eq!(header[1], pick(&[], &[2, 4], &[2, 2, 1]));
    let picks = through(&mut d, StepId::FirstPicks);
    let repeat = [
        pick(&[], &[1], &[1, 1, 1]),
        pick(&[], &[2, 3], &[2, 2, 1]),
        pick(&[], &[1, 4], &[2, 2, 1]),
    ];
    assert_eq!(
        picks,
        [repeat.clone(), repeat.clone(), repeat].concat(),
        "9 is the first whole repeat from 8"
    );

    // with treadles two of them together may give a lift; what rises stays the plan's
    let plan = on(r#""action": "jack", "treadles": 4"#, lifts);
    let skeleton = plan.skeleton().unwrap();
    let mut d = Dressing::new(plan, &[]);
    let header = through(&mut d, StepId::Header);
    assert_eq!(
        header[0].1,
        [1],
        "no plain weave is tied, so the header takes the draft's picks"
    );
    for (press, rising, _) in through(&mut d, StepId::FirstPicks) {
        let lift: Vec<Shaft> = rising.into_iter().map(Shaft).collect();
        let of_skeleton = skeleton.lifts.iter().find(|(of, _)| *of == lift).unwrap();
        assert_eq!(press, of_skeleton.1);
        assert!(!press.is_empty());
    }
}

#[test]
fn without_picks_the_header_goes_through_the_sheds_and_nothing_follows() {
    let mut d = Dressing::new(
        on(
            r#""action": "jack", "treadles": 3"#,
            r#""tie_up": [[1, 2], [3], [4]]"#,
        ),
        &[],
    );
    let header = through(&mut d, StepId::Header);
    let treadles: Vec<Vec<u32>> = header.into_iter().map(|made| made.0).collect();
    assert_eq!(treadles, [[1], [2], [3], [1], [2], [3]]);
    assert_eq!(d.current().unwrap().id, StepId::LookAgain);
}

#[test]
fn a_longer_repeat_is_led_for_two_dozen_picks() {
    let picks: Vec<String> = (0..50).map(|n| (n % 2 + 1).to_string()).collect();
    let treadling = format!(
        r#""tie_up": [[1, 3], [2, 4]], "treadling": "{}""#,
        picks.join(" ")
    );
    assert_eq!(
        on(r#""action": "jack", "treadles": 2"#, &treadling).first_picks(),
        24
    );
    assert_eq!(small().first_picks(), 8, "two picks a repeat, four times");
}

#[test]
fn a_pick_is_taken_back_and_done_again_and_the_weaver_ends_them_sooner() {
    let mut d = Dressing::new(small(), &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::Pick(view) if view.number == 3),
    );
    let at = |d: &Dressing| match d.view() {
        View::Pick(view) => (view.step, view.number),
        other => panic!("{other:?}"),
    };
    ask(&mut d, &Ask::BackOne).unwrap();
    assert_eq!(at(&d), (StepId::Header, 2));
    ask(&mut d, &Ask::Redo).unwrap();
    assert_eq!(at(&d), (StepId::Header, 3));
    ask(&mut d, &Ask::Skip).unwrap();
    assert_eq!(at(&d), (StepId::FirstPicks, 1), "the gaps are closed");
    ask(&mut d, &Ask::Next).unwrap();
    ask(&mut d, &Ask::Skip).unwrap();
    assert_eq!(d.current().unwrap().id, StepId::LookAgain);
    assert_eq!(d.left_open(), 0, "enough is no check passed over");
    for _ in 0..3 {
        ask(&mut d, &Ask::BackOne).unwrap();
    }
    assert_eq!(at(&d), (StepId::Header, 3));
}

#[test]
fn what_looks_wrong_at_a_pick_is_asked_and_the_pick_waits() {
    let mut d = Dressing::new(small(), &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::Pick(view) if view.step == StepId::FirstPicks),
    );
    ask(&mut d, &Ask::Sight(None)).unwrap();
    assert!(matches!(d.mood(), Mood::Asking(Question::Sighting(_))));
    ask(&mut d, &Ask::Skip).unwrap();
    assert!(matches!(d.view(), View::Pick(view) if view.number == 1));
}

#[test]
fn picks_cannot_come_out_of_order_from_a_file() {
    let mut d = Dressing::new(small(), &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::Pick(view) if view.number == 2),
    );
    let mut key = d.current().unwrap();
    key.number = Some(4);
    let entry = Entry {
        number: d.entries() + 1,
        when: common::at(d.last().unwrap().elapsed_ms + 1),
        events: vec![Event::StepDone(key)],
    };
    assert!(d.accepts(&entry).is_err());
}

/// A dressing from before the picks were led has taken its second look: nothing is asked of it anew.
#[test]
fn who_has_taken_the_second_look_is_past_the_picks() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| d.current().unwrap().id == StepId::Header);
    for id in [StepId::Header, StepId::LookAgain] {
        let entry = Entry {
            number: d.entries() + 1,
            when: common::at(d.last().unwrap().elapsed_ms + 1),
            events: vec![Event::StepDone(endsmeet::dressing::StepKey {
                id,
                calls: None,
                number: None,
                revision: 0,
            })],
        };
        assert_eq!(d.accepts(&entry), Ok(()));
        d.apply(&entry);
    }
    assert_eq!(d.current().unwrap().id, StepId::SticksOut);
}

#[test]
fn the_page_says_what_to_press_what_rises_and_the_ends_of_every_group() {
    let mut d = Dressing::new(small(), &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::Pick(view) if view.step == StepId::FirstPicks),
    );
    let said = page(&d.view(), d.plan(), &Method::embedded());
    assert_eq!(said.far, "TREADLE 1");
    assert_eq!(said.lines[0], "Press treadle 1, and weave pick 1.");
    // 24 ends at 4 an inch: six groups of 1 2 3 4
    assert_eq!(said.lines[2], "12 ends up in all; groups 1 to 6: 2 of 4.");
    assert!(said.caution.unwrap().contains("manual"));
}
