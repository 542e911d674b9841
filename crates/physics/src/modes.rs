//! Which dry elements rest and which slide, and the motions each combination leaves free.

/// Mode of one dry element.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Contact {
    /// No dry friction there: nothing to decide.
    #[default]
    Free,
    /// Slides in the positive sense.
    Plus,
    /// Slides in the negative sense.
    Minus,
    /// Rests, held by friction or by a lock.
    Stuck,
}

impl Contact {
    /// Sense of sliding: +1, −1, or 0 when free or stuck.
    #[must_use]
    pub fn sign(self) -> f64 {
        match self {
            Contact::Plus => 1.0,
            Contact::Minus => -1.0,
            Contact::Free | Contact::Stuck => 0.0,
        }
    }

    /// Whether it rests.
    #[must_use]
    pub fn is_stuck(self) -> bool {
        self == Contact::Stuck
    }

    pub(crate) fn sliding(speed: f64) -> Self {
        if speed < 0.0 {
            Contact::Minus
        } else {
            Contact::Plus
        }
    }
}

/// Regime of the head servo, each with a smooth law.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum ServoMode {
    /// Powered: follows its target with its lag.
    Follow,
    /// Powered: turns at its rate limit, positive sense.
    RatePlus,
    /// Powered: turns at its rate limit, negative sense.
    RateMinus,
    /// Powered: gives its torque limit, positive sense, and is pushed.
    LimitPlus,
    /// Powered: gives its torque limit, negative sense, and is pushed.
    LimitMinus,
    /// Unpowered: its gears hold.
    #[default]
    Held,
    /// Unpowered: its gears are turned while they give positive torque.
    SlipPlus,
    /// Unpowered: its gears are turned while they give negative torque.
    SlipMinus,
}

/// The modes of all elements: one smooth set of equations.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Modes {
    /// Drive joint with its gears.
    pub drive: Contact,
    /// Whether the sliding gears are loaded by the motor (κ = η) or driven back.
    pub loaded: bool,
    /// Head joint's bearing.
    pub bearing: Contact,
    /// Head on shell.
    pub castors: Contact,
    /// Rolling resistance of the floor.
    pub rolling: Contact,
    /// Grip of the floor: stuck while the ball rolls.
    pub grip: Contact,
    /// Head servo.
    pub servo: ServoMode,
}

/// Bits of the elements that may rest, in [`Modes::stuck_bits`].
pub(crate) mod element {
    pub(crate) const DRIVE: usize = 1;
    pub(crate) const BEARING: usize = 2;
    pub(crate) const CASTORS: usize = 4;
    pub(crate) const ROLLING: usize = 8;
}

impl Modes {
    pub(crate) fn stuck_bits(&self) -> usize {
        use element::{BEARING, CASTORS, DRIVE, ROLLING};
        let mut bits = 0;
        if self.drive.is_stuck() {
            bits |= DRIVE;
        }
        if self.bearing.is_stuck() {
            bits |= BEARING;
        }
        if self.castors.is_stuck() {
            bits |= CASTORS;
        }
        if self.rolling.is_stuck() {
            bits |= ROLLING;
        }
        bits
    }

    /// Whether the ball rolls without slip.
    #[must_use]
    pub fn rolls(&self) -> bool {
        self.grip.is_stuck()
    }
}

/// The motions (θ, α, β) that resting elements leave free: a basis, and for each basis vector
/// the coordinate that equals its amount.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Subspace {
    /// Number of free motions.
    pub(crate) rank: usize,
    /// Basis vectors, the first `rank` of them.
    pub(crate) basis: [[f64; 3]; 3],
    /// Coordinate (0 shell, 1 carriage, 2 head) that carries each amount.
    pub(crate) carrier: [usize; 3],
}

const O: [f64; 3] = [0.0, 0.0, 0.0];
const SHELL: [f64; 3] = [1.0, 0.0, 0.0];
const CARRIAGE: [f64; 3] = [0.0, 1.0, 0.0];
const HEAD: [f64; 3] = [0.0, 0.0, 1.0];

const fn two(a: [f64; 3], b: [f64; 3], carrier: [usize; 2]) -> Subspace {
    Subspace {
        rank: 2,
        basis: [a, b, O],
        carrier: [carrier[0], carrier[1], 0],
    }
}

const fn one(a: [f64; 3], carrier: usize) -> Subspace {
    Subspace {
        rank: 1,
        basis: [a, O, O],
        carrier: [carrier, 0, 0],
    }
}

const FULL: Subspace = Subspace {
    rank: 3,
    basis: [SHELL, CARRIAGE, HEAD],
    carrier: [0, 1, 2],
};
const DRIVE: Subspace = two([1.0, -1.0, 0.0], HEAD, [0, 2]);
const BEARING: Subspace = two(SHELL, [0.0, 1.0, -1.0], [0, 1]);
const CASTORS: Subspace = two([1.0, 0.0, 1.0], CARRIAGE, [0, 1]);
const ROLLING: Subspace = two(CARRIAGE, HEAD, [1, 2]);
/// Any two of drive, bearing, castors rest: then so does the third.
const RIGID: Subspace = one([1.0, -1.0, 1.0], 0);
const NONE: Subspace = Subspace {
    rank: 0,
    basis: [O, O, O],
    carrier: [0, 0, 0],
};

/// Indexed by [`Modes::stuck_bits`].
pub(crate) static SUBSPACES: [Subspace; 16] = [
    FULL,
    DRIVE,
    BEARING,
    RIGID,
    CASTORS,
    RIGID,
    RIGID,
    RIGID,
    ROLLING,
    one(HEAD, 2),
    one([0.0, 1.0, -1.0], 1),
    NONE,
    one(CARRIAGE, 1),
    NONE,
    NONE,
    NONE,
];

#[cfg(test)]
mod tests {
    use super::*;

    /// Rates of drive, bearing, castors, rolling for a motion (θ, α, β).
    fn rates(v: [f64; 3]) -> [f64; 4] {
        [v[0] + v[1], v[1] + v[2], v[0] - v[2], v[0]]
    }

    #[test]
    fn every_subspace_stops_exactly_its_elements() {
        for (bits, space) in SUBSPACES.iter().enumerate() {
            for (vector, carrier) in space.basis.iter().zip(space.carrier).take(space.rank) {
                for (i, rate) in rates(*vector).into_iter().enumerate() {
                    assert!(
                        bits & (1 << i) == 0 || rate == 0.0,
                        "bits {bits}, element {i}"
                    );
                }
                assert_eq!(vector[carrier], 1.0);
            }
            // Rank: 3 less the number of independent constraints.
            let joints = (bits & 7).count_ones() as usize;
            let floor = usize::from(bits & element::ROLLING != 0);
            assert_eq!(
                space.rank,
                3 - (joints.min(2) + floor).min(3),
                "bits {bits}"
            );
        }
    }
}
