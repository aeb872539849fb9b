//! From a WIF draft to the plan's beginnings: what it says of threading, colours, sett and lifts becomes a
//! [`Spec`]; loom, reed and lengths are still to be said. Owns the turning round; reads no text.

use super::{Threads, Wif, WifFault, WifRemark, WifUnits};
use crate::plan::spec::{ColourSpec, Spec, WeftSpec, YarnSpec};
use crate::plan::threading::threading_text;
use crate::plan::{Floats, Side, Units};
use crate::quantity::Fraction;

/// The plan that a draft begins. `thread_one` is the edge where thread 1 of the draft lies: the standard
/// is believed to mean the right one, so it is asked, and said. Threading starts at the right.
///
/// # Errors
/// An end that cannot be dressed: in several heddles, or in none inside the warp.
pub fn spec_of_wif(wif: &Wif, thread_one: Side) -> Result<(Spec, Vec<WifRemark>), WifFault> {
    let mut remarks = vec![WifRemark::ThreadOne { side: thread_one }];
    let (numbers, floats) = numbers(wif, thread_one)?;
    let mut spec = Spec {
        title: wif.title.clone(),
        ends: u32::try_from(wif.threading.len()).ok(),
        threading: Some(threading_text(&numbers)),
        thread_from: Some(Side::Right),
        ..Spec::default()
    };
    if floats {
        spec.floats = Some(Floats::FromWarp);
        remarks.push(WifRemark::FloatsTaken);
    }
    spec.loom.shafts = Some(wif.shafts);
    spec.loom.treadles = (wif.treadles > 0).then_some(wif.treadles);
    sett(wif, &mut spec);
    if wif.warp.uneven {
        remarks.push(WifRemark::SpacingUneven);
    }
    colours(wif, thread_one, &mut spec);
    weft(wif, &mut spec);
    lifts(wif, &mut spec, &mut remarks);
    Ok((spec, remarks))
}

/// The shaft of each heddled end from the right, and whether the outermost two are floats.
fn numbers(wif: &Wif, thread_one: Side) -> Result<(Vec<u32>, bool), WifFault> {
    let ends = wif.threading.len();
    let bare = |at: usize| wif.threading.get(at).is_some_and(Vec::is_empty);
    let floats = ends >= 3 && bare(0) && bare(ends - 1);
    let mut numbers = Vec::with_capacity(ends);
    for (at, shafts) in wif.threading.iter().enumerate() {
        match shafts[..] {
            [shaft] => numbers.push(shaft),
            [] if floats && (at == 0 || at + 1 == ends) => {}
            [] => return Err(WifFault::NoShaft { end: at + 1, ends }),
            _ => {
                let list: Vec<String> = shafts.iter().take(8).map(u32::to_string).collect();
                return Err(WifFault::SeveralShafts {
                    end: at + 1,
                    shafts: list.join(", "),
                });
            }
        }
    }
    if thread_one == Side::Left {
        numbers.reverse();
    }
    Ok((numbers, floats))
}

/// Threads per unit = 1 / spacing, in the file's own units; decipoints are 1/720 inch.
fn per_unit(threads: &Threads) -> Option<Fraction> {
    let per = match threads.units? {
        WifUnits::Decipoints => Fraction::whole(720),
        WifUnits::Inches | WifUnits::Centimetres => Fraction::ONE,
    };
    let found = per
        .over(threads.spacing?)
        .and_then(|s| s.to_nearest(100))
        .filter(|s| s.is_positive());
    found.filter(|s| *s <= Fraction::whole(10_000))
}

fn sett(wif: &Wif, spec: &mut Spec) {
    if let (Some(units), Some(found)) = (wif.warp.units, per_unit(&wif.warp)) {
        spec.sett = Some(found);
        spec.units = Some(match units {
            WifUnits::Centimetres => Units::Cm,
            WifUnits::Decipoints | WifUnits::Inches => Units::In,
        });
    }
}

/// Stripes of colour from the right, each colour a yarn named by its number and its red, green and blue.
fn colours(wif: &Wif, thread_one: Side, spec: &mut Spec) {
    let of = |at: usize| {
        let own = wif.warp.colours.get(at).copied().filter(|&c| c > 0);
        own.or(wif.warp.colour).unwrap_or(0)
    };
    let mut list: Vec<u32> = (0..wif.threading.len()).map(of).collect();
    if list.iter().all(|&c| c == 0) {
        return;
    }
    if thread_one == Side::Left {
        list.reverse();
    }
    for colour in list {
        let yarn = name_of(wif, colour);
        match spec.colours.last_mut().filter(|stripe| stripe.yarn == yarn) {
            Some(stripe) => stripe.ends += 1,
            None => spec.colours.push(ColourSpec {
                yarn: yarn.clone(),
                ends: 1,
            }),
        }
        add_yarn(wif, colour, spec);
    }
}

/// The colour's yarn, listed once.
fn add_yarn(wif: &Wif, colour: u32, spec: &mut Spec) {
    let name = name_of(wif, colour);
    if !spec.yarns.iter().any(|y| y.name == name) {
        spec.yarns.push(YarnSpec {
            name,
            size: None,
            price: None,
            colour: rgb_of(wif, colour).map(|[r, g, b]| format!("#{r:02x}{g:02x}{b:02x}")),
        });
    }
}

/// The weft's yarn and picks, where the draft says one colour and a spacing; a weft of several
/// colours is no part of a plan.
fn weft(wif: &Wif, spec: &mut Spec) {
    let mut own = wif.weft.colours.iter().copied().filter(|&c| c > 0);
    let first = own.next().or(wif.weft.colour).filter(|&c| c > 0);
    let (Some(colour), Some(picks)) = (first, per_unit(&wif.weft)) else {
        return;
    };
    if own.any(|other| other != colour) || spec.units.is_none() || wif.weft.units != wif.warp.units
    {
        return;
    }
    add_yarn(wif, colour, spec);
    spec.weft = Some(WeftSpec {
        yarn: name_of(wif, colour),
        picks,
    });
}

fn rgb_of(wif: &Wif, colour: u32) -> Option<[u8; 3]> {
    let at = (colour as usize).checked_sub(1)?;
    wif.palette.get(at).copied()
}

fn name_of(wif: &Wif, colour: u32) -> String {
    match rgb_of(wif, colour) {
        Some([r, g, b]) => format!("colour {colour} #{r:02x}{g:02x}{b:02x}"),
        None => format!("colour {colour}"),
    }
}

/// Tie-up and treadling where every pick has one treadle, else the lifts pick by pick; sinking shafts are
/// turned round.
fn lifts(wif: &Wif, spec: &mut Spec, remarks: &mut Vec<WifRemark>) {
    let turned = |row: &Vec<u32>| -> Vec<u32> {
        if wif.rising {
            return row.clone();
        }
        (1..=wif.shafts).filter(|s| !row.contains(s)).collect()
    };
    let lists_shafts = !wif.tie_up.is_empty() || !wif.lift_plan.is_empty();
    if !wif.rising && lists_shafts {
        remarks.push(WifRemark::Sinking);
    }
    spec.tie_up = wif.tie_up.iter().map(turned).collect();
    spec.lift_plan = wif.lift_plan.iter().map(turned).collect();
    if wif.treadling.is_empty() {
        return;
    }
    if wif.treadling.iter().all(|pick| pick.len() == 1) {
        let list: Vec<u32> = wif.treadling.iter().flatten().copied().collect();
        spec.treadling = Some(threading_text(&list));
        return;
    }
    if spec.lift_plan.is_empty() && !wif.tie_up.is_empty() {
        remarks.push(WifRemark::SeveralTreadles);
        spec.lift_plan = wif
            .treadling
            .iter()
            .map(|pick| turned(&tied(wif, pick)))
            .collect();
    }
}

/// Shafts tied to any of the treadles, as the file has them.
fn tied(wif: &Wif, treadles: &[u32]) -> Vec<u32> {
    let rows = treadles
        .iter()
        .filter_map(|&t| wif.tie_up.get((t as usize).checked_sub(1)?));
    let mut shafts: Vec<u32> = rows.flatten().copied().collect();
    shafts.sort_unstable();
    shafts.dedup();
    shafts
}
