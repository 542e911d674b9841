//! What the robot does along each knob's track.

use kickstill_robot::{Knob, Robot, View, catalogue, knob};

use crate::about::{About, Rest};
use crate::follow::follow;
use crate::predict::{Predicted, limit_cycle};
use crate::scan::{Curve, scan};
use crate::span::Track;

/// What the robot does on a piece of a knob's track.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// All motions die away. On a dead band's track: what sways on stays within the usual band.
    Steady,
    /// Some motion grows, or sways on beyond the band.
    Unsteady,
    /// Some motion would grow, but the drive joint's dry friction takes it away while it is within the usual
    /// band. On a dead band's track: friction holds the joint for a good part of the swings that would stand.
    Held,
    /// No steady motion to look at.
    None,
}

impl State {
    /// All states.
    pub const ALL: [Self; 4] = [Self::Steady, Self::Unsteady, Self::Held, Self::None];

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Steady => "steady",
            Self::Unsteady => "unsteady",
            Self::Held => "held",
            Self::None => "none",
        }
    }
}

/// A piece of a knob's track.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Its lower end [the knob's SI unit].
    pub from: f64,
    /// Its upper end.
    pub to: f64,
    /// What the robot does there.
    pub state: State,
}

/// Where two pieces meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Value of the knob [SI].
    pub value: f64,
    /// Frequency at which it swings there [Hz]; 0: it creeps away.
    pub frequency: f64,
    /// How fast the deciding pole's size rises along the track: d|z| by the whole track. Serves to follow it.
    pub slope: f64,
    /// The oscillation a little beyond it, held by duty or travel: amplitude of what runs are judged by [rad], and
    /// frequency [Hz]; as of the last full scan.
    pub beyond: Option<(f64, f64)>,
}

/// How spans came to be known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// The whole track was looked at.
    Scanned,
    /// Its edges were followed from where they were.
    Followed,
    /// Nothing that bears on it has changed.
    Same,
    /// Its edges were lost, and for now it is as it was: there were too many to look at in passing.
    Lost,
}

/// How many tracks whose edges were lost are looked at again at once; the others wait for the next full scan, so that
/// an answer never takes long.
const MOST_AGAIN: usize = 2;

/// A knob's whole track.
#[derive(Clone, Debug)]
pub struct KnobSpans {
    /// The knob.
    pub knob: &'static Knob,
    /// Its value as it stands [SI].
    pub value: f64,
    /// Pieces side by side.
    pub pieces: Vec<Piece>,
    /// Edges between them.
    pub edges: Vec<Edge>,
    /// How it is known.
    pub known: Known,
    /// Told from all that the track depends on, and not from the knob's own value: a whole number below 2⁵².
    pub stamp: f64,
}

/// Knobs of bodies whose spans are worth a look in both views.
const BODIES: &[&str] = &[
    "shell.outer_radius",
    "shell.mass",
    "carriage.mass",
    "carriage.below_centre",
    "head.mass",
    "head.above_centre",
    "head_joint.stiffness",
    "head_joint.damping",
];

/// Knobs of the software for both views.
const BOTH: &[&str] = &[
    "timing.loop_rate",
    "timing.delay_ticks",
    "sensing.angle_time",
    "sensing.mount_below_centre",
    "levelling.compensation",
];

const SIDE: &[&str] = &[
    "travel.correction",
    "travel.damping",
    "travel.speed",
    "travel.memory",
    "travel.smoothing",
    "travel.dead_band",
    "carriage.inertia_side",
    "travel_drive.gear_ratio",
];

const FRONT: &[&str] = &[
    "lean.correction",
    "lean.damping",
    "lean.memory",
    "lean.smoothing",
    "lean.dead_band",
    "carriage_loop.correction",
    "carriage_loop.damping",
    "carriage.inertia_front",
    "lean_drive.gear_ratio",
];

/// The knobs of gains, times, dead band, masses and lengths that bear on a plane's edge.
#[must_use]
pub fn span_knobs(view: View, rest: Rest) -> Vec<&'static Knob> {
    let own = match view {
        View::Side => SIDE,
        View::Front => FRONT,
    };
    let software = rest == Rest::Free;
    let keys = own
        .iter()
        .chain(BOTH)
        .filter(|_| software)
        .chain(BODIES)
        .filter_map(|key| knob(key));
    keys.collect()
}

/// The pieces of `knob`'s track by a full scan, all other knobs of `robot` as they stand; one piece of
/// [`State::None`] where there is no model anywhere.
#[must_use]
pub fn knob_spans(robot: &Robot, view: View, about: &About, knob: &'static Knob) -> KnobSpans {
    scanned(
        robot,
        view,
        about,
        knob,
        Stamps::new(robot, view, about).of(knob),
    )
}

/// The pieces of each knob's track: those of `before` where nothing that bears on them has changed, followed from
/// there where something has, by a full scan where nothing is known or the edges were lost.
///
/// Following looks at the edges and one more place a knob, so that it may miss a new edge until the next full
/// scan.
#[must_use]
pub fn follow_spans(
    robot: &Robot,
    view: View,
    about: &About,
    knobs: &[&'static Knob],
    before: &[KnobSpans],
) -> Vec<KnobSpans> {
    let stamps = Stamps::new(robot, view, about);
    let mut again = 0;
    let all = knobs.iter().map(|&knob| {
        let stamp = stamps.of(knob);
        let Some(old) = before.iter().find(|b| b.knob.key == knob.key && fits(b)) else {
            return scanned(robot, view, about, knob, stamp);
        };
        if old.stamp == stamp && old.known != Known::Lost {
            return KnobSpans {
                value: (knob.get)(robot),
                known: Known::Same,
                ..old.clone()
            };
        }
        let track = Track::new(robot, view, about, knob);
        if let Some((pieces, edges)) = follow(&track, old, stamp) {
            return KnobSpans {
                knob,
                value: (knob.get)(robot),
                pieces,
                edges,
                known: Known::Followed,
                stamp,
            };
        }
        again += 1;
        if again <= MOST_AGAIN {
            return scanned(robot, view, about, knob, stamp);
        }
        KnobSpans {
            value: (knob.get)(robot),
            known: Known::Lost,
            ..old.clone()
        }
    });
    all.collect()
}

/// Whether it is a whole track: pieces side by side from end to end, an edge between each two.
fn fits(s: &KnobSpans) -> bool {
    let (first, last) = (s.pieces.first(), s.pieces.last());
    first.is_some_and(|p| p.from == s.knob.min)
        && last.is_some_and(|p| p.to == s.knob.max)
        && s.edges.len() + 1 == s.pieces.len()
        && s.edges.iter().zip(s.pieces.windows(2)).all(|(e, p)| {
            p[0].to == e.value && p[1].from == e.value && p[0].from <= e.value && e.value <= p[1].to
        })
}

fn scanned(robot: &Robot, view: View, about: &About, knob: &'static Knob, stamp: f64) -> KnobSpans {
    let track = Track::new(robot, view, about, knob);
    let value = (knob.get)(robot);
    let (pieces, mut edges) = scan(&track);
    // What comes of passing an edge next to where the knob stands.
    let at = pieces.iter().position(|p| value <= p.to).unwrap_or(0);
    for i in at.saturating_sub(1)..(at + 1).min(edges.len()) {
        edges[i].beyond = beyond(&track, &pieces[i], &pieces[i + 1]);
    }
    KnobSpans {
        knob,
        value,
        pieces,
        edges,
        known: Known::Scanned,
        stamp,
    }
}

/// Share of the track by which "a little beyond" an edge lies.
const LITTLE: f64 = 0.03;

fn beyond(track: &Track<'_>, below: &Piece, above: &Piece) -> Option<(f64, f64)> {
    if Curve::between(track, below.state, above.state) == Curve::Band {
        return None;
    }
    let (edge, unsteady, sense) = match (below.state, above.state) {
        (State::Steady, State::Unsteady | State::Held) => (below.to, above, 1.0),
        (State::Unsteady | State::Held, State::Steady) => (above.from, below, -1.0),
        _ => return None,
    };
    let room = (track.share(unsteady.to) - track.share(unsteady.from)).abs();
    let there = track.at(track.share(edge) + sense * LITTLE.min(0.5 * room));
    let there = if track.is_whole() {
        // The nearest value that is beyond.
        if sense > 0.0 {
            edge.ceil()
        } else {
            edge.floor()
        }
    } else {
        there
    };
    let found: Option<Predicted> = track
        .with(there, |robot| {
            limit_cycle(robot, track.view, track.about).ok()
        })
        .flatten();
    found.map(|p| (p.amplitude, p.frequency))
}

/// A number for everything that a track depends on but its own knob.
struct Stamps {
    all: u64,
    each: Vec<u64>,
}

impl Stamps {
    fn new(robot: &Robot, view: View, about: &About) -> Self {
        let each: Vec<u64> = catalogue()
            .iter()
            .enumerate()
            .map(|(i, k)| mixed(i as u64 + 1, (k.get)(robot).to_bits()))
            .collect();
        let question = mixed(0, about.speed.to_bits())
            .wrapping_add(mixed(1 << 20, about.rest as u64))
            .wrapping_add(mixed(1 << 21, view as u64));
        Self {
            all: each.iter().fold(question, |sum, v| sum.wrapping_add(*v)),
            each,
        }
    }

    fn of(&self, knob: &Knob) -> f64 {
        let place = catalogue().iter().position(|k| k.key == knob.key);
        let own = place.map_or(0, |i| self.each[i]);
        // The cast is exact.
        (self.all.wrapping_sub(own) >> 12) as f64
    }
}

/// Bits stirred up by the finaliser of a well-known generator (Steele, Lea, Flood 2014, from memory).
fn mixed(place: u64, bits: u64) -> u64 {
    let mut x = bits ^ place.wrapping_mul(0x9e37_79b9_7f4a_7c15);
    x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    x ^ (x >> 31)
}
