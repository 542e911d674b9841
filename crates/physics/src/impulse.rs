//! Velocity level: sudden locks, walls, and the coarse step that ends a storm of events.

use crate::frame::Frame;
use crate::linear::eliminate;
use crate::modes::{Contact, Modes, SUBSPACES, ServoMode};
use crate::push::PushForce;
use crate::state::{State, X};
use crate::trig::Trig;

/// Passes of the projected Gauss–Seidel iteration in a coarse step.
const PASSES: usize = 60;

impl Frame {
    /// Mass matrix of (x, θ, α, β) with the motors' rotors turning freely with the joint.
    fn mass_matrix(&self, t: &Trig) -> [[f64; 4]; 4] {
        let c = &self.c;
        let rotor = self.p.gears.rotor_inertia;
        let (hang, head) = (c.hang * t.cos_swing, c.head * t.cos_tilt);
        [
            [c.mass, 0.0, hang, head],
            [0.0, c.shell + rotor, rotor, 0.0],
            [hang, rotor, c.carriage + rotor, c.joint],
            [head, 0.0, c.joint, c.top],
        ]
    }

    /// Motions (x, θ, α, β) that grip and resting elements leave free.
    fn motions(&self, modes: &Modes) -> ([[f64; 4]; 4], usize) {
        let space = &SUBSPACES[modes.stuck_bits()];
        let mut basis = [[0.0; 4]; 4];
        let mut n = 0;
        if !modes.rolls() {
            basis[0][X] = 1.0;
            n = 1;
        }
        for vector in space.basis.iter().take(space.rank) {
            if modes.rolls() {
                basis[n][X] = self.p.radius * vector[0];
            }
            basis[n][1..].copy_from_slice(vector);
            n += 1;
        }
        (basis, n)
    }

    /// Change of speeds by the impulse `j` (along x, θ, α, β) in the motions left free.
    fn response(&self, t: &Trig, modes: &Modes, j: &[f64; 4]) -> [f64; 4] {
        let m = self.mass_matrix(t);
        let (basis, n) = self.motions(modes);
        let mut a = [[0.0; 5]; 4];
        for i in 0..n {
            for k in 0..n {
                for (p, row) in m.iter().enumerate() {
                    for (q, entry) in row.iter().enumerate() {
                        a[i][k] += basis[i][p] * entry * basis[k][q];
                    }
                }
            }
            for p in 0..4 {
                a[i][4] += basis[i][p] * j[p];
            }
        }
        let mut u = [0.0; 4];
        eliminate(&mut a, n, &mut u);
        let mut out = [0.0; 4];
        for (amount, vector) in u.iter().zip(&basis).take(n) {
            for (o, g) in out.iter_mut().zip(vector) {
                *o += amount * g;
            }
        }
        out
    }

    /// Speeds after the resting elements of `modes` caught suddenly: G(GᵀMG)⁻¹GᵀM·q̇.
    pub(crate) fn project_speeds(&self, y: &State, t: &Trig, modes: &Modes) -> [f64; 4] {
        let m = self.mass_matrix(t);
        let mut momentum = [0.0; 4];
        for (p, row) in momentum.iter_mut().zip(&m) {
            for (entry, v) in row.iter().zip(&y.v) {
                *p += entry * v;
            }
        }
        self.response(t, modes, &momentum)
    }

    /// Effective mass against a push along `b`: 1/(b·M⁻¹·bᵀ), resting joints projected [kg].
    pub(crate) fn effective_mass(&self, t: &Trig, modes: &Modes, b: &[f64; 4]) -> f64 {
        let v = self.response(t, modes, b);
        let mobility: f64 = b.iter().zip(&v).map(|(b, v)| b * v).sum();
        1.0 / mobility.max(1e-12)
    }

    /// One step at velocity level: free motion, then friction impulses within their bounds
    /// (Moreau, *Unilateral contact and dry friction in finite freedom dynamics*, 1988; projected
    /// Gauss–Seidel). First order, but it cannot stall.
    pub(crate) fn velocity_step(
        &self,
        y: &State,
        t: &Trig,
        motor_torque: f64,
        push: &PushForce,
        h: f64,
    ) -> State {
        let free = Modes {
            servo: self.servo_mode(y, ServoMode::Held),
            ..Modes::default()
        };
        let s = self.solve(y, t, &self.plan(&free), motor_torque, push);
        let mut v = y.v;
        for (v, a) in v.iter_mut().zip(&s.a) {
            *v += h * a;
        }
        let p = &self.p;
        let normal = s.normal.max(0.0);
        let gears = &p.gears;
        let gear_limit = gears.friction.dry + gears.load_share() * motor_torque.abs();
        let unlimited = f64::INFINITY;
        let rows = [
            (
                [0.0, 1.0, 1.0, 0.0],
                if self.inputs.drive_locked {
                    unlimited
                } else {
                    gear_limit
                },
            ),
            (
                [0.0, 0.0, 1.0, 1.0],
                if self.inputs.head_locked && self.head_on {
                    unlimited
                } else {
                    self.bearing().dry
                },
            ),
            ([0.0, 1.0, 0.0, -1.0], self.castors().dry),
            (
                [0.0, 1.0, 0.0, 0.0],
                p.rolling_resistance * normal * p.radius,
            ),
            ([1.0, -p.radius, 0.0, 0.0], p.grip * normal),
        ];
        let slipping = Modes {
            grip: Contact::Free,
            ..Modes::default()
        };
        let mut responses = [[0.0; 4]; 5];
        let mut impulses = [0.0; 5];
        for (r, (row, _)) in responses.iter_mut().zip(&rows) {
            *r = self.response(t, &slipping, row);
        }
        for _ in 0..PASSES {
            for (i, (row, limit)) in rows.iter().enumerate() {
                if *limit <= 0.0 {
                    continue;
                }
                let mobility: f64 = row.iter().zip(&responses[i]).map(|(a, b)| a * b).sum();
                let speed: f64 = row.iter().zip(&v).map(|(a, b)| a * b).sum();
                let wanted = impulses[i] - speed / mobility;
                let bound = limit * h;
                let next = wanted.max(-bound).min(bound);
                let change = next - impulses[i];
                impulses[i] = next;
                for (v, r) in v.iter_mut().zip(&responses[i]) {
                    *v += change * r;
                }
            }
        }
        let mut out = *y;
        out.v = v;
        // What came to rest within the iteration's accuracy rests exactly.
        let still = |impulse: f64, limit: f64| impulse.abs() < limit * h * (1.0 - 1e-6);
        let mut modes = Modes::default();
        let set = |m: &mut Contact, i: usize| {
            if rows[i].1 > 0.0 && still(impulses[i], rows[i].1) {
                *m = Contact::Stuck;
            }
        };
        set(&mut modes.drive, 0);
        set(&mut modes.bearing, 1);
        set(&mut modes.castors, 2);
        set(&mut modes.rolling, 3);
        set(&mut modes.grip, 4);
        let space = &SUBSPACES[modes.stuck_bits()];
        let mut new = [0.0; 3];
        for (vector, carrier) in space.basis.iter().zip(space.carrier).take(space.rank) {
            for (n, g) in new.iter_mut().zip(vector) {
                *n += g * v[carrier + 1];
            }
        }
        out.v[1..].copy_from_slice(&new);
        if modes.rolls() {
            out.v[X] = p.radius * new[0];
        }
        for (q, v) in out.q.iter_mut().zip(&out.v) {
            *q += h * v;
        }
        out.servo += h * s.servo_rate;
        out
    }
}
