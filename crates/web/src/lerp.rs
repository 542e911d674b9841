//! Between two samples: what the board shows when the screen is faster than the controller.

use kickstill_rig::Sample;

/// The state between `a` and `b`, `share` of the way (0 … 1).
///
/// What moves the drawing is interpolated linearly; efforts, flags and commands are the later
/// sample's, for they are steps.
pub(crate) fn between(a: &Sample, b: &Sample, share: f64) -> Sample {
    let mix = |from: f64, to: f64| from + (to - from) * share;
    Sample {
        time: mix(a.time, b.time),
        travel: mix(a.travel, b.travel),
        speed: mix(a.speed, b.speed),
        roll: mix(a.roll, b.roll),
        roll_rate: mix(a.roll_rate, b.roll_rate),
        swing: mix(a.swing, b.swing),
        swing_rate: mix(a.swing_rate, b.swing_rate),
        tilt: mix(a.tilt, b.tilt),
        tilt_rate: mix(a.tilt_rate, b.tilt_rate),
        servo: mix(a.servo, b.servo),
        slope: mix(a.slope, b.slope),
        // A head that has just come off starts falling from where the later sample has it.
        head_x: if a.head_lost() {
            mix(a.head_x, b.head_x)
        } else {
            b.head_x
        },
        head_z: if a.head_lost() {
            mix(a.head_z, b.head_z)
        } else {
            b.head_z
        },
        ..*b
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_are_the_samples() {
        let a = Sample {
            time: 1.0,
            swing: 0.1,
            duty: 0.2,
            ..Sample::default()
        };
        let b = Sample {
            time: 1.01,
            swing: 0.3,
            duty: 0.4,
            ..Sample::default()
        };
        assert_eq!(between(&a, &b, 1.0), b);
        let start = between(&a, &b, 0.0);
        assert_eq!((start.time, start.swing), (1.0, 0.1));
        assert_eq!(start.duty, 0.4, "efforts are steps");
        assert!((between(&a, &b, 0.5).swing - 0.2).abs() < 1e-15);
    }
}
