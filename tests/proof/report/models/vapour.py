"""Boiling points and vapour pressures of caustic solutions."""

from collections.abc import Iterator
from typing import Final

from service.chemistry import vapour_pressure, water
from service.chemistry.molar_masses import Alkali
from tests.proof.report.models.works import BALEJ, DOW, IF97, OLSSON
from tests.proof.report.plot import Panel
from tests.proof.report.records import Model, Point
from tests.proof.report.sampling import marked, sampled, spread
from tests.reference_cases import caustic_grids, outside
from tests.reference_cases.caustic_published import boiling_points
from tests.reference_cases.caustic_validation import cases

ALKALIS: Final[tuple[Alkali, ...]] = ("NaOH", "KOH")
STRENGTH: Final = "mass fraction, %"
BALEJ_KOH: Final = BALEJ._replace(
    label="Balej 1985, KOH",
    tolerance="0.05 K, half a unit of the last digit that was noted",
    is_same_formula=True,
)
IF97_OLSSON: Final = IF97._replace(
    label="IAPWS-IF97, water (program)", tolerance="1 %, the least interval that the service tells", where="region 4"
)


def boiling() -> Model:
    """At 1 atm."""
    points = [_boiling(alkali, source) for alkali in ALKALIS for source in ("balej", "dow")]
    panels = []
    for alkali in ALKALIS:
        curve = sampled(
            "ours",
            spread(0.0, 100 * vapour_pressure.HIGHEST_MASS_FRACTION[alkali]),
            lambda w, a=alkali: vapour_pressure.boiling_point(a, w / 100),  # type: ignore[misc]
            lambda w, a=alkali: vapour_pressure.boiling_point_half_width(a, w / 100),  # type: ignore[misc]
        )
        shown = marked([p for some in points for p in some if p.what.startswith(alkali)])
        panels.append(Panel(STRENGTH, "boiling point, °C", [curve], shown, alkali, height=220.0))
    return Model(
        "boiling",
        "Boiling point",
        "service/chemistry/vapour_pressure.py: NaOH by Olsson 1997, KOH by Balej 1985, solved for the temperature",
        "NaOH 0 to 55 %, KOH 0 to 50 %, where it boils between 0 and 200 °C",
        f"NaOH: what Olsson and Balej differ by, or more: {_kelvin('NaOH', 0.1)} at 10 %, {_kelvin('NaOH', 0.35)} at "
        f"35 % and {_kelvin('NaOH', 0.5)} at 50 %; KOH: {_kelvin('KOH', 0.0)} in water to {_kelvin('KOH', 0.5)} at 50 "
        "%, judged by how Balej does for NaOH",
        "The interval of NaOH is at least its distance from Balej, whose points therefore lie on its edge or within by "
        "construction; the one figure here that is apart from both is a maker's, 'about 145 °C'. Gerlach's boiling "
        "points of 1887 (from memory) stand among the second opinions; above 40 % no measured one was at hand.",
        STRENGTH,
        [p for some in points for p in some],
        panels,
    )


def _kelvin(alkali: Alkali, w: float) -> str:
    """The half width of a boiling point, in words."""
    return f"{vapour_pressure.boiling_point_half_width(alkali, w):.2g} K"


def _relative(alkali: Alkali, w: float, t: float) -> str:
    """The half width of a pressure, in words."""
    pressure = vapour_pressure.water_vapour_pressure(alkali, w, t)
    return f"{100 * vapour_pressure.water_vapour_pressure_half_width(alkali, w, t) / pressure:.0f} %"


def _boiling(alkali: Alkali, source: str) -> list[Point]:
    points = []
    for w, t in boiling_points(source, alkali):
        half_width = 0.05
        if alkali == "NaOH":
            half_width = vapour_pressure.boiling_point_half_width(alkali, w) + (0.05 if source == "balej" else 0.0)
        work = DOW if source == "dow" else BALEJ if alkali == "NaOH" else BALEJ_KOH
        ours = vapour_pressure.boiling_point(alkali, w)
        points.append(Point(work, f"{alkali} {100 * w:g} %", 100 * w, ours, t, half_width, "°C"))
    return points


def _pressures() -> Iterator[Point]:
    for row, tolerance in cases():
        if row.quantity.startswith("vapour pressure"):
            yield Point(DOW, "NaOH 50 %, 20 °C", 50.0, row.ours, row.reference, tolerance, row.unit)
    for t in (20.0, 60.0, 100.0, 150.0):
        ours, theirs = vapour_pressure.water_vapour_pressure("NaOH", 0.0, t), water.saturation_pressure(t)
        yield Point(IF97_OLSSON, f"water by NaOH's equation, {t:g} °C", 0.0, ours, theirs, 0.01 * theirs, "Pa")
    for w, t in caustic_grids.PRESSURES:
        ours, theirs = vapour_pressure.water_vapour_pressure("NaOH", w, t), outside.olsson_pressure(w, t)
        yield Point(OLSSON, f"formula, NaOH {100 * w:g} %, {t:g} °C", 100 * w, ours, theirs, 1e-9 * theirs, "Pa")


def pressure() -> Model:
    """Of water over solutions."""
    points = list(_pressures())
    curves = [
        sampled(
            f"ours, {t:g} °C",
            spread(0.0, 55.0),
            lambda w, t=t: vapour_pressure.water_vapour_pressure("NaOH", w / 100, t) / 1e3,  # type: ignore[misc]
            lambda w, t=t: vapour_pressure.water_vapour_pressure_half_width("NaOH", w / 100, t) / 1e3,  # type: ignore[misc]
        )
        for t in (20.0, 60.0, 100.0, 150.0)
    ]
    shown = [p._replace(published=p.published / 1e3) for p in points]
    return Model(
        "vapour-pressure",
        "Vapour pressure of water over caustic",
        "service/chemistry/vapour_pressure.py: NaOH by Olsson 1997, KOH by Balej 1985",
        "NaOH 0 to 55 %, KOH 0 to 50 %, 0 to 200 °C",
        f"NaOH: what Olsson and Balej differ by ({_relative('NaOH', 0.4999, 20.0)} at 50 %, 20 °C), or what that of "
        "the boiling points comes to; KOH: that of the boiling point; both at least 1 % plus a tenth of the mass "
        "fraction",
        "One published figure here is independent of the equations, a maker's; the second opinions have "
        "activities and another equation. Of KOH no measured pressure was at hand, and its formula is checked by "
        "boiling points alone.",
        STRENGTH,
        points,
        [Panel(STRENGTH, "vapour pressure, kPa", curves, marked(shown), "Over NaOH", log_y=True)],
    )
