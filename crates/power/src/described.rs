//! Parts of the supply as a robot's file describes them.

use kickstill_number::Within;
use kickstill_robot as robot;

use crate::advice::SupplyPath;
use crate::cells::{Chemistry, Pack};
use crate::fuse::Fuse;
use crate::fuse_table::FuseSize;
use crate::regulator::RegulatorBank;
use crate::winding::Winding;
use crate::wire::{COPPER_TEMPERATURE, WirePair, bundle_share, open_air_current};

impl From<robot::Chemistry> for Chemistry {
    fn from(word: robot::Chemistry) -> Self {
        match word {
            robot::Chemistry::LithiumIronPhosphate => Self::LithiumIronPhosphate,
            robot::Chemistry::LithiumIon => Self::LithiumIon,
            robot::Chemistry::LeadGlassMat => Self::LeadGlassMat,
            robot::Chemistry::NickelMetalHydride => Self::NickelMetalHydride,
        }
    }
}

impl From<robot::FuseSize> for FuseSize {
    fn from(word: robot::FuseSize) -> Self {
        match word {
            robot::FuseSize::Medium => Self::Medium,
            robot::FuseSize::Maxi => Self::Maxi,
        }
    }
}

impl From<&robot::Fuse> for Fuse {
    /// The fuse at the temperature of its surroundings.
    fn from(fuse: &robot::Fuse) -> Self {
        Self::new(fuse.size.into(), fuse.rating).at_temperature(fuse.surroundings)
    }
}

impl From<&robot::Regulator> for RegulatorBank {
    fn from(r: &robot::Regulator) -> Self {
        Self {
            output_voltage: r.output_voltage,
            rated_current: r.rated_current,
            efficiency: r.efficiency,
            idle_power: r.idle_power,
            minimum_input: r.minimum_input,
            count: r.count,
            imbalance: r.imbalance,
        }
    }
}

impl Winding {
    /// Winding of one of the drive's motors in `surroundings` [°C]; its resistance is taken to be
    /// stated at 20 °C.
    #[must_use]
    pub fn described(drive: &robot::Drive, surroundings: f64) -> Self {
        Self {
            resistance: drive.motor_resistance,
            reference: COPPER_TEMPERATURE,
            thermal_resistance: drive.thermal_resistance,
            time_constant: drive.thermal_time,
            limit: drive.winding_limit,
            surroundings,
        }
    }
}

impl WirePair {
    /// The robot's supply wires with their copper at `temperature` [°C].
    #[must_use]
    pub fn described(wiring: &robot::Wiring, temperature: f64) -> Self {
        Self {
            area: wiring.area,
            length: wiring.length,
            temperature,
        }
    }
}

/// Current that a pair of wires of `area` [m²], there and back in one bundle, carries for hours
/// [A]: the open-air table's, by the bundle's share.
#[must_use]
pub fn pair_current(area: f64) -> f64 {
    open_air_current(area).value * bundle_share(2)
}

impl Pack {
    /// The robot's cells with the chemistry's usual resistance. What the battery's R_b has beyond
    /// that is taken for the path; where the cells alone have more, the path has none, and the
    /// pack sags more than the simulated battery.
    #[must_use]
    pub fn described(pack: &robot::Pack, battery: &robot::Battery) -> Self {
        // Counts are whole and small in every robot that was read; the casts saturate.
        let count = |n: f64| n.round().within(1.0, 1e6) as u32;
        let mut out = Self::usual(
            pack.chemistry.into(),
            count(pack.series),
            count(pack.parallel),
            pack.cell_charge,
        );
        out.path_resistance = (battery.resistance - out.resistance()).max(0.0);
        out
    }
}

impl SupplyPath {
    /// What the robot's supply path bears: the wire by [`pair_current`], the rest as its file tells
    /// (0: not known), at the pack's highest voltage.
    #[must_use]
    pub fn described(wiring: &robot::Wiring, pack: &Pack) -> Self {
        let known = |bears: f64| (bears > 0.0).then_some(bears);
        Self {
            wire: Some(pair_current(wiring.area)),
            holder: known(wiring.holder),
            connectors: known(wiring.connectors),
            switch: known(wiring.switch),
            battery: known(wiring.battery),
            voltage: pack.highest_voltage(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_known_bears_nothing_and_the_path_makes_up_the_resistance() {
        let cells = robot::Pack::default();
        let stiff = robot::Battery {
            resistance: 0.5,
            ..robot::Battery::default()
        };
        let pack = Pack::described(&cells, &stiff);
        assert!((pack.resistance() - 0.5).abs() < 1e-12);
        let soft = robot::Battery {
            resistance: 1e-4,
            ..stiff
        };
        let bare = Pack::described(&cells, &soft);
        assert!(bare.path_resistance == 0.0 && bare.resistance() > 1e-4);
        let wiring = robot::Wiring {
            holder: 40.0,
            ..robot::Wiring::default()
        };
        let path = SupplyPath::described(&wiring, &pack);
        assert_eq!(
            (path.holder, path.switch, path.battery),
            (Some(40.0), None, None)
        );
        // 2.5 mm² alone: between the table's 27 A at 2 mm² and 37 A at 3.5 mm²; a pair has less.
        let wire = path.wire.unwrap_or(0.0);
        assert!((27.0 * 0.825..37.0 * 0.825).contains(&wire), "{wire}");
        // Eight cells of 3.65 V.
        assert!((path.voltage - 29.2).abs() < 1e-12);
    }
}
