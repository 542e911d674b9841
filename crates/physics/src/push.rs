//! Kicks, bumps and walls as half-sine force pulses.

use core::f64::consts::PI;

/// Where a push acts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PushAt {
    /// On the shell at this height above the floor [m].
    Shell(f64),
    /// On the head's centre of mass.
    Head,
    /// On the head's widest point towards the wall.
    HeadEdge,
}

/// A half-sine pulse of force along +x: F(t) = peak·sin(π·t/duration).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    /// Place.
    pub at: PushAt,
    /// Peak force [N].
    pub peak: f64,
    /// Duration [s].
    pub duration: f64,
    /// Time since its start [s].
    pub elapsed: f64,
}

impl Push {
    /// A pulse with this impulse [N·s]: peak = π·impulse/(2·duration).
    #[must_use]
    pub fn of_impulse(at: PushAt, impulse: f64, duration: f64) -> Self {
        Self {
            at,
            peak: PI * impulse / (2.0 * duration),
            duration,
            elapsed: 0.0,
        }
    }

    /// Time left [s].
    #[must_use]
    pub fn remaining(&self) -> f64 {
        self.duration - self.elapsed
    }

    /// Force a time `ahead` [s] from now [N].
    #[must_use]
    pub fn force(&self, ahead: f64) -> f64 {
        let t = self.elapsed + ahead;
        if t <= 0.0 || t >= self.duration {
            0.0
        } else {
            self.peak * libm::sin(PI * t / self.duration)
        }
    }
}

/// The pushes at work, at most four at once.
#[derive(Clone, Copy, Debug, Default)]
pub struct Pushes {
    slots: [Option<Push>; 4],
    active: u32,
}

/// Generalised force of all pushes: along x, about the shell's centre, on the head.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct PushForce {
    /// Sum of forces [N].
    pub(crate) x: f64,
    /// Moment on the shell about its centre [N·m].
    pub(crate) shell: f64,
    /// Force on the head's centre of mass [N].
    pub(crate) head: f64,
    /// Force on the head's edge [N].
    pub(crate) edge: f64,
    /// Whether any push is on the head.
    pub(crate) on_head: bool,
}

impl Pushes {
    /// Adds a push; the oldest gives way if four are at work already.
    pub fn add(&mut self, push: Push) {
        let free = self.slots.iter().position(Option::is_none);
        let slot = free.unwrap_or_else(|| {
            let mut oldest = 0;
            for (i, p) in self.slots.iter().enumerate() {
                let age = |p: &Option<Push>| p.map_or(0.0, |p| p.elapsed);
                if age(p) > age(&self.slots[oldest]) {
                    oldest = i;
                }
            }
            oldest
        });
        self.slots[slot] = Some(push);
        self.count();
    }

    /// Whether any is at work.
    #[must_use]
    pub fn any(&self) -> bool {
        self.active > 0
    }

    /// Total force now [N].
    #[must_use]
    pub fn force(&self) -> f64 {
        self.slots.iter().flatten().map(|p| p.force(0.0)).sum()
    }

    /// Time until the first of them ends [s]; infinite if none is at work.
    #[must_use]
    pub fn next_end(&self) -> f64 {
        self.slots
            .iter()
            .flatten()
            .map(Push::remaining)
            .fold(f64::INFINITY, f64::min)
    }

    /// Lets time pass; spent pushes end.
    pub fn advance(&mut self, h: f64) {
        if self.active == 0 {
            return;
        }
        for slot in &mut self.slots {
            if let Some(p) = slot {
                p.elapsed += h;
                // A remainder below a nanosecond is rounding of the edge itself.
                if p.remaining() < 1e-9 {
                    *slot = None;
                }
            }
        }
        self.count();
    }

    pub(crate) fn sum(&self, ahead: f64, radius: f64) -> PushForce {
        let mut out = PushForce::default();
        for p in self.slots.iter().flatten() {
            let f = p.force(ahead);
            out.x += f;
            match p.at {
                PushAt::Shell(height) => out.shell += f * (height - radius),
                PushAt::Head => {
                    out.head += f;
                    out.on_head = true;
                }
                PushAt::HeadEdge => {
                    out.edge += f;
                    out.on_head = true;
                }
            }
        }
        out
    }

    fn count(&mut self) {
        self.active = 0;
        for _ in self.slots.iter().flatten() {
            self.active += 1;
        }
    }
}
