//! The texts of the stages and steps. Owns their shape and how a loom's own wording lies over the
//! common one; never reads a file and never judges a text.

use super::{LoomKind, Stage, StepId};

/// A sign that something goes wrong, and what to do then.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wrong {
    /// What the weaver sees or feels.
    pub sign: String,
    /// What to do then.
    pub then: String,
}

/// Everything that is said about a step.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Texts {
    /// A few words that name the step; `title` in the file.
    pub title: String,
    /// One imperative sentence, 20 words at most; `do` in the file.
    pub imperative: String,
    /// Read from two metres: 20 columns at most.
    pub far: String,
    /// The same at the plainest size: 10 columns at most.
    pub far_short: String,
    /// What a voice reads: no symbols, units written out.
    pub say: String,
    /// Why the step matters.
    pub why: String,
    /// What goes wrong, and what to do then; one or more.
    pub wrong: Vec<Wrong>,
    /// Where the work can hurt.
    pub caution: Option<String>,
}

/// The texts that a file gives; what it does not give stays as it was.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Change {
    pub(super) title: Option<String>,
    pub(super) imperative: Option<String>,
    pub(super) far: Option<String>,
    pub(super) far_short: Option<String>,
    pub(super) say: Option<String>,
    pub(super) why: Option<String>,
    pub(super) wrong: Option<Vec<Wrong>>,
    pub(super) caution: Option<String>,
}

impl Change {
    /// Lays the given texts over `texts`.
    pub(super) fn apply(&self, texts: &mut Texts) {
        lay(&mut texts.title, self.title.as_ref());
        lay(&mut texts.imperative, self.imperative.as_ref());
        lay(&mut texts.far, self.far.as_ref());
        lay(&mut texts.far_short, self.far_short.as_ref());
        lay(&mut texts.say, self.say.as_ref());
        lay(&mut texts.why, self.why.as_ref());
        lay(&mut texts.wrong, self.wrong.as_ref());
        if self.caution.is_some() {
            texts.caution.clone_from(&self.caution);
        }
    }
}

impl Change {
    /// Hands over each text with its key; a text that is not given is left out.
    fn for_each_part(&self, add: &mut impl FnMut(&str)) {
        let texts = [
            ("title", &self.title),
            ("do", &self.imperative),
            ("far", &self.far),
            ("far_short", &self.far_short),
            ("say", &self.say),
            ("why", &self.why),
            ("caution", &self.caution),
        ];
        for (key, text) in texts {
            if let Some(text) = text {
                add(key);
                add(text);
            }
        }
        for Wrong { sign, then } in self.wrong.iter().flatten() {
            add("wrong");
            add(sign);
            add(then);
        }
    }
}

impl From<&Texts> for Change {
    fn from(texts: &Texts) -> Self {
        Self {
            title: Some(texts.title.clone()),
            imperative: Some(texts.imperative.clone()),
            far: Some(texts.far.clone()),
            far_short: Some(texts.far_short.clone()),
            say: Some(texts.say.clone()),
            why: Some(texts.why.clone()),
            wrong: Some(texts.wrong.clone()),
            caution: texts.caution.clone(),
        }
    }
}

fn lay<T: Clone>(old: &mut T, new: Option<&T>) {
    if let Some(new) = new {
        old.clone_from(new);
    }
}

/// A loom's own wording of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Variant {
    pub(super) looms: Vec<LoomKind>,
    pub(super) change: Change,
}

/// A step of the method.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// Which step it is.
    pub id: StepId,
    /// What is said about it where the loom has no wording of its own; see [`Step::on`].
    pub texts: Texts,
    /// Whether a house may leave it out.
    pub optional: bool,
    /// The kinds of loom that it is meant for; empty for all.
    pub looms: Vec<LoomKind>,
    /// Whether this house leaves it out.
    pub skipped: bool,
    pub(super) variants: Vec<Variant>,
}

impl Step {
    /// Whether the step is done on such a loom.
    #[must_use]
    pub fn applies_to(&self, loom: LoomKind) -> bool {
        self.looms.is_empty() || self.looms.contains(&loom)
    }

    /// What is said about the step on such a loom.
    #[must_use]
    pub fn on(&self, loom: LoomKind) -> Texts {
        let mut texts = self.texts.clone();
        for variant in &self.variants {
            if variant.looms.contains(&loom) {
                variant.change.apply(&mut texts);
            }
        }
        texts
    }

    /// Hands over everything that makes up the step, in one fixed order.
    pub(super) fn for_each_part(&self, add: &mut impl FnMut(&str)) {
        let whole = Change::from(&self.texts);
        for flag in [self.optional, self.skipped] {
            add(if flag { "yes" } else { "no" });
        }
        self.looms.iter().for_each(|kind| add(kind.name()));
        whole.for_each_part(add);
        for variant in &self.variants {
            variant.looms.iter().for_each(|kind| add(kind.name()));
            variant.change.for_each_part(add);
        }
    }
}

/// What is said about a stage.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StageText {
    /// Which stage it is.
    pub id: Stage,
    /// Its name, 10 columns at most, so that it also serves at the plainest size.
    pub title: String,
    /// What it is for, in one sentence.
    pub aim: String,
    /// Read from two metres: 20 columns at most.
    pub far: String,
}
