//! `kickstill sheet`: everything that belongs inside the lid, in one file that stands alone.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::{bad, file, good, place, says};

/// Sections of a robot file whose knobs are no settings of a sheet: the joints' inner friction.
const LEFT_OUT: [&str; 3] = ["head_joint", "castors", "sensing"];

#[test]
fn markdown_holds_every_setting_the_trials_and_the_cautions() {
    let text = good(&["sheet", "cobnut"]);
    says(
        &text,
        &[
            "# Cobnut\n",
            "## Parts",
            "battery 24 V",
            "| kick, side view, steadied | outcome | settled |",
            "all 13 limits hold",
            "A fuse protects the wire.",
        ],
    );
    for knob in kickstill_robot::catalogue() {
        let section = knob.key.split('.').next().unwrap();
        let told = text.contains(&format!("| {} |", knob.key.replace('_', "\\_")));
        assert_eq!(told, !LEFT_OUT.contains(&section), "{}", knob.key);
    }
    // A gain, as the firmware has it, too.
    let line = text
        .lines()
        .find(|l| l.contains("travel.correction"))
        .unwrap();
    assert!(line.contains("output per count"), "{line}");
}

#[test]
fn html_stands_alone_with_drawings_and_charts() {
    let path = place("sheet.html");
    let said = good(&[
        "sheet",
        "thimble",
        "--html",
        "--output",
        path.to_str().unwrap(),
    ]);
    assert_eq!(said, "");
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(text.starts_with("<!DOCTYPE html>"), "{}", &text[..80]);
    // Two drawings, three charts for each of seven trials.
    assert_eq!(text.matches("<svg").count(), 2 + 3 * 7);
    for fetched in ["<script", "<link", " src=", "@import", "url(http"] {
        assert!(!text.contains(fetched), "{fetched}");
    }
}

#[test]
fn a_robots_name_cannot_break_the_sheet() {
    let robot = good(&["demo", "cobnut"]).replace("\"Cobnut\"", "\"<b>|Nut</b>\"");
    let path = file("sheet-name.json", robot.as_bytes());
    let html = good(&["sheet", &path, "--html"]);
    says(&html, &["&lt;b&gt;|Nut&lt;/b&gt;"]);
    assert!(!html.contains("<b>|Nut"));
}

#[test]
fn own_limits_stand_on_the_sheet_and_a_broken_one_is_said() {
    let limits = file(
        "sheet-limits.json",
        br#"{ "format": "kickstill-limits", "version": 1, "name": "hall",
              "trials": [{ "trial": "stop", "limits": { "head_dip": { "max": "0.1 deg" } } }] }"#,
    );
    let text = good(&["sheet", "cobnut", "--limits", &limits]);
    says(&text, &["BROKEN", "Cobnut, hall: 1 of 1 limits is broken"]);
    let wrong = file(
        "sheet-wrong.json",
        br#"{ "format": "kickstill-limits", "version": 1, "name": "",
              "trials": [{ "trial": "stop", "speed": 50, "limits": { "head_dip": { "max": 1 } } }] }"#,
    );
    says(
        &bad(&["sheet", "cobnut", "--limits", &wrong]),
        &["trials[0].speed"],
    );
}
