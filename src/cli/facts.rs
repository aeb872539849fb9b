//! Commands that work something out and print it: no dressing is opened.

use super::args::{Args, LookArgs};
use super::files::{figures_of, plan_of, text_of};
use super::{Failure, Out, done};
use crate::fault::{Evidence, LookKind, Seen, to_json, trace};
use crate::method::{Method, MethodFault};
use crate::plan::Side;
use crate::plan::advice::sley_advice;
use crate::plan::spec::Per;
use crate::plan::yarn::read_yarn;
use crate::quantity::{Call, Shaft, harmless, parse_fraction};
use crate::words::fault_words;
use std::path::Path;
use std::process::ExitCode;

/// What `trace` was given beside the plan.
pub struct Report<'a> {
    /// The batch's number.
    pub batch: u32,
    /// Calls made.
    pub calls: Option<u32>,
    /// Ends left.
    pub ends_left: i64,
    /// Heddles left on each shaft.
    pub heddles_left: &'a [i64],
    /// Answers to looks.
    pub looks: &'a LookArgs,
}

/// `plan FILE`.
///
/// # Errors
/// The plan's problems, after the JSON.
pub fn plan(
    args: &Args,
    file: &Path,
    thread_one: Option<Side>,
    out: &mut Out,
) -> Result<ExitCode, Failure> {
    let (figures, said) = match figures_of(file, thread_one) {
        Ok(figures) => figures,
        Err(failure) => {
            if args.json {
                out.json(&failure.value());
            }
            return Err(failure);
        }
    };
    for line in said {
        out.notice(&line);
    }
    if args.json {
        out.json(&crate::plan::json::plan_value(&figures));
    } else {
        out.text(&crate::paper::plan_sheet(&figures));
    }
    if figures.problems.is_empty() {
        return done();
    }
    Err(Failure::problems(file, &figures.problems))
}

/// `trace PLAN --batch N ...`.
///
/// # Errors
/// Wrong usage for what the batch or loom does not have.
pub fn traced(
    args: &Args,
    file: &Path,
    report: &Report,
    out: &mut Out,
) -> Result<ExitCode, Failure> {
    let (_, plan) = plan_of(file)?;
    let at = (report.batch as usize).wrapping_sub(1);
    let batch = plan.batches.get(at).ok_or_else(|| {
        Failure::usage(format!(
            "There is no batch {}: the plan has batches 1 to {}. Say one of those.",
            report.batch,
            plan.batches.len()
        ))
    })?;
    let evidence = Evidence {
        first: batch.calls.first,
        planned: plan.threading[batch.calls.indices()].to_vec(),
        shafts: plan.shafts,
        calls_made: report.calls.unwrap_or(batch.calls.len()),
        ends_left: report.ends_left,
        heddles_left: report.heddles_left.to_vec(),
        seen: seen(report.looks)?,
    };
    let tracing = trace(&evidence).map_err(|why| Failure::usage(fault_words::impossible(&why)))?;
    if args.json {
        out.json(&to_json(
            &tracing,
            batch.number,
            &evidence,
            fault_words::suspect,
        ));
    } else {
        for line in fault_words::tracing(&tracing, &evidence, batch.number) {
            out.text(&line);
        }
    }
    Ok(ExitCode::from(if tracing.settled { 0 } else { 3 }))
}

/// The answers to looks, as typed.
fn seen(looks: &LookArgs) -> Result<Vec<Seen>, Failure> {
    let mut seen = Vec::new();
    for text in &looks.seen {
        seen.push(shaft_of(text)?);
    }
    let whole = [
        (LookKind::HeddleHoldingTwo, &looks.double),
        (LookKind::EndInNoHeddle, &looks.hanging),
        (LookKind::EmptyHeddle, &looks.empty),
        (LookKind::EndsInKnot, &looks.knot),
        (LookKind::NeighboursTogether, &looks.together),
        (LookKind::ReadBack, &looks.read),
    ];
    for (look, texts) in whole {
        for text in texts {
            seen.push(whole_look(look, text)?);
        }
    }
    Ok(seen)
}

fn shaft_of(text: &str) -> Result<Seen, Failure> {
    let wrong = || {
        Failure::usage(format!(
            "--seen {text}: type CALL=SHAFT, as 55=3, or 55=? or 55=none."
        ))
    };
    let (call, shaft) = text.split_once('=').ok_or_else(wrong)?;
    let call = Call(call.trim().parse().map_err(|_| wrong())?);
    Ok(match shaft.trim() {
        "?" => Seen::CannotTell {
            look: LookKind::ShaftOfHeddle,
            call: Some(call),
        },
        "none" => Seen::Shaft { call, shaft: None },
        shaft => Seen::Shaft {
            call,
            shaft: Some(Shaft(shaft.parse().map_err(|_| wrong())?)),
        },
    })
}

fn whole_look(look: LookKind, text: &str) -> Result<Seen, Failure> {
    let text = text.trim();
    if text == "?" {
        return Ok(Seen::CannotTell { look, call: None });
    }
    let wrong = || {
        let option = crate::fault::Look::whole(look).option();
        Failure::usage(format!(
            "{option}: {text} is no answer. Type a number, none or ?."
        ))
    };
    let number = || text.parse::<u32>().map_err(|_| wrong());
    let call = || match text {
        "none" => Ok(None),
        _ => number().map(|n| Some(Call(n))),
    };
    Ok(match look {
        LookKind::ShaftOfHeddle => return Err(wrong()),
        LookKind::HeddleHoldingTwo => Seen::Double { call: call()? },
        LookKind::EndInNoHeddle => Seen::Hanging { call: call()? },
        LookKind::NeighboursTogether => Seen::Together { call: call()? },
        LookKind::EmptyHeddle => Seen::Empty {
            shaft: match text {
                "none" => None,
                _ => Some(Shaft(text.parse().map_err(|_| wrong())?)),
            },
        },
        LookKind::EndsInKnot => Seen::Knot { ends: number()? },
        LookKind::ReadBack => {
            let shafts: Result<Vec<u8>, _> = text.split(',').map(|s| s.trim().parse()).collect();
            Seen::ReadBack(
                shafts
                    .map_err(|_| wrong())?
                    .into_iter()
                    .map(Shaft)
                    .collect(),
            )
        }
    })
}

/// `method [FILE]`: the content check.
///
/// # Errors
/// Every fault of the file.
pub fn method(file: Option<&Path>, out: &mut Out) -> Result<ExitCode, Failure> {
    let method = match file {
        Some(file) => method_of(Some(file))?,
        None => Method::parse(Method::embedded_text())
            .map_err(|faults| wording_fails("the built-in method", &faults))?,
    };
    let steps = method.steps().filter(|step| !step.skipped).count();
    out.text(&format!(
        "{}: {steps} steps, all complete. {}",
        method.name(),
        method.out_of_scope()
    ));
    done()
}

/// The method in force: the built-in one, or a house's wording of it.
///
/// # Errors
/// Every fault of the file.
pub fn method_of(file: Option<&Path>) -> Result<Method, Failure> {
    let base = Method::embedded();
    let Some(file) = file else { return Ok(base) };
    let text = text_of(file, "wording")?;
    Method::house(&base, &text)
        .map_err(|faults| wording_fails(&super::files::shown(file).to_string(), &faults))
}

fn wording_fails(of: &str, faults: &[MethodFault]) -> Failure {
    let list: Vec<String> = faults.iter().map(|fault| format!("- {fault}")).collect();
    Failure::refused(format!(
        "{of}: the wording does not pass.\n{}",
        list.join("\n")
    ))
}

/// `sley --sett N --reed N`.
///
/// # Errors
/// A number that is none, or a sett that no order gives.
pub fn sley(
    args: &Args,
    sett: &str,
    reed: &str,
    per_10cm: bool,
    out: &mut Out,
) -> Result<ExitCode, Failure> {
    let number = |option: &str, text: &str| {
        parse_fraction(text)
            .map_err(|why| Failure::usage(format!("{option} {}: {why}", harmless(text))))
    };
    let per = if per_10cm { Per::TenCm } else { Per::In };
    let advice = sley_advice(number("--sett", sett)?, number("--reed", reed)?, per)
        .map_err(|problem| Failure::refused(problem.to_string()))?;
    if args.json {
        out.json(&crate::plan::json::sley_value(&advice));
    } else {
        out.text(&crate::paper::sley_sheet(&advice));
    }
    done()
}

/// `yarn "8/2 cotton"`.
///
/// # Errors
/// A yarn that cannot be read.
pub fn yarn(args: &Args, written: &str, out: &mut Out) -> Result<ExitCode, Failure> {
    let yarn = read_yarn(written)
        .map_err(|why| Failure::refused(format!("\"{}\": {why}", harmless(written))))?;
    let written = harmless(written);
    if args.json {
        out.json(&crate::plan::json::yarn_value(&written, &yarn));
    } else {
        out.text(&crate::paper::yarn_sheet(&written, &yarn));
    }
    done()
}
