//! Drawings.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod common;

use common::{bad, good, place, says};

#[test]
fn a_drawing_is_one_svg() {
    let svg = good(&["draw", "cobnut", "--at", "0.5"]);
    assert!(svg.starts_with("<svg ") && svg.trim_end().ends_with("</svg>"));
    says(
        &svg,
        &[
            "width=\"1200.00\" height=\"900.00\"",
            "Cobnut, side view",
            "0.50 s",
        ],
    );
    assert!(!svg.contains("NaN") && !svg.contains("inf"));
    assert_eq!(
        svg,
        good(&["draw", "Cobnut", "--at", "500ms", "--seconds", "3"])
    );

    let path = place("drawing.svg");
    assert_eq!(
        good(&[
            "draw",
            "cobnut",
            "--at",
            "0.5",
            "-o",
            path.to_str().unwrap()
        ]),
        ""
    );
    assert_eq!(std::fs::read_to_string(&path).unwrap(), svg);
}

#[test]
fn time_view_theme_size_and_layers_show() {
    let of = |more: &[&str]| {
        let mut args = vec!["draw", "cobnut"];
        args.extend(more);
        good(&args)
    };
    let plain = of(&["--at", "0.5"]);
    for more in [
        &["--at", "0.6"][..],
        &["--at", "0.5", "--view", "front"],
        &["--at", "0.5", "--software", "off"],
        &["--at", "0.5", "--night"],
        &["--at", "0.5", "--size", "640x480"],
        &["--at", "0.5", "--layers", "none"],
        &["--at", "0.5", "--layers", "all"],
        &["--at", "0.5", "--set", "head.mass=1.5kg"],
    ] {
        assert_ne!(plain, of(more), "{more:?}");
    }
    says(&of(&["--at", "0", "--trial", "wall"]), &["<svg"]);
    says(
        &of(&[
            "--at",
            "1",
            "--layers",
            "forces,centres,trail,grid,lengths,balloons",
        ]),
        &["</svg>"],
    );
}

#[test]
fn the_drawing_says_what_the_trace_says() {
    let csv = good(&[
        "trial",
        "cobnut",
        "--trial",
        "stop",
        "--csv",
        "-",
        "--seconds",
        "1",
    ]);
    let report = common::json(&[
        "trial",
        "cobnut",
        "--trial",
        "stop",
        "--json",
        "--seconds",
        "1",
    ]);
    let begins = report["trial"]["begins"].as_f64().unwrap();
    let row = csv
        .lines()
        .skip(1)
        .find(|l| l.split(',').next().unwrap().parse::<f64>().unwrap() >= begins + 0.5 - 1e-9)
        .unwrap();
    let speed: f64 = row.split(',').nth(2).unwrap().parse().unwrap();
    let svg = good(&["draw", "cobnut", "--trial", "stop", "--at", "0.5"]);
    says(&svg, &[&format!("speed {speed:.2} m/s").replace('-', "−")]);
}

#[test]
fn bad_requests_are_told() {
    for (more, word) in [
        (&["--at", "-1"][..], "--at"),
        (&["--at", "601"], "600 s"),
        (&["--at", "soon"], "--at"),
        (&["--at", "2", "--seconds", "1"], "within"),
        (&["--at", "1", "--size", "big"], "--size"),
        (&["--at", "1", "--size", "0x0"], "--size"),
        (&["--at", "1", "--size", "99999x900"], "--size"),
        (&["--at", "1", "--set", "head.mass=900"], "head.mass"),
        (&["--at", "1", "-o", "/no/such/folder/x.svg"], "x.svg"),
    ] {
        let mut args = vec!["draw", "cobnut"];
        args.extend(more);
        says(&bad(&args), &[word, "expected"]);
    }
    let all = bad(&[
        "draw", "cobnut", "--at", "-1", "--size", "1", "--height", "9",
    ]);
    says(&all, &["--at", "--size", "--height"]);
}
