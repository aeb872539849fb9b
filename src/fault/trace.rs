//! The tracing of one batch: explanations that fit the answers, ranked, and the next look.
//! Owns the order of suspects, when a trace is settled, and which answer is doubted; never asks.

use super::class::{Class, classes, stand};
use super::evidence::{Evidence, Seen};
use super::impossible::Impossible;
use super::kind::Fault;
use super::look::{Look, best_look};
use super::residue::Residue;
use super::standing::Standing;
use super::suspects::{Explanation, explanations};
use super::weights;
use crate::quantity::{Call, Shaft};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// Explanations with one fault more than the simplest are listed only so many.
const MORE_LISTED: usize = 24;

/// Which mending an explanation calls for: equal where the mending is equal. From 1, the likeliest
/// first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct MendingId(pub u32);

/// One explanation of the evidence.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Suspect {
    /// One fault or two.
    pub faults: Vec<Fault>,
    /// The call of the first filled heddle whose shaft is not the plan's, as a look would show it;
    /// none where no heddle of the batch differs.
    pub first_wrong: Option<Call>,
    /// This explanation's share of all that fit, 0 to 1.
    pub share: f64,
    /// Which mending it calls for.
    pub mending: MendingId,
}

/// What the evidence of a batch comes to.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Tracing {
    /// Whether ends and heddles come out even. That does not say that the batch is right.
    pub counts_agree: bool,
    /// Whether the mending is known: every fitting explanation with the fewest faults has the same
    /// one, and no likely one with a fault more has another. Then there is no look.
    pub settled: bool,
    /// The explanations: all that fit with the fewest faults, the likeliest mending first; then the
    /// likeliest with a fault more. Empty where nothing is wrong, or where no two faults explain
    /// the evidence (then `counts_agree` and `settled` are false).
    pub suspects: Vec<Suspect>,
    /// The look worth most for its seconds.
    pub look: Option<Look>,
    /// Whether that look was answered before, by the doubted answer.
    pub again: bool,
    /// The answer that the others contradict, if they do; it is left out of account.
    pub doubted: Option<Seen>,
}

impl Suspect {
    /// The shafts of the filled heddles as they would stand, in order.
    #[must_use]
    pub fn stands(&self, evidence: &Evidence) -> Vec<Shaft> {
        let standing = Standing::after(evidence, &self.faults);
        standing.line.into_iter().map(Shaft).collect()
    }
}

impl Tracing {
    /// Whether no one or two faults explain the evidence: the batch is best threaded again.
    #[must_use]
    pub fn is_unexplained(&self) -> bool {
        !self.settled && self.suspects.is_empty()
    }
}

/// Traces a batch's miscount as far as the evidence reaches.
///
/// # Errors
/// [`Impossible`] where no weaver can have brought the evidence about.
pub fn trace(evidence: &Evidence) -> Result<Tracing, Impossible> {
    evidence.check()?;
    let all = stand(evidence, explanations(evidence));
    let places = places(&all);
    let unsure = unsure(evidence, &all);
    let (fitting, doubted) = fitting(evidence, all);
    let classes = classes(fitting);
    let settled = unsure.is_none() && settled(evidence, &classes, places);
    let look = match &unsure {
        Some(answer) => Some(answer.look()),
        None if settled => None,
        None => best_look(evidence, &classes, doubted.as_ref()),
    };
    let again = unsure.is_some();
    let doubted = unsure.or(doubted);
    Ok(Tracing {
        again,
        counts_agree: Residue::of_report(evidence).is_even(),
        settled,
        suspects: suspects(evidence, &classes),
        look,
        doubted,
    })
}

/// The answer that is looked at once more: given once, and likelier wrong than not, because without it
/// something much commoner explains the rest. Two equal answers are believed.
fn unsure(evidence: &Evidence, all: &[(Standing, Explanation)]) -> Option<Seen> {
    let answers = &evidence.seen;
    let (mut with_all, mut without) = (0.0, vec![0.0; answers.len()]);
    for (standing, explanation) in all {
        let mut against = (0..answers.len()).filter(|&at| !standing.fits(at, evidence));
        match (against.next(), against.next()) {
            (None, _) => with_all += explanation.weight,
            (Some(at), None) => without[at] += explanation.weight,
            (Some(_), Some(_)) => {}
        }
    }
    let once = |at: &usize| {
        let look = answers[*at].look();
        answers.iter().filter(|other| other.look() == look).count() == 1
    };
    // a found one is in her hand, and a reading is many answers in one
    let whole = |at: &usize| !answers[*at].found() && !matches!(answers[*at], Seen::ReadBack(_));
    let may = (0..answers.len()).filter(once).filter(whole);
    let likeliest = may.max_by(|&a, &b| without[a].total_cmp(&without[b]))?;
    let wrong = weights::ANSWER_WRONG * without[likeliest];
    (wrong > weights::DOUBTED_FROM * (with_all + wrong)).then(|| answers[likeliest].clone())
}

/// Those that fit all answers; where none does, those that fit all but the fewest, and the last
/// answer that they contradict.
fn fitting(
    evidence: &Evidence,
    all: Vec<(Standing, Explanation)>,
) -> (Vec<(Standing, Explanation)>, Option<Seen>) {
    let answers = 0..evidence.seen.len();
    let against = |standing: &Standing| -> Vec<usize> {
        answers
            .clone()
            .filter(|&at| !standing.fits(at, evidence))
            .collect()
    };
    let marked: Vec<_> = all
        .into_iter()
        .map(|pair| (against(&pair.0), pair))
        .collect();
    let Some(fewest) = marked.iter().map(|(against, _)| against.len()).min() else {
        return (Vec::new(), None);
    };
    let dropped = likeliest_against(&marked, fewest);
    let doubted = dropped
        .last()
        .and_then(|&at| evidence.seen.get(at))
        .cloned();
    let stays = |against: &[usize]| against.iter().all(|at| dropped.contains(at));
    let fitting = marked
        .into_iter()
        .filter(|(against, _)| stays(against))
        .map(|(_, pair)| pair);
    (fitting.collect(), doubted)
}

/// The set of so many answers that carries the most weight if it is left out.
fn likeliest_against(
    marked: &[(Vec<usize>, (Standing, Explanation))],
    fewest: usize,
) -> Vec<usize> {
    let mut sets: Vec<(&[usize], f64)> = Vec::new();
    for (against, (_, explanation)) in marked.iter().filter(|(a, _)| a.len() == fewest) {
        match sets.iter_mut().find(|(set, _)| set == against) {
            Some((_, weight)) => *weight += explanation.weight,
            None => sets.push((against, explanation.weight)),
        }
    }
    let best = sets.into_iter().max_by(|a, b| a.1.total_cmp(&b.1));
    best.map(|(set, _)| set.to_vec()).unwrap_or_default()
}

/// How many things could stand at the loom by the counts alone, with the fewest faults.
fn places(all: &[(Standing, Explanation)]) -> usize {
    let Some(fewest) = all.iter().map(|(_, e)| e.faults.len()).min() else {
        return 0;
    };
    let simplest = all.iter().filter(|(_, e)| e.faults.len() == fewest);
    simplest
        .map(|(standing, _)| standing)
        .collect::<BTreeSet<_>>()
        .len()
}

/// Whether the simplest explanations agree on the mending and no likely rival has another.
///
/// A single fault that shifts what follows is placed by halving: once looks have placed it, rivals
/// must be likelier to be asked after, and after one look more they are no longer asked after.
fn settled(evidence: &Evidence, classes: &[Class], places: usize) -> bool {
    let Some(first) = classes.first() else {
        return false;
    };
    if classes
        .get(1)
        .is_some_and(|next| next.faults() == first.faults())
    {
        return false;
    }
    let all: f64 = classes.iter().map(|class| class.weight).sum();
    let rivals = (all - first.weight) / all;
    let halvings = places.max(1).next_power_of_two().ilog2() as usize;
    let one = first.explanations.first().filter(|e| e.faults.len() == 1);
    let shifted = one.is_some_and(|e| e.faults[0].kind.shifts());
    let placed = shifted && halvings > 0 && evidence.seen.len() >= halvings;
    rivals <= weights::RIVALS_ALLOWED
        || placed && rivals <= weights::RIVALS_OF_A_PLACED_SHIFT
        || shifted && evidence.seen.len() > halvings
}

fn suspects(evidence: &Evidence, classes: &[Class]) -> Vec<Suspect> {
    let fewest = classes.first().map_or(0, Class::faults);
    let all: f64 = classes.iter().map(|class| class.weight).sum();
    let mut simplest = Vec::new();
    let mut more = Vec::new();
    for (mending, class) in (1..).map(MendingId).zip(classes) {
        let first_wrong = class.standing.first_wrong(evidence);
        for Explanation { faults, weight } in &class.explanations {
            let list = if faults.len() == fewest {
                &mut simplest
            } else {
                &mut more
            };
            let share = weight / all;
            list.push(Suspect {
                faults: faults.clone(),
                first_wrong,
                share,
                mending,
            });
        }
    }
    if fewest == 0 {
        // nothing is wrong that was looked at: what a count cannot see is not suspected of itself
        return Vec::new();
    }
    more.sort_by(|a, b| b.share.total_cmp(&a.share));
    more.truncate(MORE_LISTED);
    simplest.extend(more);
    simplest
}
