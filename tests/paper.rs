//! The sheets: exact text of what a weaver takes to the loom, and the promises of each form: 80
//! columns, pages that cut nothing, HTML that fetches nothing, CSV that reads back.
#![allow(clippy::unwrap_used)]

mod common;

use common::{ask, demo, lead, plan_from, small};
use endsmeet::dressing::ledger::Task;
use endsmeet::dressing::{Ask, Dressing};
use endsmeet::method::Method;
use endsmeet::paper::document::{Block, Document, Part, Strip, Table};
use endsmeet::paper::{Paper, Sheet, as_csv, as_html, as_text, sheets, slip, svg};
use endsmeet::plan::Plan;
use endsmeet::quantity::Calls;
use unicode_width::UnicodeWidthStr;

const DEMOS: [&str; 4] = [
    "hall-runner.json",
    "winter-blanket.json",
    "open-scarf.json",
    "practice.json",
];

fn text_of(sheet: Sheet, plan: &Plan) -> String {
    as_text::text(&sheets(&[sheet], plan, &Method::embedded()))
}

#[test]
fn the_threading_strips_of_the_small_warp() {
    insta::assert_snapshot!("threading-small", text_of(Sheet::Threading, &small()));
}

#[test]
fn the_sley_strip_of_the_runner() {
    insta::assert_snapshot!(
        "sley-runner",
        text_of(Sheet::Sley, &demo("hall-runner.json"))
    );
}

#[test]
fn draft_tie_up_and_cloth_of_the_runner() {
    let text = text_of(Sheet::TieUp, &demo("hall-runner.json"));
    insta::assert_snapshot!("tie-up-runner", text.replace('\u{c}', "\n<next page>\n"));
}

#[test]
fn the_worksheet_of_the_runner_and_of_a_blanket_in_centimetres() {
    let text = text_of(Sheet::Plan, &demo("hall-runner.json"));
    insta::assert_snapshot!("worksheet-runner", text);
    let text = text_of(Sheet::Plan, &demo("winter-blanket.json"));
    insta::assert_snapshot!("worksheet-blanket", text);
}

#[test]
fn the_wall_card_of_the_runner() {
    let text = text_of(Sheet::WallCard, &demo("hall-runner.json"));
    insta::assert_snapshot!("wall-card-runner", text.replace('\u{c}', "\n<next page>\n"));
}

/// Every page of the printed file says what it is about; a title cannot end the style sheet.
#[test]
fn every_page_says_its_part_and_a_title_cannot_break_out_of_the_styles() {
    let mut plan = small();
    plan.title = "a\"; } </style><b> \\ 'x".into();
    let html = as_html::html(&sheets(&Sheet::ALL, &plan, &Method::embedded()), Paper::A4);
    assert_eq!(html.matches("</style>").count(), 1);
    let styles = html.split("</style>").next().unwrap();
    for (nth, part) in ["Worksheet", "Threading", "Sley"].iter().enumerate() {
        let page = styles.split(&format!("@page p{nth} ")).nth(1).unwrap();
        let line = page.lines().next().unwrap();
        assert!(line.contains(&format!(": {part}\"")), "{line}");
        assert_eq!(line.matches('"').count(), 2, "{line}");
        assert!(html.contains(&format!("<section style=\"page: p{nth}\">")));
    }
    assert!(styles.contains("counter(page)"));
}

#[test]
fn the_slip_says_the_last_end_and_its_shaft() {
    let mut dressing = Dressing::new(small(), &[]);
    lead(&mut dressing, |d| {
        d.ledger().of(Task::Threaded).count() >= 12
    });
    ask(&mut dressing, &Ask::Note("second cone begun".into())).unwrap();
    ask(&mut dressing, &Ask::StopForToday).unwrap();
    let text = as_text::text(&slip(&dressing, &Method::embedded()));
    insta::assert_snapshot!("slip-small", text);
}

#[test]
fn no_line_is_wider_than_a_page_and_no_page_longer() {
    for name in DEMOS {
        let document = sheets(&Sheet::ALL, &demo(name), &Method::embedded());
        for page in as_text::text(&document).split('\u{c}') {
            assert!(page.lines().count() <= 60, "{name}: {page}");
            for line in page.lines() {
                assert!(line.width() <= 80, "{name}: {line}");
            }
        }
    }
}

#[test]
fn a_strip_is_never_cut_and_a_heading_never_left_alone() {
    let strip = |n: usize| {
        Block::Strip(Strip {
            head: format!("strip {n}"),
            note: None,
            rows: vec![("a".into(), vec!["x".into()]); 6],
        })
    };
    let mut part = Part::new("cut");
    for n in 0..40 {
        part.blocks.push(Block::Heading(format!("head {n}")));
        part.blocks.push(strip(n));
    }
    let text = as_text::text(&Document {
        title: "T".into(),
        parts: vec![part],
    });
    let mut strips = 0;
    for page in text.split('\u{c}') {
        let lines: Vec<&str> = page.lines().collect();
        for (at, line) in lines.iter().enumerate() {
            if line.starts_with("strip ") {
                strips += 1;
                assert!(
                    lines[at..]
                        .iter()
                        .skip(1)
                        .take(6)
                        .filter(|l| l.contains("[ ] x"))
                        .count()
                        == 6
                );
                assert!(
                    lines[..at]
                        .iter()
                        .rev()
                        .take(4)
                        .any(|l| l.starts_with("head "))
                );
            }
        }
    }
    assert_eq!(strips, 40);
}

#[test]
fn a_table_says_its_heads_again_on_each_page() {
    let mut table = Table::new(&["Name", ">Number"]);
    table.rows = (0..150)
        .map(|n| vec![format!("row {n}"), n.to_string()])
        .collect();
    let part = Part::new("long").with(Block::Table(table));
    let document = Document {
        title: "T".into(),
        parts: vec![part],
    };
    let text = as_text::text(&document);
    let pages: Vec<&str> = text.split('\u{c}').collect();
    assert_eq!(pages.len(), 3);
    assert!(pages.iter().all(|page| page.contains("Name")), "{text}");
}

/// The calls of every strip, read back in order, are the plan's threading; the heddles to count out
/// add up to what the plan needs.
#[test]
fn the_strips_hold_the_whole_threading_and_every_heddle() {
    for name in DEMOS {
        let plan = demo(name);
        let document = sheets(&[Sheet::Threading], &plan, &Method::embedded());
        let mut threading: Vec<u8> = Vec::new();
        let mut heddles = vec![0u32; usize::from(plan.shafts)];
        for block in &document.parts[0].blocks {
            let Block::Strip(strip) = block else { continue };
            for (row, things) in &strip.rows {
                match row.as_str() {
                    "thread" => threading.extend(things.iter().flat_map(|t| {
                        t.split([' ', '+'])
                            .filter(|n| !n.is_empty())
                            .map(|n| n.parse::<u8>().unwrap())
                    })),
                    "heddles" => {
                        for thing in things {
                            let (n, shaft) = thing.split_once(" on ").unwrap();
                            let n: u32 = n.parse().unwrap();
                            heddles[shaft.parse::<usize>().unwrap() - 1] += n;
                        }
                    }
                    _ => {}
                }
            }
        }
        let planned: Vec<u8> = plan.threading.iter().map(|s| s.0).collect();
        assert_eq!(threading, planned, "{name}");
        assert_eq!(heddles, plan.heddles.needed, "{name}");
    }
}

/// Every end lies in the sley strip once, and the last tape mark is the far edge of the warp.
#[test]
fn the_sley_strip_holds_every_end_once() {
    for name in DEMOS {
        let plan = demo(name);
        let document = sheets(&[Sheet::Sley], &plan, &Method::embedded());
        let tables = document.parts[0]
            .blocks
            .iter()
            .filter_map(|block| match block {
                Block::Table(table) => Some(table),
                _ => None,
            });
        let mut ends = 0;
        for row in tables.flat_map(|table| &table.rows) {
            if row[0] != "-" {
                ends += sum_of(&row[4]);
            }
        }
        assert_eq!(ends, plan.heddled_ends(), "{name}");
    }
}

/// The sum of a pattern such as "1, 2 x9, 1" or "1 2 x5".
fn sum_of(pattern: &str) -> u32 {
    let part = |part: &str| {
        let (list, times) = part.split_once(" x").unwrap_or((part, "1"));
        let sum: u32 = list.split(' ').map(|n| n.parse::<u32>().unwrap()).sum();
        sum * times.parse::<u32>().unwrap()
    };
    pattern.split(", ").map(part).sum()
}

#[test]
fn html_fetches_nothing_and_takes_no_name_for_markup() {
    let mut plan = small();
    plan.title = "<script>alert(1)</script> & \"co\"".into();
    for (paper, size) in [(Paper::A4, "size: A4"), (Paper::Letter, "size: letter")] {
        let html = as_html::html(&sheets(&Sheet::ALL, &plan, &Method::embedded()), paper);
        assert!(html.contains(size));
        for foreign in [
            "<script", "<link", "<img", "src=", "href=", "url(", "@import",
        ] {
            assert!(!html.contains(foreign), "{foreign}");
        }
        let without_namespace = html.replace("http://www.w3.org/2000/svg", "");
        assert!(!without_namespace.contains("http"), "nothing is fetched");
    }
}

#[test]
fn csv_reads_back_and_holds_no_formula() {
    let mut plan = demo("open-scarf.json");
    plan.yarn[0].name = "=1+1, \"quoted\"".into();
    let text = as_csv::csv(&sheets(&Sheet::ALL, &plan, &Method::embedded()));
    let mut reader = csv::ReaderBuilder::new()
        .flexible(true)
        .has_headers(false)
        .from_reader(text.as_bytes());
    let mut cells = 0;
    for record in reader.records() {
        for cell in &record.unwrap() {
            assert!(!cell.starts_with(['=', '@', '+']), "{cell}");
            cells += usize::from(cell.contains("1+1, \"quoted\""));
        }
    }
    assert_eq!(cells, 1);
}

#[test]
fn the_wall_card_has_a_caution_for_every_hazard_and_only_this_looms_steps() {
    let method = Method::embedded();
    let card = |plan: &Plan| as_text::text(&sheets(&[Sheet::WallCard], plan, &method));
    let (jack, marsh) = (
        card(&demo("hall-runner.json")),
        card(&demo("winter-blanket.json")),
    );
    assert!(jack.contains("! CAUTION: ") && jack.contains("loom maker's manual"));
    let cautions = |text: &str| {
        text.lines()
            .filter(|l| l.trim_start().starts_with("! "))
            .count()
    };
    let with_caution = |plan: &Plan| {
        let kind = endsmeet::words::fill::loom_kind(plan);
        let dressing = Dressing::new(plan.clone(), &[]);
        let steps = method
            .steps()
            .filter(|s| method.includes(s.id, kind) && dressing.applies(s.id));
        steps.filter(|s| s.on(kind).caution.is_some()).count()
    };
    assert_eq!(cautions(&jack), with_caution(&demo("hall-runner.json")) + 1);
    let pins = &method.step(endsmeet::method::StepId::PinsOut).texts.title;
    assert!(marsh.contains(pins.as_str()) && !jack.contains(pins.as_str()));
}

#[test]
fn the_drawings_show_each_end_that_is_up() {
    // 2 ends, 2 picks of plain weave: two level bands and two uprights
    let plain = plan_from(
        r#"{ "endsmeet": 1, "title": "T", "units": "in", "sett": 10, "ends": 20, "threading": "1 2",
        "loom": {"action": "jack", "shafts": 2, "treadles": 2, "width": 10},
        "reeds": [{"dents": 10, "per": "in", "length": 10}],
        "tie_up": [[1], [2]], "treadling": "1 2" }"#,
    );
    let drawn = svg::cloth_svg(&plain, Calls::new(1, 2).unwrap(), 2).unwrap();
    assert_eq!(drawn.matches("fill=\"#fff\" stroke").count(), 2, "{drawn}");
    assert_eq!(drawn.matches("fill=\"#222\"").count(), 2, "{drawn}");
    let draft = svg::draft_svg(&plain, 4, 4).unwrap();
    assert!(draft.starts_with("<svg") && draft.trim_end().ends_with("</svg>"));
    assert!(
        svg::draft_svg(&plain, u32::MAX, u32::MAX).is_some(),
        "bounded"
    );
}
