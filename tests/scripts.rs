//! Scenarios as text: what a weaver types, and words that must be said back. The machine alone, no
//! file and no terminal; every scenario is replayed at its end and must come out the same.
//!
//! In `tests/scripts/*.txt`:
//! `plan FILE` the plan; `> LINE` types a line; `~ WORDS` the last answer holds the words;
//! `- WORDS` it does not; `until WORDS` presses next until the words are said (at most 5,000 times);
//! `lead WORDS` the same, and every look on the way is answered as the loom would;
//! `wait MINUTES` time passes; `reopen` everything is replayed from its entries and opened again.

#![allow(clippy::unwrap_used, clippy::print_stderr)]

mod common;

use chrono::{DateTime, FixedOffset, TimeDelta};
use endsmeet::dressing::{Ask, Dressing, When};
use endsmeet::journal::keep::{InMemory, Keep};
use endsmeet::method::Method;
use endsmeet::plan::Plan;
use endsmeet::terminal::lines;
use std::path::Path;

struct Scene {
    keeper: InMemory,
    plan: Plan,
    method: Method,
    now: When,
    said: String,
}

impl Scene {
    fn new(file: &str) -> Self {
        let plan = common::plan_from(&std::fs::read_to_string(file).unwrap());
        let wall: DateTime<FixedOffset> = "2026-03-03T18:00:00+01:00".parse().unwrap();
        let dressing = Dressing::new(plan.clone(), &[]);
        let mut scene = Self {
            keeper: InMemory::new(dressing),
            plan,
            method: Method::embedded(),
            now: When {
                wall,
                elapsed_ms: 0,
            },
            said: String::new(),
        };
        scene.type_line(".");
        scene
    }

    fn pass(&mut self, ms: u64) {
        self.now.elapsed_ms += ms;
        self.now.wall += TimeDelta::milliseconds(ms as i64);
    }

    fn type_line(&mut self, line: &str) {
        self.pass(4000);
        let mut out = Vec::new();
        lines::take(line, &mut self.keeper, &self.method, &mut out, self.now).unwrap();
        self.said = String::from_utf8(out).unwrap();
    }

    fn until(&mut self, words: &str) {
        for _ in 0..5000 {
            if self.said.contains(words) {
                return;
            }
            self.type_line("");
        }
        panic!("never said: {words}\nlast said:\n{}", self.said);
    }

    fn lead(&mut self, words: &str) {
        for _ in 0..5000 {
            if self.said.contains(words) {
                return;
            }
            let line = common::true_answer(self.keeper.dressing()).unwrap_or_default();
            self.type_line(&line);
        }
        panic!("never said: {words}\nlast said:\n{}", self.said);
    }

    /// All entries through the guard into a new dressing.
    fn replayed(&self) -> Dressing {
        let mut dressing = Dressing::new(self.plan.clone(), &[]);
        for entry in self.keeper.entries() {
            dressing
                .admit(entry)
                .unwrap_or_else(|why| panic!("{why}\n{entry:?}"));
        }
        dressing
    }

    fn reopen(&mut self) {
        let dressing = self.replayed();
        assert_eq!(dressing.view(), self.keeper.dressing().view());
        let entries = self.keeper.entries().to_vec();
        self.keeper = InMemory::with_entries(dressing, entries);
        self.pass(14 * 3600 * 1000);
        self.now.elapsed_ms = 0;
        self.keeper.ask(&Ask::Opened, self.now).unwrap();
        self.type_line(".");
    }

    fn step(&mut self, line: &str) {
        let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
        match word {
            ">" => self.type_line(rest),
            "~" => assert!(
                self.said.contains(rest),
                "expected: {rest}\nsaid:\n{}",
                self.said
            ),
            "-" => assert!(
                !self.said.contains(rest),
                "must not be said: {rest}\nsaid:\n{}",
                self.said
            ),
            "until" => self.until(rest),
            "lead" => self.lead(rest),
            "wait" => self.pass(rest.parse::<u64>().unwrap() * 60_000),
            "reopen" => self.reopen(),
            _ => panic!("no such word in a scenario: {line}"),
        }
    }
}

fn play(file: &Path) {
    let text = std::fs::read_to_string(file).unwrap();
    let mut lines = text
        .lines()
        .enumerate()
        .map(|(at, line)| (at + 1, line))
        .filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'));
    let (_, first) = lines.next().unwrap();
    let mut scene = Scene::new(
        first
            .strip_prefix("plan ")
            .expect("a scenario starts with its plan"),
    );
    for (at, line) in lines {
        let step = std::panic::AssertUnwindSafe(|| scene.step(line));
        if let Err(panic) = std::panic::catch_unwind(step) {
            eprintln!("{}:{at}: {line}", file.display());
            std::panic::resume_unwind(panic);
        }
    }
    let replayed = scene.replayed();
    assert_eq!(replayed.view(), scene.keeper.dressing().view());
    assert_eq!(replayed.about(), scene.keeper.dressing().about());
    assert_eq!(replayed.ledger(), scene.keeper.dressing().ledger());
}

#[test]
fn every_scenario_plays_as_it_is_written() {
    let mut files: Vec<_> = std::fs::read_dir("tests/scripts")
        .unwrap()
        .map(|file| file.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "txt"))
        .collect();
    files.sort();
    assert!(
        files.len() >= 3,
        "the three demo plans have a scenario each"
    );
    for file in files {
        play(&file);
    }
}
