//! Named drawings, each with one line of hash in `goldens.txt`.
//!
//! `KICKSTILL_BLESS=1 cargo test -p kickstill-scene --test goldens` writes the file anew, after
//! the drawings have been looked at. On a mismatch the new drawing lies beside the target
//! folder's other temporary files; the message says where, and which line is the first to differ
//! from the drawing blessed on this machine, if it is still there.

#![allow(
    clippy::expect_used,
    reason = "a fixture that is missing must stop the test"
)]

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use kickstill_rig::{Sample, flag};
use kickstill_robot::{Robot, View, demo};
use kickstill_scene::{
    Arrow, DisplayList, Layers, Leader, Push, Sheet, Spot, Theme, draw, draw_outline, palette, svg,
};

const DEG: f64 = core::f64::consts::PI / 180.0;

fn robot(key: &str) -> Robot {
    demo(key).expect("a demo robot")
}

fn pose(level: u32, swing: f64, tilt: f64, roll: f64, robot: &Robot) -> Sample {
    Sample {
        time: 1.25,
        level,
        swing: swing * DEG,
        tilt: tilt * DEG,
        roll: roll * DEG,
        travel: roll * DEG * robot.shell.outer_radius,
        servo: (swing + tilt) * DEG,
        floor_force: robot.total_mass() * 9.806_65,
        traction: 6.0,
        ..Sample::default()
    }
}

fn svg_of(
    robot: &Robot,
    sample: &Sample,
    sheet: &Sheet<'_>,
    theme: Theme,
    double: Option<&Sample>,
) -> String {
    let mut list = DisplayList::new();
    draw(robot, sample, sheet, &mut list);
    if let Some(double) = double {
        draw_outline(robot, double, sheet, 'B', "", &mut list);
    }
    svg(&list, palette(theme), sheet.width, sheet.height)
}

/// Every drawing: name and SVG.
fn drawings() -> BTreeMap<&'static str, String> {
    let mut all = BTreeMap::new();
    let cobnut = robot("cobnut");
    let kick = Arrow {
        push: Push::Kick,
        impulse: 4.0,
        height: 0.24,
        speed: Some(0.24),
        preview: false,
    };

    let mut sheet = Sheet::fit(&cobnut, View::Side, 1000.0, 640.0);
    let rest = pose(0, 0.0, 0.0, 0.0, &cobnut);
    let swung = pose(2, 9.0, 3.5, 25.0, &cobnut);
    let leaders = [
        Leader {
            part: Spot::Head,
            from: [806.0, 110.0],
        },
        Leader {
            part: Spot::Shell,
            from: [806.0, 180.0],
        },
        Leader {
            part: Spot::Carriage,
            from: [806.0, 420.0],
        },
        Leader {
            part: Spot::CarriageCentre,
            from: [806.0, 490.0],
        },
        Leader {
            part: Spot::Controller,
            from: [190.0, 120.0],
        },
    ];
    all.insert(
        "cobnut-rest-off",
        svg_of(&cobnut, &rest, &sheet, Theme::Day, None),
    );
    sheet.leaders = &leaders;
    sheet.arrow = Some(kick);
    all.insert(
        "cobnut-kicked-on",
        svg_of(&cobnut, &swung, &sheet, Theme::Day, None),
    );
    sheet.leaders = &[];
    all.insert(
        "cobnut-kicked-on-night",
        svg_of(&cobnut, &swung, &sheet, Theme::Night, None),
    );
    sheet.arrow = Some(Arrow {
        impulse: -2.5,
        height: 0.36,
        preview: true,
        ..kick
    });
    all.insert(
        "cobnut-aimed",
        svg_of(&cobnut, &rest, &sheet, Theme::Day, None),
    );
    sheet.arrow = Some(Arrow {
        push: Push::Bump,
        impulse: 0.4,
        speed: None,
        ..kick
    });
    let locked = pose(1, -11.0, 11.0, 11.0, &cobnut);
    all.insert(
        "cobnut-locked-bumped",
        svg_of(&cobnut, &locked, &sheet, Theme::Day, None),
    );
    sheet.arrow = None;
    let off = pose(0, -14.0, 16.0, 41.0, &cobnut);
    all.insert(
        "cobnut-double",
        svg_of(&cobnut, &swung, &sheet, Theme::Day, Some(&off)),
    );

    let mut slipping = pose(2, 38.0, -6.0, -70.0, &cobnut);
    sheet.camera.follow(slipping.travel, 0.05);
    slipping.flags = flag::SLIP | flag::GUARD | flag::CURRENT | flag::SERVO | flag::ROLLERS;
    all.insert(
        "cobnut-limits",
        svg_of(&cobnut, &slipping, &sheet, Theme::Day, None),
    );
    sheet.camera.x = 0.0;
    let mut lost = pose(2, 12.0, 55.0, 10.0, &cobnut);
    lost.flags = flag::HEAD_LOST;
    lost.head_x = 0.42;
    lost.head_z = 0.33;
    all.insert(
        "cobnut-head-lost",
        svg_of(&cobnut, &lost, &sheet, Theme::Night, None),
    );

    let trail: Vec<[f64; 2]> = (0..200)
        .map(|i| {
            let t = f64::from(i) * 0.05;
            [
                0.2 * libm::sin(t) * libm::exp(-0.1 * t),
                0.53 - 0.02 * libm::cos(2.0 * t),
            ]
        })
        .collect();
    let mut sheet = Sheet::fit(&cobnut, View::Side, 1000.0, 640.0);
    sheet.layers = Layers {
        forces: true,
        centres: true,
        trail: true,
        grid: true,
        angles: true,
        lengths: true,
    };
    sheet.trail = &trail;
    sheet.wall = Some(0.62);
    let mut sloped = pose(2, 12.0, 2.0, 15.0, &cobnut);
    sloped.slope = 5.0 * DEG;
    sloped.push = 40.0;
    all.insert(
        "cobnut-layers-slope",
        svg_of(&cobnut, &sloped, &sheet, Theme::Day, None),
    );
    let mut front = Sheet::fit(&cobnut, View::Front, 1000.0, 640.0);
    let leaning = pose(2, -7.0, 3.0, 8.0, &cobnut);
    all.insert(
        "cobnut-front",
        svg_of(&cobnut, &leaning, &front, Theme::Day, None),
    );
    front = Sheet::fit(&cobnut, View::Side, 360.0, 420.0);
    front.camera.follow(swung.travel, 0.02);
    all.insert(
        "cobnut-phone",
        svg_of(&cobnut, &swung, &front, Theme::Day, None),
    );
    front.camera.follow(slipping.travel, 0.02);
    all.insert(
        "cobnut-phone-limits",
        svg_of(&cobnut, &slipping, &front, Theme::Night, None),
    );

    let thimble = robot("thimble");
    let sheet = Sheet::fit(&thimble, View::Side, 1000.0, 640.0);
    all.insert(
        "thimble-side",
        svg_of(
            &thimble,
            &pose(2, 14.0, 4.0, 65.0, &thimble),
            &sheet,
            Theme::Day,
            None,
        ),
    );
    let sheet = Sheet::fit(&thimble, View::Front, 700.0, 520.0);
    all.insert(
        "thimble-front-locked",
        svg_of(
            &thimble,
            &pose(1, -4.0, 4.0, 4.0, &thimble),
            &sheet,
            Theme::Night,
            None,
        ),
    );
    let hayrick = robot("hayrick");
    let mut sheet = Sheet::fit(&hayrick, View::Side, 1000.0, 640.0);
    sheet.camera.follow(0.9, 0.1);
    all.insert(
        "hayrick-side",
        svg_of(
            &hayrick,
            &pose(2, 18.0, -5.0, 140.0, &hayrick),
            &sheet,
            Theme::Day,
            None,
        ),
    );
    let sheet = Sheet::fit(&hayrick, View::Front, 700.0, 520.0);
    all.insert(
        "hayrick-front-off",
        svg_of(
            &hayrick,
            &pose(0, -6.0, 6.0, 6.0, &hayrick),
            &sheet,
            Theme::Night,
            None,
        ),
    );

    let mut bare = cobnut.clone();
    bare.outlines = kickstill_robot::Outlines::default();
    let sheet = Sheet::fit(&bare, View::Side, 800.0, 560.0);
    all.insert(
        "no-outlines",
        svg_of(&bare, &swung, &sheet, Theme::Day, None),
    );
    all
}

/// FNV-1a, 64 bits (Fowler, Noll, Vo; IETF draft-eastlake-fnv).
fn hash(text: &str) -> u64 {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    for byte in text.bytes() {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }
    hash
}

/// Where drawings are kept between runs on this machine.
fn kept() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("goldens")
}

#[test]
fn drawings_are_as_blessed() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/goldens.txt");
    let drawings = drawings();
    let folder = kept();
    std::fs::create_dir_all(&folder).unwrap();
    if std::env::var_os("KICKSTILL_BLESS").is_some() {
        let mut lines = String::from("# name, FNV-1a hash of the SVG, bytes\n");
        for (name, text) in &drawings {
            writeln!(lines, "{name} {:016x} {}", hash(text), text.len()).unwrap();
            std::fs::write(folder.join(format!("{name}.blessed.svg")), text).unwrap();
        }
        std::fs::write(&path, lines).unwrap();
        return;
    }
    let blessed = std::fs::read_to_string(&path).unwrap();
    let mut expected: BTreeMap<&str, &str> = blessed
        .lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| line.split_once(' '))
        .collect();
    let mut wrong = String::new();
    for (name, text) in &drawings {
        let now = format!("{:016x} {}", hash(text), text.len());
        let was = expected.remove(name);
        if was == Some(now.as_str()) {
            continue;
        }
        let file = folder.join(format!("{name}.svg"));
        std::fs::write(&file, text).unwrap();
        writeln!(
            wrong,
            "{name}: blessed {}, now {now}\n  drawn to {}\n  {}",
            was.unwrap_or("never"),
            file.display(),
            first_difference(&folder.join(format!("{name}.blessed.svg")), text)
        )
        .unwrap();
    }
    for name in expected.keys() {
        writeln!(wrong, "{name}: blessed, but no longer drawn").unwrap();
    }
    assert!(
        wrong.is_empty(),
        "drawings differ:\n{wrong}look at them; if they are right, run again with KICKSTILL_BLESS=1"
    );
}

fn first_difference(blessed: &Path, now: &str) -> String {
    let Ok(before) = std::fs::read_to_string(blessed) else {
        return "the blessed drawing is not on this machine, so its lines cannot be compared"
            .into();
    };
    let mut lines = before.lines().zip(now.lines()).enumerate();
    match lines.find(|(_, (a, b))| a != b) {
        Some((at, (a, b))) => {
            let short = |line: &str| line.chars().take(160).collect::<String>();
            format!(
                "first differing line {}:\n  - {}\n  + {}",
                at + 1,
                short(a),
                short(b)
            )
        }
        None => format!(
            "lines are alike as far as both go ({} and {} lines)",
            before.lines().count(),
            now.lines().count()
        ),
    }
}

#[test]
fn every_drawing_is_well_formed_and_finite() {
    for (name, text) in drawings() {
        for word in ["NaN", "inf", "-0.00"] {
            let bad = text.lines().find(|line| {
                // Words of the drawing may hold these letters; numbers stand before the text.
                line.split('>').next().is_some_and(|tag| tag.contains(word))
            });
            assert!(bad.is_none(), "{name}: {word} in {bad:?}");
        }
        assert_eq!(
            text.matches("<g ").count(),
            text.matches("</g>").count(),
            "{name}"
        );
        assert_eq!(
            text.matches("<text ").count(),
            text.matches("</text>").count(),
            "{name}"
        );
        assert!(text.ends_with("</svg>\n"), "{name}");
        assert!(text.contains("<title id=\"title\">"), "{name}");
    }
}
