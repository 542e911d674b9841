//! A knob's whole track looked at: steady, held by friction, unsteady.

use kickstill_rig::BAND;
use kickstill_robot::{Kind, View};

use crate::about::{About, Rest};
use crate::crossing::root;
use crate::cycle::Doubt;
use crate::describing::Element;
use crate::eigen::{C, angle, size};
use crate::knobs::{Edge, Piece, State};
use crate::model::Model;
use crate::predict::{Cause, Predicted, predicted};
use crate::span::Track;

const TAU: f64 = 2.0 * core::f64::consts::PI;

/// What crosses zero where two pieces meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Curve {
    /// The largest pole's size less 1.
    Linear,
    /// The same with the drive joint's dry friction at swings as wide as the usual band.
    Held,
    /// The same at swings as wide as the usual band, of which the dead band passes its share.
    Band,
    /// Whether there is a model at all.
    Existence,
}

impl Curve {
    pub(crate) fn between(track: &Track<'_>, below: State, above: State) -> Self {
        if below == State::None || above == State::None {
            Self::Existence
        } else if track.is_dead_band() {
            Self::Band
        } else if below != State::Steady && above != State::Steady {
            Self::Held
        } else {
            Self::Linear
        }
    }
}

/// A curve at one place of the track.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Seen {
    /// Below zero: motions die away.
    pub(crate) excess: f64,
    /// Frequency of the deciding motion [Hz].
    pub(crate) frequency: f64,
}

impl Track<'_> {
    /// Whether the knob takes whole numbers.
    pub(crate) fn is_whole(&self) -> bool {
        self.knob.kind != Kind::Number
    }

    /// Whether it is the dead band of the plane's own loop, the software running.
    pub(crate) fn is_dead_band(&self) -> bool {
        let own = match self.view {
            View::Side => "travel.dead_band",
            View::Front => "lean.dead_band",
        };
        self.knob.key == own && self.about.rest == Rest::Free
    }

    /// Whether dry friction can hold what would grow.
    fn can_be_held(&self) -> bool {
        self.with_own(|robot| self.about.counts_friction(robot, self.view))
    }

    /// A curve at a value of the knob; None where there is no model.
    pub(crate) fn look(&self, curve: Curve, value: f64) -> Option<Seen> {
        match curve {
            Curve::Linear | Curve::Existence => self.seen(&self.model(value).ok()?),
            Curve::Held => self.held(value, 1.0),
            Curve::Band => {
                let element = self.with(value, |robot| Element::of_band(robot, self.view));
                self.held(value, element.map_or(1.0, |e| e.gain(BAND)))
            }
        }
    }

    fn seen(&self, model: &Model) -> Option<Seen> {
        let z = leading(model)?;
        Some(Seen {
            excess: size(z) - 1.0,
            frequency: angle(z).abs() / (TAU * model.step),
        })
    }

    /// The deciding motion at swings as wide as the usual band, with dry friction of the drive joint and a dead band
    /// passing `gain`: friction is counted at the joint's speed in that motion, found in two rounds.
    fn held(&self, value: f64, gain: f64) -> Option<Seen> {
        let plain = About {
            band_gain: gain * self.about.band_gain,
            ..*self.about
        };
        self.with(value, |robot| {
            let mut model = Model::new(robot, self.view, &plain).ok()?;
            let mut seen = self.seen(&model)?;
            if seen.excess < 0.0 || !self.about.counts_friction(robot, self.view) {
                return Some(seen);
            }
            for _ in 0..2 {
                let z = leading(&model)?;
                let turning = angle(z).abs() / model.step;
                let Some((joint, judged)) = model
                    .shape(z)
                    .map(|s| s.joint_and_judged(self.view))
                    .filter(|(_, judged)| *judged > 0.0 && turning > 0.0)
                else {
                    break;
                };
                let about = About {
                    joint_speed: Some(turning * BAND * joint / judged),
                    ..plain
                };
                model = Model::new(robot, self.view, &about).ok()?;
                seen = self.seen(&model)?;
                if seen.excess < 0.0 && seen.frequency == 0.0 {
                    break;
                }
            }
            Some(seen)
        })
    }
}

/// The pole farthest out, of a pair the one that turns forward.
fn leading(model: &Model) -> Option<C> {
    let values = model.eigenvalues().ok()?;
    values
        .into_iter()
        .filter(|z| z.im >= 0.0)
        .max_by(|a, b| size(*a).total_cmp(&size(*b)))
}

/// Shares of an unsteady piece at which it is looked whether friction holds it: closer at both ends.
const PLACES: [f64; 11] = [
    0.002, 0.01, 0.04, 0.12, 0.3, 0.5, 0.7, 0.88, 0.96, 0.99, 0.998,
];
/// A held piece narrower than this share of the track is not worth telling.
const NARROW: f64 = 4e-3;
/// How many whole numbers from an edge may be held.
const NEAR: f64 = 6.0;
/// Width, as a share of the track, to which an edge is found.
const WIDTH: f64 = 1e-5;

/// Pieces and edges of a whole track.
pub(crate) fn scan(track: &Track<'_>) -> (Vec<Piece>, Vec<Edge>) {
    let pieces = if track.is_dead_band() {
        band_pieces(track)
    } else {
        let mut pieces: Vec<Piece> = Vec::new();
        for span in track.stable_spans().unwrap_or_default() {
            let state = match span.stable {
                Some(true) => State::Steady,
                Some(false) => State::Unsteady,
                None => State::None,
            };
            let piece = Piece {
                from: span.from,
                to: span.to,
                state,
            };
            if state == State::Unsteady && track.can_be_held() {
                split(track, piece, &mut pieces);
            } else {
                pieces.push(piece);
            }
        }
        pieces
    };
    let pieces = if pieces.is_empty() {
        vec![Piece {
            from: track.knob.min,
            to: track.knob.max,
            state: State::None,
        }]
    } else {
        pieces
    };
    let edges = pieces
        .windows(2)
        .map(|p| edge(track, p[0].to, p[0].state, p[1].state))
        .collect();
    (pieces, edges)
}

/// An edge at a value, with frequency and slope there.
pub(crate) fn edge(track: &Track<'_>, value: f64, below: State, above: State) -> Edge {
    let curve = Curve::between(track, below, above);
    let mut edge = Edge {
        value,
        frequency: 0.0,
        slope: 0.0,
        beyond: None,
    };
    if track.is_whole() {
        let unsteady = if below == State::Steady || above == State::None {
            value.ceil()
        } else {
            value.floor()
        };
        edge.frequency = track
            .look(Curve::Linear, unsteady)
            .map_or(0.0, |s| s.frequency);
        return edge;
    }
    if curve == Curve::Existence {
        return edge;
    }
    let share = track.share(value);
    let (low, high) = ((share - 1e-4).max(0.0), (share + 1e-4).min(1.0));
    let at = |share: f64| track.look(curve, track.at(share));
    if let (Some(a), Some(b)) = (at(low), at(high)) {
        edge.slope = (b.excess - a.excess) / (high - low);
        edge.frequency = if a.excess > b.excess {
            a.frequency
        } else {
            b.frequency
        };
    }
    edge
}

/// An unsteady piece, parted where friction holds it.
fn split(track: &Track<'_>, piece: Piece, pieces: &mut Vec<Piece>) {
    let held = |value: f64| track.look(Curve::Held, value).map(|s| s.excess);
    let state = |excess: Option<f64>| {
        if excess.is_some_and(|y| y < 0.0) {
            State::Held
        } else {
            State::Unsteady
        }
    };
    let first = pieces.len();
    let mut add = |from: f64, to: f64, state: State| match pieces.get_mut(first..) {
        Some([.., last]) if last.state == state => last.to = to,
        _ => pieces.push(Piece { from, to, state }),
    };
    if track.is_whole() {
        let (mut low, high) = (piece.from.ceil(), piece.to.floor());
        let mut from = piece.from;
        while low <= high {
            // Far from an edge it is taken to be unsteady.
            let near = piece.from > track.knob.min && low - piece.from < NEAR
                || piece.to < track.knob.max && piece.to - low < NEAR;
            let to = if low == high { piece.to } else { low + 0.5 };
            add(
                from,
                to,
                if near {
                    state(held(low))
                } else {
                    State::Unsteady
                },
            );
            from = to;
            low += 1.0;
        }
        return;
    }
    let (from, to) = (track.share(piece.from), track.share(piece.to));
    let shares: Vec<f64> = PLACES.iter().map(|p| from + p * (to - from)).collect();
    let seen: Vec<Option<f64>> = shares.iter().map(|s| held(track.at(*s))).collect();
    // Runs of like state, with the shares between them.
    let mut runs: Vec<(f64, f64, State)> = Vec::new();
    let mut begin = from;
    for i in 0..shares.len() {
        let last = i + 1 == shares.len();
        if !last && state(seen[i]) == state(seen[i + 1]) {
            continue;
        }
        let end = if last {
            to
        } else {
            root(shares[i], shares[i + 1], WIDTH, |s| {
                held(track.at(s)).unwrap_or(f64::NAN)
            })
            .unwrap_or(0.5 * (shares[i] + shares[i + 1]))
        };
        runs.push((begin, end, state(seen[i])));
        begin = end;
    }
    let count = runs.len();
    for (i, (a, b, s)) in runs.into_iter().enumerate() {
        let s = if s == State::Held && b - a < NARROW {
            State::Unsteady
        } else {
            s
        };
        let a = if i == 0 { piece.from } else { track.at(a) };
        let b = if i + 1 == count {
            piece.to
        } else {
            track.at(b)
        };
        add(a, b, s);
    }
}

/// Of a dead band's track: up to where swings stay within the usual band. Wider than that it passes nothing of
/// them, and nothing changes.
fn band_pieces(track: &Track<'_>) -> Vec<Piece> {
    let (min, max) = (track.knob.min, track.knob.max);
    let look = |value: f64| track.look(Curve::Band, value).map(|s| s.excess);
    let mut places: Vec<f64> = (0..=8)
        .map(|i| f64::from(i) / 8.0 * BAND)
        .filter(|w| *w >= min && *w < max)
        .collect();
    places.push(max);
    if places.first() != Some(&min) {
        places.insert(0, min);
    }
    let state = |excess: Option<f64>| match excess {
        Some(y) if y < 0.0 => State::Steady,
        Some(_) => State::Unsteady,
        None => State::None,
    };
    let mut pieces: Vec<Piece> = Vec::new();
    let mut from = min;
    let mut before = (min, look(min));
    for &value in &places[1..] {
        let now = (value, look(value));
        if state(before.1) != state(now.1) {
            let width = 1e-6 * (max - min);
            let to = root(before.0, now.0, width, |w| look(w).unwrap_or(f64::NAN))
                .unwrap_or(0.5 * (before.0 + now.0));
            pieces.push(Piece {
                from,
                to,
                state: state(before.1),
            });
            from = to;
        }
        before = now;
    }
    pieces.push(Piece {
        from,
        to: max,
        state: state(before.1),
    });
    for piece in &mut pieces {
        // There the swings predicted are just as wide as the band.
        if piece.state == State::Unsteady && sticks(track, track.knob.max.min(1.02 * piece.from)) {
            piece.state = State::Held;
        }
    }
    pieces
}

/// Whether friction holds the joint for a good part of every swing that the dead band is predicted to let stand: then
/// a robot mostly rests instead, and the prediction is not to be trusted.
fn sticks(track: &Track<'_>, value: f64) -> bool {
    let found = track.with(value, |robot| predicted(robot, track.view, track.about));
    let own = |p: &&Predicted| p.cause == Cause::Band;
    found.is_ok_and(|all| {
        all.iter().any(|p| own(&p))
            && all
                .iter()
                .filter(own)
                .all(|p| p.doubts.contains(&Doubt::Sticks))
    })
}
