//! Chance out of a seed: the same numbers on every machine.

/// A sequence of numbers.
#[derive(Clone, Debug)]
pub(super) struct Chance {
    state: u64,
}

impl Chance {
    /// The sequence of a seed.
    pub fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// The next whole number (SplitMix64: Steele, Lea and Flood 2014).
    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A place in a list of so many; 0 for an empty one.
    pub fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    /// A number from −1 to 1.
    pub fn around(&mut self) -> f64 {
        // 53 bits are what an f64 holds.
        (self.next() >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first three numbers of seed 1234567 as published with the reference implementation (from memory).
    #[test]
    fn the_sequence_is_the_published_one() {
        let mut chance = Chance::new(1_234_567);
        let numbers = [chance.next(), chance.next(), chance.next()];
        assert_eq!(numbers, [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423]);
    }

    #[test]
    fn numbers_around_zero_stay_within_one_and_reach_both_sides() {
        let mut chance = Chance::new(7);
        let numbers: Vec<f64> = (0..1000).map(|_| chance.around()).collect();
        assert!(numbers.iter().all(|number| (-1.0..=1.0).contains(number)));
        let mean = numbers.iter().sum::<f64>() / 1000.0;
        assert!(mean.abs() < 0.1, "{mean}");
    }
}
