//! A plan as a draft, to be written as WIF. Owns which part of a plan a draft holds: threading, tie-up,
//! treadling or lift plan, sett; a draft knows no loom, reed or length.

use super::{Threads, Wif, WifUnits};
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
    Wif {
        title: Some(plan.title.clone()),
        shafts: u32::from(plan.shafts),
        treadles: plan.tie_up.len() as u32,
        rising: true,
        warp: Threads {
            count: ends,
            units: Some(match plan.units {
                Units::In => WifUnits::Inches,
                Units::Cm => WifUnits::Centimetres,
            }),
            spacing: Fraction::ONE.over(plan.sett),
            ..Threads::default()
        },
        weft: Threads {
            count: plan.treadling.len().max(plan.lift_plan.len()) as u32,
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
        ..Wif::default()
    }
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
