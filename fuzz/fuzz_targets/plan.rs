//! A plan file of any bytes: read and worked out. What is refused is refused in a sentence; what is
//! taken is whole, and reads back as itself.
#![no_main]

use endsmeet::plan::{read_spec, spec_value, work_out};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let spec = match read_spec(text) {
        Ok(spec) => spec,
        Err(problems) => {
            assert!(!problems.is_empty());
            assert!(problems.iter().all(|p| p.to_string().len() > 10));
            return;
        }
    };
    let figures = work_out(&spec);
    let Some(plan) = figures.plan() else {
        assert!(!figures.problems.is_empty(), "no plan and no problem");
        assert!(figures.problems.iter().all(|p| p.to_string().len() > 10));
        return;
    };
    let batches = plan.batches.iter().map(|b| b.calls.len()).sum::<u32>();
    assert_eq!(batches, plan.heddled_ends());
    let again = read_spec(&spec_value(&figures.spec).to_string()).expect("reads back");
    assert_eq!(work_out(&again).plan(), Some(plan));
});
