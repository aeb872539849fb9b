//! The slip "where I stopped" as a shell asks for it. Owns the door to whoever makes and keeps it.

use crate::dressing::Dressing;

/// Makes the slip of the dressing and keeps it: the name of its file, or why it could not be kept.
pub type Slips<'a> = dyn FnMut(&Dressing) -> Result<String, String> + 'a;
