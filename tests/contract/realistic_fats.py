"""Fats of a realistic request: of the catalogue, or by a certificate whose figures belong together."""

from typing import Any, Final, NamedTuple

from hypothesis import strategies as st

from service.calculations.batch.fats import catalogue_fat
from service.calculations.shared.given import IodineValue, Mass, SaponificationValue, Share
from service.reference import reference_data
from tests.contract.quantities import said

DATA: Final = reference_data()


class Line(NamedTuple):
    """A line of fat as it is sent, and what it comes to [SI]."""

    request: dict[str, Any]
    mass: float
    saponification_value: float


@st.composite
def weights(draw: st.DrawFn, count: int) -> list[float]:
    """Parts of a whole, none of them nothing."""
    parts = [draw(st.integers(1, 20)) for _ in range(count)]
    return [part / sum(parts) for part in parts]


@st.composite
def fat_lines(draw: st.DrawFn, batch: float) -> list[Line]:
    """Lines of fats that weigh a batch [kg] together."""
    parts = draw(weights(draw(st.integers(1, 6))))
    return [draw(_line(batch * part)) for part in parts]


@st.composite
def _line(draw: st.DrawFn, mass: float) -> Line:
    request: dict[str, Any] = {"mass": draw(said(Mass, mass))}
    if draw(st.integers(0, 3)):
        name = draw(st.sampled_from(sorted(DATA.fats)))
        return Line(request | {"fat": name}, mass, catalogue_fat(name).saponification_value)
    value = draw(st.floats(0.17, 0.26))
    request |= {
        "name": draw(st.text(min_size=1, max_size=12)),
        "saponification_value": draw(said(SaponificationValue, value)),
    }
    if draw(st.booleans()):
        request["iodine_value"] = draw(said(IodineValue, 0.05, 1.9))
    if draw(st.booleans()):
        codes = draw(st.lists(st.sampled_from(sorted(DATA.fatty_acids)), min_size=1, max_size=5, unique=True))
        total = draw(st.floats(0.85, 1.0))
        shares = draw(weights(len(codes)))
        request["fatty_acids"] = {
            code: draw(said(Share, share * total)) for code, share in zip(codes, shares, strict=True)
        }
    return Line(request, mass, value)
