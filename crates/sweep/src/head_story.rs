//! The story of grams on the head: dip at a stop, settling after the usual kick and the least modulus
//! margin against added head mass, to the mass where it fails.

use kickstill_analysis::{About, Break, Loop, NoModel};
use kickstill_rig::budget::{Question, Sought, USUAL_DIP, survives};
use kickstill_rig::{Level, OutcomeClass, Setting, Trial, run_trial};
use kickstill_robot::{Robot, Severity, View, validate};

/// Points of the picture unless another number is asked for.
pub const USUAL_POINTS: u32 = 33;
/// Fewest and most points.
pub const POINTS: (u32, u32) = (9, 129);
/// Longest settling time taken unless another is asked for [s]: that of the limits before a show.
pub const USUAL_SETTLING: f64 = 2.0;
/// Least modulus margin usually asked for: a greatest sensitivity of 2 (K. J. Åström and T. Hägglund,
/// "Advanced PID Control", 2006, call 1.2 to 2 usual; from memory).
pub const USUAL_MARGIN: f64 = 0.5;
/// Steps in which the mass where it fails is looked for.
const LOOKS: u32 = 24;
/// Halvings of an interval of the picture, to about a five-hundredth of it.
const HALVINGS: u32 = 9;
/// Added mass below the present one that is shown, as a share of the head's, where the robot does not
/// fail as it stands.
const LIGHTER: f64 = 0.25;
/// Shown beyond the mass where it fails, as a share of the way there.
const BEYOND: f64 = 0.15;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StoryOrder {
    /// Greatest dip taken [rad].
    pub dip: f64,
    /// Longest settling time taken [s].
    pub settling: f64,
    /// Most points of the picture; round steps may take fewer.
    pub points: u32,
}

impl Default for StoryOrder {
    fn default() -> Self {
        Self {
            dip: USUAL_DIP,
            settling: USUAL_SETTLING,
            points: USUAL_POINTS,
        }
    }
}

/// One mass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StoryPoint {
    /// Added mass [kg].
    pub added: f64,
    /// Head dip of the usual stop, side view [rad]; none if that went wrong.
    pub dip: Option<f64>,
    /// Settling time of the usual kick, the longer of both views [s]; none if one does not settle.
    pub settling: Option<f64>,
    /// Least modulus margin over loops and views; 0 where the linear model is unstable, none where there
    /// is no such model.
    pub margin: Option<f64>,
    /// The loop that has it.
    pub loosest: Option<(View, Break)>,
    /// The worst of the three outcomes.
    pub class: OutcomeClass,
    /// Whether stop and both kicks are survived.
    pub survives: bool,
}

/// Between which two masses something is passed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passed {
    /// Greatest added mass found before it [kg]; none where the picture begins beyond it.
    pub holds: Option<f64>,
    /// Least found beyond it [kg].
    pub breaks: f64,
}

impl Passed {
    /// Where it is passed, said as one number [kg]: the last that holds.
    #[must_use]
    pub fn at(&self) -> f64 {
        self.holds.unwrap_or(self.breaks)
    }
}

/// The story.
#[derive(Clone, Debug, PartialEq)]
pub struct HeadStory {
    /// What was asked.
    pub order: StoryOrder,
    /// Points at even steps of mass, the robot as it stands among them.
    pub points: Vec<StoryPoint>,
    /// Place among them of the robot as it stands.
    pub now: usize,
    /// Where the dip's limit is first passed, from the robot as it stands on if it keeps it.
    pub dip: Option<Passed>,
    /// Where the settling time's limit is.
    pub settling: Option<Passed>,
    /// Where the margin first falls below [`USUAL_MARGIN`].
    pub margin: Option<Passed>,
    /// Where it falls to 0: the linear model becomes unstable.
    pub edge: Option<Passed>,
    /// Where it fails: stop or kick are not survived.
    pub fails: Option<Passed>,
    /// Runs it took.
    pub runs: u32,
}

/// How bad an outcome is, the worst first.
const WORST: [OutcomeClass; 9] = [
    OutcomeClass::Diverged,
    OutcomeClass::HeadLost,
    OutcomeClass::OutOfControl,
    OutcomeClass::Hop,
    OutcomeClass::BrownOut,
    OutcomeClass::Sways,
    OutcomeClass::StillMoving,
    OutcomeClass::RestsLeaning,
    OutcomeClass::Settled,
];

/// Least modulus margin of a robot over its loops in both views, and the loop that has it; 0 where it
/// is unstable, none where there is no linear model.
#[must_use]
pub fn least_margin(robot: &Robot) -> Option<(f64, (View, Break))> {
    let breaks = [
        Break::Duty,
        Break::CarriageTarget,
        Break::HeadTarget,
        Break::DeadBand,
    ];
    let mut least: Option<(f64, (View, Break))> = None;
    for view in [View::Side, View::Front] {
        for at in breaks {
            let margins = match Loop::new(robot, view, &About::default(), at) {
                Ok(open) => open.margins(),
                Err(NoModel::NoSuchBreak) => continue,
                Err(_) => return None,
            };
            let margin = match margins.stable {
                Some(true) => margins.modulus.0,
                _ => 0.0,
            };
            if margin.is_finite() && least.is_none_or(|l| margin < l.0) {
                least = Some((margin, (view, at)));
            }
        }
    }
    least
}

struct Teller<'a, G> {
    robot: &'a Robot,
    stop: Setting,
    kicks: [Setting; 2],
    go_on: G,
    runs: u32,
    most: u32,
}

impl<G: FnMut(u32, u32) -> bool> Teller<'_, G> {
    /// None where it is given up.
    fn at(&mut self, added: f64) -> Option<StoryPoint> {
        if !(self.go_on)(self.runs.min(self.most), self.most) {
            return None;
        }
        let mut robot = self.robot.clone();
        robot.head.mass += added;
        robot.parts.clear();
        if validate(&robot)
            .iter()
            .any(|p| p.severity == Severity::Error)
        {
            return Some(StoryPoint {
                added,
                dip: None,
                settling: None,
                margin: None,
                loosest: None,
                class: OutcomeClass::Diverged,
                survives: false,
            });
        }
        let stop = run_trial(&robot, &self.stop);
        let kicks = self.kicks.map(|kick| run_trial(&robot, &kick));
        self.runs += 3;
        let all = || kicks.iter().chain([&stop]);
        let worst = WORST
            .into_iter()
            .find(|class| all().any(|run| run.outcome.class == *class));
        let margin = least_margin(&robot);
        let times = kicks.each_ref().map(|k| k.value("settling_time"));
        Some(StoryPoint {
            added,
            dip: stop.value("head_dip").filter(|_| survives(&stop)),
            settling: match times {
                [Some(a), Some(b)] => Some(a.max(b)),
                _ => None,
            },
            margin: margin.map(|m| m.0),
            loosest: margin.map(|m| m.1),
            class: worst.unwrap_or(OutcomeClass::Settled),
            survives: all().all(survives),
        })
    }

    /// Where `breaks` first comes true along the points, from `now` on if it does not stand there;
    /// narrowed down. The outer none if given up.
    #[allow(clippy::option_option)]
    fn first(
        &mut self,
        points: &[StoryPoint],
        now: usize,
        breaks: impl Fn(&StoryPoint) -> bool,
    ) -> Option<Option<Passed>> {
        let from = if breaks(&points[now]) { 0 } else { now };
        let Some(i) = (from..points.len()).find(|i| breaks(&points[*i])) else {
            return Some(None);
        };
        if i == 0 {
            return Some(Some(Passed {
                holds: None,
                breaks: points[0].added,
            }));
        }
        let (mut holds, mut broken) = (points[i - 1].added, points[i].added);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (holds + broken);
            if breaks(&self.at(middle)?) {
                broken = middle;
            } else {
                holds = middle;
            }
        }
        Some(Some(Passed {
            holds: Some(holds),
            breaks: broken,
        }))
    }
}

/// The least round number not below `least` (above 0).
fn round_step(least: f64) -> f64 {
    const ROUND: [f64; 11] = [1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0];
    let decade = libm::exp10(libm::log10(least).floor());
    let part = least / decade;
    let up = ROUND.into_iter().find(|r| *r >= part * (1.0 - 1e-9));
    decade * up.unwrap_or(10.0)
}

/// Tells the story of `robot`'s head; `opened` is the robot whose usual kick is given. `go_on` is told
/// how many runs are done and how many there may be; if it gives false there is no answer.
pub fn head_story(
    robot: &Robot,
    opened: &Robot,
    order: &StoryOrder,
    go_on: impl FnMut(u32, u32) -> bool,
) -> Option<HeadStory> {
    let count = order.points.clamp(POINTS.0, POINTS.1);
    let of = |trial, view| Setting {
        impulse: Setting::new(trial, view, Level::Steadied, opened).impulse,
        ..Setting::new(trial, view, Level::Steadied, robot)
    };
    let mut teller = Teller {
        robot,
        stop: of(Trial::Stop, View::Side),
        kicks: [View::Side, View::Front].map(|view| of(Trial::Kick, view)),
        go_on,
        runs: 0,
        most: 3 * (LOOKS + 1 + count + 5 * HALVINGS),
    };
    let mass = robot.head.mass;
    let (least, most) = Question::new(Sought::HeadMass, View::Side, robot).range(robot);
    let (least, most) = (least - mass, most - mass);
    let stands = teller.at(0.0)?.survives;
    let (low, high) = if stands {
        let mut fails = most;
        for i in 1..=LOOKS {
            // Finer at first: a head that fails soon must not fall into the first step.
            let share = f64::from(i) / f64::from(LOOKS);
            let added = most * share * share;
            if !teller.at(added)?.survives {
                fails = added;
                break;
            }
        }
        let high = (fails * (1.0 + BEYOND)).min(most);
        ((-LIGHTER * mass.min(2.0 * high)).max(least), high)
    } else {
        (least, (0.25 * mass).min(most))
    };
    // The robot as it stands is one of the points, and what is added a round number.
    let step = round_step((high - low) / f64::from(count - 1));
    let before = (-low / step).floor().max(0.0);
    // The casts are safe: at most as many as there are points.
    let now = before as usize;
    let after = (high / step).floor().max(0.0) as u32;
    let mut points = Vec::new();
    for i in 0..=now as u32 + after {
        points.push(teller.at((f64::from(i) - before) * step)?);
    }
    let over = |v: Option<f64>, limit: f64| v.is_none_or(|v| v > limit);
    Some(HeadStory {
        order: *order,
        now,
        dip: teller.first(&points, now, |p| over(p.dip, order.dip))?,
        settling: teller.first(&points, now, |p| over(p.settling, order.settling))?,
        margin: teller.first(&points, now, |p| p.margin.is_none_or(|m| m < USUAL_MARGIN))?,
        edge: teller.first(&points, now, |p| p.margin.is_none_or(|m| m <= 0.0))?,
        fails: teller.first(&points, now, |p| !p.survives)?,
        runs: teller.runs,
        points,
    })
}

#[cfg(test)]
mod tests {
    use super::round_step;

    #[test]
    fn steps_are_round() {
        for (least, step) in [
            (0.1077, 0.12),
            (0.1, 0.1),
            (0.0099, 0.01),
            (2.6, 3.0),
            (9.9, 10.0),
        ] {
            assert!((round_step(least) - step).abs() < 1e-12, "{least}");
        }
    }
}
