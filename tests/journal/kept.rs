//! A dressing and its file together: what was pressed is there after any end of the program, what
//! cannot have happened opens read only, and nothing that stands in a file makes it fall over.

use super::broken::sealed_anew;
use super::common::count::{Row, trials};
use super::common::{SMALL, at, plan_from, true_answer, true_ask};
use super::mem::{Dice, MemDisk};
use super::{file_of, folder};
use endsmeet::dressing::{
    Amendment, Answer, Ask, Choice, Dressing, Entry, Task, View, When, decide,
};
use endsmeet::fault::Seen;
use endsmeet::journal::keep::{InMemory, Keep, NotDone};
use endsmeet::journal::kept::{ENTRY, Keeper, LoadError, Start};
use endsmeet::journal::{Access, Damage, Disk, Rights, State, salvage};
use endsmeet::method::{Stage, StepId};
use endsmeet::plan::{BatchRule, read_spec};
use endsmeet::quantity::{Call, Shaft};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::sync::Arc;

pub fn small_file() -> PathBuf {
    file_of("small")
}

pub fn begin_small(disk: &Arc<dyn Disk>) -> Keeper {
    let spec = read_spec(SMALL).unwrap();
    let start = Start {
        spec: &spec,
        plan: plan_from(SMALL),
        method: 0x1234_5678,
        left_out: Vec::new(),
        owner: None,
    };
    Keeper::create(disk, &folder(), Rights::Umask, start, at(0)).unwrap()
}

fn load(disk: &Arc<dyn Disk>, path: &Path) -> (Keeper, State) {
    let loaded = Keeper::load(disk, path, Access::GoOn).unwrap();
    (loaded.keeper, loaded.state)
}

/// Everything that a dressing is, for comparing.
fn all_of(dressing: &Dressing) -> String {
    format!("{dressing:?}")
}

/// Four seconds after the last ask.
fn next_time(dressing: &Dressing) -> When {
    at(dressing.last().map_or(0, |last| last.elapsed_ms) + 4_000)
}

fn ask(keeper: &mut impl Keep, what: &Ask) -> Entry {
    let when = next_time(keeper.dressing());
    let asked = keeper.ask(what, when);
    asked
        .unwrap_or_else(|refused| panic!("{what:?} in {:?}: {refused:?}", keeper.dressing().view()))
}

/// Presses on, looks answered truly, until it is as wanted.
fn lead(keeper: &mut impl Keep, wanted: impl Fn(&Dressing) -> bool) {
    while !wanted(keeper.dressing()) {
        match true_ask(keeper.dressing()) {
            Some(answer) => ask(keeper, &answer),
            None => ask(keeper, &Ask::Next),
        };
    }
}

fn at_view(wanted: impl Fn(&View) -> bool) -> impl Fn(&Dressing) -> bool {
    move |dressing| wanted(&dressing.view())
}

/// A dressing in which everything happens that can: the frozen file of format 1 was written by it.
pub fn eventful(keeper: &mut impl Keep) {
    let number = |n| Ask::Answer(Answer::Number(n));
    lead(keeper, |d| d.stage() == Some(Stage::Wind));
    for what in [Ask::Skip, Ask::BackOne] {
        ask(keeper, &what);
    }
    lead(keeper, |d| {
        d.current().is_some_and(|step| step.id == StepId::RodSlings)
    });
    ask(keeper, &Ask::Skip);
    lead(keeper, at_view(|view| matches!(view, View::Call(_))));
    for what in [
        Ask::Note("a slub in \"the\" third end, caf\u{e9}".to_owned()),
        Ask::BrokenEnd {
            call: Some(Call(3)),
        },
        Ask::BrokenEnd { call: None },
        Ask::Pause,
        Ask::HelpWanted,
        Ask::HandsWanted,
        Ask::HelpCame,
        Ask::MeasuredWidth { thousandths: 5_750 },
        Ask::Next,
        Ask::BackOne,
        Ask::Redo,
        Ask::Pause,
        Ask::Opened,
        number(1),
        number(1),
        Ask::Choose(Choice::LoomHolds),
        Ask::Amend(Amendment::BatchRule(BatchRule::Number(4))),
        Ask::BackOne,
        Ask::Redo,
        Ask::Amend(Amendment::HeddlesOnHand(vec![12, 12, 12, 12])),
        Ask::Count,
        Ask::Skip,
    ] {
        ask(keeper, &what);
    }
    lead(keeper, at_view(|view| matches!(view, View::UsedUp(_))));
    for what in [
        Ask::Uneven,
        number(1),
        Ask::Answer(Answer::Numbers(vec![0, 1, 0, 0])),
        Ask::Answer(Answer::Seen(Seen::Shaft {
            call: Call(2),
            shaft: Some(Shaft(3)),
        })),
        Ask::Choose(Choice::ThreadAgain),
    ] {
        ask(keeper, &what);
    }
    lead(keeper, at_view(|view| matches!(view, View::UsedUp(_))));
    let late = at(next_time(keeper.dressing()).elapsed_ms + 3 * 3_600_000);
    keeper.ask(&Ask::Next, late).unwrap();
    lead(keeper, at_view(|view| !matches!(view, View::Asking(_))));
    for what in [Ask::StopForToday, Ask::Opened] {
        ask(keeper, &what);
    }
    lead(keeper, |d| d.stage() == Some(Stage::Try));
    for number in [1, 2] {
        ask(keeper, &Ask::EndMended { number });
    }
    lead(keeper, |d| d.stage().is_none());
}

#[test]
fn a_dressing_is_the_same_after_it_was_loaded_again() {
    let disk: Arc<dyn Disk> = Arc::new(MemDisk::new(1));
    let mut keeper = begin_small(&disk);
    let mut memory = InMemory::new(Dressing::new(plan_from(SMALL), &[]));
    eventful(&mut keeper);
    eventful(&mut memory);
    let entries = keeper.entries().to_vec();
    assert_eq!(entries, memory.entries());
    drop(keeper);
    let (keeper, state) = load(&disk, &small_file());
    assert_eq!((state, keeper.entries()), (State::Clean, &entries[..]));
    assert_eq!(all_of(keeper.dressing()), all_of(memory.dressing()));
    println!("{} entries", entries.len());
}

/// Every ask, so that any state meets any of them.
fn some_ask(dressing: &Dressing, dice: &mut Dice) -> Ask {
    let true_number = true_answer(dressing).and_then(|number| number.parse().ok());
    let any = dice.below(13) as i64 - 3;
    match dice.below(40) {
        0 => Ask::Redo,
        1 => Ask::Uneven,
        2 => Ask::Stuck,
        3 => Ask::Answer(Answer::Numbers(vec![0, dice.below(3) as i64, 0, 0])),
        4 => Ask::Answer(Answer::CannotTell),
        5 => Ask::Choose(Choice::ThreadAgain),
        6 => Ask::Choose(Choice::LeaveOpen),
        7 => Ask::Choose(Choice::LoomHolds),
        8 => Ask::Skip,
        9 => Ask::Count,
        10 => Ask::Pause,
        11 => Ask::StopForToday,
        12 => Ask::Opened,
        13 => Ask::BrokenEnd {
            call: Some(Call(1 + dice.below(24) as u32)),
        },
        14 => Ask::Note(format!("note {any}")),
        15 => Ask::Amend(Amendment::BatchRule(BatchRule::Number(
            1 + dice.below(12) as u32,
        ))),
        16 => Ask::Choose(Choice::StepBack),
        17..=21 => Ask::BackOne,
        22..=23 => Ask::Answer(Answer::Number(any)),
        24..=28 => Ask::Answer(Answer::Number(true_number.unwrap_or(any))),
        _ => Ask::Next,
    }
}

/// One dressing under random asks, kills, power cuts and errors, beside the same one in memory.
fn against_the_model(seed: u64) -> (u64, u64) {
    let memory = MemDisk::new(seed);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    let mut dice = Dice::new(seed);
    let mut keeper = begin_small(&disk);
    let mut model = InMemory::new(Dressing::new(plan_from(SMALL), &[]));
    let (mut asks, mut loads) = (0, 0);
    for _ in 0..60 {
        let what = some_ask(model.dressing(), &mut dice);
        let gap = if dice.one_in(30) {
            4 * 3_600_000
        } else {
            3_000
        };
        let when = at(model.dressing().last().map_or(0, |last| last.elapsed_ms) + gap);
        if dice.one_in(12) {
            memory.fail_in(1 + dice.below(4), dice.one_in(2), 28);
        }
        let outcome = keeper.ask(&what, when);
        memory.no_more_faults();
        match &outcome {
            Ok(entry) => assert_eq!(model.ask(&what, when).as_ref(), Ok(entry)),
            Err(NotDone::Refused(refusal)) => {
                let refused = decide(model.dressing(), &what, when);
                assert_eq!(refused.as_ref(), Err(refusal));
            }
            Err(NotDone::NotSaved(says)) => assert!(says.starts_with("NOT SAVED: "), "{says}"),
        }
        asks += 1;
        if matches!(outcome, Err(NotDone::NotSaved(_))) || dice.one_in(8) {
            if dice.one_in(2) {
                memory.power_cut()
            } else {
                memory.kill()
            }
            let (again, state) = load(&disk, &small_file());
            assert!(
                matches!(state, State::Clean | State::TornTail { .. }),
                "{state:?}"
            );
            keeper = again;
            loads += 1;
        }
        // A press that was refused as not saved may be in the file all the same.
        if keeper.entries().len() == model.entries().len() + 1 {
            let entry = keeper.entries().last().unwrap();
            assert!(outcome.is_err());
            assert_eq!(model.ask(&what, when).as_ref(), Ok(entry));
        }
        assert_eq!(
            keeper.entries().len(),
            model.entries().len(),
            "seed {seed}: {what:?}"
        );
    }
    assert_eq!(keeper.entries(), model.entries());
    assert_eq!(
        all_of(keeper.dressing()),
        all_of(model.dressing()),
        "seed {seed}"
    );
    (asks, loads)
}

#[test]
fn a_kept_dressing_is_what_a_model_in_memory_says_through_kills_power_cuts_and_errors() {
    let row = Row::begin("model check, 60 asks each");
    let wanted = trials(100, 2_000, 200_000);
    let (mut asks, mut loads) = (0, 0);
    for seed in 0..wanted {
        let (some, more) = against_the_model(seed);
        asks += some;
        loads += more;
    }
    row.done(wanted, &format!(" dressings, {asks} asks, {loads} loads"));
}

#[test]
fn a_full_disk_refuses_the_press_and_the_dressing_stays_where_it_is() {
    let memory = MemDisk::new(1);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    let mut keeper = begin_small(&disk);
    ask(&mut keeper, &Ask::Next);
    let before = all_of(keeper.dressing());
    memory.room(Some(10));
    let refused = keeper.ask(&Ask::Next, next_time(keeper.dressing()));
    let Err(NotDone::NotSaved(says)) = refused else {
        panic!("{refused:?}");
    };
    assert_eq!(
        says,
        "NOT SAVED: no storage space. The press does not count. Make room or bring the folder back, then \
         press again"
    );
    assert_eq!(all_of(keeper.dressing()), before);
    memory.room(None);
    ask(&mut keeper, &Ask::Next);
    drop(keeper);
    assert_eq!(load(&disk, &small_file()).0.entries().len(), 2);
}

/// The lines of a file with their payloads, ready to be changed.
fn taken_apart(bytes: &[u8]) -> Vec<Value> {
    let lines = bytes.split(|&b| b == b'\n').filter(|line| !line.is_empty());
    lines
        .map(|line| serde_json::from_slice(line).unwrap())
        .collect()
}

/// Lines numbered and sealed so that every checksum is right.
fn put_together(mut lines: Vec<Value>) -> Vec<u8> {
    let mut text = Vec::new();
    for (number, line) in lines.iter_mut().enumerate() {
        line["n"] = json!(number);
        let object = line.as_object_mut().unwrap();
        object.shift_remove("c");
        text.extend_from_slice(b"{\"c\":\"00000000\",");
        text.extend_from_slice(&serde_json::to_vec(object).unwrap()[1..]);
        text.push(b'\n');
    }
    sealed_anew(&text)
}

fn eventful_bytes() -> Vec<u8> {
    let memory = MemDisk::new(1);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    eventful(&mut begin_small(&disk));
    memory.bytes(&small_file()).unwrap()
}

#[test]
fn a_line_that_cannot_have_happened_opens_read_only_at_the_last_good_entry() {
    let whole = eventful_bytes();
    let mut lines = taken_apart(&whole);
    assert!(
        put_together(lines.clone()) == whole,
        "nothing else is changed"
    );
    let sleyed = json!([{"t": "marked", "task": "sleyed", "calls": [1, 8], "plan": 0}]);
    lines[10]["e"] = sleyed;
    let memory = MemDisk::new(1);
    let bytes = put_together(lines);
    memory.put(&small_file(), &bytes);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    let (mut keeper, state) = load(&disk, &small_file());
    let State::Damaged {
        at_line: 11,
        reason: Damage::Impossible(why),
    } = &state
    else {
        panic!("{state:?}");
    };
    assert!(!why.is_empty());
    assert_eq!(keeper.entries().len(), 9);
    let refused = keeper.ask(&Ask::Note("x".to_owned()), next_time(keeper.dressing()));
    let Err(NotDone::NotSaved(says)) = refused else {
        panic!("{refused:?}");
    };
    assert!(
        says.starts_with("NOT SAVED: line 11 says what cannot have happened: "),
        "{says}"
    );
    assert_eq!(
        memory.bytes(&small_file()).unwrap(),
        bytes,
        "the file is left as it is"
    );
    drop(keeper);
    let copy = salvage(
        disk.as_ref(),
        &small_file(),
        &folder(),
        Rights::Umask,
        &[ENTRY],
        Some(9),
    );
    let (mut keeper, state) = load(&disk, &copy.unwrap());
    assert_eq!((state, keeper.entries().len()), (State::Clean, 9));
    ask(&mut keeper, &Ask::Note("on it goes".to_owned()));
}

/// Changes one thing somewhere in a value.
fn change(value: &mut Value, dice: &mut Dice) {
    const NUMBERS: [i64; 12] = [
        0,
        1,
        -1,
        2,
        9,
        24,
        25,
        64,
        255,
        65_536,
        4_294_967_295,
        i64::MIN,
    ];
    const WORDS: [&str; 14] = [
        "",
        "gather",
        "beam-turn",
        "wound",
        "threaded",
        "cut",
        "sleyed",
        "marked",
        "undone",
        "settled",
        "thread-again",
        "look",
        "batch",
        "\u{1b}[2J",
    ];
    match value {
        Value::Array(list) if !list.is_empty() && !dice.one_in(6) => {
            let at = dice.below(list.len() as u64) as usize;
            match dice.below(8) {
                0 => drop(list.remove(at)),
                1 => list.push(list[at].clone()),
                _ => change(&mut list[at], dice),
            }
        }
        Value::Object(fields) if !fields.is_empty() && !dice.one_in(20) => {
            let keys: Vec<String> = fields.keys().cloned().collect();
            let key = &keys[dice.below(keys.len() as u64) as usize];
            match dice.below(12) {
                0 => drop(fields.remove(key)),
                _ => change(&mut fields[key], dice),
            }
        }
        Value::String(word) => *word = WORDS[dice.below(14) as usize].to_owned(),
        other => {
            *other = match dice.below(15) {
                0 => Value::Null,
                1 => json!(u64::MAX),
                2 => json!(1e308),
                n => json!(NUMBERS[(n as usize - 3) % 12]),
            }
        }
    }
}

#[test]
fn a_file_whose_checksums_are_right_and_whose_words_are_not_never_makes_it_fall_over() {
    let whole = taken_apart(&eventful_bytes());
    let (mut clean, mut damaged, mut newer) = (0, 0, 0);
    let row = Row::begin("right checksums, wrong words");
    let wanted = trials(400, 1_000, 20_000);
    for seed in 0..wanted {
        let mut dice = Dice::new(seed);
        let mut lines = whole.clone();
        lines.truncate(2 + dice.below(whole.len() as u64) as usize);
        for _ in 0..=dice.below(2) {
            let at = 1 + dice.below(lines.len() as u64 - 1) as usize;
            let other = 1 + dice.below(lines.len() as u64 - 1) as usize;
            match dice.below(8) {
                0 => lines.swap(at, other),
                1 => lines.insert(at, lines[other].clone()),
                2 if lines.len() > 2 => drop(lines.remove(at)),
                _ => change(&mut lines[at]["e"], &mut dice),
            }
        }
        let memory = MemDisk::new(1);
        memory.put(&small_file(), &put_together(lines));
        let disk: Arc<dyn Disk> = Arc::new(memory);
        let (mut keeper, state) = load(&disk, &small_file());
        match state {
            State::Clean => clean += 1,
            State::Damaged { .. } => damaged += 1,
            State::Newer { .. } => newer += 1,
            other => panic!("seed {seed}: {other:?}"),
        }
        assert_eq!(keeper.dressing().check(), Ok(()), "seed {seed}");
        for _ in 0..6 {
            let what = some_ask(keeper.dressing(), &mut dice);
            let when = next_time(keeper.dressing());
            let _ = keeper.ask(&what, when);
            let _ = (keeper.dressing().view(), keeper.dressing().about());
        }
    }
    row.done(
        wanted,
        &format!(", {clean} could have happened, {damaged} could not, {newer} are not known here"),
    );
    assert!(
        damaged > 100 && clean > 10 && newer > 10,
        "the trials try enough"
    );
}

#[test]
fn a_header_whose_plan_is_none_is_said_and_never_makes_it_fall_over() {
    let whole = taken_apart(&eventful_bytes());
    let mut refused = 0;
    let row = Row::begin("headers whose plan was changed");
    let wanted = trials(150, 500, 10_000);
    for seed in 0..wanted {
        let mut dice = Dice::new(seed);
        let mut lines = whole.clone();
        lines.truncate(20);
        change(&mut lines[0]["e"]["plan"], &mut dice);
        let memory = MemDisk::new(1);
        memory.put(&small_file(), &put_together(lines));
        let disk: Arc<dyn Disk> = Arc::new(memory);
        match Keeper::load(&disk, &small_file(), Access::GoOn) {
            Ok(loaded) => assert_eq!(loaded.keeper.dressing().check(), Ok(()), "seed {seed}"),
            Err(LoadError::Plan(why)) => {
                assert!(!why.is_empty());
                refused += 1;
            }
            Err(LoadError::Open(other)) => panic!("seed {seed}: {other}"),
        }
    }
    row.done(wanted, &format!(", {refused} refused"));
    assert!(refused > 30, "the trials try enough");
}

/// The wall's clock after a jump: any year from 1970 to 2099, the days on which clocks and calendars are
/// odd among them, in any zone.
fn jumped(dice: &mut Dice, elapsed_ms: u64) -> When {
    const ODD: [&str; 7] = [
        "1970-01-01T00:00:00Z",
        "2016-03-03T18:00:00+01:00",
        "2026-03-29T03:00:00+02:00",
        "2026-10-25T02:30:00+01:00",
        "2028-02-29T23:59:59-11:00",
        "2100-02-28T23:59:59+14:00",
        "2038-01-19T03:14:08Z",
    ];
    let wall: chrono::DateTime<chrono::FixedOffset> = match dice.below(2) {
        0 => ODD[dice.below(7) as usize].parse().unwrap(),
        _ => {
            let east = dice.below(28 * 3_600) as i32 - 14 * 3_600;
            let zone = chrono::FixedOffset::east_opt(east / 60 * 60).unwrap();
            let seconds = dice.below(4_102_444_800) as i64;
            chrono::DateTime::from_timestamp(seconds, 0)
                .unwrap()
                .with_timezone(&zone)
        }
    };
    When { wall, elapsed_ms }
}

#[test]
fn jumps_of_the_wall_clock_lose_nothing_and_change_nothing_but_the_times() {
    let row = Row::begin("clock jumps, in process");
    let wanted = trials(200, 200, 5_000);
    let (mut jumps, mut seed) = (0, 0);
    while jumps < wanted {
        let memory = MemDisk::new(seed);
        let disk: Arc<dyn Disk> = Arc::new(memory.clone());
        let mut dice = Dice::new(seed);
        let mut keeper = begin_small(&disk);
        let mut steady = InMemory::new(Dressing::new(plan_from(SMALL), &[]));
        for _ in 0..20 {
            let what = some_ask(steady.dressing(), &mut dice);
            let when = next_time(steady.dressing());
            let asked = keeper.ask(&what, jumped(&mut dice, when.elapsed_ms));
            let asked_steadily = steady.ask(&what, when);
            assert_eq!(
                asked.is_ok(),
                asked_steadily.is_ok(),
                "seed {seed}: {what:?}, {asked:?}"
            );
            jumps += 1;
        }
        memory.power_cut();
        let (again, state) = load(&disk, &small_file());
        assert_eq!(state, State::Clean, "seed {seed}");
        assert_eq!(
            all_of(again.dressing()),
            all_of(keeper.dressing()),
            "seed {seed}"
        );
        let events = |entries: &[Entry]| {
            entries
                .iter()
                .map(|entry| entry.events.clone())
                .collect::<Vec<_>>()
        };
        assert_eq!(
            events(again.entries()),
            events(steady.entries()),
            "seed {seed}: the clock decided"
        );
        assert_eq!(
            format!("{:?}", again.dressing().view()),
            format!("{:?}", steady.dressing().view())
        );
        let _ = (again.dressing().about(), again.dressing().last());
        seed += 1;
    }
    row.done(jumps, "");
}

#[test]
fn threaded_ends_are_there_after_the_power_went_between_two_handfuls() {
    let memory = MemDisk::new(9);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    let mut keeper = begin_small(&disk);
    lead(&mut keeper, |d| d.ledger().of(Task::Threaded).count() == 12);
    let before = all_of(keeper.dressing());
    memory.power_cut();
    let (keeper, state) = load(&disk, &small_file());
    assert_eq!((state, all_of(keeper.dressing())), (State::Clean, before));
}
