//! The drive taken by hand, and kicks that come by plan: the same in the same ticks, however fast the screen is.

use std::collections::VecDeque;

use kickstill_rig::{Event, Level};
use kickstill_robot::View;

use super::{Desk, Problems, check, index, refuse};

/// Most kicks of a plan.
pub(crate) const MOST_KICKS: usize = 64;
/// Latest time of a kick [s].
const LATEST: f64 = 600.0;

/// Kicks to come, in order: view, time since rest [µs], impulse [N·s], height [m].
pub(super) type Plan = VecDeque<(View, u64, f64, f64)>;

impl Desk {
    /// Gives the drive of the board's robot this duty from the next tick on; its double knows nothing of it.
    pub(crate) fn hand(&mut self, view: View, duty: f64) -> Result<(), Problems> {
        let duty = check("hand", duty, -1.0, 1.0, "")?;
        if self.level != Level::Off {
            self.set_level(Level::Off as u32)?;
        }
        self.planes[index(view)].apply(Event::Duty(duty));
        Ok(())
    }

    /// Plans kicks of one view, in the place of those that were planned: time, impulse and height of each.
    pub(crate) fn plan(&mut self, view: View, kicks: &[f64]) -> Result<(), Problems> {
        if !kicks.len().is_multiple_of(3) || kicks.len() > 3 * MOST_KICKS {
            let expected = format!("three numbers for each of at most {MOST_KICKS} kicks");
            return Err(refuse(
                "plan",
                &format!("{} numbers", kicks.len()),
                &expected,
            ));
        }
        let mut plan = Plan::new();
        let mut before = 0.0;
        for kick in kicks.chunks_exact(3) {
            let (impulse, height) = self.check_kick(kick[1], kick[2])?;
            before = check("kick time", kick[0], before, LATEST, "s")?;
            // The cast is exact enough: rounded, and at most 6·10⁸.
            plan.push_back((view, (before * 1e6).round() as u64, impulse, height));
        }
        self.plan = plan;
        Ok(())
    }

    /// Gives the kicks whose time has come.
    pub(super) fn kick_as_planned(&mut self) {
        while let Some(&(view, time, impulse, height)) = self.plan.front() {
            if time > self.planes[index(view)].time_us() {
                return;
            }
            self.plan.pop_front();
            // It was checked; a robot that became smaller since refuses it, and then there is none.
            let _ = self.kick(view, impulse, height);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIDE: View = View::Side;

    /// Knob and kick times [µs] of the log.
    fn log(desk: &Desk) -> Vec<(u64, Event)> {
        desk.plane(SIDE).record().log.to_vec()
    }

    #[test]
    fn the_hand_moves_the_boards_robot_and_not_its_double() {
        let mut desk = Desk::new();
        desk.double_at(Level::Steadied, "software");
        desk.hand(SIDE, 0.3).unwrap();
        for _ in 0..100 {
            desk.tick();
        }
        let [own, double] =
            [desk.plane(SIDE), desk.double_plane(SIDE).unwrap()].map(|plane| plane.at(plane.now()));
        assert!(own.duty > 0.29 && own.travel > 0.02, "{own:?}");
        assert!(double.travel.abs() < 0.01, "{double:?}");
        // The switch ends it.
        desk.set_level(0).unwrap();
        desk.tick();
        let plane = desk.plane(SIDE);
        assert_eq!(plane.at(plane.now()).duty, 0.0);
    }

    #[test]
    fn taking_the_drive_switches_the_software_off() {
        let mut desk = Desk::new();
        desk.set_level(2).unwrap();
        desk.tick();
        desk.hand(SIDE, 0.1).unwrap();
        assert_eq!(desk.level(), Level::Off);
        desk.tick();
        desk.tick();
        for view in [SIDE, View::Front] {
            let plane = desk.plane(view);
            assert_eq!(plane.at(plane.now()).level, 0);
        }
    }

    #[test]
    fn what_is_no_duty_is_refused() {
        let mut desk = Desk::new();
        for wrong in [f64::NAN, f64::INFINITY, 1.01, -2.0] {
            assert_eq!(desk.hand(SIDE, wrong).unwrap_err()[0].path, "hand");
        }
        desk.tick();
        assert!(log(&desk).is_empty());
    }

    #[test]
    fn planned_kicks_come_in_their_ticks_whatever_the_frames() {
        let run = |frame: f64| {
            let mut desk = Desk::new();
            desk.plan(SIDE, &[0.5, 3.0, 0.24, 0.777, -2.0, 0.24])
                .unwrap();
            while desk.plane(SIDE).now() < 1.5 {
                desk.advance(frame);
            }
            log(&desk)
        };
        let kicks = run(16_667.0);
        let times: Vec<u64> = kicks.iter().map(|(time, _)| *time).collect();
        assert_eq!(times, [500_000, 780_000]);
        let other: Vec<u64> = run(33_333.0).iter().map(|(time, _)| *time).collect();
        assert_eq!(times, other);
    }

    #[test]
    fn a_plan_with_a_slip_changes_nothing() {
        let mut desk = Desk::new();
        desk.plan(SIDE, &[0.1, 3.0, 0.24]).unwrap();
        for wrong in [
            &[1.0, 2.0][..],
            &[f64::NAN, 1.0, 0.1],
            &[1.0, f64::INFINITY, 0.1],
            &[1.0, 1.0, -0.1],
            &[2.0, 1.0, 0.1, 1.0, 1.0, 0.1],
            &[601.0, 1.0, 0.1],
            &[0.0; 3 * MOST_KICKS + 3],
        ] {
            assert!(desk.plan(SIDE, wrong).is_err(), "{wrong:?}");
        }
        assert_eq!(desk.plan.len(), 1);
        desk.reset_run();
        assert!(desk.plan.is_empty());
    }
}
