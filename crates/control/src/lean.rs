//! Front view: lean loop over carriage loop, the cascade makers build.

use kickstill_number::Within;
use kickstill_robot::{CarriageLoop, LeanLoop};

use crate::elements::{Memory, Smooth, approach, dead_band, guarded};
use crate::flag;
use crate::sense::Felt;

/// State of the cascade.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Lean {
    memory: Memory,
    rate: Smooth,
    /// Carriage target of the tick before [rad].
    target: Option<f64>,
}

/// What the cascade needs of the robot.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct LeanSettings {
    pub(crate) outer: LeanLoop,
    pub(crate) inner: CarriageLoop,
    /// Lean travel, each way [rad].
    pub(crate) travel: f64,
    /// Swing guard [rad].
    pub(crate) guard: f64,
}

/// Duty, carriage target and limits met.
pub(crate) struct LeanAnswer {
    pub(crate) duty: f64,
    pub(crate) target: f64,
    pub(crate) flags: u32,
}

impl Lean {
    /// One tick: shell lean → carriage target → duty.
    ///
    /// e = set − θ; target ρ = set + P·db(e) − D·θ̇ + I∫db(e), within travel and slew;
    /// duty = K_p·(target − ρ) − K_d·ρ̇, within its limit and the swing guard. The set point
    /// itself is in the target because a carriage that hangs straight down in a shell leaning by
    /// θ stands at ρ = θ. A lean to +x moves the carriage to −x, which rolls the shell back.
    pub(crate) fn tick(
        &mut self,
        settings: &LeanSettings,
        felt: &Felt,
        set: f64,
        step: f64,
    ) -> LeanAnswer {
        let (outer, inner) = (&settings.outer, &settings.inner);
        let error = set - felt.roll();
        let banded = dead_band(error, outer.dead_band, outer.dead_band_shape);
        let rate = self.rate.follow(
            felt.roll_rate_from(outer.rate_source),
            outer.smoothing,
            step,
        );
        let resting = outer.gated_damping && error.abs() <= outer.dead_band;
        let damped = if resting { 0.0 } else { outer.damping * rate };
        let wanted =
            set + outer.correction * banded - damped + self.memory.bound(outer.memory_limit);

        let mut flags = 0;
        let within = wanted.within(-settings.travel, settings.travel);
        if within != wanted {
            flags |= flag::TRAVEL;
        }
        let before = self
            .target
            .unwrap_or(felt.drive_angle)
            .within(-settings.travel, settings.travel);
        let target =
            approach(before, within, outer.slew * step).within(-settings.travel, settings.travel);
        // A hair, or rounding alone would raise the flag.
        if (target - within).abs() > 1e-12 {
            flags |= flag::SLEW;
        }
        self.target = Some(target);

        let asked =
            inner.correction * (target - felt.drive_angle) - inner.damping * felt.drive_rate;
        let limited = asked.within(-inner.duty_limit, inner.duty_limit);
        if limited != asked {
            flags |= flag::DUTY;
        }
        let duty = guarded(limited, felt.swing, settings.guard);
        if duty != limited {
            flags |= flag::GUARD;
        }
        self.memory.add(
            outer.memory,
            banded,
            outer.memory_limit,
            step,
            &[wanted - target, asked - duty],
        );
        LeanAnswer {
            duty,
            target,
            flags,
        }
    }
}
