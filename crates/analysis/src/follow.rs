//! A knob's edges followed from where they were.

use crate::knobs::{Edge, KnobSpans, Piece, State};
use crate::scan::{Curve, Seen};
use crate::span::Track;
use kickstill_number::Within;

/// Share of the track within which an edge is followed: a third of a pixel of the page's tracks.
const CLOSE: f64 = 1e-3;
/// Farthest that an edge may run at once, as a share of the track; beyond, the whole track is looked at.
const FAR: f64 = 0.15;
/// Looks at one edge before it counts as lost.
const LOOKS: usize = 5;

/// Pieces and edges of a track whose other knobs have changed, from those before. None where an edge was lost, or
/// where the place that is looked at besides is not as it should be.
pub(crate) fn follow(
    track: &Track<'_>,
    old: &KnobSpans,
    stamp: f64,
) -> Option<(Vec<Piece>, Vec<Edge>)> {
    let (min, max) = (track.knob.min, track.knob.max);
    let mut pieces = vec![Piece {
        from: min,
        to: max,
        state: old.pieces.first()?.state,
    }];
    let mut edges: Vec<Edge> = Vec::new();
    for (edge, pair) in old.edges.iter().zip(old.pieces.windows(2)) {
        let (below, above) = (pair[0].state, pair[1].state);
        let place = if track.is_whole() {
            next_whole(track, edge, below, above)?
        } else if Curve::between(track, below, above) == Curve::Existence {
            existence(track, edge, below)?
        } else {
            next(track, edge, below, above)?
        };
        match place {
            Place::At(found) => {
                let last = pieces.last_mut()?;
                if found.value <= last.from {
                    // What friction held has shrunk to nothing; any other piece that did is looked at again.
                    if last.state != State::Held || edges.is_empty() {
                        return None;
                    }
                    if below == State::Held && above == State::Unsteady {
                        last.state = above;
                        continue;
                    }
                    edges.pop();
                    pieces.pop();
                }
                let last = pieces.last_mut()?;
                if found.value <= last.from {
                    return None;
                }
                last.to = found.value;
                edges.push(found);
                pieces.push(Piece {
                    from: found.value,
                    to: max,
                    state: above,
                });
            }
            // What was below it has left the track at its lower end.
            Place::Under if edges.is_empty() => pieces[0].state = above,
            // What is above it has left at the upper end, and so has all that follows.
            Place::Over => break,
            Place::Under => return None,
        }
    }
    as_told(track, &pieces, stamp).then_some((pieces, edges))
}

enum Place {
    At(Edge),
    Under,
    Over,
}

/// By steps along the known slope, then along the chord.
fn next(track: &Track<'_>, old: &Edge, below: State, above: State) -> Option<Place> {
    let curve = Curve::between(track, below, above);
    // Below zero where the steadier of the two is.
    let rises = below == State::Steady || below == State::Held && above == State::Unsteady;
    let start = track.share(old.value);
    let (mut at, mut slope) = (start, old.slope);
    if slope == 0.0 || !slope.is_finite() || (slope > 0.0) != rises {
        return None;
    }
    let mut before: Option<(f64, f64)> = None;
    for _ in 0..LOOKS {
        let Seen { excess, frequency } = track.look(curve, track.at(at))?;
        if let Some((from, y)) = before
            && at != from
        {
            slope = (excess - y) / (at - from);
            if (slope > 0.0) != rises || !slope.is_finite() {
                return None;
            }
        }
        before = Some((at, excess));
        let step = -excess / slope;
        let found = at + step;
        if (found - start).abs() > FAR {
            return None;
        }
        // An edge beyond the end of the track: the end must be as it will then be.
        if !(0.0..=1.0).contains(&found) && (at == 0.0 || at == 1.0) {
            return Some(if at == 0.0 { Place::Under } else { Place::Over });
        }
        if step.abs() <= CLOSE && (0.0..=1.0).contains(&found) {
            let value = track.at(found).within(track.knob.min, track.knob.max);
            return Some(Place::At(Edge {
                value,
                frequency,
                slope,
                beyond: old.beyond,
            }));
        }
        at = found.within(0.0, 1.0);
    }
    None
}

/// Between whole numbers: the two neighbours must be what the pieces say, else it is a few numbers further.
fn next_whole(track: &Track<'_>, old: &Edge, below: State, above: State) -> Option<Place> {
    let curve = Curve::between(track, below, above);
    let steadier_below = below == State::Steady || below == State::Held && above == State::Unsteady;
    let low = |value: f64| -> Option<(bool, f64)> {
        let seen = track.look(curve, value)?;
        Some(((seen.excess < 0.0) == steadier_below, seen.frequency))
    };
    if curve == Curve::Existence {
        return None;
    }
    let mut edge = *old;
    for _ in 0..LOOKS {
        let (a, b) = (edge.value.floor(), edge.value.ceil());
        if a < track.knob.min {
            return Some(Place::Under);
        }
        if b > track.knob.max {
            return Some(Place::Over);
        }
        let ((below_fits, f_low), (beyond_is_low, f_high)) = (low(a)?, low(b)?);
        match (below_fits, beyond_is_low) {
            (true, false) => {
                edge.frequency = if steadier_below { f_high } else { f_low };
                return Some(Place::At(edge));
            }
            (true, true) => edge.value += 1.0,
            (false, _) => edge.value -= 1.0,
        }
    }
    None
}

/// Where the model ends: it must still do so within a hair.
fn existence(track: &Track<'_>, old: &Edge, below: State) -> Option<Place> {
    let share = track.share(old.value);
    let there = |s: f64| track.model(track.at(s.within(0.0, 1.0))).is_ok();
    let (low, high) = (there(share - CLOSE), there(share + CLOSE));
    let fits = low == (below != State::None) && high == (below == State::None);
    fits.then_some(Place::At(*old))
}

/// Looks at one place more: an end of the track or the middle of a piece, another each time.
fn as_told(track: &Track<'_>, pieces: &[Piece], stamp: f64) -> bool {
    let places = pieces.len() as f64 + 2.0;
    let turn = stamp * 1e-3;
    let which = ((turn - turn.floor()) * places) as usize;
    let (value, piece) = match which {
        0 => (track.knob.min, pieces.first()),
        1 => (track.knob.max, pieces.last()),
        i => {
            let piece = pieces.get(i - 2);
            let (from, to) = piece.map_or((0.0, 1.0), |p| (track.share(p.from), track.share(p.to)));
            // Not always the same place of the piece.
            let fine = stamp * 1e-5;
            (track.at(from + (fine - fine.floor()) * (to - from)), piece)
        }
    };
    let Some(piece) = piece else { return false };
    // Far out a delay's matrix is too large to be looked at in passing.
    if track.is_whole() {
        return true;
    }
    let curve = if track.is_dead_band() {
        Curve::Band
    } else {
        Curve::Linear
    };
    let seen = track.look(curve, value);
    match piece.state {
        State::None => seen.is_none(),
        State::Steady => seen.is_some_and(|s| s.excess < SLACK),
        State::Held | State::Unsteady => seen.is_some_and(|s| s.excess > -SLACK),
    }
}

/// Excess within which a place may be on either side, as a rounding error makes it.
const SLACK: f64 = 1e-9;
