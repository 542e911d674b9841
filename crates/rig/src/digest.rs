//! One number that stands for a whole run, bit by bit.

/// A running 64-bit digest of 64-bit words: multiply and fold with the constants of FNV-1a
/// (Fowler, Noll, Vo), a whole word at a time. Not for secrets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Digest(u64);

impl Default for Digest {
    fn default() -> Self {
        Self::new()
    }
}

impl Digest {
    /// The digest of nothing.
    #[must_use]
    pub fn new() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }

    /// Takes in one word.
    #[inline]
    pub fn word(&mut self, word: u64) {
        let h = (self.0 ^ word).wrapping_mul(0x0000_0100_0000_01b3);
        // The fold carries the product's high half back down.
        self.0 = h ^ (h >> 32);
    }

    /// Takes in one number; both zeros count as one.
    #[inline]
    pub fn number(&mut self, value: f64) {
        self.word((value + 0.0).to_bits());
    }

    /// The digest so far.
    #[must_use]
    pub fn value(&self) -> u64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn order_and_every_bit_count() {
        let of = |words: &[u64]| {
            let mut d = Digest::new();
            for w in words {
                d.word(*w);
            }
            d.value()
        };
        assert_ne!(of(&[1, 2]), of(&[2, 1]));
        for bit in 0..64 {
            assert_ne!(of(&[0, 0]), of(&[1 << bit, 0]), "bit {bit}");
        }
        let mut a = Digest::new();
        let mut b = Digest::new();
        a.number(0.0);
        b.number(-0.0);
        assert_eq!(a, b);
    }
}
