//! A larger fuse only where everything bears it, and never first.
//!
//! That a fuse protects the wire, and must not exceed what the wire, holder, connectors and
//! switch bear, is common practice and every electrical code's (IEC 60204-1 for machines; the
//! text from memory).

use kickstill_power::{
    Demand, Fuse, FuseAdvice, FuseSize, FuseVerdict, FuseWear, PathPart, Refusal, SupplyPath,
};
use proptest::prelude::*;

const STRONG: SupplyPath = SupplyPath {
    wire: Some(55.0),
    holder: Some(50.0),
    connectors: Some(60.0),
    switch: Some(100.0),
    battery: Some(80.0),
    voltage: 29.4,
};

fn overloaded(fuse: &Fuse, current: f64, time: f64) -> FuseWear {
    let mut wear = FuseWear::new();
    wear.step(fuse, current, time);
    assert!(!matches!(wear.verdict(), FuseVerdict::BearsIt { .. }));
    wear
}

#[test]
fn lowering_the_demand_always_stands_first() {
    let fuse = Fuse::new(FuseSize::Maxi, 30.0);
    let advice = FuseAdvice::new(&fuse, &overloaded(&fuse, 42.0, 70.0), &STRONG);
    assert_eq!(
        advice.first,
        [
            Demand::DriverLimit,
            Demand::Ramp,
            Demand::DampingGain,
            Demand::Voltage
        ]
    );
    let larger = advice.larger.unwrap();
    assert_eq!(larger.rating(), 35.0);
    let line = larger.to_string();
    assert!(!line.contains('\n'));
    for part in PathPart::ALL {
        assert!(line.contains(part.name()), "{line}");
    }
    assert!(line.contains("35 A") && line.contains("55 A"), "{line}");
}

#[test]
fn a_fuse_that_bears_it_gets_no_advice() {
    let fuse = Fuse::new(FuseSize::Medium, 35.0);
    let mut wear = FuseWear::new();
    wear.step(&fuse, 30.0, 100.0);
    let advice = FuseAdvice::new(&fuse, &wear, &STRONG);
    assert!(advice.first.is_empty());
    assert_eq!(advice.larger, Err(Refusal::NotNeeded));
}

#[test]
fn one_weak_or_unknown_part_refuses() {
    let fuse = Fuse::new(FuseSize::Medium, 35.0);
    let wear = overloaded(&fuse, 50.0, 5.0);
    for weak in PathPart::ALL {
        for bears in [None, Some(39.9), Some(f64::NAN), Some(f64::INFINITY)] {
            let mut path = STRONG;
            match weak {
                PathPart::Wire => path.wire = bears,
                PathPart::Holder => path.holder = bears,
                PathPart::Connectors => path.connectors = bears,
                PathPart::Switch => path.switch = bears,
                PathPart::Battery => path.battery = bears,
            }
            let advice = FuseAdvice::new(&fuse, &wear, &path);
            assert!(!advice.first.is_empty());
            let refusal = advice.larger.unwrap_err();
            assert!(
                matches!(refusal, Refusal::Part { part, needed, .. } if part == weak && needed == 40.0),
                "{refusal:?}"
            );
            assert!(refusal.to_string().contains(weak.name()));
        }
    }
}

#[test]
fn nothing_beyond_the_size_or_the_voltage() {
    let fuse = Fuse::new(FuseSize::Medium, 40.0);
    let wear = overloaded(&fuse, 60.0, 5.0);
    assert_eq!(
        FuseAdvice::new(&fuse, &wear, &STRONG).larger,
        Err(Refusal::NoLargerRating)
    );
    let fuse = Fuse::new(FuseSize::Maxi, 30.0);
    let wear = overloaded(&fuse, 42.0, 70.0);
    for voltage in [32.1, 42.0, 0.0, f64::NAN] {
        let path = SupplyPath { voltage, ..STRONG };
        assert!(matches!(
            FuseAdvice::new(&fuse, &wear, &path).larger,
            Err(Refusal::Voltage { .. })
        ));
    }
}

proptest! {
    /// The contrary is refused: whatever the load and the path, a larger fuse that is named is
    /// borne by every part, bears the load, and stands after what lowers the demand.
    #[test]
    fn a_larger_fuse_is_never_named_against_its_path(
        size in any::<bool>(), pick in 0usize..9, multiple in 1.0f64..7.0, time in 0.001f64..4000.0,
        bears in prop::array::uniform5(prop::option::of(1.0f64..150.0)),
        voltage in 5.0f64..50.0, heat in 0.0f64..90.0,
    ) {
        let size = if size { FuseSize::Maxi } else { FuseSize::Medium };
        let rating = size.ratings()[pick];
        let fuse = Fuse::new(size, rating).at_temperature(heat);
        let mut wear = FuseWear::new();
        wear.step(&fuse, multiple * rating, time);
        let path = SupplyPath {
            wire: bears[0], holder: bears[1], connectors: bears[2], switch: bears[3],
            battery: bears[4], voltage,
        };
        let advice = FuseAdvice::new(&fuse, &wear, &path);
        let asked = !matches!(wear.verdict(), FuseVerdict::BearsIt { .. });
        prop_assert_eq!(asked, advice.first.first() == Some(&Demand::DriverLimit));
        if let Ok(larger) = advice.larger {
            prop_assert!(asked && larger.rating() > rating && voltage <= 32.0);
            for known in bears {
                prop_assert!(known.unwrap() >= larger.rating());
            }
            let new = Fuse::new(size, larger.rating()).at_temperature(heat);
            let mut again = FuseWear::new();
            again.step(&new, multiple * rating, time);
            let borne = matches!(again.verdict(), FuseVerdict::BearsIt { wear } if wear < 1.0);
            prop_assert!(borne);
        }
    }
}
