//! A motion of the loop shown by itself on the drawn robot: the pose painted is the present one
//! and the motion's shape laid over it. Nothing of it goes into the run.

use kickstill_number::{Within, shortest};
use kickstill_rig::Sample;
use kickstill_robot::{Problem, View};

/// Greatest amplitude that is drawn [rad].
const WIDEST: f64 = 1.0;
/// Fastest motion that is taken [Hz], and fastest growth or decay [1/s].
const FASTEST: f64 = 1e6;
/// It begins anew after so many e-folds: what is left of it by then is too small to be seen.
const FOLDS: f64 = 4.0;
/// It begins anew after so many swings at the latest, so that its size is seen again.
const SWINGS: f64 = 8.0;
/// Longest time after its beginning [s].
const LONGEST: f64 = 1e9;

/// A motion of one plane: complex amplitudes of shell rotation θ, carriage swing α and head tilt
/// β, at s = growth + 2πi·frequency.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Mode {
    pub(crate) view: View,
    shape: [f64; 6],
    hertz: f64,
    growth: f64,
    amplitude: f64,
    seconds: f64,
}

impl Mode {
    /// Takes real and imaginary parts of θ, α, β, the largest of size 1; `amplitude` [rad] is what
    /// that one is drawn with.
    ///
    /// # Errors
    /// Every number that cannot be drawn.
    pub(crate) fn new(
        view: View,
        shape: &[f64],
        hertz: f64,
        growth: f64,
        amplitude: f64,
    ) -> Result<Mode, Vec<Problem>> {
        let mut problems = Vec::new();
        let mut expect = |path: &str, sound: bool, found: String, expected: &str| {
            if !sound {
                let problem = Problem::error(path, expected);
                problems.push(problem.found(found).kept("nothing was changed"));
            }
        };
        let six = <[f64; 6]>::try_from(shape).ok();
        let drawn = six.filter(|six| six.iter().all(|part| part.abs() <= 1.0 + 1e-9));
        expect(
            "mode shape",
            drawn.is_some(),
            listed(shape),
            "six numbers from -1 to 1",
        );
        expect(
            "mode frequency",
            (0.0..=FASTEST).contains(&hertz),
            shortest(hertz),
            "a number from 0 to 1000000 Hz",
        );
        expect(
            "mode growth",
            growth.abs() <= FASTEST,
            shortest(growth),
            "a number from -1000000 to 1000000 1/s",
        );
        expect(
            "mode amplitude",
            (0.0..=WIDEST).contains(&amplitude),
            shortest(amplitude),
            "a number from 0 to 1 rad",
        );
        match drawn {
            Some(shape) if problems.is_empty() => Ok(Mode {
                view,
                shape,
                hertz,
                growth,
                amplitude,
                seconds: 0.0,
            }),
            _ => Err(problems),
        }
    }

    /// Time after its beginning [s].
    pub(crate) fn time(&self) -> f64 {
        self.seconds
    }

    /// Goes to this time after the motion's beginning [s]; what is no time is left out.
    pub(crate) fn at(&mut self, seconds: f64) {
        if seconds.is_finite() {
            self.seconds = seconds.within(0.0, LONGEST);
        }
    }

    /// How long it is shown before it begins anew [s]: until little is left of it, in whole swings
    /// where there are any, so that it goes on where it was.
    fn lasts(&self) -> f64 {
        let folds = FOLDS / self.growth.abs();
        let swings = folds * self.hertz;
        if swings >= 1.0 {
            swings.ceil().min(SWINGS) / self.hertz
        } else {
            folds
        }
    }

    /// Departures of shell rotation, carriage swing and head tilt [rad]:
    /// a·Re(φ·e^(s·t)), one that grows reaching its amplitude a at the end.
    fn departures(&self) -> [f64; 3] {
        let lasts = self.lasts();
        let t = if lasts.is_finite() && lasts > 0.0 {
            self.seconds - lasts * (self.seconds / lasts).floor()
        } else {
            self.seconds
        };
        let from = if self.growth > 0.0 { lasts } else { 0.0 };
        let grown = self.growth * (t - from);
        let size = self.amplitude * libm::exp(if grown.is_finite() { grown } else { 0.0 });
        // Whole turns are left out first: sines of large numbers are poor.
        let turns = self.hertz * t;
        let angle = 2.0 * core::f64::consts::PI * (turns - turns.floor());
        let [re, im] = [size * libm::cos(angle), size * libm::sin(angle)];
        let [a, b, c, d, e, f] = self.shape;
        [a * re - b * im, c * re - d * im, e * re - f * im]
    }

    /// The sample as it is painted: the shell rolled on without slip on a shell of this outer
    /// radius [m].
    pub(crate) fn pose(&self, sample: &Sample, radius: f64) -> Sample {
        let [roll, swing, tilt] = self.departures();
        Sample {
            travel: sample.travel + radius * roll,
            roll: sample.roll + roll,
            swing: sample.swing + swing,
            tilt: sample.tilt + tilt,
            servo: sample.servo + tilt + swing,
            ..*sample
        }
    }
}

/// Numbers as a list: "[0.5, -1]".
fn listed(numbers: &[f64]) -> String {
    let texts: Vec<String> = numbers.iter().map(|n| shortest(*n)).collect();
    format!("[{}]", texts.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHAPE: [f64; 6] = [0.5, 0.0, 1.0, 0.0, 0.0, 1.0];

    fn at(hertz: f64, growth: f64, seconds: f64) -> Sample {
        let mut mode = Mode::new(View::Side, &SHAPE, hertz, growth, 0.2).unwrap();
        mode.at(seconds);
        mode.pose(&Sample::default(), 0.24)
    }

    #[test]
    fn bodies_move_by_their_amplitudes_and_phases() {
        let start = at(0.5, 0.0, 0.0);
        assert_eq!([start.roll, start.swing, start.tilt], [0.1, 0.2, 0.0]);
        assert_eq!(start.travel, 0.24 * 0.1);
        // A quarter of a swing on: Re(i·e^(iπ/2)) = −1.
        let quarter = at(0.5, 0.0, 0.5);
        assert!((quarter.tilt + 0.2).abs() < 1e-15 && quarter.swing.abs() < 1e-15);
        // The servo turns head against carriage: ψ = β + α (MODEL.md).
        assert_eq!(quarter.servo, quarter.tilt + quarter.swing);
    }

    #[test]
    fn it_dies_away_or_grows_and_begins_anew() {
        // e-fold in 2 s: after one swing of 1 s, e^(−1/2).
        assert!((at(1.0, -0.5, 1.0).swing - 0.2 * libm::exp(-0.5)).abs() < 1e-15);
        // Four e-folds are eight swings of 1 s: then anew.
        assert!((at(1.0, -0.5, 8.0).swing - 0.2).abs() < 1e-15);
        let grown = at(1.0, 0.5, 7.999_999_999).swing;
        assert!((grown - 0.2).abs() < 1e-6, "{grown}");
        // Over before it has swung once: anew after four e-folds of 0.1 s.
        assert!((at(0.5, -10.0, 0.4).swing - 0.2).abs() < 1e-12);
        // One that does not swing.
        assert!((at(0.0, -2.0, 0.5).swing - 0.2 * libm::exp(-1.0)).abs() < 1e-15);
    }

    #[test]
    fn what_cannot_be_drawn_is_refused() {
        let wrong = |shape: &[f64], hertz, growth, amplitude| {
            Mode::new(View::Side, shape, hertz, growth, amplitude)
                .unwrap_err()
                .len()
        };
        assert_eq!(wrong(&SHAPE[..5], 1.0, 0.0, 0.2), 1);
        assert_eq!(wrong(&[2.0; 6], 1.0, 0.0, 0.2), 1);
        assert_eq!(wrong(&SHAPE, f64::NAN, f64::INFINITY, -1.0), 3);
    }
}
