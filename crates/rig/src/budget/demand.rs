//! What a run asked of the head joint.

use crate::trial::Run;

/// Greatest demand on the head joint seen in a run, from what is tested on.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HeadDemand {
    /// Servo travel, either way from the middle [rad].
    pub travel: f64,
    /// Torque of the joint on the head, bearing friction included [N·m].
    pub torque: f64,
}

/// Greatest servo travel and joint torque in a run, up to the loss of the head if it was lost.
///
/// With travel and torque to spare this is what the motion asks; the least limit that still
/// holds, which the searches find, can be lower: a servo held back now and then may do.
#[must_use]
pub fn head_demand(run: &Run) -> HeadDemand {
    let mut demand = HeadDemand::default();
    for s in run.samples[run.first..]
        .iter()
        .take_while(|s| !s.head_lost())
    {
        demand.travel = demand.travel.max(s.servo.abs());
        demand.torque = demand.torque.max(s.head_torque.abs());
    }
    demand
}
