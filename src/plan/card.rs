//! Loom cards: a loom and its reeds, measured once and used for many plans.
//! Owns the card's text and how it goes into a plan; knows no folder.

use super::fields::{Fields, Reader};
use super::raw::{Raw, read_raw};
use super::read::{LOOM, UNITS, loom, raddle, reed};
use super::spec::{LoomSpec, RaddleSpec, ReedSpec, Spec};
use super::write::{loom_value, number, raddle_value, reeds_value, word};
use super::{Problem, Units};
use crate::quantity::{Fraction, cm_per_inch};
use serde_json::{Map, Value, json};

/// The format number of a card.
const FORMAT: u32 = 1;

/// A loom, measured once.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct LoomCard {
    /// Its name, made harmless.
    pub name: Option<String>,
    /// Units of every length on the card; inches where nothing was said.
    pub units: Option<Units>,
    /// Action, shafts, treadles, heddles, width, girth, packing, front allowance.
    pub loom: LoomSpec,
    /// Hooks that hold each heddle bar; heddles do not slide past them.
    pub bar_hooks: Option<u32>,
    /// From the left end of the breast beam to the loom's middle line.
    pub middle: Option<Fraction>,
    /// Reeds that go with it.
    pub reeds: Vec<ReedSpec>,
    /// Its raddle.
    pub raddle: RaddleSpec,
}

const CARD: &[&str] = &[
    "endsmeet_loom",
    "name",
    "units",
    "loom",
    "bar_hooks",
    "middle",
    "reeds",
    "raddle",
];

fn card(f: &mut Fields<'_, '_>) -> LoomCard {
    if let Some((reader, raw, _)) = f.get("endsmeet_loom")
        && !matches!(raw, Raw::Number(n) if *n == FORMAT.to_string())
    {
        let found = raw.kind();
        reader.problems.push(Problem::NewerFormat { found });
    }
    LoomCard {
        name: f.name("name"),
        units: f.word("units", UNITS),
        loom: f.object("loom", LOOM, loom),
        bar_hooks: f.count("bar_hooks", 0, 100),
        middle: f.positive("middle", 100_000),
        reeds: f.objects("reeds", super::read::REED, 64, reed),
        raddle: f.object("raddle", &["spaces", "length"], raddle),
    }
}

impl LoomCard {
    /// Reads a card's JSON text.
    ///
    /// # Errors
    /// Every problem at once, as for a plan.
    pub fn read(text: &str) -> Result<Self, Vec<Problem>> {
        let mut problems = Vec::new();
        let raw = match read_raw(text, &mut problems) {
            Ok(raw) => raw,
            Err(problem) => return Err(vec![problem]),
        };
        let mut reader = Reader { problems };
        let found = reader.object(&raw, "", CARD, card).unwrap_or_default();
        if reader.problems.is_empty() {
            Ok(found)
        } else {
            Err(reader.problems)
        }
    }

    /// The card as JSON; `read` reads it as the same card.
    #[must_use]
    pub fn value(&self) -> Value {
        let mut top = Map::new();
        top.insert("endsmeet_loom".into(), json!(FORMAT));
        for (key, value) in [
            ("name", self.name.clone().map(Value::from)),
            ("units", word(self.units, UNITS)),
            ("loom", loom_value(&self.loom)),
            ("bar_hooks", self.bar_hooks.map(Value::from)),
            ("middle", number(self.middle)),
            ("reeds", reeds_value(&self.reeds)),
            ("raddle", raddle_value(&self.raddle)),
        ] {
            if let Some(value) = value {
                top.insert(key.into(), value);
            }
        }
        Value::Object(top)
    }

    /// The loom of a plan, as a card.
    #[must_use]
    pub fn of_spec(spec: &Spec) -> Self {
        Self {
            name: spec.loom.name.clone(),
            units: spec.units,
            loom: spec.loom.clone(),
            reeds: spec.reeds.clone(),
            raddle: spec.raddle.clone(),
            ..Self::default()
        }
    }

    /// Puts the loom, its reeds and its raddle into a plan in the plan's own units (1 in = 2.54 cm
    /// exactly). What the card does not know stays as the plan had it.
    pub fn put_into(&self, spec: &mut Spec) {
        let (from, to) = (self.units.unwrap_or(Units::In), spec.units());
        let length = |value: Option<Fraction>| value.and_then(|v| converted(v, from, to));
        let (ours, theirs) = (&self.loom, &mut spec.loom);
        keep(&mut theirs.name, self.name.clone().or(ours.name.clone()));
        keep(&mut theirs.action, ours.action);
        keep(&mut theirs.shafts, ours.shafts);
        keep(&mut theirs.treadles, ours.treadles);
        keep(&mut theirs.heddles, ours.heddles.clone());
        keep(&mut theirs.width, length(ours.width));
        keep(&mut theirs.beam_girth, length(ours.beam_girth));
        keep(&mut theirs.packing, length(ours.packing));
        keep(&mut theirs.front_allowance, length(ours.front_allowance));
        keep(&mut spec.raddle.length, length(self.raddle.length));
        // Spaces count per unit: the other way about.
        let spaces = self.raddle.spaces.and_then(|v| converted(v, to, from));
        keep(&mut spec.raddle.spaces, spaces);
        if !self.reeds.is_empty() {
            let reed = |r: &ReedSpec| ReedSpec {
                dents: r.dents,
                per: Some(super::reeds::per_of(r, from)),
                length: length(r.length),
                off_centre: length(r.off_centre),
            };
            spec.reeds = self.reeds.iter().map(reed).collect();
        }
    }
}

fn keep<T>(theirs: &mut Option<T>, ours: Option<T>) {
    if ours.is_some() {
        *theirs = ours;
    }
}

fn converted(value: Fraction, from: Units, to: Units) -> Option<Fraction> {
    match (from, to) {
        (Units::In, Units::Cm) => value.times(cm_per_inch()),
        (Units::Cm, Units::In) => value.over(cm_per_inch()),
        (Units::In, Units::In) | (Units::Cm, Units::Cm) => Some(value),
    }
}
