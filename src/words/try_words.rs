//! The stage Try in sentences: each treadle as it is tied, each shed as it is opened. Owns the
//! wording; what a shed of a plan is like in general is in `cloth_words`.

use super::cloth_words::{CLEAN_SHED, opens, plain_weave, shed_warning};
use super::counts::{other, plural, shafts, side};
use super::looks::nth;
use super::page::{Page, method_page, two_ways};
use super::pick_words::by_group;
use super::screen_words::SHED;
use super::spoken;
use crate::dressing::view::{ShedView, TieUpView};
use crate::method::{Method, StepId};
use crate::plan::{Action, Opens, Plan, Shed};
use crate::quantity::Shaft;

/// What can hurt while a shed is open.
pub const SHED_CAUTION: &str =
    "Keep hands out of the shafts while a shed is open; the loom maker's manual holds.";

/// "shaft 2", "shafts 1 3"; "no shaft".
pub(super) fn listed(list: &[Shaft]) -> String {
    if list.is_empty() {
        return "no shaft".to_owned();
    }
    let n = u32::try_from(list.len()).unwrap_or(u32::MAX);
    format!("{} {}", plural(n, "shaft"), shafts(list))
}

/// A treadle as it is tied on this kind of loom.
#[must_use]
pub fn of_tie_up(view: &TieUpView, plan: &Plan, method: &Method) -> Page {
    let treadle = view.tie.treadle;
    let mut page = method_page(StepId::TieUp, plan, method);
    page.heading = format!("Try: treadle {treadle} of {}", view.of);
    page.far = format!("TIE TREADLE {treadle}");
    page.lines = ties(view, plan);
    page.say = spoken_ties(view, plan.action);
    page.press = format!("treadle {treadle} is tied");
    let warned = view.tie.warnings.iter().copied().map(shed_warning);
    page.lines.extend(warned);
    if view.skeleton && treadle == 1 {
        page.lines.push(
            "A skeleton tie-up: most sheds take two of the treadles pressed together.".to_owned(),
        );
    }
    page.lines.extend(view.plain.as_ref().map(plain_weave));
    page
}

/// What is tied, a sentence or two.
fn ties(view: &TieUpView, plan: &Plan) -> Vec<String> {
    let (n, rising, sinking) = (view.tie.treadle, &view.tie.rising, &view.tie.sinking);
    let nothing = || vec![format!("Leave treadle {n} untied: nothing moves on it.")];
    match plan.action {
        Action::Jack | Action::Table | Action::Lift if rising.is_empty() => nothing(),
        Action::Jack | Action::Table | Action::Lift => vec![format!(
            "Tie treadle {n} to {}, which rise; leave the others untied.",
            listed(rising)
        )],
        Action::Counterbalance if sinking.is_empty() => nothing(),
        Action::Counterbalance => vec![format!(
            "Tie treadle {n} to {}, which sink; {} rise with them.",
            listed(sinking),
            listed(rising)
        )],
        Action::Countermarch => {
            let untied = usize::from(plan.shafts) - rising.len() - sinking.len();
            let mut lines = vec![
                format!(
                    "Treadle {n}, to the long lams below: {}, which rise.",
                    listed(rising)
                ),
                format!("To the short lams above: {}, which sink.", listed(sinking)),
            ];
            if untied > 0 {
                lines.push("The other shafts stay untied on this treadle.".to_owned());
            }
            lines
        }
    }
}

fn spoken_ties(view: &TieUpView, action: Action) -> String {
    let said = |list: &[Shaft]| match list {
        [] => "no shaft.".to_owned(),
        [one] => format!("shaft {}.", one.0),
        many => format!("shafts {}", spoken::calls(many)),
    };
    let (rising, sinking) = (said(&view.tie.rising), said(&view.tie.sinking));
    let n = view.tie.treadle;
    match action {
        Action::Jack | Action::Table | Action::Lift => format!("Treadle {n}: tie {rising}"),
        Action::Counterbalance => format!("Treadle {n}: tie {sinking} They sink."),
        Action::Countermarch => {
            format!("Treadle {n}. To rise, below: {rising} To sink, above: {sinking}")
        }
    }
}

/// A shed to be opened and looked through; the ends that rise are counted on the loom, so they are
/// not said.
#[must_use]
pub fn of_shed(view: &ShedView, plan: &Plan) -> Page {
    let open = open(&view.press, &view.rising);
    let others = match plan.action {
        Action::Countermarch | Action::Counterbalance => "Sinking",
        Action::Jack | Action::Table | Action::Lift => "Staying",
    };
    let mut lines = vec![
        format!("{open} and look through the shed from the side."),
        format!(
            "Rising: {}. {others}: {}.",
            listed(&view.rising),
            listed(&view.others)
        ),
        CLEAN_SHED.to_owned(),
    ];
    lines.extend(view.warnings.iter().copied().map(shed_warning));
    Page {
        heading: format!("Try: shed {} of {}", view.number, view.of),
        far: far(&view.press, &view.rising).unwrap_or(format!("SHED {}", view.number)),
        lines,
        say: format!("{open}. Look through the shed."),
        typed: [
            two_ways(SHED, "wrong"),
            vec!["What a stray end means: help.".to_owned()],
        ]
        .concat(),
        caution: Some(SHED_CAUTION.to_owned()),
        press: "looked through; now count".to_owned(),
    }
}

/// "Press treadle 3", "Press treadles 1 and 5 together", "Lift shafts 1 3".
pub(super) fn open(press: &[u32], rising: &[Shaft]) -> String {
    match press {
        [] => format!("Lift {}", listed(rising)),
        [one] => format!("Press treadle {one}"),
        many => format!("Press treadles {} together", and(many)),
    }
}

fn and(list: &[u32]) -> String {
    let list: Vec<String> = list.iter().map(u32::to_string).collect();
    list.join(" and ")
}

/// The distance line of what opens a shed; `None` where it is too long for one.
pub(super) fn far(press: &[u32], rising: &[Shaft]) -> Option<String> {
    let long = match press {
        [] => format!("LIFT {}", shafts(rising)),
        [one] => format!("TREADLE {one}"),
        many => format!("TREADLES {}", and(many)).to_uppercase(),
    };
    (long.len() <= 20).then_some(long)
}

/// The question of a shed: "Hold treadle 3 down. How many ends of the 2nd bundle from the left are up?"
#[must_use]
pub fn ends_up(shed: u32, group: u32, plan: &Plan) -> String {
    let held = plan.shed_to_try(shed).map_or(String::new(), |shed| {
        let press = plan.treadles_for(&shed.rising).unwrap_or_default();
        match press.as_slice() {
            [] => format!("Hold {} up.", listed(&shed.rising)),
            [one] => format!("Hold treadle {one} down."),
            many => format!("Hold treadles {} down.", and(many)),
        }
    });
    let groups = u32::try_from(plan.groups.len()).unwrap_or(u32::MAX);
    let back = groups.saturating_sub(group) + 1;
    let (n, edge) = if group <= back {
        (group, plan.thread_from)
    } else {
        (back, other(plan.thread_from))
    };
    format!(
        "{held} How many ends of the {} bundle from the {} are up?",
        nth(n),
        side(edge)
    )
}

/// The sheds of the plan in a list, then its first picks, each with the ends that rise in each group.
#[must_use]
pub fn list_of_sheds(plan: &Plan) -> Vec<String> {
    let mut lines = Vec::new();
    for shed in plan.all_sheds() {
        let name = match (shed.opens, plan.treadles_for(&shed.rising)) {
            (Opens::Pick(_), Some(press)) => pressed(&opens(shed.opens), &press),
            _ => opens(shed.opens),
        };
        lines.push(rising(&name, &shed));
        lines.extend(shed.warnings.into_iter().map(shed_warning));
    }
    for number in 1..=plan.first_picks() {
        let pick = plan.first_pick(number);
        // a lift plan's sheds are its picks, but for those that come again
        let again = |pick: &crate::plan::PickShed| {
            plan.lift_plan.is_empty()
                || !lines
                    .iter()
                    .any(|line| line.starts_with(&named(number, pick)))
        };
        let line = pick
            .filter(again)
            .map(|pick| rising(&named(number, &pick), &pick.shed));
        lines.extend(line);
    }
    lines
}

fn named(number: u32, pick: &crate::plan::PickShed) -> String {
    let name = opens(Opens::Pick(number));
    match pick.press.as_slice() {
        [] => format!("{name}:"),
        press => format!("{}:", pressed(&name, press)),
    }
}

fn pressed(name: &str, press: &[u32]) -> String {
    let many = u32::try_from(press.len()).unwrap_or(u32::MAX);
    format!("{name}, {} {}", plural(many, "treadle"), and(press))
}

fn rising(name: &str, shed: &Shed) -> String {
    format!(
        "{}: {} rise, {}; {}.",
        name.trim_end_matches(':'),
        listed(&shed.rising),
        super::counts::count(shed.ends, "end"),
        by_group(&shed.groups)
    )
}
