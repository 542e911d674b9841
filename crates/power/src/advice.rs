//! What to do about a fuse that may open: first lower the demand, and a larger fuse only where
//! everything it feeds bears it.
//!
//! A fuse protects the wire. Caution: local codes, the standards for the vehicle or machine and a
//! licensed electrician's judgement come before anything said here.

use crate::fuse::Fuse;
use crate::fuse_table::FuseSize;
use crate::wear::{BandMark, FuseVerdict, FuseWear};
use core::fmt;

/// A part that carries the fuse's current.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PathPart {
    /// The wire, by what it carries for hours where it lies.
    Wire,
    /// The fuse holder.
    Holder,
    /// The weakest connector.
    Connectors,
    /// The isolating switch.
    Switch,
    /// The battery with its protection.
    Battery,
}

impl PathPart {
    /// All parts, from the fuse's first duty on.
    pub const ALL: [Self; 5] = [
        Self::Wire,
        Self::Holder,
        Self::Connectors,
        Self::Switch,
        Self::Battery,
    ];

    /// The part's name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Wire => "wire",
            Self::Holder => "holder",
            Self::Connectors => "connectors",
            Self::Switch => "switch",
            Self::Battery => "battery",
        }
    }
}

/// What each part of the supply path bears for hours [A]; `None` where it is not known, which
/// counts as not bearing more.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct SupplyPath {
    /// Wire.
    pub wire: Option<f64>,
    /// Fuse holder.
    pub holder: Option<f64>,
    /// Weakest connector.
    pub connectors: Option<f64>,
    /// Isolating switch.
    pub switch: Option<f64>,
    /// Battery and its protection.
    pub battery: Option<f64>,
    /// Highest voltage of the battery, fully charged [V].
    pub voltage: f64,
}

impl SupplyPath {
    /// What one part bears [A], if known.
    #[must_use]
    pub fn bears(&self, part: PathPart) -> Option<f64> {
        match part {
            PathPart::Wire => self.wire,
            PathPart::Holder => self.holder,
            PathPart::Connectors => self.connectors,
            PathPart::Switch => self.switch,
            PathPart::Battery => self.battery,
        }
        .filter(|current| current.is_finite())
    }
}

/// Something that lowers the current asked for, in the order to try it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Demand {
    /// The driver's current limit.
    DriverLimit,
    /// The ramp of the speed command.
    Ramp,
    /// The damping gain D, which turns noise and fast swings into current.
    DampingGain,
    /// The battery voltage: the same power at a higher one is less current.
    Voltage,
}

impl Demand {
    /// All, in the order to try them.
    pub const ALL: [Self; 4] = [
        Self::DriverLimit,
        Self::Ramp,
        Self::DampingGain,
        Self::Voltage,
    ];
}

impl fmt::Display for Demand {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::DriverLimit => "lower the drivers' current limit",
            Self::Ramp => "lengthen the ramp of the speed command",
            Self::DampingGain => "lower the damping gain D, or filter what it acts on",
            Self::Voltage => {
                "use a higher battery voltage, as far as motors, drivers, switch and fuse are \
                 rated for it"
            }
        })
    }
}

/// A larger fuse that the whole supply path bears; only [`LargerFuse::checked`] makes one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LargerFuse {
    rating: f64,
    bears: [f64; 5],
}

/// Why no larger fuse is named.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Refusal {
    /// The fuse bears the load: nothing is to be done.
    NotNeeded,
    /// This size is not made larger.
    NoLargerRating,
    /// The battery's voltage is beyond what the fuse may break.
    Voltage {
        /// Highest voltage of the battery [V].
        battery: f64,
        /// What the fuse may break [V].
        rated: f64,
    },
    /// A part of the path does not bear the larger fuse, or it is not known whether it does.
    Part {
        /// The first such part.
        part: PathPart,
        /// What it bears [A], if known.
        bears: Option<f64>,
        /// What the larger fuse lets through for hours [A].
        needed: f64,
    },
}

impl LargerFuse {
    /// The smallest rating above `fuse` of the same size that bears the load marked, if the whole
    /// `path` bears that rating and its voltage.
    ///
    /// # Errors
    /// A [`Refusal`] that names what stands against it.
    pub fn checked(fuse: &Fuse, mark: &BandMark, path: &SupplyPath) -> Result<Self, Refusal> {
        let size = fuse.size();
        voltage_borne(size, path)?;
        let share = fuse.effective_rating() / fuse.rating();
        for &rating in size.ratings() {
            if rating <= fuse.rating() {
                continue;
            }
            let mut bears = [0.0; 5];
            for (slot, part) in bears.iter_mut().zip(PathPart::ALL) {
                match path.bears(part) {
                    Some(current) if current >= rating => *slot = current,
                    known => {
                        return Err(Refusal::Part {
                            part,
                            bears: known,
                            needed: rating,
                        });
                    }
                }
            }
            // The temperature around takes the same share of the larger rating.
            let larger = Fuse::new(size, rating);
            let asked = mark.current / share;
            if matches!(
                larger.verdict(asked, mark.time),
                FuseVerdict::BearsIt { .. }
            ) {
                return Ok(Self { rating, bears });
            }
        }
        Err(Refusal::NoLargerRating)
    }

    /// Rating of the larger fuse [A].
    #[must_use]
    pub fn rating(&self) -> f64 {
        self.rating
    }

    /// What each part of [`PathPart::ALL`] bears [A], none below the rating.
    #[must_use]
    pub fn bears(&self) -> [f64; 5] {
        self.bears
    }
}

fn voltage_borne(size: FuseSize, path: &SupplyPath) -> Result<(), Refusal> {
    let rated = size.rated_voltage();
    if path.voltage > 0.0 && path.voltage <= rated {
        return Ok(());
    }
    Err(Refusal::Voltage {
        battery: if path.voltage.is_finite() {
            path.voltage
        } else {
            0.0
        },
        rated,
    })
}

/// A current in tenths [A], never more than it is.
fn rounded_down(current: f64) -> f64 {
    (10.0 * current).floor() / 10.0
}

/// One line: the rating together with what every part bears, so that neither is read alone.
impl fmt::Display for LargerFuse {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [wire, holder, connectors, switch, battery] = self.bears.map(rounded_down);
        write!(
            f,
            "a {} A fuse, which wire ({wire} A), holder ({holder} A), connectors ({connectors} A), \
             switch ({switch} A) and battery ({battery} A) bear by their own data; run the trial again \
             with it",
            self.rating
        )
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotNeeded => f.write_str("the fuse bears this load"),
            Self::NoLargerRating => f.write_str("no larger fuse of this size bears this load"),
            Self::Voltage { battery, rated } => write!(
                f,
                "no larger fuse: it may break {rated} V, the battery's highest voltage is given as \
                 {battery} V"
            ),
            Self::Part {
                part,
                bears,
                needed,
            } => {
                let name = part.name();
                match bears {
                    Some(bears) => write!(
                        f,
                        "no larger fuse: {name} rated {} A, less than the {needed} A it would let \
                         through for hours",
                        rounded_down(*bears)
                    ),
                    None => write!(
                        f,
                        "no larger fuse: what {name} can bear is not known, {needed} A would be \
                         needed"
                    ),
                }
            }
        }
    }
}

/// Advice on a fuse after a trial.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FuseAdvice {
    /// What lowers the demand, in the order to try; empty when the fuse bears the load.
    pub first: &'static [Demand],
    /// Last, and only where everything bears it.
    pub larger: Result<LargerFuse, Refusal>,
}

impl FuseAdvice {
    /// Advice for `fuse` after the trial that wore it by `wear`, on this path.
    #[must_use]
    pub fn new(fuse: &Fuse, wear: &FuseWear, path: &SupplyPath) -> Self {
        match (wear.verdict(), wear.mark(fuse)) {
            (FuseVerdict::BearsIt { .. }, _) | (_, None) => Self {
                first: &[],
                larger: Err(Refusal::NotNeeded),
            },
            (_, Some(mark)) => Self {
                first: &Demand::ALL,
                larger: LargerFuse::checked(fuse, &mark, path),
            },
        }
    }
}
