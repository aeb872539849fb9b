//! The content check: every text judged as content, the method's own and a house's alike. Owns the
//! rules and their limits; never changes a text and never reads a file.

use super::fault::{MethodFault, Owner, Place};
use super::figure::sentences;
use super::rules::{Kind, Spot, bare_word, judge};
use super::step::{Change, StageText, Step, Wrong};
use super::{Method, StepId};
use std::collections::BTreeMap;

/// The most signs of trouble that a step shows.
pub const MOST_WRONG: usize = 6;

/// The steps in which the work can hurt: crank, pawl and ratchet; brake; hook; scissors; lifting;
/// posture; knots under strain; pins and treadles. Each has to carry a caution.
pub const HAZARDS: [StepId; 24] = [
    StepId::Gather,
    StepId::MoveHeddles,
    StepId::ClearShafts,
    StepId::WindGroup,
    StepId::RaddleFast,
    StepId::BeaterOut,
    StepId::RodsToBeam,
    StepId::BeamTurn,
    StepId::StopBeaming,
    StepId::PawlAndBrake,
    StepId::CutLoops,
    StepId::ThreadBatch,
    StepId::ReedIn,
    StepId::SleyGroup,
    StepId::RaddleOut,
    StepId::TieFirst,
    StepId::TieSecond,
    StepId::TieThird,
    StepId::TieUp,
    StepId::PinsOut,
    StepId::OpenShed,
    StepId::MendEnds,
    StepId::Header,
    StepId::FirstPicks,
];

/// Every fault of the content; empty for a method that may be used.
#[must_use]
pub fn check(method: &Method) -> Vec<MethodFault> {
    let header = [
        (Kind::Name, "name", method.name.as_str()),
        (Kind::Scope, "out_of_scope", method.out_of_scope.as_str()),
        (Kind::Defers, "defers", method.defers.as_str()),
    ];
    let mut spots: Vec<Spot> = header
        .into_iter()
        .map(|(kind, field, text)| spot(&Owner::File, "", field, kind, text))
        .collect();
    spots.extend(method.stages.iter().flat_map(stage_spots));
    spots.extend(method.steps.iter().flat_map(step_spots));
    let mut faults: Vec<MethodFault> = spots.iter().flat_map(judge).collect();
    faults.extend(said_twice(&spots));
    faults.extend(method.steps.iter().flat_map(judge_step));
    faults
}

fn spot<'a>(owner: &Owner, prefix: &str, field: &str, kind: Kind, text: &'a str) -> Spot<'a> {
    let place = Place {
        owner: owner.clone(),
        field: format!("{prefix}{field}"),
    };
    Spot { place, kind, text }
}

fn stage_spots(stage: &StageText) -> Vec<Spot<'_>> {
    let owner = Owner::Stage(stage.id);
    vec![
        spot(&owner, "", "title", Kind::StageTitle, &stage.title),
        spot(&owner, "", "aim", Kind::Aim, &stage.aim),
        spot(&owner, "", "far", Kind::Far, &stage.far),
    ]
}

fn step_spots(step: &Step) -> Vec<Spot<'_>> {
    let owner = Owner::Step(step.id);
    let texts = &step.texts;
    let mut spots = vec![
        spot(&owner, "", "title", Kind::Title, &texts.title),
        spot(&owner, "", "do", Kind::Do, &texts.imperative),
        spot(&owner, "", "far", Kind::Far, &texts.far),
        spot(&owner, "", "far_short", Kind::FarShort, &texts.far_short),
        spot(&owner, "", "say", Kind::Say, &texts.say),
        spot(&owner, "", "why", Kind::Why, &texts.why),
    ];
    spots.extend(
        texts
            .caution
            .iter()
            .map(|text| spot(&owner, "", "caution", Kind::Caution, text)),
    );
    spots.extend(wrong_spots(&owner, "", &texts.wrong));
    for variant in &step.variants {
        let prefix = super::variant_prefix(&variant.looms);
        spots.extend(change_spots(&owner, &prefix, &variant.change));
    }
    spots
}

fn change_spots<'a>(owner: &Owner, prefix: &str, change: &'a Change) -> Vec<Spot<'a>> {
    let given = [
        ("title", Kind::Title, &change.title),
        ("do", Kind::Do, &change.imperative),
        ("far", Kind::Far, &change.far),
        ("far_short", Kind::FarShort, &change.far_short),
        ("say", Kind::Say, &change.say),
        ("why", Kind::Why, &change.why),
        ("caution", Kind::Caution, &change.caution),
    ];
    let mut spots: Vec<Spot> = given
        .into_iter()
        .filter_map(|(field, kind, text)| Some(spot(owner, prefix, field, kind, text.as_ref()?)))
        .collect();
    spots.extend(wrong_spots(
        owner,
        prefix,
        change.wrong.as_deref().unwrap_or_default(),
    ));
    spots
}

fn wrong_spots<'a>(owner: &Owner, prefix: &str, wrong: &'a [Wrong]) -> Vec<Spot<'a>> {
    let both = |(number, entry): (usize, &'a Wrong)| {
        let prefix = format!("{prefix}wrong[{}].", number + 1);
        [
            spot(owner, &prefix, "sign", Kind::Sign, &entry.sign),
            spot(owner, &prefix, "then", Kind::Then, &entry.then),
        ]
    };
    wrong.iter().enumerate().flat_map(both).collect()
}

/// The rules of a step as a whole.
fn judge_step(step: &Step) -> Vec<MethodFault> {
    let mut faults = Vec::new();
    let place = |field: &str| Place {
        owner: Owner::Step(step.id),
        field: field.to_owned(),
    };
    if HAZARDS.contains(&step.id) && step.texts.caution.is_none() {
        faults.push(MethodFault::NoCaution {
            place: place("caution"),
        });
    }
    faults.extend(judge_wrong(&step.texts.wrong, place("wrong")));
    for variant in &step.variants {
        if let Some(wrong) = &variant.change.wrong {
            let prefix = super::variant_prefix(&variant.looms);
            faults.extend(judge_wrong(wrong, place(&format!("{prefix}wrong"))));
        }
    }
    faults
}

fn judge_wrong(wrong: &[Wrong], place: Place) -> Option<MethodFault> {
    let (count, most) = (wrong.len(), MOST_WRONG);
    match count {
        0 => Some(MethodFault::Missing { place }),
        _ if count > most => Some(MethodFault::TooMany { place, count, most }),
        _ => None,
    }
}

/// Sentences of three words and more that stand in two places. One step may use one wording for
/// its title, sentence, distance lines and spoken line.
fn said_twice(spots: &[Spot]) -> Vec<MethodFault> {
    let mut seen: BTreeMap<String, &Spot> = BTreeMap::new();
    let mut faults = Vec::new();
    for spot in spots {
        for sentence in sentences(spot.text) {
            let bare = bare_sentence(sentence);
            if bare.split(' ').count() < 3 {
                continue;
            }
            let Some(first) = seen.get(&bare) else {
                seen.insert(bare, spot);
                continue;
            };
            let same_step = first.place.owner == spot.place.owner;
            if same_step && first.kind.names_the_step() && spot.kind.names_the_step() {
                continue;
            }
            let (place, first) = (spot.place.clone(), Box::new(first.place.clone()));
            faults.push(MethodFault::SaidTwice {
                place,
                first,
                sentence: sentence.to_owned(),
            });
        }
    }
    faults
}

/// A sentence without its marks and capitals.
fn bare_sentence(sentence: &str) -> String {
    let words: Vec<String> = sentence
        .split_whitespace()
        .map(|word| bare_word(word).to_lowercase())
        .filter(|word| !word.is_empty())
        .collect();
    words.join(" ")
}
