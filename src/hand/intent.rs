//! What the weaver wants, apart from which key said it. Owns the closed list; never carries it out.

use super::Key;

/// One thing that the weaver wants now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Intent {
    /// The call is done: the next one. Sent by any key of the row, by the pedal.
    Next,
    /// Take one press back.
    BackOne,
    /// Do again what was taken back.
    Redo,
    /// Say the call again.
    SayAgain,
    /// Leave out what may be left out: an optional step, a look. No button of the row Next sends it.
    Skip,
    /// She looked and cannot tell.
    CannotTell,
    /// Write a note.
    Note,
    /// Pause, or go on after a pause.
    Pause,
    /// Something is wrong: show what can be said of it, or hide it.
    Report,
    /// Show the cloth, or the next view of it.
    Cloth,
    /// Show every shed and pick with what rises.
    Sheds,
    /// Show or hide help.
    Help,
    /// `q` was pressed: the caller asks for `y`, and shows what is kept.
    LeaveAsked,
    /// Another key than `y` came after `q`: the weaver stays, nothing else happens.
    Stay,
    /// `y` came after `q`: leave.
    Leave,
    /// Ctrl-C: leave at once, in every context, losing nothing.
    LeaveAtOnce,
    /// Ctrl-Z: give the terminal back for a while.
    Suspend,
    /// Redraw the whole screen (Ctrl-L).
    Repaint,
    /// The number being typed or lit has changed; read it from [`super::Hand::typed`].
    Typed,
    /// A number was given in answer.
    Number(i32),
    /// A question for a number was left unanswered: nothing was typed, or NOT LOOKED was lit.
    NotLooked,
    /// The same at the first such press of a question: from now on the answers are lit in turn,
    /// since a press without a number may come from a hand that has no number keys.
    NotLookedYet,
    /// One of the choices of a question or a list was taken, counted from 0.
    Choose(u8),
    /// Another item is lit; read it from [`super::Hand::lit`]. Sent by [`super::Hand::tick`].
    Lit,
    /// The one-button menu has opened.
    MenuOpened {
        /// So many intents that were sent before came from the presses that opened it (the first
        /// press of a hold, the first one or two of three): the caller takes back what they did.
        taken_back: u8,
    },
    /// An item of the menu was taken, and the menu is shut.
    Menu(MenuItem),
    /// A character for a line of text.
    Char(char),
    /// Take the last character of a line of text away.
    Erase,
    /// The line of text is done.
    Confirm,
    /// Give the line of text up.
    Cancel,
    /// A key that means nothing here; the caller says which keys do.
    Wrong(Key),
}

/// The items of the one-button menu, in the order in which they are lit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MenuItem {
    /// Shut the menu, nothing else.
    GoOn,
    /// Take one press back.
    BackOne,
    /// Say the call again.
    SayAgain,
    /// The other way on than the button's, named by the screen. Only while there is one.
    OtherWay,
    /// No heddle, no end, something odd: leads into the tracing.
    Stuck,
    /// Something is wrong: a list of what can be said of it.
    SomethingWrong,
    /// Count what is there now. Not while a look is asked.
    Count,
    /// Ask for help from a person.
    HelpMe,
    /// Ask for a second pair of hands.
    HandsWanted,
    /// Stop for today.
    StopForToday,
    /// She looked and cannot tell. Only while a look is asked.
    CannotTell,
    /// Leave the look out; it stays on record. Only while a look is asked.
    LeaveOut,
}

impl MenuItem {
    /// All items in their order.
    pub const ALL: [Self; 12] = [
        Self::GoOn,
        Self::BackOne,
        Self::SayAgain,
        Self::OtherWay,
        Self::Stuck,
        Self::SomethingWrong,
        Self::Count,
        Self::HelpMe,
        Self::HandsWanted,
        Self::StopForToday,
        Self::CannotTell,
        Self::LeaveOut,
    ];
    /// So many of them are there while no look is asked.
    pub const ALWAYS: usize = 9;
}
