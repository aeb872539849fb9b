//! The next warp after one that was dressed: the same draft, another yarn if that is wanted, the
//! take-up that was measured, and the notes. Owns what is taken over; the form and the plan do the rest.

use super::args::Args;
use super::{Failure, Out};
use crate::dressing::Dressing;
use crate::dressing::measure::Measured;
use crate::dressing::notes::Note;
use crate::journal::earlier::notes_of;
use crate::journal::keep::Keep;
use crate::plan::Spec;
use crate::plan::spec::YarnSpec;
use crate::quantity::{Fraction, harmless, parse_fraction};

/// What is taken over from a dressing, and what is to be different.
#[derive(Debug, Default)]
pub struct After<'a> {
    /// The dressing's name.
    pub name: &'a str,
    /// The yarn's size, as on the cone; of one yarn of several, its name and the size.
    pub yarn: Option<&'a str>,
    /// The take-up that was measured, as a share.
    pub take_up: Option<&'a str>,
}

impl After<'_> {
    /// The plan of the next warp and the notes that come along.
    ///
    /// # Errors
    /// The dressing cannot be read, or what is to be different cannot be.
    pub fn plan(&self, args: &Args, out: &mut Out) -> Result<(Spec, Vec<Note>), Failure> {
        let (_, loaded) = super::look::looked_at(args, Some(self.name))?;
        let dressing = loaded.keeper.dressing();
        if dressing.about().stage.is_some() {
            out.notice(&format!(
                "{} is not finished; its plan is taken as it stands now.",
                harmless(self.name)
            ));
        }
        let mut spec = dressing.plan().spec.clone();
        if let Some(yarn) = self.yarn {
            change_yarn(&mut spec, yarn)?;
        }
        if let Some(text) = self.take_up {
            spec.length.take_up = Some(share("take-up", text)?);
        } else if let Some(measured) = lost(dressing, Measured::Warp, Measured::Woven) {
            spec.length.take_up = Some(measured);
            out.notice(&as_measured("take-up", measured));
        }
        if let Some(measured) = lost(dressing, Measured::Reed, Measured::Cloth) {
            spec.length.draw_in = Some(measured);
            out.notice(&as_measured("draw-in", measured));
        }
        Ok((spec, notes_of(&loaded.keeper)))
    }

    /// Whether it is said what is to be different; else the form is gone through.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.yarn.is_some() || self.take_up.is_some()
    }
}

/// The share that is lost from one measure to the other, as they were measured last.
fn lost(dressing: &Dressing, from: Measured, to: Measured) -> Option<Fraction> {
    let measures = &dressing.record().measures;
    let last = |what| {
        let mut latest = measures.iter().rev();
        latest.find(|(kind, _)| *kind == what).map(|(_, n)| *n)
    };
    let (from, to) = (last(from)?, last(to)?);
    Fraction::new(i64::from(from.checked_sub(to)?), i64::from(from))
}

fn as_measured(what: &str, share: Fraction) -> String {
    let percent = share.times(Fraction::whole(100)).unwrap_or(share);
    format!(
        "The {what} is taken as it was measured: {} %.",
        percent.decimal(1)
    )
}

/// "10/2 cotton" for the one yarn of the plan, "flax=10/2 linen" for one of several.
fn change_yarn(spec: &mut Spec, said: &str) -> Result<(), Failure> {
    let (name, size) = match said.split_once('=') {
        Some((name, size)) => (Some(name.trim()), size.trim()),
        None => (None, said.trim()),
    };
    let names: Vec<String> = spec.yarns.iter().map(|yarn| yarn.name.clone()).collect();
    let which = |yarn: &&mut YarnSpec| name.is_none_or(|name| yarn.name == name);
    let mut wanted: Vec<&mut YarnSpec> = spec.yarns.iter_mut().filter(which).collect();
    match wanted.as_mut_slice() {
        [yarn] => {
            yarn.size = Some(harmless(size));
            // what it costs was said of the other yarn
            yarn.price = None;
            Ok(())
        }
        _ => Err(Failure::usage(format!(
            "The plan's yarns are {}: say which one is another, as --yarn \"{}={}\".",
            names.join(", "),
            names.first().map_or("NAME", String::as_str),
            harmless(size)
        ))),
    }
}

fn share(what: &str, text: &str) -> Result<Fraction, Failure> {
    let share = parse_fraction(text).ok();
    share
        .filter(|share| *share >= Fraction::ZERO && *share < Fraction::ONE)
        .ok_or_else(|| {
            Failure::usage(format!(
                "{} is no {what}: say a share from 0 to under 100 %, as 12%.",
                harmless(text)
            ))
        })
}
