"""Equations of motion of the plane model, derived from the bodies themselves.

The kinetic and potential energies of shell, carriage, head and the two rotors
are written down from their positions, and Lagrange's equations

    d/dt (dL/dqdot) - dL/dq = Q

give the mass matrix M(q) and the vector h(q, qdot) of ``M qddot = Q - h``
(Goldstein, *Classical Mechanics*, ch. 1 and 2; Landau & Lifshitz, *Mechanics*,
sections 2 to 5).  Nothing is copied from the Rust code.  The formulas that the
project writes in its documentation are then compared with the result, term by
term, and the closed forms for small motions follow by linearisation.

Frame: first axis along the floor (uphill positive), second axis along the
floor's outward normal.  Angles: theta shell rotation, alpha carriage swing from
hanging along the normal, beta head tilt from upright along the normal.

Run ``python derive.py`` to print every check; the exit status is 1 if one fails.
"""

from __future__ import annotations

import sys
from functools import lru_cache

import sympy as sp

TIME = sp.Symbol("t")
PARAMETER_NAMES = (
    "shell_radius",
    "shell_mass",
    "shell_inertia",
    "carriage_mass",
    "carriage_com_below",
    "carriage_inertia",
    "head_mass",
    "head_com_above",
    "head_inertia",
    "drive_rotor_inertia",
    "head_rotor_inertia",
    "gravity",
    "slope",
)
R, ms, Is, mc, lc, Ic, mh, lh, Ih, Jd, Je, g, gamma = PARAMETERS = sp.symbols(
    "R m_s I_s m_c l_c I_c m_h l_h I_h J_d J_e g gamma", real=True
)
COORDINATES = x, theta, alpha, beta = sp.symbols("x theta alpha beta", real=True)
SPEEDS = xd, thetad, alphad, betad = sp.symbols("xd thetad alphad betad", real=True)
ACCELERATIONS = xdd, thetadd, alphadd, betadd = sp.symbols("xdd thetadd alphadd betadd", real=True)
Mt = ms + mc + mh


def time_derivative(expression):
    """d/dt by the chain rule, over coordinates and speeds."""
    chain = list(zip(COORDINATES, SPEEDS)) + list(zip(SPEEDS, ACCELERATIONS))
    return sum(sp.diff(expression, v) * rate for v, rate in chain)


def positions():
    """Centres of mass of shell, carriage and head, (along floor, along normal)."""
    shell = sp.Matrix([x, R])
    carriage = shell + lc * sp.Matrix([sp.sin(alpha), -sp.cos(alpha)])
    head = shell + lh * sp.Matrix([sp.sin(beta), sp.cos(beta)])
    return shell, carriage, head


def lagrangian():
    """L = T - V of the slipping ball: x and theta are independent."""
    masses = (ms, mc, mh)
    spins = (thetad, alphad, betad)
    inertias = (Is, Ic, Ih)
    kinetic = Jd * (thetad + alphad) ** 2 / 2 + Je * (alphad + betad) ** 2 / 2
    potential = sp.Integer(0)
    up = sp.Matrix([sp.sin(gamma), sp.cos(gamma)])
    for mass, inertia, spin, place in zip(masses, inertias, spins, positions()):
        velocity = place.applyfunc(time_derivative)
        kinetic += mass * velocity.dot(velocity) / 2 + inertia * spin**2 / 2
        potential += mass * g * place.dot(up)
    return kinetic - potential


def equations(lagrange_function, coordinates, speeds, accelerations):
    """Mass matrix and h of ``M qddot + h = Q`` for the chosen coordinates."""
    rows = [
        sp.expand(time_derivative(sp.diff(lagrange_function, s)) - sp.diff(lagrange_function, c))
        for c, s in zip(coordinates, speeds)
    ]
    mass = sp.Matrix([[sp.diff(row, a) for a in accelerations] for row in rows])
    rest = sp.Matrix([row.subs({a: 0 for a in accelerations}) for row in rows])
    return mass.applyfunc(sp.trigsimp), rest.applyfunc(sp.trigsimp)


ROLLING = {x: R * theta, xd: R * thetad, xdd: R * thetadd}


@lru_cache(maxsize=1)
def slipping():
    """(M, h) for q = (x, theta, alpha, beta)."""
    return equations(lagrangian(), COORDINATES, SPEEDS, ACCELERATIONS)


@lru_cache(maxsize=1)
def rolling():
    """(M, h) for q = (theta, alpha, beta), x = R theta put into L beforehand."""
    return equations(
        lagrangian().subs({x: R * theta, xd: R * thetad}), COORDINATES[1:], SPEEDS[1:], ACCELERATIONS[1:]
    )


@lru_cache(maxsize=1)
def floor_force():
    """(along the floor, along the normal): sum of m a minus gravity, by Newton.

    Any push from outside along the floor has to be taken off the first one.
    """
    along, normal = Mt * g * sp.sin(gamma), Mt * g * sp.cos(gamma)
    for mass, place in zip((ms, mc, mh), positions()):
        acceleration = place.applyfunc(lambda e: time_derivative(time_derivative(e)))
        along += mass * acceleration[0]
        normal += mass * acceleration[1]
    return sp.expand(along), sp.expand(normal)


def documented():
    """The formulas as the project's documentation writes them."""
    sa, ca, sb, cb = sp.sin(alpha), sp.cos(alpha), sp.sin(beta), sp.cos(beta)
    m12, m13 = mc * R * lc * ca + Jd, mh * R * lh * cb
    mass = sp.Matrix(
        [
            [Mt * R**2 + Is + Jd, m12, m13],
            [m12, mc * lc**2 + Ic + Jd + Je, Je],
            [m13, Je, mh * lh**2 + Ih + Je],
        ]
    )
    rest = sp.Matrix(
        [
            -mc * R * lc * sa * alphad**2 - mh * R * lh * sb * betad**2 + Mt * g * R * sp.sin(gamma),
            mc * g * lc * sp.sin(alpha + gamma),
            -mh * g * lh * sp.sin(beta - gamma),
        ]
    )
    traction = (
        Mt * (R * thetadd + g * sp.sin(gamma))
        + mc * lc * (alphadd * ca - alphad**2 * sa)
        + mh * lh * (betadd * cb - betad**2 * sb)
    )
    normal = (
        Mt * g * sp.cos(gamma)
        + mc * lc * (alphadd * sa + alphad**2 * ca)
        - mh * lh * (betadd * sb + betad**2 * cb)
    )
    return mass, rest, traction, normal


def small_motion_frequencies():
    """omega^2 by linearising the derived equations about rest on level ground."""
    mass, rest = (e.subs({gamma: 0}) for e in rolling())
    still = {theta: 0, alpha: 0, beta: 0, thetad: 0, alphad: 0, betad: 0}
    stiffness = rest.jacobian(sp.Matrix(COORDINATES[1:])).subs(still)
    mass = mass.subs(still)
    both = sp.Matrix([1, -1, 1])
    roly_poly = sp.simplify((both.T * stiffness * both)[0] / (both.T * mass * both)[0])
    head = sp.Matrix([[1, 0], [0, 1], [0, -1]])
    m2, k2 = head.T * mass * head, head.T * stiffness * head
    w2 = sp.Symbol("w2")
    roots = sp.solve(sp.factor((k2 - w2 * m2).det()), w2)
    free = [r for r in roots if r != 0][0]
    return roly_poly, sp.simplify(free)


def checks():
    """(name, passed) for every documented formula."""
    mass, rest = rolling()
    mass4, rest4 = slipping()
    doc_mass, doc_rest, doc_traction, doc_normal = documented()
    zero = lambda e: sp.simplify(sp.expand_trig(sp.expand(e))) == 0  # noqa: E731
    same = lambda a, b: all(zero(e) for e in (a - b))  # noqa: E731
    yield "mass matrix M(q), rolling", same(mass, doc_mass)
    yield "h(q, qdot), rolling", same(rest, doc_rest)
    reduce = sp.Matrix([[R, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]])
    yield "slipping M reduces to rolling M by x = R theta", same(reduce.T * mass4 * reduce, mass)
    yield "slipping h reduces to rolling h", same((reduce.T * rest4).subs(ROLLING), rest)
    along, normal = floor_force()
    yield "traction F_t", zero(along.subs(ROLLING) - doc_traction)
    yield "normal force N", zero(normal.subs(ROLLING) - doc_normal)
    row = (mass4 * sp.Matrix(ACCELERATIONS) + rest4)[0]
    yield "traction equals the x row of the slipping form", zero(row - along)
    place = positions()[2].applyfunc(lambda e: time_derivative(time_derivative(e))).subs(ROLLING)
    head = sp.Matrix(
        [
            R * thetadd + lh * (betadd * sp.cos(beta) - betad**2 * sp.sin(beta)),
            -lh * (betadd * sp.sin(beta) + betad**2 * sp.cos(beta)),
        ]
    )
    yield "head CoM acceleration a_h", same(place, head)
    # Head push: F along the floor at the head's CoM, by virtual work.
    push = sp.Matrix([sp.diff(positions()[2][0].subs({x: R * theta}), c) for c in COORDINATES[1:]])
    yield "head push F (R, 0, l_h cos beta)", same(push, sp.Matrix([R, 0, lh * sp.cos(beta)]))
    roly_poly, free = small_motion_frequencies()
    inertia = ms * R**2 + Is + mc * (R - lc) ** 2 + Ic + mh * (R + lh) ** 2 + Ih
    yield "roly-poly omega^2", zero(roly_poly - g * (mc * lc - mh * lh) / inertia)
    p, a, b = mc * lc - mh * lh, Is + Mt * R**2, Ic + Ih + mc * lc**2 + mh * lh**2
    yield "free carriage omega^2 (J_d = 0)", zero(free.subs({Jd: 0}) - g * p / (b - R**2 * p**2 / a))
    with_rotor = g * p / (b + Jd - (R * p + Jd) ** 2 / (a + Jd))
    yield "free carriage omega^2 with drive rotor", zero(free - with_rotor)
    # Steady acceleration a: rows 2 minus 1 with head upright, head torque = row 3, rolling torque c N R.
    c, acc = sp.symbols("c_rr a", real=True)
    steady = {thetadd: acc / R, alphadd: 0, betadd: 0, thetad: thetad, alphad: 0, betad: 0, beta: 0, gamma: 0}
    rows = (mass * sp.Matrix(ACCELERATIONS[1:]) + rest).subs(steady)
    balance = rows[1] - (rows[0] + c * normal.subs(steady) * R) - rows[2]
    doc = mc * lc * (g * sp.sin(alpha) + acc * sp.cos(alpha)) - ((Mt * R + Is / R + mh * lh) * acc + c * Mt * g * R)
    yield "steady acceleration swing", zero(balance - doc)
    yield "mass matrix is symmetric", same(mass, mass.T)
    # Momentum conjugate to theta: no coordinate theta in L on level ground.
    level = lagrangian().subs({x: R * theta, xd: R * thetad}).subs({gamma: 0})
    yield "theta is cyclic on level ground", zero(sp.diff(level, theta))


@lru_cache(maxsize=1)
def numeric():
    """Lambdified functions of scalars.  ``p`` is PARAMETERS in order.

    rolling(p, theta, alpha, beta, speeds...)  -> 9 entries of M, 3 of h
    slipping(p, alpha, beta, speeds...)        -> 16 entries of M, 4 of h
    floor(p, alpha, beta, speeds...)           -> rows (along, normal) as
        coefficients of (xdd, thetadd, alphadd, betadd) and the rest
    energy(p, x, ...)                          -> T + V
    """
    kinematics = [alpha, beta, xd, thetad, alphad, betad]
    make = lambda args, body: sp.lambdify([PARAMETERS, *args], body, modules="math", cse=True)  # noqa: E731
    mass, rest = rolling()
    mass4, rest4 = slipping()
    rows = []
    for force in floor_force():
        rows += [sp.diff(force, a) for a in ACCELERATIONS] + [force.subs({a: 0 for a in ACCELERATIONS})]
    function = lagrangian()
    kinetic = function.subs({g: 0})
    return {
        "rolling": make(kinematics, [*mass, *rest]),
        "slipping": make(kinematics, [*mass4, *rest4]),
        "floor": make(kinematics, rows),
        "energy": make([x, *kinematics], sp.expand(2 * kinetic - function)),
    }


def main() -> int:
    failed = 0
    for name, passed in checks():
        print(("ok   " if passed else "FAIL ") + name)
        failed += not passed
    print(f"SymPy {sp.__version__}: {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
