//! The class board: twelve dressings that run at once, every rule of the order, half-written files,
//! names that a terminal would obey; and a student's log.
#![allow(clippy::unwrap_used)]

mod common;

use common::{at, small};
use endsmeet::dressing::account::CaughtWhat;
use endsmeet::dressing::class::{Need, Row, before, order};
use endsmeet::dressing::ledger::Task;
use endsmeet::dressing::view::Disagreeing;
use endsmeet::dressing::{Answer, Ask, Choice, Dressing, Event, Mood, View, decide};
use endsmeet::fault::{FaultKind, LookKind, Seen, WayKind};
use endsmeet::hand::{Key, Press};
use endsmeet::journal::board::{self, Board, Found};
use endsmeet::journal::keep::{InMemory, Keep};
use endsmeet::journal::kept::{Keeper, Start};
use endsmeet::journal::{Disk, RealDisk, Rights};
use endsmeet::method::{Method, Stage};
use endsmeet::paper::{as_text, board_sheet, board_value, log};
use endsmeet::quantity::Shaft;
use endsmeet::terminal::canvas::Canvas;
use endsmeet::terminal::class_board::ClassBoard;
use endsmeet::terminal::class_row;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::screens::{After, Manner, Screen, draw_bands};
use endsmeet::terminal::theme::Theme;
use endsmeet::words::board_words;
use proptest::prelude::*;
use ratatui::layout::Rect;
use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

/// A weaver at her own pace, pressing through a keeper.
struct Weaver<'a> {
    keeper: &'a mut dyn Keep,
    ms: u64,
    step: u64,
}

impl Weaver<'_> {
    fn press(&mut self, ask: &Ask) {
        self.ms += self.step;
        self.keeper.ask(ask, at(self.ms)).unwrap();
    }

    /// Presses next, answering every look truly, until the dressing is as wanted.
    fn lead(&mut self, wanted: impl Fn(&Dressing) -> bool) {
        for _ in 0..2000 {
            if wanted(self.keeper.dressing()) {
                return;
            }
            if let View::Asking(_) = self.keeper.dressing().view() {
                let n = true_answer(self.keeper.dressing(), self.ms);
                self.press(&Ask::Answer(Answer::Number(n)));
            } else {
                self.press(&Ask::Next);
            }
        }
        panic!("never came to it");
    }

    fn thread(&mut self, ends: u32) {
        self.lead(|d| d.ledger().of(Task::Threaded).count() >= ends);
    }

    /// What is on the loom in the second batch: a call of shaft 2 was passed over. Answers the looks
    /// of the tracing by it until the place is settled.
    fn trace_the_skip(&mut self) {
        let stands = |call: u32| Shaft([1, 3, 4, 1, 2, 3, 4][call as usize - 9]);
        while let View::Disagreeing(view) = self.keeper.dressing().view() {
            let Disagreeing::Batch { tracing, .. } = view.what else {
                panic!("{view:?}")
            };
            let Some(look) = tracing.look else { return };
            let call = look.call.unwrap();
            assert_eq!(look.kind, LookKind::ShaftOfHeddle);
            let shaft = Some(stands(call.0));
            self.press(&Ask::Answer(Answer::Seen(Seen::Shaft { call, shaft })));
        }
    }

    /// The second batch is said to be uneven: one end and one heddle of shaft 2 left over.
    fn uneven(&mut self) {
        self.thread(16);
        self.press(&Ask::Uneven);
        self.press(&Ask::Answer(Answer::Number(1)));
        self.press(&Ask::Answer(Answer::Numbers(vec![0, 1, 0, 0])));
        assert!(self.keeper.dressing().about().mismatch_open);
    }
}

/// All is threaded, and no look is open.
fn sleying(d: &Dressing) -> bool {
    d.stage() == Some(Stage::Sley) && *d.mood() == Mood::Working
}

fn true_answer(d: &Dressing, ms: u64) -> i64 {
    let settles = |n: &i64| {
        let answer = Ask::Answer(Answer::Number(*n));
        decide(d, &answer, at(ms + 1)).is_ok_and(|entry| entry.events.contains(&Event::Settled))
    };
    // a measure settles nothing before the last one; 5 can stand for each
    (0..1000).find(settles).unwrap_or(5)
}

/// The twelve, with what each does and how many milliseconds pass between presses.
type Evening = (&'static str, u64, fn(&mut Weaver<'_>));

const CLASS: [Evening; 12] = [
    ("Ada", 4000, |w| {
        w.thread(8);
        w.press(&Ask::HelpWanted);
    }),
    ("Ben", 4000, |w| w.uneven()),
    ("Cleo", 4000, |w| {
        w.thread(12);
        w.press(&Ask::Count);
        w.press(&Ask::Skip);
    }),
    ("Dov", 4000, |w| w.thread(8)),
    ("Eli", 4000, |w| w.press(&Ask::Next)),
    ("Fay", 4000, |w| w.thread(4)),
    ("Gus", 4000, |w| {
        w.uneven();
        w.trace_the_skip();
        w.press(&Ask::Choose(Choice::Way(WayKind::OnTheSpot)));
        assert!(matches!(w.keeper.dressing().view(), View::Mending(_)));
    }),
    ("Hal", 4000, |w| {
        w.lead(|d| d.ledger().of(Task::TiedFirst).count() >= 20)
    }),
    ("Ida", 60_000, |w| {
        w.lead(|d| d.ledger().of(Task::TiedFirst).count() >= 20)
    }),
    ("Jo", 4000, |w| {
        w.thread(8);
        w.press(&Ask::StopForToday);
    }),
    ("Kim", 4000, |w| w.lead(|d| d.current().is_none())),
    ("Lee", 4000, |w| {
        w.press(&Ask::Next);
        w.press(&Ask::HandsWanted);
    }),
];

/// When the board is looked at.
const NOW: u64 = 10_800_000;

fn begin(folder: &Path, owner: &str, ms: u64) -> Keeper {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let plan = small();
    let spec = plan.spec.clone();
    let start = Start {
        spec: &spec,
        plan,
        method: 0,
        left_out: Vec::new(),
        owner: Some(owner.to_owned()),
    };
    Keeper::create(&disk, folder, Rights::Umask, start, at(ms)).unwrap()
}

/// One weaver's whole evening, her last press a minute before the board is looked at.
fn evening(folder: &Path, (name, step, script): Evening) {
    let mut rehearsal = InMemory::new(Dressing::new(small(), &[]));
    let mut weaver = Weaver {
        keeper: &mut rehearsal,
        ms: 0,
        step,
    };
    script(&mut weaver);
    let silent = if name == "Dov" { 40 * 60_000 } else { 60_000 };
    let ms = NOW - silent - weaver.ms;
    let mut keeper = begin(folder, name, ms);
    script(&mut Weaver {
        keeper: &mut keeper,
        ms,
        step,
    });
}

#[test]
fn twelve_at_once_stand_in_the_order_of_who_needs_help() {
    let folder = tempfile::tempdir().unwrap();
    let mut board = Board::new(folder.path());
    std::thread::scope(|scope| {
        let running: Vec<_> = CLASS
            .iter()
            .map(|one| scope.spawn(|| evening(folder.path(), *one)))
            .collect();
        while running.iter().any(|thread| !thread.is_finished()) {
            board.look().unwrap();
            for row in board.rows(at(NOW).wall) {
                assert_ne!(row.need, Need::Unreadable, "{row:?}");
            }
        }
        running
            .into_iter()
            .for_each(|thread| thread.join().unwrap());
    });
    board.look().unwrap();
    let rows = board.rows(at(NOW).wall);
    let stand: Vec<(&str, Need)> = rows.iter().map(|r| (r.name.as_str(), r.need)).collect();
    assert_eq!(
        stand,
        [
            ("Ada", Need::Help),
            ("Lee", Need::Hands), // in an earlier stage, and yet behind help
            ("Ben", Need::Mismatch),
            ("Cleo", Need::PassedOver),
            ("Dov", Need::Silent),
            ("Eli", Need::Working), // Prepare
            ("Fay", Need::Working), // Thread, the smaller share done
            ("Gus", Need::Mending), // stands among those at work
            ("Ida", Need::Working), // Tie on, the same share, the longer time left
            ("Hal", Need::Working),
            ("Jo", Need::Resting),
            ("Kim", Need::Ready),
        ]
    );
    assert_eq!(rows, board::read(folder.path(), at(NOW).wall).unwrap());
    let (ida, hal) = (&rows[8], &rows[9]);
    assert_eq!(hal.done, ida.done);
    assert!(ida.minutes_left > hal.minutes_left, "{hal:?} {ida:?}");
    assert_eq!(rows[4].minutes_silent, Some(40));
    assert!(!board.look().unwrap(), "nothing changed since");
    shown(&rows, &board);
    an_unreadable_file_stands_behind_the_silent_and_before_those_at_work(folder.path(), &mut board);
}

/// A thirteenth file is no dressing any more: Kim's with a first line that cannot be read.
fn an_unreadable_file_stands_behind_the_silent_and_before_those_at_work(
    folder: &Path,
    board: &mut Board,
) {
    std::fs::write(folder.join("zoe.jsonl"), "{\"c\":\"00000000\",\"v\":1,\n").unwrap();
    assert!(board.look().unwrap());
    let rows = board.rows(at(NOW).wall);
    let names: Vec<&str> = rows.iter().map(|row| row.name.as_str()).collect();
    let expected = [
        "Ada", "Lee", "Ben", "Cleo", "Dov", "zoe", "Eli", "Fay", "Gus", "Ida", "Hal", "Jo", "Kim",
    ];
    assert_eq!(names, expected);
    assert_eq!(rows[5].need, Need::Unreadable);
}

/// The same rows as data, on paper and across the room.
fn shown(rows: &[Row], board: &Board) {
    let method = Method::embedded();
    let lesson = board_words::lesson(board.wrong());
    let wrong: Vec<(Stage, &str, u32)> = lesson
        .lines
        .iter()
        .map(|(stage, thing, times)| (*stage, board_words::wrong_key(*thing), *times))
        .collect();
    let thread = Stage::Thread;
    assert_eq!(
        wrong,
        [
            (thread, "batch", 1),            // Ben, not traced yet
            (thread, "position-skipped", 1), // Gus, traced
            (thread, "passed-over", 1),      // Cleo
        ]
    );
    let value = board_value(rows, &lesson, &method);
    assert_eq!(value["schema"], 1);
    assert_eq!(value["rows"][2]["need"], "mismatch");
    assert_eq!(value["rows"][3]["left_open"], 1);
    assert_eq!(value["went_wrong"][0]["stage"], "thread");
    let paper = as_text::text(&board_sheet(rows, &lesson, &method));
    insta::assert_snapshot!("class-of-twelve", paper);
    let large = class_row::lines(rows, &method, 80, Ink::Blocks);
    assert_eq!(large.len(), 12 * 5);
    assert!(large.iter().all(|line| line.chars().count() <= 80));
    insta::assert_snapshot!("class-large", large[..15].join("\n"));
    let ascii = class_row::lines(rows, &method, 80, Ink::Reversed);
    assert!(ascii[..6].iter().all(|line| is_plain(line)), "{ascii:?}");
}

fn is_plain(line: &str) -> bool {
    line.chars().all(|c| c == '#' || c == ' ')
}

#[test]
fn a_half_written_line_and_a_foreign_file_stop_nothing() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["Mo", "Ned", "Oda"] {
        evening(folder.path(), (name, 4000, |w| w.thread(8)));
    }
    let files = |part: &str| {
        let items = std::fs::read_dir(folder.path()).unwrap();
        let mut paths = items.map(|item| item.unwrap().path());
        paths
            .find(|path| path.to_string_lossy().contains(part))
            .unwrap()
    };
    let whole = std::fs::read(files("mo")).unwrap();
    let ending = files("mo").extension().unwrap().to_owned();
    std::fs::write(
        folder.path().join("x").with_extension(&ending),
        b"{ not ours",
    )
    .unwrap();
    std::fs::write(folder.path().join("notes.txt"), b"shopping").unwrap();
    let middle = std::fs::read(files("ned")).unwrap();
    let at_line = middle.len() / 2;
    std::fs::write(
        files("ned"),
        [&middle[..at_line], b"#", &middle[at_line + 1..]].concat(),
    )
    .unwrap();
    let mut board = Board::new(folder.path());
    // however much of the last line is there already, the row is that of a dressing
    let last_line = whole[..whole.len() - 1]
        .iter()
        .rposition(|b| *b == b'\n')
        .unwrap()
        + 1;
    for cut in (last_line..whole.len()).step_by(7) {
        std::fs::write(files("mo"), &whole[..cut]).unwrap();
        assert!(board.look().unwrap());
        let rows = board.rows(at(NOW).wall);
        let mo = rows.iter().find(|row| row.name == "Mo").unwrap();
        assert_eq!(
            (mo.need, mo.file_says.clone()),
            (Need::Working, None),
            "cut at {cut}"
        );
    }
    let rows = board.rows(at(NOW).wall);
    assert_eq!(rows.len(), 4, "notes.txt is no dressing");
    let broken = rows.iter().find(|row| row.name == "x").unwrap();
    assert_eq!(broken.need, Need::Unreadable);
    let ned = rows.iter().find(|row| row.name == "Ned").unwrap();
    assert!(
        ned.file_says
            .as_ref()
            .unwrap()
            .starts_with("damaged from line ")
    );
    std::fs::remove_file(files("oda")).unwrap();
    assert!(board.look().unwrap());
    assert_eq!(board.rows(at(NOW).wall).len(), 3);
    assert!(board::read(&folder.path().join("none"), at(NOW).wall).is_err());
}

#[test]
fn a_board_writes_nothing_into_the_folder() {
    let folder = tempfile::tempdir().unwrap();
    evening(folder.path(), ("Pia", 4000, |w| w.thread(4)));
    let all = || {
        let items = std::fs::read_dir(folder.path()).unwrap();
        let mut all: Vec<_> = items
            .map(|item| item.unwrap().path())
            .map(|path| (path.clone(), std::fs::read(path).unwrap()))
            .collect();
        all.sort();
        all
    };
    let path = all()[0].0.clone();
    let mut torn = all()[0].1.clone();
    torn.truncate(torn.len() - 5);
    std::fs::write(path, torn).unwrap();
    let before = all();
    board::read(folder.path(), at(NOW).wall).unwrap();
    assert_eq!(all(), before);
}

#[test]
fn a_name_that_a_terminal_would_obey_is_harmless() {
    let folder = tempfile::tempdir().unwrap();
    evening(
        folder.path(),
        ("\u{1b}[2JQ\u{202e}uin\u{7}", 4000, |w| w.thread(4)),
    );
    let rows = board::read(folder.path(), at(NOW).wall).unwrap();
    assert_eq!(rows[0].name, "[2JQuin");
    let bad = Row::unreadable("a\u{1b}b", "says\u{1b}[31m");
    assert_eq!(
        (bad.name.as_str(), bad.file_says.as_deref()),
        ("ab", Some("says[31m"))
    );
}

#[test]
fn a_clock_that_is_behind_makes_nobody_silent() {
    let mut kept = InMemory::new(Dressing::new(small(), &[]));
    kept.ask(&Ask::Next, at(NOW)).unwrap();
    let row = Row::of("R", kept.dressing(), at(0).wall);
    assert_eq!((row.need, row.minutes_silent), (Need::Working, Some(0)));
}

proptest! {
    /// The order is total and does not hang on how the rows came in.
    #[test]
    fn rows_come_out_alike_however_they_came_in(
        seeds in prop::collection::vec((0usize..10, 0usize..8, 0u32..25, prop::option::of(0u32..90)), 1..20),
    ) {
        let needs = [Need::Help, Need::Hands, Need::Mismatch, Need::PassedOver, Need::Silent, Need::Unreadable, Need::Mending, Need::Working, Need::Resting, Need::Ready];
        let mut rows: Vec<Row> = seeds.iter().enumerate().map(|(n, (need, stage, done, left))| Row {
            need: needs[*need],
            stage: Some(Stage::ALL[*stage]),
            done: Some((*done, 24)),
            minutes_left: *left,
            ..Row::unreadable(&format!("w{n}"), "")
        }).collect();
        let mut turned: Vec<Row> = rows.iter().rev().cloned().collect();
        order(&mut rows);
        order(&mut turned);
        prop_assert_eq!(&rows, &turned);
        for pair in rows.windows(2) {
            prop_assert!(before(&pair[0], &pair[1]).is_le());
            prop_assert!(pair[0].need.rank() <= pair[1].need.rank());
        }
    }
}

#[test]
fn every_need_has_few_letters_for_the_far_wall() {
    for need in [
        Need::Help,
        Need::Hands,
        Need::Mending,
        Need::Mismatch,
        Need::PassedOver,
        Need::Silent,
        Need::Unreadable,
        Need::Resting,
        Need::Ready,
    ] {
        assert!((1..=7).contains(&board_words::far(need).len()), "{need:?}");
    }
}

/// Ben's evening: the fault is found at the end of batch 2, drawn out and threaded again.
#[test]
fn a_log_says_what_was_caught_and_what_it_cost() {
    let mut kept = InMemory::new(Dressing::new(small(), &[]));
    let mut ben = Weaver {
        keeper: &mut kept,
        ms: 0,
        step: 4000,
    };
    ben.uneven();
    ben.press(&Ask::Choose(Choice::ThreadAgain));
    ben.thread(16);
    ben.press(&Ask::Next);
    ben.press(&Ask::Pause);
    ben.ms += 30 * 60_000;
    ben.lead(sleying);
    let method = Method::embedded();
    let found = log(kept.entries(), kept.dressing(), &method);
    assert_eq!(found.lines.len(), kept.entries().len());
    let account = found.account.as_ref().unwrap();
    assert_eq!(account.caught.len(), 1);
    let caught = &account.caught[0];
    let CaughtWhat::Batch(calls) = caught.what else {
        panic!("{caught:?}")
    };
    assert_eq!((calls.first.0, calls.last.0), (9, 16));
    assert!(caught.closed && caught.ends_again == 8, "{caught:?}");
    // three presses to the mismatch; the choice, the count-out and two handfuls: seven of 4 s
    assert_eq!((caught.presses, caught.work_ms), (7, 28_000));
    assert!(caught.faults.is_empty(), "no look was taken");
    // every press of 4 s but the first and the one after the pause
    let counted = kept.entries().len() as u64 - 2;
    assert_eq!(account.work_ms(), counted * 4000, "pauses are left out");
    let mut stages = account.stages.iter();
    let thread = stages.find(|s| s.stage == Stage::Thread).unwrap();
    assert!(thread.groups.keys().copied().eq(1..=6), "{thread:?}");
    assert!(thread.groups.values().sum::<u64>() <= thread.work_ms);
    let value = found.value();
    assert_eq!(value["caught"][0]["ends_again"], 8);
    let csv = found.csv();
    assert_eq!(csv.lines().count(), found.lines.len() + 1);
    assert!(csv.starts_with("number,at,stage,group,work_seconds,what\n"));
    let text = as_text::text(&found.document(&method));
    let last = text.split('\u{c}').next_back().unwrap();
    insta::assert_snapshot!("log-caught", last);
}

/// Gus's evening: the looks of the tracing settle what it was, and the log says so.
#[test]
fn a_log_names_the_fault_that_the_looks_settled() {
    let mut kept = InMemory::new(Dressing::new(small(), &[]));
    let mut gus = Weaver {
        keeper: &mut kept,
        ms: 0,
        step: 4000,
    };
    gus.uneven();
    gus.trace_the_skip();
    gus.press(&Ask::Choose(Choice::Way(WayKind::FromTheFault)));
    gus.lead(sleying);
    let method = Method::embedded();
    let found = log(kept.entries(), kept.dressing(), &method);
    let caught = &found.account.as_ref().unwrap().caught;
    assert_eq!(caught[0].faults, [FaultKind::PositionSkipped]);
    assert!(caught[0].closed);
    let lines = found.text(&method);
    let says = "did not agree. It was a call passed over. It cost";
    assert!(lines.iter().any(|line| line.contains(says)), "{lines:#?}");
}

/// A log that is asked for while a look is open tells nothing that would answer it.
#[test]
fn a_log_is_blind_while_a_look_is_open() {
    let mut kept = InMemory::new(Dressing::new(small(), &[]));
    let mut weaver = Weaver {
        keeper: &mut kept,
        ms: 0,
        step: 4000,
    };
    weaver.thread(12);
    weaver.press(&Ask::Count);
    let method = Method::embedded();
    let found = log(kept.entries(), kept.dressing(), &method);
    assert!(found.account.is_none());
    assert_eq!(found.lines.len(), 1);
    assert!(found.lines.iter().all(|(moment, _)| moment.group.is_none()));
    let value = found.value();
    assert_eq!(value["look_open"], true);
    assert!(value["stages"].is_null() && value["caught"].is_null());
    assert_eq!(found.csv().lines().count(), 2);
}

/// What stands on the board's screen in a window of this size.
fn on_screen(board: &ClassBoard, (width, height): (u16, u16)) -> String {
    let area = Rect::new(0, 0, width, height);
    let mut canvas = Canvas::empty(area);
    draw_bands(&board.bands(area), None, &mut canvas, board.manner());
    let row = |y: u16| {
        let dots = canvas.row(y).iter().map(|dot| canvas.symbol(*dot));
        dots.collect::<String>().trim_end().to_owned()
    };
    (0..height).map(row).collect::<Vec<_>>().join("\n")
}

fn press(board: &mut ClassBoard, key: Key) -> After {
    board.press(Press::down(key, Duration::ZERO), at(NOW))
}

#[test]
fn the_board_on_the_screen_follows_the_folder_and_opens_a_log() {
    let folder = tempfile::tempdir().unwrap();
    for one in CLASS.iter().take(6) {
        evening(folder.path(), *one);
    }
    let method = Method::embedded();
    let lines = |found: &Found| log(&found.entries, &found.dressing, &method).text(&method);
    let mut looked = Board::new(folder.path());
    looked.look().unwrap();
    let manner = Manner {
        theme: Theme::Colour,
        ink: Ink::Blocks,
    };
    let mut board = ClassBoard::new(looked, &method, manner, &lines, at(NOW).wall);
    insta::assert_snapshot!("screen-of-six", on_screen(&board, (80, 24)));
    // a dressing that is begun meanwhile is there after the next look, in its place
    evening(folder.path(), CLASS[11]);
    assert!(!on_screen(&board, (120, 45)).contains("Lee"));
    let wakes = board.wakes_at().unwrap();
    board.tick(wakes, at(NOW));
    assert!(board.wakes_at().unwrap() > wakes);
    let shown = on_screen(&board, (120, 45));
    assert!(shown.contains("> Ada - asks for help"), "{shown}");
    assert!(shown.contains("  Lee - wants a second pair of hands"));
    // the second row's log, further down, and back
    press(&mut board, Key::Down);
    press(&mut board, Key::Enter);
    let shown = on_screen(&board, (80, 24));
    assert!(shown.starts_with("Log of Lee: Small"), "{shown}");
    assert!(shown.contains("a second pair of hands wanted") && shown.contains("Time: 4 s"));
    press(&mut board, Key::Down);
    assert!(!on_screen(&board, (80, 24)).contains("\"Things to gather\" done"));
    press(&mut board, Key::Esc);
    press(&mut board, Key::Char('w'));
    let shown = on_screen(&board, (80, 24));
    assert!(shown.contains("Thread: a look passed over, 1 x"), "{shown}");
    press(&mut board, Key::Char('w'));
    assert!(
        on_screen(&board, (80, 24)).contains("> Lee"),
        "the mark stays"
    );
    assert_eq!(press(&mut board, Key::Char('q')), After::Leave);
    assert_eq!(press(&mut board, Key::Ctrl('c')), After::Leave);
    // a folder that goes away is said, and what was read stays
    let path = folder.keep();
    std::fs::remove_dir_all(&path).unwrap();
    board.tick(wakes, at(NOW));
    let shown = on_screen(&board, (80, 24));
    assert!(shown.contains("The folder cannot be read now") && shown.contains("Lee"));
}

#[test]
fn the_board_is_safe_at_every_size_and_keeps_the_marked_row_on_the_screen() {
    let folder = tempfile::tempdir().unwrap();
    for one in &CLASS {
        evening(folder.path(), *one);
    }
    let method = Method::embedded();
    let lines = |_: &Found| Vec::new();
    for ink in [Ink::Blocks, Ink::Reversed] {
        let mut looked = Board::new(folder.path());
        looked.look().unwrap();
        let theme = Theme::Mono;
        let manner = Manner { theme, ink };
        let mut board = ClassBoard::new(looked, &method, manner, &lines, at(NOW).wall);
        for size in [(1, 1), (79, 24), (80, 23), (80, 24), (120, 40), (300, 100)] {
            on_screen(&board, size);
        }
        for nth in 0..14 {
            let shown = on_screen(&board, (80, 24));
            let marked = shown.lines().find(|line| line.starts_with("> "));
            assert!(marked.is_some(), "{nth}: {shown}");
            press(&mut board, Key::Down);
        }
        let last = on_screen(&board, (80, 24));
        assert!(last.contains("> Kim - ready to weave"), "{last}");
        assert!(last.contains("above: "));
    }
}
