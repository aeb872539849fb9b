//! The sheet of `sley`: the order for a sett in a reed, and what other reeds would give.
//! Owns its layout; the figures come from `plan::advice`.

use crate::plan::advice::SleyAdvice;
use crate::plan::order::Order;
use crate::plan::reeds::per_text;

/// `1-2`: an order as it is written.
pub(super) fn order_text(order: &[u32]) -> String {
    order
        .iter()
        .map(u32::to_string)
        .collect::<Vec<_>>()
        .join("-")
}

/// The sheet, at most 80 columns, ending in a line break.
#[must_use]
pub fn sley_sheet(advice: &SleyAdvice) -> String {
    let per = per_text(advice.per);
    let line = |order: &Order| {
        let exact = if order.exact { "exactly" } else { "not exact" };
        format!(
            "{:<20} {:>8} per {per}, {exact}\n",
            order_text(&order.dents),
            order.sett.decimal(2)
        )
    };
    let mut sheet = format!(
        "Sett {} per {per} in a reed of {} dents per {per}\n\n  ends per dent: {}",
        advice.sett.mixed(),
        advice.reed.mixed(),
        line(&advice.best)
    );
    let line = |order: &Order| {
        let order_text = order_text(&order.dents);
        format!("{order_text:<20} {:>8} per {per}\n", order.sett.decimal(2))
    };
    if !advice.near.is_empty() {
        sheet.push_str("\nNear it, in the same reed\n");
        for order in &advice.near {
            sheet.push_str(&format!("  {}", line(order)));
        }
    }
    sheet.push_str("\nOther reeds, the best first\n");
    for (dents, ranked) in &advice.others {
        sheet.push_str(&format!(
            "  reed {:<6} {:<18} {:>8}  {}\n",
            dents.decimal(2),
            order_text(&ranked.order.dents),
            ranked.order.sett.decimal(2),
            ranked.reason.says()
        ));
    }
    sheet
}
