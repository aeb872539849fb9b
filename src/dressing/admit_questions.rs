//! Whether a question, an answer or a mismatch that was read from a file can have been. Owns these
//! preconditions; the others are in `admit`.

use super::admit::said;
use super::ask::Answer;
use super::event::{Look, Mismatch, Question};
use super::sighting::Sighting;
use super::state::{Dressing, Mood};

impl Dressing {
    pub(super) fn puttable(&self, question: &Question) -> Result<(), &'static str> {
        let free = match self.mood() {
            Mood::Working => true,
            Mood::Asking(open) => !matches!(open, Question::Look { .. }),
            Mood::Disagreeing(_) | Mood::Mending(_) => false,
        };
        said(free, "a question is put while another is open")?;
        let known = match question {
            Question::CallsMade { batch, .. }
            | Question::EndsLeft { batch, .. }
            | Question::HeddlesLeft { batch, .. } => self.holds(*batch),
            Question::WarpEnds { stretch, .. } | Question::WarpHeddles { stretch, .. } => {
                self.holds(*stretch)
            }
            Question::ReedEnds { calls } | Question::ReedTape { calls, .. } => self.holds(*calls),
            Question::Sighting(sighting) => sighting
                .sheds
                .iter()
                .all(|n| (1..=self.sheds()).contains(n)),
            Question::Measure { .. } => true,
            Question::Look { look, .. } => self.knows(*look),
        };
        said(known, "a question about ends that the warp does not have")
    }

    fn knows(&self, look: Look) -> bool {
        match look {
            Look::ShaftOf { call } => self.has(call),
            Look::Together { calls } | Look::ReadBack { calls } => self.holds(calls),
            Look::BatchesKnotted { first } => self.has(first),
            Look::EndsUp { shed, group } => {
                let groups = self.plan().groups.len();
                (1..=self.sheds()).contains(&shed) && (1..=groups).contains(&(group as usize))
            }
            _ => true,
        }
    }

    pub(super) fn answerable(&self, answer: &Answer) -> Result<(), &'static str> {
        let fits = match (self.mood(), answer) {
            (Mood::Asking(Question::HeddlesLeft { .. }), Answer::Numbers(list)) => {
                list.len() == usize::from(self.plan().shafts)
            }
            (Mood::Asking(Question::WarpHeddles { .. }), Answer::Numbers(list)) => {
                list.len() == usize::from(self.plan().shafts)
            }
            (
                Mood::Asking(Question::Look {
                    look: Look::ReadBack { .. },
                    ..
                }),
                Answer::Numbers(_),
            ) => true,
            (Mood::Asking(_), Answer::Number(_) | Answer::CannotTell) => true,
            (Mood::Disagreeing(Mismatch::Warp { .. }), Answer::WarpSeen(_))
            | (Mood::Disagreeing(Mismatch::Reed { .. }), Answer::ReedSeen(_)) => true,
            (Mood::Asking(Question::Sighting(_)), Answer::Numbers(_)) => true,
            (Mood::Disagreeing(Mismatch::Batch { .. }), Answer::Seen(_)) => true,
            _ => false,
        };
        said(fits, "an answer without its question")
    }

    pub(super) fn can_disagree(&self, mismatch: &Mismatch) -> Result<(), &'static str> {
        let seen = matches!(mismatch, Mismatch::Found(_)) && *self.mood() == Mood::Working;
        said(
            seen || matches!(
                (self.mood(), mismatch),
                (Mood::Asking(_) | Mood::Disagreeing(_), _)
                    | (Mood::Working, Mismatch::Batch { .. })
            ),
            "a mismatch without a question before it",
        )?;
        let fits = match mismatch {
            Mismatch::Batch {
                batch,
                calls_made,
                heddles_left,
                ..
            } => {
                self.holds(*batch)
                    && *calls_made <= batch.len()
                    && heddles_left.len() == usize::from(self.plan().shafts)
            }
            Mismatch::Look { look, .. } => self.knows(*look),
            Mismatch::Found(found) => super::decide::stands_wrong(self, *found),
            Mismatch::ReadBack { calls, .. } | Mismatch::Reed { calls, .. } => self.holds(*calls),
            Mismatch::Warp {
                stretch,
                heddles_left,
                ..
            } => {
                let shafts = usize::from(self.plan().shafts);
                self.holds(*stretch)
                    && heddles_left
                        .as_ref()
                        .is_none_or(|list| list.len() == shafts)
            }
            Mismatch::Sighting(sighting) => self.can_be_sighted(sighting),
        };
        said(fits, "a mismatch about ends or shafts that are not there")
    }

    fn can_be_sighted(&self, sighting: &Sighting) -> bool {
        let known = |n: &u32| (1..=self.sheds()).contains(n);
        sighting.sought(self.plan().units).is_none()
            && !sighting.sheds.is_empty()
            && sighting.sheds.iter().all(known)
    }
}
