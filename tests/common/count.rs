//! How many trials a test makes, and the line that says how many it made. `ENDSMEET_TRIALS=ci` is for
//! every submission, `ENDSMEET_TRIALS=soak` for before a release, `ENDSMEET_TRIALS=soak/20` for a
//! twentieth of that; without it there are few, so that `cargo test` stays quick.

#![allow(clippy::print_stdout, clippy::expect_used)] // what it says is what it is for

use std::time::Instant;

/// The numbers of trials of one test.
#[derive(Debug, Clone, Copy)]
pub struct Count {
    pub quick: u64,
    pub ci: u64,
    pub soak: u64,
}

impl Count {
    /// As many as the environment wants.
    pub fn wanted(self) -> u64 {
        let variable = std::env::var("ENDSMEET_TRIALS").unwrap_or_default();
        match variable.split_once('/').unwrap_or((&variable, "1")) {
            ("", _) => self.quick,
            ("ci", _) => self.ci,
            ("soak", share) => {
                let share: u64 = share.parse().expect("ENDSMEET_TRIALS=soak/NUMBER");
                (self.soak / share.max(1)).max(1)
            }
            (other, _) => panic!("ENDSMEET_TRIALS is {other:?}: it is ci, soak or soak/NUMBER"),
        }
    }
}

/// As many trials as the environment wants: few, those of every submission, or those of a soak.
pub fn trials(quick: u64, ci: u64, soak: u64) -> u64 {
    Count { quick, ci, soak }.wanted()
}

/// A row of the table of trials, while they go on.
#[derive(Debug)]
pub struct Row {
    name: &'static str,
    start: Instant,
}

impl Row {
    pub fn begin(name: &'static str) -> Self {
        let start = Instant::now();
        Self { name, start }
    }

    /// Says how many trials there were, and what came of them.
    pub fn done(self, trials: u64, and: &str) {
        let seconds = self.start.elapsed().as_secs_f64();
        println!("TRIALS {}: {trials} in {seconds:.1} s{and}", self.name);
    }

    /// Says why there were none.
    pub fn skipped(self, why: &str) {
        println!("SKIPPED {}: {why}", self.name);
    }
}
