"""Writes fixtures/loops.json: poles and margins of the demo robots' sampled loops, and optimal gains.

    python loops.py            # --check computes again and compares

Independent of the Rust code: the plant comes from ``derive.py`` (SymPy), linearised by Richardson
differences and sampled by SciPy's ``cont2discrete``; the firmware's tick is a plain function of
numbers, and the loop's matrix is what that function makes of unit vectors. Poles are NumPy's
eigenvalues, the response is python-control's, crossovers are found on it by SciPy's ``brentq``.
Left out, as in the program's linear model: dry friction, load loss in gears, dead bands, limits,
noise, bias, rounding. Compare poles within 1e-6 and margins within 1e-5, relatively. Optimal gains are SciPy's
``solve_discrete_are`` for each demo's sampled plant with a line of delayed duty.
"""

from __future__ import annotations

import json
import math
import platform
import sys
from pathlib import Path

import control
import numpy as np
import scipy
import scipy.linalg
from scipy.optimize import brentq
from scipy.signal import cont2discrete

from derive import numeric

HERE = Path(__file__).parent
G = 9.80665


def plant(robot, view):
    """A, B of (theta, alpha, beta, rates, servo) and (duty, head target), standing on the level."""
    drive = robot["travel_drive" if view == "side" else "lean_drive"]
    joint, castors, floor = robot["head_joint"], robot["castors"], robot["floor"]
    ratio = drive["gear_ratio"] * (drive["rim_radius"] / drive["roller_radius"] if drive["kind"] == "rim" else 1.0)
    kn = drive["motor_constant"] * ratio
    count, resistance = drive["motor_count"], drive["motor_resistance"]
    battery = robot["battery"]
    # Idle voltage: V = V_oc - R_b P / V.
    volts = battery["open_voltage"]
    for _ in range(200):
        volts = battery["open_voltage"] - battery["resistance"] * battery["electronics_power"] / volts
    p = (
        robot["shell"]["outer_radius"], robot["shell"]["mass"], robot["shell"]["inertia"],
        robot["carriage"]["mass"], robot["carriage"]["below_centre"], robot["carriage"]["inertia_" + view],
        robot["head"]["mass"], robot["head"]["above_centre"], robot["head"]["inertia_" + view],
        count * ratio**2 * drive["rotor_inertia"], joint["rotor_inertia"], G, floor["slope"],
    )
    rolling = numeric()["rolling"]

    def derivative(x, u):
        theta, alpha, beta, wt, wa, wb, servo = x
        duty, target = u
        out = rolling(p, alpha, beta, 0.0, wt, wa, wb)
        mass, rest = np.reshape(out[:9], (3, 3)), np.array(out[9:], dtype=float)
        servo_rate = (target - servo) / joint["servo_lag"]
        motor = count * kn * (duty * volts - kn * (wt + wa)) / resistance - drive["viscous"] * (wt + wa)
        neck = joint["stiffness"] * (servo - alpha - beta) + joint["damping"] * (servo_rate - wa - wb)
        neck -= joint["viscous"] * (wa + wb)
        castor = castors["viscous"] * (wt - wb)
        torque = np.array([motor - floor["rolling_viscous"] * wt - castor, motor + neck, neck + castor])
        return np.concatenate([[wt, wa, wb], np.linalg.solve(mass, torque - rest), [servo_rate]])

    def slope(along):
        def central(e):
            v = along * e
            return (derivative(v[:7], v[7:]) - derivative(-v[:7], -v[7:])) / (2 * e)

        return (4 * central(5e-4) - central(1e-3)) / 3

    columns = np.array([slope(v) for v in np.eye(9)]).T
    return columns[:, :7], columns[:, 7:]


class Loop:
    def __init__(self, robot, view):
        self.robot, self.view = robot, view
        self.h = round(1e6 / robot["timing"]["loop_rate"]) * 1e-6
        self.delay = robot["timing"]["delay_ticks"]
        self.a, self.b = plant(robot, view)
        self.ad, self.bd, *_ = cont2discrete((self.a, self.b, np.eye(7), np.zeros((7, 2))), self.h, "zoh")
        # plant 7, held output 2, angle, joint, gyro (all of the tick before), rate, memory, queue
        self.size = 7 + 2 + 5 + 2 * self.delay

    def tick(self, z, broken=None, v=0.0):
        """State at the next tick, and what would have gone in where ``broken`` cuts the loop."""
        r, h = self.robot, self.h
        x, held, (angle0, joint0, gyro0, rate, memory) = z[:7], z[7:9], z[9:14]
        queue = z[14:].reshape(self.delay, 2)
        out = None

        def cut(name, value):
            nonlocal out
            if name != broken:
                return value
            out = value
            return v

        joint = x[0] + x[1]
        gyro = x[4]
        acceleration = (self.a @ x + self.b @ held)[3:6]
        if r["sensing"]["ideal"] == "yes":
            angle, joint_rate, shell_rate = x[1], x[3] + x[4], x[3]
        else:
            mount = r["shell"]["outer_radius"] * acceleration[0]
            mount += r["sensing"]["mount_below_centre"] * acceleration[1]
            angle = angle0 + h * gyro
            angle += (x[1] + mount / G - angle) * h / (r["sensing"]["angle_time"] + h)
            joint_rate = (joint - joint0) / h
            shell_rate = joint_rate - (gyro + gyro0) / 2
        if self.view == "side":
            t = r["travel"]
            rate = rate + (gyro - rate) * h / (t["smoothing"] + h)
            banded = cut("dead band", angle)
            duty = -t["speed"] * shell_rate - t["correction"] * banded - t["damping"] * rate + memory
            memory = memory - t["memory"] * shell_rate * h
        else:
            t, inner = r["lean"], r["carriage_loop"]
            rate = rate + (shell_rate - rate) * h / (t["smoothing"] + h)
            banded = cut("dead band", -(joint - angle))
            target = cut("carriage target", t["correction"] * banded - t["damping"] * rate + memory)
            memory = memory + t["memory"] * banded * h
            duty = inner["correction"] * (target - joint) - inner["damping"] * joint_rate
        computed = np.array([duty, r["levelling"]["compensation"] * angle])
        line = np.vstack([computed, queue])
        due = [cut("duty", line[-1][0]), cut("head target", line[-1][1])]
        following = self.ad @ x + self.bd @ due
        return np.concatenate([following, due, [angle, joint, gyro, rate, memory], line[:-1].ravel()]), out

    def matrices(self, broken=None):
        a = np.array([self.tick(e, broken)[0] for e in np.eye(self.size)]).T
        if broken is None:
            return a
        b = self.tick(np.zeros(self.size), broken, 1.0)[0]
        c = np.array([self.tick(e, broken)[1] for e in np.eye(self.size)])
        return a, b[:, None], c[None, :]


def poles(a):
    values = np.linalg.eigvals(a)
    # Standing anywhere (side view) and a memory that is not used are no motions: poles at 1. Below 0.02
    # all is over in a tick.
    values = [z for z in values if z.imag >= 0 and abs(z) > 0.02 and abs(z - 1) > 1e-7]
    values.sort(key=lambda z: -abs(z))
    rows = []
    for z in values:
        s = np.log(complex(z))
        rows.append([z.real, z.imag, abs(s.imag), -s.real / abs(s)])
    return rows


def margins(loop, broken):
    a, b, c = loop.matrices(broken)
    system = control.ss(a, b, -c, 0, loop.h)
    response = lambda w: complex(system(np.exp(1j * w * loop.h), warn_infinite=False))  # noqa: E731
    top = math.pi / loop.h
    grid = np.concatenate([np.geomspace(0.02, 1.0, 400), np.linspace(1.0, top * 0.9999, 6000)])
    values = np.array([response(w) for w in grid])
    result = {"up": None, "down": None, "phase": None, "delay": None}

    def crossings(curve):
        y = curve(values)
        for i in np.nonzero(y[:-1] * y[1:] < 0)[0]:
            yield brentq(lambda w: float(curve(np.array([response(w)]))[0]), grid[i], grid[i + 1], xtol=1e-13)

    for w in crossings(lambda v: v.imag):
        v = response(w)
        if v.real < 0 and abs(v.imag) < 1e-6 * abs(v):
            factor = -1 / v.real
            if factor >= 1 and (result["up"] is None or factor < result["up"][0]):
                result["up"] = [factor, w]
            if factor <= 1 and (result["down"] is None or factor > result["down"][0]):
                result["down"] = [factor, w]
    for w in crossings(lambda v: np.abs(v) - 1):
        phase = math.remainder(float(np.angle(response(w))) + math.pi, 2 * math.pi)
        lag = (phase % (2 * math.pi)) / w
        if result["phase"] is None or abs(phase) < abs(result["phase"][0]):
            result["phase"] = [phase, w]
        if result["delay"] is None or lag < result["delay"][0]:
            result["delay"] = [lag, w]
    i = int(np.argmin(np.abs(1 + values)))
    lo, hi = grid[max(i - 1, 0)], grid[min(i + 1, len(grid) - 1)]
    found = scipy.optimize.minimize_scalar(
        lambda w: abs(1 + response(w)), bounds=(lo, hi), method="bounded", options={"xatol": 1e-10}
    )
    result["modulus"] = [float(min(found.fun, abs(1 + values[i]))), float(found.x)]
    # The slow end is left to the poles.
    result["from"] = float(grid[0])
    return result


def cases():
    for key in ("cobnut", "thimble", "hayrick"):
        robot = json.loads((HERE / f"../../crates/robot/demos/{key}.json").read_text())
        for view in ("side", "front"):
            for delay, ideal in ((1, "no"), (0, "yes"), (3, "no")):
                robot["timing"]["delay_ticks"] = delay
                robot["sensing"]["ideal"] = ideal
                yield key, view, delay, ideal, Loop(robot, view)


def riccati():
    """Discrete Riccati equation of each demo's plant, all but theta, and the line of its delayed duty."""
    for key in ("cobnut", "thimble", "hayrick"):
        robot = json.loads((HERE / f"../../crates/robot/demos/{key}.json").read_text())
        for view in ("side", "front"):
            robot["timing"]["delay_ticks"] = delay = 2
            loop = Loop(robot, view)
            keep = range(1, 7)
            n = len(keep) + delay
            a, b = np.zeros((n, n)), np.zeros((n, 1))
            a[:6, :6] = loop.ad[np.ix_(keep, keep)]
            a[:6, n - 1] = loop.bd[keep, 0]
            for i in range(7, n):
                a[i, i - 1] = 1.0
            b[6, 0] = 1.0
            # The head levels by itself: its target is the swing.
            a[:6, 0] += loop.bd[keep, 1]
            q = np.diag([800.0, 200.0, 4.0, 11.0, 1.0, 0.0] + [0.0] * delay)
            r = np.array([[8.0]])
            x = scipy.linalg.solve_discrete_are(a, b, q, r)
            k = np.linalg.solve(r + b.T @ x @ b, b.T @ x @ a)
            yield {"robot": key, "view": view, **{name: m.tolist() for name, m in
                   (("a", a), ("b", b), ("q", q), ("r", r), ("x", x), ("k", k))}}


def make():
    rows = []
    for key, view, delay, ideal, loop in cases():
        breaks = ["duty", "dead band"] + (["carriage target"] if view == "front" else [])
        rows.append({
            "robot": key, "view": view, "delay_ticks": delay, "ideal": ideal, "step": loop.h,
            "poles": poles(loop.matrices()),
            "margins": {broken: margins(loop, broken) for broken in breaks},
        })
    return {
        "format": "loops", "version": 1,
        "header": {
            "tools": {"python": platform.python_version(), "numpy": np.__version__, "scipy": scipy.__version__,
                      "control": control.__version__},
            "script": "loops.py", "command": "python loops.py",
            "tolerance": {"poles": 1e-6, "margins": 1e-5, "riccati": 1e-8},
            "poles": "[re z, im z, |im ln z|, damping ratio], im z >= 0, |z| > 0.02",
            "riccati": "x, k: solution and gains for a, b, q, r, row by row",
            "margins": "[value, rad/s]: gain factor up and down, phase [rad], delay [s], min |1 + L|",
        },
        "cases": rows,
        "riccati": list(riccati()),
    }


def apart(a, b):
    """Largest relative difference of two nested lists of numbers."""
    if isinstance(a, dict):
        return max((apart(a[k], b[k]) for k in a), default=0.0)
    if isinstance(a, list):
        return max((apart(x, y) for x, y in zip(a, b, strict=True)), default=0.0)
    if isinstance(a, float):
        return abs(a - b) / max(abs(a), abs(b), 1e-6)
    return 0.0 if a == b else 1.0


def main() -> int:
    path = HERE / "fixtures/loops.json"
    made = make()
    if "--check" in sys.argv[1:]:
        kept = json.loads(path.read_text())
        gap = max(apart(kept[key], made[key]) for key in ("cases", "riccati"))
        print(f"largest difference {gap:.1e}")
        return int(gap > 1e-6)
    path.write_text(json.dumps(made, allow_nan=False) + "\n")
    print(f"{len(made['cases'])} cases")
    return 0


if __name__ == "__main__":
    sys.exit(main())
