//! Cells, fuse, wires and head regulators. A robot file may leave any of it out; the defaults here
//! then stand. None of it alters the motion.

/// What a cell is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Chemistry {
    /// Lithium iron phosphate.
    #[default]
    LithiumIronPhosphate,
    /// Lithium-ion with a cobalt, nickel or manganese cathode, pouches included.
    LithiumIon,
    /// Sealed lead with the acid in glass mats.
    LeadGlassMat,
    /// Nickel metal hydride.
    NickelMetalHydride,
}

impl Chemistry {
    /// All chemistries, in the order of their words.
    pub const ALL: [Self; 4] = [
        Self::LithiumIronPhosphate,
        Self::LithiumIon,
        Self::LeadGlassMat,
        Self::NickelMetalHydride,
    ];

    /// Voltage of a rested cell half full [V]: what a pack's nominal voltage is made of. From
    /// memory; the cell's sheet goes before it.
    #[must_use]
    pub fn nominal_voltage(self) -> f64 {
        match self {
            Self::LithiumIronPhosphate => 3.20,
            Self::LithiumIon => 3.70,
            Self::LeadGlassMat => 2.05,
            Self::NickelMetalHydride => 1.25,
        }
    }
}

/// The cells of the battery. They tell run time, sag and heat; the motion goes by [`Battery`](super::Battery).
#[derive(Clone, Debug, PartialEq)]
pub struct Pack {
    /// What the cells are made of.
    pub chemistry: Chemistry,
    /// Cells in series.
    pub series: f64,
    /// Strings side by side.
    pub parallel: f64,
    /// Rated charge of one cell [A·s]; 1 A·h is 3600 A·s.
    pub cell_charge: f64,
}

impl Default for Pack {
    fn default() -> Self {
        Self {
            chemistry: Chemistry::LithiumIronPhosphate,
            series: 8.0,
            parallel: 1.0,
            cell_charge: 10.0 * 3600.0,
        }
    }
}

/// Size of a blade fuse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum FuseSize {
    /// The medium blade, 19 mm wide.
    #[default]
    Medium,
    /// The large blade called maxi, 29 mm wide.
    Maxi,
}

/// The main fuse.
#[derive(Clone, Debug, PartialEq)]
pub struct Fuse {
    /// Size of the blade.
    pub size: FuseSize,
    /// Rating printed on it [A].
    pub rating: f64,
    /// Temperature around fuse, wire and motors [°C].
    pub surroundings: f64,
}

impl Default for Fuse {
    fn default() -> Self {
        Self {
            size: FuseSize::Medium,
            rating: 30.0,
            surroundings: 20.0,
        }
    }
}

/// The way from the battery to the drivers, and what each piece of it bears for hours.
#[derive(Clone, Debug, PartialEq)]
pub struct Wiring {
    /// Copper cross-section of each wire [m²].
    pub area: f64,
    /// Distance from battery to drivers [m]; the current goes it twice.
    pub length: f64,
    /// What the fuse holder bears [A]; 0 if not known.
    pub holder: f64,
    /// What the weakest connector bears [A]; 0 if not known.
    pub connectors: f64,
    /// What the isolating switch bears [A]; 0 if not known.
    pub switch: f64,
    /// What the battery with its protection bears [A]; 0 if not known.
    pub battery: f64,
}

impl Default for Wiring {
    fn default() -> Self {
        Self {
            area: 2.5e-6,
            length: 0.5,
            holder: 0.0,
            connectors: 0.0,
            switch: 0.0,
            battery: 0.0,
        }
    }
}

/// The regulators that feed the head from the battery, and the head's load on them.
#[derive(Clone, Debug, PartialEq)]
pub struct Regulator {
    /// How many equal regulators share the load.
    pub count: f64,
    /// Output voltage [V].
    pub output_voltage: f64,
    /// Current each is rated for [A].
    pub rated_current: f64,
    /// Efficiency under load.
    pub efficiency: f64,
    /// By how much the busiest carries more than its even share.
    pub imbalance: f64,
    /// Lowest input voltage at which the output still holds [V].
    pub minimum_input: f64,
    /// Power each takes without load [W].
    pub idle_power: f64,
    /// Power the head takes from them [W].
    pub load: f64,
}

impl Default for Regulator {
    fn default() -> Self {
        Self {
            count: 1.0,
            output_voltage: 5.0,
            rated_current: 5.0,
            efficiency: 0.9,
            imbalance: 0.0,
            minimum_input: 6.0,
            idle_power: 0.1,
            load: 5.0,
        }
    }
}
