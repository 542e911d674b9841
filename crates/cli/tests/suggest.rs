//! `kickstill suggest`: a search, what it says, and the robot file it writes.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::{bad, good, json, place, says};

/// A search short enough for a test.
const SHORT: [&str; 6] = ["suggest", "cobnut", "--loops", "travel", "--budget", "30"];

fn short<'a>(more: &[&'a str]) -> Vec<&'a str> {
    SHORT.iter().copied().chain(more.iter().copied()).collect()
}

#[test]
fn what_it_suggests_is_explained_written_and_a_robot_that_can_be_run() {
    let path = place("suggested.json");
    let _ = std::fs::remove_file(&path);
    let svg = place("suggested.svg");
    let out = path.to_str().unwrap();
    let found = json(&short(&[
        "--json",
        "--out",
        out,
        "--svg",
        svg.to_str().unwrap(),
    ]));
    assert_eq!(found["better"], true, "{found}");
    let changes = found["changes"].as_array().unwrap();
    assert!(!changes.is_empty());
    for change in changes {
        let knob = change["knob"].as_str().unwrap();
        assert!(
            knob.starts_with("travel."),
            "{knob} belongs to no loop that may change"
        );
    }
    assert!(!found["explained"].as_array().unwrap().is_empty());
    let compared = found["compared"].as_array().unwrap();
    let score = |key: &str| {
        let one = compared.iter().find(|c| c["key"] == key).unwrap();
        one["score"].as_f64().unwrap()
    };
    assert!(score("suggested") < score("as_it_stood"));
    // The file holds just these settings.
    let was: serde_json::Value = serde_json::from_str(&good(&["demo", "cobnut"])).unwrap();
    let is: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
    assert_eq!(was["lean"], is["lean"]);
    assert_eq!(was["levelling"], is["levelling"]);
    assert_ne!(was["travel"], is["travel"]);
    assert_eq!(good(&["check", out]).lines().count(), 1);
    let svg = std::fs::read_to_string(&svg).unwrap();
    says(
        &svg,
        &[
            "<svg",
            "before and after",
            "side view",
            "as it stands",
            "suggested",
        ],
    );
    // The same question has the same answer.
    assert_eq!(json(&short(&["--json"])), found);
}

#[test]
fn limits_weights_and_kept_knobs_are_heeded() {
    let found = json(&short(&[
        "--keep",
        "travel.damping",
        "--limit",
        "settling=2.5s",
        "--limit",
        "current=14 A",
        "--weight",
        "dip=9",
        "--json",
    ]));
    assert_eq!(found["keep"][0], "travel.damping");
    for change in found["changes"].as_array().unwrap() {
        assert_ne!(change["knob"], "travel.damping");
    }
    let rows = found["rows"].as_array().unwrap();
    let row = |key: &str| rows.iter().find(|r| r["key"] == key).unwrap();
    assert_eq!(row("side.settling")["limit"], 2.5);
    assert_eq!(row("side.settling")["limit_asked"], true);
    assert_eq!(row("side.current")["limit"], 14.0);
    assert_eq!(row("side.dip")["limit_asked"], false);
}

#[test]
fn text_and_csv_tell_the_rows_and_the_caution() {
    let text = good(&short(&[]));
    says(
        &text,
        &[
            "Cobnut",
            "as it stands",
            "suggested",
            "compared",
            "Ziegler & Nichols",
            "no permission",
            "runs simulated",
        ],
    );
    let csv = good(&short(&["--csv", "-"]));
    says(
        &csv,
        &[
            "key,unit,before,after,limit,change,limit kept",
            "side.settling,s,",
        ],
    );
}

#[test]
fn what_is_wrong_is_said_with_what_was_expected() {
    says(
        &bad(&short(&["--limit", "setling=2s"])),
        &["--limit is setling", "did you mean settling?"],
    );
    says(
        &bad(&short(&["--limit", "settling"])),
        &["--limit is settling", "KEY=VALUE"],
    );
    says(
        &bad(&short(&["--limit", "settling=90 s"])),
        &["--limit settling is 90 s", "it is too large"],
    );
    says(
        &bad(&short(&["--weight", "dip=11"])),
        &["--weight dip is 11", "a number from 0 to 10"],
    );
    says(
        &bad(&short(&["--weight", "dips=1"])),
        &["--weight is dips", "did you mean dip?"],
    );
    says(
        &bad(&short(&["--keep", "travel.dampin"])),
        &["--keep is travel.dampin", "did you mean travel.damping?"],
    );
    says(
        &bad(&["suggest", "cobnut", "--budget", "0"]),
        &["--budget is 0", "1 to"],
    );
    says(
        &bad(&["suggest", "cobnut", "--loops", "travl"]),
        &["travl", "travel"],
    );
    says(
        &bad(&short(&["--out", "-", "--csv", "-"])),
        &["--csv is -", "a file's path"],
    );
    let all = [
        "correction",
        "damping",
        "speed",
        "memory",
        "feed_forward",
        "smoothing",
        "dead_band",
    ];
    let keep: Vec<String> = all.iter().map(|k| format!("travel.{k}")).collect();
    let mut args = short(&[]);
    for key in &keep {
        args.extend(["--keep", key]);
    }
    says(&bad(&args), &["every setting of these loops is to be kept"]);
}
