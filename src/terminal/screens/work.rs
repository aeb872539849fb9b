//! A dressing's view as a stack of bands. Owns which bands each kind of view has; every figure
//! comes from the view, every sentence from the words.

use super::loom::loom_of;
use super::{Band, CallBand, ChoiceList, Counts, FarLine, Handfuls, Header, Manner, Stack, Tone};
use crate::dressing::Dressing;
use crate::dressing::ledger::Task;
use crate::dressing::state::open_look;
use crate::dressing::view::{About, CallView, CountOutView, GroupView, SleyView, TieUpView, View};
use crate::method::StepId;
use crate::plan::{Action, Face, Side};
use crate::quantity::Shaft;
use crate::terminal::cloth_band::{ClothBand, Part};
use crate::terminal::loom_picture::Edge;
use crate::terminal::strip::{Gap, Strip};
use crate::terminal::theme::Role;
use crate::words::{Page, screen_words};

/// Everything that a screen of the work is made from.
#[derive(Debug, Clone, Copy)]
pub struct Scene<'a> {
    /// The dressing.
    pub dressing: &'a Dressing,
    /// Its view.
    pub view: &'a View,
    /// What stands around the view.
    pub about: &'a About,
    /// The view in words.
    pub page: &'a Page,
    /// What was just done or refused.
    pub notice: Option<&'a (Tone, String)>,
    /// The bottom line.
    pub hints: &'a [(String, String)],
    /// The lit one of the choices that the screen lists, if one is.
    pub lit: Option<usize>,
    /// What the practice warp tells beside the work; empty in earnest.
    pub story: &'a [String],
}

/// Ranks of bands: what is left out first where there are too few rows has the greatest.
const CALL: u8 = 0;
const TEXT: u8 = 1;
const THEN: u8 = 2;
const PICTURE: u8 = Stack::PICTURE;

/// The screen of the work.
#[must_use]
pub fn work(scene: &Scene, width: u16, manner: Manner) -> Stack {
    let mut stack = Stack::default();
    let mut add = |band: Band, rank: u8| stack.push(band.wish(width, manner, rank));
    add(header(scene), CALL);
    for (band, rank) in body(scene) {
        add(band, rank);
    }
    // paused with a look open: the picture would tell what is asked
    let looking = open_look(scene.dressing.mood()).is_some();
    if let Some(picture) = picture(scene, width).filter(|_| !looking) {
        add(picture, PICTURE);
    }
    if let Some(told) = story(scene) {
        add(told, TEXT);
    }
    add(notice(scene), CALL);
    add(Band::Footer(scene.hints.to_vec()), CALL);
    stack
}

/// The picture below the text: the cloth where it is woven and looked at, else the loom.
fn picture(scene: &Scene, width: u16) -> Option<Band> {
    let woven = match scene.view {
        View::Step(step) => matches!(step.step, StepId::LookAgain | StepId::Measure),
        View::Ready(_) => true,
        View::Pick(pick) => pick.step == StepId::FirstPicks,
        _ => false,
    };
    let part = Part {
        first: 1,
        pick: 1,
        face: Face::Front,
        over: None,
        hand: None,
    };
    let cloth = woven
        .then(|| ClothBand::of(scene.dressing.plan(), part, width))
        .flatten();
    cloth
        .map(Band::Cloth)
        .or_else(|| loom_of(scene.dressing, scene.view).map(Band::Loom))
}

/// The first row: where this is, how far and what is open; not how far while something is asked, since that
/// could be the answer.
#[must_use]
pub fn header(scene: &Scene) -> Band {
    let asks = matches!(scene.view, View::Asking(_));
    Band::Header(Header {
        left: scene.page.heading.clone(),
        right: screen_words::progress(&About {
            done: scene.about.done.filter(|_| !asks),
            minutes_left: scene.about.minutes_left.filter(|_| !asks),
            ..scene.about.clone()
        }),
    })
}

/// The row for what was just done or refused; it is there even when nothing was, so that nothing
/// moves when something is.
#[must_use]
pub fn notice(scene: &Scene) -> Band {
    Band::Lines(vec![
        scene
            .notice
            .cloned()
            .unwrap_or((Tone::Know, " ".to_owned())),
    ])
}

/// What the practice warp tells beside the work.
#[must_use]
pub fn story(scene: &Scene) -> Option<Band> {
    let lines = scene.story.iter().map(|line| (Tone::Done, line.clone()));
    (!scene.story.is_empty()).then(|| Band::Lines(lines.collect()))
}

/// The sentences of the page, what to do first, the caution last.
#[must_use]
pub fn sentences(page: &Page) -> Vec<(Tone, String)> {
    let tones = std::iter::once(Tone::Do).chain(std::iter::repeat(Tone::Know));
    let mut lines: Vec<(Tone, String)> = tones.zip(page.lines.iter().cloned()).collect();
    lines.extend(
        page.caution
            .iter()
            .map(|caution| (Tone::Alarm, format!("Caution: {caution}"))),
    );
    lines
}

/// The bands between header and picture.
fn body(scene: &Scene) -> Vec<(Band, u8)> {
    let far = || (Band::Far(FarLine::now(scene.page.far.clone())), CALL);
    let text = || (Band::Lines(sentences(scene.page)), TEXT);
    match scene.view {
        View::Call(call) => call_bands(call, scene.dressing.plan().shafts),
        View::CountOut(batch) => vec![far(), (count_out(batch), TEXT), text()],
        View::Group(group) if group.task == Task::Spread => {
            vec![far(), text(), (spaces(group), THEN)]
        }
        View::Sley(group) => {
            let mut bands = vec![far(), text(), (dents(scene, group), THEN)];
            bands.extend(ways(scene).map(|(band, _)| (band, THEN)));
            bands
        }
        View::Shed(shed) => {
            let large = (shafts_large(&shed.rising, scene), THEN);
            let mut bands = vec![far(), large, text()];
            bands.extend(ways(scene));
            bands
        }
        View::Pick(pick) => {
            let large = (shafts_large(&pick.pick.shed.rising, scene), THEN);
            let mut bands = vec![far(), large, text()];
            bands.extend(ways(scene));
            bands
        }
        View::TieUp(tie) => vec![
            far(),
            (
                shafts_large(tied(tie, scene.dressing.plan().action), scene),
                CALL,
            ),
            text(),
        ],
        View::UsedUp(_) | View::Turn(_) | View::Step(_) | View::Ready(_) => {
            let mut bands = vec![far(), text()];
            bands.extend(ways(scene));
            bands
        }
        View::Resting(_) => {
            let mut bands = vec![far(), text()];
            bands.extend(ways(scene));
            bands
        }
        View::Group(_)
        | View::Tie(_)
        | View::Asking(_)
        | View::Disagreeing(_)
        | View::Mending(_)
        | View::Ends(_) => vec![far(), text()],
    }
}

fn ways(scene: &Scene) -> Option<(Band, u8)> {
    let ways = screen_words::ways_of_step(scene.view)?;
    let choices = ChoiceList {
        items: ways.map(str::to_owned).to_vec(),
        lit: scene.lit,
    };
    Some((Band::Choices(choices), TEXT))
}

fn call_bands(view: &CallView, lanes: u8) -> Vec<(Band, u8)> {
    let call = CallBand {
        shafts: view.shafts.iter().map(|shaft| shaft.0).collect(),
        lanes,
    };
    let then = FarLine {
        text: screen_words::then(view),
        role: Role::Quiet,
    };
    let handfuls = Handfuls {
        lengths: view.handfuls.clone(),
        at: (view.handful.saturating_sub(1)) as usize,
        left: screen_words::batch(view),
        right: screen_words::group_left(view),
    };
    vec![
        (Band::Call(call), CALL),
        (Band::Far(then), THEN),
        (Band::Handfuls(handfuls), TEXT),
    ]
}

/// Heddles to count out, each under its shaft.
fn count_out(view: &CountOutView) -> Band {
    let name = |i: usize| (i + 1).to_string();
    let each = view.batch.heddles.iter().enumerate();
    Band::Counts(Counts {
        name: screen_words::SHAFT.to_owned(),
        each: each.map(|(i, n)| (name(i), *n)).collect(),
    })
}

/// What the eye looks for under the loom: on a counterbalance loom the shafts that the treadle pulls
/// down, elsewhere those that it raises.
fn tied(view: &TieUpView, action: Action) -> &[Shaft] {
    match action {
        Action::Counterbalance => &view.tie.sinking,
        Action::Jack | Action::Countermarch | Action::Table | Action::Lift => &view.tie.rising,
    }
}

fn shafts_large(shafts: &[Shaft], scene: &Scene) -> Band {
    Band::Call(CallBand {
        shafts: shafts.iter().map(|shaft| shaft.0).collect(),
        lanes: scene.dressing.plan().shafts,
    })
}

/// The side of the plan as an edge of the picture.
pub(super) fn edge(side: Side) -> Edge {
    match side {
        Side::Left => Edge::Left,
        Side::Right => Edge::Right,
    }
}

fn spaces(view: &GroupView) -> Band {
    let gaps = view.spaces.iter().map(|(number, ends)| Gap {
        number: *number,
        ends: *ends,
        there: 0,
    });
    Band::Strip(Strip {
        gaps: gaps.collect(),
        from: edge(view.side),
        mark: String::new(),
    })
}

fn dents(scene: &Scene, view: &SleyView) -> Band {
    let gaps = view.dents.iter().enumerate().map(|(i, fill)| Gap {
        number: fill.dent,
        ends: fill.ends,
        there: if i == 0 { view.shared } else { 0 },
    });
    Band::Strip(Strip {
        gaps: gaps.collect(),
        from: edge(view.from),
        mark: screen_words::tape(view, scene.dressing.plan().units),
    })
}
