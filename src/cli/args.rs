//! The command line's words. Owns the shape; does nothing.

use clap::{Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Dress a floor loom back to front with a companion that keeps count.
#[derive(Debug, Parser)]
#[command(name = "endsmeet", version, about, long_about = None)]
pub struct Args {
    /// The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user's data folder
    #[arg(long, global = true, value_name = "DIR")]
    pub sessions: Option<PathBuf>,
    /// Plain lines: no full screen, no cursor movement
    #[arg(long, global = true)]
    pub line: bool,
    /// A house's own wording of the steps
    #[arg(long, global = true, value_name = "FILE")]
    pub method: Option<PathBuf>,
    /// Print facts as JSON
    #[arg(long, global = true)]
    pub json: bool,
    /// When to use colour
    #[arg(long, global = true, value_enum, default_value = "auto")]
    pub color: Color,
    /// No block elements: digits and letters of reversed spaces
    #[arg(long, global = true)]
    pub ascii: bool,
    /// For so many milliseconds after a press the same one is ignored (700)
    #[arg(long, global = true, value_name = "MS")]
    pub guard_ms: Option<u64>,
    /// What to do; without it the home screen, or the status where there is no terminal
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// When to use colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Color {
    /// Where the terminal can and NO_COLOR is not set.
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// An edge of the warp, as the weaver sees it from the breast beam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Edge {
    /// The right one.
    Right,
    /// The left one.
    Left,
}

impl From<Edge> for crate::plan::Side {
    fn from(edge: Edge) -> Self {
        match edge {
            Edge::Right => Self::Right,
            Edge::Left => Self::Left,
        }
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
        /// The edge where thread 1 of a draft lies
        #[arg(long, value_enum)]
        thread_one: Option<Edge>,
    },
    /// Go on with a dressing: the named one, else the last
    Resume {
        /// Its name: the file's name without its ending
        name: Option<String>,
    },
    /// A small warp on which things go wrong, to learn the program in a few minutes
    Practice,
    /// Every figure of a plan
    Plan {
        /// The plan (JSON) or draft (WIF)
        file: PathBuf,
        /// The edge where thread 1 of a draft lies
        #[arg(long, value_enum)]
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
    /// What happened, entry by entry
    Log {
        /// Its name, else the last one
        name: Option<String>,
    },
    /// Check the built-in method, or a house's own wording of it
    Method {
        /// The house's file
        file: Option<PathBuf>,
    },
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
