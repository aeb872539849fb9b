//! Blind looks: from the moment that a look is put, its figure stands in no output: not on the screen,
//! in the title, in a hint, in what is spoken, in line mode, nor in what another window prints.
//!
//! The warp has figures that occur nowhere else: 137 groups and bundles, shaft 61 of 64. No hour,
//! minute or second is so large. (`sheet` and a teacher's board may show them, and do.)

#![allow(clippy::unwrap_used)]

mod common;

use common::{at, plan_from, true_ask};
use endsmeet::dressing::state::open_look;
use endsmeet::dressing::view::{Asked, AskingView};
use endsmeet::dressing::{Answer, Ask, Dressing, Look, Reason, View, When};
use endsmeet::hand::{Key, Press, Settings};
use endsmeet::journal::keep::{InMemory, Keep};
use endsmeet::journal::kept::{Keeper, Start};
use endsmeet::journal::{Disk, RealDisk, Rights};
use endsmeet::method::{Method, StepId};
use endsmeet::plan::{read_spec, work_out};
use endsmeet::terminal::canvas::Canvas;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::lines;
use endsmeet::terminal::screens::{Band, Manner, Screen, draw_bands};
use endsmeet::terminal::sitting::Sitting;
use endsmeet::terminal::theme::Theme;
use ratatui::layout::Rect;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::time::Duration;

const PLAN: &str = r#"{ "endsmeet": 1, "title": "Blind", "units": "in", "sett": 2, "ends": 274,
  "threading": "1 61", "batch": 4,
  "loom": {"action": "table", "shafts": 64, "width": 160},
  "reeds": [{"dents": 2, "per": "in", "length": 160}],
  "raddle": {"spaces": 1, "length": 160} }"#;

/// The looks that are tried, each with its figure.
const GROUPS: i64 = 137;
const SHAFT: i64 = 61;

fn look_of(dressing: &Dressing) -> Option<Look> {
    match dressing.view() {
        View::Asking(AskingView {
            asked: Asked::Look { look, .. },
            ..
        }) => Some(look),
        _ => None,
    }
}

/// Leads a dressing on until this kind of look is open, each other look answered truly.
fn lead_to(keep: &mut dyn Keep, wanted: &dyn Fn(&Dressing) -> bool, then: &Ask) -> When {
    let mut ms = 1000;
    for _ in 0..5000 {
        ms += 4000;
        let dressing = keep.dressing();
        if wanted(dressing) {
            if look_of(dressing).is_none() {
                keep.ask(then, at(ms)).unwrap();
            }
            assert!(look_of(keep.dressing()).is_some());
            return at(ms);
        }
        let ask = match true_ask(dressing) {
            Some(answer) => answer,
            // the girth of the beam is not known: after two turns enough is on it
            None => match dressing.view() {
                View::Turn(turn) if turn.turn > 2 => Ask::Skip,
                _ => Ask::Next,
            },
        };
        keep.ask(&ask, at(ms)).unwrap();
    }
    panic!("never came to the look; last {:?}", keep.dressing().view());
}

/// Whether one step back leaves this look open. A look that she asked for, or that came with the end
/// of a batch, goes with the press that is taken back, and then nothing is asked any more.
fn back_leaves_it(dressing: &Dressing) -> bool {
    match dressing.view() {
        View::Asking(AskingView {
            asked: Asked::Look { reason, .. },
            ..
        }) => matches!(
            reason,
            Reason::CameBack | Reason::Interruption | Reason::NoReturn
        ),
        _ => false,
    }
}

type Wanted = fn(&Dressing) -> bool;

/// Every case: a name, when to stop, what is asked there, and the figure.
fn cases() -> Vec<(&'static str, Wanted, Ask, i64)> {
    vec![
        (
            "knots before the loops are cut",
            |d| look_of(d) == Some(Look::GroupsKnotted),
            Ask::Count,
            GROUPS,
        ),
        (
            "groups in the raddle, she wants to look",
            |d| matches!(d.view(), View::Step(s) if s.step == StepId::RodsTiedFast),
            Ask::Count,
            GROUPS,
        ),
        (
            "the last end after a night",
            |d| {
                let threaded = d.ledger().of(endsmeet::dressing::ledger::Task::Threaded);
                threaded.count() == 4
            },
            Ask::Opened,
            SHAFT,
        ),
        (
            "the last end after another window",
            |d| {
                let threaded = d.ledger().of(endsmeet::dressing::ledger::Task::Threaded);
                threaded.count() == 4
            },
            Ask::BackAtTheLoom,
            SHAFT,
        ),
        (
            "all bundles tied, after a night",
            |d| {
                let tied = d.ledger().of(endsmeet::dressing::ledger::Task::TiedFirst);
                tied.count() == 274
            },
            Ask::Opened,
            GROUPS,
        ),
        (
            "a heddle in the knot",
            |d| {
                matches!(look_of(d), Some(Look::ShaftOf { call })
                    if d.plan().threading[call.0 as usize - 1].0 == 61)
            },
            Ask::Count,
            SHAFT,
        ),
    ]
}

/// Whether the figure stands in the text as a number of its own.
fn shows(text: &str, figure: i64) -> bool {
    let figure = figure.to_string();
    text.split(|c: char| !c.is_ascii_digit())
        .any(|number| number == figure)
}

fn hidden(name: &str, from: &str, text: &str, figure: i64) {
    assert!(
        !shows(text, figure),
        "{name}: {from} shows {figure}:\n{text}"
    );
}

/// Two answers that are wrong and differ, so that the look stays open and blind.
fn wrong(figure: i64) -> [i64; 2] {
    [figure - 1, figure - 2]
}

#[test]
fn the_figure_is_nowhere_on_the_screen_in_the_title_or_in_what_is_spoken() {
    let method = Method::embedded();
    for (name, wanted, then, figure) in cases() {
        let mut keep = InMemory::new(Dressing::new(plan_from(PLAN), &[]));
        let now = lead_to(&mut keep, &wanted, &then);
        for (ink, size) in [(Ink::Blocks, (80, 24)), (Ink::Reversed, (200, 60))] {
            let manner = Manner {
                theme: Theme::Mono,
                ink,
            };
            let mut lot = || 3;
            let mut kept = keep.clone();
            let mut sitting =
                Sitting::new(&mut kept, &method, Settings::default(), manner, &mut lot);
            let mut ms = now.elapsed_ms;
            let back = back_leaves_it(sitting.dressing());
            let keys = keys_tried(figure);
            for key in keys.into_iter().filter(|key| back || *key != Key::Left) {
                hidden(name, "the title", &sitting.title(), figure);
                for said in sitting.take_say() {
                    hidden(name, "the voice", &said.text, figure);
                }
                hidden(
                    name,
                    &format!("the screen before {key:?}"),
                    &screen(&sitting, size),
                    figure,
                );
                ms += 2000;
                sitting.press(Press::down(key, Duration::from_millis(ms)), at(ms));
                assert!(
                    open_look(sitting.dressing().mood()).is_some(),
                    "{name}: {key:?}"
                );
            }
            hidden(name, "the last screen", &screen(&sitting, size), figure);
        }
    }
}

/// A reflex press, back, help, the menu, pause, a wrong key, a number that cannot be, two wrong
/// answers.
fn keys_tried(figure: i64) -> Vec<Key> {
    let mut keys = vec![
        Key::Space,
        Key::Left,
        Key::Char('?'),
        Key::Char('?'),
        Key::Tab,
    ];
    keys.extend([
        Key::Char('1'),
        Key::Char('x'),
        Key::Char('.'),
        Key::Esc,
        Key::Esc,
    ]);
    for n in [999_999, wrong(figure)[0], wrong(figure)[1]] {
        keys.extend(n.to_string().chars().map(Key::Char));
        keys.push(Key::Space);
    }
    keys
}

/// All text of the screen. What is drawn in the program's own face is drawn from the page's
/// distance line, which is looked at as well.
fn screen(sitting: &Sitting, (width, height): (u16, u16)) -> String {
    let area = Rect::new(0, 0, width, height);
    let mut canvas = Canvas::empty(area);
    let bands = sitting.bands(area);
    draw_bands(&bands, None, &mut canvas, sitting.manner());
    let buffer = canvas.to_buffer();
    let rows = (0..height).map(|y| {
        let cells = (0..width).map(|x| buffer[(x, y)].symbol());
        cells.collect::<String>()
    });
    let drawn: Vec<String> = rows.collect();
    // a picture of the loom would show how far the work is without a number
    let picture = |placed: &endsmeet::terminal::screens::Placed| {
        matches!(placed.band, Band::Loom(_) | Band::Strip(_))
    };
    let looking = open_look(sitting.dressing().mood()).is_some();
    assert!(!(looking && bands.iter().any(picture)));
    format!("{}\n{}", drawn.join("\n"), sitting.page().far)
}

#[test]
fn the_figure_is_nowhere_in_line_mode() {
    let method = Method::embedded();
    for (name, wanted, then, figure) in cases() {
        let mut keep = InMemory::new(Dressing::new(plan_from(PLAN), &[]));
        let mut now = lead_to(&mut keep, &wanted, &then).elapsed_ms;
        let wrong = wrong(figure).map(|n| n.to_string());
        let typed = [
            ".",
            "help",
            "",
            "back",
            "redo",
            "999999",
            "-1",
            "1 2 3",
            "count",
            "uneven",
            "heddles 1",
            "batch 8",
            "stop",
            "",
            "pause",
            "",
            "broken 99999",
            "note a remark",
            "again",
            "what",
        ];
        for line in typed.into_iter().chain(wrong.iter().map(String::as_str)) {
            if line == "back" && !back_leaves_it(keep.dressing()) {
                continue;
            }
            now += 2000;
            let mut out = Vec::new();
            lines::take(line, &mut keep, &method, &mut out, at(now)).unwrap();
            let out = String::from_utf8(out).unwrap();
            hidden(name, &format!("line mode after \"{line}\""), &out, figure);
        }
    }
}

/// The dressing kept in a file with the look open, as another window finds it.
fn in_a_file(folder: &Path, wanted: Wanted, then: &Ask) {
    let spec = read_spec(PLAN).unwrap();
    let plan = work_out(&spec).plan().unwrap();
    let start = Start {
        spec: &spec,
        plan,
        method: Method::embedded().fingerprint(),
        left_out: Vec::new(),
        owner: None,
    };
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let mut keeper = Keeper::create(&disk, folder, Rights::Umask, start, at(0)).unwrap();
    lead_to(&mut keeper, &wanted, then);
}

fn printed(folder: &Path, arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_endsmeet"))
        .args(arguments)
        .arg("--sessions")
        .arg(folder)
        .env_remove("ENDSMEET_SETTINGS")
        .output()
        .unwrap();
    let text = [output.stdout, output.stderr].concat();
    String::from_utf8(text).unwrap()
}

#[test]
fn the_figure_is_nowhere_in_what_another_window_prints() {
    let root = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("blind");
    let _ = std::fs::remove_dir_all(&root);
    for (nth, (name, wanted, then, figure)) in cases().into_iter().enumerate() {
        let folder = root.join(char::from(b'a' + nth as u8).to_string());
        std::fs::create_dir_all(&folder).unwrap();
        in_a_file(&folder, wanted, &then);
        for arguments in [
            &["status"][..],
            &["status", "--json"],
            &["log"],
            &["log", "--json"],
            &[],
            &["--json"],
        ] {
            let text = printed(&folder, arguments);
            assert!(
                text.len() > 40,
                "{name}: {arguments:?} says something: {text}"
            );
            hidden(name, &format!("{arguments:?}"), &text, figure);
        }
        let log = printed(&folder, &["log"]);
        assert!(log.contains("A look at the loom is open"), "{log}");
    }
}

/// Who passes a look over sees it everywhere: on the step, in the status, in the exit code.
#[test]
fn a_look_passed_over_stays_visible_everywhere() {
    let root = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("blind-passed");
    let _ = std::fs::remove_dir_all(&root);
    std::fs::create_dir_all(&root).unwrap();
    let wanted: Wanted = |d| look_of(d) == Some(Look::GroupsKnotted);
    in_a_file(&root, wanted, &Ask::Count);
    let code = |arguments: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_endsmeet"));
        command.args(arguments).arg("--sessions").arg(&root);
        command.stdin(std::process::Stdio::piped());
        command.stdout(std::process::Stdio::piped());
        let mut child = command.spawn().unwrap();
        // status reads nothing and may have ended already
        let _ = std::io::Write::write_all(&mut child.stdin.take().unwrap(), b"skip\n");
        let output = child.wait_with_output().unwrap();
        (
            output.status.code(),
            String::from_utf8(output.stdout).unwrap(),
        )
    };
    let (left, said) = code(&["resume", "--line"]);
    assert!(said.contains("assed over"), "{said}");
    assert_eq!(left, Some(3), "the exit code of leaving it so");
    let (status, said) = code(&["status"]);
    assert_eq!(status, Some(3));
    assert!(said.contains("1 check passed over or left open"), "{said}");
    assert!(printed(&root, &["status", "--json"]).contains("\"left_open\": 1"));
    assert!(printed(&root, &["log"]).contains("passed over"));
}

#[test]
fn the_page_of_a_step_names_checks_that_are_open() {
    let method = Method::embedded();
    let mut keep = InMemory::new(Dressing::new(plan_from(PLAN), &[]));
    let wanted: Wanted = |d| look_of(d) == Some(Look::GroupsKnotted);
    let now = lead_to(&mut keep, &wanted, &Ask::Count);
    keep.ask(&Ask::Skip, now).unwrap();
    let manner = Manner {
        theme: Theme::Mono,
        ink: Ink::Blocks,
    };
    let mut lot = || 3;
    let sitting = Sitting::new(&mut keep, &method, Settings::default(), manner, &mut lot);
    assert!(screen(&sitting, (80, 24)).contains("1 check open"));
}

/// Leads a sitting to its fourth threaded end, goes to another window for so long, and comes back.
fn looked_for_after(away_ms: u64) -> Option<Look> {
    let method = Method::embedded();
    let mut keep = InMemory::new(Dressing::new(plan_from(PLAN), &[]));
    let wanted: Wanted = |d| {
        let threaded = d.ledger().of(endsmeet::dressing::ledger::Task::Threaded);
        threaded.count() == 4
    };
    let now = lead_to(&mut keep, &wanted, &Ask::BackAtTheLoom).elapsed_ms;
    let answer = Ask::Answer(Answer::Number(SHAFT));
    keep.ask(&answer, at(now + 1000)).unwrap();
    let manner = Manner {
        theme: Theme::Mono,
        ink: Ink::Blocks,
    };
    let mut lot = || 3;
    let mut sitting = Sitting::new(&mut keep, &method, Settings::default(), manner, &mut lot);
    sitting.focus(false, at(now + 2000));
    assert!(screen(&sitting, (80, 24)).contains("Presses go to another window"));
    sitting.focus(true, at(now + 2000 + away_ms));
    look_of(sitting.dressing())
}

#[test]
fn another_window_for_a_while_asks_for_a_look_and_a_glance_does_not() {
    assert_eq!(looked_for_after(6_000), Some(Look::LastShaft));
    assert_eq!(looked_for_after(1_000), None);
}
