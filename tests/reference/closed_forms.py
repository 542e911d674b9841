"""Writes fixtures/closed_forms.json: closed forms evaluated with SciPy, each with its source.

    python closed_forms.py

Every value is computed here from its formula or by quadrature, none is copied.
Where a number was also stated elsewhere (``stated``), the script compares the two
and fails if they differ by more than half a unit of the stated one's last digit.
Textbooks are cited from memory unless the entry says otherwise; every formula
about the robot is also derived in ``derive.py``.
"""

from __future__ import annotations

import json
import math
import sys

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import ellipk

from cases import GRAVITY as G
from cases import ROBOTS, SERVO
from derive import PARAMETER_NAMES, numeric
from make_fixtures import HERE, tools

DERIVED = "derived in derive.py from the Lagrangian by linearisation (Goldstein, Classical Mechanics, ch. 6, from memory)"
QUADRATURE = "energy integral, quadrature by QUADPACK (Landau & Lifshitz, Mechanics, section 11, from memory)"
DEMO = ("cobnut", "hayrick", "thimble")
ENTRIES: list[dict] = []
FAILED: list[str] = []


def entry(key, value, unit, formula, source, inputs, stated=None):
    """``stated`` is text, so that its last digit is known."""
    if stated is not None:
        decimals = len(stated.partition(".")[2])
        if abs(value - float(stated)) > 0.5001 * 10.0**-decimals:
            FAILED.append(f"{key}: computed {value!r}, stated {stated}")
    ENTRIES.append(
        {"key": key, "value": value, "unit": unit, "formula": formula, "source": source, "inputs": inputs,
         "stated": stated}
    )


def sums(p):
    """(P, M_t, inertia of everything about the ball's centre except J_d)."""
    first = p["carriage_mass"] * p["carriage_com_below"] - p["head_mass"] * p["head_com_above"]
    total = p["shell_mass"] + p["carriage_mass"] + p["head_mass"]
    inertia = (
        p["carriage_inertia"] + p["head_inertia"]
        + p["carriage_mass"] * p["carriage_com_below"] ** 2 + p["head_mass"] * p["head_com_above"] ** 2
    )
    return first, total, inertia


def rocking_period(inertia, torque, amplitude):
    """4 int_0^{pi/2} sqrt(I(phi) / torque) / sqrt(1 - k^2 sin^2 u) du, sin(phi/2) = k sin u, k = sin(A/2).

    For (I(phi) phi'^2)/2 - torque cos phi constant; amplitude 0 gives the small-motion period.
    """
    if amplitude == 0.0:
        return 2 * math.pi * math.sqrt(inertia(0.0) / torque)
    k = math.sin(amplitude / 2)

    def integrand(u):
        phi = 2 * math.asin(k * math.sin(u))
        return math.sqrt(inertia(phi) / torque) / math.sqrt(1 - (k * math.sin(u)) ** 2)

    return 4 * quad(integrand, 0.0, math.pi / 2, epsabs=1e-14, epsrel=1e-13, limit=400)[0]


def pendulum():
    stated = {5: "1.000476", 10: "1.001907", 20: "1.007669", 30: "1.017409", 45: "1.039973", 60: "1.073182",
              90: "1.180341", 120: "1.372881", 150: "1.762204", 170: "2.439363"}
    for degrees, text in stated.items():
        amplitude = math.radians(degrees)
        value = 2 / math.pi * float(ellipk(math.sin(amplitude / 2) ** 2))
        entry(f"pendulum_period_ratio_{degrees}deg", value, "1", "T/T0 = (2/pi) K(sin^2(A/2))",
              "complete elliptic integral, scipy.special.ellipk; Landau & Lifshitz, section 11 (from memory)",
              {"amplitude": amplitude}, text)


def equivalent_robot(radius, mass, first_moment, inertia):
    """A robot with both joints locked that rocks exactly like the given body.

    Same mass, same first moment m d, same inertia about the centre of the round face.
    """
    p = dict(ROBOTS["cobnut"], shell_radius=radius, drive_rotor_inertia=0.0, head_rotor_inertia=0.0)
    p["shell_mass"], p["head_mass"] = 0.3 * mass, 0.01 * mass
    p["carriage_mass"] = mass - p["shell_mass"] - p["head_mass"]
    p["head_com_above"] = 0.5 * radius
    p["carriage_com_below"] = (first_moment + p["head_mass"] * p["head_com_above"]) / p["carriage_mass"]
    swung = p["carriage_mass"] * p["carriage_com_below"] ** 2 + p["head_mass"] * p["head_com_above"] ** 2
    spare = inertia - swung
    assert spare > 0.0
    p["head_inertia"] = 0.02 * spare
    p["carriage_inertia"] = 0.3 * spare
    p["shell_inertia"] = spare - p["head_inertia"] - p["carriage_inertia"]
    return p


def hemispheres():
    bodies = {
        "solid_hemisphere": (3 / 8, 2 / 5, "centre of mass 3R/8, inertia 2/5 m R^2 about the centre (textbook)"),
        "hemispherical_shell": (1 / 2, 2 / 3, "centre of mass R/2, inertia 2/3 m R^2 about the centre (textbook)"),
    }
    stated = {
        ("solid_hemisphere", 0.15, 0): "1.023072", ("solid_hemisphere", 0.25, 0): "1.320780",
        ("hemispherical_shell", 0.15, 0): "0.897294", ("hemispherical_shell", 0.25, 0): "1.158401",
        ("solid_hemisphere", 0.1, 30): "0.882101", ("solid_hemisphere", 0.1, 60): "1.018462",
        ("solid_hemisphere", 0.1, 90): "1.247088", ("hemispherical_shell", 0.1, 30): "0.781845",
        ("hemispherical_shell", 0.1, 60): "0.922140", ("hemispherical_shell", 0.1, 90): "1.151569",
    }
    mass = 2.0
    for (body, radius, degrees), text in stated.items():
        d, c, facts = bodies[body]
        first, about = mass * d * radius, c * mass * radius**2
        amplitude = math.radians(degrees)
        value = rocking_period(
            lambda phi: mass * radius**2 + about - 2 * radius * first * math.cos(phi), first * G, amplitude
        )
        entry(f"{body}_period_R{radius}_{degrees}deg", value, "s",
              "I(phi) = m R^2 + I_0 - 2 m R d cos phi, torque m g d; small: 2 pi sqrt(26R/15g), 2 pi sqrt(4R/3g)",
              f"{facts}; {QUADRATURE}",
              {"radius": radius, "amplitude": amplitude, "gravity": G, "mass": mass,
               "equivalent_robot": equivalent_robot(radius, mass, first, about),
               "locked": {"carriage": True, "head": True}}, text)
    for radius in (0.1, 0.15, 0.25):
        entry(f"sphere_in_trough_R{radius}", 2 * math.pi * math.sqrt(28 * radius / (5 * G)), "s",
              "2 pi sqrt(28 R / 5 g), trough radius 5 R: (7/5) m (4R)^2 and m g 4R",
              "standard worked problem; not a motion of this plant (curved floor)", {"radius": radius, "gravity": G})


def robots():
    for name in DEMO:
        p = ROBOTS[name]
        r, jd = p["shell_radius"], p["drive_rotor_inertia"]
        first, total, inertia = sums(p)
        a, about = p["shell_inertia"] + total * r**2, inertia + p["shell_inertia"]
        both = {"robot": name, "parameters": p, "locked": {"carriage": True, "head": True}}
        head = {"robot": name, "parameters": p, "locked": {"carriage": False, "head": True}}
        bottom = a + inertia - 2 * r * first
        entry(f"roly_poly_omega_{name}", math.sqrt(G * first / bottom), "rad/s",
              "omega^2 = g(m_c l_c - m_h l_h)/[m_s R^2 + I_s + m_c(R - l_c)^2 + I_c + m_h(R + l_h)^2 + I_h]",
              DERIVED, both)
        for amplitude in (0.1, 0.6, 1.5, 2.6):
            value = rocking_period(lambda phi: total * r**2 + about - 2 * r * first * math.cos(phi),
                                   first * G, amplitude)
            entry(f"roly_poly_period_{name}_{amplitude}rad", value, "s",
                  "I(phi) = M_t R^2 + I_0 - 2 R P cos phi, torque g P", QUADRATURE, both | {"amplitude": amplitude})
        entry(f"free_carriage_omega_{name}_no_rotor", math.sqrt(G * first / (inertia - (r * first) ** 2 / a)), "rad/s",
              "omega^2 = g P/(B - R^2 P^2/A), drive rotor inertia 0", DERIVED,
              {**head, "parameters": dict(p, drive_rotor_inertia=0.0)})
        entry(f"free_carriage_omega_{name}",
              math.sqrt(G * first / (inertia + jd - (r * first + jd) ** 2 / (a + jd))), "rad/s",
              "omega^2 = g P/(B + J_d - (R P + J_d)^2/(A + J_d))", DERIVED, head)
        for amplitude in (0.3, 1.0, 2.0, 2.8):
            value = rocking_period(
                lambda alpha: inertia + jd - (r * first * math.cos(alpha) + jd) ** 2 / (a + jd), G * first, amplitude
            )
            entry(f"elliptic_pendulum_period_{name}_{amplitude}rad", value, "s",
                  "momentum of theta zero: I(alpha) = B + J_d - (R P cos alpha + J_d)^2/(A + J_d), torque g P",
                  QUADRATURE, head | {"amplitude": amplitude})
        weight = p["carriage_mass"] * p["carriage_com_below"]
        head_moment = p["head_mass"] * p["head_com_above"]
        for acceleration in (0.2, 0.5):
            for c in (0.0, 0.004, 0.03):
                right = (total * r + p["shell_inertia"] / r + head_moment) * acceleration + c * total * G * r

                def gap(alpha):
                    return weight * (G * math.sin(alpha) + acceleration * math.cos(alpha)) - right

                value = brentq(gap, -0.5, math.pi / 2 - 0.1, xtol=1e-15) if gap(math.pi / 2 - 0.1) > 0 else None
                entry(f"steady_acceleration_swing_{name}_a{acceleration}_c{c}", value, "rad",
                      "m_c l_c(g sin alpha + a cos alpha) = (M_t R + I_s/R + m_h l_h) a + c_rr M_t g R",
                      DERIVED + "; null: the carriage cannot give it",
                      {"robot": name, "parameters": p, "acceleration": acceleration, "rolling_resistance": c})
        for c in (0.0, 0.004, 0.03):
            value = brentq(lambda s: math.sin(s) + c * math.cos(s) - weight / (total * r), -0.5, 1.5, xtol=1e-15)
            entry(f"steepest_slope_{name}_c{c}", value, "rad", "sin gamma + c_rr cos gamma = m_c l_c/(M_t R)",
                  "moment balance; the reviews on ball robots state it for c_rr = 0 (Chase & Pandya 2012, Robotics 1:3)",
                  {"robot": name, "parameters": p, "rolling_resistance": c})
        kerb_angle = math.asin(weight / (total * r))
        entry(f"kerb_height_{name}", r * (1 - math.cos(kerb_angle)), "m",
              "h = R(1 - cos gamma), sin gamma = m_c l_c/(M_t R), grip to spare",
              "moment balance about the kerb's edge (Chase & Pandya 2012, from memory)",
              {"robot": name, "parameters": p})
        entry(f"greatest_sustained_torque_{name}", weight * G, "N m", "m_c g l_c", "moment balance of the carriage",
              {"robot": name, "parameters": p})
        k = G * first
        for c in (0.001, 0.004, 0.01):
            entry(f"rolling_resistance_loss_{name}_c{c}", 2 * c * total * G * r / k, "rad",
                  "amplitude lost a half cycle 2 c_rr M_t g R/k, k = g(m_c l_c - m_h l_h); small motion (to 5 degrees)",
                  "Coulomb decay, textbooks on vibration (Den Hartog, Mechanical Vibrations, from memory)",
                  {**both, "rolling_resistance": c})
            entry(f"rests_leaning_at_most_{name}_c{c}", math.asin(c * total * r / first), "rad",
                  "asin(c_rr M_t R/(m_c l_c - m_h l_h))", "moment balance at rest", {**both, "rolling_resistance": c})
        stiffness = SERVO[name][0]
        entry(f"head_stiffness_least_held_{name}", head_moment * G, "N m/rad", "m_h g l_h, carriage held",
              "second derivative of the potential energy", {"robot": name, "parameters": p, "joint": stiffness})
        entry(f"head_stiffness_least_floating_{name}", G * weight * head_moment / (weight - head_moment), "N m/rad",
              "g m_c l_c m_h l_h/(m_c l_c - m_h l_h), carriage floating",
              "second derivative of the potential energy", {"robot": name, "parameters": p, "joint": stiffness})
        entry(f"start_lever_{name}", p["carriage_inertia"] + weight * p["carriage_com_below"] - weight * r, "kg m^2",
              "I_c + m_c l_c^2 - m_c R l_c; positive: without a head, drive torque moves the shell forward at once",
              "sign of the first row of M^-1 (1, 1), derived from M(q)", {"robot": name, "parameters": p})
        impulses(name, p)
        entry(f"turn_radius_{name}_10deg", r / math.tan(math.radians(10)), "m", "R/tan phi, axle leaning by phi",
              "rolling cone (Chase & Pandya 2012, Robotics 1:3); model in space", {"robot": name, "lean": math.radians(10)})


def impulses(name, p):
    """Speeds just after an ideal impulse at rest: M dqdot = Q j."""
    out = numeric()["rolling"](tuple(p[n] for n in PARAMETER_NAMES), 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    mass = np.array(out[:9]).reshape(3, 3)
    for on, row in (("shell", [p["shell_radius"], 0, 0]), ("head", [p["shell_radius"], 0, p["head_com_above"]])):
        change = np.linalg.solve(mass, np.array(row, dtype=float))
        entry(f"impulse_{on}_{name}", [float(v) for v in change], "rad/s per N s",
              "M dqdot = Q j at rest, all upright, both joints free; shell at height R, head at its CoM",
              "impulse-momentum theorem (Goldstein, from memory); M from derive.py",
              {"robot": name, "parameters": p, "on": on})


def second_order():
    stated = {0.1: ("72.92", "11.42", "0.6315", "38.4"), 0.2: ("52.66", "22.60", "1.2825", "19.6"),
              0.3: ("37.23", "33.27", "1.976", "11.23"), 0.5: ("16.30", "51.83", "3.628", "8.08"),
              0.7: ("4.60", "65.16", "6.159", "5.98")}
    source = "second-order step response, textbooks on control (Ogata, Modern Control Engineering, from memory)"
    for zeta, texts in stated.items():
        root = math.sqrt(1 - zeta**2)
        entry(f"overshoot_percent_zeta{zeta}", 100 * math.exp(-math.pi * zeta / root), "%",
              "100 exp(-pi zeta/sqrt(1 - zeta^2))", source, {"zeta": zeta}, texts[0])
        margin = math.atan2(2 * zeta, math.sqrt(math.sqrt(1 + 4 * zeta**4) - 2 * zeta**2))
        entry(f"phase_margin_zeta{zeta}", math.degrees(margin), "deg",
              "atan(2 zeta/sqrt(sqrt(1 + 4 zeta^4) - 2 zeta^2))", source, {"zeta": zeta}, texts[1])
        entry(f"log_decrement_zeta{zeta}", 2 * math.pi * zeta / root, "1", "2 pi zeta/sqrt(1 - zeta^2)", source,
              {"zeta": zeta}, texts[2])

        def error(t):
            return math.exp(-zeta * t) * (math.cos(root * t) + zeta / root * math.sin(root * t))

        grid = np.linspace(0, 60, 600_001)
        values = np.abs(np.exp(-zeta * grid) * (np.cos(root * grid) + zeta / root * np.sin(root * grid)))
        last = int(np.nonzero(values > 0.02)[0][-1])
        sign = math.copysign(1, error(grid[last]))
        settle = brentq(lambda t: sign * error(t) - 0.02, grid[last], grid[last + 1], xtol=1e-14)
        entry(f"settling_2_percent_zeta{zeta}", settle, "1/omega_n", "last exit of the step response from +-2 %",
              source, {"zeta": zeta}, texts[3])


def dry_friction():
    mass, mu, k = 2.0, 0.05, 300.0
    entry("dry_spring_loss_per_cycle", 4 * mu * mass * G / k, "m", "4 mu m g/k",
          "Coulomb decay, textbooks on vibration (Den Hartog, from memory)",
          {"mass": mass, "friction": mu, "stiffness": k, "gravity": G})
    for name in DEMO:
        p = ROBOTS[name]
        first = sums(p)[0]
        level = 0.01 * G * first
        entry(f"dry_pendulum_loss_per_half_cycle_{name}", 2 * level / (G * first), "rad", "2 tau_f/(m g l), small swings",
              "Coulomb decay, textbooks on vibration; the carriage with head locked swinging in a shell that cannot turn",
              {"robot": name, "parameters": p, "friction_torque": level})
    peaks = [3.789, -3.474, 3.195, -2.889, 2.592, -2.286, 2.007, -1.710, 1.413, -1.125, 0.846, -0.585, 0.297]
    size, number = np.abs(peaks), np.arange(len(peaks))

    def fit(values):
        slope, offset = np.polyfit(number, values, 1)
        return slope, offset

    def r_squared(model):
        return 1 - ((size - model) ** 2).sum() / ((size - size.mean()) ** 2).sum()

    slope, offset = fit(size)
    data = "measured: MultiArm-Pendulum open data, MIT licence, arXiv 2205.06231, tail of a free swing at 10 kHz, " \
           "successive peaks; it then sticks at -0.027 degrees"
    measured = {"peaks_deg": peaks, "sticks_at_deg": -0.027}
    entry("measured_pendulum_loss_per_half_cycle", float(-slope), "deg", "least squares straight line over |peaks|",
          data, measured, "0.2913")
    entry("measured_pendulum_line_r2", float(r_squared(slope * number + offset)), "1", "R^2 of that line", data, measured,
          "0.9998")
    rate, start = fit(np.log(size))
    entry("measured_pendulum_exponential_r2_linear", float(r_squared(np.exp(start + rate * number))), "1",
          "R^2, in degrees, of the exponential fitted by least squares on ln|peaks|", data, measured)
    logs = np.log(size)
    spread = 1 - ((logs - (start + rate * number)) ** 2).sum() / ((logs - logs.mean()) ** 2).sum()
    entry("measured_pendulum_exponential_r2_log", float(spread), "1", "R^2, in ln|peaks|, of the same fit", data, measured)


def main() -> int:
    for part in (pendulum, hemispheres, robots, second_order, dry_friction):
        part()
    header = {
        "name": "closed_forms", "tools": tools(), "script": "tests/reference/closed_forms.py",
        "command": "python closed_forms.py", "entries": len(ENTRIES),
    }
    lines = ",\n    ".join(json.dumps(e) for e in ENTRIES)
    (HERE / "fixtures").mkdir(exist_ok=True)
    (HERE / "fixtures" / "closed_forms.json").write_text(
        f'{{\n  "format": "closed-forms",\n  "version": 1,\n  "header": {json.dumps(header)},\n'
        f'  "entries": [\n    {lines}\n  ]\n}}\n'
    )
    checked = sum(e["stated"] is not None for e in ENTRIES)
    print(f"{len(ENTRIES)} entries, {checked} compared with a stated number, {len(FAILED)} differ")
    for line in FAILED:
        print("DIFFERS", line)
    return 1 if FAILED else 0


if __name__ == "__main__":
    sys.exit(main())
