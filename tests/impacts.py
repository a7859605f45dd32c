"""An impact by its equation of motion, for tests of the closed forms."""

import numpy as np
from scipy.integrate import solve_ivp


def integrate(force, rebounds):
    """Peak force, peak penetration, restitution and duration of unit mass at unit velocity.

    ``force(δ, δ')`` by the equation of motion alone; the impact ends where ``rebounds(δ, δ')``
    falls through zero after the penetration has passed its peak.
    """

    def change(_, y):
        return [y[1], -force(max(y[0], 0.0), y[1])]

    def end(_, y):
        return rebounds(y[0], y[1]) if y[1] < 0 else 1.0

    end.terminal, end.direction = True, -1
    # The event must see the impact's middle, so steps are short beside it.
    found = solve_ivp(
        change, (0, 500), [0.0, 1.0], events=end, rtol=1e-10, atol=1e-12, max_step=0.05,
        dense_output=True,
    )  # fmt: skip
    t = np.linspace(0, found.t[-1], 20001)
    penetration, speed = found.sol(t)
    forces = [force(max(w, 0.0), s) for w, s in zip(penetration, speed, strict=True)]
    return max(forces), penetration.max(), -speed[-1], t[-1]
