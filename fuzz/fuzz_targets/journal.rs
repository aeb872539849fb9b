//! The file of a dressing, of any bytes, as it lies on the disk and again with every checksum put right.
//! Whatever can be shown can be shown to the end; a file that is looked at is never changed.
#![no_main]

#[path = "../common.rs"]
mod common;

use common::{load_and_look, sealed_anew};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    load_and_look(bytes);
    load_and_look(&sealed_anew(bytes));
});
