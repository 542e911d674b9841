//! Where on a knob's track the robot stays steady.

use core::cell::RefCell;

use kickstill_robot::{Kind, Knob, Robot, Scale, View};

use crate::about::About;
use crate::crossing::{root, sign_changes};
use crate::eigen::{C, size, turn};
use crate::model::{Model, NoModel, Prepared};
use crate::pole::Pole;

/// A piece of a knob's track.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Its lower end [the knob's SI unit].
    pub from: f64,
    /// Its upper end.
    pub to: f64,
    /// Whether all motions die away; None where there is no steady motion to look at.
    pub stable: Option<bool>,
}

/// The knobs by which the loop's characteristic polynomial goes in proportion, whatever else there
/// is: each is a factor of one signal. For them edges are found along the unit circle, all of them and
/// exactly; for others by scanning.
const GAINS: &[&str] = &[
    "lean.correction",
    "lean.damping",
    "lean.memory",
    "carriage_loop.correction",
    "carriage_loop.damping",
    "travel.correction",
    "travel.damping",
    "travel.speed",
    "travel.memory",
    "levelling.compensation",
];

/// Up to here above its least value each value of a whole-numbered knob is looked at [steps]: a delay's
/// matrix grows with it, and a robot that bears twelve ticks more has no edge to speak of.
const NEAR: f64 = 12.0;

/// Places at which a track is looked at first.
const SCAN: usize = 33;

/// Width, as a share of the track, to which a scanned edge is found.
const WIDTH: f64 = 1e-5;

/// The spans of `knob`'s whole track, side by side, with all other knobs of `robot` as they stand.
///
/// # Errors
/// [`NoModel`] if there is none anywhere on the track.
pub fn stable_spans(
    robot: &Robot,
    view: View,
    about: &About,
    knob: &Knob,
) -> Result<Vec<Span>, NoModel> {
    Track::new(robot, view, about, knob).stable_spans()
}

/// The motion that neither dies nor grows at the end of a span: the pole nearest the unit circle with
/// the knob at `value`.
///
/// # Errors
/// See [`NoModel`].
pub fn pole_at(
    robot: &Robot,
    view: View,
    about: &About,
    knob: &Knob,
    value: f64,
) -> Result<Option<Pole>, NoModel> {
    let track = Track::new(robot, view, about, knob);
    let nearest = |value: f64| -> Result<Option<Pole>, NoModel> {
        let poles = track.model(value)?.poles()?;
        Ok(poles
            .into_iter()
            .min_by(|a, b| a.growth.abs().total_cmp(&b.growth.abs())))
    };
    if knob.kind == Kind::Number || value == value.round() {
        return nearest(value);
    }
    // Between two whole numbers: that of the unstable side.
    let side = |value: f64| track.excess(value).unwrap_or(f64::NEG_INFINITY);
    let (below, above) = (value.floor(), value.ceil());
    let unstable = if side(below) > side(above) {
        below
    } else {
        above
    };
    Ok(track.model(unstable)?.poles()?.into_iter().next())
}

/// One knob's track of a robot.
pub(crate) struct Track<'a> {
    /// Its knob is put where it is looked at.
    robot: RefCell<Robot>,
    pub(crate) view: View,
    pub(crate) about: &'a About,
    pub(crate) knob: &'a Knob,
    /// Of a knob that the plant does not have.
    plant: Option<Prepared>,
}

/// Sections whose knobs are the software's alone: the plant and its steady motion do not have them.
const SOFTWARE: &[&str] = &["lean.", "travel.", "carriage_loop.", "sensing."];

impl<'a> Track<'a> {
    pub(crate) fn new(robot: &Robot, view: View, about: &'a About, knob: &'a Knob) -> Self {
        let software =
            SOFTWARE.iter().any(|s| knob.key.starts_with(s)) || knob.key == "timing.delay_ticks";
        let plant = software
            .then(|| Prepared::new(robot, view, about).ok())
            .flatten();
        Self {
            robot: RefCell::new(robot.clone()),
            view,
            about,
            knob,
            plant,
        }
    }

    /// Works on a robot's copy with the knob at a value.
    pub(crate) fn with<T>(&self, value: f64, work: impl FnOnce(&Robot) -> T) -> T {
        let mut robot = self.robot.borrow_mut();
        (self.knob.put)(&mut robot, value);
        work(&robot)
    }

    /// Looks at the robot as its knob was last put.
    pub(crate) fn with_own<T>(&self, work: impl FnOnce(&Robot) -> T) -> T {
        work(&self.robot.borrow())
    }

    pub(crate) fn model(&self, value: f64) -> Result<Model, NoModel> {
        self.with(value, |robot| match &self.plant {
            Some(plant) => Model::prepared(plant, robot, self.view, self.about, None),
            None => Model::new(robot, self.view, self.about),
        })
    }

    /// Spectral radius less 1.
    pub(crate) fn excess(&self, value: f64) -> Option<f64> {
        Some(self.model(value).ok()?.spectral_radius().ok()? - 1.0)
    }

    pub(crate) fn stable(&self, value: f64) -> Option<bool> {
        Some(self.excess(value)? < 0.0)
    }

    pub(crate) fn stable_spans(&self) -> Result<Vec<Span>, NoModel> {
        let spans = if GAINS.contains(&self.knob.key) {
            self.gain_spans()?
        } else if self.knob.kind == Kind::Number {
            self.scanned_spans()
        } else {
            self.whole_spans()
        };
        if spans.iter().all(|s| s.stable.is_none()) {
            self.model(self.knob.min)?;
        }
        Ok(spans)
    }

    /// Share of the track at a value.
    pub(crate) fn share(&self, value: f64) -> f64 {
        let (min, max) = (self.knob.min, self.knob.max);
        match self.knob.scale {
            Scale::Linear => (value - min) / (max - min),
            Scale::Logarithmic => libm::log(value / min) / libm::log(max / min),
        }
    }

    /// Value at a share of the track.
    pub(crate) fn at(&self, share: f64) -> f64 {
        let (min, max) = (self.knob.min, self.knob.max);
        match self.knob.scale {
            Scale::Linear => min + share * (max - min),
            Scale::Logarithmic => min * libm::exp(share * libm::log(max / min)),
        }
    }

    /// With det(z − A) = D₀ + (k − k₀)/(k₁ − k₀)·(D₁ − D₀), a pole stands on the unit circle at
    /// z = e^(jφ) just when k = k₀ + (k₁ − k₀)/(1 − q) is real, q = D₁/D₀, a ratio of products over
    /// poles.
    fn gain_spans(&self) -> Result<Vec<Span>, NoModel> {
        let (min, max) = (self.knob.min, self.knob.max);
        // Inside the track, where no part of the loop drops out.
        let (k0, k1) = (min + 0.37 * (max - min), min + 0.71 * (max - min));
        let (first, second) = (
            self.model(k0)?.eigenvalues()?,
            self.model(k1)?.eigenvalues()?,
        );
        let ratio = |phi: f64| {
            let z = turn(phi);
            let mut q = C::new(1.0, 0.0);
            for (a, b) in first.iter().zip(&second) {
                q *= (z - b) / (z - a);
            }
            q
        };
        let gain = |q: C| k0 + (k1 - k0) / (1.0 - q.re);
        let mut edges = vec![gain(ratio(0.0)), gain(ratio(core::f64::consts::PI))];
        let grid = angles(&[&first, &second]);
        edges.extend(
            sign_changes(&grid, |phi| ratio(phi).im)
                .into_iter()
                .map(|phi| gain(ratio(phi))),
        );
        edges.retain(|k| k.is_finite() && *k > min && *k < max);
        edges.sort_by(f64::total_cmp);
        edges.push(max);
        let mut spans = Vec::new();
        let mut from = min;
        for to in edges {
            if to - from > 1e-9 * (max - min) {
                push(&mut spans, from, to, self.stable(0.5 * (from + to)));
                from = to;
            }
        }
        if let Some(last) = spans.last_mut() {
            last.to = max;
        }
        Ok(spans)
    }

    /// Each value of a short track; of a long one each up to [`NEAR`], further on some, and all between
    /// two that differ. A value's span goes half way to the next.
    fn whole_spans(&self) -> Vec<Span> {
        let (min, max) = (self.knob.min, self.knob.max);
        let count = (max - min).round().min(1e9);
        let mut seen: Vec<(f64, Option<bool>)> = Vec::new();
        let mut at = 0.0;
        while at < count {
            seen.push((at, self.stable(min + at)));
            at = if at < NEAR {
                at + 1.0
            } else {
                (at * 1.4).ceil()
            };
        }
        seen.push((count, self.stable(max)));
        let mut spans = Vec::new();
        let mut from = min;
        for pair in seen.windows(2) {
            let ((mut a, state), (mut b, other)) = (pair[0], pair[1]);
            if state == other {
                continue;
            }
            while b - a > 1.0 {
                let middle = (0.5 * (a + b)).floor();
                if self.stable(min + middle) == state {
                    a = middle;
                } else {
                    b = middle;
                }
            }
            let to = min + 0.5 * (a + b);
            push(&mut spans, from, to, state);
            from = to;
        }
        push(&mut spans, from, max, seen.last().and_then(|s| s.1));
        spans
    }

    fn scanned_spans(&self) -> Vec<Span> {
        let (min, max) = (self.knob.min, self.knob.max);
        let matrix = |value| self.model(value).ok().map(|m| m.sampled);
        // A knob that changes nothing here needs one look only.
        if matrix(self.at(0.0)) == matrix(self.at(1.0))
            && matrix(self.at(0.43)) == matrix(self.at(1.0))
        {
            return vec![Span {
                from: min,
                to: max,
                stable: self.stable(max),
            }];
        }
        let mut seen: Vec<(f64, Option<f64>)> = (0..SCAN)
            .map(|i| i as f64 / (SCAN - 1) as f64)
            .map(|share| (share, self.excess(self.at(share))))
            .collect();
        self.look_at_turns(&mut seen);
        let mut spans = Vec::new();
        let mut from = min;
        for pair in seen.windows(2) {
            let ((a, ya), (b, yb)) = (pair[0], pair[1]);
            let state = |y: Option<f64>| y.map(|y| y < 0.0);
            if state(ya) == state(yb) {
                continue;
            }
            let edge = match (ya, yb) {
                (Some(_), Some(_)) => root(a, b, WIDTH, |share| {
                    self.excess(self.at(share)).unwrap_or(f64::NAN)
                }),
                _ => self.halve(a, b, ya.is_some()),
            };
            let to = self.at(edge.unwrap_or(0.5 * (a + b)));
            push(&mut spans, from, to, state(ya));
            from = to;
        }
        let last = seen.last().and_then(|(_, y)| y.map(|y| y < 0.0));
        push(&mut spans, from, max, last);
        spans
    }

    /// Between two places of like sign the edge may be crossed twice: where the curve turns back
    /// close to it, looks between.
    fn look_at_turns(&self, seen: &mut Vec<(f64, Option<f64>)>) {
        let mut more = Vec::new();
        for trio in seen.windows(3) {
            let [(a, Some(ya)), (b, Some(yb)), (c, Some(yc))] = *trio else {
                continue;
            };
            let turns = (yb - ya) * (yc - yb) < 0.0;
            let towards = (yb.abs() < ya.abs()) && (yb.abs() < yc.abs());
            if turns && towards && ya * yb > 0.0 && yb * yc > 0.0 {
                // Vertex of the parabola through the three.
                let (left, right) = ((b - a) * (yb - yc), (b - c) * (yb - ya));
                let vertex = b - 0.5 * ((b - a) * left - (b - c) * right) / (left - right);
                if vertex > a && vertex < c && vertex != b {
                    more.push((vertex, self.excess(self.at(vertex))));
                }
            }
        }
        seen.extend(more);
        seen.sort_by(|x, y| x.0.total_cmp(&y.0));
    }

    fn halve(&self, mut a: f64, mut b: f64, model_at_a: bool) -> Option<f64> {
        while b - a > WIDTH {
            let middle = 0.5 * (a + b);
            if self.model(self.at(middle)).is_ok() == model_at_a {
                a = middle;
            } else {
                b = middle;
            }
        }
        Some(0.5 * (a + b))
    }
}

fn push(spans: &mut Vec<Span>, from: f64, to: f64, stable: Option<bool>) {
    match spans.last_mut() {
        Some(last) if last.stable == stable => last.to = to,
        _ => spans.push(Span { from, to, stable }),
    }
}

/// Angles from 0 to π along the unit circle, closer where a pole is near it.
pub(crate) fn angles(poles: &[&[C]]) -> Vec<f64> {
    const EVEN: usize = 128;
    let pi = core::f64::consts::PI;
    let mut grid: Vec<f64> = (0..=EVEN).map(|i| pi * i as f64 / EVEN as f64).collect();
    // Even ratios at the slow end, where poles crowd at z = 1.
    grid.extend((0..48).map(|i| pi / EVEN as f64 * libm::exp(-0.25 * f64::from(i))));
    for z in poles.iter().flat_map(|p| p.iter()).filter(|z| z.im >= 0.0) {
        let (at, apart) = (crate::eigen::angle(*z), (1.0 - size(*z)).abs());
        if apart < 0.3 {
            for k in [0.0, 0.15, 0.4, 0.8, 1.5, 3.0] {
                grid.push(at - k * apart);
                grid.push(at + k * apart);
            }
        }
    }
    grid.retain(|phi| *phi > 0.0 && *phi < pi);
    grid.sort_by(f64::total_cmp);
    grid.dedup();
    grid
}
