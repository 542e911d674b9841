//! Copper wire against published tables and a worked loop.

use kickstill_power::wire::{
    area_gauge, bundle_share, copper_factor, gauge_area, gauge_diameter, open_air_current,
    open_air_rise, resistance_per_metre,
};
use kickstill_power::{Mark, WirePair};
use proptest::prelude::*;

/// Computed from ASTM B258's formula and IEC 60028's copper in another program (four digits).
#[test]
fn resistance_of_the_gauges() {
    for (gauge, milliohms) in [
        (8.0, 2.061),
        (10.0, 3.277),
        (12.0, 5.211),
        (14.0, 8.285),
        (16.0, 13.17),
        (18.0, 20.95),
        (20.0, 33.31),
        (22.0, 52.96),
    ] {
        let got = 1e3 * resistance_per_metre(gauge_area(gauge), 20.0);
        // Half of the last of four printed digits is up to 5e-4; 3.8e-4 at 13.17.
        assert!((got / milliohms - 1.0).abs() < 4e-4, "{gauge} AWG: {got}");
    }
}

/// Cross-sections read in a terminal maker's conversion table (mm², as printed there).
#[test]
fn cross_section_of_the_gauges() {
    for (gauge, printed) in [
        (18.0, 0.81),
        (16.0, 1.32),
        (14.0, 2.08),
        (12.0, 3.33),
        (10.0, 5.27),
        (8.0, 8.30),
        (6.0, 13.30),
        (4.0, 21.09),
        (0.0, 53.52),
    ] {
        let got = 1e6 * gauge_area(gauge);
        assert!((got / printed - 1.0).abs() < 0.02, "{gauge} AWG: {got} mm²");
    }
    // The two gauges the standard fixes: 36 AWG .127 mm (.005 in), 4/0 11.684 mm (.46 in).
    assert!((gauge_diameter(36.0) - 0.127e-3).abs() < 1e-12);
    assert!((gauge_diameter(-3.0) - 11.684e-3).abs() < 1e-9);
}

/// IEC 60228's greatest resistance of plain solid copper at 20 °C [Ω/km] (tables read on two
/// cable makers' pages): the ideal wire must be below it and not far.
#[test]
fn below_the_standard_s_greatest_resistance() {
    for (square_millimetres, greatest) in [
        (0.5, 36.0),
        (0.75, 24.5),
        (1.0, 18.1),
        (1.5, 12.1),
        (2.5, 7.41),
        (4.0, 4.61),
        (6.0, 3.08),
        (10.0, 1.83),
        (16.0, 1.15),
    ] {
        let got = 1e3 * resistance_per_metre(square_millimetres * 1e-6, 20.0);
        assert!(
            got < greatest && got > 0.90 * greatest,
            "{square_millimetres} mm²: {got}"
        );
    }
}

/// Correction to 20 °C of IEC 60228 (read on a cable maker's page), which uses 254.5/(234.5 + T).
#[test]
fn growth_with_temperature() {
    for (temperature, to_20) in [
        (5.0, 1.064),
        (40.0, 0.926),
        (60.0, 0.862),
        (80.0, 0.806),
        (100.0, 0.758),
    ] {
        let got = 1.0 / copper_factor(temperature);
        assert!((got / to_20 - 1.0).abs() < 0.005, "{temperature} °C: {got}");
    }
}

/// Worked loop: 14 AWG, 18.9 A, 9.08 mΩ/m: .172 V and 3.24 W for each metre of wire (computed;
/// 9.08 mΩ/m is this wire at 44 °C).
#[test]
fn worked_loop() {
    let pair = WirePair {
        area: gauge_area(14.0),
        length: 1.0,
        temperature: 44.4,
    };
    assert!((pair.resistance() / (2.0 * 9.08e-3) - 1.0).abs() < 1e-3);
    assert!((pair.drop(18.9) - 2.0 * 0.1716).abs() < 5e-4);
    assert!((pair.heat_per_metre(18.9) - 3.243).abs() < 5e-3);
    assert!((pair.heat(18.9) - pair.drop(18.9) * 18.9).abs() < 1e-12);
}

/// Wire ratings at 30 °C, 60 °C insulation: read in a terminal maker's reference table.
#[test]
fn open_air_currents() {
    for (square_millimetres, amperes) in [(0.9, 17.0), (2.0, 27.0), (5.5, 49.0), (38.0, 162.0)] {
        let area = square_millimetres * 1e-6;
        let got = open_air_current(area);
        assert!((got.value / amperes - 1.0).abs() < 1e-9);
        assert_eq!(got.mark, Mark::Read);
        // By construction 30 K at the table's current, a quarter of it at half the current.
        assert!((open_air_rise(area, amperes).value - 30.0).abs() < 1e-9);
        assert!((open_air_rise(area, 0.5 * amperes).value - 7.5).abs() < 1e-9);
        assert_eq!(open_air_rise(area, 1.0).mark, Mark::CommonPractice);
    }
    // MIL-W-5088L, all wires loaded, second hand.
    assert_eq!(bundle_share(1), 1.0);
    assert_eq!(bundle_share(4), 0.66);
    assert_eq!(bundle_share(u32::MAX), bundle_share(10));
}

proptest! {
    #[test]
    fn gauge_and_area_invert(gauge in -3.0f64..40.0) {
        prop_assert!((area_gauge(gauge_area(gauge)) - gauge).abs() < 1e-9);
    }

    #[test]
    fn all_stays_finite(
        area in prop::num::f64::ANY, length in prop::num::f64::ANY,
        temperature in prop::num::f64::ANY, current in prop::num::f64::ANY,
    ) {
        let pair = WirePair { area, length, temperature };
        for value in [
            pair.resistance(), pair.drop(current), pair.heat(current),
            pair.heat_per_metre(current), area_gauge(area), gauge_area(area),
            open_air_current(area).value, open_air_rise(area, current).value,
        ] {
            prop_assert!(value.is_finite());
        }
    }

    #[test]
    fn thicker_is_cooler_and_carries_more(area in 1e-8f64..4e-5, more in 1.01f64..2.0) {
        prop_assert!(open_air_current(area * more).value > open_air_current(area).value);
        prop_assert!(open_air_rise(area * more, 10.0).value < open_air_rise(area, 10.0).value);
        prop_assert!(resistance_per_metre(area * more, 20.0) < resistance_per_metre(area, 20.0));
    }
}
