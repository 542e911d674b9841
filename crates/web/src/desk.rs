//! The board without its screen: both planes of one robot, knobs, files, levers. Everything
//! that comes from outside is checked here; what is refused changes nothing.

use kickstill_number::{Shortest, Within, shortest};
use kickstill_rig::{Event, Level, Trial, kick_speed};
use kickstill_robot::{
    Bare, Kind, Knob, Problem, Robot, Severity, Unit, View, catalogue, demos, knob,
    makers::firmware, read_robot, validate, write_robot,
};

use crate::plane::{LOOK_BACK, Plane, Push};
use crate::units::Units;

mod double;
mod hand;
mod parts;
pub(crate) use double::Double;
pub(crate) use hand::MOST_KICKS;
pub(crate) use parts::{BODIES, Typed};

/// Longest time taken in at once [µs]: a page that slept must not race to catch up.
const MOST_AT_ONCE: u64 = 1_000_000;
/// Greatest kick or bump as a speed of the whole robot [m/s]: beyond it is no push but a crash.
const HARDEST: f64 = 20.0;

/// The one knob that is an input to a double too.
const SLOPE: &str = "floor.slope";

/// All problems of something that was refused.
pub(crate) type Problems = Vec<Problem>;

/// Both planes of one robot.
pub(crate) struct Desk {
    /// As it was opened: what "knobs as they were" goes back to.
    opened: Robot,
    robot: Robot,
    planes: [Plane; 2],
    /// A second robot under the same inputs.
    double: Option<Box<Double>>,
    level: Level,
    /// True time not yet made into ticks [µs].
    backlog: u64,
    /// Time that each plane has been given [µs]; it goes on where the robot's run has ended.
    clock: [u64; 2],
    /// How far back the board looks [s].
    back: f64,
    /// Levers, as shares of their way.
    levers: [f64; 2],
    /// Kicks to come.
    plan: hand::Plan,
    /// Units in which numbers are said and bare numbers are read.
    pub(crate) units: Units,
}

/// The plane of a number that came from the page.
pub(crate) fn view_of(plane: u32) -> Result<View, Problems> {
    match plane {
        0 => Ok(View::Side),
        1 => Ok(View::Front),
        other => Err(refuse(
            "plane",
            &other.to_string(),
            "0 (side view) or 1 (front view)",
        )),
    }
}

fn index(view: View) -> usize {
    match view {
        View::Side => 0,
        View::Front => 1,
    }
}

fn refuse(path: &str, value: &str, expected: &str) -> Problems {
    vec![
        Problem::error(path, expected)
            .found(value)
            .kept("nothing was changed"),
    ]
}

fn check(path: &str, value: f64, least: f64, most: f64, unit: &str) -> Result<f64, Problems> {
    if value.is_finite() && (least..=most).contains(&value) {
        Ok(value)
    } else {
        let expected = format!(
            "a number from {} to {} {unit}",
            Shortest(least),
            Shortest(most)
        );
        Err(refuse(path, &shortest(value), expected.trim_end()))
    }
}

fn planes(robot: &Robot) -> [Plane; 2] {
    [
        Plane::new(robot, View::Side),
        Plane::new(robot, View::Front),
    ]
}

impl Desk {
    /// The first demo robot, at rest, motors off.
    pub(crate) fn new() -> Desk {
        let robot = demos()
            .first()
            .and_then(|demo| read_robot(demo.text).ok())
            .map_or_else(Robot::default, |(robot, _)| robot);
        Desk::with(robot)
    }

    fn with(robot: Robot) -> Desk {
        Desk {
            planes: planes(&robot),
            double: None,
            opened: robot.clone(),
            robot,
            level: Level::Off,
            backlog: 0,
            clock: [0; 2],
            back: 0.0,
            levers: [0.0; 2],
            plan: hand::Plan::new(),
            units: Units::default(),
        }
    }

    /// Another robot on the same board; its double stays, and stands at rest too.
    fn stand(&mut self, robot: Robot) {
        let units = self.units;
        let double = self.double.take();
        *self = Desk::with(robot);
        self.units = units;
        self.double = double;
        self.double_rests();
    }

    /// What a knob is set to and keeps when something else is refused.
    fn kept(&self, knob: &Knob) -> String {
        format!("{} kept", self.units.knob(knob, (knob.get)(&self.robot)))
    }

    pub(crate) fn robot(&self) -> &Robot {
        &self.robot
    }

    pub(crate) fn opened(&self) -> &Robot {
        &self.opened
    }

    pub(crate) fn level(&self) -> Level {
        self.level
    }

    pub(crate) fn plane(&self, view: View) -> &Plane {
        &self.planes[index(view)]
    }

    pub(crate) fn plane_mut(&mut self, view: View) -> &mut Plane {
        &mut self.planes[index(view)]
    }

    // Time.

    /// Takes in true time and makes whole ticks of it; answers how many.
    pub(crate) fn advance(&mut self, microseconds: f64) -> u32 {
        if microseconds.is_nan() || microseconds <= 0.0 {
            return 0;
        }
        self.backlog += (microseconds as u64).min(MOST_AT_ONCE);
        let mut ticks = 0;
        loop {
            // Asked anew each time: the loop rate is a knob too.
            let tick = self.planes[0].tick_us();
            if self.backlog < tick {
                return ticks;
            }
            self.backlog -= tick;
            self.tick();
            ticks += 1;
        }
    }

    /// One controller tick of both planes.
    pub(crate) fn tick(&mut self) {
        self.kick_as_planned();
        for (plane, clock) in self.planes.iter_mut().zip(&mut self.clock) {
            plane.tick();
            *clock = if plane.ended() {
                *clock + plane.tick_us()
            } else {
                plane.time_us()
            };
        }
        if let Some(double) = &mut self.double {
            double.keep_up(self.clock);
        }
    }

    /// Looks this far back [s].
    pub(crate) fn scrub(&mut self, seconds: f64) {
        self.back = if seconds.is_finite() {
            seconds.within(0.0, LOOK_BACK)
        } else {
            0.0
        };
    }

    /// Time of the last tick of a plane [s]; where the robot's run has ended and its double's
    /// goes on, the double's.
    pub(crate) fn latest(&self, view: View) -> f64 {
        let plane = self.plane(view);
        match self.double_plane(view) {
            Some(double) if plane.ended() => plane.now().max(double.now()),
            _ => plane.now(),
        }
    }

    /// The time that a plane shows [s]: one tick behind the last, so that there is always a tick
    /// to go to while the screen is faster than the controller. With a double, its slower tick.
    pub(crate) fn shown_time(&self, view: View) -> f64 {
        let plane = self.plane(view);
        let now = self.latest(view);
        if self.back > 0.0 {
            return (now - self.back).max(plane.oldest());
        }
        let going = |plane: &&Plane| !plane.ended();
        let tick = [Some(plane), self.double_plane(view)]
            .into_iter()
            .flatten()
            .filter(going)
            .map(Plane::tick_us)
            .max();
        let Some(tick) = tick else { return now };
        let rest = self.backlog as f64 / 1e6;
        (now - tick as f64 / 1e6 + rest).within(plane.oldest(), now)
    }

    /// True time not yet made into ticks [s].
    pub(crate) fn backlog(&self) -> f64 {
        self.backlog as f64 / 1e6
    }

    // Acts.

    pub(crate) fn kick(&mut self, view: View, impulse: f64, height: f64) -> Result<(), Problems> {
        let (impulse, height) = self.check_kick(impulse, height)?;
        let push = Push {
            trial: Trial::Kick,
            impulse,
            height,
        };
        self.push(view, push, [Event::Kick { impulse, height }; 2]);
        Ok(())
    }

    pub(crate) fn bump(&mut self, view: View, impulse: f64) -> Result<(), Problems> {
        let most = HARDEST * self.robot.total_mass();
        let impulse = check("bump", impulse, -most, most, "N·s")?;
        let push = Push {
            trial: Trial::Bump,
            impulse,
            height: 0.0,
        };
        self.push(view, push, [Event::Bump { impulse }; 2]);
        Ok(())
    }

    fn check_kick(&self, impulse: f64, height: f64) -> Result<(f64, f64), Problems> {
        let most = HARDEST * self.robot.total_mass();
        let tall = 2.0 * self.robot.shell.outer_radius;
        let mut problems = Vec::new();
        let impulse =
            check("kick impulse", impulse, -most, most, "N·s").unwrap_or_else(|mut found| {
                problems.append(&mut found);
                0.0
            });
        let height = check("kick height", height, 0.0, tall, "m").unwrap_or_else(|mut found| {
            problems.append(&mut found);
            0.0
        });
        if problems.is_empty() {
            Ok((impulse, height))
        } else {
            Err(problems)
        }
    }

    /// Speed that such a kick gives [m/s], if it may be given.
    pub(crate) fn kick_speed(&self, impulse: f64, height: f64) -> Option<f64> {
        let (impulse, height) = self.check_kick(impulse, height).ok()?;
        Some(kick_speed(&self.robot, impulse, height))
    }

    pub(crate) fn set_level(&mut self, level: u32) -> Result<(), Problems> {
        let level = match level {
            0 => Level::Off,
            1 => Level::Locked,
            2 => Level::Steadied,
            other => {
                let expected = "0 (motors off), 1 (locked) or 2 (steadied)";
                return Err(refuse("software", &other.to_string(), expected));
            }
        };
        self.level = level;
        for plane in &mut self.planes {
            plane.apply(Event::Level(level));
        }
        if let Some(double) = &mut self.double {
            double.switch(level);
        }
        Ok(())
    }

    /// The emergency stop: motors off and windings shorted, until the switch is used again.
    pub(crate) fn emergency_stop(&mut self) {
        self.level = Level::Off;
        for view in [View::Side, View::Front] {
            self.apply(view, [Event::EmergencyStop; 2]);
        }
    }

    /// Hands in what begins a run: the robot's event and its double's.
    fn push(&mut self, view: View, push: Push, [event, doubles]: [Event; 2]) {
        let at = index(view);
        self.planes[at].push(push, event);
        if let Some(double) = &mut self.double {
            double.planes[at].push(push, doubles);
        }
    }

    /// Hands in what goes on within a run: the robot's event and its double's.
    fn apply(&mut self, view: View, [event, doubles]: [Event; 2]) {
        let at = index(view);
        self.planes[at].apply(event);
        if let Some(double) = &mut self.double {
            double.planes[at].apply(doubles);
        }
    }

    /// Moves the speed lever (side view) or the lean lever (front view): −1 … 1 of its way.
    pub(crate) fn lever(&mut self, view: View, share: f64) -> Result<(), Problems> {
        let path = match view {
            View::Side => "speed lever",
            View::Front => "lean lever",
        };
        let share = check(path, share, -1.0, 1.0, "")?;
        let at = index(view);
        let before = std::mem::replace(&mut self.levers[at], share);
        let events = self.lever_events(view, share);
        let trial = match (before == 0.0, share == 0.0) {
            (true, false) => Trial::Start,
            (false, true) => Trial::Stop,
            _ => {
                self.apply(view, events);
                return Ok(());
            }
        };
        // Where nothing moves any more no run begins.
        if self.level == Level::Steadied && !self.planes[at].ended() {
            let push = Push {
                trial,
                impulse: 0.0,
                height: 0.0,
            };
            self.push(view, push, events);
        } else {
            self.apply(view, events);
        }
        Ok(())
    }

    /// What a lever asks of the robot and of its double: each has its own way's end.
    fn lever_events(&self, view: View, share: f64) -> [Event; 2] {
        let of = |robot: &Robot| match view {
            View::Side => Event::Speed(share * robot.travel.lever_speed),
            View::Front => Event::Lean(share * robot.lean.lever_lean),
        };
        let double = self
            .double
            .as_ref()
            .map_or(&self.robot, |double| &double.robot);
        [of(&self.robot), of(double)]
    }

    /// Both planes at rest again, with the knobs and the software as they are.
    pub(crate) fn reset_run(&mut self) {
        self.levers = [0.0; 2];
        self.plan.clear();
        self.backlog = 0;
        self.clock = [0; 2];
        self.back = 0.0;
        for plane in &mut self.planes {
            plane.restart(&self.robot, self.level);
        }
        self.double_rests();
    }

    // Knobs and files.

    /// Every knob as the robot was opened; the run goes on.
    pub(crate) fn reset_knobs(&mut self) {
        for knob in catalogue() {
            let value = (knob.get)(&self.opened);
            if value != (knob.get)(&self.robot) {
                (knob.put)(&mut self.robot, value);
                self.turn(knob, value);
            }
        }
    }

    pub(crate) fn set_knob(&mut self, key: &str, value: f64) -> Result<&'static Knob, Problems> {
        let knob = find(key)?;
        self.put(knob, value, &self.units.knob(knob, value))?;
        Ok(knob)
    }

    /// As typed: with its unit, or a bare number in the unit shown, or a choice's word.
    pub(crate) fn type_knob(&mut self, key: &str, text: &str) -> Result<&'static Knob, Problems> {
        let knob = find(key)?;
        let kept = || self.kept(knob);
        let value = match knob.kind {
            Kind::Choice(words) => {
                let typed = text.trim().to_ascii_lowercase();
                words
                    .iter()
                    .position(|word| *word == typed)
                    .map(|at| at as f64)
            }
            _ => match knob
                .unit
                .parse(&self.units.completed(knob.unit, text), Bare::Shown)
            {
                Ok(value) => Some(value),
                Err(wrong) => {
                    return Err(vec![
                        Problem::error(key, wrong.expected)
                            .found(text)
                            .hint(wrong.hint)
                            .kept(kept()),
                    ]);
                }
            },
        };
        match value {
            Some(value) => self.put(knob, value, text)?,
            None => {
                return Err(vec![
                    Problem::error(key, knob.expectation())
                        .found(text)
                        .kept(kept()),
                ]);
            }
        }
        Ok(knob)
    }

    /// By the maker's raw firmware number, as typed.
    pub(crate) fn type_raw(&mut self, key: &str, text: &str) -> Result<&'static Knob, Problems> {
        let knob = find(key)?;
        let number = Unit::One.parse(text, Bare::Si).ok();
        let value = number.and_then(|raw| firmware::physical(&self.robot, key, raw));
        match value {
            Some(value) => self.put(knob, value, text)?,
            None => {
                let kept = self.kept(knob);
                let unit = firmware::form(key).map_or("none for this knob", |form| form.unit());
                return Err(vec![
                    Problem::error(key, format!("a firmware number ({unit})"))
                        .found(text)
                        .kept(kept),
                ]);
            }
        }
        Ok(knob)
    }

    fn put(&mut self, knob: &'static Knob, value: f64, given: &str) -> Result<(), Problems> {
        let mut changed = self.robot.clone();
        if let Err(refusal) = knob.set(&mut changed, value) {
            let mut problem = knob.problem(&self.robot, refusal, given);
            problem.kept = self.kept(knob);
            if let Some(range) = self.units.range(knob) {
                problem.expected = range;
            }
            return Err(vec![problem]);
        }
        let kept = self.kept(knob);
        let errors: Problems = validate(&changed)
            .into_iter()
            .filter(|problem| problem.severity == Severity::Error)
            .map(|problem| problem.kept(kept.clone()))
            .collect();
        if !errors.is_empty() {
            return Err(errors);
        }
        self.robot = changed;
        let value = (knob.get)(&self.robot);
        self.turn(knob, value);
        Ok(())
    }

    /// Tells both rigs; a lever held while its end is moved asks for its new end.
    fn turn(&mut self, knob: &'static Knob, value: f64) {
        for plane in &mut self.planes {
            plane.apply(Event::Knob(knob, value));
        }
        // The floor's slope is no setting of a robot: both stand on it.
        if knob.key == SLOPE
            && let Some(double) = &mut self.double
        {
            double.tilt(knob, value);
        }
        for view in [View::Side, View::Front] {
            let share = self.levers[index(view)];
            if share != 0.0 {
                self.apply(view, self.lever_events(view, share));
            }
        }
    }

    /// The robot as a file, with its knobs as they are.
    pub(crate) fn robot_file(&self) -> String {
        write_robot(&self.robot)
    }

    /// The robot as a file, as it was opened.
    pub(crate) fn opened_file(&self) -> String {
        write_robot(&self.opened)
    }

    /// Puts another robot on the board; answers with remarks on it.
    pub(crate) fn open(&mut self, text: &str) -> Result<Problems, Problems> {
        let (robot, warnings) = read_robot(text)?;
        self.stand(robot);
        Ok(warnings)
    }

    /// A robot as remembered: as it was opened, and with its knobs.
    pub(crate) fn restore(&mut self, opened: &str, now: &str) -> Result<Problems, Problems> {
        let (opened, _) = read_robot(opened)?;
        let (robot, warnings) = read_robot(now)?;
        self.stand(robot);
        self.opened = opened;
        Ok(warnings)
    }
}

fn find(key: &str) -> Result<&'static Knob, Problems> {
    knob(key).ok_or_else(|| refuse(key, key, "a key of the knob catalogue"))
}
