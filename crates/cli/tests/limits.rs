//! A set of trials against limits: table, verdicts, exit codes.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod common;

use common::{bad, file, json, run, says, stderr, stdout};

const SAMPLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/cobnut-limits.json");

fn with(trials: &str) -> String {
    format!(r#"{{"format": "kickstill-limits", "version": 1, "trials": [{trials}]}}"#)
}

#[test]
fn cobnut_holds_its_limits() {
    let out = run(&["trial", "cobnut", "--limits", SAMPLE]);
    let text = stdout(&out);
    assert_eq!(out.status.code(), Some(0), "{text}{}", stderr(&out));
    says(
        &text,
        &[
            "kick, front view, steadied",
            "radio-lost, side view",
            "head dip",
            "≤ 4.00°",
            "holds",
            "all 12 limits hold",
        ],
    );
    assert!(!text.contains("BROKEN"), "{text}");
    assert_eq!(stderr(&out), "");
}

#[test]
fn a_broken_limit_exits_with_1_and_says_which() {
    // Without lead the head dips more than the file allows.
    let args = [
        "trial",
        "cobnut",
        "--limits",
        SAMPLE,
        "--set",
        "levelling.lead=0",
    ];
    let out = run(&args);
    assert_eq!(out.status.code(), Some(1), "{}", stdout(&out));
    let text = stdout(&out);
    let line = text.lines().find(|l| l.contains("head dip")).unwrap();
    says(line, &["BROKEN"]);
    says(&text, &["broken"]);
    assert_eq!(stderr(&out), "");

    let mut args = args.to_vec();
    args.push("--json");
    let out = run(&args);
    assert_eq!(out.status.code(), Some(1));
    let all: serde_json::Value = serde_json::from_str(&stdout(&out)).unwrap();
    assert_eq!(all["holds"], false);
    assert_eq!(all["limits"], "show floor");
    let stop = &all["trials"][1];
    assert_eq!(stop["holds"], false);
    let dip = &stop["limits"][0];
    assert_eq!(
        (&dip["measure"], &dip["holds"]),
        (&"head_dip".into(), &false.into())
    );
    assert!(dip["value"].as_f64().unwrap() > dip["max"].as_f64().unwrap());
    // The set runs what a plain trial runs.
    let plain = json(&[
        "trial",
        "cobnut",
        "--trial",
        "stop",
        "--speed",
        "1",
        "--set",
        "levelling.lead=0",
        "--json",
    ]);
    assert_eq!(plain["digest"], stop["digest"]);
    assert_eq!(plain["measures"], stop["measures"]);
}

#[test]
fn a_measure_without_a_value_and_a_refused_outcome_break() {
    let path = file(
        "never.json",
        with(
            r#"{"trial": "kick", "software": "off", "seconds": 3,
                "outcomes": ["settled"], "limits": {"settling_time": {"max": 600}}}"#,
        )
        .as_bytes(),
    );
    let out = run(&["trial", "cobnut", "--limits", &path]);
    assert_eq!(out.status.code(), Some(1));
    says(
        &stdout(&out),
        &["not within 3.00 s", "2 of 2 limits are broken"],
    );
}

#[test]
fn bad_limits_files_are_told_whole() {
    let path = file(
        "bad.json",
        with(
            r#"{"trial": "kik", "limits": {"peak": {"max": 1}}},
               {"trial": "kick", "limits": {"peek": {"max": 1}}}"#,
        )
        .as_bytes(),
    );
    let said = bad(&["trial", "cobnut", "--limits", &path]);
    says(
        &said,
        &[
            "bad.json",
            "trials[0].trial",
            "kick",
            "trials[1].limits.peek",
            "peak",
        ],
    );
    assert_eq!(said.lines().count(), 2, "{said}");
    // What only the robot can tell, and both files' faults at once.
    let path = file(
        "tall.json",
        with(r#"{"trial": "kick", "height": 3, "limits": {"peak": {"max": 1}}}"#).as_bytes(),
    );
    says(
        &bad(&["trial", "cobnut", "--limits", &path]),
        &["trials[0].height", "3000 mm", "480 mm", "nothing was run"],
    );
    says(
        &bad(&["trial", "no-robot", "--limits", "no-limits"]),
        &["no-robot", "no-limits", "limits file"],
    );
    // A trial's own numbers stand in the file.
    says(
        &bad(&["trial", "cobnut", "--limits", SAMPLE, "--speed", "1"]),
        &["--limits", "--speed"],
    );
}

#[test]
fn results_come_as_markdown_and_csv() {
    let out = run(&["trial", "cobnut", "--limits", SAMPLE, "--markdown"]);
    assert_eq!(out.status.code(), Some(0));
    says(
        &stdout(&out),
        &["| trial | measure |", "| --- |", "| holds |"],
    );

    let out = run(&["trial", "cobnut", "--limits", SAMPLE, "--results", "-"]);
    let text = stdout(&out);
    let mut lines = text.lines();
    assert_eq!(
        lines.next(),
        Some("trial,view,software,measure,value,unit,words")
    );
    says(&text, &["radio-lost,side,on,run_out_distance,"]);

    let quick = ["trial", "cobnut", "--seconds", "1"];
    let of = |more: &[&str]| {
        let args: Vec<&str> = quick.iter().chain(more).copied().collect();
        stdout(&run(&args))
    };
    says(&of(&["--markdown"]), &["|  | found |", "| peak swing | "]);
    let csv = of(&["--results", "-"]);
    let report = of(&["--json"]);
    let report: serde_json::Value = serde_json::from_str(&report).unwrap();
    for line in csv.lines().skip(1) {
        let cells: Vec<&str> = line.splitn(7, ',').collect();
        let value = &report["measures"][cells[3]]["value"];
        let (csv, json) = (cells[4].parse::<f64>().ok(), value.as_f64());
        // The JSON reader used here may be one step of the last digit off.
        let same = csv == json
            || csv
                .zip(json)
                .is_some_and(|(a, b)| (a - b).abs() <= 1e-15 * b.abs());
        assert!(same, "{line}: {csv:?} {json:?}");
    }
    assert!(csv.lines().count() > 15);
    let said = bad(&["trial", "cobnut", "--results", "-", "--csv", "-"]);
    says(&said, &["--results", "standard output"]);
}
