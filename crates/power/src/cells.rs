//! Battery chemistries and packs of cells.

use crate::source::{LARGE, Mark, piecewise, size, within};

/// What a cell is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Chemistry {
    /// Lithium iron phosphate.
    LithiumIronPhosphate,
    /// Lithium-ion with a cobalt, nickel or manganese cathode, pouches (LiPo) included.
    LithiumIon,
    /// Sealed lead with the acid in glass mats.
    LeadGlassMat,
    /// Nickel metal hydride.
    NickelMetalHydride,
}

/// A caution that defers to a standard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    /// What to mind.
    pub text: &'static str,
    /// Where to read on.
    pub see: &'static str,
}

/// Usual figures of one cell. Voltages [V] are a cell's; marks say how far to trust them, and
/// the cell's own sheet goes before all of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CellFigures {
    /// Chemistry in words.
    pub name: &'static str,
    /// Voltage at which charging ends.
    pub charge_end: f64,
    /// Full, rested, without load.
    pub full: f64,
    /// Half full, rested, without load: what a pack's nominal voltage is made of.
    pub nominal: f64,
    /// Empty, rested, without load.
    pub empty: f64,
    /// Floor under load: stop here.
    pub floor: f64,
    /// Voltage to store at.
    pub storage: f64,
    /// Resistance × rated capacity, low and high [Ω·A·h]: a larger cell has less of the one.
    pub resistance_capacity: (f64, f64),
    /// Peukert's exponent, 1 where a fast discharge loses nothing.
    pub peukert: f64,
    /// Time over which the rated capacity is stated [h].
    pub rated_hours: f64,
    /// Mark of the weakest of the voltages.
    pub voltage_mark: Mark,
    /// Mark of the resistance.
    pub resistance_mark: Mark,
    /// Mark of the exponent.
    pub peukert_mark: Mark,
}

const IRON_PHOSPHATE: CellFigures = CellFigures {
    name: "LiFePO4",
    charge_end: 3.65,
    full: 3.40,
    nominal: 3.20,
    empty: 3.00,
    floor: 2.50,
    storage: 3.28,
    resistance_capacity: (0.02, 0.06),
    peukert: 1.05,
    rated_hours: 5.0,
    voltage_mark: Mark::Memory,
    resistance_mark: Mark::Memory,
    peukert_mark: Mark::Memory,
};

/// 4.20 V full, 3.2 V floor, storage at 3.8 to 3.9 V: read; half full and empty from memory.
/// Resistance: of 18650 cells of about
/// 2.5 Ah, 10 to 20 mΩ made for power and 35 to 75 mΩ made for energy.
const LITHIUM_ION: CellFigures = CellFigures {
    name: "Li-ion",
    charge_end: 4.20,
    full: 4.20,
    nominal: 3.70,
    empty: 3.30,
    floor: 3.20,
    storage: 3.85,
    resistance_capacity: (0.025, 0.19),
    peukert: 1.05,
    rated_hours: 5.0,
    voltage_mark: Mark::Memory,
    resistance_mark: Mark::Memory,
    peukert_mark: Mark::Memory,
};

/// Floor 1.75 V and exponent 1.11: read in battery monitors' handbooks. Resistance: of a 12 V
/// 7 Ah battery, 20 to 25 mΩ over six cells.
const GLASS_MAT: CellFigures = CellFigures {
    name: "lead AGM",
    charge_end: 2.45,
    full: 2.14,
    nominal: 2.05,
    empty: 1.95,
    floor: 1.75,
    storage: 2.14,
    resistance_capacity: (0.023, 0.030),
    peukert: 1.11,
    rated_hours: 20.0,
    voltage_mark: Mark::Memory,
    resistance_mark: Mark::Memory,
    peukert_mark: Mark::Read,
};

const METAL_HYDRIDE: CellFigures = CellFigures {
    name: "NiMH",
    charge_end: 1.45,
    full: 1.35,
    nominal: 1.25,
    empty: 1.15,
    floor: 1.00,
    storage: 1.25,
    resistance_capacity: (0.02, 0.06),
    peukert: 1.1,
    rated_hours: 5.0,
    voltage_mark: Mark::Memory,
    resistance_mark: Mark::Memory,
    peukert_mark: Mark::Memory,
};

const EVERY: [Caution; 5] = [
    Caution {
        text: "Put the fuse as close to the battery as can be, on the positive wire: one marine \
               code asks for 178 mm.",
        see: "local codes; for machines IEC 60204-1",
    },
    Caution {
        text: "Fit an isolating switch that can be reached from outside.",
        see: "IEC 60204-1; an emergency stop backs up, it is not the risk reduction: ISO 13850",
    },
    Caution {
        text: "Battery protection that connects again by itself can start the robot unasked: \
               use protection that stays off.",
        see: "ISO 12100",
    },
    Caution {
        text: "Keep the public out of reach of a moving robot.",
        see: "ISO 12100: design out, then guard, then inform",
    },
    Caution {
        text: "Disconnect before work; insulate tools; what a battery can drive through a spanner \
               melts it.",
        see: "licensed practice and local codes",
    },
];

const LITHIUM: [Caution; 3] = [
    Caution {
        text: "Charge attended, at 1 C or less, outside the robot, with the charger made for the \
               chemistry and cell count.",
        see: "EN 62133-2 and the cell maker's sheet",
    },
    Caution {
        text: "Store part full, cool and dry, in a case that does not burn; not below the floor \
               voltage.",
        see: "EN 62133-2 and the cell maker's sheet",
    },
    Caution {
        text: "Only send or fly with cells tested for transport; never a swollen or dropped one.",
        see: "UN 38.3 and the carrier's rules",
    },
];

const LEAD: [Caution; 2] = [
    Caution {
        text: "Charge with air around it: gas can form and burn.",
        see: "local codes and the battery maker's sheet",
    },
    Caution {
        text: "Store full and charge again every few months.",
        see: "the battery maker's sheet",
    },
];

const NICKEL: [Caution; 1] = [Caution {
    text: "Charge with a charger that detects the end of charge; a hot cell is full.",
    see: "the cell maker's sheet",
}];

impl Chemistry {
    /// All chemistries.
    pub const ALL: [Self; 4] = [
        Self::LithiumIronPhosphate,
        Self::LithiumIon,
        Self::LeadGlassMat,
        Self::NickelMetalHydride,
    ];

    /// Usual figures of a cell.
    #[must_use]
    pub fn figures(self) -> &'static CellFigures {
        match self {
            Self::LithiumIronPhosphate => &IRON_PHOSPHATE,
            Self::LithiumIon => &LITHIUM_ION,
            Self::LeadGlassMat => &GLASS_MAT,
            Self::NickelMetalHydride => &METAL_HYDRIDE,
        }
    }

    /// What to mind with every battery of a robot.
    #[must_use]
    pub fn cautions_for_all() -> &'static [Caution] {
        &EVERY
    }

    /// What to mind when charging and storing this chemistry.
    #[must_use]
    pub fn cautions(self) -> &'static [Caution] {
        match self {
            Self::LithiumIronPhosphate | Self::LithiumIon => &LITHIUM,
            Self::LeadGlassMat => &LEAD,
            Self::NickelMetalHydride => &NICKEL,
        }
    }

    /// Voltage of a rested cell at `fill` (0 empty … 1 full), in [V]: straight from empty through
    /// half full to full. Rough, above all for the flat curve of LiFePO4.
    #[must_use]
    pub fn open_voltage(self, fill: f64) -> f64 {
        let f = self.figures();
        piecewise(
            &[(0.0, f.empty), (0.5, f.nominal), (1.0, f.full)],
            within(fill, 0.0, 1.0),
        )
    }
}

/// Share of the capacity rated at `rated` [A] that is left at a steady `current` [A]:
/// (rated/current)^(n − 1), never above 1. Peukert's law in this form and its table for a battery
/// rated over 20 h were read in a battery monitor's handbook.
#[must_use]
pub fn peukert_share(current: f64, rated: f64, exponent: f64) -> f64 {
    let ratio = within(rated, 1e-9, LARGE) / size(current).max(1e-9);
    if ratio >= 1.0 {
        return 1.0;
    }
    libm::pow(ratio, within(exponent, 1.0, 3.0) - 1.0)
}

/// A pack of equal cells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pack {
    /// Chemistry of the cells.
    pub chemistry: Chemistry,
    /// Cells in series.
    pub series: u32,
    /// Strings side by side.
    pub parallel: u32,
    /// Rated charge of one cell [C]; 1 A·h is 3600 C.
    pub cell_charge: f64,
    /// Resistance of one cell [Ω].
    pub cell_resistance: f64,
    /// Wires, connectors, protection and fuse in series with the pack [Ω].
    pub path_resistance: f64,
}

impl Pack {
    /// Pack with the middle (geometric mean) of the chemistry's usual resistance and none in the
    /// path.
    #[must_use]
    pub fn usual(chemistry: Chemistry, series: u32, parallel: u32, cell_charge: f64) -> Self {
        let (low, high) = chemistry.figures().resistance_capacity;
        let cell_charge = within(cell_charge, 1.0, LARGE);
        Self {
            chemistry,
            series,
            parallel,
            cell_charge,
            cell_resistance: (low * high).sqrt() * 3600.0 / cell_charge,
            path_resistance: 0.0,
        }
    }

    fn strings(&self) -> f64 {
        f64::from(self.parallel.max(1))
    }

    fn cells(&self) -> f64 {
        f64::from(self.series.max(1))
    }

    /// Rated charge of the pack [C].
    #[must_use]
    pub fn charge(&self) -> f64 {
        within(self.cell_charge, 1e-3, LARGE) * self.strings()
    }

    /// Current at which the charge is rated [A].
    #[must_use]
    pub fn rated_current(&self) -> f64 {
        self.charge() / (self.chemistry.figures().rated_hours * 3600.0)
    }

    /// Resistance of cells and path [Ω].
    #[must_use]
    pub fn resistance(&self) -> f64 {
        within(self.cell_resistance, 0.0, 1e6) * self.cells() / self.strings()
            + within(self.path_resistance, 0.0, 1e6)
    }

    /// Voltage without load at `fill` (0 … 1), in [V].
    #[must_use]
    pub fn open_voltage(&self, fill: f64) -> f64 {
        self.chemistry.open_voltage(fill) * self.cells()
    }

    /// Lowest voltage under load [V].
    #[must_use]
    pub fn floor_voltage(&self) -> f64 {
        self.chemistry.figures().floor * self.cells()
    }

    /// Highest voltage, at the end of charging [V].
    #[must_use]
    pub fn highest_voltage(&self) -> f64 {
        self.chemistry.figures().charge_end * self.cells()
    }

    /// Voltage lost inside and in the path at `current` [A], in [V].
    #[must_use]
    pub fn sag(&self, current: f64) -> f64 {
        size(current) * self.resistance()
    }

    /// Current at which the full load's voltage falls to the floor, at `fill`, in [A]; infinite
    /// resistances aside, what the sag allows and not what the cells bear: see their sheet.
    #[must_use]
    pub fn current_to_floor(&self, fill: f64) -> f64 {
        let room = (self.open_voltage(fill) - self.floor_voltage()).max(0.0);
        (room / self.resistance().max(1e-9)).min(LARGE)
    }

    /// Charge that leaves the rated capacity each second at `current` [A], in [C/s]: the current,
    /// grown by Peukert's law when it is above the rated one. Charging counts as it is.
    #[must_use]
    pub fn drain(&self, current: f64) -> f64 {
        let current = within(current, -LARGE, LARGE);
        if current.is_nan() || current <= 0.0 {
            return current.min(0.0);
        }
        let exponent = self.chemistry.figures().peukert;
        current / peukert_share(current, self.rated_current(), exponent)
    }
}

/// Charge and energy taken from a pack, counted step by step.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct ChargeCount {
    /// Charge delivered, what was fed back taken off [C].
    pub delivered: f64,
    /// Charge gone from the rated capacity, Peukert's law included [C].
    pub drained: f64,
    /// Energy delivered at the terminals [J].
    pub energy: f64,
}

impl ChargeCount {
    /// One step of `dt` [s] at `current` [A] (negative: fed back) and terminal `voltage` [V].
    /// What is not a number counts as 0. Allocates nothing.
    #[inline]
    pub fn step(&mut self, pack: &Pack, current: f64, voltage: f64, dt: f64) {
        let dt = within(dt, 0.0, 1e9);
        let current = if current.is_nan() {
            0.0
        } else {
            within(current, -1e9, 1e9)
        };
        self.delivered = within(self.delivered + current * dt, -1e30, 1e30);
        self.drained = within(self.drained + pack.drain(current) * dt, -1e30, 1e30);
        let power = current * within(voltage, 0.0, 1e6);
        self.energy = within(self.energy + power * dt, -1e30, 1e30);
    }

    /// How full the pack is (0 … 1) after this, from `start` (0 … 1).
    #[must_use]
    pub fn fill(&self, pack: &Pack, start: f64) -> f64 {
        within(
            within(start, 0.0, 1.0) - self.drained / pack.charge(),
            0.0,
            1.0,
        )
    }
}
