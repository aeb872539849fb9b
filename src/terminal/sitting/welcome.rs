//! What she reads first who comes back: when she stopped. What was written above the screen is out of her
//! sight.

use crate::dressing::About;
use crate::dressing::state::Dressing;
use crate::terminal::screens::Tone;
use crate::words::status;

/// The notice of the first screen where the dressing was opened again: work was done, and not last. It
/// tells no figure, so it may stand beside an open look.
pub(super) fn welcome(dressing: &Dressing, about: &About) -> Option<(Tone, String)> {
    let work = about
        .last_work
        .filter(|work| dressing.last() != Some(*work));
    status::stopped(work).map(|said| (Tone::Know, said))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dressing::{Ask, When, decide};
    use crate::plan::{read_spec, work_out};
    use chrono::DateTime;

    fn at(ms: u64) -> When {
        let wall = DateTime::parse_from_rfc3339("2026-03-03T18:40:00+01:00").unwrap();
        When {
            wall: wall + chrono::Duration::milliseconds(ms.cast_signed()),
            elapsed_ms: ms,
        }
    }

    #[test]
    fn who_comes_back_reads_when_she_stopped_and_who_begins_does_not() {
        let text = include_str!("../../../assets/demo/hall-runner.json");
        let plan = work_out(&read_spec(text).unwrap()).plan().unwrap();
        let mut d = Dressing::new(plan, &[]);
        assert_eq!(welcome(&d, &d.about()), None, "nothing was done yet");
        for (ask, ms) in [(Ask::Next, 0), (Ask::Opened, 50_000_000)] {
            assert_eq!(welcome(&d, &d.about()), None, "before {ask:?}");
            let entry = decide(&d, &ask, at(ms)).unwrap();
            d.apply(&entry);
        }
        let (_, said) = welcome(&d, &d.about()).unwrap();
        assert_eq!(said, "The last press was on Tuesday, 3 March at 18:40.");
    }
}
