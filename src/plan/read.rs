//! Reading a plan file: from the raw tree to a [`Spec`], every problem at once.
//! Owns the keys, their kinds and ranges; never works a plan out.

use super::fields::{Fields, Reader};
use super::raw::{Raw, read_raw};
use super::spec::{
    ColourSpec, Doubled, EdgeSpec, FORMAT, LengthSpec, LoomSpec, MOST_DENTS, MOST_ENDS,
    MOST_SHAFTS, MOST_TREADLES, OrderSection, OrderSpec, Per, RaddleSpec, ReedSpec, Spec, WeftSpec,
    WindSpec, YarnSpec,
};
use super::{Action, BatchRule, Floats, Problem, Side, Units};
use crate::quantity::Fraction;

const TOP: &[&str] = &[
    "endsmeet",
    "title",
    "units",
    "sett",
    "ends",
    "width",
    "finished_width",
    "threading",
    "floating_selvedges",
    "group",
    "batch",
    "thread_from",
    "sley_from",
    "sley_order",
    "edges",
    "loom",
    "reeds",
    "raddle",
    "length",
    "yarns",
    "colours",
    "weft",
    "wind",
    "tie_up",
    "treadling",
    "lift_plan",
];

/// The words of `floating_selvedges`.
pub(super) const FLOATS: &[(&str, Floats)] = &[
    ("none", Floats::None),
    ("from-warp", Floats::FromWarp),
    ("added", Floats::Added),
];
/// The words of `loom.action`.
pub(super) const ACTIONS: &[(&str, Action)] = &[
    ("jack", Action::Jack),
    ("counterbalance", Action::Counterbalance),
    ("countermarch", Action::Countermarch),
    ("table", Action::Table),
    ("lift", Action::Lift),
];
/// The words of `thread_from` and `sley_from`.
pub(super) const SIDES: &[(&str, Side)] = &[("right", Side::Right), ("left", Side::Left)];
/// The words of `units`.
pub(super) const UNITS: &[(&str, Units)] = &[("in", Units::In), ("cm", Units::Cm)];
/// The words of `reeds[].per`.
pub(super) const PERS: &[(&str, Per)] = &[("in", Per::In), ("cm", Per::Cm), ("10cm", Per::TenCm)];
/// The words of `edges.doubled`.
pub(super) const DOUBLED: &[(&str, Doubled)] = &[
    ("dent", Doubled::Dent),
    ("heddle", Doubled::Heddle),
    ("both", Doubled::Both),
];

/// Reads a plan file's text.
///
/// # Errors
/// Every problem found, in the order of the file.
pub fn read_spec(text: &str) -> Result<Spec, Vec<Problem>> {
    let mut problems = Vec::new();
    let raw = match read_raw(text, &mut problems) {
        Ok(raw) => raw,
        Err(problem) => {
            problems.push(problem);
            return Err(problems);
        }
    };
    let mut reader = Reader { problems };
    let spec = reader.object(&raw, "", TOP, spec).unwrap_or_default();
    if reader.problems.is_empty() {
        Ok(spec)
    } else {
        Err(reader.problems)
    }
}

fn spec(f: &mut Fields<'_, '_>) -> Spec {
    format(f);
    Spec {
        title: f.name("title"),
        units: f.word("units", UNITS),
        sett: f.positive("sett", 10_000),
        ends: f.count("ends", 1, MOST_ENDS),
        width: f.positive("width", 100_000),
        finished_width: f.positive("finished_width", 100_000),
        threading: f.text("threading"),
        floats: f.word("floating_selvedges", FLOATS),
        group: f.positive("group", 1_000),
        batch: f
            .get("batch")
            .and_then(|(r, raw, path)| batch(r, raw, path)),
        thread_from: f.word("thread_from", SIDES),
        sley_from: f.word("sley_from", SIDES),
        order: f
            .get("sley_order")
            .and_then(|(r, raw, path)| order(r, raw, path)),
        edges: f.object("edges", &["ends", "doubled"], edges),
        loom: f.object("loom", LOOM, loom),
        reeds: f.objects("reeds", REED, 64, reed),
        raddle: f.object("raddle", &["spaces", "length"], raddle),
        length: f.object("length", LENGTH, length),
        yarns: f.objects("yarns", &["name", "size", "price", "colour"], 256, yarn),
        colours: f.objects("colours", &["yarn", "ends"], 10_000, colour),
        weft: f.maybe_object("weft", &["yarn", "picks"], weft),
        wind: f.object("wind", &["bout", "together"], wind),
        tie_up: f.lists("tie_up", MOST_TREADLES, MOST_SHAFTS),
        treadling: f.text("treadling"),
        lift_plan: f.lists("lift_plan", 100_000, MOST_SHAFTS),
    }
}

fn format(f: &mut Fields<'_, '_>) {
    if let Some((reader, raw, _)) = f.get("endsmeet") {
        let known = matches!(raw, Raw::Number(n) if *n == FORMAT.to_string());
        if !known {
            let found = raw.kind();
            reader.problems.push(Problem::NewerFormat { found });
        }
    }
}

/// The keys of `loom`.
pub(super) const LOOM: &[&str] = &[
    "name",
    "action",
    "shafts",
    "treadles",
    "heddles",
    "width",
    "beam_girth",
    "packing",
    "front_allowance",
];

pub(super) fn loom(f: &mut Fields<'_, '_>) -> LoomSpec {
    LoomSpec {
        name: f.name("name"),
        action: f.word("action", ACTIONS),
        shafts: f.count("shafts", 1, MOST_SHAFTS),
        treadles: f.count("treadles", 0, MOST_TREADLES),
        heddles: f.counts("heddles", MOST_SHAFTS, 0, MOST_ENDS),
        width: f.positive("width", 100_000),
        beam_girth: f.positive("beam_girth", 10_000),
        packing: f.positive("packing", 10),
        front_allowance: f.not_negative("front_allowance", 10_000),
    }
}

fn edges(f: &mut Fields<'_, '_>) -> EdgeSpec {
    EdgeSpec {
        ends: f.count("ends", 0, MOST_ENDS),
        doubled: f.word("doubled", DOUBLED),
    }
}

pub(super) fn raddle(f: &mut Fields<'_, '_>) -> RaddleSpec {
    RaddleSpec {
        spaces: f.positive("spaces", 100),
        length: f.positive("length", 100_000),
    }
}

const LENGTH: &[&str] = &[
    "finished",
    "pieces",
    "shrinkage",
    "take_up",
    "draw_in",
    "waste",
    "fringe",
    "spare",
];

fn length(f: &mut Fields<'_, '_>) -> LengthSpec {
    LengthSpec {
        finished: f.positive("finished", 1_000_000),
        pieces: f.count("pieces", 1, 10_000),
        shrinkage: f.share("shrinkage"),
        take_up: f.share("take_up"),
        draw_in: f.share("draw_in"),
        waste: f.not_negative("waste", 100_000),
        fringe: f.not_negative("fringe", 100_000),
        spare: f.share("spare"),
    }
}

fn wind(f: &mut Fields<'_, '_>) -> WindSpec {
    WindSpec {
        bout: f.count("bout", 1, MOST_ENDS),
        together: f.count("together", 1, 200),
    }
}

/// The keys of `reeds[]`.
pub(super) const REED: &[&str] = &["dents", "per", "length", "off_centre"];

pub(super) fn reed(f: &mut Fields<'_, '_>) -> Option<ReedSpec> {
    let per = f.word("per", PERS);
    let length = f.positive("length", 100_000);
    let off_centre = f.within("off_centre", 10_000);
    if let Some(dents) = old_number(f) {
        return Some(ReedSpec {
            dents,
            per: Some(Per::In),
            length,
            off_centre,
        });
    }
    let dents = f.needed("dents", |f, key| f.positive(key, i64::from(MOST_DENTS)))?;
    Some(ReedSpec {
        dents,
        per,
        length,
        off_centre,
    })
}

/// A reed's number of an old district, such as `72 bradford`.
fn old_number(f: &mut Fields<'_, '_>) -> Option<Fraction> {
    let (_, raw, _) = f.get("dents")?;
    match raw {
        Raw::Text(text) => super::old_reeds::old_reed(text),
        _ => None,
    }
}

fn yarn(f: &mut Fields<'_, '_>) -> Option<YarnSpec> {
    let (size, price) = (f.name("size"), f.not_negative("price", 1_000_000));
    let colour = f.colour("colour");
    let name = f.needed("name", Fields::name)?;
    Some(YarnSpec {
        name,
        size,
        price,
        colour,
    })
}

fn colour(f: &mut Fields<'_, '_>) -> Option<ColourSpec> {
    let yarn = f.needed("yarn", Fields::name);
    let ends = f.needed("ends", |f, key| f.count(key, 1, MOST_ENDS));
    Some(ColourSpec {
        yarn: yarn?,
        ends: ends?,
    })
}

fn weft(f: &mut Fields<'_, '_>) -> Option<WeftSpec> {
    let yarn = f.needed("yarn", Fields::name);
    let picks = f.needed("picks", |f, key| f.positive(key, 10_000));
    Some(WeftSpec {
        yarn: yarn?,
        picks: picks?,
    })
}

fn batch(reader: &mut Reader, raw: &Raw, path: String) -> Option<BatchRule> {
    match raw {
        Raw::Text(t) if t == "repeat" => Some(BatchRule::Repeat),
        Raw::Text(t) if t == "group" => Some(BatchRule::Group),
        Raw::Text(t) if !t.starts_with(|c: char| c.is_ascii_digit()) => {
            let found = crate::quantity::harmless_within(t, 40);
            let words = vec!["repeat", "group", "a number from 1 to 64"];
            reader
                .problems
                .push(Problem::NotOneOf { path, found, words });
            None
        }
        _ => reader.count(raw, path, 1, 64).map(BatchRule::Number),
    }
}

fn order(reader: &mut Reader, raw: &Raw, path: String) -> Option<OrderSpec> {
    let sections =
        matches!(raw, Raw::List(items) if items.iter().any(|i| matches!(i, Raw::Object(_))));
    if !sections {
        return one_order(reader, raw, path).map(OrderSpec::Typed);
    }
    let Raw::List(items) = raw else { return None };
    let mut found = Vec::with_capacity(items.len());
    for (i, item) in items.iter().enumerate() {
        let path = format!("{path}[{i}]");
        let section = reader.object(item, &path, &["order", "ends"], |f| {
            let ends = f.count("ends", 1, MOST_ENDS);
            let order = f
                .get("order")
                .and_then(|(r, raw, path)| one_order(r, raw, path));
            (order, ends)
        });
        match section {
            Some((Some(order), ends)) => found.push(OrderSection { order, ends }),
            Some((None, _)) => {
                let expected = "\"order\": a list such as [2, 0, 1]";
                reader.wrong(path, item, expected);
            }
            None => {}
        }
    }
    Some(OrderSpec::Sections(found))
}

fn one_order(reader: &mut Reader, raw: &Raw, path: String) -> Option<Vec<u32>> {
    let order = match raw {
        Raw::Text(text) => {
            let parts = text.split([' ', ',', '-']).filter(|part| !part.is_empty());
            let list = parts.map(|part| Raw::Text(part.to_owned())).collect();
            reader.counts(&Raw::List(list), path.clone(), 4096, 0, 64)?
        }
        _ => reader.counts(raw, path.clone(), 4096, 0, 64)?,
    };
    if order.iter().all(|&ends| ends == 0) {
        reader.problems.push(Problem::OrderEmpty { path });
        return None;
    }
    Some(order)
}
