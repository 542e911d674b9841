//! Knobs of cells, fuse, wires and head regulators. None of them alters the motion.

use super::{Knob, choice, num, whole};
use crate::model::{Chemistry, FuseSize};
use crate::unit::Unit as U;

const CHEMISTRIES: &[&str] = &[
    "lithium-iron-phosphate",
    "lithium-ion",
    "lead-glass-mat",
    "nickel-metal-hydride",
];
const SIZES: &[&str] = &["medium", "maxi"];

pub(super) const KNOBS: &[Knob] = &[
    choice(
        "pack.chemistry",
        "cells made of",
        CHEMISTRIES,
        "What the cells are made of; it gives their usual voltage, resistance and floor. Motion goes by the battery's own voltage and resistance.",
        |r| match r.pack.chemistry {
            Chemistry::LithiumIronPhosphate => 0.0,
            Chemistry::LithiumIon => 1.0,
            Chemistry::LeadGlassMat => 2.0,
            Chemistry::NickelMetalHydride => 3.0,
        },
        |r, v| {
            r.pack.chemistry = if v < 0.5 {
                Chemistry::LithiumIronPhosphate
            } else if v < 1.5 {
                Chemistry::LithiumIon
            } else if v < 2.5 {
                Chemistry::LeadGlassMat
            } else {
                Chemistry::NickelMetalHydride
            }
        },
    )
    .optional(),
    whole(num(
        "pack.series",
        "",
        "cells in series",
        U::Count,
        [1.0, 64.0, 1.0],
        "Cells in series; a file without it gets as many as fit the battery voltage.",
        |r| r.pack.series,
        |r, v| r.pack.series = v,
    ))
    .optional(),
    whole(num(
        "pack.parallel",
        "",
        "strings side by side",
        U::Count,
        [1.0, 64.0, 1.0],
        "Strings of cells side by side; they share the current.",
        |r| r.pack.parallel,
        |r, v| r.pack.parallel = v,
    ))
    .optional(),
    num(
        "pack.cell_charge",
        "",
        "cell capacity",
        U::AmpereSecond,
        [180.0, 1_800_000.0, 180.0],
        "Rated charge of one cell, as printed on it.",
        |r| r.pack.cell_charge,
        |r, v| r.pack.cell_charge = v,
    )
    .log()
    .optional(),
    choice(
        "fuse.size",
        "fuse size",
        SIZES,
        "Size of the main blade fuse: the medium blade is 19 mm wide, the maxi 29 mm.",
        |r| match r.fuse.size {
            FuseSize::Medium => 0.0,
            FuseSize::Maxi => 1.0,
        },
        |r, v| {
            r.fuse.size = if v < 0.5 {
                FuseSize::Medium
            } else {
                FuseSize::Maxi
            }
        },
    )
    .optional(),
    num(
        "fuse.rating",
        "",
        "fuse rating",
        U::Ampere,
        [1.0, 100.0, 0.5],
        "Current printed on the fuse. The fuse protects the wire: a larger one only where wire, holder, connectors, switch and battery all bear it.",
        |r| r.fuse.rating,
        |r, v| r.fuse.rating = v,
    )
    .log()
    .optional(),
    num(
        "fuse.surroundings",
        "T_a",
        "air around",
        U::Celsius,
        [-20.0, 85.0, 1.0],
        "Temperature of the air around fuse, wire and motors inside the shell; a warm fuse opens sooner.",
        |r| r.fuse.surroundings,
        |r, v| r.fuse.surroundings = v,
    )
    .optional(),
    num(
        "wiring.area",
        "A",
        "wire cross-section",
        U::SquareMetre,
        [0.05e-6, 120e-6, 0.05e-6],
        "Copper of each supply wire between battery and drivers; may be typed as a gauge, such as 12 AWG.",
        |r| r.wiring.area,
        |r, v| r.wiring.area = v,
    )
    .log()
    .optional(),
    num(
        "wiring.length",
        "",
        "wire length, one way",
        U::Metre,
        [0.02, 10.0, 0.01],
        "Way from battery to drivers; the current goes it twice.",
        |r| r.wiring.length,
        |r, v| r.wiring.length = v,
    )
    .log()
    .optional(),
    num(
        "wiring.holder",
        "",
        "fuse holder bears",
        U::Ampere,
        [0.0, 1000.0, 1.0],
        "Current that the fuse holder bears for hours, from its sheet; 0 if not known, which counts as bearing no more than the fuse that is in.",
        |r| r.wiring.holder,
        |r, v| r.wiring.holder = v,
    )
    .optional(),
    num(
        "wiring.connectors",
        "",
        "connectors bear",
        U::Ampere,
        [0.0, 1000.0, 1.0],
        "Current that the weakest connector bears for hours, from its sheet; 0 if not known, which counts as bearing no more than the fuse that is in.",
        |r| r.wiring.connectors,
        |r, v| r.wiring.connectors = v,
    )
    .optional(),
    num(
        "wiring.switch",
        "",
        "switch bears",
        U::Ampere,
        [0.0, 1000.0, 1.0],
        "Current that the isolating switch bears for hours, from its sheet; 0 if not known, which counts as bearing no more than the fuse that is in.",
        |r| r.wiring.switch,
        |r, v| r.wiring.switch = v,
    )
    .optional(),
    num(
        "wiring.battery",
        "",
        "battery bears",
        U::Ampere,
        [0.0, 1000.0, 1.0],
        "Current that the battery with its protection bears for hours, from its sheet; 0 if not known, which counts as bearing no more than the fuse that is in.",
        |r| r.wiring.battery,
        |r, v| r.wiring.battery = v,
    )
    .optional(),
    whole(num(
        "regulator.count",
        "",
        "head regulators",
        U::Count,
        [1.0, 12.0, 1.0],
        "How many equal regulators share the head's load.",
        |r| r.regulator.count,
        |r, v| r.regulator.count = v,
    ))
    .optional(),
    num(
        "regulator.output_voltage",
        "",
        "regulator output",
        U::Volt,
        [1.0, 60.0, 0.1],
        "Voltage that the regulators give to the head.",
        |r| r.regulator.output_voltage,
        |r, v| r.regulator.output_voltage = v,
    )
    .optional(),
    num(
        "regulator.rated_current",
        "",
        "regulator rating, each",
        U::Ampere,
        [0.1, 100.0, 0.1],
        "Current that each regulator is rated for.",
        |r| r.regulator.rated_current,
        |r, v| r.regulator.rated_current = v,
    )
    .log()
    .optional(),
    num(
        "regulator.efficiency",
        "η",
        "regulator efficiency",
        U::Share,
        [0.3, 1.0, 0.01],
        "Share of the power that the regulators pass on; the rest is heat.",
        |r| r.regulator.efficiency,
        |r, v| r.regulator.efficiency = v,
    )
    .optional(),
    num(
        "regulator.imbalance",
        "",
        "regulator imbalance",
        U::Share,
        [0.0, 1.0, 0.01],
        "By how much the busiest regulator carries more than its even share; separate loads or plain paralleling are never even.",
        |r| r.regulator.imbalance,
        |r, v| r.regulator.imbalance = v,
    )
    .optional(),
    num(
        "regulator.minimum_input",
        "",
        "regulator least input",
        U::Volt,
        [0.5, 90.0, 0.1],
        "Lowest input at which the output still holds; a sagging battery must stay above it.",
        |r| r.regulator.minimum_input,
        |r, v| r.regulator.minimum_input = v,
    )
    .optional(),
    num(
        "regulator.idle_power",
        "",
        "regulator idle power, each",
        U::Watt,
        [0.0, 20.0, 0.05],
        "What each regulator takes without load.",
        |r| r.regulator.idle_power,
        |r, v| r.regulator.idle_power = v,
    )
    .optional(),
    num(
        "regulator.load",
        "",
        "head load",
        U::Watt,
        [0.0, 1000.0, 0.5],
        "What the head takes from the regulators: lights, sound, servos. It is told apart from the electronics power, which the motion heeds.",
        |r| r.regulator.load,
        |r, v| r.regulator.load = v,
    )
    .optional(),
];
