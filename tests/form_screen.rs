//! The plan's form on the full screen, in process: keys in, screen out.

#![allow(clippy::unwrap_used)]

use endsmeet::dressing::When;
use endsmeet::hand::{Key, Press};
use endsmeet::plan::LoomCard;
use endsmeet::plan::form::{FIELDS, Form};
use endsmeet::terminal::canvas::Canvas;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::driver::Shown;
use endsmeet::terminal::form_lines::{FormEnded, FormOutside};
use endsmeet::terminal::form_screen::FormScreen;
use endsmeet::terminal::screens::{After, Manner, Screen};
use endsmeet::terminal::theme::Theme;
use proptest::prelude::*;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::cell::RefCell;
use std::time::Duration;

const COLOUR: Manner = Manner {
    theme: Theme::Colour,
    ink: Ink::Blocks,
};
const PLAIN: Manner = Manner {
    theme: Theme::Mono,
    ink: Ink::Reversed,
};

const CARD: &str = r#"{"endsmeet_loom": 1, "name": "window loom", "units": "in",
    "loom": {"shafts": 4, "treadles": 6, "heddles": [80, 80, 80, 80], "width": 36}, "reeds": [{"dents": 12}]}"#;

/// Files that are only remembered.
#[derive(Default)]
struct Remembered {
    kept: RefCell<Vec<String>>,
    cards: Vec<String>,
    full: bool,
}

impl FormOutside for Remembered {
    fn keep(&mut self, form: &Form) -> Result<(), String> {
        if self.full {
            return Err("The disk is full. Make room.".to_owned());
        }
        self.kept.borrow_mut().push(form.saved().to_string());
        Ok(())
    }

    fn card(&mut self, name: &str) -> Result<LoomCard, String> {
        assert!(self.cards.iter().any(|card| card == name));
        Ok(LoomCard::read(CARD).unwrap())
    }

    fn cards(&mut self) -> Vec<String> {
        self.cards.clone()
    }

    fn keep_card(&mut self, name: &str, _: &Form) -> Result<(), String> {
        self.cards.push(name.to_owned());
        Ok(())
    }
}

fn when() -> When {
    When {
        wall: chrono::DateTime::default(),
        elapsed_ms: 0,
    }
}

fn press(screen: &mut FormScreen, key: Key) -> After {
    screen.press(Press::down(key, Duration::ZERO), when())
}

/// Types the text letter by letter.
fn type_in(screen: &mut FormScreen, text: &str) {
    for c in text.chars() {
        let key = if c == ' ' { Key::Space } else { Key::Char(c) };
        assert_eq!(press(screen, key), After::Show, "{c} is a letter here");
    }
}

/// Types each answer and Enter.
fn answer(screen: &mut FormScreen, answers: &[&str]) {
    for text in answers {
        type_in(screen, text);
        press(screen, Key::Enter);
    }
}

fn drawn(screen: &FormScreen, (w, h): (u16, u16), manner: Manner) -> Buffer {
    let area = Rect::new(0, 0, w, h);
    let mut canvas = Canvas::empty(area);
    for placed in screen.bands(area) {
        placed.draw(&mut canvas, manner);
    }
    canvas.to_buffer()
}

fn text(screen: &FormScreen, size: (u16, u16)) -> String {
    let buffer = drawn(screen, size, COLOUR);
    let row = |y| {
        let cells = (0..size.0).map(|x| buffer[(x, y)].symbol());
        cells.collect::<String>().trim_end().to_owned()
    };
    (0..size.1).map(row).collect::<Vec<_>>().join("\n")
}

/// The number of the field in hand, as the screen says it.
fn place(screen: &FormScreen) -> usize {
    let shown = text(screen, SMALL);
    let number = shown.split("field ").nth(1).unwrap().split(' ').next();
    number.unwrap().parse().unwrap()
}

const SMALL: (u16, u16) = (80, 24);
const LARGE: (u16, u16) = (120, 40);
/// The needed answers of a towel, in the order in which they are asked.
const TOWEL: [&str; 5] = ["Towel", "", "10", "40", "1 2 3 4"];

#[test]
fn an_empty_form_says_what_is_needed() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    insta::assert_snapshot!("form_empty", text(&screen, SMALL));
}

#[test]
fn the_cloth_is_shown_over_the_form_once_there_is_one() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    answer(&mut screen, &TOWEL);
    press(&mut screen, Key::F(6));
    assert!(text(&screen, SMALL).contains("No cloth yet"));
    for (key, said) in [("tie_up", "1 3; 2 4"), ("treadling", "1 2")] {
        while FIELDS[place(&screen) - 1].key != key {
            press(&mut screen, Key::Down);
        }
        answer(&mut screen, &[said]);
    }
    press(&mut screen, Key::F(6));
    let shown = text(&screen, SMALL);
    assert!(
        shown.contains("The cloth, front: ends 1 to 40, pick 1"),
        "{shown}"
    );
    press(&mut screen, Key::Up);
    assert!(text(&screen, SMALL).contains("pick 9 at the bottom"));
    press(&mut screen, Key::Esc);
    assert!(text(&screen, SMALL).contains("field "), "the form again");
}

#[test]
fn a_form_in_the_middle_shows_figures_and_what_does_not_fit() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    answer(&mut screen, &TOWEL);
    while FIELDS[place(&screen) - 1].key != "loom.heddles" {
        press(&mut screen, Key::Down);
    }
    answer(&mut screen, &["20 20 20 5"]);
    insta::assert_snapshot!("form_in_the_middle", text(&screen, SMALL));
    insta::assert_snapshot!("form_in_the_middle_large", text(&screen, LARGE));
}

#[test]
fn the_needed_answers_are_enough_and_f4_ends_the_form() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    assert_eq!(
        press(&mut screen, Key::F(4)),
        After::Show,
        "nothing is answered"
    );
    assert!(text(&screen, SMALL).contains("Not yet. Still needed: Name of the warp; Sett"));
    answer(&mut screen, &TOWEL);
    let shown = text(&screen, SMALL);
    assert!(
        shown.contains("Everything needed is answered. F4 begins"),
        "{shown}"
    );
    assert!(
        shown.contains("So far: 40 ends; 4 in wide in the reed; 4 groups"),
        "{shown}"
    );
    assert_eq!(press(&mut screen, Key::F(4)), After::Leave);
    let FormEnded::Done(figures) = screen.ended() else {
        panic!("not done");
    };
    assert_eq!(figures.ends, Some(40));
    assert!(figures.plan().is_some());
    assert_eq!(outside.kept.borrow().len(), 4, "kept after each answer");
}

#[test]
fn no_letter_is_a_command() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    let all: String = (' '..='~').collect();
    type_in(&mut screen, &all);
    type_in(&mut screen, "done quit back q y ?");
    press(&mut screen, Key::Enter);
    let title = form.answer("title").unwrap();
    assert!(
        title.starts_with("!\"#") && title.ends_with("done quit back q y ?"),
        "{title}"
    );
}

#[test]
fn a_refused_answer_stays_to_be_mended_with_the_cursor_at_its_fault() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    answer(&mut screen, &["Towel", "", "10", "40", "1 2 q 4"]);
    let shown = text(&screen, SMALL);
    assert!(
        shown.contains("Threading: 'q' at character 5; expected a number, ( ) or x."),
        "{shown}"
    );
    assert!(screen.take_bell());
    // the cursor stands on the q: one to the right, erase it, type what was meant
    press(&mut screen, Key::Right);
    press(&mut screen, Key::Backspace);
    type_in(&mut screen, "3");
    press(&mut screen, Key::Enter);
    assert_eq!(form.answer("threading"), Some("1 2 3 4"));
}

#[test]
fn an_answer_is_taken_on_the_way_to_another_field_and_esc_clears() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    type_in(&mut screen, "Towel");
    press(&mut screen, Key::Down);
    type_in(&mut screen, "Inches");
    press(&mut screen, Key::PageDown);
    press(&mut screen, Key::PageUp);
    press(&mut screen, Key::PageUp);
    assert!(text(&screen, SMALL).contains("field 1 of"));
    press(&mut screen, Key::Esc);
    press(&mut screen, Key::Esc);
    press(&mut screen, Key::Enter);
    assert_eq!(
        screen.press(Press::down(Key::Up, Duration::ZERO), when()),
        After::Show
    );
    press(&mut screen, Key::Esc);
    press(&mut screen, Key::Enter);
    assert_eq!(
        (form.answer("title"), form.answer("units")),
        (None, Some("Inches"))
    );
}

#[test]
fn without_a_number_of_ends_the_width_is_asked_and_then_what_is_needed() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    answer(&mut screen, &["Towel", "", "10", "", "4", "1 2 3 4"]);
    assert_eq!(form.answer("width"), Some("4"));
    assert_eq!(form.answer("threading"), Some("1 2 3 4"));
    assert_eq!(form.figures().ends, Some(40));
    assert_eq!(form.field().key, "floating_selvedges");
}

#[test]
fn a_kept_loom_is_chosen_and_this_one_is_kept() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    press(&mut screen, Key::F(2));
    assert!(text(&screen, SMALL).contains("No loom is kept yet"));
    press(&mut screen, Key::Enter);
    assert!(text(&screen, SMALL).contains("Give the loom a name first"));
    drop(screen);
    outside.cards.push("window-loom".to_owned());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    press(&mut screen, Key::F(2));
    press(&mut screen, Key::Enter);
    assert!(text(&screen, SMALL).contains("The plan is on the loom window-loom now."));
    press(&mut screen, Key::F(2));
    press(&mut screen, Key::Down);
    press(&mut screen, Key::Enter);
    assert_eq!(form.answer("loom.heddles"), Some("80 80 80 80"));
    assert_eq!(outside.cards, ["window-loom", "window loom"]);
}

#[test]
fn what_cannot_be_kept_is_said() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    outside.full = true;
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    answer(&mut screen, &["Towel"]);
    let shown = text(&screen, SMALL);
    assert!(shown.contains("NOT SAVED. The disk is full."), "{shown}");
}

#[test]
fn leaving_takes_what_was_typed() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    type_in(&mut screen, "Towel");
    assert_eq!(press(&mut screen, Key::Ctrl('c')), After::Leave);
    assert!(matches!(screen.ended(), FormEnded::Left));
    assert_eq!(form.answer("title"), Some("Towel"));
}

#[test]
fn help_and_figures_lie_over_the_form_and_a_key_shuts_them() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
    answer(&mut screen, &TOWEL);
    let before = text(&screen, SMALL);
    press(&mut screen, Key::F(1));
    insta::assert_snapshot!("form_help", text(&screen, SMALL));
    press(&mut screen, Key::Char('x'));
    press(&mut screen, Key::F(3));
    let shown = text(&screen, SMALL);
    assert!(shown.contains("Heddles needed: 10 10 10 10"), "{shown}");
    for _ in 0..200 {
        press(&mut screen, Key::PageDown);
    }
    assert!(text(&screen, SMALL).contains("Know:"));
    press(&mut screen, Key::Esc);
    assert_eq!(text(&screen, SMALL), before);
}

#[test]
fn a_field_in_hand_is_marked_without_colour_too() {
    let (mut form, mut outside) = (Form::new(), Remembered::default());
    let screen = FormScreen::new(&mut form, &mut outside, PLAIN, None);
    let buffer = drawn(&screen, SMALL, PLAIN);
    let reversed = ratatui::style::Modifier::REVERSED;
    assert!(buffer[(0, 1)].modifier.contains(reversed));
    assert!(buffer.content.iter().all(|cell| cell.symbol().is_ascii()));
    let coloured = |cell: &ratatui::buffer::Cell| cell.fg != ratatui::style::Color::Reset;
    assert!(!buffer.content.iter().any(coloured));
}

fn any_key() -> impl Strategy<Value = Key> {
    prop_oneof![
        6 => any::<char>().prop_map(Key::Char),
        6 => prop::sample::select(('0'..='9').chain("() x;".chars()).map(Key::Char).collect::<Vec<_>>()),
        8 => prop::sample::select(vec![
            Key::Space, Key::Enter, Key::Right, Key::Left, Key::Up, Key::Down, Key::PageDown, Key::PageUp,
            Key::Backspace, Key::Esc, Key::Tab, Key::F(1), Key::F(2), Key::F(3), Key::F(4), Key::F(5),
            Key::Ctrl('c'), Key::Ctrl('d'), Key::Ctrl('x'), Key::Other,
        ]),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn any_keys_at_any_size_are_safe_and_small_steps_draw_what_the_whole_draws(
        keys in prop::collection::vec(any_key(), 0..60),
        (w, h) in prop_oneof![(1u16..=300, 1u16..=100), Just((80, 24)), Just((120, 40)), Just((110, 24))],
        towel in any::<bool>(),
    ) {
        let (mut form, mut outside) = (Form::new(), Remembered::default());
        outside.cards.push("window loom".to_owned());
        let mut screen = FormScreen::new(&mut form, &mut outside, COLOUR, None);
        if towel {
            answer(&mut screen, &TOWEL);
        }
        let area = Rect::new(0, 0, w, h);
        let mut shown = Shown::new(TestBackend::new(w, h), area);
        for key in keys {
            press(&mut screen, key);
            shown.show(screen.bands(area), COLOUR).unwrap();
        }
        shown.show(screen.bands(area), COLOUR).unwrap();
        prop_assert_eq!(shown.painter().shown().to_buffer(), drawn(&screen, (w, h), COLOUR));
        let kept = form.saved().to_string();
        let (again, lost) = Form::of_saved(&kept).unwrap();
        prop_assert_eq!(&again, &form);
        prop_assert!(lost.is_empty(), "{lost:?}");
    }
}
