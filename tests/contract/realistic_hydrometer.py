"""Readings of hydrometers in stocks of usual strengths."""

from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.shared.given import Density, Duration, Fraction, MeasuredTemperature, Temperature
from service.calculations.shared.messages import AlkaliName
from service.chemistry import density, water
from tests.contract.quantities import said

ALKALIS: Final[tuple[AlkaliName, ...]] = ("NaOH", "KOH")

Request = dict[str, Any]


@st.composite
def readings(draw: st.DrawFn) -> Request:
    """A scale, and what it shows in a stock."""
    name: AlkaliName = draw(st.sampled_from(ALKALIS))
    w, t = draw(st.floats(0.08, 0.48)), draw(st.floats(10.0, 60.0))
    rho = density.density(name, w, t)
    gravity = rho / water.density(15.6)
    scales: dict[str, Any] = {
        "density": said(Density, rho),
        "specific_gravity": st.just(gravity),
        "degrees_baume": st.just(145 - 145 / gravity),
        "degrees_twaddell": st.just(200 * (gravity - 1)),
    }
    scale = draw(st.sampled_from(sorted(scales)))
    reading: Request = {scale: draw(scales[scale])}
    if scale != "density" and draw(st.booleans()):
        reading["division"] = draw(st.floats(0.0001, 0.002) if scale == "specific_gravity" else st.floats(0.1, 1.0))
    request: Request = {"alkali": name, "reading": reading, "temperature": draw(said(MeasuredTemperature, t))}
    if draw(st.booleans()):
        request["reference_temperature"] = draw(said(Temperature, 15.0, 20.0))
    if scale != "density" and draw(st.booleans()):
        request["water_reference_temperature"] = draw(said(Temperature, 4.0, 20.0))
    if draw(st.booleans()):
        request["carbonate_mass_fraction"] = draw(said(Fraction, 1e-4, 0.03))
    if scale == "degrees_baume" and draw(st.booleans()):
        request["baume_modulus"] = draw(st.floats(144.0, 146.0))
    if draw(st.booleans()):
        request["age"] = draw(said(Duration, 1e5, 1e7))
    return request
