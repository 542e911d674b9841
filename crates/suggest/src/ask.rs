//! What is asked: which loops, within which limits, what is wanted most.

use kickstill_robot::{Unit, View};

/// A loop whose settings may be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Loop {
    /// Travel loop (side view).
    Travel,
    /// Lean loop (front view).
    Lean,
    /// Head levelling (both views).
    Head,
    /// Carriage loop (front view).
    Carriage,
}

impl Loop {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Travel, Self::Lean, Self::Head, Self::Carriage];

    /// Its word on page and command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Travel => "travel",
            Self::Lean => "lean",
            Self::Head => "head",
            Self::Carriage => "carriage",
        }
    }

    /// The view whose trials decide about it; the head is judged in both.
    #[must_use]
    pub fn view(self) -> View {
        match self {
            Self::Travel | Self::Head => View::Side,
            Self::Lean | Self::Carriage => View::Front,
        }
    }
}

/// What a limit can be set to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LimitKey {
    /// Longest settling time after a kick or bump [s].
    Settling,
    /// Greatest head dip or sway in starts and stops [rad].
    Dip,
    /// Greatest residual wobble, peak to peak [rad].
    Residual,
    /// Greatest share of the floor's grip.
    Grip,
    /// Greatest supply current [A].
    Current,
    /// Least modulus margin.
    Margin,
    /// Least delay margin [s].
    Delay,
}

impl LimitKey {
    /// All of them, in the order of [`crate::Suggested::rows`].
    pub const ALL: [Self; 7] = [
        Self::Settling,
        Self::Dip,
        Self::Residual,
        Self::Grip,
        Self::Current,
        Self::Margin,
        Self::Delay,
    ];

    /// Its word on page and command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Settling => "settling",
            Self::Dip => "dip",
            Self::Residual => "residual",
            Self::Grip => "grip",
            Self::Current => "current",
            Self::Margin => "margin",
            Self::Delay => "delay",
        }
    }

    /// Label for people.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Settling => "longest settling time after a push",
            Self::Dip => "greatest dip or sway, start and stop",
            Self::Residual => "greatest residual wobble",
            Self::Grip => "most grip used",
            Self::Current => "greatest current",
            Self::Margin => "least modulus margin",
            Self::Delay => "least delay margin",
        }
    }

    /// Unit of its value.
    #[must_use]
    pub fn unit(self) -> Unit {
        match self {
            Self::Settling | Self::Delay => Unit::Second,
            Self::Dip | Self::Residual => Unit::Radian,
            Self::Grip => Unit::Share,
            Self::Current => Unit::Ampere,
            Self::Margin => Unit::One,
        }
    }

    /// Range in which it can be set [SI].
    #[must_use]
    pub fn range(self) -> (f64, f64) {
        match self {
            Self::Settling => (0.05, 8.0),
            Self::Dip | Self::Residual => (1e-4, core::f64::consts::FRAC_PI_2),
            Self::Grip => (0.01, 1.0),
            Self::Current => (0.01, 1e4),
            Self::Margin => (0.0, 1.0),
            Self::Delay => (0.0, crate::linear::LONG_DELAY),
        }
    }

    /// Whether it is a least value: a margin.
    #[must_use]
    pub fn is_least(self) -> bool {
        matches!(self, Self::Margin | Self::Delay)
    }
}

/// Relative weights of what is wanted, 0 … 10.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights {
    /// Short settling.
    pub settling: f64,
    /// Little dip and sway of the head.
    pub dip: f64,
    /// Little residual wobble.
    pub quiet: f64,
    /// Little current.
    pub current: f64,
    /// Great modulus margins.
    pub margin: f64,
}

impl Default for Weights {
    /// Settling and head first, then quiet; our choice, no published source.
    fn default() -> Self {
        Self {
            settling: 5.0,
            dip: 3.0,
            quiet: 2.0,
            current: 1.0,
            margin: 1.0,
        }
    }
}

/// A question.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// Loops that may be changed.
    pub loops: Vec<Loop>,
    /// Keys of knobs that stay although their loop may be changed.
    pub keep: Vec<String>,
    /// Limits [SI]. One that is missing has its usual value, or what the robot as it stands shows where
    /// that is worse: then nothing may get worse still. Missing margins are what the robot as it stands has,
    /// at each place where the loop can be cut.
    pub limits: Vec<(LimitKey, f64)>,
    /// What is wanted most.
    pub weights: Weights,
    /// Settings to try on the whole simulation, at most [`MOST_BUDGET`].
    pub budget: u32,
    /// Seed of the search and of all that it tries.
    pub seed: u64,
    /// Impulse of the kicks [N·s]; none: the robot's usual.
    pub kick: Option<f64>,
    /// Impulse of the bumps [N·s]; none: the robot's usual.
    pub bump: Option<f64>,
}

/// Settings that are tried unless another number is asked for.
pub const USUAL_BUDGET: u32 = 600;
/// Most settings.
pub const MOST_BUDGET: u32 = 20_000;

impl Default for Ask {
    fn default() -> Self {
        Self {
            loops: Loop::ALL.to_vec(),
            keep: Vec::new(),
            limits: Vec::new(),
            weights: Weights::default(),
            budget: USUAL_BUDGET,
            seed: 1,
            kick: None,
            bump: None,
        }
    }
}

impl Ask {
    /// Value of a limit, if it was asked for [SI].
    #[must_use]
    pub fn limit(&self, key: LimitKey) -> Option<f64> {
        self.limits.iter().find(|l| l.0 == key).map(|l| l.1)
    }

    /// Views in which the loops asked for are tried, each once.
    #[must_use]
    pub fn views(&self) -> Vec<View> {
        let has = |l: Loop| self.loops.contains(&l);
        let mut views = Vec::new();
        if has(Loop::Travel) || has(Loop::Head) {
            views.push(View::Side);
        }
        if has(Loop::Lean) || has(Loop::Carriage) || has(Loop::Head) {
            views.push(View::Front);
        }
        views
    }
}
