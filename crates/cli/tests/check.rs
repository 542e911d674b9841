//! Orders that look at robot files and at what is known.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod common;

use common::{bad, file, good, json, place, refused, run, run_with, says, stderr, stdout};
use serde_json::Value;

#[test]
fn demos_are_listed_printed_and_taken() {
    let names = good(&["demo"]);
    says(&names, &["cobnut", "Thimble", "hayrick"]);
    for name in ["cobnut", "Thimble", "HAYRICK"] {
        let text = good(&["demo", name]);
        let path = file(&format!("{name}-demo.json"), text.as_bytes());
        says(&good(&["check", name]), &["taken", "no warnings"]);
        says(&good(&["check", &path]), &["taken", "no warnings"]);
        let out = run_with(&["check", "-"], text.as_bytes());
        assert_eq!(out.status.code(), Some(0));
        says(&stdout(&out), &["standard input", "taken"]);
    }
    says(
        &bad(&["demo", "walnut"]),
        &["walnut", "cobnut, thimble, hayrick"],
    );
}

#[test]
fn all_errors_are_told_with_their_places() {
    let text = good(&["demo", "cobnut"])
        .replace("\"above_centre\"", "\"above_center\"")
        .replace("\"loop_rate\":", "\"loop_rate\": \"fast\", \"ignored\":");
    let mut robot: Value = serde_json::from_str(&good(&["demo", "cobnut"])).unwrap();
    robot["head"]["mass"] = 900.into();
    robot["shell"].as_object_mut().unwrap().remove("mass");
    let wrong = file("wrong.json", robot.to_string().as_bytes());
    let named = file("named.json", text.as_bytes());
    let out = run(&["check", &wrong, "cobnut", &named]);
    assert_eq!(out.status.code(), Some(2));
    says(
        &stderr(&out),
        &[
            "wrong.json: error, line 1, column",
            "head.mass is 900",
            "shell.mass",
            "named.json: error, line",
            "above_center",
            "above_centre",
            "loop_rate",
        ],
    );
    says(&stdout(&out), &["not taken, 2 errors", "Cobnut is taken"]);

    let out = run(&["check", "--json", &wrong, "cobnut"]);
    assert_eq!(out.status.code(), Some(2));
    assert_eq!(stderr(&out), "");
    let report: Value = serde_json::from_str(&stdout(&out)).unwrap();
    assert_eq!(report["taken"], false);
    assert_eq!(report["files"][0]["errors"], 2);
    assert_eq!(report["files"][1]["taken"], true);
    let problems = report["files"][0]["problems"].as_array().unwrap();
    assert_eq!(problems.len(), 2);
    for p in problems {
        for key in ["path", "value", "expected", "hint", "kept"] {
            assert!(p[key].is_string(), "{key}");
        }
        assert_eq!(p["severity"], "error");
    }
    let mass = problems.iter().find(|p| p["path"] == "head.mass").unwrap();
    assert_eq!(mass["value"], "900");
    assert!(mass["line"].is_u64() && mass["column"].is_u64());
}

#[test]
fn warnings_are_told_and_the_file_taken() {
    let mut robot: Value = serde_json::from_str(&good(&["demo", "cobnut"])).unwrap();
    // The parts list no longer makes up the body.
    robot["carriage"]["mass"] = 12.into();
    let odd = file("odd.json", robot.to_string().as_bytes());
    let out = run(&["check", &odd]);
    assert_eq!(out.status.code(), Some(0), "{}", stderr(&out));
    says(&stderr(&out), &["warning"]);
    says(&stdout(&out), &["is taken"]);
    let report = json(&["check", "--json", &odd]);
    assert!(report["files"][0]["warnings"].as_u64().unwrap() >= 1);
}

#[test]
fn hostile_files_get_a_clear_error() {
    let demo = good(&["demo", "cobnut"]);
    let half = demo.as_bytes()[..demo.len() / 2].to_vec();
    let mut not_utf8 = demo.clone().into_bytes();
    not_utf8[10] = 0xff;
    let utf16: Vec<u8> = [0xff, 0xfe]
        .into_iter()
        .chain(demo.encode_utf16().flat_map(u16::to_le_bytes))
        .collect();
    let deep = "[".repeat(400_000);
    let deep_in = demo.replacen(
        "\"summary\": ",
        &format!("\"summary\": {}", "{\"a\":".repeat(50_000)),
        1,
    );
    let cases: [(&str, Vec<u8>, &str); 12] = [
        ("empty", Vec::new(), "line 1"),
        ("truncated", half, "line"),
        ("huge", vec![b' '; 2_000_000], "at most 1000000 bytes"),
        ("huge-number", b"1".repeat(900_000), "expected"),
        ("deep", deep.into_bytes(), "expected"),
        ("deep-in", deep_in.into_bytes(), "expected"),
        ("not-utf8", not_utf8, "byte 0xff"),
        ("utf16", utf16, "UTF-16"),
        ("array", b"[1, 2]".to_vec(), "expected"),
        ("nul", b"{\"format\": \"a\0b\"}".to_vec(), "expected"),
        (
            "numbers",
            demo.replace("0.", "1e999").into_bytes(),
            "expected",
        ),
        (
            "twice",
            demo.replacen("{", "{\"name\": \"x\",", 1).into_bytes(),
            "name",
        ),
    ];
    for (name, bytes, word) in cases {
        let path = file(&format!("hostile-{name}.json"), &bytes);
        for args in [
            vec!["check", &path],
            vec!["trial", &path],
            vec!["draw", &path, "--at", "1"],
        ] {
            let out = run(&args);
            assert_eq!(out.status.code(), Some(2), "{name}");
            let said = stderr(&out);
            says(&said, &["error", word, "not taken"]);
            assert!(!said.contains("panicked") && said.len() < 50_000, "{name}");
        }
        let out = run_with(&["trial", "-"], &bytes);
        says(&refused(&[name], &out), &[word]);
    }
}

#[test]
fn what_is_no_file_is_told() {
    let missing = place("missing.json");
    says(
        &bad(&["trial", missing.to_str().unwrap()]),
        &["missing.json", "no such file"],
    );
    says(
        &bad(&["trial", "cobnot"]),
        &["did you mean the demo cobnut?"],
    );
    let folder = place("");
    says(&bad(&["trial", folder.to_str().unwrap()]), &["directory"]);
    let out = run(&["check", missing.to_str().unwrap(), "cobnut"]);
    assert_eq!(out.status.code(), Some(2));
    says(&stdout(&out), &["Cobnut is taken"]);
}

#[test]
fn knobs_are_listed() {
    says(
        &good(&["knobs"]),
        &["head.mass", "lean.dead_band_shape", "kg", "head"],
    );
    let knobs = json(&["knobs", "--json"]);
    let knobs = knobs.as_array().unwrap();
    assert!(knobs.len() > 100);
    let robot: Value = serde_json::from_str(&good(&["demo", "cobnut"])).unwrap();
    for k in knobs {
        let (section, name) = k["key"].as_str().unwrap().split_once('.').unwrap();
        assert!(!robot[section][name].is_null(), "{k}");
        assert!(k["min"].as_f64() < k["max"].as_f64(), "{k}");
        assert!(k["unit"].is_string() && !k["help"].as_str().unwrap().is_empty());
        assert_eq!(k["kind"] == "word", k["words"].is_array());
    }
}

#[test]
fn the_schema_is_json() {
    let schema: Value = serde_json::from_str(&good(&["schema"])).unwrap();
    assert_eq!(schema["type"], "object");
    assert!(schema["properties"]["head"]["properties"]["mass"].is_object());
}

#[test]
fn usage_errors_exit_with_2_and_help_with_0() {
    for args in [
        &[][..],
        &["fly"],
        &["check"],
        &["trial"],
        &["trial", "cobnut", "--trial", "slalom"],
        &["trial", "cobnut", "--view", "top"],
        &["trial", "cobnut", "--software", "maybe"],
        &["trial", "cobnut", "--seed", "-1"],
        &["trial", "cobnut", "--seed", "1.5"],
        &["trial", "cobnut", "--impulse"],
        &["draw", "cobnut"],
        &["draw", "cobnut", "--at", "1", "--layers", "clouds"],
        &["schema", "more"],
    ] {
        bad(args);
    }
    says(
        &bad(&["trial", "cobnut", "--trial", "slalom"]),
        &[
            "slalom",
            "kick, double-kick, shoves, bump",
            "radio-lost",
            "wall",
        ],
    );
    says(
        &good(&["--help"]),
        &["check", "trial", "draw", "Exit codes"],
    );
    says(&good(&["trial", "--help"]), &["SI", "--band", "--set"]);
    says(&good(&["--version"]), &["kickstill 0"]);
}
