//! Tests of the settings.

use super::load::{file, load, pairs};
use super::*;
use std::path::Path;

fn from(text: &str) -> load::Loaded {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("settings.toml");
    std::fs::write(&path, text).unwrap();
    let mut loaded = load(Some(path.clone()), &[]).unwrap();
    for warning in &mut loaded.warnings {
        *warning = warning.replace(&path.display().to_string(), "FILE");
    }
    loaded
}

fn pair(key: &str, value: &str) -> Pair {
    Pair {
        key: key.to_owned(),
        value: value.to_owned(),
    }
}

#[test]
fn there_are_at_most_twenty_settings_and_no_two_of_a_name() {
    let names: std::collections::BTreeSet<&str> = ROWS.iter().map(|row| row.key).collect();
    assert!(names.len() == ROWS.len() && ROWS.len() <= 20);
}

#[test]
fn every_setting_is_usually_what_the_table_says() {
    let mut settings = Settings::default();
    for row in &ROWS {
        assert_eq!((row.now)(&settings), row.usual, "{}", row.key);
        assert_eq!(set(&mut settings, &pair(row.key, row.usual)), Ok(()));
    }
    assert_eq!(settings, Settings::default());
}

#[test]
fn the_commented_file_says_nothing_until_a_line_is_uncommented() {
    let text = template();
    assert_eq!(pairs(&text), Ok(Vec::new()));
    assert_eq!(from(&text).settings, Settings::default());
    // and uncommented it says what holds anyway
    let all: String = ROWS
        .iter()
        .fold(text.clone(), |text, row| edit::with(&text, row, row.usual));
    let loaded = from(&all);
    assert_eq!(loaded.warnings, Vec::<String>::new());
    assert_eq!(pairs(&all).unwrap().len(), ROWS.len());
    assert_eq!(loaded.settings, Settings::default());
}

#[test]
fn a_file_sets_what_it_names() {
    let loaded = from(
        "# mine\nsay = \"calls\"\nspeed = 220\nlit_seconds = 1.5\nflash = \"off\"\n\npedal = 'F13'\nkeep_awake = \"caffeinate -d\" # the Mac\n",
    );
    assert_eq!(loaded.warnings, Vec::<String>::new());
    let settings = loaded.settings;
    assert_eq!(settings.say, Much::Calls);
    assert_eq!(settings.speed, 220);
    assert_eq!(settings.hand.lit.as_millis(), 1500);
    assert_eq!(settings.hand.pedal, Some(crate::hand::Key::F(13)));
    assert_eq!(settings.signals.flash, crate::terminal::signal::For::Off);
    assert_eq!(
        settings.keep_awake,
        Awake::Command("caffeinate -d".to_owned())
    );
}

#[test]
fn an_unknown_name_is_warned_of_with_the_nearest_one() {
    let loaded = from("sped = 200\nspeed = 200\n");
    assert_eq!(
        loaded.warnings,
        ["FILE, line 1: There is no setting sped; did you mean speed?"]
    );
    assert_eq!(loaded.settings.speed, 200, "the rest holds");
    let far = &from("horsefeathers = 1\n").warnings[0];
    assert!(
        far.starts_with("FILE, line 1: There is no setting horsefeathers. There are: say, speed,")
    );
}

#[test]
fn a_bad_value_is_named_with_what_would_do() {
    let loaded = from("\n\nspeed = 9000\nopens = \"twice\"\nflash = 3\n[hand]\nhold_ms = 5\n");
    assert_eq!(
        loaded.warnings[..3],
        [
            "FILE, line 3: speed is \"9000\"; what would do: a whole number from 80 to 450.",
            "FILE, line 4: opens is \"twice\"; what would do: hold or triple.",
            "FILE, line 5: flash is \"3\"; what would do: all, alarms (not taken, and looks) or off.",
        ]
        .map(str::to_owned)
    );
    assert!(loaded.warnings[3].starts_with("FILE, line 6: There is no setting hand. There are"));
    assert_eq!(loaded.settings, Settings::default());
}

#[test]
fn what_is_no_line_of_settings_is_shown_with_its_line() {
    let loaded = from("speed = 200\nsay = calls\n");
    assert!(
        loaded.warnings[0].starts_with("FILE, line 2: "),
        "{:?}",
        loaded.warnings
    );
    assert!(loaded.warnings[0].ends_with(
        "a line of settings is: name = value, with a text in quotes. The usual settings hold."
    ));
}

#[test]
fn the_command_line_is_stronger_than_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("s");
    std::fs::write(&path, "speed = 200\nsay = 'all'\n").unwrap();
    let loaded = load(Some(path), &[pair("speed", "300")]).unwrap();
    assert_eq!(
        (loaded.settings.speed, loaded.settings.say),
        (300, Much::All)
    );
    assert_eq!(
        load(None, &[pair("hold_ms", "1")]).unwrap_err(),
        "--hold-ms is \"1\"; what would do: a whole number from 300 to 5000."
    );
}

#[test]
fn a_file_that_is_not_there_is_no_fault_and_a_folder_is_one() {
    let folder = tempfile::tempdir().unwrap();
    let missing = load(Some(folder.path().join("none")), &[]).unwrap();
    assert_eq!((missing.read, missing.warnings.len()), (false, 0));
    let wrong = load(Some(folder.path().to_owned()), &[]).unwrap();
    assert!(wrong.warnings[0].contains("it is no file"));
}

#[test]
fn the_environment_names_the_file_else_it_is_in_the_users_folder() {
    let home = Path::new("/home/u/.config");
    let named = file(Some("/x/mine".as_ref()), Some(home));
    assert_eq!(named.as_deref(), Some(Path::new("/x/mine")));
    let usual = file(Some("".as_ref()), Some(home));
    assert_eq!(usual, Some(home.join("endsmeet/settings.toml")));
    assert_eq!(file(None, None), None);
}

#[test]
fn saving_changes_one_line_and_leaves_the_rest() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("deep/settings.toml");
    let pedal = row("pedal").unwrap();
    edit::save(&path, &[(pedal, "F13".to_owned())]).unwrap();
    let first = std::fs::read_to_string(&path).unwrap();
    assert_eq!(first, template().replace("# pedal = ''", "pedal = 'F13'"));
    edit::save(
        &path,
        &[
            (pedal, "b".to_owned()),
            (row("size").unwrap(), "2".to_owned()),
        ],
    )
    .unwrap();
    let second = std::fs::read_to_string(&path).unwrap();
    assert_eq!(
        second,
        first
            .replace("'F13'", "'b'")
            .replace("# size = 1", "size = 2")
    );
    let loaded = load(Some(path), &[]).unwrap();
    assert_eq!(
        loaded.settings.hand.pedal,
        Some(crate::hand::Key::Char('b'))
    );
    assert_eq!(loaded.warnings, Vec::<String>::new());
}

#[test]
fn any_text_survives_the_file() {
    for value in ["a b", "it's", "C:\\voice.exe", "\"q\" 'r'", ""] {
        let text = edit::with("", row("voice").unwrap(), value);
        assert_eq!(from(&text).settings.voice, value, "{text}");
    }
}
