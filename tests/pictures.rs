//! The pictures of the README are made by the program from its own screens. To make them anew:
//! `ENDSMEET_PICTURES=write cargo test --test pictures`; without it the files are checked.
#![allow(clippy::unwrap_used)]

mod common;

use common::{demo, lead};
use endsmeet::dressing::{Ask, Dressing, View};
use endsmeet::hand::{Key, Press, Settings};
use endsmeet::journal::keep::InMemory;
use endsmeet::method::Method;
use endsmeet::terminal::canvas::Canvas;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::screens::{Manner, Screen};
use endsmeet::terminal::sitting::Sitting;
use endsmeet::terminal::svg::svg_of;
use endsmeet::terminal::theme::Theme;
use ratatui::layout::Rect;
use std::path::Path;
use std::time::Duration;

/// The screen of a dressing after some keys, as a picture.
fn picture(dressing: &Dressing, keys: &[Key], title: &str) -> String {
    let method = Method::embedded();
    let mut keep = InMemory::new(dressing.clone());
    let mut lot = || 4;
    let manner = Manner {
        theme: Theme::Colour,
        ink: Ink::Blocks,
    };
    let settings = Settings {
        guard: Duration::ZERO,
        quiet: Duration::ZERO,
        ..Settings::default()
    };
    let mut sitting = Sitting::new(&mut keep, &method, settings, manner, &mut lot);
    for (at, key) in (1u64..).zip(keys) {
        let press = Press::down(*key, Duration::from_secs(at));
        sitting.press(press, common::at(20_000_000 + 1000 * at));
    }
    let mut canvas = Canvas::empty(Rect::new(0, 0, 80, 24));
    for placed in sitting.bands(canvas.area) {
        placed.draw(&mut canvas, manner);
    }
    svg_of(&canvas.to_buffer(), title)
}

fn pictures() -> Vec<(&'static str, String)> {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    let mut made = Vec::new();
    lead(
        &mut d,
        |d| matches!(d.view(), View::Call(c) if c.batch.number == 7 && c.handful == 2),
    );
    let call = "The call: thread shafts 4, 3 and 2";
    made.push(("call.svg", picture(&d, &[], call)));
    lead(&mut d, |d| matches!(d.view(), View::UsedUp(_)));
    common::ask(&mut d, &Ask::Uneven).unwrap();
    let report: Vec<Key> = "1.1.0.0.0."
        .chars()
        .map(|c| if c == '.' { Key::Enter } else { Key::Char(c) })
        .collect();
    let miscount = "A miscount: what was found, what it may be, where to look, the ways out";
    made.push(("miscount.svg", picture(&d, &report, miscount)));
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Sley(s) if s.nth == 5));
    let sley = "Sleying a group: its dents, the place on the tape, the picture of the loom";
    made.push(("sley.svg", picture(&d, &[], sley)));
    made
}

#[test]
fn the_pictures_are_what_the_program_shows() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/pictures");
    let write = std::env::var_os("ENDSMEET_PICTURES").is_some_and(|v| v == "write");
    for (name, svg) in pictures() {
        let file = folder.join(name);
        if write {
            std::fs::create_dir_all(&folder).unwrap();
            std::fs::write(&file, &svg).unwrap();
        }
        let kept = std::fs::read_to_string(&file).unwrap_or_default();
        assert!(
            kept == svg,
            "{name} is not what the program shows; make the pictures anew with \
             ENDSMEET_PICTURES=write cargo test --test pictures"
        );
    }
}
