//! Keys in, screen out: the sitting and its screens in process, with a terminal that only
//! remembers. What the real terminal does is tried in `terminal.rs`.

#![allow(clippy::unwrap_used)]

mod common;
mod desk;

use common::count::{Row, trials};
use common::{answer_truly, ask, at, demo, lead, small};
use desk::{
    COLOUR, Desk, PLAIN, at_desk, letters, method, quick, rows_of, shown, text_of, wait_for_light,
};
use endsmeet::dressing::view::Asked;
use endsmeet::dressing::{Ask, Dressing, Entry, View, When};
use endsmeet::hand::{Key, Press, Settings};
use endsmeet::journal::keep::{InMemory, Keep, NotDone};
use endsmeet::terminal::canvas::Canvas;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::driver::Shown;
use endsmeet::terminal::saving::Saving;
use endsmeet::terminal::screens::{After, Band, FarLine, Manner, Screen};
use endsmeet::terminal::sender::Sender;
use endsmeet::terminal::sitting::Sitting;
use endsmeet::terminal::theme::Theme;
use endsmeet::words::page;
use proptest::prelude::*;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::sync::OnceLock;
use std::time::Duration;

/// Every kind of state that two whole dressings pass through, with the reports and rests beside.
fn states() -> &'static Vec<Dressing> {
    static STATES: OnceLock<Vec<Dressing>> = OnceLock::new();
    STATES.get_or_init(|| {
        let mut states = Vec::new();
        for plan in [
            small(),
            demo("winter-blanket.json"),
            demo("hall-runner.json"),
        ] {
            let mut seen = std::collections::HashSet::new();
            let mut d = Dressing::new(plan, &[]);
            loop {
                let step = d.current().map(|key| key.id);
                if seen.insert((std::mem::discriminant(&d.view()), step)) {
                    states.push(d.clone());
                    states.extend(beside(&d));
                }
                if matches!(d.view(), View::Ready(_)) {
                    break;
                }
                if matches!(d.view(), View::Asking(_)) {
                    answer_truly(&mut d);
                } else {
                    ask(&mut d, &Ask::Next).unwrap();
                }
            }
        }
        states
    })
}

/// What can be asked beside the way: rests, a look that was wished for, the report of a miscount.
fn beside(d: &Dressing) -> Vec<Dressing> {
    let mut states = Vec::new();
    for first in [
        Ask::Pause,
        Ask::StopForToday,
        Ask::Count,
        Ask::Uneven,
        Ask::Stuck,
    ] {
        let mut d = d.clone();
        if ask(&mut d, &first).is_err() {
            continue;
        }
        states.push(d.clone());
        for _ in 0..3 {
            let View::Asking(asking) = d.view() else {
                break;
            };
            let answer = match asking.asked {
                Asked::HeddlesLeft { shafts, .. } => {
                    let mut left = vec![0; usize::from(shafts)];
                    left[0] = 1;
                    endsmeet::dressing::Answer::Numbers(left)
                }
                _ => endsmeet::dressing::Answer::Number(1),
            };
            if ask(&mut d, &Ask::Answer(answer)).is_err() {
                break;
            }
            states.push(d.clone());
        }
    }
    states
}

/// Draws a state at a size, with something over it.
fn drawn(dressing: &Dressing, manner: Manner, (w, h): (u16, u16), over: u8) -> Buffer {
    let method = method();
    let mut keep = InMemory::new(dressing.clone());
    let mut lot = || 7;
    let settings = Settings {
        one_button: over >= 5,
        ..quick()
    };
    let mut desk = Desk::new(&mut keep, method, &mut lot, (settings, manner, (w, h)));
    match over % 5 {
        1 => desk.press(Key::Char('?')),
        2 => desk.press(Key::Char('q')),
        3 => desk.press(Key::Tab),
        4 => {
            desk.sitting.focus(false, at(1000));
            After::Show
        }
        _ => After::Show,
    };
    desk.show();
    desk.buffer()
}

#[test]
fn two_whole_dressings_have_every_kind_of_view() {
    let kinds: std::collections::HashSet<_> = states()
        .iter()
        .map(|d| std::mem::discriminant(&d.view()))
        .collect();
    assert_eq!(kinds.len(), 15);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn every_screen_is_safe_at_every_size(
        state in any::<prop::sample::Index>(),
        w in prop_oneof![1u16..=300, 78u16..=84, 1u16..=5],
        h in prop_oneof![1u16..=100, 22u16..=30, 1u16..=5],
        colour in any::<bool>(), blocks in any::<bool>(), over in 0u8..10,
    ) {
        let manner = Manner {
            theme: if colour { Theme::Colour } else { Theme::Mono },
            ink: if blocks { Ink::Blocks } else { Ink::Reversed },
        };
        let buffer = drawn(state.get(states()), manner, (w, h), over);
        prop_assert_eq!(buffer.area, Rect::new(0, 0, w, h));
        if !blocks {
            prop_assert!(buffer.content.iter().all(|cell| cell.symbol().is_ascii()));
        }
        if w < 80 || h < 24 {
            let text = text_of(&buffer).replace('\n', "");
            let shown: String = text.chars().filter(|c| !c.is_whitespace()).collect();
            let whole = format!("Makethewindowlarger:80x24,now{w}x{h}");
            prop_assert!(whole.starts_with(&shown) || shown.starts_with(&whole));
        }
    }
}

/// All windows of 0 to 60 columns and 0 to 20 rows, shared out among the states; every state gets 13
/// of them with `ENDSMEET_TRIALS=ci`, and all of them in a soak.
#[test]
fn every_state_is_safe_at_each_of_the_smallest_sizes() {
    let row = Row::begin("every state at 0 to 60 by 0 to 20");
    let step = (792 / trials(1, 8, 792)).max(1) as usize;
    let sizes = (0..=60_u16).flat_map(|w| (0..=20_u16).map(move |h| (w, h)));
    let sizes: Vec<(u16, u16)> = sizes.collect();
    let mut drawn = 0;
    for (n, dressing) in states().iter().enumerate() {
        for over in [None, Some('?'), Some('q')] {
            at_desk(dressing, quick(), |desk| {
                if let Some(key) = over {
                    desk.press(Key::Char(key));
                }
                for size in sizes.iter().skip(n % step).step_by(step) {
                    at_size(desk, *size);
                    drawn += 1;
                }
            });
        }
    }
    row.done(drawn, &format!(" for {} states", states().len()));
}

/// Shows it at a size too small for it: as much as there is room for of what to do about that.
fn at_size(desk: &mut Desk, (w, h): (u16, u16)) {
    let area = Rect::new(0, 0, w, h);
    desk.shown = Shown::new(TestBackend::new(w, h), area);
    desk.show();
    let text = text_of(&desk.buffer()).replace('\n', "");
    let shown: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    let whole = format!("Makethewindowlarger:80x24,now{w}x{h}");
    assert!(
        whole.starts_with(&shown) || shown.starts_with(&whole),
        "{w}x{h}: {shown}"
    );
    let room = whole.len() <= usize::from(w) * usize::from(h) / 2;
    assert!(!room || shown.starts_with(&whole), "{w}x{h}: {shown}");
}

#[test]
fn at_eighty_by_twenty_four_no_sentence_of_a_page_is_missing() {
    let method = method();
    for d in states() {
        let view = d.view();
        let lists =
            matches!(&view, View::Asking(a) if matches!(a.asked, Asked::HeddlesLeft { .. }));
        if matches!(view, View::Call(_)) || lists {
            continue;
        }
        let page = page(&view, d.plan(), method);
        for manner in [COLOUR, PLAIN] {
            let shown = letters(&text_of(&drawn(d, manner, (80, 24), 0)));
            for line in page.lines.iter().chain(&page.caution) {
                assert!(
                    shown.contains(&letters(line)),
                    "{line:?} is missing on\n{}",
                    text_of(&drawn(d, manner, (80, 24), 0))
                );
            }
            assert!(shown.contains("?help"), "help is missing: {shown}");
        }
    }
}

#[test]
fn the_footer_keeps_three_hints_and_help_at_eighty_columns() {
    for d in states() {
        for manner in [COLOUR, PLAIN] {
            let text = text_of(&drawn(d, manner, (80, 24), 0));
            let last = text.lines().last().unwrap_or_default().trim();
            let hints: Vec<&str> = last.split("   ").filter(|hint| !hint.is_empty()).collect();
            assert!(hints.len() >= 3, "{last:?}");
            assert_eq!(hints.last(), Some(&"? help"), "{last:?}");
        }
    }
}

#[test]
fn every_distance_line_is_large_at_eighty_columns() {
    let method = method();
    for d in states() {
        let far = page(&d.view(), d.plan(), method).far;
        assert!(far.chars().count() <= 20, "{far:?}");
        let line = FarLine::now(far.clone());
        assert_eq!(line.least(80, COLOUR), 4, "{far:?}");
        let rows = line.least(80, PLAIN);
        assert!((6..=18).contains(&rows), "{far:?} takes {rows} rows");
    }
}

#[test]
fn the_call_stands_at_the_same_rows_all_through_a_batch() {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Call(_)));
    at_desk(&d, quick(), |desk| {
        let place = |desk: &mut Desk| {
            let bands = desk.sitting.bands(Rect::new(0, 0, 80, 24));
            bands
                .into_iter()
                .find(|b| matches!(b.band, Band::Call(_)))
                .map(|b| b.area)
        };
        let first = place(desk);
        assert!(first.is_some_and(|area| area.height >= 8));
        for _ in 0..3 {
            desk.keys("space");
            assert_eq!(place(desk), first);
        }
    });
}

#[test]
fn rows_alone_show_what_a_whole_drawing_shows_through_a_whole_dressing() {
    let method = method();
    let mut keep = InMemory::new(Dressing::new(small(), &[]));
    let mut lot = || 1;
    let mut desk = Desk::new(&mut keep, method, &mut lot, (quick(), COLOUR, (80, 24)));
    let mut checked = 0;
    for _ in 0..400 {
        let before = desk.text();
        desk.keys("space");
        if desk.text() == before {
            // A question: pass it over, so that the work goes on.
            desk.keys("f8");
        }
        let mut whole = Canvas::empty(Rect::new(0, 0, 80, 24));
        for placed in desk.sitting.bands(whole.area) {
            placed.draw(&mut whole, COLOUR);
        }
        assert_eq!(rows_of(&whole.to_buffer()), rows_of(&desk.buffer()));
        checked += 1;
        if desk.sitting.page().heading == "Ready" {
            break;
        }
    }
    assert_eq!(desk.sitting.page().heading, "Ready");
    assert!(checked > 40, "only {checked} presses");
}

#[test]
fn a_press_sends_little_and_in_one_write() {
    struct Writes(std::rc::Rc<std::cell::RefCell<Vec<usize>>>);
    impl std::io::Write for Writes {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            self.0.borrow_mut().push(bytes.len());
            Ok(bytes.len())
        }

        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    lead(
        &mut d,
        |d| matches!(d.view(), View::Call(c) if c.batch.number == 7),
    );
    let last = d.last().unwrap().elapsed_ms;
    for (size, most) in [((80, 24), 2048), ((120, 40), 3072)] {
        let mut keep = InMemory::new(d.clone());
        let mut lot = || 0;
        let mut sitting = Sitting::new(&mut keep, method(), quick(), COLOUR, &mut lot);
        let writes = std::rc::Rc::new(std::cell::RefCell::new(Vec::new()));
        let sender = Sender::new(Writes(writes.clone()), true);
        let area = Rect::new(0, 0, size.0, size.1);
        let mut shown = Shown::new(sender, area);
        shown.show_anew(area, sitting.bands(area), COLOUR).unwrap();
        for n in 1..=3u64 {
            writes.borrow_mut().clear();
            let press = Press::down(Key::Space, Duration::from_secs(n));
            sitting.press(press, at(last + 1000 * n));
            shown.show(sitting.bands(area), COLOUR).unwrap();
            let sent = writes.borrow().clone();
            assert_eq!(sent.len(), 1, "{size:?}: {sent:?}");
            assert!(sent[0] <= most, "{size:?}: {sent:?}");
        }
    }
}

#[test]
fn a_miscount_is_reported_traced_and_put_right_by_keys_alone() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::UsedUp(_)));
    let ((), d) = at_desk(&d, quick(), |desk| {
        assert!(desk.text().contains("2 left over or short"));
        desk.keys("2");
        assert!(desk.text().contains("How many counted-out ends are left?"));
        desk.keys("1 enter");
        assert!(desk.text().contains("left on shaft 1?"));
        desk.keys("0 enter 0 enter 1 enter");
        assert!(desk.text().contains("shaft 1: 0, shaft 2: 0, shaft 3: 1"));
        // One back takes the last number of the list out again.
        desk.keys("back");
        assert!(desk.text().contains("left on shaft 3?"));
        desk.keys("1 enter 0 enter");
        let text = desk.text();
        assert!(text.contains("Perhaps: call"), "{text}");
        assert!(text.contains("I looked: answer"), "{text}");
        desk.keys("1");
        assert!(desk.text().contains("?"));
        desk.keys("3 enter");
        assert!(desk.text().contains("draw the batch out"));
    });
    assert!(matches!(d.view(), View::Disagreeing(_)));
    let ((), d) = at_desk(&d, quick(), |desk| {
        let lines = desk.text();
        let row = lines
            .lines()
            .find(|row| row.contains("draw the batch out and thread it again"))
            .unwrap();
        let number = row.trim_start_matches(['>', ' ']).chars().next().unwrap();
        desk.keys(&number.to_string());
    });
    assert!(matches!(d.view(), View::CountOut(_) | View::Call(_)));
}

#[test]
fn back_one_and_redo_say_what_they_did() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Call(_)));
    at_desk(&d, quick(), |desk| {
        let before = desk.text();
        desk.keys("space back");
        assert!(
            desk.text().contains("Taken back: ends 1 to 4 threaded."),
            "{}",
            desk.text()
        );
        desk.keys("redo");
        assert!(
            desk.text().contains("Done again: ends 1 to 4 threaded."),
            "{}",
            desk.text()
        );
        desk.keys("back");
        let body = |text: &str| text.lines().take(20).map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(body(&desk.text()), body(&before));
    });
}

#[test]
fn wrong_keys_say_which_key_is_right_and_move_nothing() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Call(_)));
    let entries = d.entries();
    let ((), d) = at_desk(&d, quick(), |desk| {
        desk.keys("z");
        let text = desk.text();
        assert!(text.contains("z does nothing here. Space: this handful is threaded."));
        desk.keys("7");
        assert!(desk.text().contains("7 does nothing here."));
    });
    assert_eq!(d.entries(), entries);
}

#[test]
fn leaving_asks_for_y_and_any_other_key_stays() {
    let d = Dressing::new(small(), &[]);
    at_desk(&d, quick(), |desk| {
        desk.keys("q");
        assert!(desk.text().contains("Every press is saved."));
        assert_eq!(desk.press(Key::Space), After::Show);
        assert!(!desk.text().contains("Every press is saved."));
        desk.keys("q");
        assert_eq!(desk.press(Key::Char('y')), After::Leave);
        assert_eq!(desk.press(Key::Ctrl('c')), After::Leave);
        assert_eq!(desk.press(Key::Ctrl('z')), After::Suspend);
        assert_eq!(desk.press(Key::Ctrl('l')), After::Repaint);
    });
}

#[test]
fn help_is_shut_by_the_next_press_and_nothing_else_is_done() {
    let d = Dressing::new(small(), &[]);
    let ((), d) = at_desk(&d, quick(), |desk| {
        desk.keys("?");
        assert!(desk.text().contains("Show this help"));
        desk.keys("space");
        assert!(!desk.text().contains("Show this help"));
    });
    assert_eq!(d.entries(), 0);
}

/// Holds the button as a terminal with a slow keyboard sends it.
fn hold(desk: &mut Desk, ms: u64) {
    let start = desk.now + 5000;
    let mut at = start;
    while at <= start + ms {
        let press = Press::down(Key::Space, Duration::from_millis(at));
        let when = desk.when();
        desk.sitting.press(press, when);
        at += if at == start { 250 } else { 33 };
    }
    desk.now = at;
    desk.show();
}

#[test]
fn a_hold_opens_the_menu_and_its_press_is_taken_back() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Call(_)));
    let view = d.view();
    let ((), d) = at_desk(&d, Settings::default(), |desk| {
        hold(desk, 1000);
        assert!(!desk.text().contains("STUCK"), "a short hold is one press");
        desk.keys("back");
        hold(desk, 1500);
        let text = desk.text();
        assert!(text.contains("1 GO ON") && text.contains("9 STOP FOR TODAY"));
        assert!(text.contains("The press that opened the menu is taken back."));
        assert_eq!(desk.said.last().map(String::as_str), Some("go on"));
        // Left alone the light goes on to BACK ONE and is spoken.
        desk.now += 2100;
        let (now, when) = (Duration::from_millis(desk.now), desk.when());
        desk.sitting.tick(now, when);
        desk.show();
        assert_eq!(desk.said.last().map(String::as_str), Some("back one"));
        desk.keys("1");
    });
    assert_eq!(d.view(), view, "nothing has moved");
}

#[test]
fn the_menu_leads_into_the_report_of_a_miscount_from_any_call() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Call(_)));
    for (before, asked) in [("", "in their heddles?"), ("space space", "ends are left?")] {
        let ((), d) = at_desk(&d, quick(), |desk| {
            desk.keys(before).keys("tab 4");
            assert!(desk.text().contains(asked), "{}", desk.text());
        });
        assert!(matches!(d.view(), View::Asking(_)));
    }
}

#[test]
fn with_one_button_alone_a_question_is_answered() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::UsedUp(_)));
    ask(&mut d, &Ask::Uneven).unwrap();
    let settings = Settings {
        one_button: true,
        ..Settings::default()
    };
    let ((), d) = at_desk(&d, settings, |desk| {
        desk.keys("space");
        assert!(
            desk.text().contains("How many counted-out ends are left?"),
            "a press by reflex answers nothing"
        );
        for _ in 0..40 {
            let lit = rows_of(&desk.buffer());
            let at_zero = desk.said.last().is_some_and(|said| said == "0");
            if at_zero {
                desk.keys("space");
                desk.keys("space");
                return;
            }
            assert!(!lit.is_empty());
            let wakes = desk.sitting.wakes_at();
            let wakes = wakes.unwrap_or_else(|| panic!("nothing is lit: {:?}", desk.said));
            desk.now = u64::try_from(wakes.as_millis()).unwrap();
            let (now, when) = (Duration::from_millis(desk.now), desk.when());
            desk.sitting.tick(now, when);
            desk.show();
        }
        panic!("0 was never lit: {:?}", desk.said);
    });
    let View::Asking(asking) = d.view() else {
        panic!("{:?}", d.view());
    };
    assert!(matches!(asking.asked, Asked::HeddlesLeft { .. }));
}

#[test]
fn one_button_alone_dresses_a_whole_warp() {
    let settings = Settings {
        one_button: true,
        ..Settings::default()
    };
    let d = Dressing::new(small(), &[]);
    let ((), d) = at_desk(&d, settings, |desk| {
        for _ in 0..1000 {
            match desk.sitting.dressing().view() {
                View::Ready(_) => return,
                View::Asking(_) => {
                    let number = common::true_answer(desk.sitting.dressing()).unwrap();
                    for digit in number.chars() {
                        wait_for_light(desk, &digit.to_string());
                        desk.press(Key::Space);
                    }
                    desk.now += 700;
                    desk.press(Key::Space);
                }
                _ => {
                    desk.press(Key::Space);
                }
            }
        }
        panic!("never ready: {}", desk.text());
    });
    assert!(matches!(d.view(), View::Ready(_)));
    assert_eq!(d.left_open(), 0, "nothing was passed over");
}

#[test]
fn one_button_can_say_that_it_cannot_tell_by_the_menu_and_never_by_a_press() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::Asking(_)));
    let ((), after) = at_desk(&d, quick(), |desk| {
        desk.keys("space space space");
        assert!(matches!(desk.sitting.dressing().view(), View::Asking(_)));
        desk.keys("tab");
        wait_for_light(desk, "cannot tell");
        desk.press(Key::Space);
    });
    assert!(!matches!(after.view(), View::Asking(_)));
    assert!(after.left_open() > 0, "it stays on record");
}

/// A keeper whose disk is full until it is told that there is room.
struct FullDisk {
    inner: InMemory,
    full: std::rc::Rc<std::cell::Cell<bool>>,
}

impl Keep for FullDisk {
    fn dressing(&self) -> &Dressing {
        self.inner.dressing()
    }

    fn ask(&mut self, ask: &Ask, when: When) -> Result<Entry, NotDone> {
        if self.full.get() {
            return Err(NotDone::NotSaved(
                "No room on the disk. Make room.".to_owned(),
            ));
        }
        self.inner.ask(ask, when)
    }
}

#[test]
fn a_press_that_cannot_be_saved_is_refused_in_the_largest_type_and_taken_when_it_can() {
    let full = std::rc::Rc::new(std::cell::Cell::new(true));
    let mut keep = FullDisk {
        inner: InMemory::new(Dressing::new(small(), &[])),
        full: full.clone(),
    };
    let method = method();
    let mut lot = || 0;
    let mut desk = Desk::new(&mut keep, method, &mut lot, (quick(), COLOUR, (80, 24)));
    let heading = desk.sitting.page().heading.clone();
    desk.keys("space");
    assert!(desk.text().contains("No room on the disk."));
    assert!(desk.text().contains('█'));
    assert!(desk.sitting.take_bell());
    assert_eq!(desk.sitting.page().heading, heading);
    full.set(false);
    desk.keys("space");
    assert!(!desk.text().contains("No room on the disk."));
    assert_ne!(desk.sitting.page().heading, heading);
}

/// A keeper whose disk hangs until SAVING was told.
struct HungDisk {
    inner: InMemory,
    told: std::sync::Arc<std::sync::atomic::AtomicBool>,
}

impl Keep for HungDisk {
    fn dressing(&self) -> &Dressing {
        self.inner.dressing()
    }

    fn ask(&mut self, ask: &Ask, when: When) -> Result<Entry, NotDone> {
        while !self.told.load(std::sync::atomic::Ordering::SeqCst) {
            std::thread::yield_now();
        }
        self.inner.ask(ask, when)
    }
}

#[test]
fn a_save_that_hangs_is_told_meanwhile_and_all_is_drawn_again_after_it() {
    let told = std::sync::Arc::new(std::sync::atomic::AtomicBool::new(false));
    let tell = std::sync::Arc::clone(&told);
    let saving = Saving::watch(Duration::from_millis(3), move || {
        tell.store(true, std::sync::atomic::Ordering::SeqCst);
    });
    let mut keep = HungDisk {
        inner: InMemory::new(Dressing::new(small(), &[])),
        told,
    };
    let method = method();
    let mut lot = || 0;
    let mut sitting =
        Sitting::new(&mut keep, method, quick(), COLOUR, &mut lot).with_saving(saving);
    let heading = sitting.page().heading.clone();
    assert!(!sitting.take_covered());
    sitting.press(Press::down(Key::Space, Duration::from_secs(9)), at(9000));
    assert!(sitting.take_covered(), "SAVING stood over the call");
    assert!(!sitting.take_covered());
    assert_ne!(sitting.page().heading, heading, "the press counts");
}

#[test]
fn a_window_without_focus_says_so_until_it_has_it_again() {
    let d = Dressing::new(small(), &[]);
    at_desk(&d, quick(), |desk| {
        let before = desk.text();
        desk.sitting.focus(false, at(1000));
        desk.show();
        assert!(desk.text().contains("Presses go to another window."));
        assert!(desk.sitting.take_bell());
        desk.sitting.focus(true, at(1000));
        desk.show();
        assert_eq!(desk.text(), before);
    });
}

#[test]
fn while_a_look_is_open_its_figure_is_nowhere() {
    let plan = common::plan_from(
        &common::SMALL
            .replace("\"ends\": 24", "\"ends\": 71")
            .replace("[10, 10, 10, 10]", "[100, 100, 100, 100]"),
    );
    let mut d = Dressing::new(plan, &[]);
    let looks = |d: &Dressing| matches!(d.view(), View::Asking(_));
    lead(&mut d, looks);
    let figure = common::true_answer(&d).unwrap();
    for over in 0..10 {
        for manner in [COLOUR, PLAIN] {
            let text = text_of(&drawn(&d, manner, (80, 24), over));
            let numbers: Vec<&str> = text
                .split(|c: char| !c.is_ascii_digit())
                .filter(|n| !n.is_empty())
                .collect();
            assert!(!numbers.contains(&figure.as_str()), "{figure} in\n{text}");
        }
    }
    let (said, _) = at_desk(&d, quick(), |desk| {
        desk.keys("space . h space");
        assert!(!desk.sitting.title().contains(&figure));
        desk.said.clone()
    });
    assert!(said.iter().all(|s| !s.contains(&figure)), "{said:?}");
}

fn snapshot(name: &str, d: &Dressing, keys: &str, manner: Manner, size: (u16, u16)) {
    insta::assert_snapshot!(name, shown(d, keys, manner, size));
}

#[test]
fn the_kinds_of_screen_as_they_look() {
    let mut d = Dressing::new(demo("hall-runner.json"), &[]);
    snapshot("a_step", &d, "", COLOUR, (80, 24));
    lead(&mut d, |d| matches!(d.view(), View::Group(_)));
    lead(&mut d, |d| {
        matches!(d.view(), View::Group(g) if g.group.number == 6
            && g.task == endsmeet::dressing::Task::Spread)
    });
    snapshot("a_group_to_spread", &d, "", COLOUR, (80, 24));
    lead(&mut d, |d| matches!(d.view(), View::CountOut(_)));
    snapshot("heddles_to_count_out", &d, "", COLOUR, (80, 24));
    lead(
        &mut d,
        |d| matches!(d.view(), View::Call(c) if c.batch.number == 7 && c.handful == 2),
    );
    snapshot("the_call", &d, "", COLOUR, (80, 24));
    snapshot("the_call_larger", &d, "", COLOUR, (120, 40));
    snapshot("the_menu", &d, "tab", COLOUR, (80, 24));
    snapshot("help", &d, "?", COLOUR, (80, 24));
    snapshot("a_question", &d, "tab 4 1", COLOUR, (80, 24));
    snapshot("too_small", &d, "", COLOUR, (62, 20));
    lead(&mut d, |d| matches!(d.view(), View::UsedUp(_)));
    let report = "2 1 enter 1 enter 0 enter 0 enter 0 enter";
    snapshot("a_miscount", &d, report, COLOUR, (80, 24));
    lead(&mut d, |d| matches!(d.view(), View::Sley(_)));
    snapshot("a_group_to_sley", &d, "", COLOUR, (80, 24));
    lead(
        &mut d,
        |d| matches!(d.view(), View::Tie(t) if t.bundle.number == 4),
    );
    snapshot("a_bundle_to_tie", &d, "", COLOUR, (80, 24));
    snapshot("the_cloth", &d, "f6", PLAIN, (80, 24));
    snapshot("the_cloth_from_the_back", &d, "f6 f6 f6", COLOUR, (80, 24));
    lead(&mut d, |d| matches!(d.view(), View::TieUp(_)));
    snapshot("a_treadle_to_tie", &d, "", COLOUR, (80, 24));
    lead(&mut d, |d| matches!(d.view(), View::Shed(_)));
    snapshot("a_shed_to_open", &d, "", COLOUR, (80, 24));
}

/// F2 writes a note over whatever is shown; it is said back when its step comes round.
#[test]
fn a_note_is_written_at_the_loom_and_comes_back_at_its_step() {
    let mut d = Dressing::new(small(), &[]);
    lead(&mut d, |d| matches!(d.view(), View::CountOut(_)));
    let entries = d.entries();
    let ((), d) = at_desk(&d, quick(), |desk| {
        desk.press(Key::F(2));
        assert!(
            desk.text().contains("Enter keep the note"),
            "{}",
            desk.text()
        );
        for c in "q? 2 knotz".chars() {
            desk.press(if c == ' ' { Key::Space } else { Key::Char(c) });
        }
        desk.keys("back");
        desk.press(Key::Char('s'));
        assert!(desk.text().contains("q? 2 knots_"), "{}", desk.text());
        // the window loses its focus and has it again: the note is still being written
        let when = desk.when();
        desk.sitting.focus(false, when);
        desk.sitting.focus(true, when);
        desk.keys("enter");
        assert!(desk.text().contains("Note: q? 2 knots."), "{}", desk.text());
        // given up: nothing is kept
        desk.press(Key::F(2));
        desk.press(Key::Char('x'));
        desk.keys("esc");
        assert!(desk.text().contains("No note was kept."));
        // past the batch it is not shown, and after going back it is said again
        desk.keys("space space");
        desk.keys("back back");
        assert!(desk.text().contains("Note: q? 2 knots."), "{}", desk.text());
        let said = desk.said.join("\n");
        assert!(said.contains("Note: q? 2 knots."), "{said}");
    });
    let notes: Vec<&str> = d.record().notes.iter().map(|n| n.text.as_str()).collect();
    assert_eq!(notes, ["q? 2 knots"]);
    assert_eq!(d.entries(), entries + 5, "a note, two presses, two back");
}

/// What help says in all its pages at this size, and whether its last key shuts it.
fn all_help(desk: &mut Desk) -> String {
    desk.keys("?");
    let mut text = desk.text();
    for _ in 0..20 {
        let last = text.lines().last().unwrap_or_default().to_owned();
        assert!(last.contains("? back to the work"), "{last:?}");
        if !last.contains("Space more") {
            break;
        }
        desk.keys("space");
        text = format!("{text}\n{}", desk.text());
    }
    desk.keys("?");
    assert!(!desk.text().contains("back to the work"), "it is shut");
    text
}

/// Whether help must say the key, seen from outside: it makes an entry, or opens the cloth.
fn is_wanted(meaning: endsmeet::hand::Meaning, key: Key, d: &Dressing) -> bool {
    use endsmeet::hand::Meaning;
    let pressed = |seen: &dyn Fn(&mut Desk) -> bool| {
        at_desk(d, quick(), |desk| {
            desk.press(key);
            seen(desk)
        })
    };
    match meaning {
        Meaning::BackOne | Meaning::Redo | Meaning::Skip | Meaning::CannotTell | Meaning::Pause => {
            pressed(&|_| true).1.entries() != d.entries()
        }
        // what lies over the work has a last line of its own
        Meaning::Cloth => pressed(&|desk| desk.text().contains("floats over")).0,
        Meaning::Sheds => pressed(&|desk| desk.text().contains("any other key shut")).0,
        _ => true,
    }
}

#[test]
fn help_says_every_key_that_does_something_here_and_no_other_in_every_state_and_size() {
    // the states of the other plans have the same keys, and would take minutes
    let small = small();
    for d in states().iter().filter(|d| d.plan().title == small.title) {
        let wanted =
            |row: &endsmeet::hand::Row| is_wanted(row.meaning, *row.keys.last().unwrap(), d);
        let wanted: Vec<bool> = endsmeet::hand::ROWS.iter().map(wanted).collect();
        for size in [(80, 24), (100, 30), (200, 60)] {
            let mut keep = InMemory::new(d.clone());
            let mut lot = || 0;
            let mut desk = Desk::new(&mut keep, method(), &mut lot, (quick(), COLOUR, size));
            let text = letters(&all_help(&mut desk));
            for (row, wanted) in endsmeet::hand::ROWS.iter().zip(&wanted) {
                // where arrows move a light they are not named, so the last key is looked for
                let key = row.keys.last().unwrap().name();
                let line = letters(&format!("{key}: {}", row.help));
                let offered = text.contains(&line);
                assert_eq!(
                    offered,
                    *wanted,
                    "{line} at {size:?}, {}",
                    page(&d.view(), d.plan(), method()).heading
                );
            }
            for line in endsmeet::words::lines::more(d, method()) {
                assert!(text.contains(&letters(&line)), "{line} at {size:?}");
            }
        }
    }
}
