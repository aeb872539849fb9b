//! Where dressings live. Owns the order in which folders are thought of; what the environment says
//! is handed in, so that the choice can be tested and told.

use super::disk::Rights;
use std::ffi::OsStr;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The environment's name for the folder.
pub const VARIABLE: &str = "ENDSMEET_SESSIONS";
/// The folder's name under the current one and in the user's data folder.
pub const NAME: &str = "sessions";

/// What the choice depends on.
#[derive(Debug, Clone, Copy, Default)]
pub struct Asked<'a> {
    /// What `--sessions` says.
    pub option: Option<&'a Path>,
    /// What the environment says.
    pub variable: Option<&'a OsStr>,
    /// The current folder.
    pub here: Option<&'a Path>,
    /// What the user's settings say.
    pub settings: Option<&'a Path>,
    /// The user's data folder, `None` where the user has no home.
    pub data: Option<&'a Path>,
}

/// Why a folder was thought of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// `--sessions` names it.
    Option,
    /// `$ENDSMEET_SESSIONS` names it.
    Variable,
    /// It is called `sessions` and stands in the current folder.
    Here,
    /// The user's settings name it.
    Settings,
    /// It is in the user's data folder.
    Data,
}

/// The folder, and where else it could have been.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// The folder; it may not be there yet.
    pub folder: PathBuf,
    /// Why this one.
    pub why: Why,
    /// The others, in the order in which they are thought of; `None` where nothing names one.
    pub others: Vec<(Why, Option<PathBuf>)>,
}

/// There is no folder to use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error(
    "there is no folder for dressings: neither --sessions nor ${VARIABLE} names one, no folder \
     {NAME} stands here, and this user has no data folder. Make a folder {NAME} here, or name one \
     with --sessions"
)]
pub struct NoFolder;

impl Choice {
    /// Who may read new files there.
    #[must_use]
    pub fn rights(&self) -> Rights {
        match self.why {
            Why::Data => Rights::OwnerOnly,
            Why::Option | Why::Variable | Why::Here | Why::Settings => Rights::Umask,
        }
    }

    /// Makes the folder where it is not there yet.
    ///
    /// # Errors
    /// What the system says.
    pub fn make(&self) -> io::Result<()> {
        if self.folder.is_dir() {
            return Ok(());
        }
        make(&self.folder, self.rights())?;
        // The new names on the way must outlast a power cut as the files in them do.
        let new = self.folder.ancestors().skip(1);
        for parent in new.take_while(|parent| !parent.as_os_str().is_empty()) {
            if super::Disk::sync_folder(&super::RealDisk, parent).is_err() {
                break;
            }
        }
        Ok(())
    }
}

#[cfg(unix)]
fn make(folder: &Path, rights: Rights) -> io::Result<()> {
    use std::os::unix::fs::DirBuilderExt;
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    if rights == Rights::OwnerOnly {
        builder.mode(0o700);
    }
    builder.create(folder)
}

#[cfg(not(unix))]
fn make(folder: &Path, _rights: Rights) -> io::Result<()> {
    fs::create_dir_all(folder)
}

/// The folder: `--sessions`, else the environment's, else `./sessions` where that is there, else
/// the one of the user's settings, else the user's data folder. Empty names count as none.
///
/// # Errors
/// There is none of these.
pub fn choose(asked: &Asked<'_>) -> Result<Choice, NoFolder> {
    let named = |name: &OsStr| (!name.is_empty()).then(|| PathBuf::from(name));
    let all = [
        (
            Why::Option,
            asked.option.and_then(|path| named(path.as_os_str())),
        ),
        (Why::Variable, asked.variable.and_then(named)),
        (Why::Here, asked.here.map(|here| here.join(NAME))),
        (
            Why::Settings,
            asked.settings.and_then(|path| named(path.as_os_str())),
        ),
        (
            Why::Data,
            asked.data.map(|data| data.join("endsmeet").join(NAME)),
        ),
    ];
    let fits = |(why, path): &(Why, Option<PathBuf>)| match (why, path) {
        (Why::Here, Some(path)) => path.is_dir(),
        (_, path) => path.is_some(),
    };
    let chosen = all.iter().position(fits).ok_or(NoFolder)?;
    let mut others = Vec::from(all);
    match others.remove(chosen) {
        (why, Some(folder)) => Ok(Choice {
            folder,
            why,
            others,
        }),
        (_, None) => Err(NoFolder),
    }
}

/// The user's data folder by this system's habit; `None` where the user has no home.
#[must_use]
pub fn data_folder() -> Option<PathBuf> {
    use etcetera::BaseStrategy;
    let strategy = etcetera::base_strategy::choose_native_strategy().ok()?;
    Some(strategy.data_dir())
}
