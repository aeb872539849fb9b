//! A draft file (WIF) of any bytes: read, made a plan, worked out, and written again.
#![no_main]

use endsmeet::plan::form::Form;
use endsmeet::plan::wif::{read_wif, spec_of_wif, write_wif};
use endsmeet::plan::{Side, work_out};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let (wif, _) = match read_wif(bytes) {
        Ok(read) => read,
        Err(fault) => {
            assert!(fault.to_string().len() > 20);
            return;
        }
    };
    let (again, _) = read_wif(write_wif(&wif).as_bytes()).expect("what was written reads");
    assert_eq!(again.threading, wif.threading);
    match spec_of_wif(&wif, Side::Left) {
        Ok((mut spec, remarks)) => {
            assert!(remarks.iter().all(|r| r.to_string().len() > 10));
            spec.title = Some("draft".into());
            let figures = work_out(&spec);
            assert!(figures.plan().is_some() || !figures.problems.is_empty());
            let form = Form::of_spec(&spec);
            assert_eq!(form.spec().map(|s| s.threading), Ok(spec.threading));
        }
        Err(fault) => assert!(fault.to_string().len() > 20),
    }
});
