//! The worksheet of `plan`: every figure on one page, for the wall beside the loom.
//! Owns its layout; the figures come from `plan`.

use super::plan_parts::{MANY_SHAFTS, bouts, count_out, counted, runs, shortened, side_of};
use super::sley_sheet::order_text;
use crate::plan::{Figures, Floats, Side, Sley, Units};
use crate::quantity::{Fraction, harmless_within};
use crate::words::counts::side;
use crate::words::wrap::wrapped;

/// The worksheet, at most 80 columns, ending in a line break. What could not be worked out is left out;
/// problems and remarks stand at the end.
#[must_use]
pub fn plan_sheet(figures: &Figures) -> String {
    let title = figures.spec.title.as_deref().unwrap_or("(no title)");
    let mut sheet = Sheet {
        text: format!("{}\n", harmless_within(title, 78)),
        units: figures.units,
    };
    sheet.warp(figures);
    sheet.threading(figures);
    sheet.heddles(figures);
    sheet.raddle_and_beam(figures);
    sheet.sley(figures);
    sheet.tie_on(figures);
    sheet.yarn(figures);
    sheet.notes(figures);
    sheet.text
}

struct Sheet {
    text: String,
    units: Units,
}

impl Sheet {
    fn head(&mut self, text: &str) {
        self.text.push_str(&format!("\n{text}\n"));
    }

    fn line(&mut self, text: &str) {
        for (i, line) in wrapped(text, 76).iter().enumerate() {
            let lead = if i == 0 { "  " } else { "    " };
            self.text.push_str(&format!("{lead}{line}\n"));
        }
    }

    fn tape(&self, length: Fraction) -> String {
        self.units.tape(length)
    }

    fn warp(&mut self, figures: &Figures) {
        self.head("Warp");
        let (Some(ends), Some(sett)) = (figures.ends, figures.spec.sett) else {
            return;
        };
        let floats = match figures.spec.floats {
            Some(Floats::Added) => "; two floating selvedges added",
            Some(Floats::FromWarp) => "; the outermost two are floating selvedges",
            Some(Floats::None) | None => "",
        };
        let width = figures.width.map_or(String::new(), |w| {
            format!(", {} wide in the reed", self.tape(w))
        });
        let unit = self.units.short();
        self.line(&format!(
            "{} at {} per {unit}{width}{floats}",
            counted(ends, "end"),
            sett.mixed()
        ));
        if let Some(groups) = &figures.groups {
            let of = figures.spec.group.unwrap_or(Fraction::ONE).mixed();
            let sizes = runs(groups.iter().map(|g| g.ends), "group", "groups");
            self.line(&format!("{sizes}, counted by {of} {unit}"));
        }
        if let Some(length) = figures.warp_length {
            self.line(&format!(
                "wind each end {} long{}",
                self.tape(length),
                bouts(figures)
            ));
        }
        self.stripes(figures);
    }

    fn stripes(&mut self, figures: &Figures) {
        if figures.stripes.len() > 1 {
            let stripes = figures.stripes.iter().take(24);
            let text = stripes.map(|s| format!("{} {}", s.last - s.first + 1, s.yarn));
            let more = if figures.stripes.len() > 24 {
                ", and so on"
            } else {
                ""
            };
            let text = text.collect::<Vec<_>>().join(", ");
            self.line(&format!(
                "colours from the {}: {text}{more}",
                self.thread_side(figures)
            ));
        }
    }

    fn thread_side(&self, figures: &Figures) -> &'static str {
        side(figures.spec.thread_from.unwrap_or(Side::Right))
    }

    fn threading(&mut self, figures: &Figures) {
        self.head(&format!(
            "Threading, from the {}",
            self.thread_side(figures)
        ));
        let text = figures.spec.threading.as_deref().unwrap_or("");
        self.line(&shortened(text));
        let (Some(batches), Some(threading)) = (&figures.batches, &figures.threading) else {
            return;
        };
        let repeat = figures
            .repeat
            .map_or("no repeat".into(), |r| format!("repeat of {r}"));
        let sizes = runs(batches.iter().map(|b| b.calls.len()), "batch", "batches");
        self.line(&format!("{repeat}; {sizes}"));
        if let Some(first) = batches.first() {
            let list = |numbers: &[u32]| {
                numbers
                    .iter()
                    .map(u32::to_string)
                    .collect::<Vec<_>>()
                    .join(" ")
            };
            let calls: Vec<u32> = threading
                .get(first.calls.indices())
                .map_or(Vec::new(), |s| s.iter().map(|s| u32::from(s.0)).collect());
            self.line(&format!("batch 1 is {}", shortened(&list(&calls))));
            self.line(&format!(
                "count out for it on each shaft: {}",
                shortened(&count_out(&first.heddles))
            ));
        }
    }

    fn heddles(&mut self, figures: &Figures) {
        let Some(heddles) = &figures.heddles else {
            return;
        };
        self.head("Heddles (move them before beaming, while the shafts are empty)");
        let spare = heddles.spare();
        let shafts = heddles.needed.len();
        let many = shafts > MANY_SHAFTS;
        let (a_row, wide) = if many { (13, 5) } else { (10, 6) };
        for start in (0..shafts).step_by(a_row) {
            let until = (start + a_row).min(shafts);
            let cells = |name: &str, value: &dyn Fn(usize) -> u32| {
                let row: String = (start..until)
                    .map(|i| format!("{:>wide$}", value(i)))
                    .collect();
                format!("  {name:<12}{row}\n")
            };
            let at = |list: &[u32], i: usize| list.get(i).copied().unwrap_or(0);
            self.text
                .push_str(&cells("shaft", &|i| u32::try_from(i + 1).unwrap_or(0)));
            self.text
                .push_str(&cells("needed", &|i| at(&heddles.needed, i)));
            if let Some(there) = &heddles.on_hand {
                if !many {
                    self.text.push_str(&cells("there", &|i| at(there, i)));
                }
                self.text.push_str(&cells("spare", &|i| at(&spare, i)));
                if !many {
                    let sides = heddles.spare_sides();
                    self.text.push_str(&cells("spare, left", &|i| {
                        side_of(&sides, i, figures, Side::Left)
                    }));
                    self.text.push_str(&cells("spare, right", &|i| {
                        side_of(&sides, i, figures, Side::Right)
                    }));
                }
                if heddles.short.iter().any(|&s| s > 0) {
                    self.text
                        .push_str(&cells("short", &|i| at(&heddles.short, i)));
                }
            }
        }
    }

    fn raddle_and_beam(&mut self, figures: &Figures) {
        self.head("Raddle and beam");
        if let Some(raddle) = &figures.raddle {
            self.line(&format!(
                "first space: number {} from the raddle's middle, on the {}; {} in all",
                raddle.first_space_from_middle,
                self.thread_side(figures),
                counted(raddle.spaces, "space")
            ));
        }
        if let Some(ties) = figures.ties {
            self.line(&format!("tie the rods at {ties} places, the middle first"));
        }
        if let Some(turns) = figures.beam.turns {
            let packing = figures
                .beam
                .packing
                .map_or(String::new(), |p| format!(", {} of packing", self.tape(p)));
            self.line(&format!("about {}{packing}", counted(turns, "turn")));
        }
        if let Some(front) = figures.spec.loom.front_allowance {
            self.line(&format!(
                "stop with {} in front of the shafts",
                self.tape(front)
            ));
        }
    }

    fn sley(&mut self, figures: &Figures) {
        let Some(sley) = &figures.sley else { return };
        self.head(&format!("Sley, from the {}", side(sley.starts)));
        let exact = if sley.exact { "" } else { " (not exact)" };
        let (sett, unit) = (sley.sett.decimal(2), self.units.short());
        let order = if sley.sections.is_empty() {
            format!(
                "ends per dent {}, which gives",
                harmless_within(&order_text(&sley.order), 60)
            )
        } else {
            "by sections, on the whole".to_owned()
        };
        self.line(&format!(
            "reed {}; {order} {sett} per {unit}{exact}",
            sley.reed
        ));
        for section in sley.sections.iter().take(8) {
            let ends = section
                .ends
                .map_or("the rest".to_owned(), |n| counted(n, "end"));
            self.line(&format!(
                "{ends}: {}",
                harmless_within(&order_text(&section.order), 60)
            ));
        }
        if sley.sections.len() > 8 {
            self.line(&format!("and {} sections more", sley.sections.len() - 8));
        }
        self.line(&self.first_dent(sley, figures.floating));
    }

    fn first_dent(&self, sley: &Sley, floating: u32) -> String {
        let floats = if floating > 0 {
            " (the floats have a dent of their own outside)"
        } else {
            ""
        };
        format!(
            "the outer edge of the warp lies {} from the reed's edge, {} from its middle; first dent with heddled ends: number {} of {}{floats}; {} in all",
            self.tape(sley.from_reed_edge),
            self.tape(sley.from_middle),
            sley.first_dent,
            sley.reed_total,
            counted(sley.heddled_dents, "dent")
        )
    }

    fn tie_on(&mut self, figures: &Figures) {
        let Some(bundles) = &figures.bundles else {
            return;
        };
        self.head("Tie on");
        let first: Vec<String> = bundles
            .iter()
            .take(8)
            .map(|b| b.group.to_string())
            .collect();
        let more = if bundles.len() > 8 {
            ", and so outwards by turns"
        } else {
            ""
        };
        let from = self.thread_side(figures);
        let (count, first) = (bundles.len(), first.join(", "));
        self.line(&format!(
            "{count} bundles; groups counted from the {from}: {first}{more}"
        ));
    }

    fn yarn(&mut self, figures: &Figures) {
        if figures.yarn.is_empty() {
            return;
        }
        let (long, heavy) = match self.units {
            Units::In => ("yd", "lb"),
            Units::Cm => ("m", "kg"),
        };
        self.head("Yarn");
        for need in &figures.yarn {
            let weight = need
                .weight
                .map_or(String::new(), |w| format!(", {} {heavy}", w.decimal(3)));
            let weft = if need.weft.is_positive() {
                format!(", of that {} {long} for the weft", need.weft.decimal(0))
            } else {
                String::new()
            };
            let cost = need
                .cost
                .map_or(String::new(), |c| format!(", costs {}", c.decimal(2)));
            let name = harmless_within(&need.name, 30);
            let size = need
                .size
                .as_ref()
                .map_or(String::new(), |s| format!(" ({})", harmless_within(s, 30)));
            let ends = counted(need.ends, "end");
            self.line(&format!(
                "{name}{size}: {ends}, {} {long}{weft}{weight}{cost}",
                need.length.decimal(0)
            ));
        }
    }

    fn notes(&mut self, figures: &Figures) {
        if !figures.filled.is_empty() {
            self.head("Not said, so taken as usual (a ? marks a guess)");
            let said = |f: &crate::plan::Filled| {
                format!("{} {}{}", f.path, f.value, if f.guess { "?" } else { "" })
            };
            let text = figures
                .filled
                .iter()
                .map(said)
                .collect::<Vec<_>>()
                .join(", ");
            self.line(&text);
        }
        if !figures.remarks.is_empty() {
            self.head("Worth knowing");
            for remark in &figures.remarks {
                self.line(&remark.to_string());
            }
        }
        if !figures.problems.is_empty() {
            self.head("Does not fit");
            for problem in &figures.problems {
                let text = problem.to_string();
                let (first, rest) = text.split_once('\n').unwrap_or((&text, ""));
                self.line(first);
                for line in rest.lines() {
                    self.text.push_str(&format!("  {line}\n"));
                }
            }
        }
    }
}
