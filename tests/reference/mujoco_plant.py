"""Second opinion on smooth motions: MuJoCo with the exact reduction.

The rolling shell is a slide joint along x whose armature is I_s / R^2; the
carriage is a hinge on that non-rotating body (its angle is alpha), the head a
hinge on the carriage, also at the ball's centre (its angle is psi = alpha + beta).
The drive rotor is a fixed tendon x/R + alpha with armature, the head rotor the
head joint's armature, viscous friction is tendon or joint damping, gravity is
turned by the slope.  (Head and carriage as two branches would lose the head
rotor's coupling: MuJoCo keeps no mass terms between branches.)  Free joints run
in MuJoCo's own RK4; locked joints are projected from MuJoCo's mass matrix and
forces (equality constraints there are soft), inside a plain RK4.
"""

from __future__ import annotations

import math

import mujoco
import numpy as np

from inputs import Inputs, Loop, pushes, torque
from smooth import LOCKS, NEAR

STEP = 5e-4  # [s]


def xml(case: dict, step: float) -> str:
    p, b = case["parameters"], case["viscous"]
    r = p["shell_radius"]
    gx, gz = -p["gravity"] * math.sin(p["slope"]), -p["gravity"] * math.cos(p["slope"])

    def inertia(value):
        # Only the out-of-plane value acts; the others keep the triangle inequality.
        return f"{value!r} {value!r} {value!r}"

    return f"""
<mujoco>
  <option integrator="RK4" timestep="{step!r}" gravity="{gx!r} 0 {gz!r}">
    <flag contact="disable" constraint="disable" warmstart="disable"/>
  </option>
  <worldbody>
    <body name="shell" pos="0 0 {r!r}">
      <joint name="x" type="slide" axis="1 0 0" armature="{p['shell_inertia'] / r**2!r}" damping="{b['floor'] / r**2!r}"/>
      <inertial pos="0 0 0" mass="{p['shell_mass']!r}" diaginertia="{inertia(p['shell_inertia'])}"/>
      <body name="carriage">
        <joint name="alpha" type="hinge" axis="0 -1 0"/>
        <inertial pos="0 0 {-p['carriage_com_below']!r}" mass="{p['carriage_mass']!r}" diaginertia="{inertia(p['carriage_inertia'])}"/>
        <body name="head">
          <joint name="psi" type="hinge" axis="0 1 0" armature="{p['head_rotor_inertia']!r}" damping="{b['head']!r}"/>
          <inertial pos="0 0 {p['head_com_above']!r}" mass="{p['head_mass']!r}" diaginertia="{inertia(p['head_inertia'])}"/>
        </body>
      </body>
    </body>
  </worldbody>
  <tendon>
    <fixed name="drive" armature="{p['drive_rotor_inertia']!r}" damping="{b['drive']!r}">
      <joint joint="x" coef="{1 / r!r}"/><joint joint="alpha" coef="1"/></fixed>
    <fixed name="on_shell" damping="{b['head_on_shell']!r}">
      <joint joint="x" coef="{1 / r!r}"/><joint joint="alpha" coef="1"/><joint joint="psi" coef="-1"/></fixed>
  </tendon>
  <actuator><motor name="drive" tendon="drive"/><motor name="neck" joint="psi"/></actuator>
</mujoco>"""


def run(case: dict, samples: list[float], step: float = STEP) -> np.ndarray:
    """Rows [theta, alpha, beta, rates] at the sample times."""
    model = mujoco.MjModel.from_xml_string(xml(case, step))
    data = mujoco.MjData(model)
    radius, first = case["parameters"]["shell_radius"], case["initial"]
    to_joints = np.array([[radius, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 1.0, 1.0]])
    to_angles = np.linalg.inv(to_joints)
    data.qpos[:] = to_joints @ [first["theta"], first["alpha"], first["beta"]]
    data.qvel[:] = to_joints @ [first["theta_dot"], first["alpha_dot"], first["beta_dot"]]
    inputs = Inputs(case, samples[-1])
    loop = Loop(case["loop"]) if case.get("loop") else None
    now = {"seg": 0.0, "held": 0.0}
    head_body = mujoco.mj_name2id(model, mujoco.mjtObj.mjOBJ_BODY, "head")

    def control(m, d):
        seg = now["seg"]
        drive = now["held"] + torque(inputs.drive, d.time, seg)
        head = torque(inputs.head, d.time, seg)
        if inputs.servo:
            s, rate = inputs.servo.state(d.time, seg)
            spec = inputs.servo_spec
            head += spec["stiffness"] * (s - d.qpos[2])
            head += spec["damping"] * (rate - d.qvel[2])
        d.ctrl[0], d.ctrl[1] = drive, head
        d.qfrc_applied[0] = 0.0
        d.xfrc_applied[head_body, 0] = 0.0
        for on, push, height in pushes(inputs.pulses, d.time, seg):
            if on == "shell":
                d.qfrc_applied[0] += push * height / radius
            else:
                d.xfrc_applied[head_body, 0] += push

    lock = LOCKS[case["locked"]["carriage"], case["locked"]["head"]]
    g_lock = to_joints @ lock
    full = np.zeros((3, 3))

    def projected(t, q, v):
        data.time, data.qpos[:], data.qvel[:] = t, q, v
        mujoco.mj_forward(model, data)
        mujoco.mj_fullM(model, data, full)
        return g_lock @ np.linalg.solve(g_lock.T @ full @ g_lock, g_lock.T @ data.qfrc_smooth)

    def own_step(t):
        q, v = data.qpos.copy(), data.qvel.copy()
        k1 = projected(t, q, v)
        v2 = v + step / 2 * k1
        k2 = projected(t + step / 2, q + step / 2 * v, v2)
        v3 = v + step / 2 * k2
        k3 = projected(t + step / 2, q + step / 2 * v2, v3)
        v4 = v + step * k3
        k4 = projected(t + step, q + step * v3, v4)
        data.time = t + step
        data.qpos[:] = q + step / 6 * (v + 2 * v2 + 2 * v3 + v4)
        data.qvel[:] = v + step / 6 * (k1 + 2 * k2 + 2 * k3 + k4)

    rows = []
    per_tick = round(case["loop"]["tick"] / step) if loop else 0
    mujoco.set_mjcb_control(control)
    try:
        for k in range(round(samples[-1] / step) + 1):
            t = k * step
            if loop and k % per_tick == 0:
                now["held"] = loop.tick(to_angles @ data.qpos, to_angles @ data.qvel)
            if len(rows) < len(samples) and abs(t - samples[len(rows)]) < NEAR:
                rows.append([*(to_angles @ data.qpos), *(to_angles @ data.qvel)])
            now["seg"] = t + step / 2
            data.time = t
            if lock.shape[1] == 3:
                mujoco.mj_step(model, data)
            else:
                own_step(t)
    finally:
        mujoco.set_mjcb_control(None)
    return np.array(rows)
