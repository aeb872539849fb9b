//! The questions, in words. Owns how a fact of the loom is asked; never names the figure.

use super::counts::{count, length, side};
use super::page::Page;
use crate::dressing::event::{Look, Reason};
use crate::dressing::view::{Asked, AskingView, Round, Spot};
use crate::plan::Plan;

/// An open question in words.
#[must_use]
pub fn asking(view: &AskingView, plan: &Plan) -> Page {
    let (heading, far, ask) = match view.asked {
        Asked::CallsMade { batch } => (
            format!("Stuck in batch {batch}"),
            "HOW MANY MADE?",
            "How many ends of this batch are in their heddles? Type the number.".to_owned(),
        ),
        Asked::EndsLeft { batch } => (
            format!("Batch {batch} does not come out even"),
            "ENDS LEFT?",
            "How many counted-out ends are left? Type 0 for none, -1 for one too few.".to_owned(),
        ),
        Asked::HeddlesLeft { batch, .. } => (
            format!("Batch {batch} does not come out even"),
            "HEDDLES LEFT?",
            format!(
                "How many counted-out heddles are left on {}? Type {}, 0 for none, -1 for one taken from the stock.",
                used(plan),
                count(plan.used_shafts().len() as u32, "number")
            ),
        ),
        Asked::WarpEnds { last } => (
            FARTHER_BACK.to_owned(),
            "ENDS LEFT OVER?",
            format!(
                "Up to end {} all should be threaded by now. How many ends are left over? 0 for none, -1 for one short.",
                last.0
            ),
        ),
        Asked::WarpHeddles { .. } => (
            FARTHER_BACK.to_owned(),
            "HEDDLES LEFT OVER?",
            format!(
                "How many heddles are left over on {} by now? Type {}, 0 for none, -1 for one short; or ? where they were not counted.",
                used(plan),
                count(plan.used_shafts().len() as u32, "number")
            ),
        ),
        Asked::ReedEnds {
            group,
            sleyed: true,
        } => (
            in_the_reed(group),
            "ENDS LEFT?",
            "How many ends of this group are in none of its dents? Type 0 for none, -1 for one there that is not its own.".to_owned(),
        ),
        Asked::ReedEnds { group, .. } => (
            in_the_reed(group),
            "ENDS LEFT?",
            "When the last dent of this group is filled, how many of its ends are left? Type 0 for none, -1 for one short.".to_owned(),
        ),
        Asked::ReedTape { group, tape } => (
            in_the_reed(group),
            "DENTS OFF?",
            format!(
                "The last filled dent should end at {} on the tape. How many dents is it off? Type 0 for none, 1 for one too far, -1 for one short; or ?.",
                tape.map_or_else(|| "its mark".to_owned(), |tape| length(tape, plan.units))
            ),
        ),
        Asked::ReadBack {
            reason,
            batch,
            handful,
            heddles,
            read,
            all,
        } => {
            let ask = read_back((batch, handful, heddles), read, all);
            (because(reason).to_owned(), "READ THE SHAFTS", ask)
        }
        Asked::Sought(sought) => {
            let (far, ask) = super::sight_words::question(sought, plan);
            (super::sight_words::HEADING.to_owned(), far, ask)
        }
        Asked::Measure { what, eighths } => {
            let (far, ask) = super::measure_words::question(what, eighths, plan.units);
            (
                format!("Try: {}", super::measure_words::name(what)),
                far,
                ask,
            )
        }
        Asked::Look { look, reason, spot } => {
            let (far, ask) = question(look, spot, plan);
            (because(reason).to_owned(), far, ask)
        }
    };
    let is_look = matches!(view.asked, Asked::Look { .. } | Asked::ReadBack { .. });
    let shed_open = matches!(
        view.asked,
        Asked::Look {
            look: Look::EndsUp { .. },
            ..
        }
    );
    let (mut lines, mut typed) = (Vec::new(), Vec::new());
    match view.round {
        Round::First => {}
        Round::Again => lines.push("Count again, from the beginning.".to_owned()),
        Round::OnceMore => lines.push("The two counts differ. Count once more.".to_owned()),
    }
    lines.push(ask.clone());
    if is_look {
        typed.push("Cannot tell: ? - passed over: skip; it stays on record.".to_owned());
    }
    if let Asked::Measure { .. } = view.asked {
        typed.push("Not measured: ?".to_owned());
    }
    if let Asked::Sought(_) = view.asked {
        typed.push("Give it up: ?".to_owned());
    }
    Page {
        heading,
        far: far.to_owned(),
        say: match view.round {
            Round::First => ask,
            Round::Again => format!("Count again. {ask}"),
            Round::OnceMore => format!("Count once more. {ask}"),
        },
        lines,
        typed,
        caution: shed_open.then(|| super::try_words::SHED_CAUTION.to_owned()),
        press: "type the number".to_owned(),
    }
}

/// The shafts that hold heddles of this plan: "shafts 1 to 4", or each where others stand bare.
fn used(plan: &Plan) -> String {
    let used = plan.used_shafts();
    if used.len() == usize::from(plan.shafts) {
        return format!("shafts 1 to {}", plan.shafts);
    }
    let each: Vec<String> = used.iter().map(|shaft| shaft.0.to_string()).collect();
    format!("shafts {}", each.join(" "))
}

/// The heading of the questions along the warp.
const FARTHER_BACK: &str = "Something is off farther back";

fn in_the_reed(group: u32) -> String {
    format!("Group {group} does not come out in the reed")
}

/// The next handful to read, without what should stand there.
fn read_back((batch, handful, heddles): (u32, u32, u32), read: u32, all: bool) -> String {
    let so_far = match read {
        0 => String::new(),
        n => format!("{} read. ", count(n, "heddle")),
    };
    if all {
        return format!(
            "{so_far}Does one more filled heddle hang there? Type its shaft. If that is all, say done."
        );
    }
    format!(
        "{so_far}Batch {batch}, handful {handful}: read the next {} as they stand, filled ones only. Type the shafts with spaces; done ends the reading.",
        count(heddles, "heddle")
    )
}

/// Why a look is asked now, as a heading.
#[must_use]
pub fn because(reason: Reason) -> &'static str {
    match reason {
        Reason::CameBack => "Welcome back. First a look at the loom",
        Reason::Interruption => "You were away for a while. First a look at the loom",
        Reason::GroupEnd => "A group's end: a look at the loom",
        Reason::NoReturn => "What comes next cannot be taken back. First a look",
        Reason::TakeBack => "Hands cannot take that back. A look at what stands",
        Reason::Wanted => "A look at the loom",
        Reason::ShedOpen => "The shed is open: a look through it",
        Reason::Tracing => "Something is off farther back. A look at the loom",
    }
}

/// The distance line and the question of a look.
fn question(look: Look, spot: Option<Spot>, plan: &Plan) -> (&'static str, String) {
    let at = spot.map_or_else(String::new, place);
    match look {
        Look::GroupsWound => (
            "GROUPS WOUND?",
            "How many groups are wound? Count the crossings of the counting thread.".to_owned(),
        ),
        Look::GroupsSpread => (
            "GROUPS IN RADDLE?",
            "How many groups lie in the raddle? Count them from the end.".to_owned(),
        ),
        Look::GroupsKnotted => (
            "HOW MANY KNOTS?",
            "How many slip knots hang in front of the lease sticks?".to_owned(),
        ),
        Look::GroupsCut => (
            "HOW MANY CUT?",
            "How many groups have their end loops cut?".to_owned(),
        ),
        Look::Turns => (
            "TURNS ON BEAM?",
            "How many turns are on the beam? Count the layers of packing at its end.".to_owned(),
        ),
        Look::LastShaft => (
            "LAST END: SHAFT?",
            format!(
                "Which shaft is your last threaded end on? It is the one farthest to the {}.",
                side(super::counts::other(plan.thread_from))
            ),
        ),
        Look::ShaftOf { .. } => ("WHICH SHAFT?", format!("Which shaft holds {at}?")),
        Look::Together { .. } => (
            "NEIGHBOURS TOGETHER?",
            "Lift the odd shafts. Do two neighbours of this knot rise or stay together? Type 0 for none, else the heddle's number in the knot.".to_owned(),
        ),
        // asked handful by handful, as a question of its own
        Look::ReadBack { .. } => ("READ THE SHAFTS", "Read the shafts as they stand.".to_owned()),
        Look::BatchesKnotted { .. } => (
            "HOW MANY KNOTS?",
            "How many slip knots of threaded batches hang in front of the shafts?".to_owned(),
        ),
        Look::GroupsSleyed => (
            "GROUPS SLEYED?",
            "How many groups hang in knots in front of the reed?".to_owned(),
        ),
        Look::BundlesFirst => (
            "BUNDLES TIED?",
            "How many bundles are tied to the front apron rod?".to_owned(),
        ),
        Look::BundlesSecond => (
            "KNOTS FINISHED?",
            "How many bundles have a finished knot?".to_owned(),
        ),
        Look::ShedsClean => (
            "SHEDS CLEAN?",
            "How many sheds have you looked through and found clear?".to_owned(),
        ),
        Look::EndsUp { shed, group } => {
            ("HOW MANY ENDS UP?", super::try_words::ends_up(shed, group, plan))
        }
    }
}

/// "the 2nd heddle of handful 3 in the knot of batch 5".
#[must_use]
pub fn place(spot: Spot) -> String {
    format!(
        "the {} heddle of handful {} in the knot of batch {}",
        nth(spot.place),
        spot.handful,
        spot.batch
    )
}

/// "1st", "2nd", "3rd", "4th".
#[must_use]
pub fn nth(n: u32) -> String {
    let suffix = match (n % 10, n % 100) {
        (1, h) if h != 11 => "st",
        (2, h) if h != 12 => "nd",
        (3, h) if h != 13 => "rd",
        _ => "th",
    };
    format!("{n}{suffix}")
}

/// A look by its name, for logs and refusals: "the count of groups in the raddle".
#[must_use]
pub fn name(look: Look) -> &'static str {
    match look {
        Look::GroupsWound => "the count of wound groups",
        Look::GroupsSpread => "the count of groups in the raddle",
        Look::GroupsKnotted => "the count of slip knots",
        Look::GroupsCut => "the count of cut groups",
        Look::Turns => "the count of turns",
        Look::LastShaft => "the shaft of the last end",
        Look::ShaftOf { .. } => "the shaft of a heddle",
        Look::Together { .. } => "the look for neighbours that rise together",
        Look::ReadBack { .. } => "the shafts as they stand",
        Look::BatchesKnotted { .. } => "the count of knotted batches",
        Look::GroupsSleyed => "the count of sleyed groups",
        Look::BundlesFirst => "the count of tied bundles",
        Look::BundlesSecond => "the count of finished knots",
        Look::ShedsClean => "the count of clear sheds",
        Look::EndsUp { .. } => "the count of raised ends in a group",
    }
}
