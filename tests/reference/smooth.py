"""Smooth motions: the rolling form integrated by SciPy's DOP853 at 1e-12.

Locked joints are a projection q = G z.  The run is cut at every instant where
an input is not smooth and at every sample, so no step straddles a kink and no
sample is interpolated.
"""

from __future__ import annotations

import numpy as np
from scipy.integrate import solve_ivp

from derive import PARAMETER_NAMES, numeric
from inputs import Inputs, Loop, pushes, torque

RTOL = ATOL = 1e-12
NEAR = 1e-9  # instants closer than this [s] are one
LOCKS = {
    (False, False): np.eye(3),
    (True, False): np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0]]),
    (False, True): np.array([[1.0, 0.0], [0.0, 1.0], [0.0, -1.0]]),
    (True, True): np.array([[1.0], [-1.0], [1.0]]),
}
DRIVE, HEAD, ON_SHELL, FLOOR = np.array([[1.0, 1, 0], [0, 1, 1], [1, 0, -1], [1, 0, 0]])


def parameter_tuple(case: dict) -> tuple:
    return tuple(case["parameters"][name] for name in PARAMETER_NAMES)


def merged(*lists) -> list[float]:
    out: list[float] = []
    for t in sorted(v for values in lists for v in values):
        if not out or t - out[-1] > NEAR:
            out.append(t)
    return out


class Plant:
    """Accelerations of the rolling robot under a case's inputs."""

    def __init__(self, case: dict, t_end: float):
        self.case = case
        self.p = parameter_tuple(case)
        self.radius = case["parameters"]["shell_radius"]
        self.head_above = case["parameters"]["head_com_above"]
        self.inputs = Inputs(case, t_end)
        self.viscous = case["viscous"]
        self.g_lock = LOCKS[case["locked"]["carriage"], case["locked"]["head"]]
        self.held = 0.0  # torque of the sampled loop
        self.functions = numeric()

    def generalised(self, t, seg, q, v) -> np.ndarray:
        """Q of drive, head, servo, pushes and viscous friction."""
        drive = self.held + torque(self.inputs.drive, t, seg)
        head = torque(self.inputs.head, t, seg)
        if self.inputs.servo:
            s, rate = self.inputs.servo.state(t, seg)
            spec = self.inputs.servo_spec
            head += spec["stiffness"] * (s - q[1] - q[2]) + spec["damping"] * (rate - v[1] - v[2])
        b = self.viscous
        drive -= b["drive"] * (v[0] + v[1])
        head -= b["head"] * (v[1] + v[2])
        shell = -b["head_on_shell"] * (v[0] - v[2])
        force = np.array([drive + shell - b["floor"] * v[0], drive + head, head - shell])
        for on, push, height in pushes(self.inputs.pulses, t, seg):
            if on == "shell":
                force[0] += push * height
            else:
                force[0] += push * self.radius
                force[2] += push * self.head_above * np.cos(q[2])
        return force

    def acceleration(self, t, seg, q, v) -> np.ndarray:
        out = self.functions["rolling"](self.p, q[1], q[2], 0.0, v[0], v[1], v[2])
        mass, rest = np.array(out[:9]).reshape(3, 3), np.array(out[9:])
        g = self.g_lock
        return g @ np.linalg.solve(g.T @ mass @ g, g.T @ (self.generalised(t, seg, q, v) - rest))

    def floor(self, t, seg, q, v) -> tuple[float, float]:
        """(traction, normal force) [N] that the floor gives; pushes are taken off."""
        a = self.acceleration(t, seg, q, v)
        rows = np.array(
            self.functions["floor"](self.p, q[1], q[2], self.radius * v[0], v[0], v[1], v[2])
        ).reshape(2, 5)
        along, normal = rows @ np.array([self.radius * a[0], *a, 1.0])
        along -= sum(push for _, push, _ in pushes(self.inputs.pulses, t, seg))
        return float(along), float(normal)


def run(case: dict, samples: list[float], rtol=RTOL, method="DOP853"):
    """Rows [theta, alpha, beta, rates..., traction, normal] at the sample times."""
    t_end = samples[-1]
    plant = Plant(case, t_end)
    loop = Loop(case["loop"]) if case.get("loop") else None
    first = case["initial"]
    y = np.array([first[k] for k in ("theta", "alpha", "beta", "theta_dot", "alpha_dot", "beta_dot")])
    ticks = [k * case["loop"]["tick"] for k in range(round(t_end / case["loop"]["tick"]) + 1)] if loop else []
    grid = merged(samples, plant.inputs.breakpoints())
    rows, steps = [], 0

    def fun_for(seg):
        return lambda t, y: np.concatenate([y[3:], plant.acceleration(t, seg, y[:3], y[3:])])

    for k, t in enumerate(grid):
        end = grid[k + 1] if k + 1 < len(grid) else t + 1e-3
        seg = 0.5 * (t + end)
        if ticks and abs(ticks[0] - t) < NEAR:
            plant.held = loop.tick(y[:3], y[3:])
            ticks.pop(0)
        if any(abs(t - s) < NEAR for s in (samples[len(rows)],) if len(rows) < len(samples)):
            rows.append([*y, *plant.floor(t, seg, y[:3], y[3:])])
        if k + 1 == len(grid):
            break
        sol = solve_ivp(fun_for(seg), (t, end), y, method=method, rtol=rtol, atol=rtol)
        if not sol.success:
            raise RuntimeError(f"{case['name']}: {sol.message}")
        y, steps = sol.y[:, -1], steps + sol.t.size
    return np.array(rows), steps
