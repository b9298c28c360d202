"""Pastes of potassium soap, by their content or by the batch they came from."""

from typing import Any

from hypothesis import strategies as st

from service.calculations.shared.given import Fraction, Mass, PlainMass, Share
from service.chemistry import molar_masses
from tests.contract.quantities import said
from tests.contract.realistic_fats import fat_lines

Request = dict[str, Any]


@st.composite
def paste_dilutions(draw: st.DrawFn) -> Request:
    """A paste, and a content below its own."""
    wanted = {"wanted_soap_share": draw(said(Share, 0.05, 0.3))}
    if draw(st.booleans()):
        share = draw(said(Fraction, 0.31, 0.7))
        return {"paste_mass": draw(said(Mass, 0.2, 50.0)), "soap_share": share} | wanted
    batch = draw(st.floats(0.2, 50.0))
    lines = draw(fat_lines(batch))
    need = sum(line.mass * line.saponification_value for line in lines) / molar_masses.KOH
    amount = need * draw(st.floats(0.9, 1.02))
    water = batch * draw(st.floats(0.5, 0.9))
    gone = water * draw(st.floats(0.01, 0.5))
    sodium = draw(st.sampled_from([0.0, 0.0, 0.3]))
    shares = {"KOH": 1 - sodium} | ({"NaOH": sodium} if sodium else {})
    masses = {name: amount * share * molar_masses.ALKALI[name] for name, share in shares.items()}  # type: ignore[index]
    return {
        "paste_mass": draw(said(Mass, batch + sum(masses.values()) + water - gone)),
        "batch": {
            "fats": [line.request for line in lines],
            "alkalis": [{"alkali": name, "mass": draw(said(Mass, mass))} for name, mass in masses.items()],
            "water_mass": draw(said(PlainMass, water)),
        },
    } | wanted
