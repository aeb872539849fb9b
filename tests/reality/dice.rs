//! Chance that can be repeated: the same seed gives the same warp on every machine.

/// Marsaglia's xorshift with a 64-bit state (Journal of Statistical Software 8/14, 2003; from
/// memory), enough to vary tests.
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 16
    }

    /// A whole number from `low` to `high`, both possible.
    pub fn from(&mut self, low: usize, high: usize) -> usize {
        low + (self.next() as usize) % (high - low + 1)
    }

    pub fn pick<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.from(0, list.len() - 1)]
    }

    pub fn coin(&mut self) -> bool {
        self.next().is_multiple_of(2)
    }
}
