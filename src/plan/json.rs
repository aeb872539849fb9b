//! The facts of a plan as JSON, schema 1: only ever added to, numbers rounded to 1e-4.
//! Owns the names and shapes; every figure comes from `Figures`.

use super::advice::{SETT_SOURCES, Setts, SleyAdvice, setts};
use super::order::Order;
use super::reeds::per_text;
use super::wind::{BoutStripe, Wind, wind};
use super::worked::Figures;
use super::yarn::{SYSTEMS, System, Yarn};
use super::{Batch, Beam, Bundle, Group, Heddles, Raddle, Side, Sley, YarnNeed};
use crate::quantity::{Fraction, Shaft};
use serde_json::{Value, json};

/// The number of the schema that every JSON answer carries.
pub const SCHEMA: u32 = 1;

/// The JSON of `plan`: a part that could not be worked out is null.
#[must_use]
pub fn plan_value(figures: &Figures) -> Value {
    let threading = figures.threading.as_deref();
    json!({
        "schema": SCHEMA,
        "title": figures.spec.title,
        "units": figures.units,
        "ends": figures.ends,
        "heddled_ends": figures.heddled_ends,
        "floating_selvedges": figures.floating,
        "width": number(figures.width),
        "groups": figures.groups.as_deref().map(|g| g.iter().map(group).collect::<Vec<_>>()),
        "batch_rule": figures.batch_rule,
        "batches": figures.batches.as_deref().map(|all| {
            all.iter().map(|b| batch(b, threading)).collect::<Vec<_>>()
        }),
        "heddles": figures.heddles.as_ref().map(heddles),
        "sley": figures.sley.as_ref().map(|s| sley(s, figures.floating)),
        "raddle": figures.raddle.as_ref().map(raddle),
        "ties": figures.ties,
        "bundles": figures.bundles.as_deref().map(|b| b.iter().map(bundle).collect::<Vec<_>>()),
        "beam": beam(&figures.beam),
        "warp_length": number(figures.warp_length),
        "wind": figures.plan().as_ref().map(|plan| wind_value(&wind(plan))),
        "yarn": figures.yarn.iter().map(yarn).collect::<Vec<_>>(),
        "defaults": figures.filled.iter().map(|f| {
            json!({"key": f.path, "value": f.value, "guess": f.guess})
        }).collect::<Vec<_>>(),
        "problems": figures.problems.iter().map(|p| {
            json!({"problem": p.kind(), "says": p.to_string()})
        }).collect::<Vec<_>>(),
        "remarks": figures.remarks.iter().map(|r| {
            json!({"remark": r.kind(), "says": r.to_string()})
        }).collect::<Vec<_>>(),
    })
}

/// The JSON of `sley`.
#[must_use]
pub fn sley_value(advice: &SleyAdvice) -> Value {
    let others = advice.others.iter().map(|(dents, ranked)| {
        let mut value = order(&ranked.order);
        value["reed"] = json!(dents.rounded());
        value["why"] = json!(ranked.reason.says());
        value
    });
    json!({
        "schema": SCHEMA,
        "order": advice.best.dents,
        "sett": advice.best.sett.rounded(),
        "exact": advice.best.exact,
        "reed": advice.reed.rounded(),
        "per": per_text(advice.per),
        "wanted": advice.sett.rounded(),
        "near": advice.near.iter().map(order).collect::<Vec<_>>(),
        "other_reeds": others.collect::<Vec<_>>(),
    })
}

fn order(order: &Order) -> Value {
    json!({"order": order.dents, "sett": order.sett.rounded(), "exact": order.exact})
}

/// The JSON of `yarn`.
#[must_use]
pub fn yarn_value(written: &str, yarn: &Yarn) -> Value {
    let mut numbers = serde_json::Map::new();
    for &(system, key, _) in SYSTEMS {
        numbers.insert(key.to_owned(), number(yarn.number(system)));
    }
    let strands = yarn
        .strands
        .iter()
        .map(|s| json!({"size": s.size.rounded(), "ply": s.ply, "system": s.system.key()}));
    json!({
        "schema": SCHEMA,
        "yarn": crate::quantity::harmless(written),
        "strands": strands.collect::<Vec<_>>(),
        "tex": yarn.tex.rounded(),
        "yards_per_pound": number(yarn.number(System::YardsPerPound)),
        "metres_per_kilogram": number(yarn.number(System::MetresPerKilogram)),
        "numbers": numbers,
        "setts": setts(yarn).as_ref().map(setts_value),
    })
}

fn setts_value(setts: &Setts) -> Value {
    let mut value = json!({"per": "in", "diameters": setts.diameters.rounded()});
    for sett in &setts.weaves {
        value[sett.weave] = json!({
            "most": sett.most.rounded(),
            "working": sett.working.rounded(),
            "by_wraps": sett.by_wraps.rounded(),
        });
    }
    value["sources"] = json!(SETT_SOURCES);
    value
}

pub(super) fn number(value: Option<Fraction>) -> Value {
    value.map_or(Value::Null, |v| json!(v.rounded()))
}

fn group(group: &Group) -> Value {
    json!({
        "number": group.number,
        "first": group.calls.first,
        "last": group.calls.last,
        "ends": group.ends,
    })
}

fn batch(batch: &Batch, threading: Option<&[Shaft]>) -> Value {
    let shafts = threading.and_then(|t| t.get(batch.calls.indices()));
    json!({
        "number": batch.number,
        "first": batch.calls.first,
        "last": batch.calls.last,
        "shafts": shafts,
        "heddles": batch.heddles,
        "handfuls": shafts.map(super::handfuls),
    })
}

fn heddles(heddles: &Heddles) -> Value {
    json!({
        "needed": heddles.needed,
        "on_hand": heddles.on_hand,
        "short": heddles.short,
        "spare": heddles.on_hand.as_ref().map(|_| heddles.spare()),
    })
}

fn side(side: Side) -> &'static str {
    match side {
        Side::Right => "right",
        Side::Left => "left",
    }
}

fn sley(sley: &Sley, float_dents: u32) -> Value {
    json!({
        "order": sley.order,
        "sections": sley.sections.iter().map(|s| {
            json!({"order": s.order, "ends": s.ends})
        }).collect::<Vec<_>>(),
        "sett": sley.sett.rounded(),
        "exact": sley.exact,
        "starts": side(sley.starts),
        "reed": sley.reed,
        "reed_dents": sley.reed_total,
        "reed_middle": match sley.middle {
            super::ReedMiddle::Wire => "wire",
            super::ReedMiddle::Dent => "dent",
        },
        "dents": sley.heddled_dents,
        "float_dents": float_dents,
        "first_dent": sley.first_dent,
        "from_reed_edge": sley.from_reed_edge.rounded(),
        "from_middle": sley.from_middle.rounded(),
    })
}

fn raddle(raddle: &Raddle) -> Value {
    json!({
        "first_space_from_middle": raddle.first_space_from_middle,
        "spaces": raddle.spaces,
        "middle": match raddle.middle {
            super::RaddleMiddle::Pin => "pin",
            super::RaddleMiddle::Space => "space",
        },
    })
}

fn bundle(bundle: &Bundle) -> Value {
    json!({
        "number": bundle.number,
        "first": bundle.calls.first,
        "last": bundle.calls.last,
        "group": bundle.group,
    })
}

fn wind_value(wind: &Wind) -> Value {
    let stripe = |s: &BoutStripe| json!({"yarn": s.yarn, "ends": s.ends, "passes": s.passes, "ends_far": s.ends_far});
    let bouts = wind.bouts.iter().map(|b| {
        json!({
            "number": b.number,
            "first_group": b.groups.0,
            "last_group": b.groups.1,
            "ends": b.last - b.first + 1,
            "stripes": b.stripes.iter().map(stripe).collect::<Vec<_>>(),
        })
    });
    json!({
        "guide": number(wind.guide),
        "together": wind.together,
        "round_trips": wind.round_trips,
        "changes": wind.changes,
        "bouts": bouts.collect::<Vec<_>>(),
    })
}

fn beam(beam: &Beam) -> Value {
    json!({"turns": beam.turns, "packing": number(beam.packing)})
}

fn yarn(yarn: &YarnNeed) -> Value {
    json!({
        "name": yarn.name,
        "length": yarn.length.rounded(),
        "weight": number(yarn.weight),
        "ends": yarn.ends,
        "weft": yarn.weft.rounded(),
        "cost": number(yarn.cost),
    })
}
