//! The command line's words. Owns the shape; does nothing.

pub use super::arg_values::{Edge, PaperSize, SheetAs};
use super::settings::Pair;
use super::settings::load::{self, Loaded};
use clap::{Parser, Subcommand};
use std::path::PathBuf;

/// What stands below the long help, and at the end of the man page.
const BESIDE: &str = "\
Without a command: the home screen; without a terminal, where the last dressing stands.

Exit: 0 done; 1 failed or refused; 2 wrong usage; 3 a mismatch is open or a check was passed over \
(trace: not settled); 4 in use by another window.

Files: a dressing is one file in the folder of --sessions, else of $ENDSMEET_SESSIONS, else \
./sessions where that folder is there, else the one that the settings name, else your data folder \
(endsmeet/sessions in it). The settings are $ENDSMEET_SETTINGS, else endsmeet/settings.toml in your \
configuration folder. endsmeet doctor names both. Nothing is sent over a network.

A loom can hurt: its maker's manual, local rules and a qualified teacher come before this program.";

/// Dress a floor loom back to front with a companion that keeps count.
#[derive(Debug, Parser)]
#[command(name = "endsmeet", version, about, long_about = None, after_long_help = BESIDE, max_term_width = 100)]
pub struct Args {
    /// The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user's data folder
    #[arg(long, global = true, value_name = "DIR")]
    pub sessions: Option<PathBuf>,
    /// A house's own wording of the steps
    #[arg(long, global = true, value_name = "FILE")]
    pub method: Option<PathBuf>,
    /// Print facts as JSON
    #[arg(long, global = true)]
    pub json: bool,
    /// The settings' options
    #[command(flatten)]
    pub options: Options,
    /// The settings in force: the file's, then the options'
    #[arg(skip)]
    pub settings: Loaded,
    /// What to do; without it the home screen, or the status where there is no terminal
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// An option for each setting of the file; what is not given is as the file says.
#[derive(Debug, Default, clap::Args)]
#[command(next_help_heading = "Settings")]
pub struct Options {
    /// Plain lines: no full screen, no cursor movement
    #[arg(long, global = true)]
    pub line: bool,
    /// No block elements: digits and letters of reversed spaces
    #[arg(long, global = true)]
    pub ascii: bool,
    /// When to use colour: auto, always or never
    #[arg(long, global = true, value_name = "WHEN")]
    pub color: Option<String>,
    /// How much a voice says: all, calls or nothing
    #[arg(long, global = true, value_name = "HOW MUCH")]
    pub say: Option<String>,
    /// How fast the voice speaks, in words a minute (160)
    #[arg(long, global = true, value_name = "WORDS")]
    pub speed: Option<String>,
    /// The voice command; words go to its standard input, or behind -- where it ends in --
    #[arg(
        long,
        global = true,
        value_name = "COMMAND",
        allow_hyphen_values = true
    )]
    pub voice: Option<String>,
    /// For so many milliseconds after a press the same one is not taken again (700)
    #[arg(long, global = true, value_name = "MS")]
    pub guard_ms: Option<String>,
    /// And until its key was quiet for so many (150)
    #[arg(long, global = true, value_name = "MS")]
    pub quiet_ms: Option<String>,
    /// A press held for so many milliseconds opens the menu (1200)
    #[arg(long, global = true, value_name = "MS")]
    pub hold_ms: Option<String>,
    /// Each item is lit for so many seconds (2)
    #[arg(long, global = true, value_name = "SECONDS")]
    pub lit_seconds: Option<String>,
    /// What opens the menu: hold or triple
    #[arg(long, global = true, value_name = "HOW")]
    pub opens: Option<String>,
    /// Light the answers in turn, for a hand or foot with one button: true or false
    #[arg(long, global = true, value_name = "YES", num_args = 0..=1, require_equals = true, default_missing_value = "true")]
    pub one_button: Option<String>,
    /// A key that means next beside the usual ones: what the pedal sends
    #[arg(long, global = true, value_name = "KEY")]
    pub pedal: Option<String>,
    /// The smallest size of letters that you can read from the loom: 1, 2 or 3
    #[arg(long, global = true, value_name = "SIZE")]
    pub size: Option<String>,
    /// What the top and bottom rows flash for: all, alarms or off
    #[arg(long, global = true, value_name = "WHAT")]
    pub flash: Option<String>,
    /// What the bell rings for: all, alarms or off
    #[arg(long, global = true, value_name = "WHAT")]
    pub bell: Option<String>,
    /// What keeps the screen awake: off, auto or a command
    #[arg(
        long,
        global = true,
        value_name = "COMMAND",
        allow_hyphen_values = true
    )]
    pub keep_awake: Option<String>,
}

impl Options {
    /// What was given, as pairs for the table of settings.
    #[must_use]
    pub fn pairs(&self) -> Vec<Pair> {
        let yes = |given: bool| given.then(|| "true".to_owned());
        // a guard of nothing would be held up by the usual quiet time
        let quiet = self.quiet_ms.clone().or_else(|| {
            let guard: u64 = self.guard_ms.as_ref()?.parse().ok()?;
            (guard < 150).then(|| guard.to_string())
        });
        let given = [
            ("line", yes(self.line)),
            ("ascii", yes(self.ascii)),
            ("color", self.color.clone()),
            ("say", self.say.clone()),
            ("speed", self.speed.clone()),
            ("voice", self.voice.clone()),
            ("guard_ms", self.guard_ms.clone()),
            ("quiet_ms", quiet),
            ("hold_ms", self.hold_ms.clone()),
            ("lit_seconds", self.lit_seconds.clone()),
            ("opens", self.opens.clone()),
            ("one_button", self.one_button.clone()),
            ("pedal", self.pedal.clone()),
            ("size", self.size.clone()),
            ("flash", self.flash.clone()),
            ("bell", self.bell.clone()),
            ("keep_awake", self.keep_awake.clone()),
        ];
        let pair = |(key, value): (&str, Option<String>)| {
            value.map(|value| Pair {
                key: key.to_owned(),
                value,
            })
        };
        given.into_iter().filter_map(pair).collect()
    }
}

impl Args {
    /// Puts the settings together.
    ///
    /// # Errors
    /// The sentence about the first option that does not do.
    pub fn settle(&mut self) -> Result<(), String> {
        let variable = std::env::var_os(load::VARIABLE);
        let folder = load::configuration_folder();
        let file = load::file(variable.as_deref(), folder.as_deref());
        self.settings = load::load(file, &self.options.pairs())?;
        if self.method.is_none() {
            self.method.clone_from(&self.settings.settings.method);
        }
        Ok(())
    }
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// A new dressing from a plan
    New {
        /// The plan (JSON) or draft (WIF)
        plan: Option<PathBuf>,
        /// Whose dressing it is
        #[arg(long = "for", value_name = "NAME")]
        owner: Option<String>,
        /// The loom card to put it on: its name, or its file
        #[arg(long, value_name = "CARD")]
        loom: Option<String>,
        /// The next warp after this dressing: its plan as it stands, and its notes
        #[arg(long, value_name = "NAME", conflicts_with = "plan")]
        after: Option<String>,
        /// Another yarn for it, as on the cone; of one of several, "flax=10/2 linen"
        #[arg(long, value_name = "YARN", requires = "after")]
        yarn: Option<String>,
        /// The take-up that was measured, as a share: 12%
        #[arg(long, value_name = "SHARE", requires = "after")]
        take_up: Option<String>,
        /// The edge where thread 1 of a draft lies
        #[arg(long, value_enum, value_name = "EDGE")]
        thread_one: Option<Edge>,
    },
    /// Go on with a dressing: the named one, else the last
    Resume {
        /// Its name: the file's name without its ending
        name: Option<String>,
        /// Save the clean part of a damaged one as a copy, and stop
        #[arg(long)]
        salvage: bool,
    },
    /// A small warp on which things go wrong, to learn the program in a few minutes
    Practice,
    /// Every figure of a plan
    Plan {
        /// The plan (JSON) or draft (WIF)
        file: PathBuf,
        /// The edge where thread 1 of a draft lies
        #[arg(long, value_enum, value_name = "EDGE")]
        thread_one: Option<Edge>,
    },
    /// Keep the loom of a plan as a card, to be used for other plans
    Loom {
        /// The card's name
        name: String,
        /// The plan that the loom stands in
        #[arg(long, value_name = "PLAN")]
        from: PathBuf,
    },
    /// The sley order for a sett in a reed, and what other reeds would give
    Sley {
        /// Ends per inch (per cm with --per-10cm: per 10 cm)
        #[arg(long)]
        sett: String,
        /// Dents per inch (per 10 cm with --per-10cm)
        #[arg(long)]
        reed: String,
        /// Both numbers are per 10 cm
        #[arg(long)]
        per_10cm: bool,
    },
    /// A yarn in every numbering system
    Yarn {
        /// As on the cone, for example "8/2 cotton"
        yarn: String,
    },
    /// From a miscount to its place, without a screen
    #[command(allow_negative_numbers = true)]
    Trace {
        /// The plan (JSON) or draft (WIF)
        plan: PathBuf,
        /// The batch's number
        #[arg(long)]
        batch: u32,
        /// Calls made of it; all by default
        #[arg(long)]
        calls: Option<u32>,
        /// Counted-out ends left; negative: too few
        #[arg(long, allow_hyphen_values = true)]
        ends_left: i64,
        /// Counted-out heddles left on each shaft, as 0,1,0,-1
        #[arg(long, allow_hyphen_values = true, value_delimiter = ',')]
        heddles_left: Vec<i64>,
        /// What the looks showed
        #[command(flatten)]
        looks: LookArgs,
    },
    /// Where a dressing stands
    Status {
        /// Its name, else the last one
        name: Option<String>,
    },
    /// What happened, entry by entry; the time of each stage and group; what was caught
    Log(LogArgs),
    /// What terminal, voice, folder, clock, pedal and settings can do; pedal test, distance chart
    Doctor,
    /// Sheets for paper: of a plan, or of a dressing and where it was stopped
    Sheet(SheetArgs),
    /// The first picks as they will look, of a plan or of a dressing
    Cloth(ClothArgs),
    /// A class at a glance: every dressing of a folder, who needs help first
    Board(BoardArgs),
    /// Check the built-in method, or a house's own wording of it
    Method {
        /// The house's file
        file: Option<PathBuf>,
    },
}

/// Which part of the cloth is shown.
#[derive(Debug, clap::Args)]
pub struct ClothArgs {
    /// The plan (JSON) or draft (WIF), or the dressing's name; else the last dressing
    pub of: Option<String>,
    /// So many picks, the first at the bottom
    #[arg(long, default_value_t = 24, value_name = "PICKS", value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub picks: u32,
    /// From this end on, counted in the order of threading
    #[arg(long, default_value_t = 1, value_name = "END")]
    pub from: u32,
    /// Mark floats over more threads than this
    #[arg(long, value_name = "THREADS")]
    pub floats: Option<u32>,
    /// The other face
    #[arg(long)]
    pub back: bool,
    /// The draft: threading above, tie-up at the corner, treadling at the side
    #[arg(long)]
    pub draft: bool,
}

/// What is printed, and how.
#[derive(Debug, clap::Args)]
pub struct SheetArgs {
    /// The plan (JSON), or the dressing's name; else the last dressing
    pub of: Option<String>,
    /// Only these parts: plan, threading, sley, tie-up, wall
    #[arg(long, value_delimiter = ',')]
    pub part: Vec<String>,
    /// The slip "where I stopped" of a dressing
    #[arg(long)]
    pub slip: bool,
    /// For every dressing in the folder, one after the other, each with its weaver's name
    #[arg(long, conflicts_with_all = ["of", "picture"])]
    pub everyone: bool,
    /// The cloth as an SVG picture
    #[arg(long)]
    pub picture: bool,
    /// Plain text, a page for printing, or a table
    #[arg(long, value_enum, default_value = "text", value_name = "FORM")]
    pub r#as: SheetAs,
    /// The paper of a page for printing
    #[arg(long, value_enum, default_value = "a4", value_name = "SIZE")]
    pub paper: PaperSize,
}

/// Which log, and how.
#[derive(Debug, clap::Args)]
pub struct LogArgs {
    /// The dressing's name, else the last one
    pub name: Option<String>,
    /// The entries as comma-separated rows
    #[arg(long, conflicts_with_all = ["html", "json"])]
    pub csv: bool,
    /// A page for printing
    #[arg(long, conflicts_with = "json")]
    pub html: bool,
    /// The paper of a page for printing
    #[arg(long, value_enum, default_value = "a4")]
    pub paper: PaperSize,
}

/// Which class, and how often.
#[derive(Debug, clap::Args)]
pub struct BoardArgs {
    /// The folder that the class shares; else the folder of the dressings
    pub folder: Option<PathBuf>,
    /// Look once and end
    #[arg(long)]
    pub once: bool,
}

/// Answers to the looks of a trace; each also takes ? for "cannot tell".
#[derive(Debug, clap::Args)]
pub struct LookArgs {
    /// Which shaft holds the filled heddle of a call
    #[arg(long, value_name = "CALL=SHAFT")]
    pub seen: Vec<String>,
    /// The call whose heddle holds two ends, or none
    #[arg(long, value_name = "CALL")]
    pub double: Vec<String>,
    /// The call after which an end hangs loose, or none
    #[arg(long, value_name = "CALL")]
    pub hanging: Vec<String>,
    /// The shaft with an empty heddle among the threaded, or none
    #[arg(long, value_name = "SHAFT")]
    pub empty: Vec<String>,
    /// Ends that go through heddles in this knot
    #[arg(long, value_name = "N")]
    pub knot: Vec<String>,
    /// The call at which two neighbours rise together, or none
    #[arg(long, value_name = "CALL")]
    pub together: Vec<String>,
    /// The shafts as they stand, from the first call of the batch
    #[arg(long, value_name = "SHAFTS")]
    pub read: Vec<String>,
}
