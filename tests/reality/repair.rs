//! Carries out the moves of a mending on the simulated loom.
