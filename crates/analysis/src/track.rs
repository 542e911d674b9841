//! Root tracks: where the poles go as a knob moves.

use kickstill_number::Within;
use kickstill_robot::{Kind, Knob, Robot, Scale, View};

use crate::about::About;
use crate::eigen::{C, size};
use crate::model::{Model, NoModel};
use crate::pole::GONE;

/// Poles along a knob's track.
#[derive(Clone, Debug, PartialEq)]
pub struct RootTrack {
    /// Values of the knob [SI], rising.
    pub values: Vec<f64>,
    /// Each branch: real and imaginary part of z in turn, a pair for each value; NaN where it has none.
    pub branches: Vec<Vec<f64>>,
    /// Index of the value nearest to where the knob stands.
    pub now: usize,
}

/// Even parts in which a track is first looked at.
const FIRST: u32 = 40;
/// Most values of a track.
const MOST: usize = 160;
/// A move in the plane of z that is short enough to be joined by nearness.
const SHORT: f64 = 0.02;
/// Least part of the track that is divided further.
const FINEST: f64 = 1e-4;

/// The root track of `knob` with all other knobs of `robot` as they stand: all poles, conjugates too, joined
/// along the knob by nearness, with values closer where poles run fast.
///
/// # Errors
/// [`NoModel`] if there is none anywhere on the track.
pub fn root_track(
    robot: &Robot,
    view: View,
    about: &About,
    knob: &Knob,
) -> Result<RootTrack, NoModel> {
    let now = (knob.get)(robot);
    let at = |share: f64| match (knob.kind, knob.scale) {
        (Kind::Number, Scale::Logarithmic) => {
            knob.min * libm::exp(share * libm::log(knob.max / knob.min))
        }
        (Kind::Number, Scale::Linear) => knob.min + share * (knob.max - knob.min),
        _ => (knob.min + share * (knob.max - knob.min)).round(),
    };
    let share_of = |value: f64| match knob.scale {
        Scale::Logarithmic => libm::log(value / knob.min) / libm::log(knob.max / knob.min),
        Scale::Linear => (value - knob.min) / (knob.max - knob.min),
    };
    let look = |share: f64| -> Result<Vec<C>, NoModel> {
        let mut robot = robot.clone();
        (knob.put)(&mut robot, at(share));
        let mut values = Model::new(&robot, view, about)?.eigenvalues()?;
        values.retain(|z| size(*z) > GONE);
        Ok(values)
    };
    let (parts, finest) = if knob.kind == Kind::Number {
        (f64::from(FIRST), FINEST)
    } else {
        ((knob.max - knob.min).within(1.0, MOST as f64 - 1.0), 1.0)
    };
    let mut shares: Vec<f64> = (0..=parts as u32).map(|i| f64::from(i) / parts).collect();
    if knob.kind == Kind::Number && now > knob.min && now < knob.max {
        shares.push(share_of(now));
        shares.sort_by(f64::total_cmp);
        shares.dedup();
    }
    let mut seen: Vec<(f64, Vec<C>)> = Vec::new();
    let mut last_error = NoModel::NotFinite;
    for share in shares {
        match look(share) {
            Ok(poles) => seen.push((share, poles)),
            Err(why) => last_error = why,
        }
    }
    if seen.is_empty() {
        return Err(last_error);
    }
    // Where poles run fast, between; the longest moves first.
    loop {
        let mut fast: Vec<(f64, f64)> = seen
            .windows(2)
            .filter(|w| w[1].0 - w[0].0 > finest)
            .map(|w| (longest_move(&w[0].1, &w[1].1), 0.5 * (w[0].0 + w[1].0)))
            .filter(|(far, _)| *far > SHORT)
            .collect();
        fast.sort_by(|a, b| b.0.total_cmp(&a.0));
        fast.truncate(MOST.saturating_sub(seen.len()));
        let before = seen.len();
        seen.extend(
            fast.into_iter()
                .filter_map(|(_, s)| Some((s, look(s).ok()?))),
        );
        seen.sort_by(|a, b| a.0.total_cmp(&b.0));
        if seen.len() == before {
            break;
        }
    }
    let values: Vec<f64> = seen.iter().map(|s| at(s.0)).collect();
    let nearest = (0..values.len())
        .min_by(|a, b| {
            (values[*a] - now)
                .abs()
                .total_cmp(&(values[*b] - now).abs())
        })
        .unwrap_or(0);
    Ok(RootTrack {
        branches: branches(&seen),
        values,
        now: nearest,
    })
}

/// Pairs of places in both lists, nearest first, each place once.
fn pairs(from: &[C], to: &[C]) -> Vec<(usize, usize, f64)> {
    let mut all: Vec<(usize, usize, f64)> = from
        .iter()
        .enumerate()
        .flat_map(|(i, a)| to.iter().enumerate().map(move |(j, b)| (i, j, size(a - b))))
        .collect();
    all.sort_by(|a, b| a.2.total_cmp(&b.2));
    let (mut left, mut right) = (vec![false; from.len()], vec![false; to.len()]);
    all.retain(|&(i, j, _)| {
        let free = !left[i] && !right[j];
        if free {
            left[i] = true;
            right[j] = true;
        }
        free
    });
    all
}

fn longest_move(from: &[C], to: &[C]) -> f64 {
    pairs(from, to).last().map_or(0.0, |p| p.2)
}

/// A branch that is being drawn.
struct Living {
    branch: usize,
    /// Share of the track and place where it stood last.
    last: (f64, C),
    /// And before that.
    before: Option<(f64, C)>,
}

impl Living {
    /// Where it is heading.
    fn ahead(&self, share: f64) -> C {
        let (at, z) = self.last;
        match self.before {
            Some((at0, z0)) if at > at0 => z + (z - z0) * ((share - at) / (at - at0)).min(1.5),
            _ => z,
        }
    }
}

/// Joins the poles of neighbouring values to where each branch is heading.
fn branches(seen: &[(f64, Vec<C>)]) -> Vec<Vec<f64>> {
    let mut branches: Vec<Vec<f64>> = Vec::new();
    let mut living: Vec<Living> = Vec::new();
    for (k, (share, poles)) in seen.iter().enumerate() {
        let heading: Vec<C> = living.iter().map(|l| l.ahead(*share)).collect();
        let mut next = Vec::new();
        let mut taken = vec![false; poles.len()];
        for (i, j, _) in pairs(&heading, poles) {
            let Living { branch, last, .. } = living[i];
            branches[branch].extend([poles[j].re, poles[j].im]);
            next.push(Living {
                branch,
                last: (*share, poles[j]),
                before: Some(last),
            });
            taken[j] = true;
        }
        for (z, _) in poles.iter().zip(&taken).filter(|(_, taken)| !**taken) {
            let mut branch = vec![f64::NAN; 2 * k];
            branch.extend([z.re, z.im]);
            next.push(Living {
                branch: branches.len(),
                last: (*share, *z),
                before: None,
            });
            branches.push(branch);
        }
        for branch in &mut branches {
            branch.resize(2 * (k + 1), f64::NAN);
        }
        living = next;
    }
    branches
}
