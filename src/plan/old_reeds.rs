//! The old reed numbers of the mill districts, turned into dents per inch on entry.
//! Owns the table; everything after entry knows dents per inch only.

use crate::quantity::{Fraction, parse_fraction};

/// One old system: its names, and how many dents one unit of its number means in how many inches.
struct Old {
    names: &'static [&'static str],
    /// Dents for each unit of the number.
    dents: (i64, i64),
    /// Inches that the number counts over.
    inches: (i64, i64),
    /// Whether a number below 100 counts hundreds.
    hundreds: bool,
}

const fn old(names: &'static [&'static str], dents: (i64, i64), inches: (i64, i64)) -> Old {
    Old {
        names,
        dents,
        inches,
        hundreds: false,
    }
}

/// Stockport, Bradford, Bolton, Blackburn, Preston, Scotch: Taylor 1909 pp. 310-311. Radcliffe,
/// Huddersfield, Leeds (porters of 38 ends, two in a dent), Dewsbury: Dictionary of English textile
/// terms, "Sett Systems". Porter: Spon's Encyclopaedia, "Jute". Irish, Macclesfield: the same dictionary.
const TABLE: &[Old] = &[
    old(&["stockport", "manchester"], (1, 1), (2, 1)),
    old(&["radcliffe", "huddersfield"], (1, 1), (1, 1)),
    old(&["bradford"], (20, 1), (36, 1)),
    old(&["bolton"], (20, 1), (97, 4)),
    old(&["blackburn"], (20, 1), (45, 1)),
    old(&["preston 6-4"], (20, 1), (58, 1)),
    old(&["preston 9-8"], (20, 1), (44, 1)),
    old(&["preston 4-4", "preston"], (20, 1), (39, 1)),
    old(&["preston 7-8"], (20, 1), (34, 1)),
    old(&["scotch", "glasgow"], (1, 1), (37, 1)),
    old(&["porter", "tweed"], (20, 1), (37, 1)),
    old(&["leeds"], (19, 1), (9, 1)),
    old(&["dewsbury"], (19, 1), (90, 1)),
    Old {
        names: &["irish"],
        dents: (1, 1),
        inches: (40, 1),
        hundreds: true,
    },
    Old {
        names: &["macclesfield"],
        dents: (1, 1),
        inches: (36, 1),
        hundreds: true,
    },
];

/// Dents per inch of a reed written the old way: `60 stockport`, `72 bradford`, `10 irish`; `None` where
/// there is no number in front, no known name behind, or the figure is beyond any arithmetic.
#[must_use]
pub fn old_reed(text: &str) -> Option<Fraction> {
    let text = text.trim().to_lowercase();
    let at = text.find(|c: char| c.is_ascii_alphabetic())?;
    let (number, name) = text.split_at(at);
    let number = number.trim();
    let name = name.strip_prefix("s ").unwrap_or(name).trim();
    let system = TABLE.iter().find(|o| o.names.contains(&name))?;
    let number = parse_fraction(number).ok().filter(|n| n.is_positive())?;
    let hundred = Fraction::whole(100);
    let number = if system.hundreds && number < hundred {
        number.times(hundred)?
    } else {
        number
    };
    let dents = Fraction::new(system.dents.0, system.dents.1)?;
    let inches = Fraction::new(system.inches.0, system.inches.1)?;
    number.times(dents)?.over(inches)
}
