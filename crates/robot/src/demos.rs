//! The three demo robots. They are files like any other; nothing else in the program knows them.

use crate::file::read_robot;
use crate::model::Robot;

/// A robot file that comes with the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Demo {
    /// Short lower-case name for links and the command line.
    pub key: &'static str,
    /// Name as shown.
    pub name: &'static str,
    /// The robot file; of all but the first it is empty without the feature `demos`.
    pub text: &'static str,
}

/// One table for all callers: a constant would be copied, files and all, to each of them.
static DEMOS: [Demo; 3] = [
    Demo {
        key: "cobnut",
        name: "Cobnut",
        text: include_str!("../demos/cobnut.json"),
    },
    Demo {
        key: "thimble",
        name: "Thimble",
        text: if cfg!(feature = "demos") {
            include_str!("../demos/thimble.json")
        } else {
            ""
        },
    },
    Demo {
        key: "hayrick",
        name: "Hayrick",
        text: if cfg!(feature = "demos") {
            include_str!("../demos/hayrick.json")
        } else {
            ""
        },
    },
];

/// The demo robots, the first to be shown first.
#[must_use]
pub fn demos() -> &'static [Demo] {
    &DEMOS
}

/// The demo robot with this key, in any case; none, too, if its file is not there.
#[must_use]
pub fn demo(key: &str) -> Option<Robot> {
    let demo = demos().iter().find(|d| d.key.eq_ignore_ascii_case(key))?;
    read_robot(demo.text).ok().map(|(robot, _)| robot)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::write_robot;
    use crate::model::Body;

    #[test]
    fn demos_read_without_a_warning() {
        for d in demos() {
            let (robot, warnings) =
                read_robot(d.text).unwrap_or_else(|e| panic!("{}: {e:?}", d.key));
            assert!(warnings.is_empty(), "{}: {warnings:?}", d.key);
            assert_eq!(robot.name, d.name);
            assert_eq!(demo(&d.name.to_uppercase()).as_ref(), Some(&robot));
        }
        assert!(demo("no such").is_none());
    }

    /// The committed files are in the form the writer gives; `KICKSTILL_BLESS=1` rewrites them.
    #[test]
    fn demo_files_are_in_the_writers_form() {
        for d in demos() {
            let robot = demo(d.key).unwrap();
            let text = write_robot(&robot);
            if std::env::var_os("KICKSTILL_BLESS").is_some() {
                let path = format!("{}/demos/{}.json", env!("CARGO_MANIFEST_DIR"), d.key);
                std::fs::write(path, &text).unwrap();
            } else {
                assert!(text == d.text, "{} is not in the writer's form", d.key);
            }
        }
    }

    #[test]
    fn demo_parts_make_up_the_bodies() {
        for d in demos() {
            let r = demo(d.key).unwrap();
            for (body, mass, height) in [
                (Body::Shell, r.shell.mass, 0.0),
                (Body::Carriage, r.carriage.mass, -r.carriage.below_centre),
                (Body::Head, r.head.mass, r.head.above_centre),
            ] {
                let of = r.parts.iter().filter(|p| p.body == body);
                let sum: f64 = of.clone().map(|p| p.mass).sum();
                let moment: f64 = of.map(|p| p.mass * p.height).sum();
                assert!((sum - mass).abs() < 1e-9, "{} {body:?} {sum}", d.key);
                assert!((moment / sum - height).abs() < 1e-5, "{} {body:?}", d.key);
            }
        }
    }

    #[test]
    fn demo_outlines_keep_out_of_the_shell() {
        for d in demos() {
            let r = demo(d.key).unwrap();
            let big = r.shell.outer_radius;
            for p in r
                .outlines
                .carriage_side
                .iter()
                .chain(&r.outlines.carriage_front)
            {
                assert!(libm::hypot(p[0], p[1]) < 0.93 * big, "{} {p:?}", d.key);
            }
            let head = r.outlines.head_side.iter().chain(&r.outlines.head_front);
            let mut widest: f64 = 0.0;
            for p in head {
                assert!(libm::hypot(p[0], p[1]) > big, "{} {p:?}", d.key);
                widest = widest.max(p[0].abs());
            }
            assert!(
                (widest - r.head.half_width).abs() < 0.006,
                "{} {widest}",
                d.key
            );
        }
    }
}
