"""Stiffness of contacts that follow a power law, so that nothing has to be solved."""

from dataclasses import replace

import numpy as np
from bodies import case
from restated import restated

from contactfe.assess.gap_element import linear, power_law, table
from contactfe.assess.in_series import InSeries
from contactfe.assess.shares import Shares
from contactfe.assess.stiffness import Parts, SectionStiffness, StiffnessResult, WithPost
from contactfe.assess.value import Value
from contactfe.case import Cantilever
from contactfe.solve.force_approach import ForceApproach

LOAD, LENGTH, A, N = 1000.0, 300.0, 2e4, 1.1


def result(most=1.25, **changes):
    """Sections whose curve is q = A δ^n, of a contact 300 mm long."""
    stated = case([(150.0, None), (150.0, 25.0)], line_load=LOAD)
    stated = restated(stated, contact_length=LENGTH, **changes)
    q = np.linspace(20.0, most * LOAD, 12)
    d = (q / A) ** (1 / N)
    curve = ForceApproach(q, d, N * q / d)
    at = (LOAD / A) ** (1 / N)
    sections = tuple(
        SectionStiffness(
            section=section,
            ends_at=most,
            curve=curve,
            uncertainties=0.003 * d,
            curve_shares=tuple(Shares(0.2 * x, 0.5 * x, 0.25 * x, 0.05 * x) for x in d),
            approach=Value(at, 0.003 * at),
            tangent_stiffness=Value(N * LOAD / at, 60.0),
            secant_stiffness=Value(LOAD / at, 50.0),
            exponent=Value(N, 0.003),
            shares=Parts(*(Value(s * at, 1e-5) for s in (0.2, 0.5, 0.25, 0.05))),
            half_width=Value(0.9, 0.003),
            power_law=power_law(curve, LOAD),
            linear=linear(curve, LOAD),
            points=table(curve, LOAD),
            unknowns=20_000,
            up_to_line_load=LOAD,
            allowed_line_load=100.0 * LOAD,
            far=curve,
        )
        for section in stated.sections
    )
    return StiffnessResult(stated, sections)


def bending(**changes):
    """The same in series with posts that bend by a millimetre in 300 kN, evenly."""
    of = result(cantilever=Cantilever(600.0), **changes)
    per_load = LENGTH / 300e3

    def bent(section):
        curve = section.curve
        softer = ForceApproach(
            curve.line_load,
            curve.approach + per_load * curve.line_load,
            1.0 / (1.0 / curve.tangent_stiffness + per_load),
        )
        series = InSeries(softer, curve.line_load, per_load * curve.line_load)
        displacement = float(softer.approach_at(LOAD))
        spring = linear(softer, LOAD)
        post = WithPost(
            travel=displacement,
            whole_tangent_stiffness=LENGTH * float(softer.tangent_at(displacement)),
            whole_secant_stiffness=LENGTH * LOAD / displacement,
            spring=replace(spring, stiffness=LENGTH * spring.stiffness),
            points=table(softer, LOAD),
            peak_line_load=2.0 * LOAD,
            contact_alone_over_this=section.linear.stiffness / spring.stiffness,
        )
        return replace(section, series=series, with_post=post)

    return replace(of, sections=tuple(map(bent, of.sections)))


AT = (LOAD / A) ** (1 / N)
"""Approach at the load; the displacement with the post's bending is a millimetre more."""
