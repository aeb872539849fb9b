//! Sentences that only the screen says: its hints, its menu, its own questions. Owns the wording;
//! what the work itself says is in `page`, `looks`, `choices` and `refusals`.

use super::counts::{count, in_handfuls, length, side};
use crate::dressing::state::Rest;
use crate::dressing::view::{
    About, Asked, AskingView, Balance, CallView, Disagreeing, DisagreeingView, SleyView, View,
};
use crate::method::{Stage, StepId};
use crate::plan::{Face, Plan, Units};
use crate::quantity::Calls;

/// The items of the one-button menu, in their order.
pub const MENU: [&str; 12] = [
    "GO ON",
    "BACK ONE",
    "SAY AGAIN",
    "THE OTHER WAY",
    "STUCK",
    "SOMETHING IS WRONG",
    "COUNT",
    "HELP ME",
    "HANDS WANTED",
    "STOP FOR TODAY",
    "CANNOT TELL",
    "LEAVE OUT",
];
/// What the key for "cannot tell" says where a measure is asked.
pub const NOT_MEASURED: &str = "not measured";
/// The lit word that finishes a number.
pub const DONE: &str = "DONE";
/// While a save takes long.
pub const SAVING: &str = "SAVING";
/// What to do meanwhile.
pub const SAVING_LINE: &str =
    "This save takes long. Wait: the press counts when the call has changed.";
/// What is told of a press that was no answer.
pub const NOT_LOOKED_YET: &str = "Not looked: a press is no answer.";
/// What is told when the digits of an answer begin to be lit.
pub const DIGITS_LIT: &str =
    "The digits are lit in turn: press when yours is lit, or use the number keys.";
/// The lit word that takes a digit away.
pub const ERASE: &str = "ERASE";
/// The lit word for the sign of a number below nothing.
pub const MINUS: &str = "-";
/// The lit word that leaves a question unanswered.
pub const NOT_LOOKED: &str = "NOT LOOKED";
/// What stands before a number of heddles to count out.
pub const SHAFT: &str = "shaft ";
/// The distance line while the window has no focus.
pub const NOT_LISTENING: &str = "NOT LISTENING";
/// What to do then.
pub const NOT_LISTENING_LINE: &str =
    "Presses go to another window. Click into this one, then go on.";
/// The distance line at the end of the practice warp.
pub const PRACTICE_OVER: &str = "WELL DONE";
/// The distance line of a refused save.
pub const NOT_SAVED: &str = "NOT SAVED";
/// The distance line of the question whether to leave.
pub const LEAVE: &str = "LEAVE? PRESS Y";
/// What leaving keeps.
pub const LEAVE_LINE: &str = "Every press is saved. Press y to leave, any other key to stay. Come back with: endsmeet resume";
/// What the other keys do while it is asked whether to leave.
pub const STAY: (&str, &str) = ("any other key", "stay");
/// What the button does in the menu.
pub const TAKE_LIT: &str = "take the lit line";
/// What the button does where no line of a list is lit yet.
pub const LIGHT_FIRST: &str = "light the first line";
/// What the menu key does in the menu.
pub const LIGHT_NEXT: &str = "light the next";
/// The heading of help.
pub const HELP: &str = "Help";
/// How help is shut.
pub const HELP_SHUT: &str = "back to the work";
/// What the arrows do in a list.
pub const ARROWS: &str = "Down Up Right Left: Light the next line, or the one before.";
/// What the button does where help has more pages.
pub const HELP_ON: &str = "more";
/// The heading of the menu.
pub const MENU_HEADING: &str = "Menu: press when the right line is lit, or press its number";
/// What was taken back because the menu was opened.
pub const MENU_TOOK_BACK: &str = "The press that opened the menu is taken back.";
/// The names of the loom's places in its picture, back to front.
pub const PLACES: [&str; 4] = ["raddle", "heddles", "reed", "rod"];
/// The same while the warp is wound.
pub const PLACES_WOUND: [&str; 4] = ["wound", "heddles", "reed", "rod"];
/// The ways at the end of a batch.
pub const USED_UP: [&str; 2] = ["used up and knotted", "left over or short"];
/// The ways at a group that is sleyed.
pub const SLEYED: [&str; 2] = ["sleyed and knotted", "it does not come out"];
/// The ways at a turn of the beam.
pub const TURN: [&str; 2] = ["one more turn is on", "enough is on the beam"];
/// The keys in the picture of the cloth, and what they do there.
pub const CLOTH_HINTS: [(&str, &str); 4] = [
    ("Left Right", "ends"),
    ("Up Down", "picks"),
    ("1-9", "floats over"),
    ("F6", "floats, back, draft, shut"),
];

/// The keys in the list of sheds, and what they do there.
pub const SHEDS_HINTS: [(&str, &str); 2] = [("Up Down", "further"), ("any other key", "shut")];

/// The caption of the cloth on the screen.
#[must_use]
pub fn cloth(calls: Calls, pick: u32, face: Face, over: Option<u32>) -> String {
    let face = match face {
        Face::Front => "front",
        Face::Back => "back",
    };
    let marked = over.map_or_else(String::new, |over| format!("; floats over {over} heavy"));
    format!(
        "The cloth, {face}: {}, pick {pick} at the bottom{marked}",
        super::counts::ends(calls)
    )
}

/// The ways at an open shed.
pub const SHED: [&str; 2] = ["looked through; now count", "something looks wrong"];
/// What the key for leaving out does at a pick: no more of them.
pub const PICKS_ENOUGH: &str = "enough";
/// The ways at a pick.
pub const PICK: [&str; 2] = ["woven", "something looks wrong"];
/// The ways at the second look.
pub const CLOTH: [&str; 2] = ["done", "something looks wrong"];
/// The ways when the loom is ready.
pub const READY: [&str; 2] = ["nothing is left to do", "something looks wrong"];
/// The ways at a step that may be left out.
pub const OPTIONAL: [&str; 2] = ["done", "leave it out"];
/// The ways while the warp is wound: what is left out is the whole of it.
pub const WIND: [&str; 2] = ["done", "leave winding out, the warp came wound"];

/// The ways at a step that may be left out; winding is left out as a whole.
#[must_use]
pub fn optional(step: StepId) -> [&'static str; 2] {
    match step.stage() {
        Stage::Wind => WIND,
        Stage::Prepare
        | Stage::Spread
        | Stage::Beam
        | Stage::Thread
        | Stage::Sley
        | Stage::TieOn
        | Stage::Try => OPTIONAL,
    }
}

/// The ways when she has stopped for today.
pub const STOPPED: [&str; 2] = ["go on", "save the slip"];

/// The way into the look that the tracing asks for.
pub const ANSWER_LOOK: &str = "I looked: answer";

/// "Make the window larger: 80x24, now 62x20".
#[must_use]
pub fn too_small((least_wide, least_tall): (u16, u16), (wide, tall): (u16, u16)) -> String {
    format!("Make the window larger: {least_wide}x{least_tall}, now {wide}x{tall}")
}

/// Which page of help this is; nothing where there is but one.
#[must_use]
pub fn page_of(page: usize, of: usize) -> String {
    if of < 2 {
        return String::new();
    }
    format!("help, page {page} of {of}")
}

/// What the number keys do where a number is asked.
#[must_use]
pub fn number_keys(minus: bool) -> String {
    let minus = if minus { "; - for one too few" } else { "" };
    format!("0 to 9: The number{minus}. Then the button.")
}

/// What the number keys do where there is something to choose from so many lines.
#[must_use]
pub fn choice_keys(count: u8) -> Option<String> {
    match count {
        0 => None,
        1 => Some("1: Take that line.".to_owned()),
        2..=9 => Some(format!("1 to {count}: Take the line with that number.")),
        _ => Some("1 to 9, and 0 for the tenth: Take the line with that number.".to_owned()),
    }
}

/// How far the stage is, and what waits: "96 of 277 ends, about 40 min, 1 check open".
#[must_use]
pub fn progress(about: &About) -> String {
    let mut parts = Vec::new();
    parts.extend(
        about
            .done
            .map(|(done, of)| format!("{done} of {}", count(of, "end"))),
    );
    // where only a press is left there is no time to be told
    let (left, groups) = (about.minutes_left.filter(|n| *n > 0), about.groups_left);
    parts.extend(left.map(|left| super::log_words::time_left(left, groups, about.stage)));
    if about.left_open > 0 {
        parts.push(format!("{} open", count(about.left_open, "check")));
    }
    if let Some(found) = &about.disagreement {
        parts.push(format!("group {} disagrees", found.group));
    }
    if about.broken > 0 {
        parts.push(count(about.broken, "broken end"));
    }
    if about.help_wanted {
        parts.push("HELP ASKED FOR".to_owned());
    }
    if about.hands_wanted {
        parts.push("HANDS WANTED".to_owned());
    }
    parts.join(", ")
}

/// What stands before the handfuls of a batch: "Batch 7".
#[must_use]
pub fn batch(view: &CallView) -> String {
    format!("Batch {}", view.batch.number)
}

/// What stands behind them: "ends 73 to 76, group 4: 4 left".
#[must_use]
pub fn group_left(view: &CallView) -> String {
    let left = match view.group_left {
        0 => "full".to_owned(),
        n => format!("{n} to go"),
    };
    format!(
        "{}; group {}: {left}",
        super::counts::ends(view.calls),
        view.group.number
    )
}

/// The next call below the call: "THEN 1 2 3 4", or that the batch ends.
#[must_use]
pub fn then(view: &CallView) -> String {
    if view.next.is_empty() {
        return "THEN COUNT OFF".to_owned();
    }
    let lengths = [u32::try_from(view.next.len()).unwrap_or(0)];
    format!("THEN {}", in_handfuls(&view.next, &lengths))
}

/// The word at the mark on the tape: "7 1/8 in from the left".
#[must_use]
pub fn tape(view: &SleyView, units: Units) -> String {
    format!("{} from the {}", length(view.tape, units), side(view.from))
}

/// What a press of the button means while a number is asked.
#[must_use]
pub fn number_press(given: bool) -> &'static str {
    if given {
        "that is the number"
    } else {
        "not looked"
    }
}

/// Whether the question's number may be below nothing.
#[must_use]
pub fn may_be_negative(view: &AskingView) -> bool {
    matches!(
        view.asked,
        Asked::EndsLeft { .. }
            | Asked::HeddlesLeft { .. }
            | Asked::WarpEnds { .. }
            | Asked::WarpHeddles { .. }
            | Asked::ReedEnds { .. }
            | Asked::ReedTape { .. }
    )
}

/// Whether the tracing has a look for her.
#[must_use]
pub fn has_look(view: &DisagreeingView) -> bool {
    match &view.what {
        Disagreeing::Batch { tracing, .. } => tracing.look.is_some(),
        Disagreeing::Warp(warp) => warp.tracing.look.is_some(),
        Disagreeing::Reed(reed) => reed.tracing.look.is_some(),
        Disagreeing::Look { .. }
        | Disagreeing::Found { .. }
        | Disagreeing::Sighting { .. }
        | Disagreeing::ReadBack(_) => false,
    }
}

/// A key that means nothing here, and what the button does.
#[must_use]
pub fn wrong_key(key: &str, button: &str, press: &str) -> String {
    format!("{key} does nothing here. {button}: {press}.")
}

/// "Group 1 even; 4 ends of group 2 are in.", in capitals for the distance.
#[must_use]
pub fn balance_far(balance: Balance) -> String {
    format!("GROUP {} EVEN", balance.group)
}

/// The title of the window, which other programs may show: never a figure of the work.
#[must_use]
pub fn title(plan: &Plan) -> String {
    format!("endsmeet: {}", plan.title)
}

/// What the view's number keys beside the button say, in their order; the first is the button's.
#[must_use]
pub fn ways_of_step(view: &View) -> Option<[&'static str; 2]> {
    match view {
        View::Resting(rest) if rest.rest == Rest::Stopped => Some(STOPPED),
        View::UsedUp(_) => Some(USED_UP),
        View::Sley(_) => Some(SLEYED),
        View::Turn(_) => Some(TURN),
        View::Step(step) if step.optional => Some(optional(step.step)),
        View::Step(step) if step.step == StepId::LookAgain => Some(CLOTH),
        View::Shed(_) => Some(SHED),
        View::Pick(_) => Some(PICK),
        View::Ready(_) => Some(READY),
        View::Step(_)
        | View::Group(_)
        | View::CountOut(_)
        | View::Call(_)
        | View::Tie(_)
        | View::TieUp(_)
        | View::Asking(_)
        | View::Disagreeing(_)
        | View::Mending(_)
        | View::Resting(_)
        | View::Ends(_) => None,
    }
}

/// The distance line of the look that the tracing asks for.
pub const LOOK_FAR: &str = "LOOK, THEN ANSWER";
/// An answer to such a look that cannot be read.
pub const CANNOT_BE_SEEN: &str =
    "That cannot be the answer to this look. Read the question and give its number.";

/// The heading of the home screen.
pub const HOME: &str = "endsmeet";
/// Its distance line.
pub const HOME_FAR: &str = "WHICH WARP?";
/// What its keys do.
pub const HOME_HELP: &str =
    "Light a line with the arrows, or press its number; Space takes the lit one. q leaves.";
/// What is said when it is asked whether to leave the home screen.
pub const HOME_LEAVE_LINE: &str = "Press y to leave, any other key to stay.";
/// The item that leads to the practice warp.
pub const HOME_PRACTICE: &str = "Practice: a small warp in your mind, a few minutes";

/// The item that leads to the form of a plan, which may have been left half-way.
#[must_use]
pub fn home_new(left_half_way: bool) -> &'static str {
    if left_half_way {
        "Go on with the new plan that was left half-way"
    } else {
        "A new plan: the form, then the dressing"
    }
}

/// A dressing as an item; the first is the one to go on with.
#[must_use]
pub fn home_dressing(name: &str, first: bool) -> String {
    if first {
        format!("Go on with {name}")
    } else {
        name.to_owned()
    }
}

/// A key that means nothing on the home screen.
#[must_use]
pub fn home_wrong_key(key: &str) -> String {
    format!("{key} does nothing here. {HOME_HELP}")
}

/// Said once where speech is wanted and no voice can be had.
pub const NO_VOICE: &str = "No voice could be had, so nothing is spoken; all else works. endsmeet doctor says what is there.";

/// The distance line while a note is written.
pub const NOTE: &str = "WRITE A NOTE";
/// Keys while a note is written.
pub const NOTE_HINTS: [(&str, &str); 2] = [("Enter", "keep the note"), ("Esc", "give it up")];
/// The note was given up.
pub const NOTE_GIVEN_UP: &str = "No note was kept.";

/// The note as it stands, with a mark where the next letter goes, and what becomes of it.
#[must_use]
pub fn note_lines(note: &str) -> [String; 2] {
    [
        format!("{note}_"),
        "It is said again when this step comes round, and at the next warp of this plan."
            .to_owned(),
    ]
}
