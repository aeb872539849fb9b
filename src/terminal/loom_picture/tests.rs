//! The picture of the loom: any size is safe, and what stands where.

use super::*;
use proptest::prelude::*;

fn picture(groups: u32, done: f64, place: usize) -> LoomPicture {
    let marks = (1..=groups)
        .map(|number| {
            let share = (done - f64::from(number - 1)).clamp(0.0, 1.0);
            let mut fills = [Fill::default(); 4];
            for fill in fills.iter_mut().take(place) {
                *fill = Fill {
                    first: 1.0,
                    second: 1.0,
                };
            }
            fills[place] = Fill {
                first: share,
                second: share.floor(),
            };
            GroupMark {
                number,
                ends: if number == groups { 17 } else { 20 },
                fills,
            }
        })
        .collect();
    LoomPicture {
        groups: marks,
        count: groups,
        first_at: Edge::Right,
        place,
        names: ["raddle", "heddles", "reed", "rod"],
        hand: Some(HandMark {
            at: 1.0 - done / f64::from(groups.max(1)),
            going: Some(Edge::Left),
        }),
        number: Some(done.floor() as u32 + 1),
        floats: [Some(false), Some(true)],
    }
}

fn rows(picture: &LoomPicture, width: u16, height: u16, ink: Ink) -> Vec<String> {
    let area = Rect::new(0, 0, width, height);
    let mut canvas = Canvas::empty(area);
    picture.draw(&mut canvas, area, Theme::Colour, ink);
    (0..height)
        .map(|y| {
            (0..width)
                .map(|x| canvas.symbol_at((x, y)))
                .collect::<String>()
                .trim_end()
                .to_owned()
        })
        .collect()
}

#[test]
fn the_runner_half_threaded_at_eighty_columns() {
    insta::assert_snapshot!(rows(&picture(14, 6.4, 1), 80, 6, Ink::Blocks).join("\n"));
}

#[test]
fn the_runner_half_threaded_without_blocks() {
    insta::assert_snapshot!(rows(&picture(14, 6.4, 1), 80, 6, Ink::Reversed).join("\n"));
}

#[test]
fn a_group_that_is_done_looks_other_than_one_that_is_begun_without_any_colour() {
    let rows = rows(&picture(4, 2.5, 1), 40, 3, Ink::Blocks);
    assert!(rows[1].contains('█') && rows[1].contains('▄') && rows[1].contains('.'));
}

#[test]
fn the_hand_points_where_it_goes() {
    let mut left = picture(4, 1.0, 1);
    assert!(rows(&left, 40, 2, Ink::Blocks)[1].contains("<<█"));
    left.hand = Some(HandMark {
        at: 0.2,
        going: Some(Edge::Right),
    });
    assert!(rows(&left, 40, 2, Ink::Blocks)[1].contains("█>>"));
}

#[test]
fn the_first_group_lies_at_its_side() {
    let mut picture = picture(3, 1.0, 1);
    let right = rows(&picture, 32, 3, Ink::Blocks);
    assert!(right[1].trim_start_matches(' ').starts_with('.') && right[1].contains('█'));
    picture.first_at = Edge::Left;
    picture.hand = None;
    let left = rows(&picture, 32, 3, Ink::Blocks);
    assert!(left[1].trim_start().starts_with('█'));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn any_picture_at_any_size_is_safe(
        width in 1u16..=300, height in 1u16..=100,
        marks in proptest::collection::vec((any::<u32>(), 0u32..5000, -1.0..2.0f64, -1.0..2.0f64), 0..40),
        place in 0usize..6, right in any::<bool>(), at in prop_oneof![-2.0..3.0f64, Just(f64::NAN)],
        blocks in any::<bool>(), (dx, dy) in (0u16..5, 0u16..5),
    ) {
        let picture = LoomPicture {
            groups: marks.iter().map(|(number, ends, first, second)| GroupMark {
                number: *number,
                ends: *ends,
                fills: [Fill { first: *first, second: *second }; 4],
            }).collect(),
            count: marks.len() as u32,
            first_at: if right { Edge::Right } else { Edge::Left },
            place,
            names: ["raddle", "heddles", "reed", "rod"],
            hand: Some(HandMark { at, going: right.then_some(Edge::Left) }),
            number: marks.first().map(|m| m.0),
            floats: [Some(true), None],
        };
        let ink = if blocks { Ink::Blocks } else { Ink::Reversed };
        let mut canvas = Canvas::empty(Rect::new(0, 0, width, height));
        picture.draw(&mut canvas, Rect::new(dx, dy, width, height), Theme::Mono, ink);
        if !blocks {
            prop_assert!(canvas.to_buffer().content.iter().all(|cell| cell.symbol().is_ascii()));
        }
    }
}
