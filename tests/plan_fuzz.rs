//! Both readers under random damage: demo plans, drafts and threadings with bytes flipped, cut, doubled and
//! spliced. Nothing may panic; what is refused is refused in a sentence; what is taken is whole.
//! `PLAN_FUZZ=1000000` runs more of it; the same seed gives the same run.

use endsmeet::plan::wif::{read_wif, spec_of_wif};
use endsmeet::plan::{LoomCard, Side, form::Form, read_spec, spec_value, work_out};

/// xorshift64* (Vigna, 2016; from memory): enough to spread damage, and the same everywhere.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    fn below(&mut self, most: usize) -> usize {
        usize::try_from(self.next() >> 33).expect("31 bits") % most.max(1)
    }
}

const SPLICES: [&[u8]; 18] = [
    b"1/0",
    b"x99999",
    b"(((((",
    b"-1",
    b"1e400",
    b"\xff\xfe",
    b"\0",
    b"[[[[",
    b"{\"a\":",
    b"null",
    b"\"",
    b"=",
    b"\r",
    b"4294967296",
    b"[THREADING]\n",
    b"0.000001",
    b"\\u202e",
    b" ",
];

fn damaged(dice: &mut Dice, seed: &[u8]) -> Vec<u8> {
    let mut bytes = seed.to_vec();
    for _ in 0..=dice.below(6) {
        let at = dice.below(bytes.len() + 1).min(bytes.len());
        match dice.below(5) {
            0 if at < bytes.len() => bytes[at] ^= 1 << dice.below(8),
            1 => bytes.truncate(at),
            2 => {
                let end = (at + dice.below(40)).min(bytes.len());
                let part = bytes[at..end].to_vec();
                bytes.splice(at..at, part);
            }
            3 => {
                let end = (at + dice.below(12)).min(bytes.len());
                bytes.drain(at..end);
            }
            _ => {
                let part = SPLICES[dice.below(SPLICES.len())];
                bytes.splice(at..at, part.iter().copied());
            }
        }
    }
    bytes
}

fn runs() -> usize {
    std::env::var("PLAN_FUZZ")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(3000)
}

#[test]
fn no_damage_to_a_plan_file_goes_unsaid() {
    let seeds: [&str; 3] = [
        include_str!("../assets/demo/hall-runner.json"),
        include_str!("../assets/demo/winter-blanket.json"),
        include_str!("../assets/demo/open-scarf.json"),
    ];
    let (mut dice, mut taken, mut refused) = (Dice(0x5EED), 0, 0);
    for i in 0..runs() {
        let bytes = damaged(&mut dice, seeds[i % 3].as_bytes());
        let text = String::from_utf8_lossy(&bytes);
        let _ = LoomCard::read(&text);
        let _ = Form::of_saved(&text);
        match read_spec(&text) {
            Ok(spec) => {
                let figures = work_out(&spec);
                let Some(plan) = figures.plan() else {
                    assert!(
                        !figures.problems.is_empty(),
                        "no plan and no problem: {text}"
                    );
                    assert!(figures.problems.iter().all(|p| p.to_string().len() > 10));
                    refused += 1;
                    continue;
                };
                assert_eq!(
                    plan.batches.iter().map(|b| b.calls.len()).sum::<u32>(),
                    plan.heddled_ends()
                );
                let again = read_spec(&spec_value(&figures.spec).to_string()).expect("reads back");
                assert_eq!(work_out(&again).plan(), Some(plan), "{text}");
                taken += 1;
            }
            Err(problems) => {
                assert!(!problems.is_empty() && problems.iter().all(|p| p.to_string().len() > 10));
                refused += 1;
            }
        }
    }
    println!(
        "{} plan files: {taken} fit, {refused} were refused",
        taken + refused
    );
    assert!(
        taken > 0 && refused > 0,
        "the damage should be neither nothing nor everything"
    );
}

#[test]
fn no_damage_to_a_draft_goes_unsaid() {
    let seeds: [&[u8]; 3] = [
        include_bytes!("../assets/drafts/point-4.wif"),
        include_bytes!("../assets/drafts/section-6.wif"),
        b"[WIF]\nVersion=1.1\n[WARP]\nThreads=4\nUnits=Decipoints\nSpacing=36\nColor=1\n[COLOR PALETTE]\nRange=0,999\n[COLOR TABLE]\n1=999,0,3\n[THREADING]\n1=1\n2=2\n3=3\n4=0\n[LIFTPLAN]\n1=1,2\n[NOTES]\n1=dry\n",
    ];
    let (mut dice, mut taken, mut refused) = (Dice(0xD4AF7), 0, 0);
    for i in 0..runs() {
        let bytes = damaged(&mut dice, seeds[i % 3]);
        match read_wif(&bytes).and_then(|(wif, _)| spec_of_wif(&wif, Side::Left)) {
            Ok((mut spec, remarks)) => {
                spec.title = Some("draft".into());
                let figures = work_out(&spec);
                assert!(figures.plan().is_some() || !figures.problems.is_empty());
                assert!(remarks.iter().all(|r| r.to_string().len() > 10));
                let form = Form::of_spec(&spec);
                assert_eq!(form.spec().map(|s| s.threading), Ok(spec.threading));
                taken += 1;
            }
            Err(fault) => {
                assert!(fault.to_string().len() > 20);
                refused += 1;
            }
        }
    }
    println!(
        "{} drafts: {taken} read, {refused} were refused",
        taken + refused
    );
    assert!(
        taken > 0 && refused > 0,
        "the damage should be neither nothing nor everything"
    );
}
