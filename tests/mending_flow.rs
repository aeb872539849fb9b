//! A mending in the flow: for random plans, faults and moments of the work every way that is offered is
//! chosen, led press by press, done by simulated hands as the pages say, and the loom then stands as
//! the record and the plan (or the amended plan) say. Each press can be taken back, also after a
//! restart.

#![allow(clippy::unwrap_used)]

mod common;
mod reality;

use common::at;
use endsmeet::dressing::{Ask, Choice, Dressing, Entry, Mood, Task, View, decide};
use endsmeet::fault::{Fault, FaultKind, Found, WayKind};
use endsmeet::plan::Plan;
use endsmeet::quantity::{Call, Shaft};
use reality::dice::Dice;
use reality::hands::Hands;
use reality::{Loom, Slip, Weaver};

/// A small plan at random: a draft on four shafts, either side to start from, an order of one, two or
/// one and two ends a dent, now and then typed.
fn plan(dice: &mut Dice) -> Plan {
    let ends = dice.from(14, 40);
    let drafts = [
        "1 2 3 4",
        "1 2 3 4 3 2",
        "1 2 3 2 3 4 3 4 1 4 1 2",
        "1 3 2 4",
        "1 2 1 4 3 4 2 3",
    ];
    let draft = dice.pick(&drafts);
    let sides = ["right", "left"];
    let (thread, sley) = (dice.pick(&sides), dice.pick(&sides));
    let batch = dice.pick(&["null", "\"group\"", "5", "8"]);
    let sett = dice.pick(&[4, 6, 8]);
    let order = match sett {
        8 => dice.pick(&["null", "null", "[2, 2, 1, 3]"]),
        _ => "null",
    };
    let floats = dice.pick(&["none", "added"]);
    common::plan_from(&format!(
        r#"{{ "endsmeet": 1, "title": "Small", "units": "in", "sett": {sett}, "ends": {ends},
        "threading": "{draft}", "floating_selvedges": "{floats}", "batch": {batch},
        "thread_from": "{thread}", "sley_from": "{sley}", "sley_order": {order},
        "loom": {{"action": "jack", "shafts": 4, "treadles": 4, "heddles": [60, 60, 60, 60], "width": 30, "beam_girth": 18}},
        "length": {{"finished": 36, "waste": 20}},
        "reeds": [{{"dents": 4, "per": "in", "length": 30}}],
        "tie_up": [[1, 3], [2, 4]], "treadling": "1 2" }}"#
    ))
}

/// A dressing with the entries that made it.
#[derive(Clone)]
struct Led {
    d: Dressing,
    entries: Vec<Entry>,
}

impl Led {
    fn new(plan: Plan) -> Self {
        let d = Dressing::new(plan, &[]);
        Led {
            d,
            entries: Vec::new(),
        }
    }

    fn ask(&mut self, what: &Ask) -> Result<(), String> {
        let when = at(self.d.last().map_or(0, |last| last.elapsed_ms) + 4000);
        let entry = decide(&self.d, what, when).map_err(|why| format!("{what:?}: {why:?}"))?;
        self.d
            .accepts(&entry)
            .map_err(|why| format!("{why} {entry:?}"))?;
        self.d.apply(&entry);
        self.d.check().map_err(str::to_owned)?;
        self.entries.push(entry);
        Ok(())
    }

    fn look(&mut self) {
        let answer = common::true_ask(&self.d).unwrap();
        self.ask(&answer).unwrap();
    }

    fn lead(&mut self, wanted: impl Fn(&Dressing) -> bool) {
        for _ in 0..3000 {
            if wanted(&self.d) {
                return;
            }
            match self.d.view() {
                View::Asking(_) => self.look(),
                _ => self.ask(&Ask::Next).unwrap(),
            }
        }
        panic!("never came to it; last view: {:?}", self.d.view());
    }
}

/// The moments of the work in which a fault is found.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Moment {
    Threading,
    AllThreaded,
    Sleying,
    AllSleyed,
    Tying,
    Finishing,
    Trying,
}

const MOMENTS: [Moment; 7] = [
    Moment::Threading,
    Moment::AllThreaded,
    Moment::Sleying,
    Moment::AllSleyed,
    Moment::Tying,
    Moment::Finishing,
    Moment::Trying,
];

fn reached(d: &Dressing, moment: Moment, some: u32) -> bool {
    let count = |task| d.ledger().of(task).count();
    let all = d.calls();
    *d.mood() == Mood::Working
        && match moment {
            Moment::Threading => {
                count(Task::Checked) >= some && matches!(d.view(), View::CountOut(_))
            }
            Moment::AllThreaded => count(Task::Checked) == all,
            Moment::Sleying => count(Task::Sleyed) >= some,
            Moment::AllSleyed => count(Task::Sleyed) == all,
            Moment::Tying => count(Task::TiedFirst) >= some,
            Moment::Finishing => count(Task::TiedSecond) >= some,
            Moment::Trying => matches!(d.view(), View::Shed(_)),
        }
}

/// A slip among the calls that are threaded, as it happens and as it is called.
fn slip(planned: &[u8], threaded: usize, dice: &mut Dice) -> Option<(Slip, Fault)> {
    let k = dice.from(0, threaded - 1);
    let call = Call(k as u32 + 1);
    let own = Shaft(planned[k]);
    let other = dice.from(1, 4) as u8;
    let differs = k + 1 < threaded && planned[k] != planned[k + 1];
    Some(match dice.from(0, 6) {
        0 => (
            Slip::Skip(k, k + 1),
            Fault::at(FaultKind::PositionSkipped, call, own),
        ),
        1 => (
            Slip::Repeat(k, k + 1),
            Fault::at(FaultKind::PositionRepeated, call, own),
        ),
        2 => (
            Slip::Double(k),
            Fault::at(FaultKind::EndsDoubled, call, own),
        ),
        3 => (Slip::Hang(k), Fault::at(FaultKind::EndHanging, call, own)),
        4 if other != own.0 => (
            Slip::Wrong(k, other),
            Fault::at(FaultKind::WrongShaft, call, Shaft(other)),
        ),
        5 if differs => {
            let exchanged = Fault {
                shaft: None,
                ..Fault::at(FaultKind::NeighboursExchanged, call, own)
            };
            (Slip::Exchange(k), exchanged)
        }
        6 if other != own.0 => (
            Slip::PassEmpty(k, other),
            Fault::of_shaft(FaultKind::HeddlePassed, Shaft(other), 1),
        ),
        _ => return None,
    })
}

fn counts(d: &Dressing) -> Vec<u32> {
    Task::ALL.map(|task| d.ledger().of(task).count()).to_vec()
}

/// Presses and does what the pages say until the work has come as far as it was.
fn mend_by_hand(
    led: &mut Led,
    hands: &mut Hands,
    before: &[u32],
    dice: &mut Dice,
) -> Result<(), String> {
    for _ in 0..1000 {
        let working = *led.d.mood() == Mood::Working;
        if working
            && counts(&led.d)
                .iter()
                .zip(before)
                .all(|(now, had)| now >= had)
        {
            return Ok(());
        }
        let view = led.d.view();
        if let View::Asking(_) = view {
            led.look();
            continue;
        }
        hands
            .act(&view, led.d.plan())
            .map_err(|why| format!("{why} at {view:?}"))?;
        led.ask(&Ask::Next)?;
        if dice.from(0, 5) == 0 {
            back_and_again(led)?;
        }
    }
    Err(format!("never came back to the work: {:?}", led.d.view()))
}

/// One press back and again gives the same, also when the program is started again between the two.
fn back_and_again(led: &mut Led) -> Result<(), String> {
    let (ledger, mood) = (led.d.ledger().clone(), led.d.mood().clone());
    if let View::Asking(_) = led.d.view() {
        return Ok(());
    }
    led.ask(&Ask::BackOne)?;
    if let View::Asking(_) = led.d.view() {
        return Ok(());
    }
    let mut again = led.d.at_start();
    for entry in &led.entries {
        again.admit(entry).map_err(|why| why.to_string())?;
    }
    if again.ledger() != led.d.ledger() || again.mood() != led.d.mood() {
        return Err("a restart stands elsewhere".into());
    }
    led.d = again;
    led.ask(&Ask::Redo)?;
    if *led.d.ledger() != ledger || *led.d.mood() != mood {
        return Err("back and again is not where it was".into());
    }
    Ok(())
}

fn tries() -> usize {
    std::env::var("ENDSMEET_MENDINGS")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(150)
}

#[test]
fn every_way_offered_at_any_moment_leads_to_the_plan_by_what_the_pages_say() {
    let mut dice = Dice::new(31);
    let mut led_ways = std::collections::BTreeMap::<String, u32>::new();
    let mut tried = 0;
    while tried < tries() {
        let mut led = Led::new(plan(&mut dice));
        let moment = dice.pick(&MOMENTS);
        let some = dice.from(1, led.d.calls() as usize - 1) as u32;
        led.lead(|d| reached(d, moment, some) || d.stage().is_none());
        if !reached(&led.d, moment, some) {
            continue;
        }
        let planned: Vec<u8> = led.d.plan().threading.iter().map(|s| s.0).collect();
        let threaded = led.d.ledger().of(Task::Threaded).count() as usize;
        let Some((slip, fault)) = slip(&planned, threaded, &mut dice) else {
            continue;
        };
        // one who used an end more than the calls had it from one wound too many
        let one_more = matches!(slip, Slip::Repeat(..) | Slip::Double(_) | Slip::Hang(_));
        let wound = planned.len() + usize::from(one_more && threaded == planned.len());
        let weaver = Weaver::GoesOnTo(threaded);
        let Some(loom) = Loom::thread(&planned, 4, &[slip], weaver) else {
            continue;
        };
        let hands = Hands::take(&loom, &led.d, wound);
        let before = counts(&led.d);
        let found = Found::InHeddles(fault);
        let context = format!(
            "{moment:?} {slip:?} of {}\n{:?}",
            planned.len(),
            led.d.plan().spec
        );
        led.ask(&Ask::Found(found))
            .unwrap_or_else(|why| panic!("{why}\n{context}"));
        let View::Disagreeing(view) = led.d.view() else {
            panic!("{context}")
        };
        tried += 1;
        for choice in &view.choices {
            let Choice::Way(kind) = *choice else { continue };
            let mut led = led.clone();
            let mut hands = hands.clone();
            let context = format!("{kind:?} {context}");
            led.ask(&Ask::Choose(*choice))
                .unwrap_or_else(|why| panic!("{why}\n{context}"));
            let mended = mend_by_hand(&mut led, &mut hands, &before, &mut dice);
            mended.unwrap_or_else(|why| panic!("{why}\n{context}"));
            if !matches!(fault.kind, FaultKind::HeddlePassed) || kind != WayKind::AmendPlan {
                hands
                    .stands_as(&led.d)
                    .unwrap_or_else(|why| panic!("{why}\n{context}"));
            }
            *led_ways.entry(format!("{moment:?} {kind:?}")).or_default() += 1;
        }
    }
    println!("{led_ways:#?}");
    let kinds = led_ways
        .keys()
        .filter(|name| name.ends_with("OnTheSpot"))
        .count();
    assert_eq!(
        kinds,
        MOMENTS.len(),
        "mended where it is at every moment: {led_ways:?}"
    );
}
