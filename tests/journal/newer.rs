//! Files of a version to come, fixed for ever: what this version does not know ends the reading with
//! one sentence, and is never called damage; what it may pass over it passes over, and keeps.

use super::common::at;
use super::mem::MemDisk;
use endsmeet::dressing::{Ask, Dressing};
use endsmeet::journal::keep::{Keep, NotDone};
use endsmeet::journal::kept::{ENTRY, Keeper, Loaded};
use endsmeet::journal::{Access, Disk, Rights, State, salvage};
use std::path::Path;
use std::sync::Arc;

const NAME: &str = "/sessions/small.jsonl";
/// Entries before the odd line, which is line 32: the header is line 1.
const BEFORE: u64 = 30;

fn frozen(name: &str) -> (MemDisk, Arc<dyn Disk>, Vec<u8>) {
    let bytes = std::fs::read(format!("tests/frozen/{name}.jsonl")).unwrap();
    let memory = MemDisk::new(0);
    memory.put(Path::new(NAME), &bytes);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    (memory, disk, bytes)
}

fn load(disk: &Arc<dyn Disk>) -> Loaded {
    Keeper::load(disk, Path::new(NAME), Access::GoOn).unwrap()
}

fn notes(dressing: &Dressing) -> Vec<&str> {
    let notes = dressing.record().notes.iter();
    notes.map(|note| note.text.as_str()).collect()
}

#[test]
fn what_is_not_known_was_made_by_a_newer_version_and_is_not_damaged() {
    for name in [
        "newer-event",
        "newer-event-beside-known",
        "newer-value",
        "newer-line",
        "newer-kind",
    ] {
        let (memory, disk, bytes) = frozen(name);
        let mut loaded = load(&disk);
        assert_eq!(loaded.state, State::Newer { at_line: 32 }, "{name}");
        assert_eq!(loaded.keeper.dressing().entries(), BEFORE, "{name}");
        assert_eq!(notes(loaded.keeper.dressing()), [""; 0], "{name}");
        let refused = loaded.keeper.ask(&Ask::Next, at(125_000)).unwrap_err();
        let NotDone::NotSaved(says) = refused else {
            panic!("{name}: {refused:?}")
        };
        assert!(
            says.contains(
                "line 32 was made by a newer version of endsmeet. Go on with that version; here it can be read up to the line before"
            ),
            "{name}: {says}"
        );
        assert_eq!(memory.bytes(Path::new(NAME)).unwrap(), bytes, "{name}");
    }
}

#[test]
fn what_may_be_passed_over_is_passed_over_and_kept() {
    for (name, said) in [
        ("newer-kind-optional", &["after it"][..]),
        ("newer-field", &["before it", "after it"]),
    ] {
        let (memory, disk, bytes) = frozen(name);
        let mut loaded = load(&disk);
        assert_eq!(loaded.state, State::Clean, "{name}");
        assert_eq!(notes(loaded.keeper.dressing()), said, "{name}");
        loaded.keeper.ask(&Ask::Next, at(125_000)).unwrap();
        let now = memory.bytes(Path::new(NAME)).unwrap();
        assert!(now.len() > bytes.len() && now.starts_with(&bytes), "{name}");
    }
}

#[test]
fn what_is_known_and_cannot_have_happened_is_damage() {
    let (_, disk, _) = frozen("impossible-event");
    let loaded = load(&disk);
    assert!(
        matches!(loaded.state, State::Damaged { at_line: 32, .. }),
        "{:?}",
        loaded.state
    );
    assert_eq!(loaded.keeper.dressing().entries(), BEFORE);
}

#[test]
fn the_part_before_it_can_be_gone_on_with_in_a_copy() {
    let (_, disk, _) = frozen("newer-event");
    let folder = Path::new("/sessions");
    let keep = Some(BEFORE);
    let copy = salvage(
        disk.as_ref(),
        Path::new(NAME),
        folder,
        Rights::Umask,
        &[ENTRY],
        keep,
    );
    let copy = Keeper::load(&disk, &copy.unwrap(), Access::GoOn).unwrap();
    assert_eq!(
        (copy.state, copy.keeper.dressing().entries()),
        (State::Clean, BEFORE)
    );
}
