//! Cells, Peukert's law and run times.

use kickstill_power::{
    ChargeCount, Chemistry, Ending, Load, Pack, Profile, Segment, fill_at_floor, peukert_share,
    run_time, solve_load,
};
use proptest::prelude::*;

/// Per cent of 100 A·h (rated over 20 h) at these currents [A]; read in a battery monitor's
/// handbook, whole table.
const CURRENTS: [f64; 13] = [
    5.0, 10.0, 16.7, 25.0, 50.0, 75.0, 100.0, 150.0, 200.0, 250.0, 300.0, 400.0, 500.0,
];
const SHARES: [(f64, [f64; 13]); 6] = [
    (
        1.1,
        [
            100., 93., 88., 85., 79., 76., 74., 71., 69., 67., 66., 64., 63.,
        ],
    ),
    (
        1.2,
        [
            100., 87., 78., 72., 63., 58., 55., 51., 48., 46., 44., 42., 40.,
        ],
    ),
    (
        1.25,
        [
            100., 84., 74., 67., 56., 51., 47., 42., 40., 37., 36., 33., 32.,
        ],
    ),
    (
        1.3,
        [
            100., 81., 69., 62., 50., 44., 41., 36., 33., 31., 30., 27., 25.,
        ],
    ),
    (
        1.4,
        [
            100., 76., 61., 52., 40., 34., 30., 26., 23., 21., 20., 17., 16.,
        ],
    ),
    (
        1.5,
        [
            100., 71., 55., 45., 32., 26., 22., 18., 16., 14., 13., 11., 10.,
        ],
    ),
];

#[test]
fn peukert_table() {
    for (exponent, row) in SHARES {
        for (current, printed) in CURRENTS.into_iter().zip(row) {
            let got = 100.0 * peukert_share(current, 5.0, exponent);
            // Printed in whole per cent, at times cut and not rounded.
            assert!(
                (got - printed).abs() < 1.0,
                "n {exponent}, {current} A: {got}"
            );
        }
    }
    assert_eq!(peukert_share(2.0, 5.0, 1.3), 1.0);
}

#[test]
fn figures_of_the_chemistries_are_in_order() {
    for chemistry in Chemistry::ALL {
        let f = chemistry.figures();
        assert!(f.charge_end >= f.full && f.full > f.nominal, "{}", f.name);
        assert!(f.nominal > f.empty && f.empty > f.floor, "{}", f.name);
        assert!(f.storage > f.floor && f.storage <= f.full, "{}", f.name);
        assert!(!chemistry.cautions().is_empty());
        for caution in chemistry
            .cautions()
            .iter()
            .chain(Chemistry::cautions_for_all())
        {
            assert!(!caution.see.is_empty());
            assert!(!caution.text.contains("complies"));
        }
    }
}

/// Li-ion 4.20 V full, 3.2 V floor, stored at 3.8 to 3.9 V (read). Lead 1.75 V floor, 10.5 V of a
/// 12 V battery (read). 12 V 7 A·h AGM 20 to 25 mΩ; 18650 cells 10 to 75 mΩ (from memory).
#[test]
fn usual_figures() {
    let lithium = Chemistry::LithiumIon.figures();
    assert_eq!((lithium.charge_end, lithium.floor), (4.20, 3.2));
    assert!((3.8..=3.9).contains(&lithium.storage));
    let lead = Pack::usual(Chemistry::LeadGlassMat, 6, 1, 7.0 * 3600.0);
    assert!((lead.floor_voltage() - 10.5).abs() < 1e-12);
    assert!((0.020..=0.025).contains(&lead.resistance()));
    let cell = Pack::usual(Chemistry::LithiumIon, 1, 1, 2.5 * 3600.0);
    assert!((0.010..=0.075).contains(&cell.resistance()));
}

fn seven_cells() -> Pack {
    Pack {
        chemistry: Chemistry::LithiumIon,
        series: 7,
        parallel: 4,
        cell_charge: 2.5 * 3600.0,
        cell_resistance: 0.04,
        path_resistance: 0.02,
    }
}

#[test]
fn pack_by_hand() {
    // 7s4p of 2.5 A·h, 40 mΩ: 10 A·h, 7·40/4 + 20 = 90 mΩ; 30 A sag 2.7 V.
    let pack = seven_cells();
    assert!((pack.charge() - 36_000.0).abs() < 1e-9);
    assert!((pack.resistance() - 0.090).abs() < 1e-12);
    assert!((pack.sag(30.0) - 2.7).abs() < 1e-12);
    assert!((pack.open_voltage(0.5) - 25.9).abs() < 1e-12);
    assert!((pack.highest_voltage() - 29.4).abs() < 1e-12);
    // Maximum power V²/4R (textbook): no current gives more.
    let most = 25.9 * 25.9 / (4.0 * 0.09);
    assert!(solve_load(&pack, Load::Power(1.001 * most), 0.5).is_none());
    let (current, voltage) = solve_load(&pack, Load::Power(0.999_999 * most), 0.5).unwrap();
    assert!((voltage - 12.95).abs() < 0.02 && (current - 12.95 / 0.09).abs() < 0.2);
    let (current, voltage) = solve_load(&pack, Load::Power(500.0), 0.5).unwrap();
    assert!((current * voltage - 500.0).abs() < 1e-9);
    assert!((25.9 - current * 0.09 - voltage).abs() < 1e-9);
}

#[test]
fn a_slow_constant_current_gives_the_rated_charge() {
    // At the rated current (5 h) the pack lasts 5 h, down to empty; floor 22.4 V is not met.
    let pack = seven_cells();
    let programme = [Segment {
        duration: 60.0,
        load: Load::Current(2.0),
    }];
    let run = run_time(&pack, &programme, 1.0);
    assert_eq!(run.ending, Ending::Empty);
    assert!((run.time - 5.0 * 3600.0).abs() < 1e-6, "{}", run.time);
    assert!((run.taken.delivered - 36_000.0).abs() < 1e-6);
    assert!((run.repeats - 300.0).abs() < 1e-6);
    // Energy of the straight open-voltage pieces less R·I·Q, by hand: mean open voltage
    // 7·(4.2 + 2·3.7 + 3.3)/4 = 26.075 V.
    let energy = (26.075 - 2.0 * 0.09) * 36_000.0;
    assert!((run.taken.energy / energy - 1.0).abs() < 1e-3);
}

#[test]
fn drive_and_idle_agree_with_the_closed_form() {
    let pack = seven_cells();
    let programme = [
        Segment {
            duration: 20.0,
            load: Load::Current(18.0),
        },
        Segment {
            duration: 40.0,
            load: Load::Current(0.8),
        },
    ];
    let run = run_time(&pack, &programme, 1.0);
    let samples: Vec<f64> = (0..60).map(|i| if i < 20 { 18.0 } else { 0.8 }).collect();
    let profile = Profile::of(&pack, &samples, 1.0);
    assert!((profile.mean - (20.0 * 18.0 + 40.0 * 0.8) / 60.0).abs() < 1e-12);
    assert!((profile.duration - 60.0).abs() < 1e-12 && profile.peak == 18.0);
    let (time, ending) = profile.run_time(&pack, 1.0).unwrap();
    assert_eq!((run.ending, ending), (Ending::Floor, Ending::Floor));
    // The programme ends in the drive that finds the pack below the profile's point.
    assert!(
        (run.time - time).abs() < 60.0 + 5.0,
        "{} against {time}",
        run.time
    );
    assert!((run.fill - fill_at_floor(&pack, 18.0)).abs() < 0.02);
}

#[test]
fn endings_have_their_names() {
    let pack = seven_cells();
    let run = |load, start| {
        run_time(
            &pack,
            &[Segment {
                duration: 1.0,
                load,
            }],
            start,
        )
        .ending
    };
    assert_eq!(run(Load::Power(1e6), 1.0), Ending::TooMuchPower);
    assert_eq!(run(Load::Current(100.0), 1.0), Ending::Floor);
    assert_eq!(run(Load::Current(0.0), 1.0), Ending::NotEnded);
    assert_eq!(run(Load::Current(1.0), 0.0), Ending::Empty);
    assert_eq!(run_time(&pack, &[], 1.0).ending, Ending::NoProgramme);
    assert_eq!(
        Profile::of(&pack, &[-1.0, 0.5], 0.1).run_time(&pack, 1.0),
        None
    );
}

#[test]
fn counting_the_charge() {
    let pack = seven_cells();
    let mut count = ChargeCount::default();
    for _ in 0..1000 {
        count.step(&pack, 1.5, 25.0, 1.0);
    }
    count.step(&pack, -3.0, 26.0, 100.0);
    assert!((count.delivered - 1200.0).abs() < 1e-9);
    assert!((count.energy - (37_500.0 - 7_800.0)).abs() < 1e-6);
    assert!((count.fill(&pack, 1.0) - (1.0 - 1200.0 / 36_000.0)).abs() < 1e-9);
}

proptest! {
    #[test]
    fn all_stays_finite(
        v in prop::array::uniform6(prop::num::f64::ANY), series in any::<u32>(),
        parallel in any::<u32>(), kind in 0usize..4,
    ) {
        let pack = Pack {
            chemistry: Chemistry::ALL[kind], series, parallel, cell_charge: v[0],
            cell_resistance: v[1], path_resistance: v[2],
        };
        let mut count = ChargeCount::default();
        count.step(&pack, v[3], v[4], v[5]);
        let profile = Profile::of(&pack, &[v[3], v[4]], v[5]);
        for value in [
            pack.resistance(), pack.open_voltage(v[3]), pack.sag(v[3]), pack.drain(v[3]),
            pack.current_to_floor(v[3]), count.delivered, count.drained, count.energy,
            count.fill(&pack, v[4]), fill_at_floor(&pack, v[3]), profile.rms, profile.drain,
            peukert_share(v[3], v[4], v[5]),
        ] {
            prop_assert!(value.is_finite());
        }
        for load in [Load::Current(v[3]), Load::Power(v[4])] {
            if let Some((current, voltage)) = solve_load(&pack, load, v[5]) {
                prop_assert!(current.is_finite() && voltage.is_finite());
            }
        }
        if let Some((time, _)) = profile.run_time(&pack, v[5]) {
            prop_assert!(time.is_finite());
        }
    }

    #[test]
    fn more_current_lasts_less(current in 0.5f64..60.0, more in 1.01f64..1.5, kind in 0usize..4) {
        let pack = Pack::usual(Chemistry::ALL[kind], 8, 4, 3.0 * 3600.0);
        let last = |current| {
            let programme = [Segment { duration: 30.0, load: Load::Current(current) }];
            run_time(&pack, &programme, 1.0)
        };
        let (less, greater) = (last(current), last(current * more));
        prop_assert!(greater.time <= less.time && less.time.is_finite());
        prop_assert!(less.taken.energy.is_finite() && less.lowest_voltage.is_finite());
    }
}
