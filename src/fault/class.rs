//! Explanations that leave the same loom: one class has one mending.
//! Owns the grouping; never decides which class is true.

use super::evidence::Evidence;
use super::standing::Standing;
use super::suspects::Explanation;
use std::collections::BTreeMap;

/// All explanations under which the same stands at the loom.
#[derive(Debug, Clone)]
pub(super) struct Class {
    /// What stands.
    pub standing: Standing,
    /// The explanations, fewest faults first, then the likeliest.
    pub explanations: Vec<Explanation>,
    /// Their weight together.
    pub weight: f64,
}

impl Class {
    /// Faults of the simplest explanation.
    pub fn faults(&self) -> usize {
        self.explanations.first().map_or(0, |e| e.faults.len())
    }
}

/// Groups explanations by what stands, in the order in which each standing is first met.
pub(super) fn classes(fitting: Vec<(Standing, Explanation)>) -> Vec<Class> {
    let mut at: BTreeMap<Standing, usize> = BTreeMap::new();
    let mut classes: Vec<Class> = Vec::new();
    for (standing, explanation) in fitting {
        let weight = explanation.weight;
        if let Some(&index) = at.get(&standing) {
            classes[index].weight += weight;
            classes[index].explanations.push(explanation);
        } else {
            at.insert(standing.clone(), classes.len());
            classes.push(Class {
                standing,
                explanations: vec![explanation],
                weight,
            });
        }
    }
    for class in &mut classes {
        class.explanations.sort_by(|a, b| {
            a.faults
                .len()
                .cmp(&b.faults.len())
                .then(b.weight.total_cmp(&a.weight))
        });
    }
    classes.sort_by(|a, b| {
        a.faults()
            .cmp(&b.faults())
            .then(b.weight.total_cmp(&a.weight))
    });
    classes
}

/// What would stand under each explanation.
pub(super) fn stand(
    evidence: &Evidence,
    explanations: Vec<Explanation>,
) -> Vec<(Standing, Explanation)> {
    let after = |e: Explanation| (Standing::after(evidence, &e.faults), e);
    explanations.into_iter().map(after).collect()
}
