"""Inputs of a case as functions of time, with the instants where they are not smooth.

Every function takes ``t`` [s] and ``seg`` [s], an instant inside the smooth
stretch being integrated: which terms are active is decided by ``seg``, so a
stage that falls on the edge of a stretch still sees that stretch's own law.
A term is active for start <= t < end.
"""

from __future__ import annotations

import math


def active(term: dict, seg: float) -> bool:
    return term.get("start", 0.0) <= seg < term.get("end", math.inf)


def torque(terms: list[dict], t: float, seg: float) -> float:
    """Sum of the torque terms [N m]; ``hold`` > 0 samples the sine at tick starts."""
    total = 0.0
    for term in terms:
        if not active(term, seg):
            continue
        if term["kind"] == "constant":
            total += term["value"]
            continue
        hold = term.get("hold", 0.0)
        when = math.floor(seg / hold) * hold if hold > 0.0 else t
        total += term["amplitude"] * math.sin(term["angular_frequency"] * when + term.get("phase", 0.0))
    return total


def pushes(pulses: list[dict], t: float, seg: float) -> list[tuple[str, float, float]]:
    """Active half-sine pulses: (on, force [N], height [m])."""
    out = []
    for pulse in pulses:
        start, duration = pulse["start"], pulse["duration"]
        if start <= seg < start + duration:
            force = pulse["peak"] * math.sin(math.pi * (t - start) / duration)
            out.append((pulse["on"], force, pulse.get("height", 0.0)))
    return out


class Servo:
    """Servo position following stepped targets: sdot = clamp((target - s)/lag, +-rate_limit).

    Solved in closed form: a ramp at the rate limit until the gap is
    rate_limit * lag, then an exponential approach.
    """

    def __init__(self, spec: dict, t_end: float):
        self.pieces: list[tuple[float, str, float, float]] = []  # start, kind, s at start, target or rate
        lag, limit = spec["lag"], spec["rate_limit"]
        self.lag = lag
        position, now = spec["initial"], 0.0
        targets = spec["targets"]
        for k, step in enumerate(targets):
            end = targets[k + 1]["time"] if k + 1 < len(targets) else t_end
            gap = step["value"] - position
            if abs(gap) > limit * lag:
                rate = math.copysign(limit, gap)
                self.pieces.append((now, "ramp", position, rate))
                ramp_end = now + (abs(gap) - limit * lag) / limit
                if ramp_end >= end:
                    position += rate * (end - now)
                    now = end
                    continue
                position += rate * (ramp_end - now)
                now = ramp_end
            self.pieces.append((now, "settle", position, step["value"]))
            position = step["value"] + (position - step["value"]) * math.exp(-(end - now) / lag)
            now = end

    def state(self, t: float, seg: float) -> tuple[float, float]:
        """(s [rad], sdot [rad/s])."""
        piece = max((p for p in self.pieces if p[0] <= seg), key=lambda p: p[0], default=self.pieces[0])
        start, kind, position, value = piece
        if kind == "ramp":
            return position + value * (t - start), value
        gap = (value - position) * math.exp(-(t - start) / self.lag)
        return value - gap, gap / self.lag


class Inputs:
    """All inputs of one case."""

    def __init__(self, case: dict, t_end: float):
        self.drive = case.get("drive_torque", [])
        self.head = case.get("head_torque", [])
        self.pulses = case.get("pulses", [])
        self.loop = case.get("loop")
        self.servo_spec = case.get("servo")
        self.servo = Servo(self.servo_spec, t_end) if self.servo_spec else None
        self.t_end = t_end

    def breakpoints(self) -> list[float]:
        """Instants [s] where some input or its derivative jumps."""
        points = set()
        for term in [*self.drive, *self.head]:
            points.update(v for v in (term.get("start", 0.0), term.get("end", math.inf)))
            if term.get("hold", 0.0) > 0.0:
                points.update(k * term["hold"] for k in range(round(self.t_end / term["hold"]) + 1))
        for pulse in self.pulses:
            points.update((pulse["start"], pulse["start"] + pulse["duration"]))
        if self.servo:
            points.update(p[0] for p in self.servo.pieces)
        if self.loop:
            points.update(k * self.loop["tick"] for k in range(round(self.t_end / self.loop["tick"]) + 1))
        return sorted(p for p in points if 0.0 <= p < self.t_end)


class Loop:
    """Sampled torque law, held between ticks, due ``delay_ticks`` after it was sensed.

        e      = measured angle - target
        d(e)   = e outside the dead band less the half-width, 0 inside (continuous)
        torque = clamp(-P d(e) - D rate, +-torque_limit)
    """

    SIGNALS = {
        "theta": (1.0, 0.0, 0.0),
        "alpha": (0.0, 1.0, 0.0),
        "beta": (0.0, 0.0, 1.0),
        "rho": (1.0, 1.0, 0.0),
        "psi": (0.0, 1.0, 1.0),
    }

    def __init__(self, spec: dict):
        self.spec = spec
        self.queue = [0.0] * spec["delay_ticks"]

    def tick(self, angles, rates) -> float:
        """Sense at a tick, return the torque [N m] held until the next one."""
        s = self.spec
        row = self.SIGNALS[s["measured"]]
        error = sum(r * a for r, a in zip(row, angles)) - s["target"]
        rate = sum(r * a for r, a in zip(row, rates))
        w = s["dead_band"]
        beyond = 0.0 if abs(error) <= w else error - math.copysign(w, error)
        command = -s["proportional"] * beyond - s["derivative"] * rate
        limit = s["torque_limit"]
        self.queue.append(max(-limit, min(limit, command)))
        return self.queue.pop(0)
