//! One view in words: a heading, a distance line, near lines and a spoken line. Owns what is said
//! at each step of the work; what a look asks is in `looks`, what a refusal says in `refusals`.

use super::choices;
use super::counts::{count, ends, in_handfuls, on_shafts, shafts};
use super::fill::{fill, fill_spoken, loom_kind};
use super::looks;
use super::screen_words;
use super::spoken;
use crate::dressing::ledger::Task;
use crate::dressing::state::Rest;
use crate::dressing::view::{
    Balance, CallView, CountOutView, FromMiddle, ReadyView, RestingView, StepView, TieView,
    TurnView, UsedUpView, View,
};
use crate::method::{Method, StepId};
use crate::plan::Plan;

/// One view in words.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Page {
    /// Where this is: stage and step.
    pub heading: String,
    /// The distance line: at most 20 columns.
    pub far: String,
    /// What to do and what to know, a sentence or a list a line.
    pub lines: Vec<String>,
    /// What a typed word does here instead, for shells that take typed lines.
    pub typed: Vec<String>,
    /// What a voice says.
    pub say: String,
    /// The caution, where the step can hurt.
    pub caution: Option<String>,
    /// What a press now means: "Space: done".
    pub press: String,
}

/// The view in words. `plan` is the one in force.
#[must_use]
pub fn page(view: &View, plan: &Plan, method: &Method) -> Page {
    match view {
        View::Step(step) => of_step(*step, plan, method),
        View::Group(group) => super::group_words::of_group(group, plan, method),
        View::Turn(turn) => of_turn(*turn, plan, method),
        View::CountOut(batch) => of_count_out(batch),
        View::Call(call) => of_call(call),
        View::UsedUp(batch) => of_used_up(batch),
        View::Sley(group) => super::sley_words::of_sley(group, plan),
        View::Tie(bundle) => of_tie(bundle),
        View::TieUp(tie) => super::try_words::of_tie_up(tie, plan, method),
        View::Shed(shed) => super::try_words::of_shed(shed, plan),
        View::Pick(pick) => super::pick_words::of_pick(pick, plan, method),
        View::Asking(asking) => looks::asking(asking, plan),
        View::Disagreeing(what) => choices::disagreeing(what, plan),
        View::Mending(mending) => super::mend_words::mending(mending, plan),
        View::Resting(rest) => of_rest(*rest),
        View::Ends(ends) => super::broken_words::ends_page(ends, plan, method),
        View::Ready(ready) => of_ready(ready, plan),
    }
}

/// The page that the method gives to a step.
pub(super) fn method_page(id: StepId, plan: &Plan, method: &Method) -> Page {
    let step = method.step(id).on(loom_kind(plan));
    let stage = method.stage(id.stage());
    let filled = |text: &str| fill(text, plan);
    Page {
        heading: format!("{}: {}", stage.title, step.title),
        far: filled(&step.far).to_uppercase(),
        lines: vec![filled(&step.imperative)],
        say: fill_spoken(&step.say, plan),
        typed: Vec::new(),
        caution: step.caution.as_deref().map(filled),
        press: "done".to_owned(),
    }
}

/// The two ways on from a step as line mode lists them: the button's first, then the other with its
/// word.
pub(super) fn two_ways(does: [&str; 2], word: &str) -> Vec<String> {
    vec![
        format!("1 or an empty line: {}.", does[0]),
        format!("2 or {word}: {}.", does[1]),
    ]
}

fn of_step(step: StepView, plan: &Plan, method: &Method) -> Page {
    let mut page = method_page(step.step, plan, method);
    page.lines
        .extend(super::sley_words::float_dent(step.step, plan));
    if step.step == StepId::GuideString {
        page.lines.extend(super::group_words::before_winding(plan));
    }
    if step.optional {
        page.typed = two_ways(screen_words::optional(step.step), "skip");
    } else if step.step == StepId::LookAgain {
        page.typed = two_ways(screen_words::CLOTH, "wrong");
    }
    page
}

fn of_turn(view: TurnView, plan: &Plan, method: &Method) -> Page {
    let mut page = method_page(StepId::BeamTurn, plan, method);
    let of = view
        .of
        .map_or_else(String::new, |of| format!(" of about {of}"));
    page.heading = format!("{}, turn {}{of}", page.heading, view.turn);
    page.far = format!("TURN {}", view.turn);
    // said whole once; after that the number and what keeps hands safe
    page.say = match view.turn {
        1 => format!("Turn 1. {}", page.say),
        n => format!("Turn {n}. Hold the crank until the pawl is seated."),
    };
    page.typed = two_ways(screen_words::TURN, "enough");
    page
}

fn of_count_out(view: &CountOutView) -> Page {
    let (number, n) = (view.batch.number, view.ends);
    let mut lines = vec![
        format!("Count out {}: {}.", count(n, "end"), ends(view.batch.calls)),
        format!("Count out heddles: {}.", on_shafts(&view.batch.heddles)),
    ];
    if let Some(balance) = view.balance {
        lines.insert(0, balanced(balance));
    }
    if let Some(empty) = &view.empty_heddles {
        lines.push(format!("Heddles still empty: {}.", on_shafts(empty)));
    }
    Page {
        heading: format!("Thread: batch {number} of {}", view.of),
        far: format!("COUNT OUT {n}"),
        lines,
        say: count_out_spoken(view),
        typed: Vec::new(),
        caution: None,
        press: "ends and heddles are counted out".to_owned(),
    }
}

fn count_out_spoken(view: &CountOutView) -> String {
    let even = view
        .balance
        .map_or_else(String::new, |balance| balanced(balance) + " ");
    format!(
        "{even}Batch {}. Count out {}. Heddles: {}.",
        view.batch.number,
        count(view.ends, "end"),
        on_shafts(&view.batch.heddles)
    )
}

/// "Group 1 even; 4 ends of group 2 are in."
#[must_use]
pub fn balanced(balance: Balance) -> String {
    let next = balance.group + 1;
    match balance.carry {
        0 => format!("Group {} even.", balance.group),
        1 => format!("Group {} even; 1 end of group {next} is in.", balance.group),
        n => format!(
            "Group {} even; {n} ends of group {next} are in.",
            balance.group
        ),
    }
}

fn of_call(view: &CallView) -> Page {
    let called = shafts(&view.shafts);
    let mut lines = vec![format!("Thread {called}.")];
    lines.push(format!(
        "Handful {} of {}; {}.",
        view.handful,
        view.handfuls.len(),
        screen_words::group_left(view)
    ));
    if view.next.is_empty() {
        lines.push("Then the batch is done.".to_owned());
    } else {
        lines.push(format!("Next {}.", shafts(&view.next)));
    }
    Page {
        heading: format!("Thread: batch {} of {}", view.batch.number, view.of),
        far: called.clone(),
        lines,
        say: spoken::calls(&view.shafts),
        typed: Vec::new(),
        caution: None,
        press: "this handful is threaded".to_owned(),
    }
}

fn of_used_up(view: &UsedUpView) -> Page {
    let number = view.batch.number;
    let mut lines = vec![
        "All counted-out ends and heddles used up? Then tie the slip knot and push the batch aside."
            .to_owned(),
    ];
    if let Some(balance) = view.balance {
        lines.push(format!("If so: {}", balanced(balance)));
    }
    Page {
        heading: format!("Thread: batch {number} of {}, end of the batch", view.of),
        far: "USED UP? KNOT.".to_owned(),
        lines,
        say: format!("Batch {number} done. Used up? Then knot it. If not, say so."),
        typed: two_ways(screen_words::USED_UP, "uneven"),
        caution: None,
        press: "used up and knotted".to_owned(),
    }
}

fn of_tie(view: &TieView) -> Page {
    let place = match view.place {
        FromMiddle::Middle => "in the middle".to_owned(),
        FromMiddle::Right(n) => format!("{n} to the right of the middle"),
        FromMiddle::Left(n) => format!("{n} to the left of the middle"),
    };
    let number = view.bundle.number;
    let second = view.round == Task::TiedSecond;
    let what = if second {
        "Draw it snug, feel that it is like its neighbours, and finish the knot."
    } else {
        "Split it over and under the front apron rod, and tie the first half of a surgeon's knot."
    };
    let round = if second {
        "second round"
    } else {
        "first round"
    };
    Page {
        heading: format!("Tie on: {round}, bundle {number} of {}", view.of),
        far: format!("BUNDLE {number}"),
        lines: vec![
            format!(
                "Bundle {number}: group {}, {place}; {}.",
                view.bundle.group,
                count(view.bundle.calls.len(), "end")
            ),
            what.to_owned(),
        ],
        say: format!(
            "{} bundle {number}, {place}.",
            if second { "Finish" } else { "Tie" }
        ),
        typed: Vec::new(),
        caution: Some(
            "Pull with a straight back, close to the beam; knots under strain can cut fingers."
                .to_owned(),
        ),
        press: if second { "finished" } else { "tied" }.to_owned(),
    }
}

fn of_rest(view: RestingView) -> Page {
    match view.rest {
        Rest::Paused => Page {
            heading: "Paused".to_owned(),
            far: "PAUSED".to_owned(),
            lines: vec!["Nothing is counted while you are away.".to_owned()],
            say: "Paused.".to_owned(),
            typed: Vec::new(),
            caution: None,
            press: "go on".to_owned(),
        },
        Rest::Stopped => Page {
            heading: "Stopped for today".to_owned(),
            far: "STOPPED".to_owned(),
            lines: stop_list(view.counted_out),
            say: "Stopped for today. Knot what is threaded, and secure the sticks.".to_owned(),
            typed: vec!["Save the slip: slip.".to_owned(), "Leave: quit.".to_owned()],
            caution: Some("Leave the brake on and the pawl seated.".to_owned()),
            press: "go on".to_owned(),
        },
    }
}

/// What to see to before leaving the loom.
fn stop_list(counted_out: bool) -> Vec<String> {
    let mut lines = vec!["Tie what is threaded into a slip knot.".to_owned()];
    if counted_out {
        lines.push("Tie the counted-out heddles off with a string, shaft by shaft.".to_owned());
    }
    lines.push("See that the lease sticks are tied to each other and to the loom.".to_owned());
    lines.push(
        "Everything pressed so far is saved. The slip that says where you stopped: endsmeet sheet --slip"
            .to_owned(),
    );
    lines
}

fn of_ready(view: &ReadyView, plan: &Plan) -> Page {
    let mut lines = vec![format!(
        "The loom is ready to weave: {} on it.",
        count(view.ends, "end")
    )];
    if view.left_open > 0 {
        lines.push(format!(
            "{} stayed open on the way: see the log.",
            count(view.left_open, "check")
        ));
    }
    lines.extend(super::measure_words::compared(plan, &view.measures));
    Page {
        heading: "Ready".to_owned(),
        far: "READY TO WEAVE".to_owned(),
        lines,
        say: "The loom is ready to weave.".to_owned(),
        typed: Vec::new(),
        caution: None,
        press: "nothing is left to do".to_owned(),
    }
}

/// The calls of a whole batch in its handfuls, as a strip.
#[must_use]
pub fn strip(view: &CallView, plan: &Plan) -> String {
    in_handfuls(&plan.threading[view.batch.calls.indices()], &view.handfuls)
}
