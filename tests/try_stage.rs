//! The stage Try in the machine: what is tied to each treadle on every kind of loom, sheds that only a
//! count of the loom passes, and everything of it taken back.

#![allow(clippy::unwrap_used)]

mod common;

use common::{answer_truly, ask, lead, plan_from, small};
use endsmeet::dressing::sighting::Sighting;
use endsmeet::dressing::state::Mood;
use endsmeet::dressing::view::{ShedView, TieUpView};
use endsmeet::dressing::{Answer, Ask, Choice, Dressing, Mismatch, Refusal, View};
use endsmeet::fault::cloth_spot::{Astray, Sign};
use endsmeet::method::{Method, StepId};
use endsmeet::plan::{NoSkeleton, Opens, PlainWeave, Plan, ShedWarning, Side};
use endsmeet::quantity::Shaft;
use endsmeet::words::page;

/// A plan of 24 ends on four shafts with the loom and the lifts that are wanted.
fn on(loom: &str, lifts: &str) -> Plan {
    plan_from(&format!(
        r#"{{ "endsmeet": 1, "title": "T", "units": "in", "sett": 4, "ends": 24, "threading": "1 2 3 4",
        "loom": {{{loom}, "shafts": 4, "width": 20, "beam_girth": 18}}, "length": {{"finished": 36, "waste": 20}},
        "reeds": [{{"dents": 4, "per": "in", "length": 20}}],
        {lifts} }}"#
    ))
}

const PLAIN_AND_TWILL: &str =
    r#""tie_up": [[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4]], "treadling": "1 2 3 4""#;
const LIFTS: &str =
    r#""lift_plan": [[1, 2], [2, 3], [3, 4], [1, 4], [1, 2], [1, 3], [2, 4], [1, 2, 3], [4]]"#;

fn tied_up(plan: Plan) -> (Vec<TieUpView>, Vec<String>) {
    let method = Method::embedded();
    let mut d = Dressing::new(plan, &[]);
    lead(&mut d, |d| d.current().unwrap().id == StepId::TieUp);
    let (mut views, mut lines) = (Vec::new(), Vec::new());
    while let View::TieUp(view) = d.view() {
        lines.extend(page(&d.view(), d.plan(), &method).lines);
        views.push(view);
        ask(&mut d, &Ask::Next).unwrap();
    }
    let ties = !d.plan().ties_of_treadles().is_empty();
    assert_eq!(d.current().unwrap().id == StepId::TieUp, !ties);
    (views, lines)
}

fn shafts(list: &[u8]) -> Vec<Shaft> {
    list.iter().copied().map(Shaft).collect()
}

#[test]
fn a_jack_loom_ties_what_rises_and_each_treadle_is_one_press_that_can_be_taken_back() {
    let plan = on(r#""action": "jack", "treadles": 6"#, PLAIN_AND_TWILL);
    let (views, lines) = tied_up(plan.clone());
    assert_eq!(views.len(), 6);
    assert_eq!(views[0].tie.rising, shafts(&[1, 2]));
    assert_eq!(views[0].tie.sinking, shafts(&[]));
    assert_eq!(views[0].plain, Some(PlainWeave::Treadles(5, 6)));
    assert_eq!(views[1].plain, None, "said once, at the first treadle");
    assert_eq!(
        lines[0],
        "Tie treadle 1 to shafts 1 2, which rise; leave the others untied."
    );
    let mut d = Dressing::new(plan, &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::TieUp(view) if view.tie.treadle == 3),
    );
    ask(&mut d, &Ask::BackOne).unwrap();
    assert!(matches!(d.view(), View::TieUp(view) if view.tie.treadle == 2));
    ask(&mut d, &Ask::Redo).unwrap();
    assert!(matches!(d.view(), View::TieUp(view) if view.tie.treadle == 3));
}

#[test]
fn a_counterbalance_loom_ties_what_sinks_and_is_warned_of_one_against_three() {
    let tie_up = r#""tie_up": [[1, 2], [1]], "treadling": "1 2""#;
    let (views, lines) = tied_up(on(r#""action": "counterbalance", "treadles": 6"#, tie_up));
    assert_eq!(views[0].tie.sinking, shafts(&[3, 4]));
    assert!(views[0].tie.warnings.is_empty());
    assert_eq!(
        views[1].tie.warnings,
        [ShedWarning::Unbalanced {
            rising: 1,
            sinking: 3
        }]
    );
    let text = lines.join("\n");
    assert!(text.contains("Tie treadle 1 to shafts 3 4, which sink; shafts 1 2 rise with them."));
    assert!(text.contains("1 up against 3 down"), "{text}");
    assert!(text.contains("The tie-up holds no plain weave"), "{text}");
}

#[test]
fn a_countermarch_loom_ties_every_shaft_and_the_pins_come_out_before_a_treadle_is_pressed() {
    let plan = on(
        r#""action": "countermarch", "treadles": 6"#,
        PLAIN_AND_TWILL,
    );
    let (views, lines) = tied_up(plan.clone());
    for view in &views {
        let mut all = [view.tie.rising.clone(), view.tie.sinking.clone()].concat();
        all.sort();
        assert_eq!(all, shafts(&[1, 2, 3, 4]));
    }
    assert_eq!(
        lines[0],
        "Treadle 1, to the long lams below: shafts 1 2, which rise."
    );
    assert_eq!(lines[1], "To the short lams above: shafts 3 4, which sink.");
    let mut d = Dressing::new(plan, &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::TieUp(view) if view.tie.treadle == 6),
    );
    ask(&mut d, &Ask::Next).unwrap();
    assert_eq!(d.current().unwrap().id, StepId::PinsOut);
    ask(&mut d, &Ask::Next).unwrap();
    assert!(matches!(d.view(), View::Shed(shed) if shed.number == 1));
}

#[test]
fn table_looms_and_lifts_have_nothing_to_tie_and_name_the_shafts_of_each_shed() {
    let table = on(r#""action": "table", "treadles": 0"#, r#""tie_up": []"#);
    let lift = on(r#""action": "lift", "treadles": 0"#, LIFTS);
    for (plan, sheds, opens) in [
        (table, 4, Opens::Shaft(Shaft(1))),
        (lift, 8, Opens::Pick(1)),
    ] {
        let (views, _) = tied_up(plan.clone());
        assert!(views.is_empty());
        let mut d = Dressing::new(plan, &[]);
        lead(&mut d, |d| matches!(d.view(), View::Shed(_)));
        let View::Shed(shed) = d.view() else {
            unreachable!()
        };
        assert_eq!((shed.of, shed.opens), (sheds, opens));
        assert!(shed.press.is_empty());
        let method = Method::embedded();
        assert!(page(&d.view(), d.plan(), &method).lines[0].starts_with("Lift shaft"));
    }
}

/// What rises when these treadles are pressed together, worked out from the loom's kind alone.
fn pressed(plan: &Plan, press: &[u32]) -> Vec<Shaft> {
    let ties = plan.ties_of_treadles();
    let under: Vec<_> = press.iter().map(|t| &ties[*t as usize - 1]).collect();
    let up = |s: &Shaft| under.iter().any(|tie| tie.rising.contains(s));
    let down = |s: &Shaft| under.iter().any(|tie| tie.sinking.contains(s));
    let all = (1..=plan.shafts).map(Shaft);
    use endsmeet::plan::Action;
    match plan.action {
        Action::Counterbalance => all.filter(|s| !down(s)).collect(),
        Action::Countermarch => {
            for shaft in (1..=plan.shafts).map(Shaft) {
                assert_ne!(up(&shaft), down(&shaft), "every shaft is moved one way");
            }
            all.filter(up).collect()
        }
        _ => all.filter(up).collect(),
    }
}

#[test]
fn a_skeleton_gives_every_lift_on_every_kind_of_loom_that_has_treadles() {
    // either of the two front shafts with one of three lifts of the back ones
    let parted = r#""lift_plan": [[1, 3], [1, 4], [1, 3, 4], [2, 3], [2, 4], [2, 3, 4]]"#;
    for (loom, treadles, lifts) in [
        (r#""action": "jack", "treadles": 6"#, 6, LIFTS),
        (r#""action": "counterbalance", "treadles": 6"#, 6, LIFTS),
        (r#""action": "countermarch", "treadles": 8"#, 8, LIFTS),
        (r#""action": "countermarch", "treadles": 5"#, 5, parted),
    ] {
        let plan = on(loom, lifts);
        let skeleton = plan
            .skeleton()
            .unwrap_or_else(|why| panic!("{loom}: {why:?}"));
        assert!(skeleton.tie_up.len() <= treadles, "{loom}: {skeleton:?}");
        assert_eq!(plan.treadles_to_tie() as usize, skeleton.tie_up.len());
        for (lift, press) in &skeleton.lifts {
            assert!((1..=2).contains(&press.len()));
            assert_eq!(&pressed(&plan, press), lift, "{loom}");
            assert_eq!(plan.treadles_for(lift).as_ref(), Some(press));
        }
        let mut d = Dressing::new(plan, &[]);
        lead(&mut d, |d| matches!(d.view(), View::Shed(_)));
        let View::Shed(ShedView { press, .. }) = d.view() else {
            unreachable!()
        };
        assert!(!press.is_empty());
    }
    let few = on(r#""action": "countermarch", "treadles": 4"#, LIFTS);
    assert_eq!(few.skeleton(), Err(NoSkeleton::TooFewTreadles(4)));
    assert_eq!(
        on(r#""action": "table", "treadles": 0"#, LIFTS).skeleton(),
        Err(NoSkeleton::NoTreadles)
    );
}

#[test]
fn only_a_count_of_the_loom_passes_a_shed() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Shed(_)));
    ask(&mut d, &Ask::Next).unwrap();
    assert!(matches!(
        ask(&mut d, &Ask::Next),
        Err(Refusal::NotLooked(_))
    ));
    assert!(matches!(d.mood(), Mood::Asking(_)));
    answer_truly(&mut d);
    assert!(matches!(d.view(), View::Shed(shed) if shed.number == 2));
    ask(&mut d, &Ask::BackOne).unwrap();
    assert!(matches!(d.view(), View::Shed(shed) if shed.number == 1));
    // twice another count: it disagrees, and the shed waits
    ask(&mut d, &Ask::Next).unwrap();
    for _ in 0..2 {
        ask(&mut d, &Ask::Answer(Answer::Number(17))).unwrap();
    }
    assert!(matches!(d.mood(), Mood::Disagreeing(_)));
    ask(&mut d, &Ask::Choose(Choice::PutRight)).unwrap();
    assert!(matches!(d.view(), View::Shed(shed) if shed.number == 1));
}

#[test]
fn a_shed_left_unclear_stays_on_record_and_is_not_counted_as_clean() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Shed(_)));
    ask(&mut d, &Ask::Next).unwrap();
    ask(&mut d, &Ask::Answer(Answer::CannotTell)).unwrap();
    assert!(matches!(d.view(), View::Shed(shed) if shed.number == 2));
    assert_eq!(d.left_open(), 1);
    lead(&mut d, |d| d.current().unwrap().id == StepId::SticksOut);
    ask(&mut d, &Ask::Answer(Answer::Number(2))).unwrap();
    assert!(
        matches!(d.mood(), Mood::Asking(_)),
        "one of the two was not looked at"
    );
    ask(&mut d, &Ask::Answer(Answer::Number(1))).unwrap();
    assert_eq!(*d.mood(), Mood::Working);
}

/// Each end put on every other shaft in turn: the sheds in which its neighbours then move alike, and the
/// place of its dent, must lead back to it and to a mending.
#[test]
fn what_a_wrong_shaft_shows_in_the_sheds_leads_back_to_its_end() {
    let plan = on(r#""action": "jack", "treadles": 6"#, PLAIN_AND_TWILL);
    let mut d = Dressing::new(plan.clone(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Shed(_)));
    let work = |shaft: Shaft| -> Vec<bool> {
        let ties = plan.tie_up.iter();
        ties.map(|tied| tied.contains(&shaft)).collect()
    };
    let mut tried = 0;
    for end in 2..=23usize {
        for wrong in (1..=4).map(Shaft).filter(|s| *s != plan.threading[end - 1]) {
            let mut line = plan.threading.clone();
            line[end - 1] = wrong;
            let alike =
                |line: &[Shaft], t: usize, a: usize| work(line[a])[t] == work(line[a + 1])[t];
            let shown: Vec<u32> = (0..plan.tie_up.len())
                .filter(|&t| {
                    (end - 2..end).any(|a| alike(&line, t, a) && !alike(&plan.threading, t, a))
                })
                .map(|t| t as u32 + 1)
                .collect();
            if shown.is_empty() {
                continue;
            }
            // one end a dent, four dents an inch, from the right: end 1 lies at the edge
            let thousandths = (end as u32 - 1) * 250 + 125;
            let sighting = Sighting {
                sign: Some(Sign::TwoAlike),
                from: Some(Side::Right),
                whole: None,
                thousandths: Some(thousandths),
                sheds: shown,
                complete: true,
            };
            let mut seen = d.clone();
            ask(&mut seen, &Ask::Sight(Some(sighting.clone()))).unwrap();
            let suspects = seen.suspects_of(&sighting);
            let at = suspects
                .iter()
                .position(|s| s.call.0 as usize == end && s.astray == Astray::OnShaft(wrong));
            let at = at.unwrap_or_else(|| panic!("end {end} on {wrong:?}: {suspects:?}"));
            ask(&mut seen, &Ask::Choose(Choice::Suspect(at as u8))).unwrap();
            assert!(matches!(seen.mood(), Mood::Disagreeing(Mismatch::Found(_))));
            tried += 1;
        }
    }
    assert!(tried > 40, "only {tried} tried");
}

/// A shed is passed by a count of the loom, so nothing may tell the figure before: not the list of sheds
/// either, from the page of the shed on until its look is answered.
#[test]
fn the_list_of_sheds_waits_until_the_shed_in_hand_is_counted() {
    use endsmeet::words::lines::why_no_sheds;
    let mut d = Dressing::new(common::plan_from(common::SMALL), &[]);
    assert_eq!(why_no_sheds(&d), None, "before any shed");
    let (mut waited, mut told) = (0, 0);
    while d.stage().is_some() {
        let waits = matches!(d.view(), View::Shed(_))
            || endsmeet::dressing::state::open_look(d.mood()).is_some();
        assert_eq!(why_no_sheds(&d).is_some(), waits);
        waited += u32::from(matches!(d.view(), View::Shed(_)));
        told += u32::from(!waits);
        let next = common::true_ask(&d).unwrap_or(Ask::Next);
        ask(&mut d, &next).unwrap();
    }
    assert!(
        waited >= 2 && told > waited,
        "{waited} sheds, {told} other pages"
    );
}
