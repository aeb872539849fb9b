//! A file's tree read into typed entries, every fault noted and none fatal. Owns the keys that a
//! file may have; the same reader serves the method itself and a house's own file.

use super::fault::{MethodFault, Owner, Place};
use super::near::{harmless, nearest};
use super::source::Source;
use super::step::{Change, Variant, Wrong};
use super::tree::Tree;
use super::{LoomKind, Stage, StepId};

/// What a file says, as far as it could be read.
#[derive(Debug, Default)]
pub(super) struct Entries {
    pub(super) name: Option<String>,
    pub(super) out_of_scope: Option<String>,
    pub(super) defers: Option<String>,
    pub(super) stages: Vec<StageEntry>,
    pub(super) steps: Vec<StepEntry>,
}

/// A stage as a file gives it.
#[derive(Debug)]
pub(super) struct StageEntry {
    pub(super) id: Stage,
    pub(super) title: Option<String>,
    pub(super) aim: Option<String>,
    pub(super) far: Option<String>,
}

/// A step as a file gives it.
#[derive(Debug)]
pub(super) struct StepEntry {
    pub(super) id: StepId,
    pub(super) change: Change,
    pub(super) variants: Vec<Variant>,
    pub(super) optional: bool,
    pub(super) looms: Vec<LoomKind>,
    pub(super) skip: bool,
}

const TEXT_KEYS: [&str; 8] = [
    "title",
    "do",
    "far",
    "far_short",
    "say",
    "why",
    "wrong",
    "caution",
];
const FILE_KEYS: [&str; 5] = ["name", "out_of_scope", "defers", "stages", "steps"];

/// Reads one file: its entries, and what in them could not be read.
///
/// # Errors
///
/// Where the file as a whole is not one of the wanted kind, since nothing else can be said then.
pub(super) fn read(json: &str, source: Source) -> Result<(Entries, Vec<MethodFault>), MethodFault> {
    let mut reader = Reader {
        source,
        faults: Vec::new(),
    };
    let entries = match Tree::read(json)? {
        Tree::Keyed(entries) => entries,
        other => {
            return Err(MethodFault::Version {
                key: source.marker(),
                found: other.kind().to_owned(),
            });
        }
    };
    let mut keys = Keys {
        owner: Owner::File,
        prefix: String::new(),
        entries,
    };
    version(&mut keys, source.marker())?;
    let entries = reader.file(keys);
    Ok((entries, reader.faults))
}

fn version(keys: &mut Keys, key: &'static str) -> Result<(), MethodFault> {
    let found = match keys.take(key) {
        Some(Tree::Whole(1)) => return Ok(()),
        Some(Tree::Whole(other)) => other.to_string(),
        Some(other) => other.kind().to_owned(),
        None => "nothing".to_owned(),
    };
    Err(MethodFault::Version { key, found })
}

struct Reader {
    source: Source,
    faults: Vec<MethodFault>,
}

/// An object's keys, taken out one after the other; what is left at the end is unknown.
struct Keys {
    owner: Owner,
    prefix: String,
    entries: Vec<(String, Tree)>,
}

impl Keys {
    fn place(&self, key: &str) -> Place {
        Place {
            owner: self.owner.clone(),
            field: format!("{}{key}", self.prefix),
        }
    }

    fn take(&mut self, key: &str) -> Option<Tree> {
        let at = self.entries.iter().position(|(name, _)| name == key)?;
        Some(self.entries.remove(at).1)
    }
}

impl Reader {
    fn file(&mut self, mut keys: Keys) -> Entries {
        let mut into = Entries {
            name: self.text(&mut keys, "name"),
            out_of_scope: self.text(&mut keys, "out_of_scope"),
            defers: self.text(&mut keys, "defers"),
            ..Entries::default()
        };
        for (number, entry) in self
            .list(&mut keys, "stages")
            .into_iter()
            .flatten()
            .enumerate()
        {
            let stage = self.stage(entry, number + 1);
            into.stages.extend(stage);
        }
        for (number, entry) in self
            .list(&mut keys, "steps")
            .into_iter()
            .flatten()
            .enumerate()
        {
            let step = self.step(entry, number + 1);
            into.steps.extend(step);
        }
        let known: Vec<&str> = FILE_KEYS
            .into_iter()
            .chain([self.source.marker()])
            .collect();
        self.close(keys, &known);
        into
    }

    fn stage(&mut self, tree: Tree, number: usize) -> Option<StageEntry> {
        let entry = Owner::Entry {
            list: "stages",
            number,
        };
        let mut keys = self.keys(tree, entry, String::new())?;
        let known = Stage::ALL.map(Stage::name);
        let name = self.id(&mut keys, &known)?;
        let id = Stage::named(&name)?;
        keys.owner = Owner::Stage(id);
        let stage = StageEntry {
            id,
            title: self.text(&mut keys, "title"),
            aim: self.text(&mut keys, "aim"),
            far: self.text(&mut keys, "far"),
        };
        self.close(keys, &["id", "title", "aim", "far"]);
        Some(stage)
    }

    fn step(&mut self, tree: Tree, number: usize) -> Option<StepEntry> {
        let entry = Owner::Entry {
            list: "steps",
            number,
        };
        let mut keys = self.keys(tree, entry, String::new())?;
        let known = StepId::ALL.map(StepId::name);
        let name = self.id(&mut keys, &known)?;
        let id = StepId::named(&name)?;
        keys.owner = Owner::Step(id);
        let change = self.change(&mut keys);
        let variants = self.variants(&mut keys);
        let mut step = StepEntry {
            id,
            change,
            variants,
            optional: false,
            looms: Vec::new(),
            skip: false,
        };
        match self.source {
            Source::Method => {
                step.optional = self.truth(&mut keys, "optional");
                step.looms = self.looms(&mut keys);
            }
            Source::House => {
                step.skip = self.truth(&mut keys, "skip");
                self.refuse(&mut keys, &["optional", "looms"]);
            }
        }
        let own = if self.source == Source::House {
            "skip"
        } else {
            "optional"
        };
        let known: Vec<&str> = TEXT_KEYS
            .into_iter()
            .chain(["id", "variants", "looms", own])
            .collect();
        self.close(keys, &known);
        Some(step)
    }

    fn change(&mut self, keys: &mut Keys) -> Change {
        Change {
            title: self.text(keys, "title"),
            imperative: self.text(keys, "do"),
            far: self.text(keys, "far"),
            far_short: self.text(keys, "far_short"),
            say: self.text(keys, "say"),
            why: self.text(keys, "why"),
            wrong: self.wrong(keys),
            caution: self.text(keys, "caution"),
        }
    }

    fn wrong(&mut self, keys: &mut Keys) -> Option<Vec<Wrong>> {
        let items = self.list(keys, "wrong")?;
        let mut read = Vec::new();
        for (number, item) in items.into_iter().enumerate() {
            let prefix = format!("{}wrong[{}].", keys.prefix, number + 1);
            let Some(mut inner) = self.keys(item, keys.owner.clone(), prefix) else {
                continue;
            };
            // A lacking half is left empty here; the content check names it.
            read.push(Wrong {
                sign: self.text(&mut inner, "sign").unwrap_or_default(),
                then: self.text(&mut inner, "then").unwrap_or_default(),
            });
            self.close(inner, &["sign", "then"]);
        }
        Some(read)
    }

    fn variants(&mut self, keys: &mut Keys) -> Vec<Variant> {
        let mut read = Vec::new();
        for (number, item) in self
            .list(keys, "variants")
            .into_iter()
            .flatten()
            .enumerate()
        {
            let prefix = format!("variants[{}].", number + 1);
            let Some(mut inner) = self.keys(item, keys.owner.clone(), prefix) else {
                continue;
            };
            let looms = self.looms(&mut inner);
            if looms.is_empty() {
                self.faults.push(MethodFault::Missing {
                    place: inner.place("looms"),
                });
            }
            read.push(Variant {
                looms,
                change: self.change(&mut inner),
            });
            let known: Vec<&str> = TEXT_KEYS.into_iter().chain(["looms"]).collect();
            self.close(inner, &known);
        }
        read
    }

    fn looms(&mut self, keys: &mut Keys) -> Vec<LoomKind> {
        let place = keys.place("looms");
        let mut read = Vec::new();
        for item in self.list(keys, "looms").into_iter().flatten() {
            match item {
                Tree::Text(name) => match LoomKind::named(&name) {
                    Some(kind) => read.push(kind),
                    None => {
                        self.unknown_id(place.clone(), &name, &LoomKind::ALL.map(LoomKind::name))
                    }
                },
                other => self.shape(place.clone(), &other, "a kind of loom, such as \"jack\""),
            }
        }
        read
    }

    fn id(&mut self, keys: &mut Keys, known: &[&str]) -> Option<String> {
        let place = keys.place("id");
        let Some(name) = self.text(keys, "id") else {
            self.faults.push(MethodFault::Missing { place });
            return None;
        };
        if known.contains(&name.as_str()) {
            return Some(name);
        }
        self.unknown_id(place, &name, known);
        None
    }

    fn unknown_id(&mut self, place: Place, name: &str, known: &[&str]) {
        self.faults.push(MethodFault::UnknownId {
            place,
            found: harmless(name),
            near: nearest(name, known),
        });
    }

    fn text(&mut self, keys: &mut Keys, key: &str) -> Option<String> {
        match keys.take(key)? {
            Tree::Text(text) => Some(text.trim().to_owned()),
            other => {
                self.shape(keys.place(key), &other, "text");
                None
            }
        }
    }

    fn truth(&mut self, keys: &mut Keys, key: &str) -> bool {
        match keys.take(key) {
            None => false,
            Some(Tree::Truth(truth)) => truth,
            Some(other) => {
                self.shape(keys.place(key), &other, "true or false");
                false
            }
        }
    }

    fn list(&mut self, keys: &mut Keys, key: &str) -> Option<Vec<Tree>> {
        match keys.take(key)? {
            Tree::List(items) => Some(items),
            other => {
                self.shape(keys.place(key), &other, "a list");
                None
            }
        }
    }

    fn keys(&mut self, tree: Tree, owner: Owner, prefix: String) -> Option<Keys> {
        match tree {
            Tree::Keyed(entries) => Some(Keys {
                owner,
                prefix,
                entries,
            }),
            other => {
                let field = prefix.trim_end_matches('.').to_owned();
                self.shape(Place { owner, field }, &other, "an object in braces");
                None
            }
        }
    }

    fn shape(&mut self, place: Place, found: &Tree, expected: &'static str) {
        let found = found.kind();
        self.faults.push(MethodFault::WrongShape {
            place,
            found,
            expected,
        });
    }

    fn refuse(&mut self, keys: &mut Keys, list: &[&str]) {
        for key in list {
            if keys.take(key).is_some() {
                self.faults.push(MethodFault::NotForAHouse {
                    place: keys.place(key),
                });
            }
        }
    }

    /// Names what is left over: a known key again, or an unknown one.
    fn close(&mut self, keys: Keys, known: &[&str]) {
        for (key, _) in &keys.entries {
            let fault = if known.contains(&key.as_str()) {
                MethodFault::KeyTwice {
                    place: keys.place(&harmless(key)),
                }
            } else {
                let field = keys.prefix.trim_end_matches('.').to_owned();
                let place = Place {
                    owner: keys.owner.clone(),
                    field,
                };
                MethodFault::UnknownKey {
                    place,
                    key: harmless(key),
                    near: nearest(key, known),
                }
            };
            self.faults.push(fault);
        }
    }
}
