//! A threading as typed: what is read can be written as a weaver would, and reads back the same.
#![no_main]

use endsmeet::plan::threading::{read_threading, threading_text};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| match read_threading(text, 64) {
    Ok(draft) => {
        assert!(!draft.numbers.is_empty());
        assert!(draft.numbers.iter().all(|n| (1..=64).contains(n)));
        let again = read_threading(&threading_text(&draft.numbers), 64).expect("reads back");
        assert_eq!(again.numbers, draft.numbers);
        if let Some(repeat) = draft.repeat() {
            assert!(repeat >= 1 && repeat as usize <= draft.numbers.len());
        }
    }
    Err(fault) => assert!(fault.to_string().len() > 10),
});
