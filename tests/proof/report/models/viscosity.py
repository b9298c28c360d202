"""Viscosity of caustic solutions."""

from typing import cast

from service.chemistry.molar_masses import Alkali
from service.chemistry.viscosity import RELATIVE_HALF_WIDTH, viscosity, viscosity_half_width
from tests.proof.report.models.works import CRC, LALIBERTE
from tests.proof.report.plot import Panel
from tests.proof.report.records import Model, Point
from tests.proof.report.sampling import marked, sampled, spread
from tests.reference_cases import caustic_grids, outside

STRENGTH = "mass fraction, %"
PROGRAMMED = LALIBERTE._replace(tolerance="one part in 1e6: the same formula, programmed by others")


def model() -> Model:
    """Both alkalis."""
    points = []
    for row in outside.read_table("crc_caustic_20c.csv"):
        alkali, w = cast("Alkali", row["solute"]), float(row["mass_percent"]) / 100
        ours, half_width = viscosity(alkali, w, 20.0), viscosity_half_width(alkali, w, 20.0)
        what = f"{alkali} {100 * w:g} %, 20 °C"
        points.append(Point(CRC, what, 100 * w, 1e3 * ours, float(row["viscosity"]), 1e3 * half_width, "mPa s"))
    panels = []
    alkalis: tuple[Alkali, ...] = ("NaOH", "KOH")
    for alkali in alkalis:
        curve = sampled(
            "ours, 20 °C",
            spread(0.0, 50.0),
            lambda w, a=alkali: 1e3 * viscosity(a, w / 100, 20.0),  # type: ignore[misc]
            lambda w, a=alkali: 1e3 * viscosity_half_width(a, w / 100, 20.0),  # type: ignore[misc]
        )
        shown = marked([p for p in points if p.what.startswith(alkali)])
        panels.append(Panel(STRENGTH, "viscosity, mPa s", [curve], shown, alkali, log_y=True, height=220.0))
    for alkali, w, t in caustic_grids.VISCOSITIES:
        ours, theirs = 1e3 * viscosity(alkali, w, t), 1e3 * outside.laliberte_viscosity(alkali, w, t)
        what = f"formula, {alkali} {100 * w:g} %, {t:g} °C"
        points.append(Point(PROGRAMMED, what, 100 * w, ours, theirs, 1e-6 * theirs, "mPa s"))
    return Model(
        "viscosity",
        "Viscosity",
        "service/chemistry/viscosity.py: Laliberté 2009",
        "NaOH 0 to 56 %, 12.5 to 70 °C; KOH 0 to 51.9 %, -14.1 to 40 °C",
        f"{100 * RELATIVE_HALF_WIDTH:g} %",
        "Published figures are of 20 °C alone, of NaOH to 40 %: nothing at 50 %, where a stock is thickest, and "
        "nothing warm or cold.",
        STRENGTH,
        points,
        panels,
    )
