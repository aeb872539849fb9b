//! The cloth over the work and over the form, key by key: which part is shown. Pictures of it are in
//! `screens.rs`; what is up in which pick is held by `cloth.rs` and `weaves.rs`.

#![allow(clippy::unwrap_used)]

mod common;

use common::{demo, small};
use endsmeet::hand::Key;
use endsmeet::plan::Plan;
use endsmeet::quantity::{Call, Shaft};
use endsmeet::terminal::canvas::Canvas;
use endsmeet::terminal::cloth_band::{ClothBand, Part};
use endsmeet::terminal::cloth_view::ClothView;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::screens::{Band, Manner};
use endsmeet::terminal::theme::Theme;
use ratatui::layout::Rect;

const MONO: Manner = Manner {
    theme: Theme::Mono,
    ink: Ink::Reversed,
};

/// The rows of the first band, drawn without colour in a window of 80 by so many rows.
fn rows(shown: ClothView, plan: &Plan, height: u16) -> Vec<String> {
    let bands = shown.bands(plan, Some(Call(5)), (80, height)).unwrap();
    let area = Rect::new(0, 0, 80, height);
    let mut canvas = Canvas::empty(area);
    bands[0].draw(&mut canvas, area, MONO);
    let row = |y| {
        (0..80u16)
            .map(|x| canvas.symbol_at((x, y)).to_owned())
            .collect::<String>()
    };
    (0..height).map(|y| row(y).trim_end().to_owned()).collect()
}

fn caption(shown: ClothView, plan: &Plan) -> String {
    rows(shown, plan, 6)[0].clone()
}

fn keys(shown: ClothView, keys: &[Key], plan: &Plan) -> Option<ClothView> {
    keys.iter()
        .try_fold(shown, |shown, key| shown.after(*key, plan))
}

#[test]
fn the_arrows_go_along_the_ends_and_up_and_down_the_picks_and_stop_at_both_ends() {
    let plan = demo("hall-runner.json");
    let begun = ClothView::at(None);
    let shown = |pressed: &[Key]| caption(keys(begun, pressed, &plan).unwrap(), &plan);
    assert_eq!(
        shown(&[]),
        "The cloth, front: ends 1 to 80, pick 1 at the bottom"
    );
    assert_eq!(
        shown(&[Key::Right]),
        "The cloth, front: ends 21 to 100, pick 1 at the bottom"
    );
    assert_eq!(
        shown(&[Key::Up, Key::Up]),
        "The cloth, front: ends 1 to 80, pick 17 at the bottom"
    );
    assert_eq!(
        shown(&[Key::Up, Key::Down, Key::Down, Key::Left]),
        shown(&[])
    );
    // 277 ends: the last part of 80 begins at 198
    let far = vec![Key::Right; 40];
    assert_eq!(
        shown(&far),
        "The cloth, front: ends 198 to 277, pick 1 at the bottom"
    );
}

#[test]
fn a_digit_says_from_which_length_floats_are_marked_and_nought_marks_none() {
    let plan = demo("hall-runner.json");
    let begun = ClothView::at(None);
    let drawn = |pressed: &[Key]| rows(keys(begun, pressed, &plan).unwrap(), &plan, 10).join("\n");
    let heavy = |text: &str| text.chars().filter(|c| *c == '=' || *c == 'I').count();
    // a point draft with a 2/2: floats over two everywhere and over three at the points, none longer
    let (over_two, over_three) = (drawn(&[Key::Char('2')]), drawn(&[Key::Char('3')]));
    assert!(
        over_two.contains("floats over 2 heavy") && heavy(&over_two) > 0,
        "{over_two}"
    );
    assert!(
        over_three.contains("floats over 3 heavy") && heavy(&over_three) == 0,
        "{over_three}"
    );
    let none = drawn(&[Key::Char('2'), Key::Char('0')]);
    assert!(!none.contains("heavy") && heavy(&none) == 0, "{none}");
}

#[test]
fn its_key_goes_by_the_long_floats_the_back_and_the_draft_and_shuts() {
    let plan = demo("hall-runner.json");
    let mut shown = ClothView::at(None);
    let mut captions = Vec::new();
    loop {
        captions.push(caption(shown, &plan));
        match shown.after(Key::F(6), &plan) {
            Some(next) => shown = next,
            None => break,
        }
    }
    assert_eq!(captions.len(), 4);
    assert!(captions[1].contains("front") && captions[1].contains("floats over 3 heavy"));
    assert!(captions[2].contains("back"));
    // the draft begins with the highest shaft
    assert!(captions[3].contains("  4 "), "{captions:?}");
    assert!(ClothView::at(None).after(Key::Esc, &plan).is_none());
    assert!(ClothView::at(None).after(Key::Char('x'), &plan).is_none());
}

/// Threading above with shaft 1 lowest, tie-up at its right, treadling below that, the cloth between:
/// a straight draw of four with shafts 1 3 and 2 4 tied, by hand. Call 1 is at the right.
#[test]
fn the_draft_stands_in_the_usual_arrangement() {
    let plan = small();
    let mut shown = ClothView::at(None);
    for _ in 0..3 {
        shown = shown.after(Key::F(6), &plan).unwrap();
    }
    let drawn = rows(shown, &plan, 12);
    let of = |row: &str| row.repeat(6);
    assert_eq!(drawn[0], format!("{}   4 .4", of("4...")));
    assert_eq!(drawn[1], format!("{}   3 3.", of(".3..")));
    assert_eq!(drawn[2], format!("{}   2 .2", of("..2.")));
    assert_eq!(drawn[3], format!("{}   1 1.", of("...1")));
    assert_eq!(drawn[4], "");
    assert_eq!(drawn[5], format!("{}   1 1.", of("-|-|")));
    assert_eq!(drawn[6], format!("{}   2 .2", of("|-|-")));
    // and it is scrolled as the cloth is
    let up = shown.after(Key::Up, &plan).unwrap();
    assert_eq!(rows(up, &plan, 12)[5], format!("{}   9 1.", of("-|-|")));
}

#[test]
fn in_colour_a_row_of_letters_is_two_picks_in_the_yarns_colours() {
    let plan = small();
    let part = Part {
        first: 1,
        pick: 1,
        face: endsmeet::plan::Face::Front,
        over: None,
        hand: None,
    };
    let band = ClothBand::of(&plan, part, 4).unwrap();
    let coloured = band.coloured_rows(3);
    assert_eq!(coloured.len(), 2);
    // the upper row is pick 3 alone: shafts 1 and 3 up, seen from left to right as calls 4 3 2 1
    let blocks = |row: &str| {
        row.chars()
            .filter(|c| "\u{2580}\u{2584}".contains(*c))
            .count()
    };
    assert_eq!(
        coloured.iter().map(|row| blocks(row)).collect::<Vec<_>>(),
        [4, 4]
    );
    assert!(
        coloured.iter().all(|row| row.ends_with("\u{1b}[0m")),
        "the usual colours again"
    );
    let warp = coloured[1].split("38;5;").nth(1).unwrap();
    let other = coloured[1].split("38;5;").nth(2).unwrap();
    assert_ne!(
        warp.split(';').next(),
        other.split(';').next(),
        "plain weave: neighbours differ"
    );
    assert_eq!(plan.threading[0], Shaft(1));
}

#[test]
fn a_plan_without_picks_has_no_cloth() {
    let text = common::SMALL.replace(r#", "treadling": "1 2""#, "");
    let plan = common::plan_from(&text);
    assert!(ClothView::at(None).bands(&plan, None, (80, 24)).is_none());
    let bands = ClothView::at(None).bands(&small(), None, (80, 24)).unwrap();
    assert!(matches!(bands[0], Band::Cloth(_)));
}

fn printed(more: &[&str], no_color: bool) -> String {
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_endsmeet"));
    command.args(["cloth", "assets/demo/hall-runner.json", "--picks", "4"]);
    command.args(more);
    command.env("ENDSMEET_SETTINGS", "tests/common/usual-settings.toml");
    command.env("TERM", "xterm-256color").env("LANG", "C.UTF-8");
    for name in ["LC_ALL", "LC_CTYPE", "NO_COLOR"] {
        command.env_remove(name);
    }
    if no_color {
        command.env("NO_COLOR", "1");
    }
    String::from_utf8(command.output().unwrap().stdout).unwrap()
}

#[test]
fn the_command_prints_colour_where_it_is_wanted_and_none_into_a_pipe() {
    let coloured = |text: &str| text.contains("\u{1b}[");
    assert!(!coloured(&printed(&[], false)), "no terminal reads it");
    assert!(coloured(&printed(&["--color", "always"], false)));
    assert!(!coloured(&printed(&["--color", "never"], false)));
    assert!(
        coloured(&printed(&["--color", "always"], true)),
        "said on the line, it counts more"
    );
    // marked floats are shapes and need no colour; letters stay letters
    let marked = printed(&["--color", "always", "--floats", "2"], false);
    assert!(!coloured(&marked));
    assert!(!coloured(&printed(
        &["--color", "always", "--ascii"],
        false
    )));
    let rows = printed(&["--color", "always"], false);
    let rows = rows.lines().filter(|line| coloured(line)).count();
    assert_eq!(rows, 2, "four picks, two in a row");
}

fn listed(shown: ClothView, plan: &Plan, size: (u16, u16)) -> Vec<String> {
    let bands = shown.bands(plan, None, size).unwrap();
    let Band::Lines(lines) = bands.into_iter().next().unwrap() else {
        panic!("no list")
    };
    lines.into_iter().map(|(_, line)| line).collect()
}

// By hand: 24 ends at 4 an inch are six groups of 1 2 3 4; treadle 1 lifts 1 and 3, treadle 2 lifts 2 and 4,
// two of the four ends of every group each time, and the picks take them by turns.
#[test]
fn every_treadle_and_pick_says_what_rises_in_every_group() {
    let plan = small();
    let lines = listed(ClothView::sheds(), &plan, (120, 40));
    assert_eq!(lines.len(), 2 + 8);
    assert_eq!(
        lines[0],
        "Treadle 1: shafts 1 3 rise, 12 ends; groups 1 to 6: 2 of 4."
    );
    assert_eq!(
        lines[2],
        "Pick 1, treadle 1: shafts 1 3 rise, 12 ends; groups 1 to 6: 2 of 4."
    );
    assert_eq!(
        lines[9],
        "Pick 8, treadle 2: shafts 2 4 rise, 12 ends; groups 1 to 6: 2 of 4."
    );
}

#[test]
fn the_list_of_sheds_is_scrolled_to_its_last_line_and_shut_by_any_other_key() {
    let plan = demo("hall-runner.json");
    let all = listed(ClothView::sheds(), &plan, (120, 60));
    // six treadles, eight picks; groups differ at the points, so each has its number
    assert_eq!(all.len(), 14);
    assert!(all[0].contains("by group, 1 to 14: "), "{}", all[0]);
    let ends = all[0].split(": ").last().unwrap().trim_end_matches('.');
    let sum: u32 = ends.split(' ').map(|n| n.parse::<u32>().unwrap()).sum();
    // shafts 1 and 2 of a point draft that needs 47 and 92 heddles on them
    assert_eq!(sum, 47 + 92);
    let end = keys(ClothView::sheds(), &[Key::Down; 40], &plan).unwrap();
    assert_eq!(listed(end, &plan, (80, 24)), all[13..]);
    let small_window = listed(ClothView::sheds(), &plan, (80, 10));
    assert!(small_window.len() < 14 && small_window[..] == all[..small_window.len()]);
    assert!(end.after(Key::F(4), &plan).is_none());
}
