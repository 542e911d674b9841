//! Noise as a pure function of (seed, channel, tick).
//!
//! Each channel is its own stream: a new channel, or a second robot with another seed, never
//! shifts what an existing one reads, and any tick can be computed without those before it.

use std::sync::Arc;

const TAU: f64 = 2.0 * core::f64::consts::PI;

/// What a stream of noise is for. The numbers are part of every recorded run: never reuse one.
#[derive(Clone, Copy)]
pub(crate) enum Channel {
    Gyro = 0x6779_726f,
    AccelerometerAlong = 0x6163_6378,
    AccelerometerUp = 0x6163_637a,
    DropOut = 0x6472_6f70,
}

/// Output step of the SplitMix64 generator (G. L. Steele, D. Lea and C. H. Flood, "Fast
/// splittable pseudorandom number generators", OOPSLA 2014).
fn mix(value: u64) -> u64 {
    let z = value.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

fn word(seed: u64, channel: Channel, tick: u64, draw: u64) -> u64 {
    mix(mix(mix(mix(seed) ^ channel as u64) ^ tick) ^ draw)
}

/// Uniform in (0, 1]: never 0, so that its logarithm is finite.
fn uniform(bits: u64) -> f64 {
    ((bits >> 11) + 1) as f64 / 9_007_199_254_740_992.0
}

/// Whether something of probability `share` happens at this tick.
pub(crate) fn happens(seed: u64, channel: Channel, tick: u64, share: f64) -> bool {
    share > 0.0 && uniform(word(seed, channel, tick, 0)) <= share
}

/// Standard normal deviate (G. E. P. Box and M. E. Muller, "A note on the generation of random
/// normal deviates", Annals of Mathematical Statistics 29, 1958).
pub(crate) fn normal(seed: u64, channel: Channel, tick: u64) -> f64 {
    let radius = (-2.0 * libm::log(uniform(word(seed, channel, tick, 0)))).sqrt();
    radius * libm::cos(TAU * uniform(word(seed, channel, tick, 1)))
}

/// Channels of normal noise.
const NORMAL: [Channel; 3] = [
    Channel::Gyro,
    Channel::AccelerometerAlong,
    Channel::AccelerometerUp,
];

/// The noise of one seed, drawn ahead for its first ticks: the same numbers to the last bit, for many runs with
/// one seed.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    seed: u64,
    ticks: Vec<[f64; 3]>,
}

impl Drawn {
    /// Noise of `seed` for so many ticks.
    #[must_use]
    pub fn new(seed: u64, ticks: usize) -> Self {
        let ticks = (0..ticks as u64)
            .map(|tick| NORMAL.map(|channel| normal(seed, channel, tick)))
            .collect();
        Self { seed, ticks }
    }

    /// Whose noise it is.
    #[must_use]
    pub fn seed(&self) -> u64 {
        self.seed
    }

    /// For how many ticks it was drawn.
    #[must_use]
    pub fn len(&self) -> usize {
        self.ticks.len()
    }

    /// Whether nothing was drawn.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.ticks.is_empty()
    }
}

/// Where a controller takes its noise from.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Noise {
    pub(crate) seed: u64,
    pub(crate) drawn: Option<Arc<Drawn>>,
}

impl Noise {
    pub(crate) fn new(seed: u64) -> Self {
        Self { seed, drawn: None }
    }

    /// [`normal`] of a channel.
    #[inline]
    pub(crate) fn normal(&self, channel: Channel, tick: u64) -> f64 {
        let place = match channel {
            Channel::Gyro => 0,
            Channel::AccelerometerAlong => 1,
            Channel::AccelerometerUp => 2,
            Channel::DropOut => return normal(self.seed, channel, tick),
        };
        let drawn = self
            .drawn
            .as_ref()
            .and_then(|d| d.ticks.get(usize::try_from(tick).ok()?));
        drawn.map_or_else(|| normal(self.seed, channel, tick), |all| all[place])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// SplitMix64 seeded with 1234567: first words as printed by its reference implementation
    /// (widely republished test vector; from memory).
    #[test]
    fn mix_matches_reference() {
        let golden = 0x9e37_79b9_7f4a_7c15_u64;
        assert_eq!(mix(1_234_567), 6_457_827_717_110_365_317);
        assert_eq!(
            mix(1_234_567_u64.wrapping_add(golden)),
            3_203_168_211_198_807_973
        );
    }

    /// Mean 0, variance 1, kurtosis 3 within four standard errors of 100,000 draws; channels
    /// uncorrelated (statistics textbooks).
    #[test]
    fn normal_has_its_moments() {
        let count = 100_000_u32;
        let n = f64::from(count);
        let (mut sum, mut square, mut fourth, mut cross) = (0.0, 0.0, 0.0, 0.0);
        for tick in 0..u64::from(count) {
            let x = normal(7, Channel::Gyro, tick);
            let y = normal(7, Channel::AccelerometerUp, tick);
            sum += x;
            square += x * x;
            fourth += x * x * x * x;
            cross += x * y;
        }
        assert!((sum / n).abs() < 4.0 / n.sqrt());
        assert!((square / n - 1.0).abs() < 4.0 * (2.0 / n).sqrt());
        assert!((fourth / n - 3.0).abs() < 4.0 * (96.0 / n).sqrt());
        assert!((cross / n).abs() < 4.0 / n.sqrt());
    }

    #[test]
    fn drawn_ahead_is_the_same_noise() {
        let plain = Noise::new(9);
        let ahead = Noise {
            drawn: Some(Arc::new(Drawn::new(9, 40))),
            ..plain.clone()
        };
        // The last ones are beyond what was drawn.
        for tick in 0..50 {
            for channel in NORMAL {
                let both = [&plain, &ahead].map(|n| n.normal(channel, tick).to_bits());
                assert_eq!(both[0], both[1]);
            }
        }
    }

    #[test]
    fn happens_as_often_as_said() {
        let hits = (0..100_000)
            .filter(|&t| happens(3, Channel::DropOut, t, 0.2))
            .count();
        // Binomial: four standard errors are 506.
        assert!((19_494..=20_506).contains(&hits), "{hits}");
        assert!((0..1000).all(|t| !happens(3, Channel::DropOut, t, 0.0)));
    }
}
