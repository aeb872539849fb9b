//! A loom card of any text: what is read can be written and reads back the same, and goes into a plan.
#![no_main]

use endsmeet::plan::{LoomCard, Spec, work_out};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| match LoomCard::read(text) {
    Ok(card) => {
        let again = LoomCard::read(&card.value().to_string()).expect("reads back");
        assert_eq!(again, card);
        let mut spec = Spec::default();
        card.put_into(&mut spec);
        let figures = work_out(&spec);
        assert!(figures.plan().is_some() || !figures.problems.is_empty());
    }
    Err(problems) => {
        assert!(!problems.is_empty());
        assert!(problems.iter().all(|p| p.to_string().len() > 10));
    }
});
