//! Refusals, in words. Each says what was found, what was expected, and ends in the next move.

use super::counts::count;
use super::looks;
use crate::dressing::event::{Look, Question};
use crate::dressing::refusal::Refusal;
use crate::method::{Method, Stage};

/// The refusal as a sentence or two.
#[must_use]
pub fn refusal(refusal: &Refusal, method: &Method) -> String {
    match refusal {
        Refusal::AnswerFirst(question) => format!("A question is open. {}", wanted(question)),
        Refusal::NotLooked(look) => format!(
            "Not looked: a press does not answer {}. Look, then type the number; or skip, which stays on record.",
            looks::name(*look)
        ),
        Refusal::WayOutFirst => {
            "Something does not agree yet. Choose one of the ways out first.".to_owned()
        }
        Refusal::MendingFirst => {
            "A mending is under way. Make its next move and press on, or take it back.".to_owned()
        }
        Refusal::NoQuestion => {
            "No question is open, so a number means nothing here. Press on, or type help."
                .to_owned()
        }
        Refusal::OtherAnswer(question) => format!("That does not answer it. {}", wanted(question)),
        Refusal::OutOfRange { said, least, most } => {
            format!(
                "{said} cannot be: from {least} to {most} is possible. Count again and type it."
            )
        }
        Refusal::OtherShafts { said, shafts } => format!(
            "{} given, and the loom has {}. Type one number for each shaft, shaft 1 first.",
            count(u32::try_from(*said).unwrap_or(u32::MAX), "number"),
            count(u32::from(*shafts), "shaft")
        ),
        Refusal::Impossible(why) => super::fault_words::impossible(why),
        Refusal::NoMismatch => {
            "Nothing disagrees, so there is no way out to choose. Go on with the step.".to_owned()
        }
        Refusal::NotThisWay => {
            "This way out does not lead anywhere here. Choose one of those that are shown."
                .to_owned()
        }
        Refusal::NothingToUndo => "Nothing is there to take back. Go on with the step.".to_owned(),
        Refusal::NothingToRedo => {
            "Nothing was taken back that could be done again. Go on with the step.".to_owned()
        }
        Refusal::LookFirst(look) => format!(
            "Going back would pass {}. Look and type the number first; then one back works.",
            looks::name(*look)
        ),
        Refusal::MustBeDone(id) => format!(
            "\"{}\" cannot be left out. Do it, then press on.",
            method.step(*id).texts.title
        ),
        Refusal::OnlyWhileThreading(stage) => format!(
            "Batches are counted only while threading; this is {}. Go on with the step, or make a note.",
            stage_name(*stage, method)
        ),
        Refusal::NotCountedOut => {
            "Nothing is counted out yet, so nothing can be left over. Count out the batch first."
                .to_owned()
        }
        Refusal::NothingThreaded => {
            "Nothing of that is threaded yet, so nothing can be read back or traced. Go on with the step.".to_owned()
        }
        Refusal::NothingRead => {
            "Nothing is read yet. Type the shafts of the first handful as they stand; or skip.".to_owned()
        }
        Refusal::NoSuchGroup { said, last } => format!(
            "There is no group {said}: the warp has groups 1 to {last}. Say the last one that is sure, or none."
        ),
        Refusal::NotSleyed { said } => format!(
            "Group {said} is not in the reed yet. Say a group that is sleyed, or go on with the step."
        ),
        Refusal::NoSuchBatch { said, last } => format!(
            "There is no batch {said}: the warp has batches 1 to {last}. Say one of those."
        ),
        Refusal::StagesAgree => {
            "No two stages of a group disagree: nothing was left open. Go on with the step.".to_owned()
        }
        Refusal::NothingToLookAt(stage) => format!(
            "Nothing can be counted on the loom yet in {}. Go on with the step.",
            stage_name(*stage, method)
        ),
        Refusal::AlreadyReady => {
            "The loom is ready to weave; no step is left. Leave, or make a note.".to_owned()
        }
        Refusal::GoOnFirst => "The work rests. Press on to go on first.".to_owned(),
        Refusal::AlreadyResting => {
            "It is stopped for today already. Press on to go on, or leave.".to_owned()
        }
        Refusal::NoHelpWanted => "No help was asked for. Go on with the step.".to_owned(),
        Refusal::HelpIsWanted => "Help is asked for already. Say when it came.".to_owned(),
        Refusal::HandsAreWanted => {
            "A second pair of hands is wanted already. Say when they came.".to_owned()
        }
        Refusal::NoSuchEnd { said, last } => format!(
            "There is no end {said}: the warp's ends in order of threading are 1 to {last}. Say which one, or none if you do not know."
        ),
        Refusal::CannotBeThere(found) => format!(
            "It cannot be that {}: that is not done yet, or it is what the plan wants. Look again and say the call and what you see.",
            super::mend_words::found(found)
        ),
        Refusal::NoFloats => {
            "This warp has no floating selvedges. Say the end by its number in the order of threading."
                .to_owned()
        }
        Refusal::NoShedYet(stage) => format!(
            "No shed can be opened yet in {}. Go on with the step; what is wrong with an end that you see is said with found.",
            stage_name(*stage, method)
        ),
        Refusal::NoSuchBrokenEnd { said } => format!(
            "No broken end has the number {said}, or it is mended. See the list in the log and say another."
        ),
        Refusal::NoteEmptyOrLong => {
            "A note needs a word in it and at most 200 columns. Type it again, shorter.".to_owned()
        }
        Refusal::NoSuchWidth => {
            "A measured width is more than nothing and at most 1000. Measure again and type it."
                .to_owned()
        }
        Refusal::NothingLeftToAmend => {
            "All batches are counted out, so this would change nothing. Go on with the step."
                .to_owned()
        }
        Refusal::PlanDoesNotFit(problems) => {
            let list: Vec<String> = problems.iter().map(ToString::to_string).collect();
            format!(
                "The changed plan does not fit: {} Nothing was changed.",
                list.join(" ")
            )
        }
        Refusal::ChangesNothing => "The plan is like that already. Go on with the step.".to_owned(),
    }
}

/// What an open question wants.
fn wanted(question: &Question) -> String {
    match question {
        Question::CallsMade { .. } => {
            "Type how many ends of the batch are in their heddles.".to_owned()
        }
        Question::EndsLeft { .. } => "Type how many counted-out ends are left.".to_owned(),
        Question::HeddlesLeft { .. } => {
            "Type how many counted-out heddles are left on each shaft.".to_owned()
        }
        Question::WarpEnds { .. } => {
            "Type how many ends are left over by now, or ? where you cannot tell.".to_owned()
        }
        Question::WarpHeddles { .. } => {
            "Type how many heddles are left over on each shaft, or ? where they were not counted."
                .to_owned()
        }
        Question::ReedEnds { .. } => "Type how many ends of the group are left.".to_owned(),
        Question::ReedTape { .. } => {
            "Type how many dents the last filled one is off, or ? where you cannot tell.".to_owned()
        }
        Question::Look {
            look: Look::ReadBack { .. },
            ..
        } => "Type the shafts as they stand, with spaces; done ends the reading.".to_owned(),
        Question::Sighting(_) => "Type the number that the question asks for.".to_owned(),
        Question::Measure { what, .. } => {
            format!(
                "It wants the {}: type the number.",
                super::measure_words::name(*what)
            )
        }
        Question::Look { look, .. } => format!("It wants {}: type the number.", looks::name(*look)),
    }
}

/// A stage by its title.
#[must_use]
pub fn stage_name(stage: Stage, method: &Method) -> String {
    method.stage(stage).title.clone()
}
