//! What the hand does at the edges of its rules: the last millisecond that is still a repeat, the key that
//! belongs to the list and not to the menu, the press that a release parts from the next.

use super::*;
use std::time::Duration;

fn ms(n: u64) -> Duration {
    Duration::from_millis(n)
}

fn hand_at(settings: Settings, context: Context) -> Hand {
    let mut hand = Hand::new(settings);
    hand.attend(context, ms(0));
    hand
}

fn down(hand: &mut Hand, key: Key, at: u64) -> Option<Intent> {
    hand.press(Press::down(key, ms(at)))
}

fn of_kind(hand: &mut Hand, key: Key, kind: PressKind, at: u64) -> Option<Intent> {
    hand.press(Press {
        key,
        kind,
        at: ms(at),
    })
}

fn lit(hand: &Hand) -> Option<LitItem> {
    hand.lit().and_then(|lit| lit.item())
}

const WORK: Context = Context::Work { choices: 0 };
const THREE: Context = Context::Choice { count: 3, start: 0 };
const NUMBER: Context = Context::Number {
    minus: true,
    start: 4,
    look: false,
};

fn one_button() -> Settings {
    Settings {
        one_button: true,
        ..Settings::default()
    }
}

fn triple() -> Settings {
    Settings {
        opens: Opens::Triple,
        ..Settings::default()
    }
}

#[test]
fn arrows_move_the_light_of_a_list_both_ways_round() {
    for (key, item) in [
        (Key::Up, 2),
        (Key::Left, 2),
        (Key::Down, 1),
        (Key::Right, 1),
    ] {
        let mut hand = hand_at(Settings::default(), THREE);
        assert_eq!(down(&mut hand, key, 10), Some(Intent::Lit), "{key:?}");
        assert_eq!(lit(&hand), Some(LitItem::Choice(item)), "{key:?}");
    }
}

#[test]
fn an_arrow_that_is_the_pedal_or_stands_for_the_one_button_takes_the_lit_item() {
    let pedal = Settings {
        pedal: Some(Key::Down),
        ..Settings::default()
    };
    for settings in [pedal, one_button()] {
        let mut hand = hand_at(settings, THREE);
        assert_eq!(down(&mut hand, Key::Down, 10), Some(Intent::Choose(0)));
    }
}

#[test]
fn an_arrow_while_the_menu_is_open_is_the_menus_and_not_the_lists() {
    let mut hand = hand_at(Settings::default(), THREE);
    down(&mut hand, Key::Tab, 0);
    let go_on = Some(Intent::Menu(MenuItem::GoOn));
    assert_eq!(down(&mut hand, Key::Up, 900), go_on);
    assert_eq!(lit(&hand), Some(LitItem::Choice(0)));
}

#[test]
fn a_digit_held_is_one_digit_until_it_was_quiet_for_sixty_milliseconds() {
    let mut hand = hand_at(Settings::default(), NUMBER);
    assert_eq!(down(&mut hand, Key::Char('2'), 0), Some(Intent::Typed));
    assert_eq!(down(&mut hand, Key::Char('2'), 59), None);
    assert_eq!(down(&mut hand, Key::Char('2'), 80), None);
    assert_eq!(down(&mut hand, Key::Char('2'), 140), Some(Intent::Typed));
    assert_eq!(hand.typed().value(), Some(22));
}

#[test]
fn a_minus_while_the_menu_is_open_leaves_the_number_alone() {
    let mut hand = hand_at(Settings::default(), NUMBER);
    down(&mut hand, Key::Tab, 0);
    let wrong = Some(Intent::Wrong(Key::Char('-')));
    assert_eq!(down(&mut hand, Key::Char('-'), 10), wrong);
    assert!(hand.typed().is_empty());
}

#[test]
fn digits_are_lit_only_for_one_button_and_until_keys_are_used() {
    let hand = hand_at(Settings::default(), NUMBER);
    assert_eq!((lit(&hand), hand.wakes_at()), (None, None));
    let mut hand = hand_at(one_button(), NUMBER);
    assert_eq!(lit(&hand), Some(LitItem::NotLooked));
    down(&mut hand, Key::Char('3'), 10);
    assert_eq!((lit(&hand), hand.wakes_at()), (None, None));
}

#[test]
fn the_lit_items_of_a_number_are_those_that_can_be_taken() {
    let items = |minus, typed: bool| {
        let mut hand = hand_at(
            one_button(),
            Context::Number {
                minus,
                start: 0,
                look: false,
            },
        );
        if typed {
            hand.tick(ms(2_000));
            down(&mut hand, Key::Space, 2_100);
        }
        hand.lit().map(|lit| lit.items.to_vec()).unwrap_or_default()
    };
    for (minus, typed, first, last) in [
        (false, false, LitItem::NotLooked, LitItem::Digit(9)),
        (true, false, LitItem::NotLooked, LitItem::Minus),
        (false, true, LitItem::Done, LitItem::Erase),
        (true, true, LitItem::Done, LitItem::Erase),
    ] {
        let items = items(minus, typed);
        assert_eq!((items[0], items[items.len() - 1]), (first, last));
        let more = usize::from(minus || typed);
        assert_eq!(items.len(), 11 + more, "{items:?}");
    }
}

#[test]
fn only_a_light_that_moves_by_itself_wakes_and_at_its_time() {
    let hand = hand_at(Settings::default(), THREE);
    assert_eq!(hand.wakes_at(), None, "arrows move this one");
    let mut hand = Hand::new(one_button());
    hand.attend(THREE, ms(70));
    assert_eq!(hand.wakes_at(), Some(ms(70) + Settings::default().lit));
    hand.attend(Context::Choice { count: 0, start: 0 }, ms(70));
    assert_eq!(hand.wakes_at(), None, "there is nothing to light");
}

#[test]
fn a_repeat_that_the_terminal_names_is_not_quiet() {
    let mut hand = hand_at(Settings::default(), WORK);
    assert_eq!(down(&mut hand, Key::Space, 0), Some(Intent::Next));
    assert_eq!(of_kind(&mut hand, Key::Space, PressKind::Repeat, 650), None);
    assert_eq!(down(&mut hand, Key::Space, 720), None, "70 ms after it");
    assert_eq!(down(&mut hand, Key::Space, 900), Some(Intent::Next));
}

#[test]
fn presses_as_far_apart_as_the_quiet_time_are_no_hold() {
    let opened = |every: u64| {
        let mut hand = hand_at(Settings::default(), WORK);
        let mut at = 0;
        while at < 4_000 && !hand.menu_is_open() {
            down(&mut hand, Key::Space, at);
            at += every;
        }
        hand.menu_is_open()
    };
    let quiet = 150;
    assert_eq!(Settings::default().quiet, ms(quiet));
    assert!(opened(quiet - 1) && !opened(quiet));
}

#[test]
fn a_key_that_comes_up_between_presses_is_never_held() {
    let mut hand = hand_at(Settings::default(), WORK);
    for at in (0..4_000).step_by(100) {
        down(&mut hand, Key::Space, at);
        of_kind(&mut hand, Key::Space, PressKind::Release, at + 50);
    }
    assert!(!hand.menu_is_open());
}

#[test]
fn one_hold_opens_the_menu_once_however_long_it_lasts() {
    let mut hand = hand_at(Settings::default(), WORK);
    let mut opened = 0;
    for at in (0..60_000).step_by(33) {
        let intent = down(&mut hand, Key::Space, at);
        opened += u32::from(matches!(intent, Some(Intent::MenuOpened { .. })));
        while hand.wakes_at().is_some_and(|wakes| wakes <= ms(at)) {
            hand.tick(ms(at));
        }
    }
    assert_eq!((opened, hand.menu_is_open()), (1, false));
}

#[test]
fn three_quick_presses_with_another_key_between_are_not_three() {
    for (key, context) in [
        (Key::Char('x'), WORK),
        (Key::Backspace, WORK),
        (Key::Char('1'), WORK),
        (Key::Char('1'), NUMBER),
    ] {
        let mut hand = hand_at(triple(), context);
        down(&mut hand, Key::Space, 0);
        down(&mut hand, key, 100);
        for at in [200, 300] {
            down(&mut hand, Key::Space, at);
        }
        assert!(!hand.menu_is_open(), "{key:?} in {context:?}");
        down(&mut hand, Key::Space, 400);
        assert!(hand.menu_is_open(), "{key:?} in {context:?}");
    }
}

#[test]
fn control_goes_with_letters_only() {
    assert_eq!(Key::named("ctrl-d"), Some(Key::Ctrl('d')));
    for none in ["ctrl-1", "ctrl-", "ctrl-dd", "ctrl-\u{e9}", "ctrl-["] {
        assert_eq!(Key::named(none), None, "{none}");
    }
}

#[test]
fn settings_are_those_given_and_then_those_changed_to() {
    let mut hand = hand_at(one_button(), NUMBER);
    assert_eq!(hand.settings(), &one_button());
    hand.set_settings(triple());
    assert_eq!((hand.settings(), hand.context()), (&triple(), NUMBER));
}

#[test]
fn whether_it_is_being_left_is_told_until_it_is_not() {
    let mut hand = hand_at(Settings::default(), WORK);
    assert!(!hand.is_leaving());
    down(&mut hand, Key::Char('q'), 0);
    assert!(hand.is_leaving());
    down(&mut hand, Key::Space, 10);
    assert!(!hand.is_leaving());
}

#[test]
fn a_menu_left_alone_lights_every_item_twice_before_it_shuts() {
    let mut hand = hand_at(Settings::default(), WORK);
    down(&mut hand, Key::Tab, 0);
    let mut ticks = 0;
    while let Some(at) = hand.wakes_at() {
        hand.tick(at);
        ticks += 1;
    }
    assert_eq!(ticks, 2 * MenuItem::ALWAYS);
}

#[test]
fn control_c_leaves_at_once_whatever_is_being_done() {
    let leaves = Some(Intent::LeaveAtOnce);
    let mut hand = hand_at(Settings::default(), Context::Text);
    assert_eq!(down(&mut hand, Key::Ctrl('c'), 0), leaves);
    let mut hand = hand_at(Settings::default(), WORK);
    down(&mut hand, Key::Char('q'), 0);
    assert_eq!(down(&mut hand, Key::Ctrl('c'), 10), leaves);
    assert_eq!(down(&mut hand, Key::Ctrl('c'), 11), leaves, "no guard");
}

#[test]
fn only_the_button_that_goes_on_opens_the_menu_by_a_hold_and_not_in_a_text() {
    for (key, context) in [
        (Key::Backspace, WORK),
        (Key::Backspace, Context::Text),
        (Key::Space, Context::Text),
    ] {
        let mut hand = hand_at(Settings::default(), context);
        down(&mut hand, key, 0);
        for at in (250..4_000).step_by(33) {
            assert_eq!(of_kind(&mut hand, key, PressKind::Repeat, at), None);
        }
        assert!(!hand.menu_is_open(), "{key:?} in {context:?}");
    }
}

#[test]
fn a_hold_that_began_in_the_menu_takes_nothing_back() {
    let mut hand = hand_at(Settings::default(), WORK);
    down(&mut hand, Key::Tab, 0);
    let go_on = Some(Intent::Menu(MenuItem::GoOn));
    assert_eq!(down(&mut hand, Key::Space, 1_000), go_on);
    let held = (1_250..3_000).step_by(33);
    let after: Vec<Intent> = held
        .filter_map(|at| down(&mut hand, Key::Space, at))
        .collect();
    assert_eq!(after, [Intent::MenuOpened { taken_back: 0 }]);
}

#[test]
fn say_again_in_the_menu_is_its_item() {
    let mut hand = hand_at(Settings::default(), WORK);
    down(&mut hand, Key::Tab, 0);
    let again = Some(Intent::Menu(MenuItem::SayAgain));
    assert_eq!(down(&mut hand, Key::Char('.'), 10), again);
}

fn tested(presses: &[(Key, u64)]) -> PedalTest {
    let mut test = PedalTest::default();
    for (key, at) in presses {
        test.hears(Press::down(*key, ms(*at)));
    }
    test
}

#[test]
fn a_pedal_test_counts_presses_up_to_its_most_and_no_releases() {
    let mut test = tested(&[(Key::F(9), 0), (Key::F(9), 400), (Key::F(9), 430)]);
    test.hears(Press {
        key: Key::F(9),
        kind: PressKind::Release,
        at: ms(450),
    });
    assert_eq!(test.count(), 3);
    let many: Vec<(Key, u64)> = (0..600).map(|at| (Key::F(9), at)).collect();
    assert_eq!(tested(&many).count(), 512);
}

#[test]
fn a_pedal_that_sends_two_keys_is_told_from_one_that_sends_one() {
    let many = |presses: &[(Key, u64)]| tested(presses).verdict().map(|verdict| verdict.many_keys);
    assert_eq!(many(&[(Key::F(9), 0), (Key::F(9), 400)]), Some(false));
    assert_eq!(many(&[(Key::F(9), 0), (Key::Enter, 1)]), Some(true));
}

#[test]
fn a_pedals_settings_outlast_its_repeats() {
    let slow = [0, 900, 1_100, 1_300, 1_500].map(|at| (Key::F(9), at));
    let verdict = tested(&slow).verdict();
    let settings = verdict.map(|verdict| verdict.settings(Settings::default()));
    let (guard, quiet) = (ms(1_000), ms(300));
    assert_eq!(
        settings,
        Some(Settings {
            pedal: Some(Key::F(9)),
            opens: Opens::Hold,
            guard,
            quiet,
            ..Settings::default()
        })
    );
}

#[test]
fn a_number_takes_six_digits_and_shows_what_it_took() {
    let mut typed = Typed::default();
    assert!(!typed.push(10), "no digit");
    assert!((1..=6).all(|digit| typed.push(digit)));
    assert!(!typed.push(7), "no room");
    typed.flip_sign();
    let shown = (typed.value(), typed.text());
    assert_eq!(shown, (Some(-123_456), "-123456".to_owned()));
}
