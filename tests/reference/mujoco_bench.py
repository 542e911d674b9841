"""Times MuJoCo's bare plane plant: Cobnut's side view, both joints free, RK4 at 1 ms, one thread.

    python mujoco_bench.py [--steps N] [--repeats N]

Prints one JSON object.  The model is the exact reduction of ``mujoco_plant.py``;
contacts, constraints and every other stage the plant does not need are switched
off, and the stepping loop runs inside MuJoCo (``mj_step`` with ``nstep``, and
``mujoco.rollout`` on one thread where present): no Python between steps.  The
faster of the two, best of the repeats, is reported.
"""

from __future__ import annotations

import argparse
import json
import time

import mujoco
import numpy as np

import mujoco_plant
from cases import NONE, ROBOTS

STEP = 1e-3  # [s]


def model() -> mujoco.MjModel:
    case = {
        "parameters": ROBOTS["cobnut_side"],
        "viscous": {"drive": 0.0, "head": 0.0, "head_on_shell": 0.0, "floor": 0.0},
        "locked": NONE,
    }
    m = mujoco.MjModel.from_xml_string(mujoco_plant.xml(case, STEP))
    off = mujoco.mjtDisableBit
    for name in ("CONSTRAINT", "CONTACT", "EQUALITY", "FRICTIONLOSS", "LIMIT", "WARMSTART", "FILTERPARENT",
                 "CLAMPCTRL", "SENSOR", "ACTUATION", "AUTORESET", "SPRING", "DAMPER", "ISLAND"):
        bit = getattr(off, f"mjDSBL_{name}", None)
        if bit is not None:
            m.opt.disableflags |= int(bit)
    return m


def start(m: mujoco.MjModel, d: mujoco.MjData) -> None:
    mujoco.mj_resetData(m, d)
    d.qpos[:] = (0.0, 0.3, 0.3)  # swing 0.3 rad, head upright
    mujoco.mj_forward(m, d)


def by_steps(m, d, steps) -> float:
    start(m, d)
    began = time.perf_counter()
    mujoco.mj_step(m, d, nstep=steps)
    return time.perf_counter() - began


def by_rollout(m, d, steps) -> float | None:
    try:
        from mujoco import rollout
    except ImportError:
        return None
    start(m, d)
    spec = mujoco.mjtState.mjSTATE_FULLPHYSICS
    state = np.zeros(mujoco.mj_stateSize(m, spec))
    mujoco.mj_getState(m, d, state, spec)
    with rollout.Rollout(nthread=0) as pool:
        began = time.perf_counter()
        pool.rollout([m], [d], state[None, :], nstep=steps)
        return time.perf_counter() - began


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--steps", type=int, default=200_000)
    parser.add_argument("--repeats", type=int, default=5)
    options = parser.parse_args()
    m = model()
    d = mujoco.MjData(m)
    ways = {"mj_step nstep": by_steps, "rollout": by_rollout}
    best = {}
    for name, way in ways.items():
        times = [way(m, d, options.steps) for _ in range(options.repeats)]
        if None not in times:
            best[name] = options.steps / min(times)
    way = max(best, key=best.get)
    if not np.all(np.isfinite(d.qpos)):
        raise SystemExit("the motion did not stay finite")
    print(
        json.dumps(
            {
                "steps_per_s": best[way],
                "mujoco_version": mujoco.__version__,
                "way": way,
                "all_ways": best,
                "integrator": "RK4",
                "step_s": STEP,
                "steps": options.steps,
                "repeats": options.repeats,
                "robot": "cobnut_side",
                "threads": 1,
            }
        )
    )


if __name__ == "__main__":
    main()
