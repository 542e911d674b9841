//! The linear optimum: gains by the discrete Riccati equation, put on the structure that the firmware has.

use kickstill_robot::{Robot, View, knob};
use nalgebra::DMatrix;

use crate::about::About;
use crate::model::{Model, NoModel};
use crate::plant::{RATE, ROLL, SWING, TILT};
use crate::tick::{Break, Cut};

/// What counts as much: departures of this size weigh 1 each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights {
    /// Swing (side view) or shell lean (front view) [rad].
    pub lean: f64,
    /// Swing rate or lean rate [rad/s].
    pub rate: f64,
    /// Shell turning speed, side view [rad/s].
    pub speed: f64,
    /// Shell rotation from where it was (side view), or lean summed up over time (front view) [rad, rad·s]: what
    /// memory is for. Infinite: no memory.
    pub travel: f64,
    /// Head tilt [rad].
    pub tilt: f64,
    /// Duty (side view) or carriage target [rad] (front view).
    pub effort: f64,
}

impl Default for Weights {
    /// Two degrees of swing, lean or tilt against a third of the duty; a judgement, from the demos.
    fn default() -> Self {
        Self {
            lean: 0.035,
            rate: 0.3,
            speed: 0.5,
            travel: 0.6,
            tilt: 0.07,
            effort: 0.35,
        }
    }
}

/// Gains by the linear optimum.
#[derive(Clone, Debug, PartialEq)]
pub struct Optimum {
    /// Knobs by key with their values [SI], within their ranges.
    pub gains: Vec<(&'static str, f64)>,
    /// The same before they were put on the firmware's structure: gains on θ (side view: its rotation; front view: the
    /// lean), α, β, θ̇, α̇, β̇, servo position.
    pub full: [f64; 7],
    /// Greatest |z| of the loop with the full gains.
    pub full_radius: f64,
    /// Greatest |z| of the robot with `gains`.
    pub radius: f64,
    /// Size of effort that weighed 1 in the end: less than asked for where that was too bold for the delay and the
    /// signals there are.
    pub effort: f64,
}

/// Rounds of less effort until the robot is steady with the gains.
const ROUNDS: u32 = 14;
/// By which factor each time.
const SOFTER: f64 = 0.7;

/// The gains of `robot`'s own loop in the plane of `view` that are best for `weights`, standing, without friction and
/// dead band: discrete linear-quadratic regulator of plant, head loop and delay, then the gains on the signals that the
/// firmware has whose output comes nearest to it in the motions that follow a kick and a bump (R. L. Kosut,
/// IEEE Trans. Automatic Control 15, 1970: minimum error excitation). Side view: correction, damping, speed, memory;
/// front view: lean correction, damping and, if `weights.travel` is finite and the robot has any, memory, over the
/// carriage loop as it stands. Smoothing stays as it is.
///
/// # Errors
/// [`NoModel`]; [`NoModel::NotFinite`] where the Riccati equation has no stabilising solution.
pub fn optimum(robot: &Robot, view: View, weights: &Weights) -> Result<Optimum, NoModel> {
    let mut best: Option<Optimum> = None;
    let mut weights = *weights;
    for _ in 0..ROUNDS {
        if let Ok(found) = attempt(robot, view, &weights) {
            if found.radius < 1.0 {
                return Ok(found);
            }
            if best.as_ref().is_none_or(|b| found.radius < b.radius) {
                best = Some(found);
            }
        }
        weights.effort *= SOFTER;
    }
    best.ok_or(NoModel::NotFinite)
}

/// The loop without its own gains: state, input, and the rows that are weighed or fed back.
struct Design {
    a: DMatrix<f64>,
    b: DMatrix<f64>,
    /// Places of θ or ∫θ or what stands for them, α, β, rates, servo.
    places: [usize; 7],
    /// Place of ∫θ (front view).
    sum: Option<usize>,
}

fn design(robot: &Robot, view: View, memory: bool) -> Result<Design, NoModel> {
    let mut bare = robot.clone();
    let (at, sums) = match view {
        View::Side => {
            let t = &mut bare.travel;
            (t.correction, t.damping, t.speed, t.memory) = (0.0, 0.0, 0.0, 0.0);
            (Cut::Computed, true)
        }
        View::Front => {
            let l = &mut bare.lean;
            (l.correction, l.damping, l.memory) = (0.0, 0.0, 0.0);
            (Cut::At(Break::CarriageTarget), memory)
        }
    };
    let model = Model::cut(&bare, view, &About::default(), Some(at))?;
    let s = &model.sampled;
    let n = s.a.len();
    let size = n + usize::from(sums);
    let mut a = DMatrix::zeros(size, size);
    let mut b = DMatrix::zeros(size, 1);
    for i in 0..n {
        for j in 0..n {
            a[(i, j)] = s.a[i][j];
        }
        b[(i, 0)] = s.b[i];
    }
    let (roll, sum) = match (view, s.roll) {
        // θ⁺ = θ + (θ⁺ − θ), which depends on all but θ.
        (View::Side, _) => {
            for j in 0..n {
                a[(n, j)] = s.advance[j];
            }
            a[(n, n)] = 1.0;
            (n, None)
        }
        (View::Front, Some(roll)) => {
            if sums {
                a[(n, roll)] = model.step;
                a[(n, n)] = 1.0;
            }
            (roll, sums.then_some(n))
        }
        (View::Front, None) => return Err(NoModel::NotFinite),
    };
    let place = |i: usize| s.swing + i - SWING;
    Ok(Design {
        a,
        b,
        places: [
            roll,
            place(SWING),
            place(TILT),
            place(RATE + ROLL),
            place(RATE + SWING),
            place(RATE + TILT),
            place(RATE + TILT + 1),
        ],
        sum,
    })
}

fn attempt(robot: &Robot, view: View, weights: &Weights) -> Result<Optimum, NoModel> {
    let lasting = weights.travel.is_finite();
    let memory = match view {
        View::Side => lasting,
        View::Front => lasting && robot.lean.memory > 0.0,
    };
    let mut d = design(robot, view, memory)?;
    if view == View::Side && !memory {
        // θ is the last, and nothing depends on it.
        let last = d.a.nrows() - 1;
        d.a = d.a.remove_row(last).remove_column(last);
        d.b = d.b.remove_row(last);
    }
    let n = d.a.nrows();
    let [roll, swing, tilt, roll_rate, swing_rate, ..] = d.places;
    let mut q = DMatrix::zeros(n, n);
    let mut weigh = |place: usize, size: f64| {
        if size.is_finite() && size > 0.0 {
            q[(place, place)] += 1.0 / (size * size);
        }
    };
    weigh(tilt, weights.tilt);
    match view {
        View::Side => {
            weigh(swing, weights.lean);
            weigh(swing_rate, weights.rate);
            weigh(roll_rate, weights.speed);
            if memory {
                weigh(roll, weights.travel);
            }
        }
        View::Front => {
            weigh(roll, weights.lean);
            weigh(roll_rate, weights.rate);
            if let Some(sum) = d.sum {
                weigh(sum, weights.travel);
            }
        }
    }
    let r = DMatrix::from_element(1, 1, 1.0 / (weights.effort * weights.effort));
    let (_, k) = solve(&d.a, &d.b, &q, &r).ok_or(NoModel::NotFinite)?;
    let closed = &d.a - &d.b * &k;

    // Motions after a kick on the shell and a bump on the head.
    let mut spread = DMatrix::zeros(n, n);
    for (place, size) in [(roll_rate, 1.0), (d.places[5], 0.5), (swing_rate, 0.3)] {
        spread[(place, place)] = size * size;
    }
    let motions = summed(&closed, &spread).ok_or(NoModel::NotFinite)?;
    let mut signals = match view {
        View::Side => vec![
            ("travel.correction", swing),
            ("travel.damping", swing_rate),
            ("travel.speed", roll_rate),
        ],
        View::Front => vec![("lean.correction", roll), ("lean.damping", roll_rate)],
    };
    match (view, d.sum) {
        (View::Side, _) if memory => signals.push(("travel.memory", roll)),
        (View::Front, Some(sum)) => signals.push(("lean.memory", sum)),
        _ => {}
    }
    let nearest = project(&k, &motions, &signals).ok_or(NoModel::NotFinite)?;

    let mut tuned = robot.clone();
    let mut gains = Vec::new();
    for ((key, _), value) in signals.iter().zip(nearest) {
        let knob = knob(key).ok_or(NoModel::NotFinite)?;
        let value = value.max(knob.min).min(knob.max);
        gains.push((knob.key, value));
        (knob.put)(&mut tuned, value);
    }
    if view == View::Side && !memory {
        tuned.travel.memory = 0.0;
        gains.push(("travel.memory", 0.0));
    }
    let rows: Vec<Vec<f64>> = (0..n)
        .map(|i| closed.row(i).iter().copied().collect())
        .collect();
    let radius = |values: Vec<crate::eigen::C>| {
        values
            .into_iter()
            .map(crate::eigen::size)
            .fold(0.0, f64::max)
    };
    Ok(Optimum {
        gains,
        full: d.places.map(|p| if p < n { k[(0, p)] } else { 0.0 }),
        full_radius: radius(crate::eigen::eigenvalues(&rows).ok_or(NoModel::NotFinite)?),
        radius: Model::new(&tuned, view, &About::default())?.spectral_radius()?,
        effort: weights.effort,
    })
}

/// Gains on the signals, none below zero, whose output comes nearest to that of the full gains over the motions: least
/// squares, without a signal whose gain would be of the wrong sign.
fn project(
    k: &DMatrix<f64>,
    motions: &DMatrix<f64>,
    signals: &[(&'static str, usize)],
) -> Option<Vec<f64>> {
    let n = k.ncols();
    let mut used: Vec<usize> = (0..signals.len()).collect();
    loop {
        let c = DMatrix::from_fn(used.len(), n, |i, j| {
            if signals[used[i]].1 == j { 1.0 } else { 0.0 }
        });
        let seen = &c * motions * c.transpose();
        let found = k * motions * c.transpose() * seen.try_inverse()?;
        let worst = (0..used.len()).min_by(|a, b| found[(0, *a)].total_cmp(&found[(0, *b)]))?;
        if found[(0, worst)] < 0.0 && used.len() > 1 {
            used.remove(worst);
            continue;
        }
        let mut gains = vec![0.0; signals.len()];
        for (i, at) in used.iter().enumerate() {
            gains[*at] = found[(0, i)];
        }
        return Some(gains);
    }
}

/// Doublings after which the sum over 2ⁿ ticks is given up.
const DOUBLINGS: usize = 60;

/// Σ Aᵏ·W·(Aᵏ)ᵀ for a stable A, by doubling.
fn summed(a: &DMatrix<f64>, w: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    let (mut a, mut sum) = (a.clone(), w.clone());
    for _ in 0..DOUBLINGS {
        let more = &a * &sum * a.transpose();
        let size = more.norm();
        sum += more;
        if !size.is_finite() {
            return None;
        }
        if size <= 1e-14 * sum.norm() {
            return Some(sum);
        }
        a = &a * &a;
    }
    None
}

/// X and K of the discrete Riccati equation; see [`riccati`].
fn solve(
    a: &DMatrix<f64>,
    b: &DMatrix<f64>,
    q: &DMatrix<f64>,
    r: &DMatrix<f64>,
) -> Option<(DMatrix<f64>, DMatrix<f64>)> {
    let n = a.nrows();
    let one = DMatrix::identity(n, n);
    let (mut ak, mut h) = (a.clone(), q.clone());
    let mut g = b * r.clone().try_inverse()? * b.transpose();
    let mut done = false;
    for _ in 0..DOUBLINGS {
        let w = (&one + &g * &h).lu();
        let wa = w.solve(&ak)?;
        let wg = w.solve(&g)?;
        let more = ak.transpose() * &h * &wa;
        let size = more.norm();
        g += &ak * wg * ak.transpose();
        ak = &ak * wa;
        h += more;
        // Rounding must not make them lopsided.
        h = 0.5 * (&h + h.transpose());
        g = 0.5 * (&g + g.transpose());
        if !(size.is_finite() && h.norm().is_finite() && g.norm().is_finite()) {
            return None;
        }
        if size <= 1e-12 * h.norm() {
            done = true;
            break;
        }
    }
    if !done {
        return None;
    }
    let k = (r + b.transpose() * &h * b)
        .lu()
        .solve(&(b.transpose() * &h * a))?;
    Some((h, k))
}

/// A matrix, row by row.
pub type Rows = Vec<Vec<f64>>;

/// The stabilising solution X of X = AᵀXA − AᵀXB(R + BᵀXB)⁻¹BᵀXA + Q, and the gains
/// K = (R + BᵀXB)⁻¹BᵀXA of u = −K·x that make Σ(xᵀQx + uᵀRu) least; matrices row by row. By the
/// structure-preserving doubling algorithm (E. K.-W. Chu, H.-Y. Fan, W.-W. Lin, C.-S. Wang, *Int. J. Control* 77, 2004,
/// second hand). None where shapes do not fit or there is no such solution: a motion that cannot be stabilised, or one
/// that does not die and is not weighed.
#[must_use]
pub fn riccati(
    a: &[Vec<f64>],
    b: &[Vec<f64>],
    q: &[Vec<f64>],
    r: &[Vec<f64>],
) -> Option<(Rows, Rows)> {
    let (n, m) = (a.len(), r.len());
    let shaped = |rows: &[Vec<f64>], height: usize, width: usize| {
        (rows.len() == height && rows.iter().all(|row| row.len() == width))
            .then(|| DMatrix::from_fn(height, width, |i, j| rows[i][j]))
    };
    let (x, k) = solve(
        &shaped(a, n, n)?,
        &shaped(b, n, m)?,
        &shaped(q, n, n)?,
        &shaped(r, m, m)?,
    )?;
    let rows = |m: &DMatrix<f64>| {
        (0..m.nrows())
            .map(|i| m.row(i).iter().copied().collect())
            .collect()
    };
    Some((rows(&x), rows(&k)))
}
