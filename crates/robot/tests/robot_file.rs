//! The robot file from outside: what is taken, what is refused and how it is said.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use kickstill_robot::{
    Body, Kind, Mark, Part, Problem, Robot, Severity, catalogue, demo, demos, read_robot, validate,
    write_robot,
};
use proptest::prelude::*;
use serde_json::{Value, json};

fn cobnut() -> Value {
    serde_json::from_str(demos()[0].text).unwrap()
}

fn errors(text: &str) -> Vec<Problem> {
    read_robot(text).expect_err("must be refused")
}

/// The lines of all errors of Cobnut with one place changed.
fn changed(pointer: &str, value: Value) -> Vec<String> {
    let mut file = cobnut();
    *file.pointer_mut(pointer).unwrap() = value;
    errors(&file.to_string())
        .iter()
        .map(Problem::to_string)
        .collect()
}

#[test]
fn one_wrong_value_is_one_error_that_says_all() {
    for (pointer, value, words) in [
        (
            "/head/mass",
            json!(900),
            vec![
                "head.mass is 900",
                "0.001 to 30 kg",
                "900 g is meant, write 0.9",
            ],
        ),
        (
            "/shell/outer_radius",
            json!(240),
            vec!["240 mm is meant, write 0.24", "50.0 mm to 1000 mm"],
        ),
        (
            "/lean/dead_band",
            json!(1),
            vec!["1 ° is meant", "files are in rad"],
        ),
        (
            "/head_joint/travel",
            json!(40),
            vec!["write 0.698131700797731"],
        ),
        (
            "/travel_drive/efficiency",
            json!(75),
            vec!["75 % is meant, write 0.75", "shares of one"],
        ),
        (
            "/head/mass",
            json!("0.9 kg"),
            vec!["write 0.9 without quotes"],
        ),
        (
            "/head/mass",
            json!("heavy"),
            vec!["a number without quotes"],
        ),
        ("/head/mass", Value::Null, vec!["null", "needs a value"]),
        (
            "/head/mass",
            json!([1]),
            vec!["a list of 1", "plain number"],
        ),
        (
            "/timing/delay_ticks",
            json!(1.5),
            vec!["whole number from 0 to 32"],
        ),
        (
            "/lean/dead_band_shape",
            json!("stepp"),
            vec!["\"continuous\", \"step\"", "did you mean \"step\"?"],
        ),
        ("/sensing/ideal", json!(true), vec!["write \"yes\""]),
        (
            "/lean_drive/kind",
            json!(0),
            vec!["\"axle\", \"rim\"", "double quotes"],
        ),
        ("/head", json!(7), vec!["head is 7", "an object of knobs"]),
        ("/name", json!(""), vec!["1 to 80 characters"]),
        ("/name", json!("two\nlines"), vec!["one line"]),
        ("/name", json!("x".repeat(100_000)), vec!["…"]),
        ("/outlines", json!([]), vec!["four outlines"]),
        (
            "/outlines/head_side",
            json!([[0, 0], [1, 1]]),
            vec!["3 to 400 points"],
        ),
        (
            "/outlines/head_side/3",
            json!([240, 0]),
            vec!["outlines.head_side[3]", "not in millimetres"],
        ),
        (
            "/outlines/head_side/3",
            json!([1]),
            vec!["outlines.head_side[3]", "two numbers"],
        ),
        (
            "/parts/0/body",
            json!("leg"),
            vec!["parts[0].body", "\"shell\", \"carriage\" or \"head\""],
        ),
        (
            "/parts/0/mass",
            json!("3400 g"),
            vec!["parts[0].mass", "write 3.4"],
        ),
        (
            "/parts/0/height",
            json!(-120),
            vec!["-120 mm is meant, write -0.12"],
        ),
        ("/parts/0", json!({}), vec!["parts[0].name", "missing"]),
        (
            "/castors/breakaway",
            json!(0.01),
            vec!["at least castors.dry", "0.0500 N·m"],
        ),
        (
            "/battery/brown_out_voltage",
            json!(24),
            vec!["below the battery's 24.0 V"],
        ),
        (
            "/carriage/below_centre",
            json!(0.25),
            vec!["less than the shell's radius, 240 mm"],
        ),
        (
            "/lean_drive/rim_radius",
            json!(0.24),
            vec!["the rollers run inside the shell"],
        ),
        (
            "/lean_drive/roller_radius",
            json!(0.23),
            vec!["the rollers run inside the rim"],
        ),
        (
            "/format",
            json!("other"),
            vec!["\"kickstill-robot\"", "is this a robot file?"],
        ),
        ("/version", json!(2), vec!["newer version"]),
        ("/version", json!(0), vec!["no such version"]),
        ("/version", json!("1"), vec!["plain whole number"]),
    ] {
        let lines = changed(pointer, value.clone());
        let all = lines.join("\n");
        for w in words {
            assert!(all.contains(w), "{pointer} {value}: no \"{w}\" in {all}");
        }
        let count = if ["/head", "/parts/0"].contains(&pointer) {
            lines.len()
        } else {
            1
        };
        assert_eq!(lines.len(), count, "{pointer}: {all}");
        assert!(
            lines.iter().all(|l| l.len() < 400 && !l.contains('\n')),
            "{all}"
        );
        assert!(all.contains("the file is not taken"), "{all}");
    }
}

#[test]
fn places_are_lines_and_columns() {
    let text = demos()[0].text.replace("\"mass\": 0.9,", "\"mass\": 900,");
    let e = errors(&text);
    assert_eq!(e.len(), 1);
    let (line, column) = (e[0].line.unwrap() as usize, e[0].column.unwrap() as usize);
    let there: String = text
        .lines()
        .nth(line - 1)
        .unwrap()
        .chars()
        .skip(column - 1)
        .collect();
    assert_eq!(there, "900,");
}

#[test]
fn unknown_doubled_and_missing_keys_are_named() {
    let mut file = cobnut();
    file["head"]["mas"] = json!(1);
    file["heads"] = json!({});
    file["head"]["servo_lag"] = json!(0.04);
    file["head.mass"] = json!(1);
    file["colour\u{202e}"] = json!("green");
    file["floor"].as_object_mut().unwrap().remove("grip");
    file.as_object_mut().unwrap().remove("guard");
    file["parts"][0]["weight"] = json!(2);
    let all: String = errors(&file.to_string())
        .iter()
        .map(|p| format!("{p}\n"))
        .collect();
    for w in [
        "head.mas is 1; expected a known key; did you mean \"mass\"?",
        "did you mean \"head\"?",
        "head.servo_lag is 0.04; expected a known key; it belongs into \"head_joint\"",
        "nest it: \"head\": { \"mass\": … }",
        "colour\\u{202e}",
        "floor.grip: expected a number from 0.02 to 2; the key is missing",
        "guard.swing: expected a number from 0.08727 to 2.094 rad (5.00° to 120°); the key is missing",
        "parts[0].weight is 2; expected a known key; did you mean \"mass\"?",
    ] {
        assert!(all.contains(w), "no \"{w}\" in {all}");
    }
    assert_eq!(all.lines().count(), 8, "{all}");

    let doubled = demos()[0]
        .text
        .replacen("\"mass\": 4.2,", "\"mass\": 4.2,\n    \"mass\": 5,", 1);
    let e = errors(&doubled);
    assert_eq!(e.len(), 1);
    assert!(
        e[0].to_string()
            .contains("shell.mass is 5; expected each key once"),
        "{}",
        e[0]
    );
    let doubled = demos()[0]
        .text
        .replacen("\"name\":", "\"name\": \"Other\",\n  \"name\":", 1);
    assert!(errors(&doubled)[0].to_string().contains("each key once"));
}

#[test]
fn broken_json_tells_its_place() {
    let good = demos()[0].text;
    for (text, words, line) in [
        (String::new(), "empty", 1),
        ("   \n ".to_owned(), "empty", 2),
        (good[..good.len() / 2].to_owned(), "cut off", 0),
        (
            good.replacen("\"mass\": 4.2,", "\"mass\": 4.2", 1),
            "may be missing there",
            9,
        ),
        (
            good.replacen("0.15463\n", "0.15463,\n", 1),
            "take out the comma",
            10,
        ),
        (
            good.replacen("\"mass\": 4.2,", "\"mass\": NaN,", 1),
            "finite numbers",
            8,
        ),
        (
            good.replacen("\"mass\": 4.2,", "\"mass\": 1e999,", 1),
            "too large",
            8,
        ),
        (
            good.replacen("\"mass\": 4.2,", "// weighed\n\"mass\": 4.2,", 1),
            "no comments",
            8,
        ),
        (
            good.replacen("\"mass\": 4.2,", "'mass': 4.2,", 1),
            "double quotes",
            8,
        ),
        ("[".repeat(500_000), "nested three deep", 1),
        ("{\"a\":".repeat(100_000), "nested three deep", 1),
    ] {
        let e = errors(&text);
        assert_eq!(e.len(), 1);
        let shown = e[0].to_string();
        assert!(shown.contains(words), "{words}: {shown}");
        if line > 0 {
            assert_eq!(e[0].line, Some(line), "{shown}");
        }
        assert!(e[0].column.is_some());
    }
    for (text, words) in [
        ("[]", "a JSON object"),
        ("7", "a JSON object"),
        ("{}", "format"),
        ("\u{feff}{}", "format"),
        ("null", "a JSON object"),
    ] {
        let e = errors(text);
        assert!(e.len() == 1 && e[0].to_string().contains(words), "{e:?}");
    }
}

#[test]
fn huge_and_hostile_files_are_refused_shortly() {
    let huge = " ".repeat(2_000_000);
    assert!(
        errors(&huge)[0]
            .to_string()
            .contains("at most 1000000 bytes")
    );
    // As many unknown keys as fit.
    let mut text = "{\"format\":\"kickstill-robot\",\"version\":1".to_owned();
    for i in 0..60_000 {
        text += &format!(",\"k{i}\":0");
    }
    text.push('}');
    let e = errors(&text);
    assert_eq!(e.len(), 101);
    assert!(e[100].to_string().contains("more errors"), "{}", e[100]);
    let mut file = cobnut();
    file["outlines"]["head_side"] = json!(vec![[0.0, 0.0]; 50_000]);
    file["parts"] = json!(vec![0; 100_000]);
    file["shell"] = json!({"\u{0}".repeat(1000): "\u{7}".repeat(100_000)});
    let e = errors(&file.to_string());
    assert!(
        e.iter().all(|p| p.to_string().chars().count() < 700),
        "{e:?}"
    );
}

#[test]
fn warnings_do_not_stop_a_robot() {
    for (pointer, value, words) in [
        (
            "/head/mass",
            json!(5),
            vec!["does not stand", "less than 4.56 kg", "parts list"],
        ),
        (
            "/head_joint/stiffness",
            json!(2.5),
            vec!["more than 2.56", "carriage held"],
        ),
        (
            "/head_joint/stiffness",
            json!(3.0),
            vec!["more than 3.19", "swings freely"],
        ),
        ("/shell/inertia", json!(0.05), vec!["2/3 of mass"]),
        ("/carriage/mass", json!(12), vec!["parts list's 11.5 kg"]),
        (
            "/carriage/below_centre",
            json!(0.12),
            vec!["parts list's centre of mass, −115 mm"],
        ),
        (
            "/lean_drive/roller_preload",
            json!(20),
            vec!["6.48 N·m", "slip at 3.68 N·m"],
        ),
        (
            "/lean/lever_lean",
            json!(0.5),
            vec!["within the lean travel, 25.0°"],
        ),
        (
            "/sensing/mount_below_centre",
            json!(-0.3),
            vec!["inside the shell"],
        ),
        (
            "/travel_drive/current_limit",
            json!(1.2),
            vec!["by 5°, 1.13 N·m", "together give 0.825 N·m"],
        ),
        (
            "/travel_drive/motor_constant",
            json!(0.5),
            vec!["at most 0.256 m/s", "lever asks for more"],
        ),
        (
            "/head_joint/torque_limit",
            json!(0.2),
            vec!["at least 0.223 N·m", "leans by 5°"],
        ),
        (
            "/outlines/carriage_side/0",
            json!([0.3, 0.0]),
            vec!["300 mm from the centre"],
        ),
    ] {
        let mut file = cobnut();
        *file.pointer_mut(pointer).unwrap() = value;
        let (robot, warnings) = read_robot(&file.to_string()).unwrap();
        let all: String = warnings.iter().map(|p| format!("{p}\n")).collect();
        for w in words {
            assert!(all.contains(w), "{pointer}: no \"{w}\" in {all}");
        }
        assert!(warnings.iter().all(|w| w.severity == Severity::Warning));
        // The same without the file: the same words, but no places.
        let mut bare = warnings;
        for w in &mut bare {
            assert!(w.line.is_some() || w.path.starts_with("outlines"), "{w}");
            (w.line, w.column) = (None, None);
        }
        assert_eq!(validate(&robot), bare);
    }
}

#[test]
fn warnings_that_take_two_knobs() {
    for (set, words) in [
        (
            [
                ("battery.resistance", "1 ohm"),
                ("battery.electronics_power", "130 W"),
            ],
            "less than 128 W; the electronics alone",
        ),
        (
            [
                ("head_joint.off_dry", "0.1"),
                ("head_joint.off_breakaway", "0.2"),
            ],
            "at least 0.223 N·m; with the motors off the head sinks",
        ),
    ] {
        let mut robot = demo("cobnut").unwrap();
        for (key, text) in set {
            kickstill_robot::set_by_text(&mut robot, key, text).unwrap();
        }
        let found = validate(&robot);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].to_string().contains(words), "{}", found[0]);
    }
}

#[test]
fn validate_sees_knobs_out_of_range() {
    let mut robot = demo("cobnut").unwrap();
    assert!(validate(&robot).is_empty());
    robot.head.mass = f64::NAN;
    robot.shell.mass = -1.0;
    robot.timing.delay_ticks = 0.5;
    let found: Vec<String> = validate(&robot).into_iter().map(|p| p.path).collect();
    for key in ["head.mass", "shell.mass", "timing.delay_ticks"] {
        assert!(found.iter().any(|k| k == key), "{found:?}");
    }
    // Not even a robot of nothing makes the checks panic.
    assert!(!validate(&Robot::default()).is_empty());
}

#[test]
fn an_editors_schema_line_and_optional_parts_are_fine() {
    let mut file = cobnut();
    file["$schema"] = json!("robot.schema.json");
    file.as_object_mut().unwrap().remove("outlines");
    file.as_object_mut().unwrap().remove("parts");
    let (robot, warnings) = read_robot(&file.to_string()).unwrap();
    assert!(warnings.is_empty() && robot.parts.is_empty() && robot.outlines.head_side.is_empty());
    assert_eq!(read_robot(&write_robot(&robot)).unwrap().0, robot);
}

/// A file written before cells, fuse, wires, regulators, windings and marks were in it.
#[test]
fn a_file_from_before_the_pack_is_read() {
    let text = include_str!("files/version-1-before-pack.json");
    for key in ["pack", "fuse", "wiring", "regulator", "marks", "thermal"] {
        assert!(!text.contains(key), "{key}");
    }
    let (old, warnings) = read_robot(text).unwrap();
    assert!(warnings.is_empty(), "{warnings:?}");
    let mut usual = Robot::default();
    // 24 V of cells of 3.2 V: 7.5, and so 8.
    usual.pack.series = 8.0;
    let mut new = demo("cobnut").unwrap();
    // Cobnut's carriage loop was steeper then.
    new.carriage_loop.correction = 6.0;
    for k in catalogue() {
        let expected = if k.optional { &usual } else { &new };
        assert_eq!((k.get)(&old), (k.get)(expected), "{}", k.key);
    }
    assert!(catalogue().iter().filter(|k| k.optional).count() == 27);
    // Part of a section is enough, and 12 V of lead are six cells.
    let mut file: Value = serde_json::from_str(text).unwrap();
    file["battery"]["open_voltage"] = json!(12.6);
    file["battery"]["brown_out_voltage"] = json!(9);
    file["pack"] = json!({ "chemistry": "lead-glass-mat" });
    file["fuse"] = json!({ "rating": 15 });
    let (robot, warnings) = read_robot(&file.to_string()).unwrap();
    assert!(warnings.is_empty(), "{warnings:?}");
    assert_eq!((robot.pack.series, robot.fuse.rating), (6.0, 15.0));
    file["pack"]["series"] = json!(3);
    let (_, warnings) = read_robot(&file.to_string()).unwrap();
    assert_eq!(warnings.len(), 1);
    assert!(
        warnings[0]
            .to_string()
            .contains("so many give about 6.15 V"),
        "{}",
        warnings[0]
    );
}

#[test]
fn marks_are_read_in_any_order_and_written_in_the_catalogues() {
    let mut file = cobnut();
    file["marks"] = json!({ "floor.grip": "guessed", "shell.mass": "measured" });
    file["parts"][0]["mark"] = json!("sheet");
    file["parts"][1]["on"] = json!("no");
    let (mut robot, _) = read_robot(&file.to_string()).unwrap();
    assert_eq!(
        robot.marks,
        [
            ("shell.mass", Mark::Measured),
            ("floor.grip", Mark::Guessed)
        ]
    );
    assert_eq!(robot.parts[0].mark, Some(Mark::Sheet));
    assert!(!robot.parts[1].on && robot.parts[0].on);
    let text = write_robot(&robot);
    assert_eq!(read_robot(&text).unwrap().0, robot);
    // A knob set again keeps its mark, and a mark can be changed and taken off.
    kickstill_robot::set_by_text(&mut robot, "shell.mass", "4.3 kg").unwrap();
    assert_eq!(robot.mark("shell.mass"), Some(Mark::Measured));
    assert!(robot.set_mark("head.mass", Some(Mark::Sheet)));
    assert!(robot.set_mark("shell.mass", None));
    assert!(!robot.set_mark("head.mas", Some(Mark::Sheet)));
    assert_eq!(
        robot.marks,
        [("head.mass", Mark::Sheet), ("floor.grip", Mark::Guessed)]
    );

    let all: String = [
        ("/marks", json!(["shell.mass"])),
        ("/marks", json!({ "shell.mas": "measured" })),
        ("/marks", json!({ "shell.mass": "guesed" })),
        ("/marks", json!({ "shell.mass": 1 })),
        ("/parts/0/mark", json!("weighed")),
        ("/parts/1/on", json!(false)),
    ]
    .into_iter()
    .map(|(pointer, value)| {
        let mut bad = file.clone();
        *bad.pointer_mut(pointer).unwrap() = value;
        let text = serde_json::to_string_pretty(&bad).unwrap();
        let e = errors(&text);
        assert_eq!(e.len(), 1, "{e:?}");
        assert!(
            e[0].line.unwrap() > 1 && e[0].column.unwrap() > 1,
            "{}",
            e[0]
        );
        format!("{}\n", e[0])
    })
    .collect();
    for words in [
        "marks is a list of 1; expected an object of knob keys and marks",
        "marks.shell.mas is \"measured\"; expected a known key; did you mean \"shell.mass\"?",
        "marks.shell.mass is \"guesed\"; expected one of the words \"measured\", \"sheet\", \"guessed\"; did you mean \"guessed\"?",
        "marks.shell.mass is 1; expected one of the words",
        "parts[0].mark is \"weighed\"",
        "parts[1].on is false; expected \"no\" or \"yes\"",
    ] {
        assert!(all.contains(words), "no {words} in {all}");
    }
}

/// An admissible robot: every knob somewhere in its range, then put in order where the
/// simulator asks for it.
fn any_robot() -> impl Strategy<Value = Robot> {
    let shares = prop::collection::vec(0.0..=1.0_f64, catalogue().len());
    let points = prop::collection::vec([-3.0..3.0_f64, -3.0..3.0_f64], 3..20);
    let parts = prop::collection::vec(
        ("\\PC{1,20}", 0_usize..3, 0.0..300.0_f64, -3.0..3.0_f64),
        0..5,
    );
    (shares, points, parts, "\\PC{1,40}", "\\PC{0,80}").prop_map(
        |(shares, points, parts, name, summary)| {
            let mut r = Robot::default();
            for (k, s) in catalogue().iter().zip(shares) {
                let v = k.min + s * (k.max - k.min);
                let v = if k.kind == Kind::Number { v } else { v.round() };
                k.set(&mut r, v).unwrap();
            }
            let up = |high: &mut f64, low: f64| *high = high.max(low);
            up(&mut r.head_joint.breakaway, r.head_joint.dry);
            up(&mut r.head_joint.off_breakaway, r.head_joint.off_dry);
            up(&mut r.castors.breakaway, r.castors.dry);
            r.battery.brown_out_voltage = r
                .battery
                .brown_out_voltage
                .min(0.9 * r.battery.open_voltage)
                .max(0.5);
            let outer = r.shell.outer_radius;
            r.carriage.below_centre = r.carriage.below_centre.min(0.9 * outer);
            for d in [&mut r.travel_drive, &mut r.lean_drive] {
                up(&mut d.breakaway, d.dry);
                d.rim_radius = d.rim_radius.min(0.95 * outer);
                d.roller_radius = d.roller_radius.min(0.5 * d.rim_radius);
            }
            r.name = name;
            r.summary = summary;
            r.outlines.head_front = points;
            r.parts = parts
                .into_iter()
                .map(|(name, body, mass, height)| Part {
                    name,
                    body: [Body::Shell, Body::Carriage, Body::Head][body],
                    mass,
                    height,
                    on: true,
                    mark: None,
                })
                .collect();
            r
        },
    )
}

fn bits(r: &Robot) -> Vec<u64> {
    let mut out: Vec<u64> = catalogue().iter().map(|k| (k.get)(r).to_bits()).collect();
    out.extend(r.outlines.head_front.iter().flatten().map(|v| v.to_bits()));
    out.extend(
        r.parts
            .iter()
            .flat_map(|p| [p.mass.to_bits(), p.height.to_bits()]),
    );
    out
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn writing_and_reading_gives_the_same_bits(robot in any_robot()) {
        let text = write_robot(&robot);
        let (back, _) = read_robot(&text).map_err(|e| TestCaseError::fail(format!("{e:?}")))?;
        prop_assert_eq!(bits(&back), bits(&robot));
        prop_assert_eq!(&back, &robot);
        prop_assert_eq!(write_robot(&back), text);
    }

    #[test]
    fn no_text_panics(text in "\\PC{0,200}") {
        let _ = read_robot(&text);
    }

    #[test]
    fn no_damage_panics(from in 0.0..1.0_f64, length in 0_usize..60, put in "[\\[\\]{}\",:0-9eE.+\\-a-z \\PC]{0,20}") {
        let text = demos()[0].text;
        let edge = |mut i: usize| {
            while !text.is_char_boundary(i) {
                i -= 1;
            }
            i
        };
        let start = edge((from * text.len() as f64) as usize);
        let end = edge((start + length).min(text.len()).max(start));
        let damaged = format!("{}{put}{}", &text[..start], &text[end.max(start)..]);
        match read_robot(&damaged) {
            Ok((robot, _)) => prop_assert!(validate(&robot).iter().all(|p| p.severity == Severity::Warning)),
            Err(e) => {
                prop_assert!(!e.is_empty());
                prop_assert!(e.iter().all(|p| !p.to_string().contains('\n')));
            }
        }
    }

    #[test]
    fn no_value_anywhere_panics(which in 0_usize..2000, value in any_json()) {
        let mut file = cobnut();
        let mut pointers = Vec::new();
        gather(&file, String::new(), &mut pointers);
        let pointer = &pointers[which % pointers.len()];
        *file.pointer_mut(pointer).unwrap() = value;
        match read_robot(&file.to_string()) {
            Ok((robot, _)) => {
                let (back, _) = read_robot(&write_robot(&robot)).unwrap();
                prop_assert_eq!(back, robot);
            }
            Err(e) => prop_assert!(!e.is_empty() && e.len() <= 101),
        }
    }
}

fn gather(value: &Value, at: String, out: &mut Vec<String>) {
    match value {
        Value::Object(o) => o
            .iter()
            .for_each(|(k, v)| gather(v, format!("{at}/{k}"), out)),
        Value::Array(a) => a
            .iter()
            .enumerate()
            .for_each(|(i, v)| gather(v, format!("{at}/{i}"), out)),
        _ => {}
    }
    out.push(at);
}

fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        "\\PC{0,30}".prop_map(Value::from),
    ];
    leaf.prop_recursive(4, 40, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::vec(("\\PC{0,10}", inner), 0..6)
                .prop_map(|o| Value::Object(o.into_iter().collect())),
        ]
    })
}
