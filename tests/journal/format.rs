//! Format 1, fixed for ever: the words of every event, and a file that was written once and is read
//! by every later version.

use super::mem::MemDisk;
use super::{file_of, kept};
use endsmeet::dressing::ask::{Amendment, Answer, Choice};
use endsmeet::dressing::event::{Event, Look, Mismatch, Question, Reason, StepKey};
use endsmeet::dressing::measure::Measured;
use endsmeet::dressing::sighting::Sighting;
use endsmeet::dressing::{Ask, Task};
use endsmeet::fault::cloth_spot::Sign;
use endsmeet::fault::{Fault, FaultKind, Found, LookKind, Move, ReedFault, Seen, WayKind};
use endsmeet::journal::keep::Keep;
use endsmeet::journal::kept::Keeper;
use endsmeet::journal::record::Stored;
use endsmeet::journal::{Access, Disk, State};
use endsmeet::method::{Stage, StepId};
use endsmeet::plan::{BatchRule, Side};
use endsmeet::quantity::{Call, Calls, Shaft};
use proptest::prelude::*;
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

const FROZEN: &str = "tests/frozen/format-1-small.jsonl";

fn calls(first: u32, last: u32) -> Calls {
    Calls {
        first: Call(first),
        last: Call(last),
    }
}

fn step(id: StepId) -> StepKey {
    StepKey {
        id,
        calls: None,
        number: None,
        revision: 0,
    }
}

/// One event of each kind, with the words that stand for it in a file of format 1. A line that is
/// here is never changed: old files hold it.
fn words_of_format_1() -> Vec<(Event, &'static str)> {
    let turn = StepKey {
        number: Some(3),
        calls: Some(calls(1, 20)),
        revision: 1,
        ..step(StepId::BeamTurn)
    };
    let look = |look, reason, answers| {
        Event::Put(Question::Look {
            look,
            reason,
            answers,
        })
    };
    let batch = calls(49, 60);
    let seen = vec![
        Seen::Shaft {
            call: Call(52),
            shaft: Some(Shaft(4)),
        },
        Seen::Shaft {
            call: Call(53),
            shaft: None,
        },
        Seen::Double { call: None },
        Seen::Hanging {
            call: Some(Call(7)),
        },
        Seen::Empty {
            shaft: Some(Shaft(2)),
        },
        Seen::Knot { ends: 12 },
        Seen::Together {
            call: Some(Call(3)),
        },
        Seen::ReadBack(vec![Shaft(1), Shaft(2)]),
        Seen::CannotTell {
            look: LookKind::ReadBack,
            call: None,
        },
        Seen::CannotTell {
            look: LookKind::ShaftOfHeddle,
            call: Some(Call(5)),
        },
    ];
    let amended = |change| Event::Amended {
        revision: 4,
        from: Call(9),
        change,
    };
    let seen_words = concat!(
        r#"[{"shaft":{"call":52,"shaft":4}},{"shaft":{"call":53,"shaft":null}},{"double":{"call":null}},"#,
        r#"{"hanging":{"call":7}},{"empty":{"shaft":2}},{"knot":{"ends":12}},{"together":{"call":3}},"#,
        r#"{"read-back":[1,2]},{"cannot-tell":{"look":"read-back","call":null}},"#,
        r#"{"cannot-tell":{"look":"shaft-of-heddle","call":5}}]"#
    );
    let disagreed = concat!(
        r#"{"t":"disagreed","mismatch":{"m":"batch","batch":[49,60],"made":12,"ends":1,"heddles":[0,1,0,-1],"seen":"#,
        "SEEN}}"
    );
    let disagreed: &'static str = Box::leak(disagreed.replace("SEEN", seen_words).into_boxed_str());
    let mend_begun = concat!(
        r#"{"t":"mend-begun","batch":[49,60],"way":"from-the-fault","moves":["#,
        r#"{"undo-knots":[3,4]},{"draw-from-reed":[3,4]},{"draw-out":[3,4]},{"thread":[3,4]},"#,
        r#"{"edge-ends":-1},{"last-edge":1},{"sley-moved":[[3,4],-1]},{"hang-heddle":[3,2]},{"move-end":[3,2]},{"exchange":3},"#,
        r#"{"add-end":[3,2]},{"take-out":3},{"take-second-out":3},{"take-hanging-out":3},"#,
        r#"{"free-heddle":2},{"sley":[3,4]},{"knot":[3,4]},{"put-back-ends":2},"#,
        r#"{"put-back-heddles":[2,-1]},{"calls-stand":5},{"amend":[3,[1,2]]}]}"#
    );
    let mut words = vec![
        (
            Event::StepDone(turn),
            r#"{"t":"step","id":"beam-turn","calls":[1,20],"number":3,"plan":1}"#,
        ),
        (
            Event::StepLeftOut(step(StepId::Gather)),
            r#"{"t":"left-out","id":"gather","plan":0}"#,
        ),
        (Event::WindLeftOut, r#"{"t":"wound-already"}"#),
        (
            Event::Marked {
                task: Task::CountedOut,
                calls: batch,
                revision: 2,
            },
            r#"{"t":"marked","task":"counted-out","calls":[49,60],"plan":2}"#,
        ),
        (
            Event::Unmarked {
                task: Task::Threaded,
                calls: batch,
            },
            r#"{"t":"unmarked","task":"threaded","calls":[49,60]}"#,
        ),
        (
            Event::Put(Question::CallsMade {
                batch,
                seen: Vec::new(),
            }),
            r#"{"t":"put","question":{"q":"calls-made","batch":[49,60]}}"#,
        ),
        (
            Event::Put(Question::EndsLeft {
                batch,
                calls_made: 7,
                seen: Vec::new(),
            }),
            r#"{"t":"put","question":{"q":"ends-left","batch":[49,60],"made":7}}"#,
        ),
        (
            Event::Put(Question::HeddlesLeft {
                batch,
                calls_made: 7,
                ends_left: -1,
                seen: Vec::new(),
            }),
            r#"{"t":"put","question":{"q":"heddles-left","batch":[49,60],"made":7,"ends":-1}}"#,
        ),
        (
            look(
                Look::ShaftOf { call: Call(9) },
                Reason::GroupEnd,
                vec![3, -3],
            ),
            r#"{"t":"put","question":{"q":"look","look":{"shaft-of":9},"why":"group-end","answers":[3,-3]}}"#,
        ),
        (
            look(
                Look::Together {
                    calls: calls(1, 20),
                },
                Reason::Wanted,
                vec![],
            ),
            r#"{"t":"put","question":{"q":"look","look":{"together":[1,20]},"why":"wanted"}}"#,
        ),
        (
            look(
                Look::EndsUp { shed: 3, group: 8 },
                Reason::ShedOpen,
                vec![4],
            ),
            r#"{"t":"put","question":{"q":"look","look":{"ends-up":[3,8]},"why":"shed-open","answers":[4]}}"#,
        ),
        (
            Event::Answered(Answer::Number(-4)),
            r#"{"t":"answered","answer":{"number":-4}}"#,
        ),
        (
            Event::Answered(Answer::Numbers(vec![0, 1, -1])),
            r#"{"t":"answered","answer":{"numbers":[0,1,-1]}}"#,
        ),
        (
            Event::Answered(Answer::Seen(Seen::Knot { ends: 3 })),
            r#"{"t":"answered","answer":{"seen":{"knot":{"ends":3}}}}"#,
        ),
        (
            Event::Answered(Answer::CannotTell),
            r#"{"t":"answered","answer":"cannot-tell"}"#,
        ),
        (Event::PassedOver, r#"{"t":"passed-over"}"#),
        (Event::Settled, r#"{"t":"settled"}"#),
        (
            Event::Disagreed(Mismatch::Batch {
                batch,
                calls_made: 12,
                ends_left: 1,
                heddles_left: vec![0, 1, 0, -1],
                seen,
            }),
            disagreed,
        ),
        (
            Event::Disagreed(Mismatch::Look {
                look: Look::Turns,
                reason: Reason::CameBack,
                loom: 4,
            }),
            r#"{"t":"disagreed","mismatch":{"m":"look","look":"turns","why":"came-back","loom":4}}"#,
        ),
        (
            Event::Chose(Choice::ThreadAgain),
            r#"{"t":"chose","way":"thread-again"}"#,
        ),
        (
            Event::Chose(Choice::Way(WayKind::OnTheSpot)),
            r#"{"t":"chose","way":{"way":"on-the-spot"}}"#,
        ),
        (
            Event::MendBegun {
                batch,
                way: WayKind::FromTheFault,
                moves: moves_of_every_kind(),
            },
            mend_begun,
        ),
        (
            Event::MoveMade { number: 2 },
            r#"{"t":"move-made","number":2}"#,
        ),
        (Event::Mended, r#"{"t":"mend-done"}"#),
        (Event::Undone { entry: 7 }, r#"{"t":"undone","entry":7}"#),
        (Event::Redone { entry: 7 }, r#"{"t":"redone","entry":7}"#),
        (Event::Paused, r#"{"t":"paused"}"#),
        (Event::Stopped, r#"{"t":"stopped"}"#),
        (Event::WentOn, r#"{"t":"went-on"}"#),
        (Event::Opened, r#"{"t":"opened"}"#),
        (
            Event::Interrupted { gap_ms: 700_000 },
            r#"{"t":"interrupted","ms":700000}"#,
        ),
        (Event::HelpWanted, r#"{"t":"help-wanted"}"#),
        (Event::HandsWanted, r#"{"t":"hands-wanted"}"#),
        (Event::HelpCame, r#"{"t":"help-came"}"#),
        (
            Event::BrokenEnd {
                call: Some(Call(3)),
            },
            r#"{"t":"broken","call":3}"#,
        ),
        (Event::BrokenEnd { call: None }, r#"{"t":"broken"}"#),
        (
            Event::EndMended { number: 1 },
            r#"{"t":"mended","number":1}"#,
        ),
        (
            Event::Note("tea \"stain\"".to_owned()),
            r#"{"t":"note","text":"tea \"stain\""}"#,
        ),
        (
            Event::Measured {
                what: Measured::Picks,
                thousandths: 18_000,
            },
            r#"{"t":"measured","what":"picks","thousandths":18000}"#,
        ),
        (
            Event::Put(Question::Measure {
                what: Measured::Cloth,
                whole: Some(13),
            }),
            r#"{"t":"put","question":{"q":"measure","what":"cloth","whole":13}}"#,
        ),
        (
            Event::Put(Question::Sighting(Sighting {
                sign: Some(Sign::OneAstray),
                from: Some(Side::Left),
                whole: Some(5),
                ..Sighting::default()
            })),
            r#"{"t":"put","question":{"q":"sighting","so_far":{"sign":"one-astray","from":"left","whole":5}}}"#,
        ),
        (
            Event::Disagreed(Mismatch::Sighting(Sighting {
                sign: Some(Sign::TwoAlike),
                from: Some(Side::Right),
                whole: None,
                thousandths: Some(5_375),
                sheds: vec![2, 4],
                complete: true,
            })),
            r#"{"t":"disagreed","mismatch":{"m":"sighting","seen":{"sign":"two-alike","from":"right","thousandths":5375,"sheds":[2,4],"complete":true}}}"#,
        ),
        (
            Event::Chose(Choice::Suspect(2)),
            r#"{"t":"chose","way":{"suspect":2}}"#,
        ),
        (
            Event::Chose(Choice::Sight),
            r#"{"t":"chose","way":"sight"}"#,
        ),
        (
            Event::MeasuredWidth {
                thousandths: 13_850,
            },
            r#"{"t":"width","thousandths":13850}"#,
        ),
        (
            Event::Amended {
                revision: 1,
                from: Call(61),
                change: Amendment::BatchRule(BatchRule::Number(8)),
            },
            r#"{"t":"amended","plan":1,"from":61,"change":{"batch":8}}"#,
        ),
        (
            Event::Amended {
                revision: 2,
                from: Call(1),
                change: Amendment::BatchRule(BatchRule::Group),
            },
            r#"{"t":"amended","plan":2,"from":1,"change":{"batch":"group"}}"#,
        ),
        (
            Event::Amended {
                revision: 3,
                from: Call(1),
                change: Amendment::HeddlesOnHand(vec![60, 100]),
            },
            r#"{"t":"amended","plan":3,"from":1,"change":{"heddles":[60,100]}}"#,
        ),
        (
            amended(Amendment::Draft("(1 2 3 4) x6".to_owned())),
            r#"{"t":"amended","plan":4,"from":9,"change":{"draft":"(1 2 3 4) x6"}}"#,
        ),
        (
            amended(Amendment::Ends(22)),
            r#"{"t":"amended","plan":4,"from":9,"change":{"ends":22}}"#,
        ),
        (
            amended(Amendment::SleyFrom(Side::Left)),
            r#"{"t":"amended","plan":4,"from":9,"change":{"sley-from":"left"}}"#,
        ),
        (
            amended(Amendment::SleyFrom(Side::Right)),
            r#"{"t":"amended","plan":4,"from":9,"change":{"sley-from":"right"}}"#,
        ),
        (
            amended(Amendment::Stands {
                line: vec![Shaft(1), Shaft(3)],
                made: 3,
            }),
            r#"{"t":"amended","plan":4,"from":9,"change":{"stands":[[1,3],3]}}"#,
        ),
        (
            Event::Disagreed(Mismatch::Found(Found::InHeddles(Fault::at(
                FaultKind::WrongShaft,
                Call(54),
                Shaft(3),
            )))),
            r#"{"t":"disagreed","mismatch":{"m":"found","found":{"in-heddles":{"fault":"wrong-shaft","call":54,"shaft":3,"count":1}}}}"#,
        ),
        (
            Event::Disagreed(Mismatch::Found(Found::InHeddles(Fault::handful(
                FaultKind::HandfulSkipped,
                Call(5),
                4,
            )))),
            r#"{"t":"disagreed","mismatch":{"m":"found","found":{"in-heddles":{"fault":"handful-skipped","call":5,"count":4}}}}"#,
        ),
        (
            Event::Disagreed(Mismatch::Found(Found::InReed(
                ReedFault::DentSkipped,
                Call(9),
            ))),
            r#"{"t":"disagreed","mismatch":{"m":"found","found":{"in-reed":{"fault":"dent-skipped","call":9}}}}"#,
        ),
    ];
    words.extend(super::traced::words_of_a_trace());
    words
}

fn moves_of_every_kind() -> Vec<Move> {
    let calls = Calls::new(3, 4).unwrap();
    vec![
        Move::UndoKnots(calls),
        Move::DrawFromReed(calls),
        Move::DrawOut(calls),
        Move::Thread(calls),
        Move::EdgeEnds(-1),
        Move::LastEdge(1),
        Move::SleyMoved(calls, -1),
        Move::HangHeddle(Call(3), Shaft(2)),
        Move::MoveEnd(Call(3), Shaft(2)),
        Move::Exchange(Call(3)),
        Move::AddEnd(Call(3), Shaft(2)),
        Move::TakeOut(Call(3)),
        Move::TakeSecondOut(Call(3)),
        Move::TakeHangingOut(Call(3)),
        Move::FreeHeddle(Shaft(2)),
        Move::Sley(calls),
        Move::Knot(calls),
        Move::PutBackEnds(2),
        Move::PutBackHeddles(Shaft(2), -1),
        Move::CallsStand(5),
        Move::Amend(Call(3), vec![Shaft(1), Shaft(2)]),
    ]
}

fn written(event: &Event) -> String {
    serde_json::to_string(&Stored::from(event)).unwrap()
}

fn read(words: &str) -> Event {
    serde_json::from_str::<Stored>(words).unwrap().into()
}

#[test]
fn every_event_has_its_words_in_format_1_for_ever() {
    for (event, words) in words_of_format_1() {
        assert_eq!(written(&event), words);
        assert_eq!(read(words), event);
        let later = words.replacen('{', r#"{"of a later version":[1],"#, 1);
        assert_eq!(read(&later), event, "a field that is not known is let pass");
    }
}

/// The kind of an event. A new kind does not compile until it is given words above.
fn kind(event: &Event) -> &'static str {
    match event {
        Event::StepDone(_) => "step",
        Event::StepLeftOut(_) => "left-out",
        Event::WindLeftOut => "wound-already",
        Event::Marked { .. } => "marked",
        Event::Unmarked { .. } => "unmarked",
        Event::Put(_) => "put",
        Event::Answered(_) => "answered",
        Event::PassedOver => "passed-over",
        Event::Settled => "settled",
        Event::Disagreed(_) => "disagreed",
        Event::Chose(_) => "chose",
        Event::Undone { .. } => "undone",
        Event::Redone { .. } => "redone",
        Event::Paused => "paused",
        Event::Stopped => "stopped",
        Event::WentOn => "went-on",
        Event::Opened => "opened",
        Event::Interrupted { .. } => "interrupted",
        Event::HelpWanted => "help-wanted",
        Event::HandsWanted => "hands-wanted",
        Event::HelpCame => "help-came",
        Event::BrokenEnd { .. } => "broken",
        Event::EndMended { .. } => "mended",
        Event::Note(_) => "note",
        Event::MeasuredWidth { .. } => "width",
        Event::Measured { .. } => "measured",
        Event::Amended { .. } => "amended",
        Event::MendBegun { .. } => "mend-begun",
        Event::MoveMade { .. } => "move-made",
        Event::Mended => "mend-done",
        Event::TakenUp { .. } => "taken-up",
    }
}

const KINDS: usize = 31;

#[test]
fn no_kind_of_event_lacks_its_words() {
    let kinds: BTreeSet<&str> = words_of_format_1()
        .iter()
        .map(|(event, _)| kind(event))
        .collect();
    assert_eq!(kinds.len(), KINDS);
    for (event, words) in words_of_format_1() {
        assert!(words.starts_with(&format!("{{\"t\":\"{}\"", kind(&event))));
    }
}

#[test]
fn the_small_words_of_format_1_stay_as_they_are() {
    let words = |events: Vec<Event>, before: &str, after: &str| {
        let words = events.iter().map(written);
        let cut = words.map(|w| {
            w.strip_prefix(before)
                .unwrap()
                .strip_suffix(after)
                .unwrap()
                .to_owned()
        });
        cut.collect::<Vec<_>>().join(" ")
    };
    let marked = Task::ALL.map(|task| Event::Marked {
        task,
        calls: calls(1, 2),
        revision: 0,
    });
    assert_eq!(
        words(
            marked.to_vec(),
            r#"{"t":"marked","task":""#,
            r#"","calls":[1,2],"plan":0}"#
        ),
        "wound spread knotted cut counted-out threaded checked sleyed tied-first tied-second"
    );
    let ways = [
        Choice::ThreadAgain,
        Choice::PutRight,
        Choice::LoomHolds,
        Choice::StepBack,
        Choice::LookAgain,
        Choice::LeaveOpen,
    ];
    assert_eq!(
        words(
            ways.map(Event::Chose).to_vec(),
            r#"{"t":"chose","way":""#,
            r#""}"#
        ),
        "thread-again put-right loom-holds step-back look-again leave-open"
    );
    let look = |look, reason| {
        Event::Put(Question::Look {
            look,
            reason,
            answers: vec![],
        })
    };
    let looks = [
        Look::GroupsWound,
        Look::GroupsSpread,
        Look::GroupsKnotted,
        Look::GroupsCut,
        Look::Turns,
        Look::LastShaft,
        Look::GroupsSleyed,
        Look::BundlesFirst,
        Look::BundlesSecond,
        Look::ShedsClean,
    ];
    assert_eq!(
        words(
            looks.map(|l| look(l, Reason::Wanted)).to_vec(),
            r#"{"t":"put","question":{"q":"look","look":""#,
            r#"","why":"wanted"}}"#
        ),
        "groups-wound groups-spread groups-knotted groups-cut turns last-shaft groups-sleyed bundles-first \
         bundles-second sheds-clean"
    );
    let reasons = [
        Reason::CameBack,
        Reason::Interruption,
        Reason::GroupEnd,
        Reason::NoReturn,
        Reason::TakeBack,
        Reason::Wanted,
        Reason::ShedOpen,
    ];
    assert_eq!(
        words(
            reasons.map(|r| look(Look::Turns, r)).to_vec(),
            r#"{"t":"put","question":{"q":"look","look":"turns","why":""#,
            r#""}}"#
        ),
        "came-back interruption group-end no-return take-back wanted shed-open"
    );
    let cannot = |look| Event::Answered(Answer::Seen(Seen::CannotTell { look, call: None }));
    assert_eq!(
        words(
            LookKind::ALL.map(cannot).to_vec(),
            r#"{"t":"answered","answer":{"seen":{"cannot-tell":{"look":""#,
            r#"","call":null}}}}"#
        ),
        "shaft-of-heddle heddle-holding-two end-in-no-heddle empty-heddle ends-in-knot neighbours-together \
         read-back"
    );
}

fn any_calls() -> impl Strategy<Value = Calls> {
    (any::<u32>(), any::<u32>()).prop_map(|(first, last)| calls(first, last))
}

fn any_step() -> impl Strategy<Value = StepKey> {
    let id = (0..StepId::ALL.len()).prop_map(|at| StepId::ALL[at]);
    (
        id,
        proptest::option::of(any_calls()),
        any::<Option<u32>>(),
        any::<u32>(),
    )
        .prop_map(|(id, calls, number, revision)| StepKey {
            id,
            calls,
            number,
            revision,
        })
}

fn any_look() -> impl Strategy<Value = Look> {
    prop_oneof![
        Just(Look::GroupsWound),
        Just(Look::Turns),
        Just(Look::LastShaft),
        any::<u32>().prop_map(|call| Look::ShaftOf { call: Call(call) }),
        any_calls().prop_map(|calls| Look::Together { calls }),
        Just(Look::ShedsClean),
        (any::<u32>(), any::<u32>()).prop_map(|(shed, group)| Look::EndsUp { shed, group }),
    ]
}

fn any_seen() -> impl Strategy<Value = Seen> {
    let call = || any::<Option<u32>>().prop_map(|call| call.map(Call));
    prop_oneof![
        (any::<u32>(), any::<Option<u8>>()).prop_map(|(call, shaft)| Seen::Shaft {
            call: Call(call),
            shaft: shaft.map(Shaft)
        }),
        call().prop_map(|call| Seen::Double { call }),
        call().prop_map(|call| Seen::Hanging { call }),
        call().prop_map(|call| Seen::Together { call }),
        any::<u32>().prop_map(|ends| Seen::Knot { ends }),
        any::<Vec<u8>>().prop_map(|list| Seen::ReadBack(list.into_iter().map(Shaft).collect())),
        (0..LookKind::ALL.len(), call()).prop_map(|(at, call)| Seen::CannotTell {
            look: LookKind::ALL[at],
            call
        }),
    ]
}

/// Any event with figures in it; those without are all in the table above.
fn any_event() -> impl Strategy<Value = Event> {
    let task = (0..Task::ALL.len()).prop_map(|at| Task::ALL[at]);
    let rule = prop_oneof![
        Just(BatchRule::Repeat),
        Just(BatchRule::Group),
        any::<u32>().prop_map(BatchRule::Number)
    ];
    prop_oneof![
        any_step().prop_map(Event::StepDone),
        any_step().prop_map(Event::StepLeftOut),
        (task.clone(), any_calls(), any::<u32>()).prop_map(|(task, calls, revision)| {
            Event::Marked {
                task,
                calls,
                revision,
            }
        }),
        (task, any_calls()).prop_map(|(task, calls)| Event::Unmarked { task, calls }),
        (any_calls(), any::<u32>(), any::<i64>()).prop_map(|(batch, calls_made, ends_left)| {
            Event::Put(Question::HeddlesLeft {
                batch,
                calls_made,
                ends_left,
                seen: Vec::new(),
            })
        }),
        (any_look(), any::<Vec<i64>>()).prop_map(|(look, answers)| {
            Event::Put(Question::Look {
                look,
                reason: Reason::NoReturn,
                answers,
            })
        }),
        any::<i64>().prop_map(|n| Event::Answered(Answer::Number(n))),
        any::<Vec<i64>>().prop_map(|list| Event::Answered(Answer::Numbers(list))),
        any_seen().prop_map(|seen| Event::Answered(Answer::Seen(seen))),
        super::traced::any_trace(),
        (
            any_calls(),
            any::<u32>(),
            any::<i64>(),
            any::<Vec<i64>>(),
            proptest::collection::vec(any_seen(), 0..4)
        )
            .prop_map(|(batch, calls_made, ends_left, heddles_left, seen)| {
                Event::Disagreed(Mismatch::Batch {
                    batch,
                    calls_made,
                    ends_left,
                    heddles_left,
                    seen,
                })
            }),
        (any_look(), any::<i64>()).prop_map(|(look, loom)| {
            Event::Disagreed(Mismatch::Look {
                look,
                reason: Reason::Wanted,
                loom,
            })
        }),
        any::<u64>().prop_map(|entry| Event::Undone { entry }),
        any::<u64>().prop_map(|gap_ms| Event::Interrupted { gap_ms }),
        any::<String>().prop_map(Event::Note),
        (any::<u32>(), any::<u32>(), rule).prop_map(|(revision, from, rule)| Event::Amended {
            revision,
            from: Call(from),
            change: Amendment::BatchRule(rule),
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_event_comes_back_from_its_words_as_it_was(event in any_event()) {
        let words = written(&event);
        prop_assert!(!words.contains('\n'));
        prop_assert_eq!(read(&words), event);
    }
}

/// Writes the frozen file when `ENDSMEET_FREEZE` asks for it: once for each version of the format.
#[test]
fn the_frozen_file_of_format_1_is_read_for_ever() {
    if std::env::var_os("ENDSMEET_FREEZE").is_some() {
        let memory = MemDisk::new(1);
        let disk: Arc<dyn Disk> = Arc::new(memory.clone());
        kept::eventful(&mut kept::begin_small(&disk));
        std::fs::write(FROZEN, memory.bytes(&kept::small_file()).unwrap()).unwrap();
    }
    let bytes = std::fs::read(FROZEN).unwrap();
    let memory = MemDisk::new(1);
    memory.put(&file_of("old"), &bytes);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    let loaded = Keeper::load(&disk, &file_of("old"), Access::GoOn).unwrap();
    assert_eq!(loaded.state, State::Clean);
    let mut keeper = loaded.keeper;
    let kinds: BTreeSet<_> = keeper
        .entries()
        .iter()
        .flat_map(|e| &e.events)
        .map(kind)
        .collect();
    let dressing = keeper.dressing();
    assert_eq!(dressing.about().title, "Small");
    assert_eq!(dressing.stage(), None, "it is ready to weave");
    for task in Task::ALL {
        assert_eq!(dressing.ledger().of(task).count(), 24, "{task:?}");
    }
    assert_eq!(dressing.revision(), 2);
    assert_eq!((dressing.left_open(), dressing.about().broken), (1, 0));
    assert_eq!(dressing.record().caught, 2);
    let broken: Vec<_> = dressing
        .record()
        .broken
        .iter()
        .map(|end| end.call)
        .collect();
    assert_eq!(broken, [Some(Call(3)), None]);
    assert_eq!(keeper.entries().len(), 148);
    // every kind of event that there was when it was written; later ones are in other files
    assert_eq!(kinds.len(), 25, "{kinds:?}");
    let when = keeper.dressing().last().unwrap();
    keeper
        .ask(&Ask::Note("gone on with, years later".to_owned()), when)
        .unwrap();
    drop(keeper);
    assert!(
        memory.bytes(&file_of("old")).unwrap().starts_with(&bytes),
        "nothing of it is rewritten"
    );
}

/// The runner's first evening, as the first version wrote it.
#[test]
fn the_frozen_runner_of_format_1_is_read_for_ever() {
    let disk: Arc<dyn Disk> = Arc::new(endsmeet::journal::RealDisk);
    let path = Path::new("tests/frozen/format-1-hall-runner.jsonl");
    let loaded = Keeper::load(&disk, path, Access::ReadOnly).unwrap();
    assert_eq!(
        loaded.state,
        State::ReadOnly(endsmeet::journal::ReadOnly::Asked)
    );
    assert_eq!(loaded.keeper.entries().len(), 154);
    let about = loaded.keeper.dressing().about();
    assert_eq!(
        (about.title.as_str(), about.stage),
        ("Hall runner", Some(Stage::Thread))
    );
    assert_eq!(
        loaded.keeper.dressing().ledger().of(Task::Checked).count(),
        120
    );
}

#[test]
fn the_example_in_the_sessions_folder_is_whole() {
    let disk: Arc<dyn Disk> = Arc::new(endsmeet::journal::RealDisk);
    let path = Path::new("sessions/example-hall-runner.jsonl");
    let loaded = Keeper::load(&disk, path, Access::ReadOnly).unwrap();
    assert!(matches!(
        loaded.state,
        State::ReadOnly(endsmeet::journal::ReadOnly::Asked)
    ));
    assert!(!loaded.keeper.entries().is_empty());
}

/// The half-threaded runner with a mending led to its end, frozen like the others.
#[test]
fn the_frozen_runner_with_a_mending_is_read_for_ever() {
    let bytes = std::fs::read("tests/frozen/format-1-mending.jsonl").unwrap();
    let memory = MemDisk::new(1);
    memory.put(&file_of("old"), &bytes);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    let loaded = Keeper::load(&disk, &file_of("old"), Access::GoOn).unwrap();
    assert_eq!(loaded.state, State::Clean);
    let keeper = loaded.keeper;
    let kinds: BTreeSet<_> = keeper
        .entries()
        .iter()
        .flat_map(|e| &e.events)
        .map(kind)
        .collect();
    for wanted in ["mend-begun", "move-made", "mend-done"] {
        assert!(kinds.contains(wanted), "{wanted} is not in {kinds:?}");
    }
    assert_eq!(keeper.dressing().ledger().of(Task::Threaded).count(), 126);
    assert_eq!(keeper.dressing().about().title, "Hall runner");
}
