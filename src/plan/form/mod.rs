//! The form that leads through a plan field by field: what is asked, what was typed, and what it comes to
//! so far. Owns the answers as they were typed; draws nothing and knows no key that is pressed.
//!
//! A form is never wrong as a whole: an answer that cannot be read is refused when it is given, and what
//! does not fit shows in [`Form::figures`]. Any field can be reached at any time, and [`Form::saved`]
//! keeps a form that was left half-way.

mod fields;
mod moot;
mod text;

pub use fields::{FIELDS, Field, Kind};
pub use moot::Moot;

use super::{Figures, LoomCard, Problem, Spec, read_spec, spec_value, work_out};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// The format number of a saved form.
const FORMAT: u64 = 1;

/// A form in hand.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Form {
    answers: BTreeMap<&'static str, String>,
    at: usize,
}

impl Form {
    /// An empty form, at its first field.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// A form that holds what a plan says, at the first field that is needed and still open.
    #[must_use]
    pub fn of_spec(spec: &Spec) -> Self {
        let plan = spec_value(spec);
        let mut form = Self::new();
        for field in FIELDS {
            let text = value_at(&plan, field.key).and_then(|v| text::text_of(field.kind, v));
            if let Some(text) = text {
                form.answers.insert(field.key, text);
            }
        }
        form.at = form.first_open().unwrap_or(0);
        form
    }

    /// The field that is asked now.
    #[must_use]
    pub fn field(&self) -> &'static Field {
        FIELDS.get(self.at).unwrap_or(&FIELDS[0])
    }

    /// The number of the field that is asked now, from 1, and of how many.
    #[must_use]
    pub fn place(&self) -> (usize, usize) {
        (self.at + 1, FIELDS.len())
    }

    /// Goes to the next field; `false` at the last.
    pub fn forward(&mut self) -> bool {
        let further = self.at + 1 < FIELDS.len();
        self.at += usize::from(further);
        further
    }

    /// Goes to the field before; `false` at the first.
    pub fn back(&mut self) -> bool {
        let further = self.at > 0;
        self.at -= usize::from(further);
        further
    }

    /// Goes to a field by its key; `false` where there is none of that name.
    pub fn go(&mut self, key: &str) -> bool {
        let found = FIELDS.iter().position(|f| f.key == key);
        self.at = found.unwrap_or(self.at);
        found.is_some()
    }

    /// Goes to the next field that has something to ask, as after an answer: what other answers settle
    /// is passed over, and without a number of ends the widths come next. `false` where nothing is left.
    pub fn onward(&mut self) -> bool {
        let here = self.field().key;
        if here == "ends" && self.moot("ends").is_none() && self.answer("ends").is_none() {
            return self.go("width");
        }
        let widths = ["width", "finished_width"];
        let settled = |key| self.moot(key).is_some() || self.answer("width").is_some();
        let next = (self.at + 1..FIELDS.len()).find(|i| {
            let key = FIELDS[*i].key;
            !(self.moot(key).is_some() || widths.contains(&key) && settled(key))
        });
        let open = self.first_open().filter(|_| {
            widths.contains(&here) && next.is_none_or(|i| !widths.contains(&FIELDS[i].key))
        });
        self.at = open.or(next).unwrap_or(self.at);
        open.or(next).is_some()
    }

    /// Goes to the field that is meant by a number as in [`Self::place`], a key, or words of what it
    /// asks; `false` where there is none.
    pub fn go_to(&mut self, meant: &str) -> bool {
        let meant = meant.trim().to_lowercase();
        let number = meant.parse().ok().and_then(|n: usize| n.checked_sub(1));
        let found = number.filter(|i| *i < FIELDS.len()).or_else(|| {
            let by = |is: &dyn Fn(&Field) -> bool| FIELDS.iter().position(is);
            by(&|f| f.key == meant)
                .or_else(|| by(&|f| f.asks.to_lowercase() == meant))
                .or_else(|| by(&|f| !meant.is_empty() && f.asks.to_lowercase().starts_with(&meant)))
                .or_else(|| by(&|f| !meant.is_empty() && f.asks.to_lowercase().contains(&meant)))
        });
        self.at = found.unwrap_or(self.at);
        found.is_some()
    }

    /// What was typed for a field.
    #[must_use]
    pub fn answer(&self, key: &str) -> Option<&str> {
        self.answers.get(key).map(String::as_str)
    }

    /// Takes what was typed for the field that is asked now. Blank takes the answer away, so that the
    /// usual value stands.
    ///
    /// # Errors
    /// The problems of this answer alone; the form is unchanged then.
    pub fn set(&mut self, typed: &str) -> Result<(), Vec<Problem>> {
        let field = self.field();
        let typed = typed.trim();
        if typed.is_empty() {
            self.answers.remove(field.key);
            return Ok(());
        }
        let mut alone = Self::new();
        alone.answers.insert(field.key, typed.to_owned());
        let spec = read_spec(&alone.plan().to_string())?;
        let unreadable = text::unreadable(&spec);
        if !unreadable.is_empty() {
            return Err(unreadable);
        }
        self.answers.insert(field.key, typed.to_owned());
        Ok(())
    }

    /// The first field that is needed and has no answer.
    #[must_use]
    pub fn first_open(&self) -> Option<usize> {
        FIELDS.iter().position(|field| self.is_open(field))
    }

    /// Every field that is needed and has no answer.
    #[must_use]
    pub fn still_needed(&self) -> Vec<&'static Field> {
        FIELDS.iter().filter(|field| self.is_open(field)).collect()
    }

    /// Whether a field is needed and has no answer yet.
    #[must_use]
    pub fn is_open(&self, field: &Field) -> bool {
        field.needed && self.answer(field.key).is_none() && self.moot(field.key).is_none()
    }

    /// The answers as a plan file.
    #[must_use]
    pub fn plan(&self) -> Value {
        let mut plan = json!({ "endsmeet": super::spec::FORMAT });
        for field in FIELDS {
            if let Some(typed) = self.answers.get(field.key) {
                put(&mut plan, field.key, text::value_of(field.kind, typed));
            }
        }
        plan
    }

    /// The plan so far.
    ///
    /// # Errors
    /// None that `set` lets in; kept for a form that was read from a damaged file.
    pub fn spec(&self) -> Result<Spec, Vec<Problem>> {
        read_spec(&self.plan().to_string())
    }

    /// What the answers come to so far: figures, problems, remarks, and the usual values that stand.
    #[must_use]
    pub fn figures(&self) -> Figures {
        match self.spec() {
            Ok(spec) => work_out(&spec),
            Err(problems) => {
                let mut figures = work_out(&Spec::default());
                figures.problems = problems;
                figures
            }
        }
    }

    /// The usual value that stands where nothing was typed, as a text.
    #[must_use]
    pub fn usual(figures: &Figures, key: &str) -> Option<String> {
        figures
            .filled
            .iter()
            .find(|f| f.path == key)
            .map(|f| f.value.clone())
    }

    /// Fills loom, reeds and raddle from a loom card; what was typed before for them gives way.
    pub fn use_card(&mut self, card: &LoomCard) {
        let mut spec = self.spec().unwrap_or_default();
        card.put_into(&mut spec);
        let at = self.at;
        *self = Self::of_spec(&spec);
        self.at = at;
    }

    /// The form as JSON, to be kept when it is left half-way.
    #[must_use]
    pub fn saved(&self) -> Value {
        let answers: Map<String, Value> = self
            .answers
            .iter()
            .map(|(key, typed)| ((*key).to_owned(), Value::from(typed.clone())))
            .collect();
        json!({ "endsmeet_form": FORMAT, "at": self.field().key, "answers": answers })
    }

    /// A form that was kept. Answers that can no longer be read are left out and named, never lost in
    /// silence.
    ///
    /// # Errors
    /// A sentence where the text is no saved form.
    pub fn of_saved(saved: &str) -> Result<(Self, Vec<String>), String> {
        let again = "Start the form anew, or mend the file";
        let value: Value = serde_json::from_str(saved)
            .map_err(|e| format!("the saved form cannot be read: {e}. {again}"))?;
        if value["endsmeet_form"].as_u64() != Some(FORMAT) {
            return Err(format!("this is no saved form of format {FORMAT}. {again}"));
        }
        let mut form = Self::new();
        let mut lost = Vec::new();
        for (key, typed) in value["answers"].as_object().into_iter().flatten() {
            let known = form.go(key);
            let taken = typed
                .as_str()
                .filter(|_| known)
                .is_some_and(|typed| form.set(typed).is_ok());
            if !taken {
                lost.push(crate::quantity::harmless_within(key, 40));
            }
        }
        form.at = 0;
        form.go(value["at"].as_str().unwrap_or(""));
        Ok((form, lost))
    }
}

/// The value at `loom.heddles`.
fn value_at<'v>(plan: &'v Value, key: &str) -> Option<&'v Value> {
    key.split('.').try_fold(plan, |value, part| value.get(part))
}

fn put(plan: &mut Value, key: &str, value: Value) {
    match key.split_once('.') {
        None => plan[key] = value,
        Some((outer, inner)) => {
            if !plan[outer].is_object() {
                plan[outer] = json!({});
            }
            plan[outer][inner] = value;
        }
    }
}
