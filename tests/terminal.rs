//! The real program in a real terminal: a pty on one side, a screen made of its bytes on the
//! other. Few, since each starts the program; what needs no terminal is tried in `screens.rs`.
#![cfg(unix)]
#![allow(clippy::unwrap_used)]

mod common;
mod pty;

use common::{ask, demo};
use endsmeet::dressing::{Ask, Dressing, View};
use endsmeet::hand::Key;
use endsmeet::terminal::screens::LEAST;
use portable_pty::CommandBuilder;
use pty::both::{Both, resumed};
use pty::{Mirror, PATIENCE, Pty, RUNNER, endsmeet, folder, plain_environment, size_of, started};
use std::time::{Duration, Instant};

#[test]
fn every_way_out_gives_the_terminal_back() {
    for (way, code) in [
        ("TERM", 143),
        ("INT", 0),
        ("HUP", 129),
        ("QUIT", 131),
        ("\x03", 0),
        ("qy", 0),
    ] {
        let folder = folder();
        let mut pty = started(folder.path());
        if way.chars().all(|c| c.is_ascii_uppercase()) {
            pty.signal(way);
        } else {
            pty.send(way);
        }
        let ended = pty.ended();
        pty.assert_given_back();
        assert_eq!(ended, code, "{way:?}");
    }
}

#[test]
fn the_class_board_is_left_by_q_and_by_ctrl_c_and_follows_the_window() {
    for key in ["q", "\x03"] {
        let folder = folder();
        let board = endsmeet(folder.path(), &["board", folder.path().to_str().unwrap()]);
        let mut pty = Pty::start(board, LEAST);
        pty.wait_for("No dressing is in this folder.");
        pty.resize((120, 40));
        pty.wait_for("q leave");
        pty.resize((60, 20));
        pty.wait_for("Make the window larger: 80x24, now 60x20");
        pty.send(key);
        assert_eq!(pty.ended(), 0, "{key:?}");
        pty.assert_given_back();
    }
}

#[test]
fn a_terminal_that_goes_ends_the_program_even_where_the_signal_is_ignored() {
    let folder = folder();
    let mut shell = CommandBuilder::new("sh");
    let program = env!("CARGO_BIN_EXE_endsmeet");
    let dir = folder.path().display();
    shell.args([
        "-c",
        &format!("trap '' HUP; exec '{program}' new {RUNNER} --sessions '{dir}'"),
    ]);
    plain_environment(&mut shell);
    let mut pty = Pty::start(shell, LEAST);
    pty.wait_for("? help");
    pty.let_go();
    let start = Instant::now();
    while pty.child.try_wait().unwrap().is_none() {
        assert!(
            start.elapsed() < PATIENCE,
            "the program went on without a terminal"
        );
        std::thread::sleep(Duration::from_millis(10));
    }
}

/// Set where this test program is started again in a terminal of its own, to panic there.
const PANIC_THERE: &str = "ENDSMEET_TEST_PANIC_THERE";

#[test]
fn a_panic_in_a_thread_beside_the_loop_gives_the_terminal_back_and_ends_the_program() {
    const SAID: &str = "the thread fell over";
    if std::env::var_os(PANIC_THERE).is_some() {
        let _taken = endsmeet::terminal::restore::Taken::start().unwrap();
        let _ = std::thread::spawn(|| panic!("{SAID}")).join();
        std::thread::sleep(PATIENCE);
        return;
    }
    let mut command = CommandBuilder::new(std::env::current_exe().unwrap());
    command.args([
        "--exact",
        "a_panic_in_a_thread_beside_the_loop_gives_the_terminal_back_and_ends_the_program",
        "--nocapture",
    ]);
    plain_environment(&mut command);
    command.env(PANIC_THERE, "1");
    let mut pty = Pty::start(command, LEAST);
    assert_eq!(pty.ended(), 101);
    pty.assert_given_back();
    pty.wait_for(SAID);
}

/// How often the program's threads have gone to sleep of their own will.
#[cfg(target_os = "linux")]
fn sleeps(pid: u32) -> u64 {
    let threads = std::fs::read_dir(format!("/proc/{pid}/task")).unwrap();
    threads
        .filter_map(|thread| std::fs::read_to_string(thread.ok()?.path().join("status")).ok())
        .filter_map(|status| {
            let line = status
                .lines()
                .find(|line| line.starts_with("voluntary_ctxt_switches"))?;
            line.split_whitespace().last()?.parse::<u64>().ok()
        })
        .sum()
}

#[cfg(target_os = "linux")]
#[test]
fn while_nothing_is_lit_the_program_does_not_wake() {
    let folder = folder();
    let pty = started(folder.path());
    std::thread::sleep(Duration::from_millis(300));
    let pid = pty.child.process_id().unwrap();
    let (before, bytes) = (sleeps(pid), pty.bytes().len());
    std::thread::sleep(Duration::from_millis(1500));
    assert_eq!((sleeps(pid), pty.bytes().len()), (before, bytes));
}

#[test]
fn an_unfinished_paste_does_not_shut_the_way_out() {
    let folder = folder();
    for (way, code) in [("TERM", 143), ("\x03", 130), ("abc \x1b[20 \x03", 130)] {
        let mut pty = started(folder.path());
        pty.send("\x1b[200~abc");
        std::thread::sleep(Duration::from_millis(100));
        match way {
            "TERM" => pty.signal(way),
            keys => pty.send(keys),
        }
        assert_eq!(pty.ended(), code, "{way:?}");
        pty.assert_given_back();
    }
}

#[test]
fn no_color_sends_no_colour_and_keeps_bold() {
    let folder = folder();
    let mut command = endsmeet(folder.path(), &["new", RUNNER]);
    command.env("NO_COLOR", "1");
    let pty = Pty::start(command, LEAST);
    pty.wait_for("? help");
    let bytes = String::from_utf8_lossy(&pty.bytes()).into_owned();
    for command in bytes.split("\x1b[").skip(1) {
        let parameters: String = command
            .chars()
            .take_while(|c| c.is_ascii_digit() || *c == ';')
            .collect();
        if command[parameters.len()..].starts_with('m') {
            let numbers = parameters.split(';').filter_map(|n| n.parse::<u32>().ok());
            for number in numbers {
                assert!(
                    matches!(number, 0..=29 | 39 | 49),
                    "a colour was sent: {parameters:?}"
                );
            }
        }
    }
    assert!(bytes.contains("\x1b[1m"), "nothing is bold");
}

#[test]
fn a_held_key_is_one_press_at_real_times_and_a_longer_one_the_menu() {
    let folder = folder();
    let mut pty = started(folder.path());
    pty.send(" ");
    pty.wait_until("the second step", |pty| !pty.rows()[0].contains("gather"));
    std::thread::sleep(Duration::from_millis(900));
    let before = pty.rows();
    let hold = |pty: &mut Pty, ms: u64| {
        pty.send(" ");
        std::thread::sleep(Duration::from_millis(250));
        for _ in 0..(ms.saturating_sub(250) / 33) {
            pty.send(" ");
            std::thread::sleep(Duration::from_millis(33));
        }
    };
    hold(&mut pty, 900);
    pty.wait_until("one step more", |pty| pty.rows()[0] != before[0]);
    let one_more = pty.rows();
    std::thread::sleep(Duration::from_millis(300));
    assert_eq!(pty.rows(), one_more, "a held key is one press");
    pty.send("\x7f");
    pty.wait_until("the step back", |pty| pty.rows()[0] == before[0]);
    std::thread::sleep(Duration::from_millis(800));
    hold(&mut pty, 2000);
    pty.wait_for("9 STOP FOR TODAY");
    pty.send("1");
    pty.wait_until("the step from which the hold began", |pty| {
        pty.rows()[0] == before[0]
    });
}

#[test]
fn a_storm_of_sizes_and_keys_leaves_a_screen_that_is_whole() {
    let folder = folder();
    let mut pty = started(folder.path());
    let mut seed: u32 = 12345;
    let mut next = |below: u32| {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (seed >> 16) % below
    };
    for _ in 0..120 {
        let size = (next(300) as u16, next(100) as u16);
        let master = pty.master.as_ref().unwrap();
        master.resize(size_of(size)).unwrap();
        let keys = [
            " ", "\x7f", "\x1b[C", "?", "\x1b", "x", "7", "\x1b[5~", "\t", ".",
        ];
        pty.send(keys[next(10) as usize]);
        std::thread::sleep(Duration::from_millis(u64::from(next(4))));
    }
    // What was drawn before is of other sizes: only what comes from here on is looked at.
    std::thread::sleep(Duration::from_millis(300));
    pty.resize((90, 30));
    pty.wait_until("a whole screen", |pty| {
        let rows = pty.rows();
        let last = rows.last().unwrap();
        last.contains("help")
            || last.contains("take the lit line")
            || last.contains("back to the work")
    });
    pty.send("\x03");
    assert_eq!(pty.ended(), 0);
}

#[test]
fn the_stop_key_gives_the_shell_its_screen_and_fg_comes_back() {
    let folder = folder();
    let mut shell = CommandBuilder::new("bash");
    shell.args(["--norc", "--noprofile", "-i"]);
    plain_environment(&mut shell);
    shell.env("PS1", "shell> ");
    let mut pty = Pty::start(shell, LEAST);
    pty.wait_for("shell>");
    let program = env!("CARGO_BIN_EXE_endsmeet");
    let dir = folder.path().display();
    pty.send(&format!("{program} new {RUNNER} --sessions {dir}\n"));
    pty.wait_for("? help");
    let before = pty.rows();
    pty.send("\x1a");
    pty.wait_for("Stopped");
    pty.assert_given_back_but_for_the_shell();
    pty.send("fg\n");
    pty.wait_until("the same screen", |pty| pty.rows() == before);
    pty.send("\x03");
    pty.wait_until("the shell", |pty| {
        pty.rows().iter().rev().any(|row| row.starts_with("shell>"))
    });
    pty.send("exit\n");
    pty.ended();
}

#[test]
fn the_runner_is_dressed_from_new_to_ready_with_a_miscount_a_kill_and_a_resize() {
    let folder = folder();
    let command = endsmeet(folder.path(), &["new", RUNNER, "--guard-ms", "0"]);
    let pty = Pty::start(command, LEAST);
    pty.wait_for("? help");
    let mirror = Mirror::new(Dressing::new(demo("hall-runner.json"), &[]), 0);
    let mut both = Both { pty, mirror };

    both.lead(|view| matches!(view, View::Call(_)));
    // One press back, and the same press again.
    both.press(&[Key::Space]);
    both.press(&[Key::Backspace]);
    both.press(&[Key::Space]);
    // A miscount at the end of the first batch: an end and a heddle of shaft 1 left over.
    both.lead(|view| matches!(view, View::UsedUp(_)));
    both.press(&[Key::Char('2')]);
    for number in ["1", "1", "0", "0", "0"] {
        both.type_number(number);
    }
    assert!(matches!(
        both.mirror.dressing().view(),
        View::Disagreeing(_)
    ));
    let again = again_key(&both);
    both.press(&[again]);
    // The window grows in the middle.
    both.lead(|view| matches!(view, View::Call(call) if call.batch.number == 3));
    both.pty.resize((120, 40));
    both.pty.wait_for("? help");
    both.press(&[Key::Space]);
    // The program is killed in the middle of a batch, and gone on with.
    both.lead(|view| matches!(view, View::Call(call) if call.batch.number == 4));
    both.pty.signal("KILL");
    both.pty.ended();
    both.pty = resumed(folder.path(), (120, 40));
    let mut d = both.mirror.dressing().clone();
    ask(&mut d, &Ask::Opened).unwrap();
    both.mirror = Mirror::new(d, 100_000_000);

    both.lead(|view| matches!(view, View::Ready(_)));
    both.pty.wait_for("The loom is ready to weave");
    both.pty.send("qy");
    assert_eq!(both.pty.ended(), 0);
    both.pty.assert_given_back();
}

/// The number key of the way that threads the batch again.
fn again_key(both: &Both) -> Key {
    let rows = both.pty.rows();
    let row = rows
        .iter()
        .find(|row| row.contains("draw the batch out and thread it again"))
        .unwrap();
    Key::Char(row.trim_start_matches(['>', ' ']).chars().next().unwrap())
}

#[test]
fn a_plan_is_filled_in_left_half_way_and_finished_and_its_dressing_begins() {
    const F4: &str = "\x1bOS";
    let folder = folder();
    let kept = folder.path().join("unfinished-plan.json");
    let mut pty = Pty::start(endsmeet(folder.path(), &["new"]), LEAST);
    pty.wait_for("Name of the warp, needed");
    pty.send("My own towel\r\r10\r40\r");
    pty.wait_for("Still needed: Threading.");
    pty.send("1 2 3");
    pty.wait_for("> 1 2 3");
    pty.send("\x03");
    assert_eq!(pty.ended(), 0);
    pty.assert_given_back();
    let saved = std::fs::read_to_string(&kept).unwrap();
    assert!(saved.contains("\"threading\": \"1 2 3\""), "{saved}");

    let mut pty = Pty::start(endsmeet(folder.path(), &[]), LEAST);
    pty.wait_for("Go on with the new plan that was left half-way");
    pty.send("\r");
    pty.wait_for("it goes on where it was left");
    pty.send(" 4\r");
    pty.wait_for("Everything needed is answered.");
    pty.wait_for("So far: 40 ends; 4 in wide in the reed");
    pty.send(F4);
    pty.wait_for("Prepare");
    assert!(folder.path().join("my-own-towel.jsonl").exists());
    assert!(!kept.exists());
    pty.send("\x03");
    assert_eq!(pty.ended(), 0);
    pty.assert_given_back();

    let mut pty = Pty::start(endsmeet(folder.path(), &[]), LEAST);
    pty.wait_for("Go on with my-own-towel: Prepare");
    pty.wait_for("A new plan: the form");
    pty.send("\x03");
    assert_eq!(pty.ended(), 0);
}

#[test]
fn at_the_first_start_voice_pedal_and_letters_are_offered_once() {
    let folder = folder();
    let settings = folder.path().join("new/settings.toml");
    let mut command = endsmeet(folder.path(), &[]);
    command.env("ENDSMEET_SETTINGS", &settings);
    let mut pty = Pty::start(command.clone(), LEAST);
    pty.wait_for(">1 First time here");
    pty.send(" ");
    pty.wait_for(">1 Go on");
    pty.send("4");
    pty.wait_for("I can read this line");
    pty.send(" ");
    pty.wait_for(">1 Go on");
    pty.send("1");
    pty.wait_for(">1 A new plan");
    pty.send("qy");
    assert_eq!(pty.ended(), 0);
    let kept = std::fs::read_to_string(&settings).unwrap();
    assert!(kept.lines().any(|line| line == "size = 1"), "{kept}");

    let mut again = Pty::start(command, LEAST);
    again.wait_for(">1 A new plan");
    again.send("qy");
    assert_eq!(again.ended(), 0);
}
