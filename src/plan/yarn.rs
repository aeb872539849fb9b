//! Yarn numbers: reading `8/2 cotton` and saying it in every system.
//! Owns the constants and the notation; floats never enter. tex = grams per kilometre.

use crate::quantity::{Fraction, FractionFault, harmless_within, parse_fraction};

/// A system of yarn numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum System {
    /// Grams per 1000 m, direct.
    Tex,
    /// Grams per 10,000 m, direct.
    Dtex,
    /// Grams per 9000 m, direct.
    Denier,
    /// Hanks of 840 yd per lb.
    Cotton,
    /// Hanks of 840 yd per lb, the number being that of the finished yarn.
    SpunSilk,
    /// Kilometres per kilogram.
    Metric,
    /// Hanks of 560 yd per lb.
    Worsted,
    /// Leas of 300 yd per lb.
    Linen,
    /// Runs of 1600 yd per lb.
    Run,
    /// Cuts of 300 yd per lb.
    Cut,
    /// Skeins of 256 yd per lb.
    Yorkshire,
    /// Yards per ounce.
    Dewsbury,
    /// Grains per 120 yd, direct.
    Grain,
    /// Grains per yard, direct.
    GrainPerYard,
    /// Pounds per 14,400 yd, direct.
    Jute,
    /// Drams per 1000 yd, direct.
    Dram,
    /// Kilometres per half kilogram.
    French,
    /// Yards per pound.
    YardsPerPound,
    /// Metres per kilogram.
    MetresPerKilogram,
}

/// Every system: its key in JSON and how a weaver may write it.
pub const SYSTEMS: &[(System, &str, &[&str])] = &[
    (System::Tex, "tex", &["tex"]),
    (System::Dtex, "dtex", &["dtex", "decitex"]),
    (System::Denier, "denier", &["denier", "den", "deniers"]),
    (
        System::Cotton,
        "cotton",
        &["cotton", "ne", "nec", "cc", "cottolin"],
    ),
    (System::SpunSilk, "spun_silk", &["spun silk", "silk spun"]),
    (System::Metric, "metric", &["nm", "metric"]),
    (
        System::Worsted,
        "worsted",
        &["worsted", "wc", "wool worsted"],
    ),
    (
        System::Linen,
        "linen",
        &["linen", "lea", "flax", "wet spun", "hemp"],
    ),
    (
        System::Run,
        "run",
        &["run", "wr", "woollen run", "woolen run"],
    ),
    (System::Cut, "cut", &["cut", "woollen cut", "woolen cut"]),
    (
        System::Yorkshire,
        "yorkshire",
        &["yorkshire", "skein", "yorkshire skein", "ysw"],
    ),
    (
        System::Dewsbury,
        "dewsbury",
        &["dewsbury", "yd/oz", "yards per ounce"],
    ),
    (
        System::Grain,
        "grain",
        &["grain", "grains", "american grain"],
    ),
    (
        System::GrainPerYard,
        "grain_per_yard",
        &["grains per yard", "gr/yd"],
    ),
    (
        System::Jute,
        "jute",
        &["jute", "spindle", "spyndle", "lb jute"],
    ),
    (System::Dram, "dram", &["dram", "drams", "silk dram"]),
    (System::French, "french", &["french", "old french"]),
    (
        System::YardsPerPound,
        "yards_per_pound",
        &["yd/lb", "yards per pound", "yards/pound", "ypp"],
    ),
    (
        System::MetresPerKilogram,
        "metres_per_kilogram",
        &["m/kg", "metres per kilogram", "meters per kilogram"],
    ),
];

/// How a system turns its number into tex.
enum Way {
    /// tex = factor x number.
    Direct(Option<Fraction>),
    /// tex = constant / number.
    Indirect(Option<Fraction>),
}

/// tex of a yarn of 1 yd per lb: 453.59237 g in 0.9144 m (both exact by definition; ASTM D2260 note A).
fn one_yard_per_pound() -> Option<Fraction> {
    Fraction::new(4_535_923_700, 9144)
}

fn hank(yards: i64) -> Way {
    Way::Indirect(one_yard_per_pound().and_then(|k| k.over(Fraction::whole(yards))))
}

/// tex of one pound in so many yards.
fn pound_in(yards: i64) -> Way {
    match hank(yards) {
        Way::Direct(k) | Way::Indirect(k) => Way::Direct(k),
    }
}

impl System {
    /// Its key in JSON.
    #[must_use]
    pub fn key(self) -> &'static str {
        SYSTEMS
            .iter()
            .find(|(system, ..)| *system == self)
            .map_or("tex", |(_, key, _)| key)
    }

    /// Bases: ASTM D2260 table 1 (cotton 840, worsted 560, lea and cut 300, run 1600, grain per 120 yd,
    /// 9 x tex = denier); Yorkshire 1536 yd in 6 lb; jute lb in 14,400 yd; dram: Wolfensberger p. 71,
    /// 256,000 yd/lb; 7000 grains in a pound: Taylor p. 330; French: Brooks, "Wrapping".
    fn way(self) -> Way {
        match self {
            Self::Tex => Way::Direct(Some(Fraction::ONE)),
            Self::Dtex => Way::Direct(Fraction::new(1, 10)),
            Self::Denier => Way::Direct(Fraction::new(1, 9)),
            Self::Cotton | Self::SpunSilk => hank(840),
            Self::Metric => Way::Indirect(Fraction::new(1000, 1)),
            Self::Worsted => hank(560),
            Self::Linen | Self::Cut => hank(300),
            Self::Run => hank(1600),
            Self::Yorkshire => hank(256),
            Self::Dewsbury => hank(16),
            Self::Grain => pound_in(7000 * 120),
            Self::GrainPerYard => pound_in(7000),
            Self::Jute => pound_in(14_400),
            Self::Dram => pound_in(256_000),
            Self::French => Way::Indirect(Fraction::new(500, 1)),
            Self::YardsPerPound => hank(1),
            Self::MetresPerKilogram => Way::Indirect(Fraction::new(1_000_000, 1)),
        }
    }

    /// The tex of a number in this system; `None` for 0 and beyond 128 bits.
    #[must_use]
    pub fn tex_of(self, number: Fraction) -> Option<Fraction> {
        let tex = match self.way() {
            Way::Direct(factor) => factor?.times(number),
            Way::Indirect(constant) => constant?.over(number),
        };
        tex.filter(|t| t.is_positive())
    }

    /// The number in this system of a tex; `None` for 0 and beyond 128 bits.
    #[must_use]
    pub fn number_of(self, tex: Fraction) -> Option<Fraction> {
        match self.way() {
            Way::Direct(factor) => tex.over(factor?),
            Way::Indirect(constant) => constant?.over(tex),
        }
    }
}

/// One strand as written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Strand {
    /// The system it is numbered in.
    pub system: System,
    /// The number of each single; for spun silk that of the finished yarn.
    pub size: Fraction,
    /// Singles twisted together.
    pub ply: u32,
}

/// A yarn read from its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Yarn {
    /// Its strands; more than one where they were written with `+`.
    pub strands: Vec<Strand>,
    /// Grams per kilometre of the whole.
    pub tex: Fraction,
}

/// What is wrong with a written yarn size.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum YarnFault {
    /// Nothing was written.
    #[error("nothing there; write it as on the cone, such as 8/2 cotton or 30 tex")]
    Nothing,
    /// No number in front.
    #[error("no number in front; write it as on the cone, such as 8/2 cotton or 30 tex")]
    NoNumber,
    /// The number cannot be read.
    #[error("the number: {0}")]
    Number(FractionFault),
    /// The number is 0, or beyond any yarn.
    #[error("no yarn is that thick or thin; expected a size from 1/1000 to 1,000,000")]
    Beyond,
    /// The ply is 0 or beyond any yarn.
    #[error("a ply of {0}; expected 1 to 100")]
    Ply(String),
    /// No system behind the number.
    #[error(
        "no system behind the number; add one, such as cotton, linen, worsted, nm, tex or yd/lb"
    )]
    NoSystem,
    /// A system that is not known.
    #[error("no system is called '{found}'{}; known are cotton, linen, worsted, nm, tex, denier, run, cut, spun silk, yd/lb and more", did_you_mean(.nearest))]
    UnknownSystem {
        /// What was written.
        found: String,
        /// The known word nearest to it.
        nearest: Option<&'static str>,
    },
    /// `silk` alone, which is numbered in two ways.
    #[error(
        "silk is numbered in two ways; write 'spun silk' (the number of the finished yarn, 840 yd hanks) or 'nm' (20/2 nm)"
    )]
    Silk,
}

fn did_you_mean(nearest: &Option<&'static str>) -> String {
    nearest.map_or_else(String::new, |word| format!(" (did you mean {word}?)"))
}

/// Reads a yarn: `8/2 cotton`, `2/8 worsted`, `30 tex`, `40 + 60 cotton`, `3360 yd/lb`. Of two numbers the
/// smaller is the ply: US cotton and linen are written size/ply, British and worsted ply/size, and 2/8 is
/// 8/2 (Laura Fry, by way of the reference). Strands twisted together: 1/N = sum of 1/Ni, Taylor p. 308.
///
/// # Errors
/// A [`YarnFault`] that says what was expected.
pub fn read_yarn(text: &str) -> Result<Yarn, YarnFault> {
    let text = text.trim().to_lowercase();
    if text.is_empty() {
        return Err(YarnFault::Nothing);
    }
    let parts: Vec<&str> = text.split('+').map(str::trim).collect();
    let last = parts.last().map_or("", |part| split(part).1);
    let mut strands = Vec::with_capacity(parts.len());
    let mut tex = Fraction::ZERO;
    for part in parts.iter().take(64) {
        let (number, system) = split(part);
        let system = read_system(if system.is_empty() { last } else { system })?;
        let strand = read_strand(number, system)?;
        tex = strand
            .tex()
            .and_then(|t| tex.plus(t))
            .ok_or(YarnFault::Beyond)?;
        strands.push(strand);
    }
    Ok(Yarn { strands, tex })
}

/// The number in front and the word behind it.
fn split(part: &str) -> (&str, &str) {
    let number = |c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | ' ' | '-');
    let at = part.find(|c| !number(c)).unwrap_or(part.len());
    (part[..at].trim(), part[at..].trim())
}

fn read_system(word: &str) -> Result<System, YarnFault> {
    let word = word.strip_prefix("s ").unwrap_or(word).replace('_', " ");
    let word = word.trim();
    match word {
        "" | "s" => return Err(YarnFault::NoSystem),
        "silk" => return Err(YarnFault::Silk),
        _ => {}
    }
    let called = |words: &[&str]| words.contains(&word);
    if let Some(&(system, ..)) = SYSTEMS
        .iter()
        .find(|(_, key, words)| *key == word || called(words))
    {
        return Ok(system);
    }
    let all: Vec<&'static str> = SYSTEMS
        .iter()
        .flat_map(|(_, _, words)| words.iter().copied())
        .collect();
    let nearest = super::fields::nearest(word, &all);
    let found = harmless_within(word, 30);
    Err(YarnFault::UnknownSystem { found, nearest })
}

fn read_strand(number: &str, system: System) -> Result<Strand, YarnFault> {
    if number.is_empty() {
        return Err(YarnFault::NoNumber);
    }
    let read = |text: &str| parse_fraction(text).map_err(YarnFault::Number);
    let (size, ply) = match number.split_once('/') {
        None => (read(number)?, Fraction::ONE),
        Some((one, other)) => {
            let (one, other) = (read(one)?, read(other)?);
            (one.max(other), one.min(other))
        }
    };
    let whole = ply.is_whole() && ply >= Fraction::ONE && ply <= Fraction::whole(100);
    let ply = u32::try_from(ply.numerator())
        .ok()
        .filter(|_| whole)
        .ok_or(YarnFault::Ply(ply.mixed()))?;
    let least = Fraction::new(1, 1000).unwrap_or(Fraction::ONE);
    if size < least || size > Fraction::whole(1_000_000) {
        return Err(YarnFault::Beyond);
    }
    Ok(Strand { system, size, ply })
}

impl Strand {
    /// Grams per kilometre: singles x ply; spun silk is numbered by the finished yarn, so its ply changes
    /// nothing (40s-2 has 40 hanks to the pound: Taylor p. 308; Brooks: 30s/2 silk wraps 30).
    #[must_use]
    pub fn tex(self) -> Option<Fraction> {
        let single = self.system.tex_of(self.size)?;
        match self.system {
            System::SpunSilk => Some(single),
            _ => single.times(Fraction::from(self.ply)),
        }
    }
}

impl Yarn {
    /// Its number in a system, as of one thread.
    #[must_use]
    pub fn number(&self, system: System) -> Option<Fraction> {
        system.number_of(self.tex)
    }
}
