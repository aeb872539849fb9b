//! What the cloth shows of something that is left as it is, and how the sheds change where the plan is changed
//! to what stands. Owns the wording.

use super::counts::{count, length, side};
use crate::dressing::view::ShedChange;
use crate::fault::Shows;
use crate::plan::{Opens, Plan};
use crate::quantity::Fraction;

/// "two neighbours alike, the weft over 3 ends, about 2 3/4 in from the right edge".
#[must_use]
pub fn shows(signs: &[Shows], across: Option<Fraction>, plan: &Plan) -> String {
    let signs: Vec<String> = signs.iter().map(|sign| one(*sign)).collect();
    let place = across.filter(|_| !signs.is_empty()).map(|across| {
        let edge = side(plan.thread_from);
        format!(
            ", about {} from the {edge} edge",
            length(across, plan.units)
        )
    });
    format!("{}{}", signs.join(" and "), place.unwrap_or_default())
}

fn one(sign: Shows) -> String {
    match sign {
        Shows::Alike { float: None } => "two neighbours alike".to_owned(),
        Shows::Alike { float: Some(n) } => {
            format!(
                "two neighbours alike, the weft floating over {}",
                count(n, "end")
            )
        }
        Shows::EndFloats(n) => format!("an end that floats over {}", count(n, "pick")),
        Shows::WeftFloats(n) => format!("the weft floating over {}", count(n, "end")),
        Shows::PatternBroken => "the pattern broken along one end".to_owned(),
        Shows::LooseEnd => "a loose end, to be taken out or it catches".to_owned(),
        Shows::Thick => "a thick streak".to_owned(),
        Shows::Thin => "a thin streak".to_owned(),
        Shows::Crossed => "two ends that rub, in sheds that do not open clean".to_owned(),
        Shows::Nothing => "nothing".to_owned(),
    }
}

/// "leave it: the cloth will show two neighbours alike".
#[must_use]
pub fn leave(signs: &[Shows], across: Option<Fraction>, plan: &Plan) -> Option<String> {
    if signs.is_empty() {
        return None;
    }
    Some(format!(
        "leave it: the cloth will show {}",
        shows(signs, across, plan)
    ))
}

/// How the sheds change: "treadles 1 4 raise 1 end fewer, treadles 2 3 raise 1 end more".
#[must_use]
pub fn sheds(changes: &[ShedChange]) -> String {
    let mut by: Vec<(i64, Vec<String>, &str)> = Vec::new();
    for change in changes.iter().filter(|change| change.by != 0) {
        let (word, number) = match change.opens {
            Opens::Treadle(n) => ("treadle", n.to_string()),
            Opens::Pick(n) => ("pick", n.to_string()),
            Opens::Shaft(shaft) => ("shaft", shaft.0.to_string()),
        };
        match by.iter_mut().find(|(n, ..)| *n == change.by) {
            Some((_, numbers, _)) => numbers.push(number),
            None => by.push((change.by, vec![number], word)),
        }
    }
    if by.is_empty() {
        return "every shed raises as many ends as before".to_owned();
    }
    let parts = by.into_iter().map(|(by, numbers, word)| {
        let more = if by > 0 { "more" } else { "fewer" };
        let n = u32::try_from(by.unsigned_abs()).unwrap_or(u32::MAX);
        let many = u32::try_from(numbers.len()).unwrap_or(u32::MAX);
        let (word, raises) = if many == 1 {
            (word.to_owned(), "raises")
        } else {
            (format!("{word}s"), "raise")
        };
        format!(
            "{word} {} {raises} {} {more}",
            numbers.join(" "),
            count(n, "end")
        )
    });
    parts.collect::<Vec<_>>().join(", ")
}
