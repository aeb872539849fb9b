//! A settings file of any text: every pair is taken, or refused in a sentence that leaves the settings
//! as they were.
#![no_main]

use endsmeet::cli::settings::{Settings, load, set};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| match load::pairs(text) {
    Ok(pairs) => {
        let mut settings = Settings::default();
        for (line, pair) in pairs {
            assert!(line >= 1 && line <= text.lines().count().max(1));
            let before = settings.clone();
            if let Err(why) = set(&mut settings, &pair) {
                assert!(why.len() > 10);
                assert_eq!(settings, before, "{why}");
            }
        }
    }
    Err(why) => assert!(why.starts_with("line ") && why.len() > 20),
});
