//! Counts what a tick of the closed loop allocates.

use std::alloc::System;

use kickstill_rig::{Event, Level, Rig, usual_kick};
use kickstill_robot::{Robot, View};
use stats_alloc::{INSTRUMENTED_SYSTEM, Region, StatsAlloc};

#[global_allocator]
static ALLOCATOR: &StatsAlloc<System> = &INSTRUMENTED_SYSTEM;

/// Ticks before counting begins.
const WARM_UP: u32 = 200;
/// Ticks counted.
const COUNTED: u32 = 20_000;
/// Ticks between kicks.
const BETWEEN_KICKS: u32 = 800;

/// Allocations and moves of allocations a tick, steadied and kicked.
pub(crate) fn per_tick(robot: &Robot, view: View) -> f64 {
    let mut rig = Rig::new(robot.clone(), view, 1);
    rig.apply(Event::Level(Level::Steadied));
    let height = robot.shell.outer_radius;
    let mut impulse = usual_kick(robot);
    let mut run = |ticks: u32| {
        for i in 0..ticks {
            if i % BETWEEN_KICKS == 0 {
                rig.apply(Event::Kick { impulse, height });
                impulse = -impulse;
            }
            rig.tick();
        }
    };
    run(WARM_UP);
    let region = Region::new(ALLOCATOR);
    run(COUNTED);
    let change = region.change();
    (change.allocations + change.reallocations) as f64 / f64::from(COUNTED)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_counter_counts_and_a_tick_allocates_nothing() {
        let region = Region::new(ALLOCATOR);
        let kept: Vec<u8> = Vec::with_capacity(10);
        assert!(region.change().allocations >= 1);
        drop(kept);
        let robot = kickstill_robot::demo("cobnut").unwrap();
        for view in [View::Side, View::Front] {
            assert_eq!(per_tick(&robot, view), 0.0, "{view:?}");
        }
    }
}
