//! Measures in sentences: how each is asked, and how it compares with the plan. Owns the wording; the
//! planned figures are the plan's.

use super::counts::length;
use crate::dressing::measure::Measured;
use crate::plan::{Plan, Units};
use crate::quantity::Fraction;

/// A measure by its name.
#[must_use]
pub fn name(what: Measured) -> &'static str {
    match what {
        Measured::Reed => "width in the reed",
        Measured::Cloth => "width of the cloth",
        Measured::Picks => "picks",
        Measured::Warp => "warp used",
        Measured::Woven => "cloth woven of it",
    }
}

/// What was measured with its unit: "13 3/4 in", "349 mm", "20 per in", "7.5 per cm".
#[must_use]
pub fn measured(what: Measured, thousandths: u32, units: Units) -> String {
    let Some(found) = Fraction::new(i64::from(thousandths), 1000) else {
        return String::new();
    };
    match what {
        Measured::Reed | Measured::Cloth | Measured::Warp | Measured::Woven => length(found, units),
        Measured::Picks => format!("{} {}", found.decimal(2), unit(what, units)),
    }
}

/// The unit of a measure as the plan has it: "in", "cm", "per in", "per cm".
#[must_use]
pub fn unit(what: Measured, units: Units) -> &'static str {
    let picks = what == Measured::Picks;
    match (units, picks) {
        (Units::In, false) => "in",
        (Units::Cm, false) => "cm",
        (Units::In, true) => "per in",
        (Units::Cm, true) => "per cm",
    }
}

/// The distance line and the question of a measure; `eighths` where the whole inches are said.
#[must_use]
pub fn question(what: Measured, eighths: bool, units: Units) -> (&'static str, String) {
    let far = match (what, eighths) {
        (_, true) => "EIGHTHS BEYOND?",
        (Measured::Reed, _) => "WIDTH IN THE REED?",
        (Measured::Cloth, _) => "WIDTH OF THE CLOTH?",
        (Measured::Picks, _) => "HOW MANY PICKS?",
        (Measured::Warp, _) => "WARP USED?",
        (Measured::Woven, _) => "CLOTH WOVEN?",
    };
    if eighths {
        return (
            far,
            "And how many eighths of an inch beyond them? 0 to 7.".to_owned(),
        );
    }
    let unit = match units {
        Units::In => "Say the whole inches first.",
        Units::Cm => "Say millimetres.",
    };
    let ask = match what {
        Measured::Reed => format!("How wide is the warp in the reed? {unit}"),
        Measured::Cloth => {
            format!("How wide is the header where it is beaten up, tension off? {unit}")
        }
        Measured::Picks => match units {
            Units::In => "How many picks are in one inch of the header?".to_owned(),
            Units::Cm => "How many picks are in 10 centimetres of the header?".to_owned(),
        },
        Measured::Warp => format!("How much warp was used? {unit}"),
        Measured::Woven => format!("How long is the cloth woven of it? {unit}"),
    };
    (far, ask)
}

/// What was measured, a sentence each, with the plan's figure where it has one.
#[must_use]
pub fn compared(plan: &Plan, measures: &[(Measured, u32)]) -> Vec<String> {
    let of = |wanted: Measured| {
        let found = measures.iter().find(|(what, _)| *what == wanted);
        found.and_then(|(_, thousandths)| Fraction::new(i64::from(*thousandths), 1000))
    };
    let (reed, cloth, picks) = (of(Measured::Reed), of(Measured::Cloth), of(Measured::Picks));
    let (warp, woven) = (of(Measured::Warp), of(Measured::Woven));
    let lines = [
        reed.map(|found| against_length("Width in the reed", found, plan.width, plan.units)),
        cloth.map(|found| {
            let said = format!("Width of the cloth: {}", length(found, plan.units));
            let base = reed.unwrap_or(plan.width);
            with_share(
                said,
                "draw-in",
                share(found, base),
                plan.spec.length.draw_in,
            )
        }),
        picks.map(|found| picks_said(found, plan)),
        warp.zip(woven).map(|(warp, woven)| {
            let said = format!(
                "{} of warp gave {} of cloth",
                length(warp, plan.units),
                length(woven, plan.units)
            );
            with_share(
                said,
                "take-up",
                share(woven, warp),
                plan.spec.length.take_up,
            )
        }),
    ];
    lines.into_iter().flatten().collect()
}

/// What is lost from a length to what is left of it; `None` where more is left.
#[must_use]
pub fn share(left: Fraction, of: Fraction) -> Option<Fraction> {
    let kept = left.over(of)?;
    let lost = Fraction::ONE.minus(kept)?;
    (lost >= Fraction::ZERO).then_some(lost)
}

fn percent(share: Fraction) -> String {
    let hundred = share.times(Fraction::whole(100)).unwrap_or(share);
    format!("{} %", hundred.decimal(1))
}

fn with_share(
    said: String,
    name: &str,
    found: Option<Fraction>,
    planned: Option<Fraction>,
) -> String {
    let Some(found) = found else {
        return format!("{said}.");
    };
    let planned = planned.map_or_else(String::new, |planned| {
        format!("; the plan has {}", percent(planned))
    });
    format!("{said}: {name} {}{planned}.", percent(found))
}

fn against_length(name: &str, found: Fraction, planned: Fraction, units: Units) -> String {
    let said = format!(
        "{name}: {} measured, {} planned",
        length(found, units),
        length(planned, units)
    );
    let zero = length(Fraction::ZERO, units);
    let (by, word) = if found >= planned {
        (found.minus(planned), "more")
    } else {
        (planned.minus(found), "less")
    };
    let by = by.map(|by| length(by, units)).filter(|by| *by != zero);
    by.map_or_else(|| format!("{said}."), |by| format!("{said}: {by} {word}."))
}

fn picks_said(found: Fraction, plan: &Plan) -> String {
    let unit = match plan.units {
        Units::In => "in",
        Units::Cm => "cm",
    };
    let planned = plan.spec.weft.as_ref().map(|weft| weft.picks.decimal(2));
    let planned = planned.map_or_else(String::new, |picks| format!(", {picks} planned"));
    format!("Picks: {} per {unit} measured{planned}.", found.decimal(2))
}
