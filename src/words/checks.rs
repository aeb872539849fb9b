//! Sentences of the checks at the loom: the pedal test and the distance chart. Owns the wording.

/// The pedal test's heading.
pub const PEDAL: &str = "Pedal test";
/// Its distance line.
pub const PEDAL_FAR: &str = "PRESS YOUR PEDAL";
/// What to do.
pub const PEDAL_DO: &str = "Press your pedal now and hold it down for two seconds. Then wait.";
/// What else shows here.
pub const PEDAL_FOCUS: &str =
    "Go to another window and back, and it shows whether this terminal tells of that.";
/// How to leave without a press of a pedal.
pub const PEDAL_LEAVE: &str = "Ctrl-C leaves.";
/// The distance line once the pedal was heard.
pub const PEDAL_HEARD: &str = "KEEP IT?";
/// The chart's heading.
pub const CHART: &str = "Distance chart";
/// The chart's line: digits that are alike and letters.
pub const CHART_FAR: &str = "38 HEDDLE 56";
/// What to do with the chart.
pub const CHART_DO: &str =
    "Stand where you thread. Space: I can read this line. Left: I cannot. q leaves.";

/// The heading of what is offered at the first start.
pub const FIRST: &str = "First time here";
/// Its distance line.
pub const FIRST_FAR: &str = "SET UP OR GO ON";
/// What it is about.
pub const FIRST_LINE: &str = "The lines light up in turn: press Space when yours is lit, or its number. All of it can be changed later with: endsmeet doctor";
/// The item of the home screen that leads there.
pub const FIRST_ITEM: &str = "First time here: voice, pedal and size of letters, two minutes";

/// What is told where the work is begun without the home screen at the first start.
pub const FIRST_TELL: &str = "First time here? endsmeet without any word offers a voice, a pedal test and the size of letters.";

/// What is offered at the first start, the way on first.
#[must_use]
pub fn first_items(silent: bool, all: bool) -> [&'static str; 4] {
    let voice = match (silent, all) {
        (true, _) => "A voice that reads the calls aloud: it is off, turn it on",
        (false, false) => "The voice reads the calls: let it read everything",
        (false, true) => "The voice reads everything: turn it off",
    };
    [
        "Go on",
        voice,
        "A pedal or other button: see what it sends",
        "Letters: find the size that you can read from the loom",
    ]
}

/// What the pedal sends and which settings suit it.
#[must_use]
pub fn verdict(key: &str, every_ms: Option<u128>, many: bool) -> Vec<String> {
    let mut lines = vec![match every_ms {
        Some(every) => format!(
            "Your pedal sends {key} and repeats it, at most {every} ms apart: holding it down opens the menu."
        ),
        None => format!(
            "Your pedal sends {key} once, however long it is held: three quick presses open the menu."
        ),
    }];
    if many {
        lines.push(
            "It sends other keys as well. See in its own settings that it sends one key only."
                .to_owned(),
        );
    }
    lines.push(
        "Space or the pedal: keep this in the settings. q: leave them as they are.".to_owned(),
    );
    lines
}

/// Whether the terminal told that the focus went away.
#[must_use]
pub fn focus(told: bool) -> &'static str {
    if told {
        "This terminal tells when its window loses its focus."
    } else {
        "It has not told of a lost focus yet."
    }
}

/// The size of a chart's line, and how many rows it has.
#[must_use]
pub fn chart_size(size: u8, rows: u16) -> String {
    format!("Size {size} of 3: letters {rows} rows high.")
}

/// The window is too small for the size that she reads.
#[must_use]
pub fn too_small_to_read(size: u8, least: (u16, u16), now: (u16, u16)) -> String {
    format!(
        "You read size {size} from the loom. Make the window {}x{} (now {}x{}), or its letters larger and see the chart again: endsmeet doctor",
        least.0, least.1, now.0, now.1
    )
}
