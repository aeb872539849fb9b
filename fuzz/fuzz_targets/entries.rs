//! Entries of any content, each in a line whose frame and checksum are right, after the first so many
//! lines of a real dressing: the guard that decides what can have happened.
//!
//! Input: one byte for how many real lines come first, then one line of JSON an entry.
#![no_main]

#[path = "../common.rs"]
mod common;

use common::{load_and_look, sealed_anew};
use libfuzzer_sys::fuzz_target;

const REAL: &[u8] = include_bytes!("../../tests/frozen/format-1-small.jsonl");

fuzz_target!(|bytes: &[u8]| {
    let Some((first, rest)) = bytes.split_first() else {
        return;
    };
    let real: Vec<&[u8]> = REAL.split_inclusive(|&b| b == b'\n').collect();
    let kept = usize::from(*first) % real.len() + 1;
    let mut file = real[..kept].concat();
    for (after, entry) in rest.split(|&b| b == b'\n').enumerate() {
        let number = kept + after;
        let frame = format!(
            "{{\"c\":\"00000000\",\"v\":1,\"n\":{number},\"at\":\"2026-03-04T18:40:00+01:00\",\"ms\":{},\"k\":\"entry\",\"e\":",
            12_000_000 + after * 4000
        );
        file.extend_from_slice(frame.as_bytes());
        file.extend_from_slice(entry);
        file.extend_from_slice(b"}\n");
    }
    load_and_look(&sealed_anew(&file));
});
