//! What the drawing's parts must agree on: sizes, anchors, touches, memory.

use kickstill_rig::{Sample, flag};
use kickstill_robot::{Robot, View, demo, demos};

use crate::*;

const SIZES: [(f64, f64); 5] = [
    (1440.0, 900.0),
    (1000.0, 640.0),
    (700.0, 520.0),
    (360.0, 420.0),
    (320.0, 300.0),
];

fn cobnut() -> Robot {
    demo("cobnut").unwrap()
}

/// Every demo robot, view and size.
fn everywhere(mut check: impl FnMut(&Robot, &Sheet<'_>)) {
    for d in demos() {
        let robot = demo(d.key).unwrap();
        for view in [View::Side, View::Front] {
            for (width, height) in SIZES {
                check(&robot, &Sheet::fit(&robot, view, width, height));
            }
        }
    }
}

#[test]
fn the_robot_fits_with_room_below_and_beside() {
    everywhere(|robot, sheet| {
        let place = (&robot.name, sheet.width, sheet.height);
        let pose = pose::Pose::new(robot, &Sample::default(), sheet);
        let (low, high) = pose.head_outline().bounds();
        let top = pose.head.at([0.0, high[1]])[1];
        let tall = (sheet.camera.floor_y - top) / sheet.height;
        assert!(top >= 26.0, "{place:?}: top at {top}");
        assert!(tall < 0.66, "{place:?}: {tall} of the height");
        assert!(sheet.height - sheet.camera.floor_y >= 58.0, "{place:?}");
        let across = sheet.camera.scale * (2.0 * pose.radius).max(high[0] - low[0]);
        assert!(across <= 0.73 * sheet.width, "{place:?}: {across}");
        // One of height and width is made use of.
        assert!(
            tall > 0.58 || across > 0.40 * sheet.width,
            "{place:?}: {tall}, {across}"
        );
    });
}

#[test]
fn anchors_lie_on_their_parts() {
    everywhere(|robot, sheet| {
        for swing in [-0.3, 0.0, 0.5] {
            let sample = Sample {
                swing,
                tilt: 0.1,
                roll: 1.0,
                ..Sample::default()
            };
            let on = |spot: Spot| anchors(robot, &sample, sheet)[spot as usize].at;
            let target = |spot: Spot| {
                let at = on(spot);
                hit(robot, &sample, sheet, at[0], at[1]).map(|hit| hit.target)
            };
            assert_eq!(target(Spot::Shell), Some(Target::Shell));
            assert_eq!(target(Spot::Head), Some(Target::Head), "{}", robot.name);
            assert_eq!(target(Spot::CarriageCentre), Some(Target::CarriageCentre));
            let pose = pose::Pose::new(robot, &sample, sheet);
            for spot in [Spot::Carriage, Spot::Controller, Spot::Battery] {
                let at = pose.carriage.back(on(spot));
                assert!(pose.carriage_outline().holds(at), "{} {spot:?}", robot.name);
            }
            let floor = sheet.camera.to_floor(on(Spot::Floor), 0.0);
            assert!(floor[1].abs() < 1e-9 && on(Spot::Floor)[0] > 0.0);
        }
    });
}

#[test]
fn balloons_are_numbered_in_order_and_do_not_touch() {
    for (at, spot) in ANCHORS.iter().enumerate() {
        assert_eq!(*spot as usize, at);
        assert_eq!(spot.number() as usize, at + 1);
        assert_eq!(Spot::from_key(spot.key()), Some(*spot));
    }
    let sheet = Sheet::fit(&cobnut(), View::Side, 320.0, 300.0);
    for a in ANCHORS {
        for b in ANCHORS {
            let gap = place::distance(balloon_centre(&sheet, a), balloon_centre(&sheet, b));
            assert!(a == b || gap > 23.0, "{a:?} {b:?} {gap}");
        }
    }
}

#[test]
fn touches_find_what_is_there() {
    let robot = cobnut();
    let sheet = Sheet::fit(&robot, View::Side, 1000.0, 640.0);
    let sample = Sample {
        travel: 0.3,
        slope: 0.1,
        swing: 0.2,
        ..Sample::default()
    };
    let check = |along: f64, height: f64, expected: Option<Target>| {
        let at = sheet.camera.to_sheet(along, height, sample.slope);
        let found = hit(&robot, &sample, &sheet, at[0], at[1]);
        assert_eq!(found.map(|f| f.target), expected, "{along} {height}");
        if let Some(found) = found {
            assert!((found.height - height).abs() < 1e-9);
        }
    };
    check(0.3, 0.36, Some(Target::Shell));
    check(0.08, 0.24, Some(Target::Shell));
    check(0.04, 0.24, None);
    check(0.3, -0.05, Some(Target::Floor));
    check(0.3, 0.52, Some(Target::Head));
    check(0.3, 0.9, None);
    let handle = slope_handle(&sample, &sheet);
    let found = hit(&robot, &sample, &sheet, handle[0] + 15.0, handle[1] + 15.0);
    assert_eq!(found.map(|f| f.target), Some(Target::SlopeHandle));
    let [along, height] = sheet.camera.to_floor(handle, sample.slope);
    assert!(height.abs() < 1e-9 && along > 0.5);
    assert_eq!(hit(&robot, &sample, &sheet, f64::NAN, 0.0), None);
}

#[test]
fn a_lost_head_is_touched_where_it_fell() {
    let robot = cobnut();
    let sheet = Sheet::fit(&robot, View::Side, 1000.0, 640.0);
    let sample = Sample {
        flags: flag::HEAD_LOST,
        head_x: 0.5,
        head_z: 0.1,
        tilt: 1.2,
        ..Sample::default()
    };
    let at = sheet.camera.to_sheet(0.5, 0.1, 0.0);
    let found = hit(&robot, &sample, &sheet, at[0], at[1]);
    assert_eq!(found.map(|f| f.target), Some(Target::Head));
    assert_eq!(head_centre(&robot, &sample), [0.5, 0.1]);
}

#[test]
fn the_head_s_centre_is_where_it_is_drawn() {
    let robot = cobnut();
    let sheet = Sheet::fit(&robot, View::Side, 1000.0, 640.0);
    let sample = Sample {
        travel: 0.2,
        slope: -0.15,
        tilt: 0.25,
        ..Sample::default()
    };
    let [along, height] = head_centre(&robot, &sample);
    let at = sheet.camera.to_sheet(along, height, sample.slope);
    let drawn = pose::Pose::new(&robot, &sample, &sheet).head_centre();
    assert!(place::distance(at, drawn) < 1e-9, "{at:?} {drawn:?}");
}

#[test]
fn an_arrow_s_length_and_impulse_agree() {
    let robot = cobnut();
    let sheet = Sheet::fit(&robot, View::Side, 1000.0, 640.0);
    for push in [Push::Kick, Push::Bump] {
        let impulse = sheet.arrow_impulse(&robot, push, -120.0);
        assert!(impulse < 0.0);
        assert!((sheet.arrow_length(&robot, push, impulse) - 120.0).abs() < 1e-9);
    }
}

#[test]
fn a_push_s_words_lie_on_the_sheet() {
    everywhere(|robot, sheet| {
        for (push, impulse) in [(Push::Kick, 4.0), (Push::Kick, -4.0), (Push::Bump, 1.5)] {
            let mut sheet = *sheet;
            sheet.arrow = Some(Arrow {
                push,
                impulse,
                height: robot.shell.outer_radius,
                speed: Some(0.24),
                preview: true,
            });
            let mut list = DisplayList::new();
            draw(robot, &Sample::default(), &sheet, &mut list);
            assert!(words_on_the_sheet(&list, "push", &sheet) >= 2);
        }
    });
}

#[test]
fn the_words_of_limits_lie_on_the_sheet() {
    everywhere(|robot, sheet| {
        let sample = Sample {
            flags: !flag::HEAD_LOST,
            ..Sample::default()
        };
        // The page puts its own balloons on the sheet.
        for balloons in [true, false] {
            let mut sheet = *sheet;
            sheet.balloons = balloons;
            let mut list = DisplayList::new();
            draw(robot, &sample, &sheet, &mut list);
            assert_eq!(words_on_the_sheet(&list, "limits", &sheet), 7);
        }
    });
}

/// How many texts a group has; each must lie on the sheet from its first letter to its last.
fn words_on_the_sheet(list: &DisplayList, group: &str, sheet: &Sheet<'_>) -> usize {
    let mut words = 0;
    let mut within = false;
    for item in list.items() {
        match item {
            Item::Group(name) => within = name == group,
            Item::Text { text, at, style } if within => {
                let width = estimated_text_width(text, style.size);
                let (from, to) = match style.align {
                    Align::Start => (at[0], at[0] + width),
                    Align::Middle => (at[0] - 0.5 * width, at[0] + 0.5 * width),
                    Align::End => (at[0] - width, at[0]),
                };
                assert!(from >= 0.0 && to <= sheet.width, "{text}: {from} to {to}");
                words += 1;
            }
            _ => {}
        }
    }
    words
}

#[test]
fn the_camera_never_loses_the_ball() {
    let mut camera = Sheet::fit(&cobnut(), View::Side, 1000.0, 640.0).camera;
    for travel in [0.05, 0.3, -4.0, 100.0] {
        camera.follow(travel, 0.1);
        assert!((camera.x - travel).abs() <= 0.1 + 1e-12);
    }
    camera.follow(f64::NAN, 0.1);
    assert!(camera.x.is_finite());
}

#[test]
fn drawing_again_takes_no_more_room() {
    let robot = cobnut();
    let mut sheet = Sheet::fit(&robot, View::Front, 1000.0, 640.0);
    sheet.balloons = true;
    sheet.layers.forces = true;
    let mut list = DisplayList::new();
    let sample = Sample {
        swing: -0.3,
        tilt: -0.3,
        traction: -1000.0,
        level: 1,
        ..Sample::default()
    };
    for _ in 0..2 {
        draw(&robot, &sample, &sheet, &mut list);
        draw_outline(&robot, &sample, &sheet, 'B', "", &mut list);
    }
    let (room, items) = (list.room(), list.len());
    draw(&robot, &sample, &sheet, &mut list);
    draw_outline(&robot, &sample, &sheet, 'B', "", &mut list);
    assert_eq!((list.room(), list.len()), (room, items));
}

#[test]
fn a_sample_of_non_numbers_still_draws_numbers() {
    let robot = cobnut();
    let mut sheet = Sheet::fit(&robot, View::Side, 1000.0, 640.0);
    sheet.layers = Layers {
        forces: true,
        centres: true,
        trail: true,
        grid: true,
        angles: true,
        lengths: true,
    };
    sheet.wall = Some(f64::INFINITY);
    sheet.trail = &[[f64::NAN, 0.0], [0.0, 0.1], [0.2, 0.1]];
    let nan = f64::NAN;
    let sample = Sample {
        travel: nan,
        roll: nan,
        swing: f64::INFINITY,
        tilt: nan,
        servo: nan,
        slope: nan,
        floor_force: nan,
        traction: nan,
        push: nan,
        ..Sample::default()
    };
    let mut list = DisplayList::new();
    draw(&robot, &sample, &sheet, &mut list);
    let finite = |p: &Point| p[0].is_finite() && p[1].is_finite();
    for item in list.items() {
        match item {
            Item::Path { segments, style } => {
                assert!(style.width.is_finite());
                for segment in segments {
                    let sound = match segment {
                        Segment::Move(p) | Segment::Line(p) => finite(p),
                        Segment::Cubic(a, b, c) => finite(a) && finite(b) && finite(c),
                        Segment::Arc {
                            centre,
                            radius,
                            start,
                            sweep,
                        } => {
                            finite(centre)
                                && *radius >= 0.0
                                && start.is_finite()
                                && sweep.is_finite()
                        }
                        Segment::Close => true,
                    };
                    assert!(sound, "{segment:?}");
                }
            }
            Item::Text { at, style, .. } => assert!(finite(&at) && style.angle.is_finite()),
            Item::Group(_) | Item::End => {}
        }
    }
}

#[test]
fn positive_angles_lead_to_the_right() {
    let robot = cobnut();
    let sheet = Sheet::fit(&robot, View::Side, 1000.0, 640.0);
    let sample = Sample {
        swing: 0.2,
        tilt: 0.2,
        roll: 0.2,
        slope: 0.1,
        servo: 0.4,
        ..Sample::default()
    };
    let pose = pose::Pose::new(&robot, &sample, &sheet);
    let [x, y] = pose.centre();
    assert!(pose.carriage_centre()[0] > x && pose.carriage_centre()[1] > y);
    assert!(pose.head_centre()[0] > x && pose.head_centre()[1] < y);
    // The shell's top rolls to the right; the floor climbs to the right.
    assert!(pose.shell.polar(pose.radius, 0.0)[0] > x);
    assert!(sheet.camera.to_sheet(0.5, 0.0, 0.1)[1] < sheet.camera.floor_y);
    // The ball stands on the slope, its centre uphill's back from the contact.
    let contact = pose.floor.origin;
    assert!((place::distance(contact, [x, y]) - pose.px(pose.radius)).abs() < 1e-9);
    assert!(x < contact[0]);
    // With the servo at swing + tilt the mast stands exactly under the head.
    let (mast, head) = (pose.mast.polar(0.2, 0.0), pose.head.polar(0.2, 0.0));
    assert!(place::distance(mast, head) < 1e-9);
}

/// The floor's marks that are words of this unit: number and place.
fn marks(sheet: &Sheet<'_>, unit: &str) -> Vec<(f64, f64)> {
    let mut list = DisplayList::default();
    draw(&cobnut(), &Sample::default(), sheet, &mut list);
    let mark = |item: Item<'_>| match item {
        Item::Text { text, at, .. } => {
            let number = text.strip_suffix(unit)?.trim_end().replace('\u{2212}', "-");
            Some((number.parse().ok()?, at[0]))
        }
        _ => None,
    };
    list.items().filter_map(mark).collect()
}

#[test]
fn the_floor_is_marked_in_metres_or_in_inches_and_feet() {
    for (width, feet, unit, length) in [
        (1440.0, false, " m", 1.0),
        (1440.0, true, " in", 0.0254),
        (320.0, true, " ft", 0.3048),
    ] {
        let sheet = Sheet {
            feet,
            ..Sheet::fit(&cobnut(), View::Side, width, 0.7 * width)
        };
        let found = marks(&sheet, unit);
        assert!(found.len() >= 2, "{unit}: {found:?}");
        for ((from, left), (to, right)) in found.iter().zip(&found[1..]) {
            let apart = (to - from) * length * sheet.camera.scale;
            assert!((right - left - apart).abs() < 1e-6, "{unit}: {found:?}");
            assert!(apart >= 62.0, "{unit}: {apart} px apart");
        }
        let other = if feet { " m" } else { " ft" };
        assert_eq!(marks(&sheet, other), [], "{unit}");
    }
}
