//! What is traced beyond the batch in work, in words: along the warp, in the reed, a reading laid
//! beside the plan. Owns the wording of their looks, explanations and pages; the theory is `fault`'s.

use super::choices::{left, ways};
use super::counts::{count, ends, length, side};
use super::fault_words;
use super::looks;
use super::page::Page;
use crate::dressing::view::{
    DentFill, DisagreeingView, Knots, Place, ReadBackView, ReedPicture, ReedView, WarpView,
};
use crate::fault::{
    Column, Drift, FaultKind, ReedFault, ReedLook, ReedSeen, ReedSuspect, WarpLook, WarpSeen,
    WarpSuspect,
};
use crate::plan::{Plan, Units};
use crate::quantity::Fraction;

/// At most so many explanations are shown; more do not help hands that are full.
const SHOWN: usize = 3;

/// Something is off along the warp.
pub(super) fn warp_page(view: &DisagreeingView, warp: &WarpView, plan: &Plan) -> Page {
    let mut lines = vec![format!(
        "Along the warp, {}: {}",
        ends(warp.stretch),
        left_along(warp)
    )];
    lines.extend(
        warp.tracing
            .doubted
            .iter()
            .map(|seen| super::fault_words::not_with_the_others(&warp_seen(seen))),
    );
    if warp.tracing.several {
        lines.push(SEVERAL.to_owned());
    }
    let suspects = warp.tracing.suspects.iter().take(SHOWN);
    lines.extend(suspects.map(|suspect| format!("Perhaps: {}", warp_suspect(suspect))));
    let ask = warp
        .tracing
        .look
        .map(|look| warp_look(&look, warp.place, warp.knots, plan));
    let near = warp.tracing.near.map(read_near);
    match &ask {
        Some(ask) => lines.push(format!(
            "{}: {ask}",
            fault_words::look_word(warp.tracing.again)
        )),
        None if near.is_some() => lines.extend(near.clone()),
        None if warp.tracing.suspects.is_empty() => lines.push(UNEXPLAINED.to_owned()),
        None => lines.push(NO_LOOK_LEFT.to_owned()),
    }
    let first = warp.tracing.suspects.first().map(warp_suspect);
    Page {
        heading: "Something is off farther back".to_owned(),
        far: far(ask.is_some()).to_owned(),
        say: capital(
            &ask.or(near)
                .or(first)
                .unwrap_or_else(|| UNEXPLAINED.to_owned()),
        ),
        lines,
        typed: ways(view, plan),
        caution: None,
        press: press(warp.tracing.look.is_some()).to_owned(),
    }
}

const SEVERAL: &str = "No one mistake explains all of it: more than one thing is wrong, or a count. Mend the first that is found, then trace again.";

fn read_near(knot: u32) -> String {
    format!("Something is wrong in knot {knot}. Read it back: where it differs, it is found.")
}

const UNEXPLAINED: &str =
    "No one mistake along the warp explains this. Read it back: where it differs, it is found.";
const NO_LOOK_LEFT: &str =
    "No single look tells these apart. Read the threading back: where it differs, it is found.";

/// The distance line of a trace.
pub(super) fn far(looks: bool) -> &'static str {
    if looks {
        "LOOK, THEN ANSWER"
    } else {
        "DOES NOT COME OUT"
    }
}

/// What the button does.
fn press(looks: bool) -> &'static str {
    if looks {
        "answer the look, or choose a way out"
    } else {
        "choose a way out"
    }
}

fn left_along(warp: &WarpView) -> String {
    match (warp.ends_left, &warp.heddles_left) {
        (None, _) => "the ends left over could not be told.".to_owned(),
        (Some(ends), Some(heddles)) => left(ends, heddles),
        (Some(ends), None) => format!(
            "{}; heddles not counted.",
            left(ends, &[]).trim_end_matches("; heddles even.")
        ),
    }
}

/// "knot 7, about 4 1/2 in from the right edge of the warp".
fn across(place: Option<Fraction>, plan: &Plan) -> String {
    place.map_or_else(String::new, |place| {
        format!(
            ", about {} from the {} edge of the warp",
            length(place, plan.units),
            side(plan.thread_from)
        )
    })
}

/// A look along the warp as a question, said by knot, handful and place, and by the tape.
#[must_use]
pub fn warp_look(
    look: &WarpLook,
    place: Option<Place>,
    knots: Option<Knots>,
    plan: &Plan,
) -> String {
    match *look {
        WarpLook::Shaft { call } => {
            let heddle = place.map_or_else(
                || format!("the heddle of end {}", call.0),
                |place| looks::place(place.spot) + &across(place.across, plan),
            );
            format!("which shaft holds {heddle}? Count filled heddles only. Type the shaft; 0 for none.")
        }
        WarpLook::OddKnot { first, last } => {
            let run = run_of(first, last);
            let what = should(knots, "ends");
            let from = across(knots.and_then(|knots| knots.from), plan);
            format!("count the ends in {run}{from}: which first has not {what}? Type the knot; 0 for none.")
        }
        WarpLook::Risen { first, last, shaft } => {
            let run = run_of(first, last);
            let what = should(knots, "ends rising");
            let from = across(knots.and_then(|knots| knots.from), plan);
            format!("lift shaft {} alone and look at {run}{from}: which first has not {what}? Type the knot; 0 for none.", shaft.0)
        }
        WarpLook::Together => "lift the odd shafts and look along the warp: where do two neighbours first rise or stay together? Type the knot and the heddle's number in it, as: 5 3; 0 for none.".to_owned(),
        WarpLook::Hanging => "look along behind the shafts: in which knot does an end hang loose? Type the knot; 0 for none.".to_owned(),
    }
}

fn run_of(first: u32, last: u32) -> String {
    if first == last {
        format!("knot {first}")
    } else {
        format!("knots {first} to {last}")
    }
}

fn should(knots: Option<Knots>, what: &str) -> String {
    knots.and_then(|knots| knots.each).map_or_else(
        || format!("its planned number of {what}"),
        |each| format!("{each} {what}"),
    )
}

/// An explanation of a warp that does not come out.
#[must_use]
pub fn warp_suspect(suspect: &WarpSuspect) -> String {
    let kind = match suspect.kind {
        FaultKind::PositionSkipped => "a call was passed over",
        FaultKind::PositionRepeated => "a call was threaded twice",
        FaultKind::EndsDoubled => "a heddle holds two ends",
        FaultKind::EndHanging => "an end hangs in no heddle",
        FaultKind::WrongShaft => "an end is on another shaft",
        FaultKind::HandfulSkipped => "a handful was passed over",
        FaultKind::HandfulRepeated => "a handful was threaded twice",
        FaultKind::HeddlePassed => "a heddle was passed by",
        FaultKind::EndsMiscounted | FaultKind::HeddlesMiscounted => "something was counted wrong",
        FaultKind::NeighboursExchanged => "two neighbours are exchanged",
    };
    let follows = match suspect.drift {
        Drift::ToTheEnd if suspect.kind.shifts() => ", and all after it is shifted",
        Drift::ToTheEnd | Drift::KnotOnly => "",
    };
    let place = match suspect.knot {
        Some(knot) => format!("in knot {knot}, {}", ends(suspect.calls)),
        None => format!("somewhere in {}", ends(suspect.calls)),
    };
    format!("{kind} {place}{follows}.")
}

/// An answer to a look along the warp, for the log.
#[must_use]
pub fn warp_seen(seen: &WarpSeen) -> String {
    let knot = |knot: Option<u32>| knot.map_or_else(|| "none".to_owned(), |k| format!("knot {k}"));
    match *seen {
        WarpSeen::Shaft { call, shaft } => {
            let found = shaft.map_or_else(|| "none".to_owned(), |s| format!("shaft {}", s.0));
            format!("call {} on {found}", call.0)
        }
        WarpSeen::OddKnot { first, last, odd } => {
            format!(
                "another number of ends in {}: {}",
                run_of(first, last),
                knot(odd)
            )
        }
        WarpSeen::Risen {
            first,
            last,
            shaft,
            odd,
        } => format!(
            "another number rising with shaft {} in {}: {}",
            shaft.0,
            run_of(first, last),
            knot(odd)
        ),
        WarpSeen::Together { call } => {
            let found = call.map_or_else(|| "none".to_owned(), |call| format!("call {}", call.0));
            format!("neighbours together: {found}")
        }
        WarpSeen::Hanging { knot: found } => format!("an end in no heddle: {}", knot(found)),
        WarpSeen::CannotTell { .. } => "cannot tell".to_owned(),
    }
}

/// Ends and dents do not come out.
pub(super) fn reed_page(view: &DisagreeingView, reed: &ReedView, plan: &Plan) -> Page {
    let mut lines = vec![reed_left(reed)];
    lines.extend(
        reed.tracing
            .doubted
            .iter()
            .map(|seen| super::fault_words::not_with_the_others(&reed_seen(seen))),
    );
    let suspects = reed.tracing.suspects.iter().take(SHOWN);
    lines.extend(suspects.map(|s| format!("Perhaps: {}", reed_suspect(s, reed, plan.units))));
    let ask = reed
        .tracing
        .look
        .map(|look| reed_look(&look, reed, plan.units));
    match &ask {
        Some(ask) => lines.push(format!("Look: {ask}")),
        None => lines.push(REED_UNEXPLAINED.to_owned()),
    }
    let first = reed.tracing.suspects.first();
    let first = first.map(|suspect| reed_suspect(suspect, reed, plan.units));
    Page {
        heading: format!("Group {} does not come out in the reed", reed.group),
        far: far(ask.is_some()).to_owned(),
        say: capital(&ask.or(first).unwrap_or_else(|| REED_UNEXPLAINED.to_owned())),
        lines,
        typed: ways(view, plan),
        caution: None,
        press: press(reed.tracing.look.is_some()).to_owned(),
    }
}

const REED_UNEXPLAINED: &str = "No one mistake in the reed explains this. Draw the group out of the reed and sley it again, dent by dent.";

fn reed_left(reed: &ReedView) -> String {
    let size = |n: i64| u32::try_from(n.unsigned_abs()).unwrap_or(u32::MAX);
    let over = match reed.ends_left {
        0 => "No end left over or short".to_owned(),
        n if n > 0 => format!("{} left over", count(size(n), "end")),
        n => format!("{} short", count(size(n), "end")),
    };
    let tape = match reed.tape {
        None => "the tape was not looked at".to_owned(),
        Some(0) => "the last filled dent is in its place".to_owned(),
        Some(n) if n > 0 => format!("the last filled dent is {} too far", count(size(n), "dent")),
        Some(n) => format!("the last filled dent is {} short", count(size(n), "dent")),
    };
    format!("{over}; {tape}.")
}

/// "dent 57, at 5 5/8 in on the tape"; the tape shows its far edge.
fn dent_at(dent: u32, reed: &ReedView, units: Units) -> String {
    let at = reed.dents.get((dent as usize).wrapping_sub(1));
    at.map_or_else(
        || format!("the {} dent of the group", looks::nth(dent)),
        |(DentFill { dent, .. }, tape)| match tape {
            Some(tape) => format!("dent {dent}, at {} on the tape", length(*tape, units)),
            None => format!("dent {dent}"),
        },
    )
}

/// A look at the reed as a question, by dent and tape.
#[must_use]
pub fn reed_look(look: &ReedLook, reed: &ReedView, units: Units) -> String {
    match *look {
        ReedLook::FirstShaft { dent } => format!(
            "{}: which shaft is its first end on? Type the shaft; 0 for none.",
            dent_at(dent, reed, units)
        ),
        ReedLook::EndsInDent { dent } => {
            format!("{}: how many ends are in it? Type the number.", dent_at(dent, reed, units))
        }
        ReedLook::EmptyDent => "hold something white behind the reed: is a dent of this group empty that should not be? Type its number counted from the group's first dent; 0 for none.".to_owned(),
        ReedLook::Crossed => "open a shed: do two ends of this group cross between heddles and reed? Type the dent's number counted from the group's first; 0 for none.".to_owned(),
    }
}

/// An explanation of a reed that does not come out.
#[must_use]
pub fn reed_suspect(suspect: &ReedSuspect, reed: &ReedView, units: Units) -> String {
    let dent = dent_at(suspect.dent, reed, units);
    match suspect.kind {
        ReedFault::DentSkipped => format!("{dent}, was passed over and is empty."),
        ReedFault::EndTooMany => format!("{dent}, holds one end too many."),
        ReedFault::EndTooFew => format!("{dent}, holds one end too few."),
        ReedFault::OrderAhead => format!("at {dent}, the sley order jumped one dent ahead."),
        ReedFault::OrderBehind => format!("at {dent}, the sley order fell one dent behind."),
        ReedFault::EndsCrossed => format!("two ends cross at {dent}."),
    }
}

/// An answer to a look at the reed, for the log.
#[must_use]
pub fn reed_seen(seen: &ReedSeen) -> String {
    let dent = |dent: Option<u32>| {
        dent.map_or_else(
            || "none".to_owned(),
            |dent| format!("the {} dent of the group", looks::nth(dent)),
        )
    };
    match *seen {
        ReedSeen::FirstShaft { dent: at, shaft } => {
            let found = shaft.map_or_else(|| "none".to_owned(), |s| format!("shaft {}", s.0));
            format!("{}: {found}", dent(Some(at)))
        }
        ReedSeen::EndsInDent { dent: at, ends } => {
            format!("{}: {}", dent(Some(at)), count(ends, "end"))
        }
        ReedSeen::EmptyDent { dent: found } => format!("an empty dent: {}", dent(found)),
        ReedSeen::Crossed { dent: found } => format!("ends that cross: {}", dent(found)),
        ReedSeen::CannotTell { .. } => "cannot tell".to_owned(),
    }
}

/// The group's dents as planned above and as they stand below, in the order of sleying.
pub(super) fn reed_picture(reed: &ReedPicture) -> Vec<String> {
    let (planned, stands, at) = (&reed.planned, &reed.stands, reed.at);
    // the dents about the fault: no more than a row holds
    let from = at.saturating_sub(6);
    let to = (from + 16).min(planned.len().max(stands.len()));
    let mut rows = [
        "planned:".to_owned(),
        "stands: ".to_owned(),
        "        ".to_owned(),
    ];
    for n in from..to {
        let cell = |list: &[u32]| list.get(n).map_or_else(|| ".".to_owned(), u32::to_string);
        rows[0].push_str(&format!("{:>3}", cell(planned)));
        rows[1].push_str(&format!("{:>3}", cell(stands)));
        rows[2].push_str(&format!("{:>3}", if n == at { "^" } else { "" }));
    }
    rows.map(|row| row.trim_end().to_owned()).to_vec()
}

/// What was read back is not the plan's threading.
pub(super) fn reading_page(view: &DisagreeingView, reading: &ReadBackView, plan: &Plan) -> Page {
    let n = u32::try_from(reading.differences).unwrap_or(u32::MAX);
    let said = format!(
        "{} between what stands and the plan.",
        count(n, "difference")
    );
    let mut lines = vec![capital(&said)];
    let differing = reading
        .batches
        .iter()
        .filter(|(_, columns)| columns.iter().any(Column::differs));
    let (first, more) = (differing.clone().take(1), differing.skip(1));
    for (batch, columns) in first {
        lines.push(format!("Batch {batch}:"));
        lines.extend(fault_words::under_each_other(columns));
    }
    let more: Vec<String> = more.map(|(batch, _)| batch.to_string()).collect();
    if !more.is_empty() {
        lines.push(format!("Differences also in batch {}.", more.join(", ")));
    }
    Page {
        heading: "What was read is not the plan's threading".to_owned(),
        far: "IT DIFFERS".to_owned(),
        say: format!("{said} Choose a way out."),
        lines,
        typed: ways(view, plan),
        caution: None,
        press: "choose a way out".to_owned(),
    }
}

fn capital(text: &str) -> String {
    super::lines::capital(text)
}
