//! The state machine of one warp put on one loom. Pure: no clock, file, terminal or randomness.
