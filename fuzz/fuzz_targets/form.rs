//! A saved form of any text: what is taken can be saved and comes back the same; what is not taken is
//! named.
#![no_main]

use endsmeet::plan::form::Form;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| match Form::of_saved(text) {
    Ok((form, _)) => {
        let (again, lost) = Form::of_saved(&form.saved().to_string()).expect("reads back");
        assert!(lost.is_empty(), "{lost:?}");
        assert_eq!(again.saved(), form.saved());
        let figures = form.figures();
        assert!(figures.plan().is_some() || !figures.problems.is_empty());
    }
    Err(why) => assert!(why.len() > 20),
});
