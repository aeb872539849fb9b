//! What is said next. Owns how much is said and what has gone stale; knows no process and no clock.
//!
//! Everything said at one moment belongs together: what a press did, then the new call. A later
//! moment makes all of an earlier one stale, since a call that is no longer the call must not be
//! heard.

use crate::words::spoken::{Purpose, Said};
use std::collections::VecDeque;

/// How much is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Much {
    /// Every sentence.
    All,
    /// Calls and steps, and what is lit; not what a press did.
    Calls,
    /// Nothing: the voice is off.
    #[default]
    Nothing,
}

impl Much {
    /// Whether a sentence for this purpose is said.
    #[must_use]
    pub fn says(self, purpose: Purpose) -> bool {
        match self {
            Self::All => true,
            Self::Calls => matches!(purpose, Purpose::Call | Purpose::Lit),
            Self::Nothing => false,
        }
    }
}

/// What waits to be said.
#[derive(Debug, Clone, Default)]
pub struct Queue {
    much: Much,
    waiting: VecDeque<String>,
}

impl Queue {
    /// An empty queue for so much speech.
    #[must_use]
    pub fn new(much: Much) -> Self {
        Self {
            much,
            waiting: VecDeque::new(),
        }
    }

    /// Takes what is said at this moment. `true`: there is something new to say, so that what is
    /// being said now is to be silenced.
    #[must_use = "what is being said must be silenced"]
    pub fn offer(&mut self, said: &[Said]) -> bool {
        let heard = said
            .iter()
            .filter(|said| self.much.says(said.purpose) && !said.text.trim().is_empty());
        let heard: VecDeque<String> = heard.map(|said| said.text.clone()).collect();
        if heard.is_empty() {
            return false;
        }
        self.waiting = heard;
        true
    }

    /// The next sentence, once the one before is at its end.
    pub fn take(&mut self) -> Option<String> {
        self.waiting.pop_front()
    }

    /// Whether nothing waits.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.waiting.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(purpose: Purpose, text: &str) -> Said {
        Said::new(purpose, text)
    }

    fn all(queue: &mut Queue) -> Vec<String> {
        std::iter::from_fn(|| queue.take()).collect()
    }

    #[test]
    fn what_belongs_together_is_said_in_order() {
        let mut queue = Queue::new(Much::All);
        let moment = [
            said(Purpose::Remark, "Taken back."),
            said(Purpose::Call, "4, 3."),
        ];
        assert!(queue.offer(&moment));
        assert_eq!(all(&mut queue), ["Taken back.", "4, 3."]);
    }

    #[test]
    fn a_new_call_makes_everything_before_it_stale() {
        let mut queue = Queue::new(Much::All);
        let moment = [
            said(Purpose::Remark, "Taken back."),
            said(Purpose::Call, "4, 3."),
        ];
        assert!(queue.offer(&moment));
        assert_eq!(queue.take().as_deref(), Some("Taken back."));
        assert!(queue.offer(&[said(Purpose::Call, "2, 1.")]));
        assert_eq!(all(&mut queue), ["2, 1."]);
    }

    #[test]
    fn calls_only_leaves_out_what_a_press_did() {
        let mut queue = Queue::new(Much::Calls);
        let moment = [
            said(Purpose::Remark, "Taken back."),
            said(Purpose::Call, "4, 3."),
        ];
        assert!(queue.offer(&moment));
        assert_eq!(all(&mut queue), ["4, 3."]);
        assert!(queue.offer(&[said(Purpose::Lit, "GO ON")]));
        assert_eq!(all(&mut queue), ["go on"]);
    }

    #[test]
    fn a_remark_that_is_not_said_silences_nothing() {
        let mut queue = Queue::new(Much::Calls);
        assert!(queue.offer(&[said(Purpose::Call, "4, 3.")]));
        assert!(!queue.offer(&[said(Purpose::Remark, "Space does nothing here.")]));
        assert_eq!(all(&mut queue), ["4, 3."]);
    }

    #[test]
    fn nothing_says_nothing() {
        let mut queue = Queue::new(Much::Nothing);
        for purpose in [Purpose::Call, Purpose::Lit, Purpose::Remark] {
            assert!(!queue.offer(&[said(purpose, "4, 3.")]));
        }
        assert!(queue.is_empty());
    }
}
