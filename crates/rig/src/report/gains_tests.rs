use super::*;
use crate::report::Origin;
use kickstill_robot::{demo, demos, knob};

fn of(robot: &Robot) -> Vec<Gain> {
    gains(robot, &|knob, value| knob.format(value))
}

fn origin(robot: &Robot) -> Origin {
    Origin::new(robot, "2031-05-17", "C").unwrap()
}

/// What a macro of the header stands for.
fn macro_of<'a>(header: &'a str, name: &str) -> Option<&'a str> {
    let begin = format!("#define {name} ");
    let line = header.lines().find_map(|line| line.strip_prefix(&begin))?;
    Some(line.split(" /*").next().unwrap_or(line))
}

#[test]
fn every_software_knob_is_there_once_and_reads_back() {
    for d in demos() {
        let robot = demo(d.key).unwrap();
        let all = of(&robot);
        let text = gains_header(&robot, &origin(&robot), &all);
        assert!(all.len() > 30, "{}", all.len());
        assert_eq!(all.iter().filter(|g| g.raw.is_some()).count(), 19);
        for gain in &all {
            let name = format!("KICKSTILL_{}", gain.key.replace('.', "_").to_uppercase());
            let with_unit = match suffix(gain.unit) {
                "" => name.clone(),
                unit if gain.words.is_empty() => format!("{name}_{unit}"),
                _ => name.clone(),
            };
            let number = |name: &str| -> f64 {
                let text = macro_of(&text, name).unwrap_or_else(|| panic!("{name}"));
                text.trim_matches(['(', ')']).parse().unwrap()
            };
            assert_eq!(number(&with_unit), gain.value, "{}", gain.key);
            if let Some(raw) = gain.raw {
                assert_eq!(number(&format!("{name}_RAW")), raw, "{}", gain.key);
            }
        }
        assert_eq!(text.matches("#if").count(), 1);
        assert!(text.ends_with("\n#endif\n"));
    }
}

#[test]
fn a_whole_number_only_where_rounding_hardly_moves_it() {
    assert_eq!(whole(41.9), Some(42));
    assert_eq!(whole(-41.9), Some(-42));
    assert_eq!(whole(0.0), Some(0));
    assert_eq!(whole(0.3), None);
    assert_eq!(whole(1.4), None);
    assert_eq!(whole(1e12), None);
    let mut robot = demo("cobnut").unwrap();
    robot.firmware.reversed = true;
    let all = of(&robot);
    let text = gains_header(&robot, &origin(&robot), &all);
    let damping = all.iter().find(|g| g.key == "travel.damping").unwrap();
    assert!(damping.raw.unwrap() < 0.0);
    assert!(text.contains("#define KICKSTILL_TRAVEL_DAMPING_RAW (-"));
    for gain in all.iter().filter(|g| g.raw.is_some()) {
        let name = format!(
            "KICKSTILL_{}_RAW_INT",
            gain.key.replace('.', "_").to_uppercase()
        );
        assert_eq!(
            macro_of(&text, &name).is_some(),
            gain.raw_whole.is_some(),
            "{name}"
        );
    }
}

/// What stands in a header's comments and literals cannot get out of them.
#[test]
fn a_hostile_name_stays_where_it_is() {
    let mut robot = demo("cobnut").unwrap();
    robot.name = "*/ int x; /* ??/ \\\n\"; #define main\u{202e} /*/ **// <script>|`".to_owned();
    let all = of(&robot);
    let from = Origin::new(&robot, "", "a */ b").unwrap();
    let text = gains_header(&robot, &from, &all);
    // Outside of comments nothing stands but directives.
    let mut rest = text.as_str();
    let mut code = String::new();
    while let Some(at) = rest.find("/*") {
        code.push_str(&rest[..at]);
        let inside = &rest[at + 2..];
        let end = inside.find("*/").unwrap();
        assert!(!inside[..end].contains("/*"));
        assert!(!inside[..end].contains("??") && !inside[..end].contains('\\'));
        rest = &inside[end + 2..];
    }
    code.push_str(rest);
    for line in code.lines() {
        let line = line.trim();
        assert!(line.is_empty() || line.starts_with('#'), "{line}");
    }
    let name = macro_of(&text, "KICKSTILL_ROBOT_NAME").unwrap();
    assert!(name.is_ascii() && name.matches('"').count() == 2, "{name}");
    let markdown = gains_markdown(&from, &all);
    assert!(
        markdown.starts_with("# Gains of \\*/ int x; /\\*"),
        "{markdown}"
    );
    assert!(!markdown.contains(" <script"));
}

#[test]
fn the_table_and_the_file_say_the_same() {
    let robot = demo("thimble").unwrap();
    let all = of(&robot);
    assert_eq!(gains_table(&all).rows.len(), all.len());
    let text = gains_csv(&all);
    let mut read = csv::Reader::from_reader(text.as_bytes());
    for (line, gain) in read.records().map(Result::unwrap).zip(&all) {
        assert_eq!(&line[0], gain.key);
        assert_eq!(line[2].parse(), Ok(gain.value));
        assert_eq!(line[5].parse().ok(), gain.raw);
        let knob = knob(gain.key).unwrap();
        assert_eq!(&line[4], knob.format((knob.get)(&robot)));
    }
    assert_eq!(text.lines().count(), all.len() + 1);
}
