//! Chance as a pure function of seed, stream and number.

/// Output step of the SplitMix64 generator (G. L. Steele, D. Lea and C. H. Flood, "Fast
/// splittable pseudorandom number generators", OOPSLA 2014).
fn mix(value: u64) -> u64 {
    let z = value.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// A whole number of 64 bits: draw `draw` of event `number` in a `stream` of its own.
pub(crate) fn bits(seed: u64, stream: u64, number: u64, draw: u64) -> u64 {
    mix(mix(mix(mix(seed) ^ stream) ^ number) ^ draw)
}

/// Uniform in [0, 1): the same.
pub(crate) fn uniform(seed: u64, stream: u64, number: u64, draw: u64) -> f64 {
    (bits(seed, stream, number, draw) >> 11) as f64 / 9_007_199_254_740_992.0
}
