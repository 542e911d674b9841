//! Tables of blade fuses: opening times, ratings, cold resistance, melting I²t, temperature.

use crate::source::{Mark, Sourced, piecewise, within};

/// Size of a blade fuse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FuseSize {
    /// The medium blade, 19 mm wide (type C of ISO 8820-3; SAE J1284).
    Medium,
    /// The large blade called maxi, 29 mm wide (type E of ISO 8820-3; SAE J1888).
    Maxi,
}

/// One line of an opening-time table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpeningPoint {
    /// Current as a multiple of the rating.
    pub multiple: f64,
    /// No fuse may open sooner [s]; `None` where the table is silent.
    pub shortest: Option<f64>,
    /// Every fuse must have opened by then [s]; `None` where the table is silent.
    pub longest: Option<f64>,
    /// How far the line can be trusted.
    pub mark: Mark,
}

/// Opening times of one kind of fuse.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpeningTable {
    /// The lines, current growing.
    pub points: &'static [OpeningPoint],
    /// Where the lines come from.
    pub source: &'static str,
}

const fn point(
    multiple: f64,
    shortest: Option<f64>,
    longest: Option<f64>,
    mark: Mark,
) -> OpeningPoint {
    OpeningPoint {
        multiple,
        shortest,
        longest,
        mark,
    }
}

/// One hundred hours [s].
const HOURS_100: f64 = 360_000.0;

/// Medium blade up to 30 A.
const MEDIUM: OpeningTable = OpeningTable {
    points: &[
        point(1.10, Some(HOURS_100), None, Mark::Memory),
        point(1.35, Some(0.75), Some(600.0), Mark::Memory),
        point(1.60, Some(0.25), Some(50.0), Mark::SecondHand),
        point(2.00, Some(0.15), Some(5.0), Mark::SecondHand),
        point(3.50, Some(0.04), Some(0.5), Mark::Memory),
        point(6.00, Some(0.02), Some(0.1), Mark::Memory),
    ],
    source: "ISO 8820-3 and SAE J1284, limits of the medium blade, from memory; 160 % and 200 % \
             also in a transcription of a data sheet of a 10 A fuse",
};

/// Medium blade of 35 A and 40 A, which sheets list apart.
const MEDIUM_LARGE: OpeningTable = OpeningTable {
    points: &[
        point(1.10, Some(HOURS_100), None, Mark::Memory),
        point(1.35, Some(0.75), Some(600.0), Mark::SecondHand),
        point(2.00, Some(0.15), Some(5.0), Mark::SecondHand),
        point(3.50, Some(0.08), Some(0.5), Mark::SecondHand),
        point(6.00, None, Some(0.15), Mark::SecondHand),
    ],
    source: "transcription of a data sheet of 35 A and 40 A medium blades, which promises the \
             100 h at 100 %; that the size holds 110 % for 100 h is ISO 8820-3 from memory",
};

/// Maxi blade.
const MAXI: OpeningTable = OpeningTable {
    points: &[
        point(1.10, Some(HOURS_100), None, Mark::Memory),
        point(1.35, Some(60.0), Some(1800.0), Mark::SecondHand),
        point(2.00, Some(2.0), Some(50.0), Mark::SecondHand),
        point(3.50, Some(0.2), Some(7.0), Mark::SecondHand),
        point(6.00, Some(0.04), Some(1.0), Mark::SecondHand),
    ],
    source: "transcription of a data sheet of maxi blades (ISO 8820-3, SAE J1888), which promises \
             the 100 h at 100 %; that the size holds 110 % for 100 h is ISO 8820-3 from memory",
};

/// Smallest rating of the medium blade that sheets list with the large ones [A].
const MEDIUM_LARGE_FROM: f64 = 32.5;

const MEDIUM_RATINGS: [f64; 13] = [
    1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0,
];
const MAXI_RATINGS: [f64; 9] = [20.0, 30.0, 35.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0];

/// Share of the rating against surroundings [°C], medium blade.
const MEDIUM_HEAT: [(f64, f64); 3] = [(20.0, 1.0), (65.0, 0.80), (85.0, 0.70)];
/// Share of the rating against surroundings [°C], maxi blade.
const MAXI_HEAT: [(f64, f64); 5] = [
    (20.0, 1.0),
    (65.0, 0.85),
    (85.0, 0.75),
    (110.0, 0.625),
    (125.0, 0.55),
];

impl FuseSize {
    /// Opening times of this size at `rating` [A].
    #[must_use]
    pub fn opening_table(self, rating: f64) -> &'static OpeningTable {
        match self {
            Self::Medium if rating >= MEDIUM_LARGE_FROM => &MEDIUM_LARGE,
            Self::Medium => &MEDIUM,
            Self::Maxi => &MAXI,
        }
    }

    /// Ratings in which this size is made [A], growing. From memory of ISO 8820-3 and of shops'
    /// lists.
    #[must_use]
    pub fn ratings(self) -> &'static [f64] {
        match self {
            Self::Medium => &MEDIUM_RATINGS,
            Self::Maxi => &MAXI_RATINGS,
        }
    }

    /// Voltage that the size may break [V]: 32 V, with 1000 A. Second hand (transcribed sheets);
    /// there are blades for other voltages, see the fuse's own print.
    #[must_use]
    pub fn rated_voltage(self) -> f64 {
        32.0
    }

    /// Share of the rating left at `surroundings` [°C], 0 … 1.
    ///
    /// Straight pieces between a 40 A maxi's 40 A to 20 °C, 34 A at 65 °C, 30 A at 85 °C, 25 A at
    /// 110 °C and 22 A at 125 °C, or a 10 A medium's 8 A at 65 °C and 7 A at 85 °C (all second
    /// hand); held outside these. The same share is taken for every rating of the size.
    #[must_use]
    pub fn heat_share(self, surroundings: f64) -> f64 {
        match self {
            Self::Medium => piecewise(&MEDIUM_HEAT, surroundings),
            Self::Maxi => piecewise(&MAXI_HEAT, surroundings),
        }
    }

    /// Resistance of a cold fuse of `rating` [A], in [Ω].
    ///
    /// Where no sheet's value is at hand, the 40 A fuse's cold drop (current × resistance) is
    /// taken for every rating: within 6 % for the maxis that are known.
    #[must_use]
    pub fn cold_resistance(self, rating: f64) -> Sourced<f64> {
        match self.sheet(rating) {
            Some((ohms, _)) => Sourced {
                value: ohms,
                mark: Mark::SecondHand,
                source: "transcribed data sheet of this size and rating",
            },
            None => Sourced {
                value: self.cold_drop() / within(rating, 1e-3, 1e6),
                mark: Mark::CommonPractice,
                source: "cold drop of this size's 40 A fuse, taken for every rating",
            },
        }
    }

    /// Melting I²t at `rating` [A], in [A²·s]; `None` where no sheet's value is at hand. It serves
    /// only at 350 % of the rating and above, where no heat has time to leave.
    #[must_use]
    pub fn melting_integral(self, rating: f64) -> Option<Sourced<f64>> {
        self.sheet(rating).map(|(_, integral)| Sourced {
            value: integral,
            mark: Mark::SecondHand,
            source: "transcribed data sheet of this size and rating",
        })
    }

    /// By how much the resistance has grown at the rated current: drop stated by a sheet over
    /// rating × cold resistance, of the 40 A fuses 96 mV/(40 A × 1.44 mΩ) and
    /// 75 mV/(40 A × 1.4 mΩ). Second hand.
    #[must_use]
    pub fn hot_factor(self) -> f64 {
        match self {
            Self::Medium => 0.096 / (40.0 * 1.44e-3),
            Self::Maxi => 0.075 / (40.0 * 1.4e-3),
        }
    }

    /// Cold resistance [Ω] and melting I²t [A²·s] of the ratings known.
    fn sheet(self, rating: f64) -> Option<(f64, f64)> {
        match (self, rating) {
            (Self::Medium, 40.0) => Some((1.44e-3, 3300.0)),
            (Self::Maxi, 40.0) => Some((1.4e-3, 8500.0)),
            (Self::Maxi, 35.0) => Some((1.7e-3, 6000.0)),
            (Self::Maxi, 30.0) => Some((1.9e-3, 4100.0)),
            _ => None,
        }
    }

    fn cold_drop(self) -> f64 {
        match self {
            Self::Medium => 40.0 * 1.44e-3,
            Self::Maxi => 40.0 * 1.4e-3,
        }
    }
}
