//! Writing a [`Spec`] back as a plan file: what was given and, once filled in, every default.
//! Owns the order of the keys; what it writes, `read_spec` reads as the same plan.

use super::BatchRule;
use super::read::{ACTIONS, DOUBLED, FLOATS, PERS, SIDES, UNITS};
use super::spec::{FORMAT, LengthSpec, LoomSpec, OrderSpec, RaddleSpec, ReedSpec, Spec};
use crate::quantity::Fraction;
use serde_json::{Map, Value, json};

/// The plan file of a spec. Keys that were left unsaid and have no default are left out.
#[must_use]
pub fn spec_value(spec: &Spec) -> Value {
    let mut top = Map::new();
    let mut put = |key: &str, value: Option<Value>| {
        if let Some(value) = value {
            top.insert(key.to_owned(), value);
        }
    };
    put("endsmeet", Some(json!(FORMAT)));
    put("title", spec.title.clone().map(Value::from));
    put("units", word(spec.units, UNITS));
    put("sett", number(spec.sett));
    put("ends", spec.ends.map(Value::from));
    put("width", number(spec.width));
    put("finished_width", number(spec.finished_width));
    put("threading", spec.threading.clone().map(Value::from));
    put("floating_selvedges", word(spec.floats, FLOATS));
    put("group", number(spec.group));
    put("batch", spec.batch.map(batch));
    put("thread_from", word(spec.thread_from, SIDES));
    put("sley_from", word(spec.sley_from, SIDES));
    put("sley_order", spec.order.as_ref().and_then(order));
    put(
        "edges",
        object([
            ("ends", spec.edges.ends.map(Value::from)),
            ("doubled", word(spec.edges.doubled, DOUBLED)),
        ]),
    );
    put("loom", loom_value(&spec.loom));
    put("reeds", reeds_value(&spec.reeds));
    put("raddle", raddle_value(&spec.raddle));
    put("length", length(&spec.length));
    yarns(spec, &mut put);
    put(
        "wind",
        object([
            ("bout", spec.wind.bout.map(Value::from)),
            ("together", spec.wind.together.map(Value::from)),
        ]),
    );
    put("tie_up", rows(&spec.tie_up));
    put("treadling", spec.treadling.clone().map(Value::from));
    put("lift_plan", rows(&spec.lift_plan));
    Value::Object(top)
}

fn yarns(spec: &Spec, put: &mut impl FnMut(&str, Option<Value>)) {
    let yarns = spec.yarns.iter().filter_map(|y| {
        object([
            ("name", Some(json!(y.name))),
            ("size", y.size.clone().map(Value::from)),
            ("price", number(y.price)),
            ("colour", y.colour.clone().map(Value::from)),
        ])
    });
    put("yarns", filled(yarns.collect()));
    let colours = spec
        .colours
        .iter()
        .map(|c| json!({"yarn": c.yarn, "ends": c.ends}));
    put("colours", filled(colours.collect()));
    let weft = spec.weft.as_ref();
    put(
        "weft",
        weft.map(|w| json!({"yarn": w.yarn, "picks": w.picks.mixed()})),
    );
}

fn filled(list: Vec<Value>) -> Option<Value> {
    (!list.is_empty()).then_some(Value::Array(list))
}

fn rows(rows: &[Vec<u32>]) -> Option<Value> {
    (!rows.is_empty()).then(|| json!(rows))
}

/// A number where it is whole, a text with its exact fraction where not.
pub(super) fn number(value: Option<Fraction>) -> Option<Value> {
    let value = value?;
    let whole = i64::try_from(value.numerator())
        .ok()
        .filter(|_| value.is_whole());
    Some(whole.map_or_else(|| Value::from(value.mixed()), Value::from))
}

pub(super) fn word<T: Copy + PartialEq>(value: Option<T>, words: &[(&str, T)]) -> Option<Value> {
    let value = value?;
    words
        .iter()
        .find(|(_, v)| *v == value)
        .map(|(word, _)| json!(word))
}

fn object<const N: usize>(pairs: [(&str, Option<Value>); N]) -> Option<Value> {
    let kept: Map<String, Value> = pairs
        .into_iter()
        .filter_map(|(key, value)| Some((key.to_owned(), value?)))
        .collect();
    (!kept.is_empty()).then_some(Value::Object(kept))
}

fn batch(rule: BatchRule) -> Value {
    match rule {
        BatchRule::Repeat => json!("repeat"),
        BatchRule::Group => json!("group"),
        BatchRule::Number(n) => json!(n),
    }
}

fn order(order: &OrderSpec) -> Option<Value> {
    match order {
        OrderSpec::Computed => None,
        OrderSpec::Typed(dents) => Some(json!(dents)),
        OrderSpec::Sections(sections) => {
            let section = |s: &super::spec::OrderSection| {
                object([
                    ("order", Some(json!(s.order))),
                    ("ends", s.ends.map(Value::from)),
                ])
            };
            Some(Value::Array(sections.iter().filter_map(section).collect()))
        }
    }
}

pub(super) fn loom_value(loom: &LoomSpec) -> Option<Value> {
    object([
        ("name", loom.name.clone().map(Value::from)),
        ("action", word(loom.action, ACTIONS)),
        ("shafts", loom.shafts.map(Value::from)),
        ("treadles", loom.treadles.map(Value::from)),
        ("heddles", loom.heddles.as_ref().map(|h| json!(h))),
        ("width", number(loom.width)),
        ("beam_girth", number(loom.beam_girth)),
        ("packing", number(loom.packing)),
        ("front_allowance", number(loom.front_allowance)),
    ])
}

pub(super) fn reeds_value(reeds: &[ReedSpec]) -> Option<Value> {
    let reeds = reeds.iter().filter_map(|r| {
        object([
            ("dents", number(Some(r.dents))),
            ("per", word(r.per, PERS)),
            ("length", number(r.length)),
            ("off_centre", number(r.off_centre)),
        ])
    });
    filled(reeds.collect())
}

pub(super) fn raddle_value(raddle: &RaddleSpec) -> Option<Value> {
    object([
        ("spaces", number(raddle.spaces)),
        ("length", number(raddle.length)),
    ])
}

fn length(length: &LengthSpec) -> Option<Value> {
    object([
        ("finished", number(length.finished)),
        ("pieces", length.pieces.map(Value::from)),
        ("shrinkage", number(length.shrinkage)),
        ("take_up", number(length.take_up)),
        ("draw_in", number(length.draw_in)),
        ("waste", number(length.waste)),
        ("fringe", number(length.fringe)),
        ("spare", number(length.spare)),
    ])
}
