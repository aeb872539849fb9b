//! The sheet of `yarn`: one yarn in every numbering system, and setts as advice.
//! Owns its layout; the figures come from `plan::yarn` and `plan::advice`.

use crate::plan::advice::{SETT_SOURCES, setts};
use crate::plan::yarn::{SYSTEMS, System, Yarn};
use crate::quantity::{Fraction, harmless_within};
use crate::words::wrap::wrapped;

/// The sheet, at most 80 columns, ending in a line break.
#[must_use]
pub fn yarn_sheet(written: &str, yarn: &Yarn) -> String {
    let shown = |value: Option<Fraction>, places| value.map_or("-".into(), |v| v.decimal(places));
    let mut sheet = format!("{}\n\n", harmless_within(written, 78));
    sheet.push_str(&format!(
        "  {} yd per lb, {} m per kg\n\nNumbers\n",
        shown(yarn.number(System::YardsPerPound), 0),
        shown(yarn.number(System::MetresPerKilogram), 0)
    ));
    for &(system, key, words) in SYSTEMS {
        if matches!(system, System::YardsPerPound | System::MetresPerKilogram) {
            continue;
        }
        let also = words
            .get(1)
            .map_or(String::new(), |w| format!("(also {w})"));
        let name = key.replace('_', " ");
        let line = format!("  {name:<16} {:>12}  {also}", shown(yarn.number(system), 2));
        sheet.push_str(line.trim_end());
        sheet.push('\n');
    }
    if let Some(setts) = setts(yarn) {
        sheet.push_str("\nSetts, ends per inch: advice, not a rule; weave a sample\n");
        sheet.push_str("                  most  working  by wraps\n");
        for sett in &setts.weaves {
            let name = if sett.weave == "plain" {
                "plain weave"
            } else {
                "2/2 twill"
            };
            sheet.push_str(&format!(
                "  {name:<14} {:>6} {:>8} {:>9}\n",
                sett.most.decimal(1),
                sett.working.decimal(1),
                sett.by_wraps.decimal(1)
            ));
        }
        for source in SETT_SOURCES {
            for (i, line) in wrapped(source, 74).iter().enumerate() {
                let lead = if i == 0 { "  " } else { "    " };
                sheet.push_str(&format!("{lead}{line}\n"));
            }
        }
    }
    sheet
}
