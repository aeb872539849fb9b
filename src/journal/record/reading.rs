//! The events of one line, read. Owns the shortcut for the most common one and what an event that
//! is not known here means; never decides whether an event can have happened.
//!
//! Invariant, held by a test: what the shortcut reads is what the stored form reads.

use super::{Stored, StoredTask};
use crate::dressing::event::Event;
use crate::journal::quick::number;
use serde::Deserialize;
use serde::de::value::{Error, StrDeserializer};
use serde_json::value::RawValue;

/// Why a line's events cannot be read, its checksum being right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unread {
    /// They are events, and a newer version made them: something in them is not known here.
    Newer,
    /// They are no events at all.
    NoEvents(String),
}

/// The events of a line with this payload.
///
/// # Errors
/// Why they cannot be read.
pub fn events_of(payload: &str) -> Result<Vec<Event>, Unread> {
    if let Some(marked) = one_mark(payload) {
        return Ok(vec![marked.into()]);
    }
    match serde_json::from_str::<Vec<Stored>>(payload) {
        Ok(events) => Ok(events.into_iter().map(Into::into).collect()),
        Err(_) if are_events(payload) => Err(Unread::Newer),
        Err(error) => Err(Unread::NoEvents(error.to_string())),
    }
}

/// Whether it is what every version of this format writes: a list of events that say which they are.
fn are_events(payload: &str) -> bool {
    #[derive(Deserialize)]
    struct AnyEvent<'a> {
        #[serde(borrow, rename = "t")]
        _which: &'a RawValue,
    }
    serde_json::from_str::<Vec<AnyEvent<'_>>>(payload).is_ok_and(|events| !events.is_empty())
}

/// `[{"t":"marked","task":"threaded","calls":[1,4],"plan":0}]`: nine lines in ten of a long dressing.
fn one_mark(payload: &str) -> Option<Stored> {
    let rest = payload.strip_prefix(r#"[{"t":"marked","task":""#)?;
    let (task, rest) = rest.split_once('"')?;
    let task = StrDeserializer::<Error>::new(task);
    let (first, rest) = number(rest.strip_prefix(r#","calls":["#)?)?;
    let (last, rest) = number(rest.strip_prefix(',')?)?;
    let (plan, rest) = number(rest.strip_prefix(r#"],"plan":"#)?)?;
    let whole = rest == "}]";
    let small = |n: u64| u32::try_from(n).ok().filter(|_| whole);
    Some(Stored::Marked {
        task: StoredTask::deserialize(task).ok()?,
        calls: (small(first)?, small(last)?),
        plan: small(plan)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A payload, or one with a few bytes of another kind in it.
    fn nearly_marked() -> impl Strategy<Value = String> {
        let number = prop_oneof!["[0-9]{1,12}", Just("-1".to_owned()), Just("1.0".to_owned())];
        let task = prop_oneof!["threaded|counted-out|tied-second|wound", "[a-z\\\\]{0,9}"];
        let tail = prop_oneof![9 => Just("}]"), 1 => Just(",\"x\":1}]"), 1 => Just("},1]"), 1 => Just("} ]")];
        (
            task,
            number.clone(),
            number.clone(),
            number,
            tail,
            any::<u16>(),
            "[ -~]?",
        )
            .prop_map(|(task, a, b, c, tail, place, put)| {
                let mut text = format!(
                    r#"[{{"t":"marked","task":"{task}","calls":[{a},{b}],"plan":{c}{tail}"#
                );
                if place % 3 == 0 {
                    text.insert_str(usize::from(place) % text.len(), &put);
                }
                text
            })
    }

    proptest! {
        #[test]
        fn the_shortcut_reads_what_the_stored_form_reads(payload in nearly_marked()) {
            if let Some(marked) = one_mark(&payload) {
                let stored: Vec<Stored> = serde_json::from_str(&payload).unwrap();
                prop_assert_eq!(stored, [marked]);
            }
        }

        #[test]
        fn the_shortcut_knows_what_is_written(a in any::<u32>(), b in any::<u32>(), plan in any::<u32>()) {
            let marked = Stored::Marked { task: StoredTask::Threaded, calls: (a, b), plan };
            let payload = serde_json::to_string(&[&marked]).unwrap();
            prop_assert_eq!(one_mark(&payload), Some(marked));
        }
    }

    #[test]
    fn an_event_that_is_not_known_is_of_a_newer_version_and_what_is_no_event_is_damage() {
        for newer in [
            r#"[{"t":"wove","picks":12}]"#,
            r#"[{"t":"settled"},{"t":"wove"}]"#,
            r#"[{"t":"marked","task":"woven","calls":[1,4],"plan":0}]"#,
            r#"[{"t":"chose","way":"weave-on"}]"#,
            r#"[{"t":7}]"#,
        ] {
            assert_eq!(events_of(newer), Err(Unread::Newer), "{newer}");
        }
        for damaged in [
            "5",
            "null",
            r#"{"t":"settled"}"#,
            r#"[{"u":"settled"}]"#,
            r#"["settled"]"#,
        ] {
            let read = events_of(damaged);
            assert!(
                matches!(read, Err(Unread::NoEvents(_))),
                "{damaged}: {read:?}"
            );
        }
        assert_eq!(
            events_of("[]"),
            Ok(Vec::new()),
            "the guard says that it says nothing"
        );
    }
}
