//! Commands that begin or go on with a dressing. Owns finding it; the work is the
//! terminal's and the journal's.

use super::after::After;
use super::args::Args;
use super::facts::method_of;
use super::files::{plan_of, shown};
use super::form::Led;
use super::{Failure, Out, done};
use crate::dressing::{Ask, Dressing};
use crate::journal::earlier::notes_for;
use crate::journal::folder::{self, Asked, Choice};
use crate::journal::keep::{Keep, NotDone};
use crate::journal::kept::{ENTRY, Keeper, LoadError, Start};
use crate::journal::{Disk, Listed, OpenError, RealDisk, Standing};
use crate::method::{Method, StepId};
use crate::plan::{Figures, Problem, Side, Spec, work_out};
use crate::terminal::driver::Clock;
use crate::terminal::lines;
use crate::terminal::saving::{PATIENCE, Saving, Watched};
use crate::words;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

/// Files of this beginning are examples: going on with one works on a copy.
pub(super) const EXAMPLE: &str = "example-";

pub(super) fn disk() -> Arc<dyn Disk> {
    Arc::new(RealDisk)
}

/// The folder of the dressings.
///
/// # Errors
/// There is none to be had.
pub fn folder_of(args: &Args) -> Result<Choice, Failure> {
    let variable = std::env::var_os(folder::VARIABLE);
    let here = std::env::current_dir().ok();
    let data = folder::data_folder();
    folder::choose(&Asked {
        option: args.sessions.as_deref(),
        variable: variable.as_deref(),
        here: here.as_deref(),
        settings: args.settings.settings.folder.as_deref(),
        data: data.as_deref(),
    })
    .map_err(|none| Failure::refused(format!("{none}.")))
}

/// What `new` was given.
#[derive(Default)]
pub struct Wanted<'a> {
    /// The plan or draft; without one the form begins empty, or where it was left.
    pub plan: Option<&'a Path>,
    /// Whose dressing it is.
    pub owner: Option<&'a str>,
    /// The loom card to put it on.
    pub loom: Option<&'a str>,
    /// The dressing that this one comes after.
    pub after: Option<After<'a>>,
    /// The edge where thread 1 of a draft lies.
    pub thread_one: Option<Side>,
}

/// `new [PLAN]`.
///
/// # Errors
/// What is wrong with the plan or the folder; nothing was written.
pub fn new(args: &Args, wanted: &Wanted, out: &mut Out) -> Result<ExitCode, Failure> {
    let method = method_of(args.method.as_deref())?;
    let choice = folder_of(args)?;
    let after = wanted.after.as_ref();
    let after = after.map(|after| after.plan(args, out)).transpose()?;
    let (known, notes) = after.unzip();
    let (led, figures) = wanted_figures(args, (wanted, known), &choice, out)?;
    let Some(figures) = figures else {
        return done();
    };
    let plan = figures.plan().ok_or_else(|| {
        Failure::problems(
            wanted.plan.unwrap_or(Path::new("the plan")),
            &figures.problems,
        )
    })?;
    choice.make().map_err(|error| {
        Failure::refused(format!(
            "The folder {} cannot be made: {error}. Name another with --sessions.",
            shown(&choice.folder)
        ))
    })?;
    let clock = Clock::default();
    let start = Start {
        spec: &figures.spec,
        plan,
        method: method.fingerprint(),
        left_out: left_out(&method),
        owner: wanted.owner.map(crate::quantity::harmless),
    };
    let disk = disk();
    let notes = notes.unwrap_or_else(|| {
        let owner = start.owner.as_deref();
        notes_for(&disk, &choice.folder, start.spec, owner)
    });
    let (rights, when) = (choice.rights(), clock.when());
    let begun = (start, notes.as_slice());
    let mut keeper = Keeper::create_with_notes(&disk, &choice.folder, rights, begun, when)
        .map_err(|error| Failure::refused(sentence(&error)))?;
    if let Some(says) = words::note_words::come_along(notes.len()) {
        out.notice(&says);
    }
    led.iter().for_each(Led::finished);
    for remark in &figures.remarks {
        out.notice(&format!("Remark: {remark}"));
    }
    if !super::screen::is_wanted(args) {
        out.notice(&format!("Saved in {}", shown(keeper.journal().path())));
    }
    dress(args, &mut keeper, &method, clock)
}

/// The plan that is wanted, through the form where something is missing; no figures where the form
/// was left half-way.
fn wanted_figures(
    args: &Args,
    (wanted, known): (&Wanted, Option<Spec>),
    choice: &Choice,
    out: &mut Out,
) -> Result<(Option<Led>, Option<Figures>), Failure> {
    let through = |known: Option<&Spec>, out: &mut Out| {
        let mut led = super::form::fill_in(args, &choice.folder, known, wanted.loom, out)?;
        let figures = led.figures.take();
        Ok((Some(led), figures))
    };
    let through_all = wanted.after.as_ref().is_some_and(|after| !after.is_whole());
    let (mut spec, said) = match (known, wanted.plan) {
        (Some(spec), _) => (spec, Vec::new()),
        (None, Some(file)) => super::files::spec_of(file, wanted.thread_one)?,
        (None, None) => return through(None, out),
    };
    for line in said {
        out.notice(&line);
    }
    let card = wanted
        .loom
        .map(|name| super::form::card_of(&choice.folder, name));
    if let Some(card) = card.transpose()? {
        card.put_into(&mut spec);
    }
    let figures = work_out(&spec);
    let missing = |problem: &Problem| matches!(problem, Problem::Missing { .. });
    if through_all || !figures.problems.is_empty() && figures.problems.iter().all(missing) {
        return through(Some(&spec), out);
    }
    Ok((None, Some(figures)))
}

/// `loom NAME --from PLAN`.
///
/// # Errors
/// What is wrong with the plan, or the card cannot be written.
pub fn loom(args: &Args, name: &str, from: &Path, out: &mut Out) -> Result<ExitCode, Failure> {
    let (figures, _) = plan_of(from)?;
    let choice = folder_of(args)?;
    let path = super::form::keep_card(&choice.folder, name, &figures.spec)?;
    out.text(&format!(
        "The loom is kept in {}. Put a plan on it with: endsmeet new PLAN --loom {}",
        shown(&path),
        crate::journal::file_stem(name)
    ));
    done()
}

/// Optional steps that the house leaves out.
fn left_out(method: &Method) -> Vec<StepId> {
    let steps = method.steps();
    steps
        .filter(|step| step.skipped)
        .map(|step| step.id)
        .collect()
}

/// `resume [NAME]`.
///
/// # Errors
/// Why it cannot be gone on with.
pub fn resume(
    args: &Args,
    name: Option<&str>,
    salvage: bool,
    out: &mut Out,
) -> Result<ExitCode, Failure> {
    let method = method_of(args.method.as_deref())?;
    let path = find(args, name)?;
    if salvage {
        return super::opened::save_clean_part(&path, &folder_of(args)?, out);
    }
    let path = own_copy(args, path, out)?;
    let clock = Clock::default();
    let loaded = Keeper::load_to_work(&disk(), &path).map_err(|error| not_loaded(&error))?;
    super::opened::tell(&loaded, &path, name.is_some(), out)?;
    let mut keeper = loaded.keeper;
    if let Some(line) = words::status::stopped(keeper.dressing().about().last_work) {
        out.notice(&line);
    }
    keeper
        .ask(&Ask::Opened, clock.when())
        .map_err(|error| match error {
            NotDone::NotSaved(why) => Failure::refused(why),
            NotDone::Refused(refusal) => {
                Failure::refused(words::refusals::refusal(&refusal, &method))
            }
        })?;
    dress(args, &mut keeper, &method, clock)
}

/// An example is gone on with in a copy, so that it stays one.
fn own_copy(args: &Args, path: PathBuf, out: &mut Out) -> Result<PathBuf, Failure> {
    let stem = path
        .file_stem()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned();
    let Some(own) = stem.strip_prefix(EXAMPLE) else {
        return Ok(path);
    };
    let choice = folder_of(args)?;
    let copy = crate::journal::copy_as(
        &RealDisk,
        &path,
        &choice.folder,
        choice.rights(),
        &[ENTRY],
        own,
    )
    .map_err(|error| Failure::refused(sentence(&error)))?;
    out.notice(&format!(
        "The example stays as it is; this is a copy: {}",
        shown(&copy)
    ));
    Ok(copy)
}

/// The dressing of that name, else the last one worked on that is no example, else the last one.
pub(super) fn find(args: &Args, name: Option<&str>) -> Result<PathBuf, Failure> {
    let choice = folder_of(args)?;
    if let Some(name) = name {
        return named(&choice.folder, name);
    }
    let listed = listed(&choice)?;
    let open = |item: &&Listed| matches!(item.standing, Standing::Dressing { .. });
    let own = listed
        .iter()
        .filter(open)
        .find(|item| !item.stem.starts_with(EXAMPLE));
    own.or_else(|| listed.iter().find(open))
        .map(|item| item.path.clone())
        .ok_or_else(|| {
            Failure::refused(format!(
                "There is no dressing in {}. Begin one with: endsmeet new",
                shown(&choice.folder)
            ))
        })
}

pub(super) fn listed(choice: &Choice) -> Result<Vec<Listed>, Failure> {
    if !choice.folder.exists() {
        return Ok(Vec::new());
    }
    crate::journal::list(&RealDisk, &choice.folder).map_err(|error| {
        Failure::refused(format!(
            "The folder {} cannot be read: {error}. Check who may read it.",
            shown(&choice.folder)
        ))
    })
}

/// A name as it is listed, a title, or the path of a file.
fn named(folder: &Path, name: &str) -> Result<PathBuf, Failure> {
    let file = folder.join(format!("{name}.{}", crate::journal::EXTENSION));
    let plain = !name.contains(['/', '\\']) && name != "..";
    if plain && file.exists() {
        return Ok(file);
    }
    let path = PathBuf::from(name);
    if path.is_file() {
        return Ok(path);
    }
    let stem = crate::journal::file_stem(name);
    let titled = folder.join(format!("{stem}.{}", crate::journal::EXTENSION));
    if plain && titled.exists() {
        return Ok(titled);
    }
    Err(Failure::refused(format!(
        "There is no dressing {} in {}. {}",
        crate::quantity::harmless(name),
        shown(folder),
        there(folder)
    )))
}

/// Which dressings there are, the last one worked on first; at most these many are named.
fn there(folder: &Path) -> String {
    const NAMED: usize = 5;
    let listed = crate::journal::list(&RealDisk, folder).unwrap_or_default();
    // a file may have been put there under any name
    let names = listed
        .iter()
        .map(|item| crate::quantity::harmless(&item.stem));
    let names: Vec<String> = names.collect();
    match names.len() {
        0 => "Begin one with: endsmeet new".to_owned(),
        n if n <= NAMED => format!("There are: {}.", names.join(", ")),
        n => format!(
            "There are {n}, the last of them: {}.",
            names[..NAMED].join(", ")
        ),
    }
}

pub(super) fn not_loaded(error: &LoadError) -> Failure {
    let says = sentence(error);
    match error {
        LoadError::Open(OpenError::InUse { .. }) => Failure::in_use(says),
        LoadError::Open(_) | LoadError::Plan(_) => Failure::refused(says),
    }
}

/// An error's words as a sentence.
pub(super) fn sentence(error: &impl ToString) -> String {
    let text = error.to_string();
    let mut chars = text.chars();
    let text: String = chars
        .next()
        .map(|first| first.to_uppercase().chain(chars).collect())
        .unwrap_or_default();
    format!("{}.", text.trim_end_matches('.'))
}

/// What the slip's file ends in, beside the dressing's.
const SLIP: &str = "slip.txt";

/// Leads on until she leaves: on the full screen where there is one, else in lines.
fn dress(
    args: &Args,
    keeper: &mut Keeper,
    method: &Method,
    clock: Clock,
) -> Result<ExitCode, Failure> {
    let slip = keeper.journal().path().with_extension(SLIP);
    let mut slips = |dressing: &Dressing| super::paper::keep_slip(&slip, dressing, method);
    let ended = if super::screen::is_wanted(args) {
        super::screen::sit(args, keeper, method, clock, Some(Box::new(slips)))
    } else {
        let (mut input, mut output) = (io::stdin().lock(), io::stdout().lock());
        let mut now = || clock.when();
        let _awake = super::awake::KeptAwake::start(&args.settings.settings.keep_awake);
        let mut voice = super::speech::voice(args);
        let told = || {
            // nobody to be told where there is no standard error
            let _ = writeln!(io::stderr(), "{}", words::lines::SAVING);
        };
        let mut keeper = Watched::new(keeper, Saving::watch(PATIENCE, told));
        lines::run_with_slips(
            &mut keeper,
            method,
            (&mut input, &mut output),
            &mut now,
            &mut |said| super::speech::say(&mut voice, said),
            &mut slips,
        )
        .map(drop)
    };
    ended.map_err(|error| {
        Failure::refused(format!(
            "The terminal could not be read or written any more: {error}. Everything pressed so far is saved."
        ))
    })?;
    Ok(ExitCode::from(open_code(keeper.dressing())))
}

/// 3 where a mismatch is open or a check was passed over, else 0.
pub(super) fn open_code(dressing: &Dressing) -> u8 {
    let about = dressing.about();
    if about.mismatch_open || about.left_open > 0 {
        3
    } else {
        0
    }
}
