//! What is seen and measured in the stage Try, as it stands in the file. Owns the words; never checks
//! whether it can be.

use super::answer::StoredSide;
use super::same_names;
use crate::dressing::measure::Measured;
use crate::dressing::sighting::Sighting;
use crate::fault::cloth_spot::Sign;
use serde::{Deserialize, Serialize};

/// What was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredMeasured {
    /// Width in the reed.
    Reed,
    /// Width of the cloth.
    Cloth,
    /// Picks.
    Picks,
    /// Warp used.
    Warp,
    /// Cloth woven of it.
    Woven,
}

same_names!(StoredMeasured, Measured: Reed, Cloth, Picks, Warp, Woven);

/// A sign in a shed or in the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredSign {
    /// Two neighbours alike.
    TwoAlike,
    /// One end astray.
    OneAstray,
}

same_names!(StoredSign, Sign: TwoAlike, OneAstray);

/// What looks wrong, as far as it was said.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct StoredSighting {
    /// What is seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    sign: Option<StoredSign>,
    /// The edge measured from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    from: Option<StoredSide>,
    /// Whole inches.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    whole: Option<u32>,
    /// Thousandths of the plan's unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    thousandths: Option<u32>,
    /// The sheds.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    sheds: Vec<u32>,
    /// Whether all of them are named.
    #[serde(default, skip_serializing_if = "is_not")]
    complete: bool,
}

fn is_not(so: &bool) -> bool {
    !so
}

impl From<&Sighting> for StoredSighting {
    fn from(live: &Sighting) -> Self {
        Self {
            sign: live.sign.map(Into::into),
            from: live.from.map(Into::into),
            whole: live.whole,
            thousandths: live.thousandths,
            sheds: live.sheds.clone(),
            complete: live.complete,
        }
    }
}

impl From<StoredSighting> for Sighting {
    fn from(stored: StoredSighting) -> Self {
        Self {
            sign: stored.sign.map(Into::into),
            from: stored.from.map(Into::into),
            whole: stored.whole,
            thousandths: stored.thousandths,
            sheds: stored.sheds,
            complete: stored.complete,
        }
    }
}
