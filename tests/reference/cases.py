"""The robots and the cases.  All numbers SI; the robots are invented."""

from __future__ import annotations

import copy

GRAVITY = 9.80665


def robot(radius, shell_mass, shell_radius, carriage, head, drive_rotor, head_rotor=0.0):
    """Shell inertia of a thin sphere of ``shell_radius``: 2/3 m r^2."""
    return {
        "shell_radius": radius,
        "shell_mass": shell_mass,
        "shell_inertia": 2.0 / 3.0 * shell_mass * shell_radius**2,
        "carriage_mass": carriage[0],
        "carriage_com_below": carriage[1],
        "carriage_inertia": carriage[2],
        "head_mass": head[0],
        "head_com_above": head[1],
        "head_inertia": head[2],
        "drive_rotor_inertia": drive_rotor,
        "head_rotor_inertia": head_rotor,
        "gravity": GRAVITY,
        "slope": 0.0,
    }


ROBOTS = {
    # Front view of the three demo robots: drive rotor n^2 J.
    "cobnut": robot(0.24, 4.2, 0.235, (11.5, 0.115, 0.16), (0.9, 0.29, 0.006), 36**2 * 2e-5),
    # Side view of Cobnut: two motors in parallel at n = 45.
    "cobnut_side": robot(0.24, 4.2, 0.235, (11.5, 0.115, 0.16), (0.9, 0.29, 0.006), 2 * 45**2 * 2e-5, 0.004),
    "hayrick": robot(0.38, 12.0, 0.374, (39.0, 0.19, 0.9), (3.8, 0.45, 0.08), 80**2 * 8e-5, 0.05),
    "thimble": robot(0.10, 0.35, 0.098, (1.5, 0.045, 0.0035), (0.09, 0.125, 0.0002), 60**2 * 1.5e-7),
    # Sizes between and beyond them.
    "r150": robot(0.15, 0.9, 0.147, (3.2, 0.07, 0.014), (0.25, 0.18, 0.0012), 0.004, 0.0005),
    "r300": robot(0.30, 6.5, 0.295, (20.0, 0.15, 0.35), (1.8, 0.36, 0.02), 0.15, 0.01),
    "r450": robot(0.45, 16.0, 0.443, (50.0, 0.22, 1.6), (4.5, 0.53, 0.11), 0.7, 0.06),
    "r600": robot(0.60, 30.0, 0.59, (90.0, 0.30, 5.0), (7.0, 0.70, 0.35), 1.5, 0.1),
}
SERVO = {
    "cobnut": (40.0, 1.5),
    "cobnut_side": (40.0, 1.5),
    "hayrick": (400.0, 25.0),
    "thimble": (2.5, 0.06),
    "r150": (8.0, 0.25),
    "r300": (120.0, 6.0),
    "r450": (500.0, 35.0),
    "r600": (1200.0, 90.0),
}
NONE, CARRIAGE, HEAD, BOTH = (
    {"carriage": False, "head": False},
    {"carriage": True, "head": False},
    {"carriage": False, "head": True},
    {"carriage": True, "head": True},
)
CASES: list[dict] = []


def servo(name, targets=((0.0, 0.0),), lag=0.08, rate=3.0, initial=0.0):
    stiffness, damping = SERVO[name]
    return {
        "stiffness": stiffness,
        "damping": damping,
        "lag": lag,
        "rate_limit": rate,
        "initial": initial,
        "targets": [{"time": t, "value": v} for t, v in targets],
    }


def push(on, start, impulse, duration=0.1, height=0.0):
    """Half-sine pulse of the given impulse [N s]: peak = pi J / (2 T)."""
    peak = 3.141592653589793 * impulse / (2 * duration)
    return {"on": on, "start": start, "duration": duration, "peak": peak, "height": height}


def constant(value, start=0.0, end=1e9):
    return {"kind": "constant", "value": value, "start": start, "end": end}


def sine(amplitude, angular_frequency, phase=0.0, start=0.0, end=1e9, hold=0.0):
    return {
        "kind": "sine",
        "amplitude": amplitude,
        "angular_frequency": angular_frequency,
        "phase": phase,
        "start": start,
        "end": end,
        "hold": hold,
    }


def loop(measured, proportional, derivative, limit, delay=0, dead_band=0.0, target=0.0, tick=0.01):
    return {
        "tick": tick,
        "delay_ticks": delay,
        "measured": measured,
        "target": target,
        "proportional": proportional,
        "derivative": derivative,
        "dead_band": dead_band,
        "torque_limit": limit,
    }


def add(name, robot_name, description, locked=NONE, angles=(0.0, 0.0, 0.0), rates=(0.0, 0.0, 0.0),
        slope=0.0, viscous=(0.0, 0.0, 0.0, 0.0), dry=None, kind="smooth", **inputs):
    """``viscous`` = (drive, head, head on shell, floor); ``dry`` overrides no friction.

    With a locked joint ``beta`` must fit: its rate is -alpha_dot, or alpha_dot = -theta_dot.
    """
    none = {"kinetic": 0.0, "static": 0.0}
    friction = {
        "drive": none, "head": none, "head_on_shell": none, "rolling_resistance": 0.0, "grip": None, **(dry or {}),
    }
    case = {
        "name": name,
        "robot": robot_name,
        "description": description,
        "kind": kind,
        "parameters": dict(ROBOTS[robot_name], slope=slope),
        "viscous": dict(zip(("drive", "head", "head_on_shell", "floor"), viscous)),
        "friction": copy.deepcopy(friction),
        "locked": locked,
        "initial": {
            **dict(zip(("theta", "alpha", "beta"), angles)),
            **dict(zip(("theta_dot", "alpha_dot", "beta_dot"), rates)),
        },
        **inputs,
    }
    CASES.append(case)


def dry(kinetic, static=None):
    return {"kinetic": kinetic, "static": kinetic if static is None else static}


# --- free -----------------------------------------------------------------
add("free_small_swing", "cobnut", "carriage let go at 0.3 rad, head locked to it", HEAD, (0, 0.3, -0.3))
add("free_past_90", "thimble", "carriage let go at 2.2 rad with the shell turning, head locked to it", HEAD,
    (0, 2.2, -2.2), (1.0, 0.5, -0.5))
add("free_carriage_whirls", "r600", "carriage goes round and round, head locked to it", HEAD,
    (0, 0, 0), (-1.0, 9.0, -9.0))
add("free_with_servo", "r300", "carriage let go at 0.8 rad, head held by its servo", NONE, (0, 0.8, -0.6),
    servo=servo("r300"))
add("head_falls", "r150", "both joints free: the head tips over and swings below, a double pendulum", NONE,
    (0, 0.4, 0.05))
# --- locked ---------------------------------------------------------------
add("roly_poly_small", "hayrick", "both joints locked, let go leaning 0.08 rad", BOTH, (0.08, -0.08, 0.08))
add("roly_poly_large", "r450", "both joints locked, let go leaning 2.6 rad", BOTH, (2.6, -2.6, 2.6))
add("roly_poly_offset_locks", "cobnut",
    "both joints locked where they were: carriage 0.2 rad and head 0.3 rad off, pushed", BOTH,
    (0.0, 0.2, 0.1), pulses=[push("shell", 1.0, 4.0, height=0.24)])
add("locked_carriage_servo_head", "cobnut_side", "carriage locked, head on its servo, pushed at the head", CARRIAGE,
    pulses=[push("head", 0.5, 1.0)], servo=servo("cobnut_side"))
add("locked_carriage_head_swings_below", "r150", "carriage locked, head let go near hanging upside down", CARRIAGE,
    (0.1, -0.1, 2.9), viscous=(0, 0.01, 0.002, 0.004))
# --- pushed ---------------------------------------------------------------
add("shell_pulse", "cobnut", "4 N s at the height of the centre, carriage free, head locked to it", HEAD,
    pulses=[push("shell", 0.5, 4.0, height=0.24)])
add("shell_pulses_high_and_low", "hayrick", "16 N s high, 8 N s low and against it, head on servo", NONE,
    pulses=[push("shell", 0.5, 16.0, height=0.6), push("shell", 4.0, -8.0, 0.05, height=0.1)],
    servo=servo("hayrick"))
add("head_pulse", "r450", "pushed at the head twice, head on servo", NONE,
    pulses=[push("head", 1.0, 10.0, 0.2), push("head", 3.0, -14.0)], servo=servo("r450"))
# --- slopes ---------------------------------------------------------------
add("slope_down", "thimble", "rolls off downhill (floor falls towards +x), carriage free", HEAD,
    (0, 0.05, -0.05), slope=-0.04)
add("slope_up", "r300", "thrown uphill, comes back, head on servo", NONE, (0, 0, 0), (8.0, 0, 0), slope=0.09,
    viscous=(0.4, 0.2, 0.02, 0.05), servo=servo("r300"))
add("slope_locked", "r600", "both joints locked on a slope, rocking about the new balance", BOTH,
    (0.3, -0.3, 0.3), slope=0.06)
# --- driven ---------------------------------------------------------------
add("constant_torque", "cobnut_side", "constant drive torque for 4 s, then none; head on servo; viscous joints", NONE,
    drive_torque=[constant(6.0, 0.5, 4.5)], viscous=(0.6, 0.1, 0.01, 0.05), servo=servo("cobnut_side"))
add("sine_torque", "r150", "sinusoidal drive torque near the swing's frequency, head locked to the carriage", HEAD,
    drive_torque=[sine(0.6, 7.0)], viscous=(0.01, 0, 0, 0.002))
add("held_sine_torque", "hayrick", "sinusoidal drive torque sampled and held every 10 ms, head on servo", NONE,
    drive_torque=[sine(30.0, 3.0, hold=0.01)], viscous=(2.0, 0.5, 0.05, 0.1), servo=servo("hayrick"))
add("torque_turns_carriage_over", "r300", "drive torque beyond m_c g l_c turns the carriage right round", HEAD,
    drive_torque=[constant(40.0, 0.2, 1.2), constant(-20.0, 3.0, 3.5)], viscous=(1.5, 0, 0, 0.05))
add("head_torque", "r600", "sinusoidal torque at the head joint on top of its servo", NONE,
    head_torque=[sine(60.0, 5.0, 0.4, 0.3, 6.0)], servo=servo("r600"))
# --- head servo -----------------------------------------------------------
add("servo_steps", "cobnut_side", "head nods: target steps, rate limit reached", NONE,
    servo=servo("cobnut_side", ((0.0, 0.0), (0.5, 0.35), (2.0, -0.35), (4.0, 0.1)), lag=0.05, rate=2.0))
add("servo_steps_locked_carriage", "r450", "head nods with the carriage locked", CARRIAGE, viscous=(0, 1.0, 0.3, 0.5),
    servo=servo("r450", ((0.0, 0.3), (3.0, -0.3), (6.0, 0.0)), lag=0.12, rate=0.8))
add("servo_weak_joint", "thimble", "a joint barely stiff enough sways slowly", NONE, (0, 0.02, -0.01),
    servo={**servo("thimble"), "stiffness": 0.3, "damping": 0.004})
# --- sampled loops --------------------------------------------------------
add("loop_holds_carriage", "cobnut", "loop on rho holds the carriage, no delay; pushed", HEAD,
    loop=loop("rho", 90.0, 8.0, 25.0), pulses=[push("shell", 0.5, 4.0, height=0.24)])
add("loop_dead_band_delay", "cobnut", "loop on rho with a dead band of 0.03 rad and two ticks of delay; pushed", HEAD,
    loop=loop("rho", 60.0, 5.0, 18.0, 2, 0.03), pulses=[push("shell", 0.5, 4.0, height=0.24)],
    viscous=(0.05, 0, 0, 0.02))
add("loop_damps_swing", "hayrick", "loop on the swing, one tick of delay, dead band, saturating; head on servo", NONE,
    (0, 0.7, -0.7), loop=loop("alpha", 60.0, 25.0, 40.0, 1, 0.02), servo=servo("hayrick"),
    viscous=(0.05, 0.2, 0.05, 0.1))
add("loop_steadies_shell", "r150", "loop on the shell angle, target step of 1 rad, three ticks of delay", HEAD,
    loop=loop("theta", 1.2, 0.5, 1.0, 3, 0.01, 1.0), viscous=(0.02, 0, 0, 0.004))
# --- viscous --------------------------------------------------------------
add("viscous_everywhere", "cobnut", "viscous friction at all four places, let go at 1 rad and pushed at the head", NONE,
    (0, 1.0, -0.8), viscous=(0.5, 0.3, 0.1, 0.05), servo=servo("cobnut"), pulses=[push("head", 2.0, 1.0)])
add("viscous_slope_driven", "r600", "climbs a slope under drive torque with viscous friction", NONE, (0, 0, 0),
    slope=0.05, drive_torque=[constant(110.0, 0.0, 6.0)], viscous=(4.0, 1.0, 0.5, 1.0), servo=servo("r600"))

# --- friction events --------------------------------------------------------
F = "friction events"
add("rolling_resistance_small", "cobnut", "both locked, 5 degrees, rolling resistance alone: straight-line decay", BOTH,
    (0.0872664625997, -0.0872664625997, 0.0872664625997), dry={"rolling_resistance": 0.004}, kind=F)
add("rolling_resistance_carpet", "hayrick", "both locked, 40 degrees on carpet with viscous part: stops leaning", BOTH,
    (0.7, -0.7, 0.7), dry={"rolling_resistance": 0.03}, viscous=(0, 0, 0, 0.1), kind=F)
add("rolling_resistance_large", "r450", "both locked, 2 rad: the floor force varies strongly; on a slope", BOTH,
    (2.0, -2.0, 2.0), slope=0.03, dry={"rolling_resistance": 0.02}, kind=F)
add("rolling_resistance_free", "thimble", "carriage free, pushed: the ball rolls to and fro and comes to rest", HEAD,
    dry={"rolling_resistance": 0.01}, viscous=(0.004, 0, 0, 0.0008),
    pulses=[push("shell", 0.5, 0.3, height=0.1)], kind=F)
add("drive_dry_ring_down", "cobnut", "carriage under dry friction at the drive joint: rings down, sticks, roly-poly after",
    HEAD, (0, 0.9, -0.9), dry={"drive": dry(0.6, 0.8), "rolling_resistance": 0.004}, viscous=(0.02, 0, 0, 0.02), kind=F)
add("drive_dry_stick_slip", "r300", "stick-slip under sinusoidal drive torque", HEAD,
    drive_torque=[sine(9.0, 2.5)], dry={"drive": dry(5.0, 7.0)}, viscous=(0.2, 0, 0, 0.1), kind=F)
add("drive_dry_parked", "cobnut", "carriage parked off centre by friction on a rolling ball that rests", HEAD,
    (0.0, 0.05, -0.05), dry={"drive": dry(1.2, 1.6), "rolling_resistance": 0.02}, kind=F)
add("head_dry", "hayrick", "head servo off: its gears hold it by friction while the ball is pushed; slips at the push",
    NONE, pulses=[push("shell", 0.5, 16.0, height=0.38), push("head", 4.0, 9.0)],
    dry={"head": dry(28.0, 32.0)}, viscous=(0.5, 0.2, 0.05, 0.1), kind=F)
add("head_on_shell_dry", "cobnut_side", "head on servo rubs on the shell, drive torque to and fro", NONE,
    (0, 0.4, -0.3), drive_torque=[sine(3.0, 3.0, 0.0, 0.0, 5.0)], servo=servo("cobnut_side"),
    dry={"head_on_shell": dry(0.3, 0.4)}, viscous=(0.1, 0.05, 0.01, 0.02), kind=F)
add("head_and_floor_dry", "r600", "head joint dry with servo, floor rolling resistance, pushed", NONE,
    servo=servo("r600", ((0.0, 0.0), (1.0, 0.25), (5.0, 0.0))), pulses=[push("shell", 0.5, 60.0, height=0.6)],
    dry={"head": dry(4.0, 6.0), "rolling_resistance": 0.01}, viscous=(3.0, 1.0, 0.2, 0.5), kind=F)
add("drive_dry_loop", "cobnut", "sampled loop with dead band against dry friction at the drive joint; pushed", HEAD,
    loop=loop("rho", 60.0, 4.0, 18.0, 2, 0.03), dry={"drive": dry(1.2, 1.6), "rolling_resistance": 0.004},
    viscous=(0.05, 0, 0, 0.02), pulses=[push("shell", 0.5, 4.0, height=0.24)], kind=F)
add("slip_kick", "cobnut", "hard low kick on a slippery floor: slips forward, then rolls again", HEAD,
    pulses=[push("shell", 0.5, 20.0, 0.1, height=0.05)], dry={"grip": 0.12}, viscous=(0.1, 0, 0, 0.02), kind=F)
add("slip_wheel_spin", "r450", "drive torque beyond the grip: the shell spins, then catches; head on servo", NONE,
    drive_torque=[constant(120.0, 0.2, 0.8), constant(-120.0, 4.0, 4.6)], servo=servo("r450"),
    dry={"grip": 0.08}, viscous=(2.0, 0.5, 0.1, 0.3), kind=F)
add("slip_locked_kick", "thimble", "both locked, hard high kick on a slippery slope: spins forward, then rocks", BOTH,
    pulses=[push("shell", 0.3, 1.2, 0.05, height=0.19)], dry={"grip": 0.1}, viscous=(0, 0, 0, 0.002), slope=0.02,
    kind=F)
