//! Which fields have nothing to ask, because another answer settles them or they hang on one that is
//! blank. Owns those rules; such a field can be reached and answered all the same.

use super::{FIELDS, Field, Form};

/// Why a field has nothing to ask.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moot {
    /// This field's answer settles it.
    Settled(&'static Field),
    /// It hangs on this field, which has no answer.
    HangsOn(&'static Field),
}

/// A field, and those of which any answer settles it.
const SETTLED: &[(&str, &[&str])] = &[
    ("ends", &["width", "finished_width"]),
    ("width", &["ends", "finished_width"]),
    ("finished_width", &["ends", "width"]),
    ("lift_plan", &["tie_up"]),
];

/// A field, and the one on which it hangs.
const HANGS_ON: &[(&str, &str)] = &[
    ("edges.doubled", "edges.ends"),
    ("length.pieces", "length.finished"),
    ("length.take_up", "length.finished"),
    ("length.waste", "length.finished"),
    ("length.fringe", "length.finished"),
    ("length.spare", "length.finished"),
    ("loom.packing", "loom.beam_girth"),
    ("colours", "yarns"),
    ("weft", "yarns"),
];

impl Form {
    /// Why a field has nothing to ask; `None` where it has, and where it was answered.
    #[must_use]
    pub fn moot(&self, key: &str) -> Option<Moot> {
        if self.answer(key).is_some() {
            return None;
        }
        let settled = SETTLED
            .iter()
            .filter(|(of, _)| *of == key)
            .flat_map(|(_, by)| *by)
            .find(|by| self.answer(by).is_some());
        if let Some(by) = settled {
            return field_of(by).map(Moot::Settled);
        }
        let on = HANGS_ON.iter().find(|(of, _)| *of == key)?.1;
        self.answer(on)
            .is_none_or(|answer| answer == "0")
            .then(|| field_of(on).map(Moot::HangsOn))?
    }
}

fn field_of(key: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|field| field.key == key)
}
