//! A plan as a draft, to be written as WIF. Owns which part of a plan a draft holds: threading, tie-up,
//! treadling or lift plan, sett; a draft knows no loom, reed or length.

use super::{Threads, Wif, WifUnits};
use crate::plan::colour::{Rgb, read_colour};
use crate::plan::{Plan, Units};
use crate::quantity::{Fraction, Position};

/// The draft of a plan. Thread 1 lies at the right edge; a floating selvedge is an end in no heddle.
#[must_use]
pub fn wif_of_plan(plan: &Plan) -> Wif {
    let ends = plan.positions();
    let threading = (1..=ends)
        .map(|position| {
            let call = plan.call_at(Position(position));
            let shaft = call.and_then(|call| plan.threading.get(call.0 as usize - 1));
            shaft.map(|shaft| u32::from(shaft.0)).into_iter().collect()
        })
        .collect();
    let numbers = |lists: &[Vec<crate::quantity::Shaft>]| -> Vec<Vec<u32>> {
        let list = |shafts: &Vec<crate::quantity::Shaft>| {
            shafts.iter().map(|shaft| u32::from(shaft.0)).collect()
        };
        lists.iter().map(list).collect()
    };
    let palette = palette(plan);
    let number = |rgb: Option<Rgb>| {
        let at = palette.iter().position(|known| Some(*known) == rgb);
        at.map_or(0, |at| at as u32 + 1)
    };
    let weft = number(plan.colour_of_weft());
    let colours = if palette.is_empty() {
        Vec::new()
    } else {
        let of = |position| number(plan.colour_at(Position(position)));
        (1..=ends).map(of).collect()
    };
    let unit = match plan.units {
        Units::In => WifUnits::Inches,
        Units::Cm => WifUnits::Centimetres,
    };
    let picks = plan.spec.weft.as_ref().map(|weft| weft.picks);
    Wif {
        title: Some(plan.title.clone()),
        shafts: u32::from(plan.shafts),
        treadles: plan.tie_up.len() as u32,
        rising: true,
        warp: Threads {
            count: ends,
            units: Some(unit),
            spacing: Fraction::ONE.over(plan.sett),
            colours,
            ..Threads::default()
        },
        weft: Threads {
            count: plan.treadling.len().max(plan.lift_plan.len()) as u32,
            colour: (weft > 0).then_some(weft),
            units: picks.map(|_| unit),
            spacing: picks.and_then(|picks| Fraction::ONE.over(picks)),
            ..Threads::default()
        },
        threading,
        tie_up: numbers(&plan.tie_up),
        treadling: plan
            .treadling
            .iter()
            .map(|treadle| vec![*treadle])
            .collect(),
        lift_plan: numbers(&plan.lift_plan),
        palette,
        ..Wif::default()
    }
}

/// The colours of the plan's yarns, each once, in the order of the yarns.
fn palette(plan: &Plan) -> Vec<Rgb> {
    let mut palette: Vec<Rgb> = Vec::new();
    for yarn in &plan.spec.yarns {
        let rgb = yarn.colour.as_deref().and_then(read_colour);
        palette.extend(rgb.filter(|rgb| !palette.contains(rgb)));
    }
    palette
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::wif::{read_wif, spec_of_wif, write_wif};
    use crate::plan::{Side, read_spec, work_out};

    #[test]
    fn a_plan_comes_back_from_its_draft_with_the_same_threading() {
        for text in [
            include_str!("../../../assets/demo/hall-runner.json"),
            include_str!("../../../assets/demo/winter-blanket.json"),
            include_str!("../../../assets/demo/open-scarf.json"),
        ] {
            let plan = work_out(&read_spec(text).unwrap()).plan().unwrap();
            let written = write_wif(&wif_of_plan(&plan));
            for section in ["[WIF]", "Version=1.1", "[CONTENTS]", "[THREADING]"] {
                assert!(written.contains(section), "{section} in {written}");
            }
            let (wif, _) = read_wif(written.as_bytes()).unwrap();
            let (spec, _) = spec_of_wif(&wif, Side::Right).unwrap();
            let again = work_out(&spec).plan().unwrap();
            let mut shafts = plan.threading.clone();
            // a draft is threaded from the right; this plan may be threaded from the left
            if plan.thread_from == Side::Left {
                shafts.reverse();
            }
            assert_eq!(again.threading, shafts, "{}", plan.title);
            assert_eq!(again.tie_up, plan.tie_up, "{}", plan.title);
        }
    }
}
