//! `kickstill gains` and `kickstill card`: what leaves the simulation for the workbench.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use std::process::Command;

use common::{bad, file, good, place, says};

/// Whether two numbers are one; the reader of JSON is off by a last bit now and then.
fn same(a: Option<f64>, b: Option<f64>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= 1e-14 * a.abs(),
        (a, b) => a == b,
    }
}

/// The header by a C compiler, where there is one: without a warning, and printing what it says.
#[test]
fn the_header_compiles_and_its_numbers_are_the_robots() {
    if Command::new("cc").arg("--version").output().is_err() {
        // A machine without a C compiler; the unit tests of rig read the header themselves.
        return;
    }
    let hostile = good(&["demo", "hayrick"])
        .replace("\"Hayrick\"", "\"*/ int broken; /* ??/ \\\\ \\\" %s 12\"");
    let named = file("hostile-gains.json", hostile.as_bytes());
    for robot in ["cobnut", "thimble", named.as_str()] {
        let folder = place("gains-header");
        std::fs::create_dir_all(&folder).unwrap();
        let header = folder.join("kickstill_gains.h");
        let path = header.to_str().unwrap();
        good(&["gains", robot, "--date", "2031-05-17", "--output", path]);
        let json = good(&["gains", robot, "--format", "json"]);
        let json: serde_json::Value = serde_json::from_str(&json).unwrap();
        let text = std::fs::read_to_string(&header).unwrap();
        let numbers: Vec<&str> = text
            .lines()
            .filter_map(|line| line.strip_prefix("#define KICKSTILL_"))
            .filter_map(|line| line.split(' ').next())
            .filter(|name| {
                !["GAINS_H", "ROBOT_NAME", "ROBOT_DIGEST", "DATE", "REVISION"].contains(name)
            })
            .collect();
        assert!(numbers.len() > 60, "{}", numbers.len());
        let prints: String = numbers
            .iter()
            .map(|n| format!("printf(\"{n} %.17g\\n\", (double)(KICKSTILL_{n}));\n"))
            .collect();
        // Twice, for the guard.
        let program = format!(
            "#include <stdio.h>\n#include \"kickstill_gains.h\"\n#include \"kickstill_gains.h\"\n\
             int main(void) {{\n{prints}puts(KICKSTILL_ROBOT_NAME);\nputs(KICKSTILL_DATE);\nreturn 0;\n}}\n"
        );
        let source = folder.join("gains.c");
        std::fs::write(&source, program).unwrap();
        let built = folder.join("gains");
        let cc = Command::new("cc")
            .args([
                "-std=c99",
                "-Wall",
                "-Wextra",
                "-Wpedantic",
                "-Werror",
                "-o",
            ])
            .arg(&built)
            .arg(&source)
            .output()
            .unwrap();
        assert!(
            cc.status.success(),
            "{}",
            String::from_utf8_lossy(&cc.stderr)
        );
        let said = Command::new(&built).output().unwrap();
        let said = String::from_utf8(said.stdout).unwrap();
        let printed = |name: &str| -> Option<f64> {
            let begin = format!("{name} ");
            said.lines()
                .find_map(|l| l.strip_prefix(&begin))?
                .parse()
                .ok()
        };
        for gain in json["gains"].as_array().unwrap() {
            let name = gain["key"]
                .as_str()
                .unwrap()
                .replace('.', "_")
                .to_uppercase();
            // In the catalogue's order "lean.memory" stands before "lean.memory_limit".
            let value = numbers
                .iter()
                .find(|n| **n == name || n.starts_with(&format!("{name}_")))
                .and_then(|n| printed(n));
            assert!(same(value, gain["value"].as_f64()), "{name}: {value:?}");
            let raw = printed(&format!("{name}_RAW"));
            assert!(same(raw, gain["firmware"].as_f64()), "{name}: {raw:?}");
            let whole = gain["firmware_whole"].as_f64();
            assert_eq!(printed(&format!("{name}_RAW_INT")), whole, "{name}");
        }
        assert!(said.contains(json["robot"].as_str().unwrap()), "{said}");
        assert!(said.ends_with("2031-05-17\n"));
    }
}

#[test]
fn gains_come_as_tables_too() {
    let text = good(&[
        "gains",
        "cobnut",
        "--format",
        "markdown",
        "--revision",
        "show floor",
    ]);
    says(
        &text,
        &[
            "# Gains of Cobnut\n",
            "revision show floor, robot digest ",
            "| travel.damping |",
            "output per count a tick",
            "A fuse protects the wire.",
        ],
    );
    let text = good(&[
        "gains",
        "cobnut",
        "--format",
        "csv",
        "--set",
        "travel.damping=0.25",
    ]);
    assert!(text.contains("\ntravel.damping,"), "{text}");
    assert!(text.contains(",0.25,s/rad,"), "{text}");
    let said = bad(&["gains", "cobnut", "--date", "tomorrow"]);
    assert!(said.contains("2031-05-17"), "{said}");
}

#[test]
fn a_card_has_room_for_what_is_measured() {
    let text = good(&["card", "thimble", "--variants", "0"]);
    says(
        &text,
        &[
            "# Thimble: floor test\n",
            "| date | floor | battery voltage before and after | who |",
            "kick, side view, motors off",
            "| period |",
            "≤ 2.00 s",
            "A fuse protects the wire.",
        ],
    );
    let text = good(&[
        "card",
        "thimble",
        "--trials",
        "stop/side/on",
        "--format",
        "csv",
    ]);
    assert_eq!(text.lines().count(), 3, "{text}");
    assert!(text.starts_with("trial,measure,label,unit,predicted,low,high,limit,measured,note\n"));
    let text = good(&["card", "thimble", "--variants", "0", "--format", "html"]);
    assert!(text.starts_with("<!DOCTYPE html>") && !text.contains("<script"));
    let said = bad(&["card", "thimble", "--trials", "stop/side/off"]);
    assert!(said.contains("did you mean stop/side/on?"), "{said}");
}

/// What a card predicts is what the trial gives.
#[test]
fn a_card_predicts_what_the_trial_gives() {
    let card = good(&[
        "card",
        "thimble",
        "--trials",
        "stop/side/on",
        "--format",
        "csv",
        "--variants",
        "0",
    ]);
    let run = good(&["trial", "thimble", "--trial", "stop", "--json"]);
    let run: serde_json::Value = serde_json::from_str(&run).unwrap();
    for line in card.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let value: f64 = cells[4].parse().unwrap();
        let ran = run["measures"][cells[1]]["value"].as_f64();
        assert!(same(Some(value), ran), "{line}");
    }
}
