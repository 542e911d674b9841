"""Writes fixtures/<case>.json: reference trajectories with a second opinion.

    python make_fixtures.py            all cases
    python make_fixtures.py NAME ...   the named ones
    python make_fixtures.py --check [NAME ...]   recompute, compare with the committed files, write nothing
"""

from __future__ import annotations

import copy
import json
import platform
import sys
from pathlib import Path

import mujoco
import numpy as np
import scipy
import sympy

import friction
import mujoco_plant
import smooth
from cases import CASES

HERE = Path(__file__).resolve().parent
HORIZON, EVERY = 10.0, 0.1  # [s]
FINE = 10  # the floor force is watched this many times a sample
ANGLES = ["theta", "alpha", "beta", "theta_dot", "alpha_dot", "beta_dot"]
UNITS = {
    "t": "s", "theta": "rad", "alpha": "rad", "beta": "rad", "theta_dot": "rad/s", "alpha_dot": "rad/s",
    "beta_dot": "rad/s", "x": "m", "x_dot": "m/s", "traction": "N", "normal_force": "N",
}
TOLERANCE = {"smooth": 1e-6, "chaotic": 1e-6, "friction events": 1e-4}
STEPPING, FINER = 1e-4, 50  # second opinion with friction: step [s], parts of a step with an event
NUDGE = 1e-7  # [rad] change of the starting state that measures sensitivity
CHAOS = 1e4  # growth of the nudge from which a case is called chaotic
GROWTH = 1e3  # growth up to which it is still compared


def tools() -> dict:
    return {
        "python": platform.python_version(),
        "numpy": np.__version__,
        "scipy": scipy.__version__,
        "sympy": sympy.__version__,
        "mujoco": mujoco.__version__,
    }


def inputs_of(case: dict) -> dict:
    return {
        "drive_torque": case.get("drive_torque", []),
        "head_torque": case.get("head_torque", []),
        "pulses": case.get("pulses", []),
        "servo": case.get("servo"),
        "loop": case.get("loop"),
    }


def nudged(case: dict) -> dict:
    """The same case started a little off, in a way its locks allow."""
    out = copy.deepcopy(case)
    first, lock = out["initial"], case["locked"]
    if lock["carriage"]:
        first["theta"] += NUDGE
        first["alpha"] -= NUDGE
        if lock["head"]:
            first["beta"] += NUDGE
    else:
        first["alpha"] += NUDGE
        if lock["head"]:
            first["beta"] -= NUDGE
    return out


def largest(rows: np.ndarray) -> dict:
    """Largest difference: angles [rad], rates [rad/s] (and x [m], x_dot [m/s] where present)."""
    top = np.abs(rows).max(axis=0)
    out = {"angle": float(top[:3].max()), "rate": float(top[3:6].max())}
    if len(top) > 6:
        out |= {"x": float(top[6]), "x_dot": float(top[7])}
    return out


def make(case: dict) -> dict:
    samples = [round(k * EVERY, 10) for k in range(round(HORIZON / EVERY) + 1)]
    fine = [round(k * EVERY / FINE, 10) for k in range((len(samples) - 1) * FINE + 1)]
    dry = case["kind"] == "friction events"
    slips = case["friction"]["grip"] is not None
    width = 8 if slips else 6
    kind, until, events = case["kind"], HORIZON, []
    if dry:
        all_rows, events = friction.run(case, fine)
        other, _ = friction.run(nudged(case), samples)
        rows = all_rows[::FINE]
        difference = rows[:, :width] - friction.time_stepping(case, samples, STEPPING, FINER)[:, :width]
        second = {
            "tool": "own Moreau time stepping with NumPy",
            "method": f"velocity level, no event location, step {STEPPING} s, {FINER} parts where a way changes",
        }
        method = "SciPy solve_ivp DOP853, rtol = atol = 1e-12, events located, 4 coordinates (x, theta, alpha, beta)"
        floor = all_rows[:, 8:10]
    else:
        all_rows, _ = smooth.run(case, fine)
        other, _ = smooth.run(nudged(case), samples)
        rows = all_rows[::FINE]
        difference = rows[:, :6] - mujoco_plant.run(case, samples)
        locked = any(case["locked"].values())
        second = {
            "tool": f"MuJoCo {mujoco.__version__}",
            "method": f"exact reduction, step {mujoco_plant.STEP} s, "
            + ("RK4 on MuJoCo's mass matrix and forces projected onto the locks" if locked else "its own RK4"),
        }
        method = "SciPy solve_ivp DOP853, rtol = atol = 1e-12, 3 coordinates (theta, alpha, beta), cut at every kink"
        floor = all_rows[:, 6:8]
    state = rows[:, :width]
    growth = np.abs(rows[:, :6] - other[:, :6]).max(axis=1) / NUDGE
    if growth.max() > CHAOS:
        kind = "chaotic" if not dry else kind
        late = np.nonzero(growth > GROWTH)[0][0]
        until = samples[max(late - 1, 1)]
    kept = [k for k, t in enumerate(samples) if t <= until + 1e-9]
    second["max_difference"] = largest(difference[kept])
    watched = floor[: kept[-1] * FINE + 1]
    traction, normal = watched[:, 0], watched[:, 1]
    initial = dict(case["initial"])
    if slips:
        q, v = friction.start(case)
        initial |= {"x": float(q[0]), "x_dot": float(v[0])}
    columns = ["t", *ANGLES, *(["x", "x_dot"] if slips else []), "traction", "normal_force"]
    table = [[t, *map(float, s), *map(float, f)] for t, s, f in zip(samples, state, floor[::FINE])]
    return {
        "format": "plane-trajectory",
        "version": 1,
        "header": {
            "name": case["name"],
            "description": case["description"],
            "kind": kind,
            "tolerance": TOLERANCE[kind],
            "compare_until": until,
            "robot": case["robot"],
            "tools": tools(),
            "script": "tests/reference/make_fixtures.py",
            "command": f"python make_fixtures.py {case['name']}",
            "method": method,
            "second_opinion": second,
            "sensitivity": {"nudge": NUDGE, "growth": float(growth[kept].max()), "growth_at_end": float(growth[-1])},
            "min_normal_force": float(normal.min()),
            "max_grip_ratio": float(np.abs(traction / normal).max()),
        },
        "parameters": case["parameters"],
        "viscous": case["viscous"],
        "friction": case["friction"],
        "locked": case["locked"],
        "initial": initial,
        "inputs": inputs_of(case),
        "events": [{"time": t, "element": n, "mode": ("stuck", "forward", "backward")[m]} for t, n, m in events],
        "columns": columns,
        "units": [UNITS[c] for c in columns],
        "samples": table,
    }


def text(fixture: dict) -> str:
    """JSON with one sample or event a line; floats keep their shortest exact form."""
    lines = []
    for key, value in fixture.items():
        if key in ("samples", "events") and value:
            body = ",\n    ".join(json.dumps(row) for row in value)
            lines.append(f'  "{key}": [\n    {body}\n  ]')
        elif key == "header":
            body = ",\n    ".join(f'"{k}": {json.dumps(v)}' for k, v in value.items())
            lines.append(f'  "{key}": {{\n    {body}\n  }}')
        else:
            lines.append(f'  "{key}": {json.dumps(value)}')
    return "{\n" + ",\n".join(lines) + "\n}\n"


def stale(path: Path, fixture: dict) -> str | None:
    """Why the committed file no longer says what the scripts say, or None.

    Angles and rates may differ by a hundredth of the tolerance (other library versions).
    """
    if not path.exists():
        return "is not there"
    old = json.loads(path.read_text())
    for key in ("parameters", "viscous", "friction", "locked", "initial", "inputs", "columns"):
        if old[key] != json.loads(json.dumps(fixture[key])):
            return f"has other {key}"
    keep = [k for k, row in enumerate(fixture["samples"]) if row[0] <= fixture["header"]["compare_until"] + 1e-9]
    width = fixture["columns"].index("traction")
    gap = np.abs(np.array(old["samples"])[keep, :width] - np.array(fixture["samples"])[keep, :width]).max()
    allowed = 0.01 * fixture["header"]["tolerance"]
    return f"differs by {gap:.1e}, allowed {allowed:.0e}" if gap > allowed else None


def main() -> int:
    wanted = sys.argv[1:]
    check = "--check" in wanted
    wanted = [w for w in wanted if w != "--check"]
    failed = 0
    known = {c["name"] for c in CASES}
    if unknown := set(wanted) - known:
        print(f"no such case: {', '.join(sorted(unknown))}", file=sys.stderr)
        return 2
    folder = HERE / "fixtures"
    folder.mkdir(exist_ok=True)
    for case in CASES:
        if wanted and case["name"] not in wanted:
            continue
        fixture = make(case)
        path = folder / f"{case['name']}.json"
        if not check:
            path.write_text(text(fixture))
        elif why := stale(path, fixture):
            print(f"STALE {path.name} {why}")
            failed += 1
        h = fixture["header"]
        top = h["second_opinion"]["max_difference"]
        print(
            f"{case['name']:34} {h['kind']:15} until {h['compare_until']:4.1f} s  angle {top['angle']:.1e} "
            f"rate {top['rate']:.1e}  growth {h['sensitivity']['growth']:.1e}/{h['sensitivity']['growth_at_end']:.1e}  "
            f"N >= {h['min_normal_force']:.3g}  grip {h['max_grip_ratio']:.2f}  events {len(fixture['events'])}",
            flush=True,
        )
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
