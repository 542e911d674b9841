//! Copper wire: gauge, resistance, voltage drop, heat.

use crate::source::{Mark, Sourced, size, within};

/// Resistivity of annealed copper at 20 °C [Ω·m]: 1/58 Ω·mm²/m (IEC 60028; that figure read on
/// an engineering page about the standard, the standard itself from memory).
pub const COPPER_RESISTIVITY: f64 = 1.0 / 58e6;

/// Growth of copper's resistance with temperature, at 20 °C [1/K] (IEC 60028, from memory).
pub const COPPER_COEFFICIENT: f64 = 0.003_93;

/// Temperature to which the two above belong [°C].
pub const COPPER_TEMPERATURE: f64 = 20.0;

/// Diameter of solid wire of gauge `gauge` AWG [m]: .127 mm · 92^((36 − n)/39), ASTM B258. For
/// 2/0 and so on, n = −1 and so on. Cut to −10 … 60.
#[must_use]
pub fn gauge_diameter(gauge: f64) -> f64 {
    let gauge = within(gauge, -10.0, 60.0);
    0.127e-3 * libm::pow(92.0, (36.0 - gauge) / 39.0)
}

/// Cross-section of solid wire of gauge `gauge` AWG [m²].
#[must_use]
pub fn gauge_area(gauge: f64) -> f64 {
    let diameter = gauge_diameter(gauge);
    0.25 * core::f64::consts::PI * diameter * diameter
}

/// Gauge [AWG] whose cross-section is `area` [m²], usually between two that are made.
#[must_use]
pub fn area_gauge(area: f64) -> f64 {
    let area = within(area, 1e-10, 1e-2);
    let diameter = (4.0 * area / core::f64::consts::PI).sqrt();
    36.0 - 39.0 * libm::log(diameter / 0.127e-3) / libm::log(92.0)
}

/// How much greater copper's resistance is at `temperature` [°C] than at 20 °C.
#[must_use]
pub fn copper_factor(temperature: f64) -> f64 {
    let temperature = within(temperature, -100.0, 1000.0);
    1.0 + COPPER_COEFFICIENT * (temperature - COPPER_TEMPERATURE)
}

/// Resistance of one metre of copper with `area` [m²] at `temperature` [°C], in [Ω/m].
///
/// Of solid wire: lay and spaces of strands add a few per cent (IEC 60228 allows about 7 % at
/// 2.5 mm²).
#[must_use]
pub fn resistance_per_metre(area: f64, temperature: f64) -> f64 {
    COPPER_RESISTIVITY * copper_factor(temperature) / within(area, 1e-10, 1e-2)
}

/// A pair of copper wires, there and back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WirePair {
    /// Cross-section of each wire [m²].
    pub area: f64,
    /// Distance from source to load [m]; the current goes it twice.
    pub length: f64,
    /// Temperature of the copper [°C].
    pub temperature: f64,
}

impl WirePair {
    /// Resistance there and back [Ω].
    #[must_use]
    pub fn resistance(&self) -> f64 {
        2.0 * size(self.length) * resistance_per_metre(self.area, self.temperature)
    }

    /// Voltage lost there and back at `current` [A], in [V].
    #[must_use]
    pub fn drop(&self, current: f64) -> f64 {
        size(current) * self.resistance()
    }

    /// Heat of each metre of one wire at `current` [A], in [W/m].
    #[must_use]
    pub fn heat_per_metre(&self, current: f64) -> f64 {
        let current = size(current);
        current * current * resistance_per_metre(self.area, self.temperature)
    }

    /// Heat of both wires over the whole length at `current` [A], in [W].
    #[must_use]
    pub fn heat(&self, current: f64) -> f64 {
        let current = size(current);
        current * current * self.resistance()
    }
}

/// Current for hours of a single wire in open air, 30 °C around, insulation good for 60 °C:
/// cross-section [mm²] against [A].
const OPEN_AIR: [(f64, f64); 10] = [
    (0.9, 17.0),
    (1.25, 19.0),
    (2.0, 27.0),
    (3.5, 37.0),
    (5.5, 49.0),
    (8.0, 61.0),
    (14.0, 88.0),
    (22.0, 115.0),
    (30.0, 139.0),
    (38.0, 162.0),
];

/// Surroundings and copper of [`OPEN_AIR`] [°C].
const OPEN_AIR_SURROUNDINGS: f64 = 30.0;
const OPEN_AIR_COPPER: f64 = 60.0;

/// Share left to each wire when this many lie in one bundle, all fully loaded.
const BUNDLE: [f64; 10] = [
    1.0, 0.825, 0.725, 0.66, 0.61, 0.5725, 0.54, 0.5125, 0.485, 0.465,
];

/// Current that a single wire of `area` [m²] carries for hours in open air at 30 °C with
/// insulation for 60 °C, in [A]. Log-log between the table's lines and beyond its ends.
///
/// An aid to choosing only: the wire's own data, the place it lies in and local codes decide.
#[must_use]
pub fn open_air_current(area: f64) -> Sourced<f64> {
    let x = libm::log(within(area * 1e6, 1e-3, 1e4));
    let mut i = 0;
    while i + 2 < OPEN_AIR.len() && x >= libm::log(OPEN_AIR[i + 1].0) {
        i += 1;
    }
    let (from, to) = (OPEN_AIR[i], OPEN_AIR[i + 1]);
    let slope = libm::log(to.1 / from.1) / libm::log(to.0 / from.0);
    Sourced {
        value: from.1 * libm::exp(slope * (x - libm::log(from.0))),
        mark: Mark::Read,
        source: "a terminal maker's reference table of wire ratings at 30 °C with 60 °C \
                 insulation; the use between its lines is common practice",
    }
}

/// Share of the single wire's current left to each of `wires` in one bundle, all loaded: the
/// 100 % column of MIL-W-5088L's bundle derating, second hand (a transcription). Ten and more
/// wires count as ten.
#[must_use]
pub fn bundle_share(wires: u32) -> f64 {
    let wires = wires.clamp(1, 10) as usize;
    BUNDLE[wires - 1]
}

/// Rough steady temperature rise of a single wire of `area` [m²] in open air at `current` [A],
/// in [K]: the table's 30 K times (current / table current)².
///
/// Common practice without published source: heat goes with the square of the current and is
/// taken to leave in proportion to the rise.
#[must_use]
pub fn open_air_rise(area: f64, current: f64) -> Sourced<f64> {
    let load = size(current).min(1e5) / open_air_current(area).value;
    Sourced {
        value: (OPEN_AIR_COPPER - OPEN_AIR_SURROUNDINGS) * load * load,
        mark: Mark::CommonPractice,
        source: "square of the current from the open-air table's point",
    }
}
