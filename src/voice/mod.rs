//! Speech through a voice program that is there.
