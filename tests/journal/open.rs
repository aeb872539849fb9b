//! Two windows, files that change under us, copies beside the file, the listing of a folder.

use super::mem::MemDisk;
use super::{KNOWN, add, begin, expected, file, folder, go_on, told, whole};
use endsmeet::journal::{
    Access, AppendError, Beside, Changed, Disk, FILE_LIMIT, Journal, OpenError, ReadOnly, Relation,
    Standing, State, list,
};
use std::path::PathBuf;
use std::sync::Arc;

fn disk() -> (MemDisk, Arc<dyn Disk>) {
    let memory = MemDisk::new(1);
    (memory.clone(), Arc::new(memory))
}

#[test]
fn a_new_dressing_is_read_back_as_it_was_written() {
    let (_, disk) = disk();
    let mut journal = begin(&disk, &folder()).unwrap();
    assert_eq!(journal.path(), file());
    (1..=3).for_each(|n| add(&mut journal, n).unwrap());
    drop(journal);
    let opened = go_on(&disk, &file()).unwrap();
    assert_eq!(
        (&opened.state, opened.no_lock.as_deref()),
        (&State::Clean, None)
    );
    assert_eq!(opened.header.title, "Hall runner");
    assert_eq!(opened.header.plan, r#"{"ends":277,"sett":"20"}"#);
    assert_eq!(opened.header.began, super::stamp(0));
    assert_eq!(told(&opened), expected(3));
    let second = opened.lines.iter().nth(1).unwrap();
    assert_eq!(
        (second.number, second.kind, second.stamp),
        (2, "entry", super::stamp(2_000))
    );
}

#[test]
fn a_second_window_is_refused_or_reads_only() {
    let (memory, disk) = disk();
    let mut first = begin(&disk, &folder()).unwrap();
    add(&mut first, 1).unwrap();
    assert_eq!(
        go_on(&disk, &file()).unwrap_err(),
        OpenError::InUse { path: file() }
    );
    let mut second = Journal::open(&disk, &file(), Access::ReadOnly, KNOWN).unwrap();
    assert_eq!(
        (&second.state, told(&second)),
        (&State::ReadOnly(ReadOnly::Asked), expected(1))
    );
    assert_eq!(
        add(&mut second.journal, 2),
        Err(AppendError::ReadOnly(ReadOnly::Asked))
    );
    add(&mut first, 2).unwrap();
    memory.kill();
    assert_eq!(
        told(&go_on(&disk, &file()).unwrap()),
        expected(2),
        "a killed window holds no lock"
    );
}

#[test]
fn a_reader_beside_the_writer_leaves_half_a_line_alone() {
    let (memory, disk) = disk();
    let _first = begin(&disk, &folder()).unwrap();
    memory.grow(&file(), b"{\"c\":\"0");
    let torn = memory.bytes(&file()).unwrap();
    let second = Journal::open(&disk, &file(), Access::ReadOnly, KNOWN).unwrap();
    assert_eq!(second.state, State::ReadOnly(ReadOnly::Asked));
    assert_eq!(
        (memory.bytes(&file()).unwrap(), memory.names()),
        (torn, vec![file()])
    );
}

#[test]
fn a_file_that_is_appended_to_replaced_or_removed_under_us_is_not_written_to() {
    let size = whole(1).len() as u64;
    let grow: fn(&MemDisk) = |memory| memory.grow(&file(), b"x");
    let replace: fn(&MemDisk) = |memory| memory.put(&file(), &whole(3));
    let remove: fn(&MemDisk) = |memory| memory.remove(&file()).unwrap();
    let cases = [
        (
            grow,
            Changed::Size {
                found: size + 1,
                expected: size,
            },
        ),
        (replace, Changed::Replaced),
        (remove, Changed::Gone),
    ];
    for (change, how) in cases {
        let (memory, disk) = disk();
        let mut journal = begin(&disk, &folder()).unwrap();
        add(&mut journal, 1).unwrap();
        change(&memory);
        let left = memory.bytes(&file());
        for _ in 0..2 {
            let refused = add(&mut journal, 2);
            assert_eq!(refused, Err(AppendError::ReadOnly(ReadOnly::Changed(how))));
        }
        assert_eq!(memory.bytes(&file()), left);
    }
}

#[test]
fn copies_of_the_same_dressing_beside_it_are_told_apart() {
    let (memory, disk) = disk();
    let bytes = whole(4);
    let first = bytes
        .split_inclusive(|&b| b == b'\n')
        .take(3)
        .collect::<Vec<_>>()
        .concat();
    memory.put(&file(), &first);
    let at = |name: &str| folder().join(name);
    memory.put(&at("hall-runner (copy of Tuesday).jsonl"), &bytes);
    memory.put(&at("hall-runner.same.jsonl"), &first);
    memory.put(&at("hall-runner-2.jsonl"), &whole(9));
    memory.put(&at("hall-runner.notes.txt"), b"warp the other one first");
    let mut opened = go_on(&disk, &file()).unwrap();
    let beside = |name: &str, relation| Beside {
        path: at(name),
        relation,
    };
    assert_eq!(
        opened.beside,
        [
            beside("hall-runner (copy of Tuesday).jsonl", Relation::Longer),
            beside("hall-runner.same.jsonl", Relation::Same),
        ]
    );
    add(&mut opened.journal, 9).unwrap();
    drop(opened);
    let opened = go_on(&disk, &file()).unwrap();
    assert_eq!(
        opened.beside,
        [
            beside(
                "hall-runner (copy of Tuesday).jsonl",
                Relation::Differs { at_line: 4 }
            ),
            beside("hall-runner.same.jsonl", Relation::Shorter),
        ]
    );
}

#[test]
fn a_name_that_is_taken_is_not_taken_away() {
    let (memory, disk) = disk();
    memory.put(&file(), b"something else");
    let second = begin(&disk, &folder()).unwrap();
    assert_eq!(second.path(), folder().join("hall-runner-2.jsonl"));
    let third = begin(&disk, &folder()).unwrap();
    assert_eq!(third.path(), folder().join("hall-runner-3.jsonl"));
    assert_eq!(memory.bytes(&file()).unwrap(), b"something else");
}

#[test]
fn a_folder_is_listed_whatever_lies_in_it() {
    let (memory, disk) = disk();
    let mut runner = begin(&disk, &folder()).unwrap();
    (1..=2).for_each(|n| add(&mut runner, n).unwrap());
    memory.grow(runner.path(), b"{\"c\":\"torn");
    for (name, bytes) in [
        ("empty.jsonl", &b""[..]),
        ("noise.jsonl", b"\x00\xFF\n\n"),
        (".hall-runner.new-12", b"half"),
        ("hall-runner.jsonl.torn-1", b"half"),
        ("README.txt", b"read me"),
    ] {
        memory.put(&folder().join(name), bytes);
    }
    let listed = list(disk.as_ref(), &folder()).unwrap();
    let stems: Vec<_> = listed.iter().map(|listed| listed.stem.as_str()).collect();
    assert_eq!(stems, ["hall-runner", "empty", "noise"]);
    let Standing::Dressing {
        header,
        last,
        lines,
    } = &listed[0].standing
    else {
        panic!("{:?}", listed[0]);
    };
    assert_eq!(
        (header.title.as_str(), *last, *lines),
        ("Hall runner", super::stamp(2_000), 2)
    );
    let empty = OpenError::Empty {
        path: folder().join("empty.jsonl"),
    };
    assert_eq!(listed[1].standing, Standing::Unreadable(empty));
}

#[test]
fn what_cannot_be_opened_says_what_was_found_and_what_to_do() {
    let (memory, disk) = disk();
    let path = PathBuf::from("/sessions/\u{1b}[2J\u{202e}runner.jsonl");
    let says = go_on(&disk, &path).unwrap_err().to_string();
    assert_eq!(
        says,
        "there is no file /sessions/[2Jrunner.jsonl; expected a dressing there. Check the name and the folder"
    );
    memory.put(&file(), b"");
    assert_eq!(
        go_on(&disk, &file()).unwrap_err().to_string(),
        "/sessions/hall-runner.jsonl is empty; expected a dressing there. Take it back from a copy, or \
         remove it and begin anew"
    );
    memory.fail_in(3, false, 5);
    memory.put(&file(), &whole(1));
    let says = go_on(&disk, &file());
    assert!(
        says.is_ok(),
        "a disk whose lock fails is a disk without locks: {says:?}"
    );
    assert!(says.unwrap().no_lock.is_some());
    memory.fail_in(6, false, 5);
    let refused = go_on(&disk, &file()).unwrap_err();
    assert!(
        matches!(refused, OpenError::CannotRead { .. }),
        "a read error is no fresh start"
    );
}

#[test]
fn a_copy_is_looked_into_by_its_name_and_up_to_the_size_that_a_dressing_may_have() {
    let (memory, disk) = disk();
    let bytes = whole(2);
    memory.put(&file(), &bytes);
    let at = |name: &str| folder().join(name);
    memory.put(&at("towel.jsonl"), &bytes);
    let grown = |size: u64| {
        let mut copy = bytes.clone();
        copy.resize(size as usize, b'x');
        copy
    };
    memory.put(&at("hall-runner-large.jsonl"), &grown(FILE_LIMIT));
    memory.put(&at("hall-runner-too-large.jsonl"), &grown(FILE_LIMIT + 1));
    let opened = go_on(&disk, &file()).unwrap();
    let names: Vec<_> = opened.beside.iter().map(|copy| copy.path.clone()).collect();
    assert_eq!(names, [at("hall-runner-large.jsonl")]);
}
