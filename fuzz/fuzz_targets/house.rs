//! A house's own wording of any text over the built-in method, and a whole method of any text.
#![no_main]

use endsmeet::method::Method;
use libfuzzer_sys::fuzz_target;
use std::sync::OnceLock;

static BASE: OnceLock<Method> = OnceLock::new();

fuzz_target!(|text: &str| {
    let base = BASE.get_or_init(Method::embedded);
    match Method::house(base, text) {
        Ok(method) => assert!(!method.name().is_empty()),
        Err(faults) => {
            assert!(!faults.is_empty());
            assert!(faults.iter().all(|f| f.to_string().len() > 10));
        }
    }
    if let Err(faults) = Method::parse(text) {
        assert!(!faults.is_empty());
        assert!(faults.iter().all(|f| f.to_string().len() > 10));
    }
});
