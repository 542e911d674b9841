//! Packs of each chemistry with about the battery's voltage.

use kickstill_number::Within;
use kickstill_rig::supply::{SupplyReport, preset};
use kickstill_robot::{Chemistry, Robot, Unit, knob};
use serde::Serialize;

use super::advise::{ChangeOut, change};
use crate::units::Units;

const ALL: [Chemistry; 4] = [
    Chemistry::LithiumIronPhosphate,
    Chemistry::LithiumIon,
    Chemistry::LeadGlassMat,
    Chemistry::NickelMetalHydride,
];

#[derive(Serialize)]
pub(super) struct PresetOut {
    /// The chemistry's word and how many cells.
    name: String,
    voltage: String,
    full: String,
    floor: String,
    charged: String,
    resistance: String,
    charge: String,
    /// Whether the robot has these cells now.
    now: bool,
    /// All knobs of it, changed or not; nothing where one does not take its value.
    changes: Vec<ChangeOut>,
}

pub(super) fn presets(robot: &Robot, report: &SupplyReport, units: Units) -> Vec<PresetOut> {
    let pack = &report.battery.pack;
    let out = ALL.into_iter().enumerate().map(|(place, chemistry)| {
        // Cells half full, as many as come nearest to the voltage there is.
        let make = |series: u32| {
            preset(
                chemistry.into(),
                series,
                pack.parallel,
                pack.cell_charge,
                pack.path_resistance,
            )
        };
        let cell = make(1).open_voltage;
        // A knob's range: some hundred at most.
        let series = (robot.battery.open_voltage / cell)
            .round()
            .within(1.0, 64.0);
        let made = make(series as u32);
        let values = [
            ("pack.chemistry", place as f64),
            ("pack.series", series),
            ("battery.open_voltage", made.open_voltage),
            ("battery.resistance", made.resistance),
        ];
        let mut changes = Vec::new();
        for (key, value) in values {
            let Some(k) = knob(key).filter(|k| k.admits(value).is_ok()) else {
                changes.clear();
                break;
            };
            changes.push(change(k, value, robot, units));
        }
        let name = knob("pack.chemistry").map_or_else(String::new, |k| k.format(place as f64));
        PresetOut {
            name: format!("{name}, {series} in series"),
            voltage: Unit::Volt.format(made.open_voltage),
            full: Unit::Volt.format(made.full),
            floor: Unit::Volt.format(made.floor),
            charged: Unit::Volt.format(made.charged),
            resistance: Unit::Ohm.format(made.resistance),
            charge: Unit::AmpereSecond.format(made.charge),
            now: robot.pack.chemistry == chemistry && robot.pack.series == series,
            changes,
        }
    });
    out.collect()
}
