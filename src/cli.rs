//! The command line: which command does what, and with which exit code it ends. Owns no rule of
//! the job.
//!
//! Exit: 0 done, 1 failed or refused, 2 wrong usage, 3 an open mismatch or a passed-over check
//! (`trace`: not settled), 4 in use by another window.

pub mod after;
pub mod arg_values;
pub mod args;
pub mod awake;
pub mod cloth;
pub mod doctor;
mod doctor_tests;
mod dress;
pub mod facts;
pub mod files;
pub mod first;
pub mod form;
pub mod home;
pub mod look;
pub mod opened;
mod out;
pub mod paper;
pub mod screen;
pub mod settings;
pub mod speech;

use args::{Args, Command};
use clap::Parser;
pub use out::{Failure, Out};
use std::process::ExitCode;

/// Nothing went wrong.
pub(crate) fn done() -> Result<ExitCode, Failure> {
    Ok(ExitCode::SUCCESS)
}

/// Runs the program on the process's own arguments.
#[must_use]
pub fn main() -> ExitCode {
    let mut args = match Args::try_parse() {
        Ok(args) => args,
        Err(error) => {
            let code = if error.use_stderr() { 2 } else { 0 };
            // nowhere is left to say that this could not be said
            let _ = error.print();
            return ExitCode::from(code);
        }
    };
    let mut out = Out::new();
    if let Err(why) = args.settle() {
        out.failure(&Failure::usage(why));
        return ExitCode::from(2);
    }
    if !args.json {
        for warning in &args.settings.warnings {
            out.notice(warning);
        }
    }
    match run(&mut args, &mut out) {
        Ok(code) => code,
        Err(failure) => {
            out.failure(&failure);
            ExitCode::from(failure.code)
        }
    }
}

fn run(args: &mut Args, out: &mut Out) -> Result<ExitCode, Failure> {
    match &args.command {
        None => home::home(args, out),
        Some(Command::New {
            plan,
            owner,
            loom,
            after,
            yarn,
            take_up,
            thread_one,
        }) => {
            let after = after.as_deref().map(|name| after::After {
                name,
                yarn: yarn.as_deref(),
                take_up: take_up.as_deref(),
            });
            let wanted = dress::Wanted {
                after,
                plan: plan.as_deref(),
                owner: owner.as_deref(),
                loom: loom.as_deref(),
                thread_one: thread_one.map(Into::into),
            };
            dress::new(args, &wanted, out)
        }
        Some(Command::Loom { name, from }) => dress::loom(args, name, from, out),
        Some(Command::Resume { name, salvage }) => {
            dress::resume(args, name.as_deref(), *salvage, out)
        }
        Some(Command::Practice) => home::practice(args),
        Some(Command::Plan { file, thread_one }) => {
            facts::plan(args, file, thread_one.map(Into::into), out)
        }
        Some(Command::Sley {
            sett,
            reed,
            per_10cm,
        }) => facts::sley(args, sett, reed, *per_10cm, out),
        Some(Command::Yarn { yarn }) => facts::yarn(args, yarn, out),
        Some(Command::Trace {
            plan,
            batch,
            calls,
            ends_left,
            heddles_left,
            looks,
        }) => {
            let report = facts::Report {
                batch: *batch,
                calls: *calls,
                ends_left: *ends_left,
                heddles_left,
                looks,
            };
            facts::traced(args, plan, &report, out)
        }
        Some(Command::Status { name }) => look::status(args, name.as_deref(), out),
        Some(Command::Log(wanted)) => look::log(args, wanted, out),
        Some(Command::Doctor) => doctor::doctor(args, out),
        Some(Command::Sheet(wanted)) => paper::sheet(args, wanted, out),
        Some(Command::Cloth(wanted)) => cloth::cloth(args, wanted, out),
        Some(Command::Board(wanted)) => paper::board(args, wanted, out),
        Some(Command::Method { file }) => {
            facts::method(file.as_deref().or(args.method.as_deref()), out)
        }
    }
}
