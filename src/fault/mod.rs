//! Evidence of a miscount into its place and its mending. Pure: knows no file, clock, terminal or randomness.
