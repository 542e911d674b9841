//! The board: both planes of one robot, live.
//!
//! Three calls cross the boundary each frame: [`Board::advance`], [`Board::paint`] for each view
//! shown, [`Board::frame`]; all else is rare.

use js_sys::Float64Array;
use kickstill_number::Within;
use kickstill_rig::{COLUMNS, Level, RunEnd, Sample, scenarios, usual_bump, usual_kick};
use kickstill_robot::{View, demos, knob, read_robot};
use kickstill_scene::{Arrow, DisplayList, Push, Sheet, draw, draw_outline, palette};
use serde::Serialize;
use wasm_bindgen::prelude::*;
use web_sys::CanvasRenderingContext2d;

use crate::desk::{Desk, MOST_KICKS, view_of};
use crate::facts;
use crate::give::{done, object, refused};
use crate::look::Look;
use crate::mode::Mode;
use crate::painter::Painter;
use crate::plane::Plane;
use crate::units::Units;

mod parts;

/// Most device pixels a CSS pixel that are believed.
const MOST_DPR: f64 = 16.0;

/// Both planes of one robot, live.
#[wasm_bindgen]
pub struct Board {
    desk: Desk,
    looks: [Look; 2],
    list: DisplayList,
    painter: Painter,
    numbers: Vec<f64>,
    /// A motion that is shown on the drawn robot.
    mode: Option<Mode>,
}

impl Default for Board {
    fn default() -> Board {
        Board::new()
    }
}

/// A text from the page; anything else counts as an empty one and is refused as such. Taken as a
/// text by the bindings themselves, a thing of another type would be a trap.
fn text(value: &JsValue) -> String {
    value.as_string().unwrap_or_default()
}

/// Numbers from the page, at most so many: one more than what is asked for may have tells a list that is too long.
/// What is no number becomes none.
fn numbers(value: &JsValue, most: u32) -> Vec<f64> {
    let Ok(length) = js_sys::Reflect::get(value, &JsValue::from("length")) else {
        return Vec::new();
    };
    let length = length.as_f64().unwrap_or(0.0).within(0.0, f64::from(most)) as u32;
    (0..length)
        .map(|at| {
            js_sys::Reflect::get_u32(value, at)
                .ok()
                .and_then(|one| one.as_f64())
                .unwrap_or(f64::NAN)
        })
        .collect()
}

/// Numbers of a plane in a frame: its run's, then its columns at the time shown [s].
fn give_plane(plane: &Plane, seconds: f64, level: Level, shown: f64, out: &mut Vec<f64>) {
    let sample = plane.at(shown);
    out.extend([
        seconds,
        f64::from(plane.number()),
        match plane.end() {
            None => 0.0,
            Some(RunEnd::Hop) => 1.0,
            Some(RunEnd::BrownOut) => 2.0,
            Some(RunEnd::Diverged) => 3.0,
        },
        f64::from(level as u8),
    ]);
    out.extend(COLUMNS.iter().map(|column| (column.get)(&sample)));
}

#[wasm_bindgen]
impl Board {
    /// The first demo robot, at rest, motors off.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new() -> Board {
        Board {
            desk: Desk::new(),
            looks: [Look::new(View::Side), Look::new(View::Front)],
            list: DisplayList::new(),
            painter: Painter::new(),
            numbers: Vec::new(),
            mode: None,
        }
    }

    /// Takes in true time [µs]; answers how many controller ticks passed.
    pub fn advance(&mut self, microseconds: f64) -> u32 {
        self.desk.advance(microseconds)
    }

    /// Paints one view on a canvas of `width` × `height` CSS pixels, `dpr` device pixels each.
    /// `layers` is a sum of 1 night, 2 forces, 4 centres, 8 trail, 16 grid, 32 forced colours,
    /// 64 reduced motion.
    pub fn paint(
        &mut self,
        canvas: &CanvasRenderingContext2d,
        plane: u32,
        width: f64,
        height: f64,
        dpr: f64,
        layers: u32,
    ) {
        let Ok(view) = view_of(plane) else { return };
        let sample = self.desk.plane(view).at(self.desk.shown_time(view));
        let look = &mut self.looks[view as usize];
        let plane = self.desk.plane(view);
        let robot = self.desk.robot();
        look.set(width, height, layers);
        look.follow(robot, &sample, plane);
        // The view stays where the run is; what is painted and pointed at is the pose.
        let sample = match &self.mode {
            Some(mode) if mode.view == view => mode.pose(&sample, robot.shell.outer_radius),
            _ => sample,
        };
        look.place(robot, &sample, plane);
        let sheet = Sheet {
            feet: self.desk.units == Units::Inch,
            ..look.sheet(robot, &sample, plane)
        };
        draw(robot, &sample, &sheet, &mut self.list);
        if let (Some(double), Some(plane)) = (self.desk.double(), self.desk.double_plane(view)) {
            let sample = plane.at(self.desk.shown_time(view));
            let list = &mut self.list;
            draw_outline(&double.robot, &sample, &sheet, 'B', &double.label, list);
        }
        let dpr = if dpr.is_finite() {
            dpr.within(0.1, MOST_DPR)
        } else {
            1.0
        };
        let palette = palette(look.theme());
        self.painter.paint(
            canvas,
            &self.list,
            palette,
            look.size(),
            dpr,
            self.desk.units,
        );
    }

    /// All numbers of both planes as they are shown, and where things were painted; see
    /// [`Board::layout`].
    pub fn frame(&mut self) -> Float64Array {
        let out = &mut self.numbers;
        out.clear();
        out.extend([
            self.desk.latest(View::Side),
            self.desk.plane(View::Side).oldest(),
            self.desk.shown_time(View::Side),
            self.desk.backlog(),
        ]);
        for view in [View::Side, View::Front] {
            let plane = self.desk.plane(view);
            let seconds = self.desk.latest(view) - plane.from();
            let shown = self.desk.shown_time(view);
            give_plane(plane, seconds, self.desk.level(), shown, out);
            out.extend(self.looks[view as usize].places());
        }
        for view in [View::Side, View::Front] {
            match (self.desk.double_plane(view), self.desk.double_level()) {
                (Some(plane), Some((level, _))) => {
                    let shown = self.desk.shown_time(view);
                    give_plane(plane, plane.run().1, level, shown, out);
                }
                _ => out.extend([f64::NAN; facts::RUN.len() + COLUMNS.len()]),
            }
        }
        Float64Array::from(out.as_slice())
    }

    /// Where each number of [`Board::frame`] is.
    #[must_use]
    pub fn layout(&self) -> JsValue {
        facts::layout()
    }

    /// Kicks the shell: impulse [N·s] at a height above the floor [m].
    pub fn kick(&mut self, plane: u32, impulse: f64, height: f64) -> JsValue {
        done(view_of(plane).and_then(|view| self.desk.kick(view, impulse, height)))
    }

    /// Bumps the head: impulse [N·s].
    pub fn bump(&mut self, plane: u32, impulse: f64) -> JsValue {
        done(view_of(plane).and_then(|view| self.desk.bump(view, impulse)))
    }

    /// Software level: 0 motors off, 1 locked, 2 steadied.
    pub fn level(&mut self, level: u32) -> JsValue {
        done(self.desk.set_level(level))
    }

    /// Speed lever of the side view, −1 … 1 of its way.
    pub fn speed(&mut self, share: f64) -> JsValue {
        done(self.desk.lever(View::Side, share))
    }

    /// Lean lever of the front view, −1 … 1 of its way.
    pub fn lean(&mut self, share: f64) -> JsValue {
        done(self.desk.lever(View::Front, share))
    }

    /// The emergency stop: motors off and windings shorted, until the switch is used again.
    #[wasm_bindgen(js_name = emergencyStop)]
    pub fn emergency_stop(&mut self) {
        self.desk.emergency_stop();
    }

    /// Puts up a double: this robot with the motors off, whatever the switch says. Both stand at
    /// rest.
    #[wasm_bindgen(js_name = doubleOff)]
    pub fn double_off(&mut self, #[wasm_bindgen(unchecked_param_type = "string")] label: &JsValue) {
        self.desk.double_at(Level::Off, &text(label));
    }

    /// The same with the software on, whatever the switch says.
    #[wasm_bindgen(js_name = doubleOn)]
    pub fn double_on(&mut self, #[wasm_bindgen(unchecked_param_type = "string")] label: &JsValue) {
        self.desk.double_at(Level::Steadied, &text(label));
    }

    /// Takes the drive of a view by hand: duty −1 … 1. Switches the software off; the switch ends it.
    pub fn hand(&mut self, plane: u32, duty: f64) -> JsValue {
        done(view_of(plane).and_then(|view| self.desk.hand(view, duty)))
    }

    /// Kicks to come: times since rest [s], impulses [N·s], heights [m], one after the other; the next `resetRun`
    /// forgets them.
    pub fn plan(
        &mut self,
        plane: u32,
        #[wasm_bindgen(unchecked_param_type = "Float64Array | readonly number[]")] kicks: &JsValue,
    ) -> JsValue {
        let kicks = numbers(kicks, 3 * MOST_KICKS as u32 + 1);
        done(view_of(plane).and_then(|view| self.desk.plan(view, &kicks)))
    }

    /// Puts up the robot of a file as a double: as it was opened, and with its knobs. Both stand
    /// at rest. If a file has errors all stays as it was.
    #[wasm_bindgen(js_name = doubleRobot)]
    pub fn double_robot(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "string")] opened: &JsValue,
        #[wasm_bindgen(unchecked_param_type = "string")] now: &JsValue,
        #[wasm_bindgen(unchecked_param_type = "string")] label: &JsValue,
    ) -> JsValue {
        refused(
            self.desk
                .double_robot(&text(opened), &text(now), &text(label))
                .unwrap_or_else(|problems| problems),
        )
    }

    /// What the double is; nothing without one.
    pub fn doubled(&self) -> JsValue {
        facts::doubled(&self.desk)
    }

    /// Takes the double away; the board's run goes on.
    pub fn undouble(&mut self) {
        self.desk.undouble();
    }

    /// The board's robot becomes the double, by this label, and the double the board's; both
    /// runs go on.
    pub fn swap(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "string")] label: &JsValue,
    ) -> JsValue {
        done(self.desk.swap(&text(label)))
    }

    /// The double's settings and run become the board's.
    #[wasm_bindgen(js_name = becomeDouble)]
    pub fn become_double(&mut self) -> JsValue {
        done(self.desk.become_double())
    }

    /// What the double's run has shown; nothing without one.
    #[wasm_bindgen(js_name = doubleResults)]
    pub fn double_results(&mut self, plane: u32) -> JsValue {
        match view_of(plane) {
            Ok(view) => {
                let units = self.desk.units;
                self.desk
                    .double_plane_mut(view)
                    .map_or(JsValue::UNDEFINED, |plane| facts::results(plane, units))
            }
            Err(problems) => refused(problems),
        }
    }

    /// The double's robot as a file; nothing without a double.
    #[wasm_bindgen(js_name = doubleFile)]
    #[must_use]
    pub fn double_file(&self) -> Option<String> {
        self.desk
            .double()
            .map(|double| kickstill_robot::write_robot(&double.robot))
    }

    /// What makes the live run of a plane again, from rest to now.
    pub fn record(&self, plane: u32) -> JsValue {
        match view_of(plane) {
            Ok(view) => facts::record(self.desk.plane(view)),
            Err(problems) => refused(problems),
        }
    }

    /// Looks this far back [s]; 0 is now.
    pub fn scrub(&mut self, seconds_back: f64) {
        self.desk.scrub(seconds_back);
    }

    /// Both planes at rest again, knobs and software as they are.
    #[wasm_bindgen(js_name = resetRun)]
    pub fn reset_run(&mut self) {
        self.desk.reset_run();
    }

    /// Every knob as the robot was opened; the run goes on.
    #[wasm_bindgen(js_name = resetKnobs)]
    pub fn reset_knobs(&mut self) {
        self.desk.reset_knobs();
    }

    /// One controller tick of both planes.
    #[wasm_bindgen(js_name = tickOnce)]
    pub fn tick_once(&mut self) {
        self.desk.tick();
    }

    /// Shows the arrow of a kick (or bump) being aimed; an impulse that is no number takes it
    /// away.
    pub fn aim(&mut self, plane: u32, bump: bool, impulse: f64, height: f64) {
        let Ok(view) = view_of(plane) else { return };
        let aim = (impulse.is_finite() && height.is_finite()).then(|| Arrow {
            push: if bump { Push::Bump } else { Push::Kick },
            impulse,
            height,
            speed: if bump {
                None
            } else {
                self.desk.kick_speed(impulse, height)
            },
            preview: true,
        });
        self.looks[view as usize].aim(aim);
    }

    /// Shows a motion of the loop on the drawn robot, over the pose it is in: real and imaginary
    /// parts of shell rotation, carriage swing and head tilt, the largest of size 1; frequency [Hz],
    /// growth [1/s], amplitude [rad] of the largest. It begins where [`Board::mode_at`] puts it;
    /// the run knows nothing of it.
    #[wasm_bindgen(js_name = swingMode)]
    pub fn swing_mode(
        &mut self,
        plane: u32,
        #[wasm_bindgen(unchecked_param_type = "Float64Array | readonly number[]")] shape: &JsValue,
        hertz: f64,
        growth: f64,
        amplitude: f64,
    ) -> JsValue {
        let shape = numbers(shape, 7);
        done(view_of(plane).and_then(|view| {
            let mut mode = Mode::new(view, &shape, hertz, growth, amplitude)?;
            // One that is followed while knobs move goes on where it is.
            if let Some(before) = self.mode {
                mode.at(before.time());
            }
            self.mode = Some(mode);
            Ok(())
        }))
    }

    /// Goes to this time after the motion's beginning [s].
    #[wasm_bindgen(js_name = modeAt)]
    pub fn mode_at(&mut self, seconds: f64) {
        if let Some(mode) = &mut self.mode {
            mode.at(seconds);
        }
    }

    /// Shows the robot as it is again.
    pub fn still(&mut self) {
        self.mode = None;
    }

    /// What a pointer touches at a place of the view [CSS px]: `[0 nothing | 1 ball | 2 head,
    /// height above the floor [m]]`. `slack` [px] is how wide the pointer is.
    #[must_use]
    pub fn touch(&self, plane: u32, x: f64, y: f64, slack: f64) -> Float64Array {
        let found = view_of(plane).map_or([0.0; 2], |view| {
            let plane = self.desk.plane(view);
            let sample = plane.at(self.desk.shown_time(view));
            let look = &self.looks[view as usize];
            look.touch(self.desk.robot(), &sample, plane, [x, y], slack)
        });
        Float64Array::from(found.as_slice())
    }

    /// Impulse [N·s] that a drag of this length [CSS px] means, within what a push may have.
    #[must_use]
    pub fn impulse(&self, plane: u32, bump: bool, length: f64) -> f64 {
        match view_of(plane) {
            Ok(view) if length.is_finite() => {
                self.looks[view as usize].impulse(self.desk.robot(), bump, length)
            }
            _ => 0.0,
        }
    }

    /// How far below the shell's centre the carriage's centre of mass would hang [m] if it were
    /// pulled to this place of the view [CSS px], within its knob's range.
    #[must_use]
    pub fn hang(&self, plane: u32, x: f64, y: f64) -> f64 {
        let (Ok(view), Some(knob)) = (view_of(plane), knob("carriage.below_centre")) else {
            return f64::NAN;
        };
        let plane = self.desk.plane(view);
        let sample = plane.at(self.desk.shown_time(view));
        let look = &self.looks[view as usize];
        let below = look.below(self.desk.robot(), &sample, plane, [x, y]);
        let step = self.desk.units.step(knob);
        ((below / step).round() * step).within(knob.min, knob.max)
    }

    /// Says lengths and masses in inches and pounds, or metric.
    pub fn inches(&mut self, inches: bool) {
        self.desk.units = if inches { Units::Inch } else { Units::Metric };
    }

    /// The knob catalogue, in the units shown.
    #[must_use]
    pub fn catalogue(&self) -> JsValue {
        facts::knobs(self.desk.units)
    }

    /// Keys and names of the demo robots. The page has their files.
    #[must_use]
    pub fn demos(&self) -> JsValue {
        #[derive(Serialize)]
        struct DemoOut {
            key: &'static str,
            name: &'static str,
        }
        let rows: Vec<DemoOut> = demos()
            .iter()
            .map(|demo| DemoOut {
                key: demo.key,
                name: demo.name,
            })
            .collect();
        object(&rows)
    }

    /// What the page says of the robot.
    #[must_use]
    pub fn facts(&self) -> JsValue {
        let robot = self.desk.robot();
        let kick = [usual_kick(robot); 2];
        let bump = [usual_bump(robot); 2];
        facts::facts(&self.desk, kick, bump, self.desk.plane(View::Side))
    }

    /// What every knob is set to.
    #[must_use]
    pub fn values(&self) -> JsValue {
        facts::values(&self.desk)
    }

    /// Sets a knob [SI]; answers with its new value, or problems.
    #[wasm_bindgen(js_name = setKnob)]
    pub fn set_knob(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "string")] key: &JsValue,
        value: f64,
    ) -> JsValue {
        match self.desk.set_knob(&text(key), value) {
            Ok(knob) => object(&facts::value(&self.desk, knob)),
            Err(problems) => refused(problems),
        }
    }

    /// Sets a knob as typed, such as "4 kg" or "2.5deg".
    #[wasm_bindgen(js_name = typeKnob)]
    pub fn type_knob(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "string")] key: &JsValue,
        #[wasm_bindgen(unchecked_param_type = "string")] typed: &JsValue,
    ) -> JsValue {
        match self.desk.type_knob(&text(key), &text(typed)) {
            Ok(knob) => object(&facts::value(&self.desk, knob)),
            Err(problems) => refused(problems),
        }
    }

    /// Sets a knob by its raw firmware number as typed.
    #[wasm_bindgen(js_name = typeRaw)]
    pub fn type_raw(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "string")] key: &JsValue,
        #[wasm_bindgen(unchecked_param_type = "string")] typed: &JsValue,
    ) -> JsValue {
        match self.desk.type_raw(&text(key), &text(typed)) {
            Ok(knob) => object(&facts::value(&self.desk, knob)),
            Err(problems) => refused(problems),
        }
    }

    /// What the run since the last push has shown, against the run before.
    pub fn results(&mut self, plane: u32) -> JsValue {
        match view_of(plane) {
            Ok(view) => {
                let units = self.desk.units;
                facts::results(self.desk.plane_mut(view), units)
            }
            Err(problems) => refused(problems),
        }
    }

    /// One column's trace since the last push, in the unit people read, the run before's and the
    /// double's: three times count, times [s], values.
    #[must_use]
    pub fn strip(
        &mut self,
        plane: u32,
        #[wasm_bindgen(unchecked_param_type = "string")] column: &JsValue,
    ) -> Float64Array {
        let out = &mut self.numbers;
        out.clear();
        let column = text(column);
        let column = COLUMNS.iter().find(|one| one.key == column);
        match (view_of(plane), column) {
            (Ok(view), Some(column)) => {
                let shown = column.unit.shown().si;
                let plane = self.desk.plane(view);
                let read = |sample: &Sample| (column.get)(sample) / shown;
                plane.strip(read, out);
                match self.desk.double_plane(view) {
                    Some(double) => double.trace_from(plane.from(), read, out),
                    None => out.push(0.0),
                }
            }
            _ => out.extend([0.0; 3]),
        }
        Float64Array::from(out.as_slice())
    }

    /// The robot as a file, with its knobs as they are.
    #[wasm_bindgen(js_name = robotFile)]
    #[must_use]
    pub fn robot_file(&self) -> String {
        self.desk.robot_file()
    }

    /// The robot as a file, as it was opened.
    #[wasm_bindgen(js_name = openedFile)]
    #[must_use]
    pub fn opened_file(&self) -> String {
        self.desk.opened_file()
    }

    /// Puts the robot of a file on the board. If the file has errors the running robot goes on.
    #[wasm_bindgen(js_name = openRobot)]
    pub fn open_robot(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "string")] file: &JsValue,
    ) -> JsValue {
        refused(
            self.desk
                .open(&text(file))
                .unwrap_or_else(|problems| problems),
        )
    }

    /// Puts a remembered robot on the board: as it was opened, and with its knobs.
    pub fn restore(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "string")] opened: &JsValue,
        #[wasm_bindgen(unchecked_param_type = "string")] now: &JsValue,
    ) -> JsValue {
        refused(
            self.desk
                .restore(&text(opened), &text(now))
                .unwrap_or_else(|problems| problems),
        )
    }
}

/// A named scenario and the digest of its run.
#[derive(Serialize)]
struct DigestOut {
    name: String,
    digest: String,
}

/// Runs the named scenarios of a demo robot and gives their digests, to be compared with the
/// committed ones; none if its file is no robot.
#[wasm_bindgen]
#[must_use]
pub fn scenario_digests(key: &str, file: &str) -> JsValue {
    let runs = read_robot(file).map(|(robot, _)| scenarios::scenarios_of(key, &robot));
    let rows: Vec<DigestOut> = runs
        .unwrap_or_default()
        .into_iter()
        .map(|scenario| DigestOut {
            name: scenario.name,
            digest: format!("{:016x}", scenario.digest),
        })
        .collect();
    object(&rows)
}
