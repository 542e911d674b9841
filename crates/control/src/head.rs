//! The head loop: keeps the head level and lets it lead a start or stop.

use kickstill_number::Within;
use kickstill_robot::HeadLoop;

use crate::elements::Smooth;
use crate::flag;
use crate::sense::Felt;

/// State of the head loop.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Levelling {
    /// Slow part of the lead, which the washout takes away [rad].
    slow: Smooth,
}

/// What the loop needs of the robot.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct HeadSettings {
    pub(crate) gains: HeadLoop,
    /// Travel of the servo, each way [rad].
    pub(crate) travel: f64,
    /// Swing per acceleration K [rad/(m/s²)].
    pub(crate) swing_per_acceleration: f64,
}

impl Levelling {
    /// One tick: target of the head servo ψ [rad] and limits met.
    ///
    /// ψ = compensation·α + lead + stick. A level head has β = 0, so ψ = β + α = α. The lead is
    /// the swing that the wanted acceleration will bring, high-passed: s·T/(s·T + 1).
    pub(crate) fn tick(
        &mut self,
        settings: &HeadSettings,
        felt: &Felt,
        acceleration: f64,
        stick: f64,
        step: f64,
    ) -> (f64, u32) {
        let gains = &settings.gains;
        let coming = gains.lead * settings.swing_per_acceleration * acceleration;
        let lead = coming - self.slow.follow(coming, gains.lead_time, step);
        let wanted = gains.compensation * felt.swing + lead + stick;
        let target = wanted.within(-settings.travel, settings.travel);
        let flags = if target == wanted { 0 } else { flag::SERVO };
        (target, flags)
    }
}
