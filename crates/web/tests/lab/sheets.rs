//! What leaves the simulation on paper or as a file: its form, and that it says what the core says.

use kickstill_rig::Sample;
use kickstill_rig::report::{Origin, gains, gains_header};
use kickstill_robot::{View, demo};
use kickstill_scene::{INK, Layers, Picture, Theme, at_rest, palette};
use kickstill_web::{lab_card, lab_gains, lab_lid, lab_picture, lab_run};
use serde_json::{Value, json};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::ask::{file, js, trial, with};
use crate::js::{assert_is, assert_refused, get, rows, text_of};

fn robot(key: &str) -> Value {
    json!({ "robot": file(key), "date": "2031-05-17", "revision": "C show floor" })
}

#[wasm_bindgen_test]
fn gains_are_what_the_command_line_writes() {
    let out = lab_gains(js(&robot("cobnut")));
    assert_is(&out, "GainsOut");
    assert_is(&get(&out, "origin"), "Origin");
    assert_is(&rows(&get(&out, "rows"))[0], "GainRow");
    assert_is(&rows(&get(&out, "trials"))[0], "CardTrial");
    let cobnut = demo("cobnut").unwrap();
    let origin = Origin::new(&cobnut, "2031-05-17", "C show floor").unwrap();
    let all = gains(&cobnut, &|knob, value| knob.format(value));
    assert_eq!(
        text_of(&out, "header"),
        gains_header(&cobnut, &origin, &all)
    );
    // The files stay in SI units whatever the page is read in.
    let mut inches = robot("cobnut");
    inches["inches"] = true.into();
    let other = lab_gains(js(&inches));
    assert_eq!(text_of(&other, "csv"), text_of(&out, "csv"));
    let mut undated = robot("cobnut");
    undated["date"] = "soon".into();
    assert_refused(&lab_gains(js(&undated)), "date");
}

#[wasm_bindgen_test]
fn the_lids_sheet_holds_drawing_settings_trials_and_cautions() {
    let out = lab_lid(js(&robot("thimble")), JsValue::UNDEFINED);
    assert_is(&out, "LidOut");
    for (list, interface) in [("groups", "LidGroup"), ("limits", "LidLimit")] {
        for row in rows(&get(&out, list)) {
            assert_is(&row, interface);
        }
    }
    assert_is(
        &rows(&get(&rows(&get(&out, "groups"))[0], "lines"))[0],
        "LidLine",
    );
    assert!(rows(&get(&out, "cautions")).len() > 1);
    let thimble = demo("thimble").unwrap();
    let drawn = rows(&get(&out, "drawings"));
    let front = at_rest(&thimble, View::Front, [320.0, 310.0], &INK, &|_| None);
    assert_eq!(drawn[1].as_string(), Some(front));
    let mut inches = robot("thimble");
    inches["inches"] = true.into();
    let out = lab_lid(js(&inches), JsValue::UNDEFINED);
    let drawn = rows(&get(&out, "drawings"))[0].as_string().unwrap();
    assert!(drawn.contains(" in</text>") && !drawn.contains(" mm</text>"));
    let mut odd = robot("thimble");
    odd["limits"] = "{}".into();
    assert_refused(&lab_lid(js(&odd), JsValue::UNDEFINED), "limits");
}

#[wasm_bindgen_test]
fn a_card_predicts_what_the_run_gives() {
    let mut ask = robot("thimble");
    ask["trials"] = json!(["stop/side/on", "stop/side/on", "kick/side/off"]);
    let out = lab_card(js(&ask), JsValue::UNDEFINED);
    assert_is(&out, "CardOut");
    let made = rows(&get(&out, "rows"));
    assert_eq!(made.len(), 3);
    let run = lab_run(js(&trial("thimble", "stop", "side", "on")));
    let measures = rows(&get(&run, "measures"));
    for row in &made[..2] {
        assert_is(row, "CardRow");
        assert_is(&rows(&get(row, "given"))[0], "CardGiven");
        let key = text_of(row, "measure");
        let found = measures.iter().find(|m| text_of(m, "key") == key).unwrap();
        assert_eq!(text_of(row, "text"), text_of(found, "text"), "{key}");
    }
    for wrong in [json!("stop"), json!(["stop"]), json!([1]), json!({})] {
        ask["trials"] = wrong;
        assert_refused(&lab_card(js(&ask), JsValue::UNDEFINED), "trials");
    }
    ask["trials"] = json!([]);
    assert!(rows(&get(&lab_card(js(&ask), JsValue::UNDEFINED), "rows")).is_empty());
    ask["variants"] = json!(1e6);
    assert_refused(&lab_card(js(&ask), JsValue::UNDEFINED), "variants");
}

fn ask_picture() -> Value {
    json!({
        "robot": file("cobnut"),
        "view": "side",
        "colours": "day",
        "width": 1200,
        "height": 900,
        "layers": ["angles"],
        "sample": { "time": 1.5, "travel": 0.4, "swing": 0.12, "tilt": -0.03, "slope": 0.02, "speed": 0.3 },
    })
}

#[wasm_bindgen_test]
fn a_picture_is_the_one_the_scene_writes() {
    let cobnut = demo("cobnut").unwrap();
    let sample = Sample {
        time: 1.5,
        travel: 0.4,
        swing: 0.12,
        tilt: -0.03,
        slope: 0.02,
        speed: 0.3,
        ..Sample::default()
    };
    let out = lab_picture(js(&ask_picture()));
    assert_is(&out, "PictureOut");
    let picture = Picture {
        layers: Layers::default(),
        ..Picture::of(View::Side, [1200.0, 900.0])
    };
    assert_eq!(
        text_of(&out, "svg"),
        picture.svg(&cobnut, &sample, palette(Theme::Day))
    );
    // Seen where the whole robot would be anyway, it is the same picture.
    let fit = kickstill_scene::Sheet::fit(&cobnut, View::Side, 1200.0, 900.0).camera;
    let here = kickstill_scene::Camera { x: 0.4, ..fit };
    let ball = here.to_sheet(0.4, cobnut.shell.outer_radius, 0.02);
    let mut seen = ask_picture();
    seen["seen"] =
        json!({ "ballX": ball[0], "ballY": ball[1], "scale": fit.scale, "floorY": fit.floor_y });
    assert_eq!(
        text_of(&lab_picture(js(&seen)), "svg"),
        text_of(&out, "svg")
    );
    // Two metres to the left of it, it is not.
    seen["seen"]["ballX"] = json!(ball[0] - 200.0);
    assert_ne!(
        text_of(&lab_picture(js(&seen)), "svg"),
        text_of(&out, "svg")
    );
}

#[wasm_bindgen_test]
fn hostile_pictures_are_refused_or_drawn_without_what_is_no_number() {
    for (key, value) in [
        ("width", json!(1e9)),
        ("height", json!("900")),
        ("view", json!("top")),
        ("colours", json!("red")),
        ("layers", json!(["angles", "x"])),
        ("layers", json!(7)),
        ("beside", json!("{}")),
        ("robot", json!("")),
    ] {
        let mut ask = ask_picture();
        ask[key] = value;
        assert_refused(&lab_picture(js(&ask)), key);
    }
    let mut ask = ask_picture();
    ask["arrow"] = json!({ "push": "kick", "impulse": 1e300, "height": -1e300 });
    ask["seen"] = json!({ "ballX": 1e300, "ballY": -1e300, "scale": 1e-300, "floorY": 1e300 });
    ask["trail"] = json!([[0, 0], [1e300, 1], ["a", {}], [], 3]);
    ask["layers"] = json!(["trail", "forces", "grid", "centres", "lengths", "angles"]);
    ask["beside"] = file("thimble").into();
    ask["besideLabel"] = "<script>".into();
    for sample in [
        json!({}),
        json!(null),
        json!({ "travel": 1e300, "swing": -1e300 }),
        json!("x"),
    ] {
        ask["sample"] = sample.clone();
        ask["besideSample"] = sample;
        let text = text_of(&lab_picture(js(&ask)), "svg");
        assert!(text.starts_with("<svg ") && !text.contains("NaN") && !text.contains("inf"));
        assert!(!text.contains("<script"));
    }
    let odd = with(&ask_picture(), "sample", &f64::NAN.into());
    assert!(text_of(&lab_picture(odd), "svg").starts_with("<svg "));
}
