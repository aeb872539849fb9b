use super::*;
use proptest::prelude::*;
use std::collections::HashSet;
use std::time::Duration;

fn ms(n: u64) -> Duration {
    Duration::from_millis(n)
}

/// A held key as terminals send it: first event, then every `every` ms from `delay` on.
fn held(key: Key, from: u64, delay: u64, every: u64, until: u64) -> Vec<Press> {
    let mut presses = vec![Press::down(key, ms(from))];
    let mut at = from + delay;
    while at <= until {
        presses.push(Press::down(key, ms(at)));
        at += every;
    }
    presses
}

fn all(hand: &mut Hand, presses: &[Press]) -> Vec<Intent> {
    presses.iter().filter_map(|p| hand.press(*p)).collect()
}

fn taps(key: Key, times: &[u64]) -> Vec<Press> {
    times.iter().map(|t| Press::down(key, ms(*t))).collect()
}

#[test]
fn a_held_key_is_one_press() {
    let mut hand = Hand::new(Settings::default());
    let intents = all(&mut hand, &held(Key::Space, 0, 250, 33, 1150));
    assert_eq!(intents, [Intent::Next]);
}

#[test]
fn a_key_held_longer_opens_the_menu_and_gives_its_press_back() {
    let mut hand = Hand::new(Settings::default());
    let intents = all(&mut hand, &held(Key::Space, 0, 250, 33, 6000));
    assert_eq!(
        intents,
        [Intent::Next, Intent::MenuOpened { taken_back: 1 }]
    );
    assert!(hand.menu_is_open());
}

#[test]
fn repeats_named_as_such_are_never_presses_but_may_be_a_hold() {
    let mut hand = Hand::new(Settings::default());
    let mut presses = held(Key::Enter, 0, 400, 33, 3000);
    for press in presses.iter_mut().skip(1) {
        press.kind = PressKind::Repeat;
    }
    assert_eq!(
        all(&mut hand, &presses),
        [Intent::Next, Intent::MenuOpened { taken_back: 1 }]
    );
    let release = Press {
        key: Key::Enter,
        kind: PressKind::Release,
        at: ms(3001),
    };
    assert_eq!(hand.press(release), None);
}

#[test]
fn a_second_press_counts_after_the_guard_and_a_quiet_time() {
    let mut hand = Hand::new(Settings::default());
    let presses = taps(Key::Space, &[0, 400, 690, 845, 1600]);
    // 400 and 690 are within 700 ms; 845 is past it and 155 ms after the last press heard.
    let intents = all(&mut hand, &presses);
    assert_eq!(intents, [Intent::Next, Intent::Next, Intent::Next]);
}

#[test]
fn another_intent_is_not_held_back() {
    let mut hand = Hand::new(Settings::default());
    let first = hand.press(Press::down(Key::Space, ms(0)));
    let second = hand.press(Press::down(Key::Backspace, ms(90)));
    assert_eq!((first, second), (Some(Intent::Next), Some(Intent::BackOne)));
}

#[test]
fn three_quick_presses_open_the_menu_where_the_pedal_does_not_repeat() {
    let settings = Settings {
        opens: Opens::Triple,
        ..Settings::default()
    };
    let mut hand = Hand::new(settings);
    assert_eq!(
        all(&mut hand, &taps(Key::F(12), &[0])),
        [Intent::Wrong(Key::F(12))]
    );
    let intents = all(&mut hand, &taps(Key::Space, &[1000, 1250, 1500]));
    assert_eq!(
        intents,
        [Intent::Next, Intent::MenuOpened { taken_back: 1 }]
    );
    // A fourth press on the heels of the third takes nothing.
    assert_eq!(hand.press(Press::down(Key::Space, ms(1700))), None);
    assert_eq!(
        hand.press(Press::down(Key::Space, ms(2300))),
        Some(Intent::Menu(MenuItem::GoOn))
    );
}

#[test]
fn a_hold_takes_back_what_it_moved_and_not_the_press_before() {
    let mut hand = Hand::new(Settings::default());
    let mut presses = taps(Key::Space, &[0]);
    // The hold begins while the guard still stands; its first repeat, past it, is what counts.
    presses.extend(held(Key::Space, 500, 250, 33, 2600));
    assert_eq!(
        all(&mut hand, &presses),
        [
            Intent::Next,
            Intent::Next,
            Intent::MenuOpened { taken_back: 1 }
        ]
    );
}

#[test]
fn three_slower_presses_take_back_both_that_counted() {
    let settings = Settings {
        opens: Opens::Triple,
        ..Settings::default()
    };
    let mut hand = Hand::new(settings);
    assert_eq!(
        all(&mut hand, &taps(Key::Space, &[0, 710, 880])),
        [
            Intent::Next,
            Intent::Next,
            Intent::MenuOpened { taken_back: 2 }
        ]
    );
}

#[test]
fn the_menu_lights_each_item_two_seconds_and_takes_the_lit_one() {
    let mut hand = Hand::new(Settings::default());
    all(&mut hand, &held(Key::Space, 0, 250, 33, 1300));
    let opened = hand.wakes_at().expect("the menu wakes the caller");
    let mut seen = vec![];
    let mut now = opened;
    for _ in 0..3 {
        assert_eq!(hand.tick(now), Some(Intent::Lit));
        seen.push(hand.lit().and_then(|l| l.item()));
        now += ms(2000);
    }
    assert_eq!(
        seen,
        [MenuItem::BackOne, MenuItem::SayAgain, MenuItem::Stuck].map(|i| Some(LitItem::Menu(i)))
    );
    let press = Press::down(Key::Space, now - ms(1500));
    assert_eq!(hand.press(press), Some(Intent::Menu(MenuItem::Stuck)));
    assert!(!hand.menu_is_open());
}

#[test]
fn a_menu_left_alone_shuts_and_goes_on() {
    let mut hand = Hand::new(Settings::default());
    all(&mut hand, &taps(Key::Tab, &[0]));
    let mut last = None;
    for _ in 0..100 {
        let Some(at) = hand.wakes_at() else { break };
        last = hand.tick(at);
    }
    assert_eq!(last, Some(Intent::Menu(MenuItem::GoOn)));
    assert_eq!(hand.wakes_at(), None);
}

#[test]
fn number_keys_take_an_item_of_the_menu() {
    let mut hand = Hand::new(Settings::default());
    hand.press(Press::down(Key::Tab, ms(0)));
    let taken = hand.press(Press::down(Key::Char('4'), ms(10)));
    assert_eq!(taken, Some(Intent::Menu(MenuItem::Stuck)));
}

#[test]
fn keys_of_a_presentation_clicker_do_no_harm() {
    for key in [
        Key::PageUp,
        Key::PageDown,
        Key::F(5),
        Key::Esc,
        Key::Char('.'),
        Key::Char('b'),
    ] {
        let mut hand = Hand::new(Settings::default());
        let intent = hand.press(Press::down(key, ms(0)));
        let harmless = matches!(
            intent,
            Some(Intent::Next | Intent::BackOne | Intent::Pause | Intent::SayAgain)
        );
        assert!(harmless, "{key:?} gave {intent:?}");
    }
}

#[test]
fn letters_and_digits_do_nothing_at_work() {
    for c in ('a'..='z').chain('A'..='Z').chain('0'..='9') {
        if ['b', 'h', 'q'].contains(&c) {
            continue;
        }
        let mut hand = Hand::new(Settings::default());
        let intent = hand.press(Press::down(Key::Char(c), ms(0)));
        assert_eq!(intent, Some(Intent::Wrong(Key::Char(c))));
    }
}

#[test]
fn leaving_takes_q_and_then_y_and_ctrl_c_is_at_once() {
    let mut hand = Hand::new(Settings::default());
    assert_eq!(
        all(
            &mut hand,
            &[
                Press::down(Key::Char('q'), ms(0)),
                Press::down(Key::Char('y'), ms(50))
            ]
        ),
        [Intent::LeaveAsked, Intent::Leave]
    );
    let mut hand = Hand::new(Settings::default());
    let stays = [
        Press::down(Key::Char('q'), ms(0)),
        Press::down(Key::Space, ms(50)),
        Press::down(Key::Space, ms(900)),
    ];
    assert_eq!(
        all(&mut hand, &stays),
        [Intent::LeaveAsked, Intent::Stay, Intent::Next]
    );
    assert_eq!(
        hand.press(Press::down(Key::Ctrl('c'), ms(901))),
        Some(Intent::LeaveAtOnce)
    );
}

fn number(minus: bool, start: u8) -> Context {
    Context::Number {
        minus,
        start,
        look: false,
    }
}

#[test]
fn number_keys_answer_and_enter_finishes() {
    let mut hand = Hand::new(Settings::default());
    hand.attend(number(true, 3), ms(0));
    let presses = [
        Press::down(Key::Char('-'), ms(1)),
        Press::down(Key::Char('1'), ms(100)),
        Press::down(Key::Char('1'), ms(200)),
        Press::down(Key::Enter, ms(300)),
    ];
    assert_eq!(all(&mut hand, &presses).last(), Some(&Intent::Number(-11)));
}

#[test]
fn the_same_digit_in_the_next_answer_counts_however_soon() {
    let mut hand = Hand::new(Settings {
        guard: Duration::ZERO,
        quiet: Duration::ZERO,
        ..Settings::default()
    });
    hand.attend(number(false, 0), ms(0));
    let presses = [
        Press::down(Key::Char('1'), ms(1)),
        Press::down(Key::Enter, ms(2)),
        Press::down(Key::Char('1'), ms(3)),
        Press::down(Key::Enter, ms(4)),
    ];
    let numbers = all(&mut hand, &presses);
    assert_eq!(numbers[1], Intent::Number(1));
    assert_eq!(numbers[3], Intent::Number(1));
}

#[test]
fn backspace_takes_a_digit_before_it_takes_a_press() {
    let mut hand = Hand::new(Settings::default());
    hand.attend(number(false, 0), ms(0));
    hand.press(Press::down(Key::Char('7'), ms(1)));
    let back = hand.press(Press::down(Key::Backspace, ms(2)));
    assert_eq!((back, hand.typed().is_empty()), (Some(Intent::Typed), true));
    let back = hand.press(Press::down(Key::Backspace, ms(900)));
    assert_eq!(back, Some(Intent::BackOne));
}

#[test]
fn a_press_by_reflex_never_answers_a_question_for_a_number() {
    for one_button in [false, true] {
        let settings = Settings {
            one_button,
            ..Settings::default()
        };
        for start in 0..10 {
            let mut hand = Hand::new(settings);
            hand.attend(number(true, start), ms(0));
            let first = hand.press(Press::down(Key::Space, ms(100)));
            let lit_already = if one_button {
                Intent::NotLooked
            } else {
                Intent::NotLookedYet
            };
            assert_eq!(first, Some(lit_already));
            let again = hand.press(Press::down(Key::Space, ms(1000)));
            assert_eq!(again, Some(Intent::NotLooked), "NOT LOOKED is lit first");
        }
    }
}

#[test]
fn a_look_can_be_passed_by_one_button_but_only_at_the_menus_far_end() {
    let mut hand = Hand::new(Settings::default());
    for (look, count, at) in [(false, MenuItem::ALWAYS, 1000), (true, 10, 3000)] {
        hand.attend(
            Context::Number {
                minus: false,
                start: 0,
                look,
            },
            ms(0),
        );
        hand.press(Press::down(Key::Tab, ms(at)));
        let items = hand.lit().map(|lit| lit.items.len());
        assert_eq!(items, Some(count));
    }
    let nine = hand.press(Press::down(Key::Char('9'), ms(3200)));
    assert_eq!(nine, Some(Intent::Menu(MenuItem::CannotTell)));
}

#[test]
fn a_press_without_a_number_lights_the_digits_for_a_hand_with_one_button() {
    let mut hand = Hand::new(Settings::default());
    hand.attend(number(false, 4), ms(0));
    assert_eq!(hand.lit(), None, "number keys are expected at first");
    hand.press(Press::down(Key::Space, ms(100)));
    assert_eq!(hand.lit().and_then(|l| l.item()), Some(LitItem::NotLooked));
    hand.tick(ms(2100));
    let digit = hand.press(Press::down(Key::Space, ms(2200)));
    assert_eq!(digit, Some(Intent::Typed));
    let done = hand.press(Press::down(Key::Space, ms(3000)));
    assert_eq!(done, Some(Intent::Number(4)));
    hand.attend(number(false, 4), ms(3100));
    let lit = hand.lit().and_then(|lit| lit.item());
    assert_eq!(lit, Some(LitItem::NotLooked), "the same hand answers next");
    hand.attend(Context::Choice { count: 3, start: 0 }, ms(4000));
    assert_eq!(hand.wakes_at(), Some(ms(6000)), "lists are lit in turn too");
    hand.press(Press::down(Key::Down, ms(4100)));
    assert_eq!(hand.wakes_at(), None, "an arrow says that there are keys");
    hand.attend(number(false, 4), ms(5000));
    assert_eq!(hand.lit(), None);
}

#[test]
fn a_number_key_says_that_there_are_number_keys() {
    let mut hand = Hand::new(Settings::default());
    hand.attend(number(false, 4), ms(0));
    hand.press(Press::down(Key::Space, ms(100)));
    assert!(hand.is_lit_in_turn());
    hand.press(Press::down(Key::Char('7'), ms(900)));
    hand.press(Press::down(Key::Enter, ms(1700)));
    assert!(!hand.is_lit_in_turn());
    hand.attend(number(false, 4), ms(1800));
    assert_eq!(hand.lit(), None);
}

#[test]
fn the_other_way_stands_in_the_menu_where_there_is_one_and_only_there() {
    let has = |hand: &Hand| {
        let items = hand.lit().map(|lit| lit.items.to_vec());
        items.is_some_and(|all| all.contains(&LitItem::Menu(MenuItem::OtherWay)))
    };
    for other in [false, true] {
        let mut hand = Hand::new(Settings::default());
        hand.attend(Context::Work { choices: 2 }, ms(0));
        hand.has_other_way(other);
        hand.press(Press::down(Key::Tab, ms(100)));
        assert_eq!(has(&hand), other);
        hand.attend_under_menu(Context::Work { choices: 2 }, !other, ms(200));
        assert!(hand.menu_is_open());
        assert_eq!(has(&hand), !other);
    }
}

#[test]
fn one_button_gives_a_number_by_lit_digits_from_the_start_given() {
    let settings = Settings {
        one_button: true,
        ..Settings::default()
    };
    let mut hand = Hand::new(settings);
    hand.attend(number(false, 8), ms(0));
    for lit in [8, 9, 0, 1, 2] {
        let at = hand.wakes_at().expect("digits are lit in turn");
        assert_eq!(hand.tick(at), Some(Intent::Lit));
        assert_eq!(hand.lit().and_then(|l| l.item()), Some(LitItem::Digit(lit)));
    }
    assert_eq!(
        hand.press(Press::down(Key::Space, ms(10_500))),
        Some(Intent::Typed)
    );
    assert_eq!(hand.lit().and_then(|l| l.item()), Some(LitItem::Done));
    assert_eq!(
        hand.press(Press::down(Key::Space, ms(11_500))),
        Some(Intent::Number(2))
    );
}

#[test]
fn a_hold_in_the_middle_of_a_number_takes_its_digit_out_again() {
    let settings = Settings {
        one_button: true,
        ..Settings::default()
    };
    let mut hand = Hand::new(settings);
    hand.attend(number(false, 8), ms(0));
    hand.tick(ms(2000));
    let intents = all(&mut hand, &held(Key::Space, 2100, 250, 33, 4000));
    assert_eq!(
        intents,
        [Intent::Typed, Intent::MenuOpened { taken_back: 0 }]
    );
    assert!(hand.typed().is_empty());
}

#[test]
fn a_question_with_choices_takes_its_number_or_the_lit_one() {
    let mut hand = Hand::new(Settings::default());
    let context = Context::Choice { count: 3, start: 0 };
    hand.attend(context, ms(0));
    assert_eq!(
        hand.press(Press::down(Key::Char('3'), ms(1))),
        Some(Intent::Choose(2))
    );
    assert_eq!(
        hand.press(Press::down(Key::Char('4'), ms(100))),
        Some(Intent::Wrong(Key::Char('4')))
    );
    hand.attend(context, ms(1000));
    let moved = all(&mut hand, &taps(Key::Down, &[1001, 1100]));
    assert_eq!(moved, [Intent::Lit, Intent::Lit]);
    assert_eq!(
        hand.press(Press::down(Key::Enter, ms(2000))),
        Some(Intent::Choose(2))
    );
}

/// A press by reflex takes nothing from a list of ways: the first lights it, the second takes.
#[test]
fn in_a_list_of_ways_the_first_press_takes_nothing() {
    for one_button in [false, true] {
        let mut hand = Hand::new(Settings {
            one_button,
            ..Settings::default()
        });
        hand.attend(Context::Ways { count: 3 }, ms(0));
        assert_eq!((hand.lit(), hand.wakes_at()), (None, None));
        let pressed = |hand: &mut Hand, at| hand.press(Press::down(Key::Enter, ms(at)));
        assert_eq!(pressed(&mut hand, 100), Some(Intent::Lit));
        assert_eq!(
            hand.lit().and_then(|lit| lit.item()),
            Some(LitItem::Choice(0))
        );
        // a second press at once is the same press, bounced
        assert_eq!(pressed(&mut hand, 300), None);
        assert!(hand.wakes_at().is_some(), "its light moves by itself");
        assert_eq!(pressed(&mut hand, 1500), Some(Intent::Choose(0)));
        hand.attend(Context::Ways { count: 3 }, ms(2000));
        let third = hand.press(Press::down(Key::Char('3'), ms(2100)));
        assert_eq!(
            third,
            Some(Intent::Choose(2)),
            "a number takes its line at once"
        );
    }
    let mut hand = Hand::new(Settings::default());
    hand.attend(Context::Ways { count: 3 }, ms(0));
    let lit = hand.press(Press::down(Key::Down, ms(100)));
    assert_eq!(lit, Some(Intent::Lit));
    assert_eq!(hand.wakes_at(), None, "arrows move it");
    let at = hand.lit().map(|lit| lit.at);
    assert_eq!(at, Some(0), "an arrow lights the first line too");
}

#[test]
fn at_work_a_number_key_may_say_other_than_done() {
    let mut hand = Hand::new(Settings::default());
    hand.attend(Context::Work { choices: 2 }, ms(0));
    let said = all(
        &mut hand,
        &[
            Press::down(Key::Right, ms(1)),
            Press::down(Key::Char('2'), ms(2)),
            Press::down(Key::Char('3'), ms(3)),
        ],
    );
    assert_eq!(
        said,
        [
            Intent::Next,
            Intent::Choose(1),
            Intent::Wrong(Key::Char('3'))
        ]
    );
}

#[test]
fn a_line_of_text_takes_every_letter_and_leaves_only_by_its_own_keys() {
    let mut hand = Hand::new(Settings::default());
    hand.attend(Context::Text, ms(0));
    let typed = all(
        &mut hand,
        &[
            Press::down(Key::Char('q'), ms(1)),
            Press::down(Key::Char('y'), ms(2)),
            Press::down(Key::Space, ms(3)),
            Press::down(Key::Backspace, ms(4)),
            Press::down(Key::Esc, ms(5)),
            Press::down(Key::Enter, ms(900)),
        ],
    );
    assert_eq!(
        typed,
        [
            Intent::Char('q'),
            Intent::Char('y'),
            Intent::Char(' '),
            Intent::Erase,
            Intent::Cancel,
            Intent::Confirm
        ]
    );
}

#[test]
fn the_pedal_test_finds_the_key_and_how_the_menu_opens() {
    let mut test = PedalTest::default();
    assert_eq!(test.verdict(), None);
    for press in held(Key::F(7), 0, 660, 40, 2000) {
        test.hears(press);
    }
    let verdict = test.verdict().expect("presses came");
    assert_eq!(verdict.first_repeat, Some(ms(660)));
    let settings = verdict.settings(Settings::default());
    assert_eq!(
        (settings.pedal, settings.opens, settings.guard),
        (Some(Key::F(7)), Opens::Hold, ms(760))
    );
    let mut hand = Hand::new(settings);
    assert_eq!(
        hand.press(Press::down(Key::F(7), ms(0))),
        Some(Intent::Next)
    );

    let mut single = PedalTest::default();
    single.hears(Press::down(Key::Char('b'), ms(0)));
    let settings = single
        .verdict()
        .expect("a press came")
        .settings(Settings::default());
    assert_eq!(settings.opens, Opens::Triple);
    let mut hand = Hand::new(settings);
    assert_eq!(
        hand.press(Press::down(Key::Char('b'), ms(0))),
        Some(Intent::Next)
    );
}

#[test]
fn no_key_stands_twice_in_the_table_and_every_row_has_words() {
    let mut seen = HashSet::new();
    for row in ROWS {
        assert!(!row.keys.is_empty() && !row.footer.is_empty() && !row.help.is_empty());
        assert!(row.footer.split(' ').count() <= 2, "{}", row.footer);
        for key in row.keys {
            assert!(seen.insert(*key), "{key:?} stands twice");
            assert!(key.name().is_ascii());
        }
        assert_eq!(row_of(row.meaning), Some(row));
    }
}

fn any_key() -> impl Strategy<Value = Key> {
    prop_oneof![
        3 => Just(Key::Space),
        1 => Just(Key::Enter),
        1 => Just(Key::Right),
        1 => Just(Key::Up),
        1 => Just(Key::PageUp),
        1 => Just(Key::Backspace),
        1 => Just(Key::Esc),
        1 => Just(Key::Tab),
        1 => Just(Key::Other),
        1 => (0u8..=255).prop_map(Key::F),
        2 => (0u8..10).prop_map(|d| Key::Char(char::from(b'0' + d))),
        2 => any::<char>().prop_map(Key::Char),
        1 => proptest::char::range('a', 'z').prop_map(Key::Ctrl),
    ]
}

fn any_kind() -> impl Strategy<Value = PressKind> {
    prop_oneof![
        8 => Just(PressKind::Press),
        2 => Just(PressKind::Repeat),
        1 => Just(PressKind::Release),
    ]
}

fn any_context() -> impl Strategy<Value = Context> {
    prop_oneof![
        any::<u8>().prop_map(|choices| Context::Work { choices }),
        Just(Context::Text),
        (any::<bool>(), any::<u8>()).prop_map(|(m, s)| number(m, s)),
        (any::<u8>(), any::<u8>()).prop_map(|(count, start)| Context::Choice { count, start }),
        any::<u8>().prop_map(|count| Context::Ways { count }),
    ]
}

fn any_settings() -> impl Strategy<Value = Settings> {
    let times = (0u64..900, 0u64..300, 0u64..1500, 0u64..1200, 0u64..2500);
    let habits = (
        any::<bool>(),
        any::<bool>(),
        proptest::option::of(any_key()),
    );
    (times, habits).prop_map(
        |((guard, quiet, hold, triple, lit), (opens, one, pedal))| Settings {
            guard: ms(guard),
            quiet: ms(quiet),
            hold: ms(hold),
            triple: ms(triple),
            lit: ms(lit),
            opens: if opens { Opens::Hold } else { Opens::Triple },
            one_button: one,
            pedal,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn no_stream_of_keys_harms_the_hand(
        settings in any_settings(),
        steps in proptest::collection::vec(
            (any_key(), any_kind(), 0u64..3000, proptest::option::of(any_context()), any::<bool>()),
            0..120,
        ),
    ) {
        let mut hand = Hand::new(settings);
        let mut now = 0u64;
        for (key, kind, gap, context, back) in steps {
            // A clock may not run backwards, but the hand does not lean on it.
            now = if back { now.saturating_sub(gap) } else { now + gap };
            if let Some(context) = context {
                hand.attend(context, ms(now));
            }
            hand.tick(ms(now));
            let intent = hand.press(Press { key, kind, at: ms(now) });
            if kind != PressKind::Press {
                let quiet = matches!(intent, None | Some(Intent::MenuOpened { .. }));
                prop_assert!(quiet, "{kind:?} gave {intent:?}");
            }
            if let Some(lit) = hand.lit() {
                prop_assert!(lit.items.is_empty() || lit.item().is_some());
            }
            prop_assert!(hand.typed().value().is_none_or(|v| v.abs() <= 999_999));
        }
    }

    #[test]
    fn however_it_is_held_a_key_is_one_press(
        delay in 200u64..690, every in 15u64..140, until in 1u64..20_000,
        key in prop_oneof![Just(Key::Space), Just(Key::PageDown), Just(Key::Left), Just(Key::Esc)],
    ) {
        let mut hand = Hand::new(Settings::default());
        let intents = all(&mut hand, &held(key, 500, delay, every, 500 + until));
        let moves = intents.iter().filter(|i| !matches!(i, Intent::MenuOpened { .. })).count();
        prop_assert_eq!(moves, 1);
        prop_assert!(intents.len() <= 2);
    }

    #[test]
    fn the_button_alone_never_leaves_and_never_answers_at_once(
        gaps in proptest::collection::vec(0u64..4000, 1..80),
        one_button in any::<bool>(),
    ) {
        let mut hand = Hand::new(Settings { one_button, ..Settings::default() });
        hand.attend(number(false, 4), ms(0));
        let mut now = 0;
        for gap in gaps {
            now += gap;
            let intent = hand.press(Press::down(Key::Space, ms(now)));
            prop_assert!(!matches!(
                intent,
                Some(Intent::Leave | Intent::LeaveAsked | Intent::LeaveAtOnce | Intent::Redo)
            ));
            // Without a tick no digit is ever lit, so no number can be given.
            prop_assert!(!matches!(intent, Some(Intent::Number(_))));
        }
    }
}
