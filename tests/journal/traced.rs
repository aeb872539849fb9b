//! The words of a trace in the file: along the warp, in the reed, what is read back.

use endsmeet::dressing::ask::{Answer, Choice};
use endsmeet::dressing::event::{Event, Look, Mismatch, Question, Reason};
use endsmeet::fault::{ReedLook, ReedSeen, Seen, WarpLook, WarpSeen};
use endsmeet::quantity::{Call, Calls, Shaft};
use proptest::prelude::*;

fn calls(first: u32, last: u32) -> Calls {
    Calls {
        first: Call(first),
        last: Call(last),
    }
}

/// One of each, with the words that stand for it. A line that is here is never changed.
pub fn words_of_a_trace() -> Vec<(Event, &'static str)> {
    let put = |look| {
        Event::Put(Question::Look {
            look,
            reason: Reason::Tracing,
            answers: vec![1, 2],
        })
    };
    let stretch = calls(1, 60);
    vec![
        (
            put(Look::ReadBack {
                calls: calls(13, 24),
            }),
            r#"{"t":"put","question":{"q":"look","look":{"read-back":[13,24]},"why":"tracing","answers":[1,2]}}"#,
        ),
        (
            put(Look::BatchesKnotted { first: Call(21) }),
            r#"{"t":"put","question":{"q":"look","look":{"batches-knotted":21},"why":"tracing","answers":[1,2]}}"#,
        ),
        (
            Event::Put(Question::EndsLeft {
                batch: calls(13, 24),
                calls_made: 12,
                seen: vec![Seen::Together { call: None }],
            }),
            r#"{"t":"put","question":{"q":"ends-left","batch":[13,24],"made":12,"seen":[{"together":{"call":null}}]}}"#,
        ),
        (
            Event::Put(Question::WarpEnds {
                stretch,
                seen: Vec::new(),
            }),
            r#"{"t":"put","question":{"q":"warp-ends","stretch":[1,60]}}"#,
        ),
        (
            Event::Put(Question::WarpHeddles {
                stretch,
                ends_left: -1,
                seen: Vec::new(),
            }),
            r#"{"t":"put","question":{"q":"warp-heddles","stretch":[1,60],"ends":-1}}"#,
        ),
        (
            Event::Put(Question::ReedEnds {
                calls: calls(41, 60),
            }),
            r#"{"t":"put","question":{"q":"reed-ends","calls":[41,60]}}"#,
        ),
        (
            Event::Put(Question::ReedTape {
                calls: calls(41, 60),
                ends_left: 2,
            }),
            r#"{"t":"put","question":{"q":"reed-tape","calls":[41,60],"ends":2}}"#,
        ),
        (
            Event::Disagreed(Mismatch::ReadBack {
                calls: calls(13, 24),
                reason: Reason::Wanted,
                read: vec![Shaft(1), Shaft(3)],
            }),
            r#"{"t":"disagreed","mismatch":{"m":"read-back","calls":[13,24],"why":"wanted","read":[1,3]}}"#,
        ),
        (
            Event::Disagreed(Mismatch::Warp {
                stretch,
                ends_left: None,
                heddles_left: None,
                seen: warp_seen(),
            }),
            concat!(
                r#"{"t":"disagreed","mismatch":{"m":"warp","stretch":[1,60],"ends":null,"heddles":null,"seen":["#,
                r#"{"shaft":{"call":9,"shaft":null}},{"odd-knot":{"first":1,"last":5,"odd":2}},"#,
                r#"{"risen":{"first":1,"last":5,"shaft":4,"odd":null}},{"together":{"call":7}},{"hanging":{"knot":null}},"#,
                r#"{"cannot-tell":{"shaft":9}},{"cannot-tell":{"odd-knot":[1,5]}},{"cannot-tell":{"risen":[1,5,4]}},"#,
                r#"{"cannot-tell":"together"},{"cannot-tell":"hanging"}]}}"#
            ),
        ),
        (
            Event::Disagreed(Mismatch::Reed {
                calls: calls(41, 60),
                ends_left: 2,
                tape: Some(-1),
                seen: reed_seen(),
            }),
            concat!(
                r#"{"t":"disagreed","mismatch":{"m":"reed","calls":[41,60],"ends":2,"tape":-1,"seen":["#,
                r#"{"first-shaft":{"dent":3,"shaft":2}},{"ends-in-dent":{"dent":3,"ends":1}},{"empty-dent":{"dent":null}},"#,
                r#"{"crossed":{"dent":4}},{"cannot-tell":{"first-shaft":3}},{"cannot-tell":{"ends-in-dent":3}},"#,
                r#"{"cannot-tell":"empty-dent"},{"cannot-tell":"crossed"}]}}"#
            ),
        ),
        (
            Event::Answered(Answer::WarpSeen(WarpSeen::Hanging { knot: Some(3) })),
            r#"{"t":"answered","answer":{"warp-seen":{"hanging":{"knot":3}}}}"#,
        ),
        (
            Event::Answered(Answer::ReedSeen(ReedSeen::Crossed { dent: None })),
            r#"{"t":"answered","answer":{"reed-seen":{"crossed":{"dent":null}}}}"#,
        ),
        (
            Event::Chose(Choice::Trace),
            r#"{"t":"chose","way":"trace"}"#,
        ),
        (
            Event::Chose(Choice::ReadBack),
            r#"{"t":"chose","way":"read-back"}"#,
        ),
        (Event::TakenUp { entry: 7 }, r#"{"t":"taken-up","entry":7}"#),
    ]
}

fn warp_seen() -> Vec<WarpSeen> {
    let knots = WarpLook::OddKnot { first: 1, last: 5 };
    let shaft = Shaft(4);
    let risen = WarpLook::Risen {
        first: 1,
        last: 5,
        shaft,
    };
    let cannot = |look| WarpSeen::CannotTell { look };
    vec![
        WarpSeen::Shaft {
            call: Call(9),
            shaft: None,
        },
        WarpSeen::OddKnot {
            first: 1,
            last: 5,
            odd: Some(2),
        },
        WarpSeen::Risen {
            first: 1,
            last: 5,
            shaft,
            odd: None,
        },
        WarpSeen::Together {
            call: Some(Call(7)),
        },
        WarpSeen::Hanging { knot: None },
        cannot(WarpLook::Shaft { call: Call(9) }),
        cannot(knots),
        cannot(risen),
        cannot(WarpLook::Together),
        cannot(WarpLook::Hanging),
    ]
}

fn reed_seen() -> Vec<ReedSeen> {
    let cannot = |look| ReedSeen::CannotTell { look };
    vec![
        ReedSeen::FirstShaft {
            dent: 3,
            shaft: Some(Shaft(2)),
        },
        ReedSeen::EndsInDent { dent: 3, ends: 1 },
        ReedSeen::EmptyDent { dent: None },
        ReedSeen::Crossed { dent: Some(4) },
        cannot(ReedLook::FirstShaft { dent: 3 }),
        cannot(ReedLook::EndsInDent { dent: 3 }),
        cannot(ReedLook::EmptyDent),
        cannot(ReedLook::Crossed),
    ]
}

/// Mismatches with any figures in them.
pub fn any_trace() -> impl Strategy<Value = Event> {
    let run = || (any::<u32>(), any::<u32>()).prop_map(|(first, last)| calls(first, last));
    let call = prop::option::of(any::<u32>().prop_map(Call));
    let shaft = prop::option::of(any::<u8>().prop_map(Shaft));
    prop_oneof![
        (run(), any::<Vec<u8>>()).prop_map(|(calls, read)| {
            Event::Disagreed(Mismatch::ReadBack {
                calls,
                reason: Reason::GroupEnd,
                read: read.into_iter().map(Shaft).collect(),
            })
        }),
        (
            run(),
            any::<Option<i64>>(),
            any::<Option<Vec<i64>>>(),
            call.clone()
        )
            .prop_map(|(stretch, ends_left, heddles_left, call)| {
                Event::Disagreed(Mismatch::Warp {
                    stretch,
                    ends_left,
                    heddles_left,
                    seen: vec![WarpSeen::Together { call }],
                })
            }),
        (
            run(),
            any::<i64>(),
            any::<Option<i64>>(),
            any::<u32>(),
            shaft
        )
            .prop_map(|(calls, ends_left, tape, dent, shaft)| {
                Event::Disagreed(Mismatch::Reed {
                    calls,
                    ends_left,
                    tape,
                    seen: vec![ReedSeen::FirstShaft { dent, shaft }],
                })
            }),
        any::<u64>().prop_map(|entry| Event::TakenUp { entry }),
    ]
}
