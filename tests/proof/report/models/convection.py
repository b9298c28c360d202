"""Convection, air and water: what cooling and warming rest on."""

from collections.abc import Iterator
from typing import Final

from fluids.atmosphere import ATMOSPHERE_1976
from ht.conv_external import Nu_cylinder_Churchill_Bernstein, Nu_cylinder_Zukauskas
from ht.conv_free_immersed import Nu_vertical_plate_Churchill

from service.chemistry import air
from service.chemistry.bath import water_conductivity
from service.chemistry.cooling_fit import student_factor
from service.chemistry.moving_air import MOVING, crossflow_nusselt, forced_coefficient
from service.chemistry.standing_loss import convection_coefficient, radiation_coefficient, vertical_nusselt
from tests.proof.report.models.works import HALF_DIGIT, IF97, PROGRAM
from tests.proof.report.plot import Panel
from tests.proof.report.records import Evidence, Model, Point, Source, against_limits
from tests.proof.report.sampling import marked, sampled, spread_by_factors
from tests.reference_cases import convection_validation as cases
from tests.reference_cases.outside import water_conductivity as iapws_conductivity

BERGMAN: Final = Source(
    "Bergman, example 7.4",
    "T. L. Bergman et al.",
    "Introduction to Heat Transfer, 6th ed.",
    "2011",
    "example 7.4, by the correlation",
    Evidence.MEMORY,
    HALF_DIGIT,
    is_same_formula=True,
)
MEASURED: Final = BERGMAN._replace(
    label="Bergman, measured",
    where="example 7.4, the measured coefficient",
    tolerance="the limits that the service tells: a quarter less to a half more",
    is_same_formula=False,
)
PLATE: Final = BERGMAN._replace(
    label="Bergman, example 9.2", where="example 9.2, a vertical plate", evidence=Evidence.SEEN
)
HT: Final = Source(
    "ht (program)",
    "package ht 1.2.0",
    "correlations of Churchill & Bernstein 1977 and Churchill & Chu 1975",
    "1975-1977",
    "cross flow, vertical plate",
    Evidence.SEEN,
    PROGRAM,
    is_same_formula=True,
)
HT_WALL: Final = HT._replace(
    label="ht with its own air",
    where="coefficients of a wall, air by the ideal gas and Sutherland's formulas; radiation",
    tolerance="convection 0.93 %, which the errors that the model claims of its air come to: two thirds of the "
    "conductivity's 0.9 % and a third of the viscosity's 1 %; radiation half a unit of the last digit that was noted",
    note="the correlation is the model's own, the air is not",
    is_same_formula=False,
    is_made_of=True,
)
ZUKAUSKAS: Final = Source(
    "Žukauskas 1972",
    "A. Žukauskas",
    "Heat Transfer from Tubes in Crossflow, as programmed in the package ht 1.2.0",
    "1972",
    "another correlation of the same",
    Evidence.SEEN,
    "the limits that the service tells: a quarter less to a half more",
)
ATMOSPHERE: Final = Source(
    "Standard Atmosphere 1976",
    "NOAA, NASA, U.S. Air Force",
    "U.S. Standard Atmosphere, as programmed in the package fluids 1.3.1",
    "1976",
    "conductivity and viscosity of air",
    Evidence.SEEN,
    "conductivity 2.2 %, viscosity 1.4 %: what Lemmon and Jacobsen, whom ours is fitted to, say of themselves (2 and "
    "1 %, from memory), in quadrature with what the fit claims (0.9 and 1 %)",
)
R15: Final = IF97._replace(
    label="IAPWS R15 (program)",
    title="R15-11, thermal conductivity",
    year="2011",
    where="liquid water at 1 atm",
    tolerance="0.2 %, which the model claims",
    note="as programmed in the package iapws 1.5.5; the model was fitted to it",
    is_made_of=True,
)
GUM_T: Final = Source(
    "JCGM 100, table G.2",
    "Joint Committee for Guides in Metrology",
    "JCGM 100:2008, Guide to the Expression of Uncertainty in Measurement",
    "2008",
    "table G.2, 95 %",
    Evidence.SEEN,
    "half a unit of the last printed digit",
    "for readings of a cooling stock",
    is_same_formula=True,
)


def _examples() -> Iterator[Point]:
    found = crossflow_nusselt(cases.EXAMPLE_REYNOLDS, cases.EXAMPLE_PRANDTL)
    yield Point(BERGMAN, "Nu of a cylinder, Re 6071", 0.0, found, cases.EXAMPLE_NUSSELT, 0.05, "1")
    ours = forced_coefficient(cases.EXAMPLE_DIAMETER, cases.EXAMPLE_SPEED, cases.EXAMPLE_FILM)
    yield Point(BERGMAN, "coefficient of the cylinder", 0.0, ours, cases.EXAMPLE_COEFFICIENT, 0.5, "W/(m2 K)")
    room = against_limits(ours, MOVING[1] * ours, MOVING[2] * ours, cases.EXAMPLE_MEASURED)
    yield Point(MEASURED, "measured coefficient", 0.0, ours, cases.EXAMPLE_MEASURED, room, "W/(m2 K)")
    plate = vertical_nusselt(cases.PLATE_GRASHOF * cases.PLATE_PRANDTL, cases.PLATE_PRANDTL)
    yield Point(PLATE, "Nu of a vertical plate", 0.0, plate, cases.PLATE_NUSSELT, 0.5, "1")


def _others() -> Iterator[Point]:
    for reynolds in cases.ZUKAUSKAS:
        theirs, ours = float(Nu_cylinder_Zukauskas(Re=reynolds, Pr=0.707)), crossflow_nusselt(reynolds, 0.707)
        room = against_limits(ours, MOVING[1] * ours, MOVING[2] * ours, theirs)
        yield Point(ZUKAUSKAS, f"Nu in cross flow, Re {reynolds:g}", reynolds, ours, theirs, room, "1")
    for wall in cases.walls():
        of = f"wall of {wall.height:g} m, {wall.surface:g} °C"
        ours = convection_coefficient(wall.height, wall.surface, 20.0)
        yield Point(
            HT_WALL,
            f"{of}, convection",
            0.0,
            ours,
            wall.convection,
            cases.AIR_IN_A_COEFFICIENT * wall.convection,
            "W/(m2 K)",
        )
        ours = radiation_coefficient(0.9, wall.surface, 20.0)
        yield Point(HT_WALL, f"{of}, radiation", 0.0, ours, wall.radiation, 0.005, "W/(m2 K)")
    for t in cases.AIR:
        kelvin = t + 273.15
        theirs = float(ATMOSPHERE_1976.thermal_conductivity(kelvin))
        what = f"air, {t:g} °C"
        yield Point(
            ATMOSPHERE,
            f"{what}, conductivity",
            0.0,
            air.conductivity(t),
            theirs,
            cases.CONDUCTIVITY_OF_AIR * theirs,
            "W/(m K)",
        )
        density = 101325.0 * 28.9644e-3 / (8.31446 * kelvin)
        theirs = 1e6 * float(ATMOSPHERE_1976.viscosity(kelvin)) / density
        ours = 1e6 * air.kinematic_viscosity(t)
        yield Point(
            ATMOSPHERE, f"{what}, kinematic viscosity", 0.0, ours, theirs, cases.VISCOSITY_OF_AIR * theirs, "mm2/s"
        )
    for t in cases.WATER:
        theirs = iapws_conductivity(t)
        what = f"water, {t:g} °C, conductivity"
        yield Point(R15, what, 0.0, water_conductivity(t), theirs, cases.WATER_CLAIMED * theirs, "W/(m K)")
    for freedom, factor in cases.student_factors():
        what = f"Student's factor, {freedom} degrees of freedom"
        yield Point(GUM_T, what, 0.0, student_factor(freedom), factor, 0.005, "1")


def _programmed() -> Iterator[Point]:
    for reynolds, prandtl in cases.CROSS_FLOWS:
        theirs = float(Nu_cylinder_Churchill_Bernstein(Re=reynolds, Pr=prandtl))
        what = f"formula, cross flow, Re {reynolds:g}, Pr {prandtl:g}"
        yield Point(HT, what, 0.0, crossflow_nusselt(reynolds, prandtl), theirs, 1e-9 * theirs, "1")
    for rayleigh, prandtl in cases.PLATES:
        theirs = float(Nu_vertical_plate_Churchill(Pr=prandtl, Gr=rayleigh / prandtl))
        what = f"formula, plate, Ra {rayleigh:g}, Pr {prandtl:g}"
        yield Point(HT, what, 0.0, vertical_nusselt(rayleigh, prandtl), theirs, 1e-9 * theirs, "1")


def model() -> Model:
    """All of them."""
    points = [*_examples(), *_others()]
    curve = sampled(
        "ours, Pr 0.707",
        spread_by_factors(100.0, 3e5),
        lambda reynolds: crossflow_nusselt(reynolds, 0.707),
        limits=lambda reynolds: (
            MOVING[1] * crossflow_nusselt(reynolds, 0.707),
            MOVING[2] * crossflow_nusselt(reynolds, 0.707),
        ),
    )
    shown = [p for p in points if p.source is ZUKAUSKAS]
    shown += [p._replace(x=cases.EXAMPLE_REYNOLDS) for p in points if p.what.startswith("Nu of a cylinder")]
    return Model(
        "convection",
        "Cooling and convection",
        "service/chemistry/standing_loss.py, moving_air.py, air.py, bath.py, cooling_fit.py: Churchill & Chu 1975, "
        "Churchill & Bernstein 1977",
        "air -60 to 200 °C, Re 0.2 to 1e7; vertical walls of any height",
        "a quarter less to a half more of the convection",
        "No measured cooling of a filled vessel was at hand: coefficients are held, times are not. One measured "
        "coefficient stands here, from memory.",
        "",
        [*points, *_programmed()],
        [Panel("Reynolds number", "Nusselt number, cross flow", [curve], marked(shown), log_x=True, log_y=True)],
    )
