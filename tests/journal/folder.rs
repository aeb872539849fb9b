//! Which folder is used, and that the choice says so.

use endsmeet::journal::Rights;
use endsmeet::journal::folder::{Asked, NoFolder, Why, choose};
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

#[test]
fn the_option_comes_before_the_variable_before_the_folder_here_before_the_users_own() {
    let here = tempfile::tempdir().unwrap();
    std::fs::create_dir(here.path().join("sessions")).unwrap();
    let data = Path::new("/home/w/.local/share");
    let all = Asked {
        option: Some(Path::new("/class")),
        variable: Some(OsStr::new("/shared")),
        here: Some(here.path()),
        settings: None,
        data: Some(data),
    };
    let chosen = |asked: &Asked<'_>| {
        let choice = choose(asked).unwrap();
        (choice.why, choice.folder.clone(), choice.rights())
    };
    assert_eq!(
        chosen(&all),
        (Why::Option, PathBuf::from("/class"), Rights::Umask)
    );
    let no_option = Asked {
        option: Some(Path::new("")),
        ..all
    };
    assert_eq!(
        chosen(&no_option),
        (Why::Variable, PathBuf::from("/shared"), Rights::Umask)
    );
    let no_variable = Asked {
        variable: Some(OsStr::new("")),
        ..no_option
    };
    let in_here = here.path().join("sessions");
    assert_eq!(
        chosen(&no_variable),
        (Why::Here, in_here.clone(), Rights::Umask)
    );
    std::fs::remove_dir(&in_here).unwrap();
    let own = data.join("endsmeet/sessions");
    assert_eq!(
        chosen(&no_variable),
        (Why::Data, own.clone(), Rights::OwnerOnly)
    );
    let own_settings = Asked {
        settings: Some(Path::new("/mine")),
        ..no_variable
    };
    assert_eq!(
        chosen(&own_settings),
        (Why::Settings, PathBuf::from("/mine"), Rights::Umask),
        "only where nothing nearer names one"
    );
    std::fs::write(&in_here, "a file of that name is no folder").unwrap();
    assert_eq!(chosen(&no_variable).0, Why::Data);
    let others = choose(&no_variable).unwrap().others;
    assert_eq!(
        others,
        [
            (Why::Option, None),
            (Why::Variable, None),
            (Why::Here, Some(in_here.clone())),
            (Why::Settings, None)
        ]
    );
}

#[test]
fn a_user_without_a_home_is_told_what_to_do() {
    let none = choose(&Asked::default()).unwrap_err();
    assert_eq!(none, NoFolder);
    assert_eq!(
        none.to_string(),
        "there is no folder for dressings: neither --sessions nor $ENDSMEET_SESSIONS names one, no folder \
         sessions stands here, and this user has no data folder. Make a folder sessions here, or name one \
         with --sessions"
    );
}

#[cfg(unix)]
#[test]
fn the_users_own_folder_is_made_for_its_owner_only() {
    use std::os::unix::fs::PermissionsExt;
    let data = tempfile::tempdir().unwrap();
    let asked = Asked {
        data: Some(data.path()),
        ..Asked::default()
    };
    let choice = choose(&asked).unwrap();
    choice.make().unwrap();
    choice.make().unwrap();
    let mode = choice.folder.metadata().unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o700);
}
