"""Titrations as workshops do them: readings that fit a stock or a soap that is known."""

from typing import Any, Final

from hypothesis import strategies as st

from service.calculations.shared.given import (
    Density,
    Duration,
    Fraction,
    Mass,
    MeasuredVolume,
    PlainMass,
    Temperature,
    TitrantMolarity,
    Volume,
)
from service.chemistry import density
from service.chemistry.molar_masses import ALKALI, CARBONATE, Alkali
from service.reference import reference_data
from tests.contract.quantities import said

ACIDS: Final = sorted(reference_data().acids)

Request = dict[str, Any]


@st.composite
def _acid(draw: st.DrawFn) -> tuple[float, Request]:
    """Protons for each volume [mol/m3], and how the request says them; limits of the readings mostly both."""
    molarity, protons = draw(st.floats(50.0, 1000.0)), draw(st.sampled_from([None, 1, 2]))
    request: Request = {"acid_molarity": draw(said(TitrantMolarity, molarity))}
    if protons is not None:
        request["acid_protons"] = protons
    if draw(st.integers(0, 3)):
        request["burette_tolerance"] = draw(said(Volume, 1e-8, 1e-7))
        request["end_point_uncertainty"] = draw(said(Volume, 1e-8, 5e-8))
    if draw(st.booleans()):
        request["acid_temperature"] = draw(said(Temperature, 15.0, 30.0))
    return molarity * (protons or 1), request


@st.composite
def stock_titrations(draw: st.DrawFn) -> Request:
    """A sample of a stock with some carbonate, weighed or measured, and its two end points."""
    alkali: Alkali = draw(st.sampled_from(["NaOH", "KOH"]))
    w, carbonate = draw(st.floats(0.03, 0.46)), draw(st.floats(1e-4, 0.03))
    normality, request = draw(_acid())
    second = draw(st.floats(5e-6, 50e-6))
    hydroxide, carbonates = w / ALKALI[alkali], carbonate / CARBONATE[alkali]
    mass = normality * second / (hydroxide + 2 * carbonates)
    first = second * (hydroxide + carbonates) / (hydroxide + 2 * carbonates)
    request |= {
        "alkali": alkali,
        "first_end_point": draw(said(MeasuredVolume, first)),
        "second_end_point": draw(said(MeasuredVolume, second)),
    }
    if draw(st.integers(0, 3)):
        request["water_volume"] = draw(said(Volume, 1e-5, 2e-4))
    if draw(st.booleans()):
        request["labelled_strength"] = {"mass_fraction": draw(said(Fraction, 0.03, 0.49))}
    if draw(st.booleans()):
        request["age"] = draw(said(Duration, 1e5, 1e7))
    way = draw(st.sampled_from(["mass", "volume", "density"]))
    if way == "mass":
        request["sample_mass"] = draw(said(Mass, mass))
        if draw(st.booleans()):
            request["scale_division"] = draw(said(PlainMass, mass * 1e-4, mass * 1e-3))
        return request
    t = draw(st.floats(10.0, 40.0))
    rho = density.density(alkali, w + carbonate, t)
    request["sample_volume"] = draw(said(MeasuredVolume, mass / rho))
    if way == "density":
        request["density"] = draw(said(Density, rho))
    elif draw(st.booleans()):
        request["temperature"] = draw(said(Temperature, t))
    return request


@st.composite
def soap_assays(draw: st.DrawFn) -> Request:
    """A sample of soap with some free alkali, by either method, with a batch to neutralise or without."""
    alkali: Alkali = draw(st.sampled_from(["NaOH", "KOH"]))
    share, mass = draw(st.floats(1e-4, 0.03)), draw(st.floats(1e-3, 20e-3))
    amount = share * mass / ALKALI[alkali]
    normality, request = draw(_acid())
    request |= {"alkali": alkali, "sample_mass": draw(said(Mass, mass))}
    excess = 0.0
    if draw(st.booleans()):
        excess = draw(st.floats(0.5, 2.0)) * amount
        molarity = draw(st.floats(50.0, 1000.0))
        request["back_titration"] = {
            "molarity": draw(said(TitrantMolarity, molarity)),
            "volume": draw(said(MeasuredVolume, excess / molarity)),
        }
    request["method"] = "total-free" if excess else "free-caustic"
    request["acid_volume"] = draw(said(MeasuredVolume, (amount + excess) / normality))
    if draw(st.booleans()):
        request["scale_division"] = draw(said(PlainMass, mass * 1e-4, mass * 1e-3))
    if draw(st.booleans()):
        request["batch_mass"] = draw(said(Mass, 0.5, 50.0))
        if draw(st.booleans()):
            request["acid"] = draw(st.sampled_from(ACIDS))
    return request
