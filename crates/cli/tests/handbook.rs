//! The handbook's drawings: the program's own, with letters laid over. `KICKSTILL_BLESS=1` writes them anew.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod common;

use std::fmt::Write;
use std::path::PathBuf;

use common::good;

const SIZE: (f64, f64) = (720.0, 540.0);
/// Ink and paper of the day's drawing; the page turns them into its own.
const INK: &str = "#1d354c";
const PAPER: &str = "#fbf8ef";

/// A drawing of Cobnut without its English words: the one on the switch, title and description.
fn drawing(options: &[&str], word: &str) -> String {
    let size = format!("{}x{}", SIZE.0, SIZE.1);
    let mut args = vec!["draw", "cobnut", "--size", &size];
    args.extend_from_slice(options);
    let svg = good(&args);
    let kept: Vec<&str> = svg
        .lines()
        .filter(|line| {
            let said = line.starts_with("<text") && line.contains(&format!(">{word}</text>"));
            !(said || line.starts_with("<title") || line.starts_with("<desc"))
        })
        .collect();
    assert_eq!(
        kept.len() + 3,
        svg.lines().count(),
        "title, description and \"{word}\""
    );
    kept.join("\n") + "\n"
}

/// Where the ball's centre lies, and pixels a metre: the shell's outline begins right of its centre.
fn ball(svg: &str) -> (f64, f64, f64) {
    let outline = svg
        .lines()
        .skip_while(|line| !line.contains("data-part=\"shell\""))
        .nth(1)
        .expect("the shell's outline");
    let numbers: Vec<f64> = outline
        .split(|c: char| !(c.is_ascii_digit() || c == '.'))
        .filter_map(|text| text.parse().ok())
        .collect();
    let (x, y, radius) = (numbers[0], numbers[1], numbers[4]);
    (x - radius, y, radius / 0.24)
}

/// A line between two points, dashed or with an arrow's head.
fn line(out: &mut String, a: (f64, f64), b: (f64, f64), dashed: bool) {
    let dash = if dashed {
        " stroke-dasharray=\"7 4\""
    } else {
        ""
    };
    writeln!(
        out,
        "<path d=\"M{:.1} {:.1}L{:.1} {:.1}\" fill=\"none\" stroke=\"{INK}\" stroke-width=\"1.4\"{dash}/>",
        a.0, a.1, b.0, b.1
    )
    .unwrap();
}

fn arrow_head(out: &mut String, tip: (f64, f64), towards: (f64, f64)) {
    let length = (towards.0 * towards.0 + towards.1 * towards.1).sqrt();
    let (x, y) = (9.0 * towards.0 / length, 9.0 * towards.1 / length);
    writeln!(
        out,
        "<path d=\"M{:.1} {:.1}L{:.1} {:.1}L{:.1} {:.1}Z\" fill=\"{INK}\"/>",
        tip.0,
        tip.1,
        tip.0 - x + 0.4 * y,
        tip.1 - y - 0.4 * x,
        tip.0 - x - 0.4 * y,
        tip.1 - y + 0.4 * x
    )
    .unwrap();
}

/// A letter, with another set lower behind it.
fn letter(out: &mut String, at: (f64, f64), text: &str, lower: &str) {
    let behind = if lower.is_empty() {
        String::new()
    } else {
        format!("<tspan dy=\"5\" font-size=\"13\">{lower}</tspan>")
    };
    writeln!(
        out,
        "<text x=\"{:.1}\" y=\"{:.1}\" font-size=\"19\" font-style=\"italic\" text-anchor=\"middle\" fill=\"{INK}\" \
         stroke=\"{PAPER}\" stroke-width=\"4\" paint-order=\"stroke\">{text}{behind}</text>",
        at.0, at.1
    )
    .unwrap();
}

/// An arc about `centre` from the vertical, `angle` being positive anticlockwise from below and clockwise
/// from above; its arrow's head at the far end.
fn arc(out: &mut String, centre: (f64, f64), radius: f64, angle: f64, below: bool) {
    let side = if below { 1.0 } else { -1.0 };
    let at = |a: f64| {
        (
            centre.0 + radius * libm::sin(a),
            centre.1 + side * radius * libm::cos(a),
        )
    };
    let (start, end) = (at(0.0), at(angle));
    let sweep = i32::from((angle < 0.0) == below);
    writeln!(
        out,
        "<path d=\"M{:.1} {:.1}A{radius:.1} {radius:.1} 0 0 {sweep} {:.1} {:.1}\" fill=\"none\" stroke=\"{INK}\" stroke-width=\"1.4\"/>",
        start.0, start.1, end.0, end.1
    )
    .unwrap();
    let turn = angle.signum();
    arrow_head(
        out,
        end,
        (turn * libm::cos(angle), -side * turn * libm::sin(angle)),
    );
}

/// Half a second after a kick with the motors off: every coordinate of the model, lettered.
fn motion() -> String {
    let svg = drawing(
        &["--software", "off", "--at", "0.5", "--layers", "centres"],
        "off",
    );
    let trace = good(&[
        "trial",
        "cobnut",
        "--software",
        "off",
        "--csv",
        "-",
        "--seconds",
        "1",
    ]);
    let mut rows = trace.lines();
    let names: Vec<&str> = rows.next().unwrap().split(',').collect();
    let row: Vec<f64> = rows
        .map(|row| {
            row.split(',')
                .map(|cell| cell.parse().unwrap_or(f64::NAN))
                .collect::<Vec<f64>>()
        })
        .find(|row| (row[0] - 0.5).abs() < 1e-6)
        .expect("a row at half a second");
    let value = |name: &str| row[names.iter().position(|n| n.starts_with(name)).unwrap()];
    let (turn, swing, tilt) = (
        value("roll [rad]"),
        value("swing [rad]"),
        value("tilt [rad]"),
    );
    let (x, y, scale) = ball(&svg);
    let centre = (x, y);
    let at = |across: f64, up: f64| (x + scale * across, y - scale * up);
    let mut over = String::new();
    // The verticals from which swing and tilt are counted.
    line(&mut over, at(0.0, 0.43), at(0.0, -0.235), true);
    let (low, high) = (0.205, 0.4);
    line(
        &mut over,
        centre,
        at(low * libm::sin(swing), -low * libm::cos(swing)),
        false,
    );
    line(
        &mut over,
        centre,
        at(high * libm::sin(tilt), high * libm::cos(tilt)),
        false,
    );
    arc(&mut over, centre, 0.19 * scale, swing, true);
    arc(&mut over, centre, 0.385 * scale, tilt, false);
    letter(&mut over, at(-0.036, -0.222), "α", "");
    letter(&mut over, at(0.06, 0.405), "β", "");
    letter(&mut over, at(-0.062, -0.065), "l", "c");
    letter(&mut over, at(0.06, 0.14), "l", "h");
    // The shell's turn, on its outside; it grows with the way rolled.
    let begin = at(0.262 * libm::sin(0.9), 0.262 * libm::cos(0.9));
    let far = 0.9 + 2.2 * turn;
    let end = at(0.262 * libm::sin(far), 0.262 * libm::cos(far));
    writeln!(
        over,
        "<path d=\"M{:.1} {:.1}A{r:.1} {r:.1} 0 0 1 {:.1} {:.1}\" fill=\"none\" stroke=\"{INK}\" stroke-width=\"1.4\"/>",
        begin.0,
        begin.1,
        end.0,
        end.1,
        r = 0.262 * scale
    )
    .unwrap();
    arrow_head(&mut over, end, (libm::cos(far), libm::sin(far)));
    letter(&mut over, at(0.3, 0.1), "θ", "");
    // Radius and way.
    line(
        &mut over,
        at(0.0, 0.0),
        at(0.24 * libm::sin(2.2), 0.24 * libm::cos(2.2)),
        false,
    );
    letter(&mut over, at(0.115, -0.05), "R", "");
    line(&mut over, at(0.26, -0.215), at(0.4, -0.215), false);
    arrow_head(&mut over, at(0.4, -0.215), (1.0, 0.0));
    letter(&mut over, at(0.43, -0.222), "x", "");
    svg.replace("</svg>", &format!("{over}</svg>"))
}

/// Standing, its parts numbered.
fn parts() -> String {
    drawing(
        &["--trial", "start", "--at", "0", "--layers", "balloons"],
        "on",
    )
}

#[test]
fn the_handbooks_drawings_are_the_programs() {
    for (name, svg) in [("robot.svg", parts()), ("motion.svg", motion())] {
        let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
            .join("../../www/handbook/pictures")
            .join(name);
        if std::env::var_os("KICKSTILL_BLESS").is_some() {
            std::fs::write(&path, &svg).unwrap();
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(
            kept == svg,
            "{name} is stale: KICKSTILL_BLESS=1 cargo test -p kickstill-cli --test handbook"
        );
    }
}
