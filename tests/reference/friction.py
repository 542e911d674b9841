"""Dry friction, two independent ways, in the coordinates (x, theta, alpha, beta).

``run`` is the reference: between events every element is stuck, or slides one
way; the motion is integrated by SciPy's DOP853 at 1e-12 and the event that ends
it (a sliding speed reaching zero, a sticking force reaching its limit) is
located on the dense output.  At an event the resting elements' next states are
found by trying every combination, most stuck first, and taking the one that
contradicts nothing.  Forces proportional to the floor force N are solved
together with N and the accelerations.

``time_stepping`` is the second opinion: no events, Moreau's velocity-level
stepping with clamped impulses (Moreau 1988; Acary & Brogliato, *Numerical
Methods for Nonsmooth Dynamical Systems*, 2008), small fixed steps.
"""

from __future__ import annotations

import itertools

import numpy as np
from scipy.integrate import solve_ivp

from derive import numeric
from inputs import Inputs, Loop, pushes, torque
from smooth import NEAR, merged, parameter_tuple

RTOL = ATOL = 1e-12
MAX_STEP = 0.01  # [s] so that no pair of events hides inside one step
REST = 1e-9  # a speed below this [rad/s, m/s] at an event counts as zero
JOINTS = {
    "drive": np.array([0.0, 1, 1, 0]),
    "head": np.array([0.0, 0, 1, 1]),
    "head_on_shell": np.array([0.0, 1, 0, -1]),
}


class Element:
    """Limit = constant + factor * N [N m or N]."""

    def __init__(self, name, row, kinetic=0.0, static=0.0, factor=0.0):
        self.name, self.row, self.kinetic, self.static, self.factor = name, row, kinetic, static, factor


class Plant:
    def __init__(self, case: dict, t_end: float):
        self.p = parameter_tuple(case)
        par, dry, locked = case["parameters"], case["friction"], case["locked"]
        self.radius, self.head_above = par["shell_radius"], par["head_com_above"]
        self.inputs, self.viscous = Inputs(case, t_end), case["viscous"]
        self.functions = numeric()
        self.held = 0.0
        contact = np.array([1.0, -self.radius, 0, 0])
        self.permanent = [JOINTS["drive"]] * locked["carriage"] + [JOINTS["head"]] * locked["head"]
        self.elements = []
        if dry["grip"] is None:
            self.permanent.append(contact)
        else:
            self.elements.append(Element("grip", contact, factor=dry["grip"]))
        for name, lock in (("drive", "carriage"), ("head", "head"), ("head_on_shell", None)):
            if dry[name]["static"] > 0.0 and not (lock and locked[lock]):
                self.elements.append(Element(name, JOINTS[name], dry[name]["kinetic"], dry[name]["static"]))
        if dry["rolling_resistance"] > 0.0:
            factor = dry["rolling_resistance"] * self.radius
            self.elements.append(Element("floor", np.array([0.0, 1, 0, 0]), factor=factor))
        self.constraint = np.array(self.permanent).reshape(-1, 4)

    def terms(self, t, seg, q, v):
        """M, Q - h, and the floor's rows (coefficients of acceleration, rest)."""
        args = (self.p, q[2], q[3], *v)
        out = self.functions["slipping"](*args)
        mass, rest = np.array(out[:16]).reshape(4, 4), np.array(out[16:])
        drive = self.held + torque(self.inputs.drive, t, seg) - self.viscous["drive"] * (v[1] + v[2])
        head = torque(self.inputs.head, t, seg) - self.viscous["head"] * (v[2] + v[3])
        if self.inputs.servo:
            s, rate = self.inputs.servo.state(t, seg)
            spec = self.inputs.servo_spec
            head += spec["stiffness"] * (s - q[2] - q[3]) + spec["damping"] * (rate - v[2] - v[3])
        shell = -self.viscous["head_on_shell"] * (v[1] - v[3])
        force = np.array([0.0, drive + shell - self.viscous["floor"] * v[1], drive + head, head - shell])
        for on, push, height in pushes(self.inputs.pulses, t, seg):
            force[0] += push
            if on == "shell":
                force[1] += push * (height - self.radius)
            else:
                force[3] += push * self.head_above * np.cos(q[3])
        rows = np.array(self.functions["floor"](*args)).reshape(2, 5)
        return mass, force - rest, rows

    def solve(self, t, seg, q, v, modes):
        """Accelerations, friction force of each element, traction, N for fixed modes."""
        mass, force, rows = self.terms(t, seg, q, v)
        stuck = [e for e in self.elements if modes[e.name] == 0]
        sliding = [e for e in self.elements if modes[e.name] != 0]
        lines = np.vstack([self.constraint, *[e.row for e in stuck]])
        n = len(lines)
        a = np.zeros((5 + n, 5 + n))
        b = np.zeros(5 + n)
        a[:4, :4], a[:4, 4 : 4 + n], a[4 : 4 + n, :4] = mass, lines.T, lines
        b[:4] = force
        for e in sliding:
            b[:4] -= modes[e.name] * e.kinetic * e.row
            a[:4, -1] += modes[e.name] * e.factor * e.row
        a[-1, :4], a[-1, -1], b[-1] = -rows[1, :4], 1.0, rows[1, 4]
        if np.linalg.matrix_rank(lines) < n:
            z = np.linalg.lstsq(a, b, rcond=None)[0]  # redundant: least-norm sticking forces
        else:
            z = np.linalg.solve(a, b)
        normal = z[-1]
        friction = {e.name: z[4 + len(self.constraint) + k] for k, e in enumerate(stuck)}
        friction |= {e.name: modes[e.name] * (e.kinetic + e.factor * normal) for e in sliding}
        traction = rows[0, :4] @ z[:4] + rows[0, 4] - sum(f for _, f, _ in pushes(self.inputs.pulses, t, seg))
        return z[:4], friction, float(traction), float(normal)

    def choose(self, t, seg, q, v, released=None):
        """Modes after an event.  ``released`` = (name, sign) may not stick again."""
        fixed, resting = {}, []
        for e in self.elements:
            speed = e.row @ v
            if released and e.name == released[0]:
                fixed[e.name] = released[1]
            elif abs(speed) > REST:
                fixed[e.name] = int(np.sign(speed))
            else:
                resting.append(e)
        options = sorted(itertools.product((0, 1, -1), repeat=len(resting)), key=lambda o: sum(map(abs, o)))
        for option in options:
            modes = fixed | {e.name: m for e, m in zip(resting, option)}
            a, friction, _, normal = self.solve(t, seg, q, v, modes)
            good = all(
                abs(friction[e.name]) <= (e.static + e.factor * normal) * (1 + 1e-10)
                if modes[e.name] == 0
                else modes[e.name] * (e.row @ a) > 0.0
                for e in resting
            )
            if good:
                return modes
        raise RuntimeError(f"no consistent friction state at t = {t}")

    def project(self, v, names, q):
        """Set the sliding speeds of the named elements exactly to zero."""
        lines = np.vstack([self.constraint, *[e.row for e in self.elements if e.name in names]])
        mass = np.array(self.functions["slipping"](self.p, q[2], q[3], *v)[:16]).reshape(4, 4)
        inverse = np.linalg.solve(mass, lines.T)
        return v - inverse @ np.linalg.lstsq(lines @ inverse, lines @ v, rcond=None)[0]


def start(case):
    first, r = case["initial"], case["parameters"]["shell_radius"]
    q = [first.get("x", r * first["theta"]), first["theta"], first["alpha"], first["beta"]]
    v = [first.get("x_dot", r * first["theta_dot"])] + [first[k + "_dot"] for k in ("theta", "alpha", "beta")]
    return np.array(q), np.array(v)


def run(case: dict, samples: list[float], max_step=MAX_STEP, rtol=RTOL):
    """Rows [theta, alpha, beta, rates, x, x_dot, traction, N] and the list of events."""
    plant = Plant(case, samples[-1])
    loop = Loop(case["loop"]) if case.get("loop") else None
    tick = case["loop"]["tick"] if loop else None
    q, v = start(case)
    breaks = merged(plant.inputs.breakpoints(), [0.0])
    grid = merged(samples, breaks)
    rows, events, modes, ticks = [], [], None, 0

    for k, t in enumerate(grid):
        end = grid[k + 1] if k + 1 < len(grid) else t + 1e-3
        seg = 0.5 * (t + end)
        if loop and abs(t - ticks * tick) < NEAR:
            plant.held, ticks = loop.tick(q[1:], v[1:]), ticks + 1
        if any(abs(t - b) < NEAR for b in breaks):
            new = plant.choose(t, seg, q, v)
            events += [[t, n, m] for n, m in new.items() if modes is None or modes[n] != m]
            modes = new
        if len(rows) < len(samples) and abs(t - samples[len(rows)]) < NEAR:
            _, _, traction, normal = plant.solve(t, seg, q, v, modes)
            rows.append([*q[1:], *v[1:], q[0], v[0], traction, normal])
        if k + 1 == len(grid):
            break
        now = t
        while end - now > 1e-13:
            def fun(s, y, modes=modes):
                return np.concatenate([y[4:], plant.solve(s, seg, y[:4], y[4:], modes)[0]])

            watch = []
            for e in plant.elements:
                if modes[e.name]:
                    def slide(s, y, e=e, m=modes[e.name]):
                        return m * (e.row @ y[4:]) + 1e-12
                    watch.append((e, slide))
                else:
                    def hold(s, y, e=e, modes=modes):
                        _, f, _, n = plant.solve(s, seg, y[:4], y[4:], modes)
                        return e.static + e.factor * n - abs(f[e.name])
                    watch.append((e, hold))
            for _, w in watch:
                w.terminal, w.direction = True, -1
            sol = solve_ivp(fun, (now, end), np.concatenate([q, v]), method="DOP853", rtol=rtol, atol=rtol,
                            max_step=max_step, events=[w for _, w in watch])
            if not sol.success:
                raise RuntimeError(f"{case['name']}: {sol.message}")
            now, q, v = sol.t[-1], sol.y[:4, -1], sol.y[4:, -1]
            fired = [(e, s) for (e, _), s in zip(watch, sol.t_events) if s.size]
            if not fired:
                break
            e = fired[0][0]
            if modes[e.name]:
                v = plant.project(v, {e.name, *[n for n, m in modes.items() if m == 0]}, q)
                new = plant.choose(now, seg, q, v)
            else:
                _, f, _, _ = plant.solve(now, seg, q, v, modes)
                new = plant.choose(now, seg, q, v, released=(e.name, int(np.sign(f[e.name]))))
            events += [[float(now), n, m] for n, m in new.items() if modes[n] != m]
            modes = new
            if len(events) > 5000:
                raise RuntimeError(f"{case['name']}: events without end")
    return np.array(rows), events


class Stepper:
    """Moreau's stepping: state (q, v), last step's accelerations, floor force, impulses, ways.

    ``ways`` is the sign each element slid in the last step.  One that was stuck has its
    static limit both ways; one that slid has it only against going back, i.e. when
    it came to a stop.
    """

    def __init__(self, case: dict, t_end: float):
        self.plant = Plant(case, t_end)
        self.elements = self.plant.elements
        q, v = start(case)
        # Basis of the motions that the permanent constraints allow.
        rows = self.plant.constraint
        self.basis = np.linalg.svd(rows)[2][len(rows) :].T if len(rows) else np.eye(4)
        self.lines = np.array([e.row for e in self.elements]).reshape(-1, 4)
        ways = tuple(0 if abs(e.row @ v) < REST else int(np.sign(e.row @ v)) for e in self.elements)
        normal = self.plant.terms(0.0, 0.0, q, v)[2][1, 4]
        self.state = (q, v, np.zeros(4), normal, np.zeros(len(self.elements)), ways)

    def next(self, t: float, step: float):
        """The state one step on."""
        q, v, a, normal, forces, ways = self.state
        mid = t + step / 2
        mass, force, floor = self.plant.terms(mid, mid, q + step / 2 * v, v + step / 2 * a)
        inverse = self.basis @ np.linalg.solve(self.basis.T @ mass @ self.basis, self.basis.T)
        free = after = v + step * (inverse @ force)
        response = inverse @ self.lines.T
        slid = ways
        for _ in range(6):  # the limits hang on this step's floor force, which hangs on them
            if self.elements:
                forces = self.clamped(self.lines @ response * step, self.lines @ free, normal, forces, slid)
                after = free - step * (response @ forces)
                ways = tuple(0 if abs(w) < 1e-10 else int(np.sign(w)) for w in self.lines @ after)
            a = (after - v) / step
            last, normal = normal, floor[1, :4] @ a + floor[1, 4]
            if abs(normal - last) < 1e-9 * abs(normal) or not self.elements:
                break
        return q + step / 2 * (v + after), after, a, normal, forces, ways

    def clamped(self, delassus, speed, normal, forces, ways):
        """Mean friction forces over a step, by projected Gauss-Seidel."""
        forces, each = forces.copy(), range(len(self.elements))
        kinetic = [e.kinetic + e.factor * normal for e in self.elements]
        static = [e.static + e.factor * normal for e in self.elements]
        low = [-k if w < 0 else -s for k, s, w in zip(kinetic, static, ways)]
        high = [k if w > 0 else s for k, s, w in zip(kinetic, static, ways)]
        while True:
            for _ in range(500):
                change = 0.0
                for i in each:
                    value = forces[i] + (speed[i] - delassus[i] @ forces) / delassus[i, i]
                    value = min(high[i], max(low[i], value))
                    change = max(change, abs(value - forces[i]))
                    forces[i] = value
                if change < 1e-11:
                    break
            # Only what settled at its static limit has broken away.
            broken = False
            for i in each:
                if forces[i] >= high[i] > kinetic[i]:
                    high[i], broken = kinetic[i], True
                elif forces[i] <= low[i] < -kinetic[i]:
                    low[i], broken = -kinetic[i], True
            if not broken:
                return forces


def time_stepping(case: dict, samples: list[float], step: float, finer: int) -> np.ndarray:
    """Rows [theta, alpha, beta, rates, x, x_dot] by Moreau's stepping.

    A step in which an element changes its way is done again in ``finer`` parts, since
    the method is first order there.
    """
    stepper = Stepper(case, samples[-1])
    loop = Loop(case["loop"]) if case.get("loop") else None
    per_tick = round(case["loop"]["tick"] / step) if loop else 0
    rows = []
    for k in range(round(samples[-1] / step) + 1):
        t = k * step
        q, v = stepper.state[:2]
        if loop and k % per_tick == 0:
            stepper.plant.held = loop.tick(q[1:], v[1:])
        if len(rows) < len(samples) and abs(t - samples[len(rows)]) < NEAR:
            rows.append([*q[1:], *v[1:], q[0], v[0]])
        new = stepper.next(t, step)
        if new[-1] == stepper.state[-1]:
            stepper.state = new
            continue
        for part in range(finer):
            stepper.state = stepper.next(t + part * step / finer, step / finer)
    return np.array(rows)
