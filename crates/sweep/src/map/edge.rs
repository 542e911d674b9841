//! The edge by the linear model over a map: where the greatest pole stands on the unit circle.

use kickstill_analysis::{About, Model};
use kickstill_rig::Level;

use super::Map;

/// Places looked at along each axis.
const LOOKS: usize = 25;
/// Steps by which a crossing is narrowed down.
const NARROW: usize = 5;

/// A crossing: its place in cells, and the side of the grid that it lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Crossing {
    side: (usize, usize, bool),
    at: [f64; 2],
}

impl Map {
    /// Where all motions about standing still just neither die nor grow: lines of places in cells, x and y, 0 the
    /// middle of the first cell. Empty for a robot whose software does not run, and where the model finds no
    /// edge. Between whole numbers of a knob the edge lies where it must, half way.
    #[must_use]
    pub fn edge(&self) -> Vec<Vec<[f64; 2]>> {
        if self.setting.level != Level::Steadied {
            return Vec::new();
        }
        let places = |count: usize, whole: bool| -> Vec<f64> {
            if whole && count <= 2 * LOOKS {
                return (0..count).map(|i| i as f64).collect();
            }
            let last = (count - 1) as f64;
            (0..LOOKS)
                .map(|i| last * i as f64 / (LOOKS - 1) as f64)
                .collect()
        };
        let whole = [&self.x, &self.y].map(|a| a.knob().kind != kickstill_robot::Kind::Number);
        let xs = places(self.x.count(), whole[0]);
        let ys = places(self.y.count(), whole[1]);
        let seen: Vec<Vec<f64>> = ys
            .iter()
            .map(|y| xs.iter().map(|x| self.excess(*x, *y)).collect())
            .collect();
        let crossing = |i: usize, j: usize, along_x: bool| -> Option<Crossing> {
            let (i2, j2) = if along_x { (i + 1, j) } else { (i, j + 1) };
            let (a, b) = (seen[j][i], seen[j2][i2]);
            if (a < 0.0) == (b < 0.0) || a.is_nan() || b.is_nan() {
                return None;
            }
            let (from, to) = ([xs[i], ys[j]], [xs[i2], ys[j2]]);
            let between = if whole[usize::from(!along_x)] {
                0.5
            } else {
                self.narrow(from, to, a, b)
            };
            Some(Crossing {
                side: (i, j, along_x),
                at: [
                    from[0] + between * (to[0] - from[0]),
                    from[1] + between * (to[1] - from[1]),
                ],
            })
        };
        let mut pieces: Vec<[Crossing; 2]> = Vec::new();
        for j in 0..ys.len() - 1 {
            for i in 0..xs.len() - 1 {
                let around: Vec<Crossing> = [
                    crossing(i, j, true),
                    crossing(i + 1, j, false),
                    crossing(i, j + 1, true),
                    crossing(i, j, false),
                ]
                .into_iter()
                .flatten()
                .collect();
                match around[..] {
                    [a, b] => pieces.push([a, b]),
                    // A saddle: by the middle, which joins the corners of its own kind.
                    [a, b, c, d] => {
                        let middle =
                            self.excess(0.5 * (xs[i] + xs[i + 1]), 0.5 * (ys[j] + ys[j + 1]));
                        if (middle < 0.0) == (seen[j][i] < 0.0) {
                            pieces.extend([[a, b], [c, d]]);
                        } else {
                            pieces.extend([[a, d], [b, c]]);
                        }
                    }
                    _ => {}
                }
            }
        }
        joined(pieces)
    }

    /// Spectral radius less 1 at a place in cells; not a number where there is no model.
    fn excess(&self, x: f64, y: f64) -> f64 {
        let mut robot = self.robot.clone();
        (self.x.knob().put)(&mut robot, self.x.value_at(x));
        (self.y.knob().put)(&mut robot, self.y.value_at(y));
        Model::new(&robot, self.setting.view, &About::default())
            .and_then(|m| m.spectral_radius())
            .map_or(f64::NAN, |radius| radius - 1.0)
    }

    /// Share of the way from one place to another at which the excess changes its sign: false position, with the
    /// kept end's weight halved when one side is hit twice (Illinois).
    fn narrow(&self, from: [f64; 2], to: [f64; 2], a: f64, b: f64) -> f64 {
        let ((mut low, mut a), (mut high, mut b)) = ((0.0, a), (1.0, b));
        let mut share = 0.5;
        let mut side = 0;
        for _ in 0..NARROW {
            share = low + (high - low) * a / (a - b);
            let value = self.excess(
                from[0] + share * (to[0] - from[0]),
                from[1] + share * (to[1] - from[1]),
            );
            if value.is_nan() {
                break;
            }
            if (value < 0.0) == (a < 0.0) {
                (low, a) = (share, value);
                if side < 0 {
                    b *= 0.5;
                }
                side = -1;
            } else {
                (high, b) = (share, value);
                if side > 0 {
                    a *= 0.5;
                }
                side = 1;
            }
        }
        share
    }
}

/// Pieces put end to end.
fn joined(mut pieces: Vec<[Crossing; 2]>) -> Vec<Vec<[f64; 2]>> {
    let mut lines = Vec::new();
    while let Some([a, b]) = pieces.pop() {
        let mut line = std::collections::VecDeque::from([a, b]);
        loop {
            let (first, last) = (line[0], line[line.len() - 1]);
            let next = pieces.iter().position(|p| {
                p.iter()
                    .any(|c| c.side == first.side || c.side == last.side)
            });
            let Some(at) = next else { break };
            let [c, d] = pieces.swap_remove(at);
            if c.side == last.side {
                line.push_back(d);
            } else if d.side == last.side {
                line.push_back(c);
            } else if c.side == first.side {
                line.push_front(d);
            } else {
                line.push_front(c);
            }
        }
        lines.push(line.into_iter().map(|c| c.at).collect());
    }
    lines
}
