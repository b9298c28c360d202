"""Strengths by hydrometer, and the scales."""

from typing import Final

from service.chemistry import hydrometer, strength
from service.chemistry.density import density, density_half_width
from tests.proof.report.models.works import DOW, HALF_DIGIT, SIMMONS
from tests.proof.report.plot import Panel, Points
from tests.proof.report.records import Evidence, Model, Point, Source
from tests.proof.report.sampling import marked, sampled, spread
from tests.reference_cases.outside import read_table
from tests.reference_cases.strength_published import HALF_STOCK, OXIDES

BAUME: Final = SIMMONS._replace(
    label="Simmons & Appleton 1908, Baumé",
    where="Appendix A: degrees Twaddell, degrees Baumé and specific gravity",
    tolerance=HALF_DIGIT,
    note="one row is left out as a misprint; the scale is a definition",
    is_same_formula=True,
)
ICT_STOCK: Final = Source(
    "ICT 1928, stock",
    "E. W. Washburn (ed.)",
    "International Critical Tables 3",
    "1928",
    "density of 50 % NaOH at 20 °C, 1.5253, by hand to other forms",
    Evidence.MEMORY,
    "0.25 %, the interval that the service tells of the density",
)
OXIDE: Final = DOW._replace(
    label="oxide by weights",
    where="100 % NaOH is 77.5 % Na2O; further digits by hand on the atomic weights",
    tolerance=HALF_DIGIT,
    is_same_formula=True,
)
TWADDELL: Final = "degrees Twaddell"


def _half_width(degrees: float) -> float:
    """What the interval of the density makes of a strength [% NaOH]."""
    w = strength.mass_fraction_from_degrees_twaddell("NaOH", degrees)
    t = strength.SIXTY_FAHRENHEIT
    per_percent = (density("NaOH", w + 1e-3, t) - density("NaOH", max(w - 1e-3, 0.0), t)) / 0.2
    return density_half_width("NaOH", w, t) / per_percent


def _percent(degrees: float) -> float:
    return 100 * strength.mass_fraction_from_degrees_twaddell("NaOH", degrees)


def model() -> Model:
    """NaOH by degrees Twaddell, the Baumé scale, and forms of a stock."""
    points, scale = [], []
    for row in read_table("caustic_soda_strength_1908.csv"):
        degrees, printed = float(row["twaddell"]), float(row["percent_naoh"])
        points.append(
            Point(SIMMONS, f"{degrees:g} °Tw", degrees, _percent(degrees), printed, _half_width(degrees), "% NaOH")
        )
    for row in read_table("baume_twaddell_1908.csv"):
        degrees = float(row["twaddell"])
        gravity = hydrometer.specific_gravity_from_degrees_twaddell(degrees)
        ours = hydrometer.degrees_baume_from_specific_gravity(gravity, 144.3)
        scale.append(Point(BAUME, f"{degrees:g} °Tw", degrees, ours, float(row["baume"]), 0.05, "°Bé"))
    forms = [
        Point(
            OXIDE,
            f"pure {alkali} as oxide",
            0.0,
            strength.oxide_fraction_from_mass_fraction(alkali, 1.0),
            factor,
            5e-5,
            "1",
        )
        for alkali, factor in OXIDES.items()
    ]
    molarity, concentration = HALF_STOCK
    forms += [
        Point(
            ICT_STOCK,
            "50 % NaOH, molarity",
            100.0,
            strength.molarity_from_mass_fraction("NaOH", 0.5, 20.0) / 1e3,
            molarity,
            0.0025 * molarity,
            "mol/L",
        ),
        Point(
            ICT_STOCK,
            "50 % NaOH, grams in a litre",
            100.0,
            strength.mass_concentration_from_mass_fraction("NaOH", 0.5, 20.0),
            concentration,
            0.0025 * concentration,
            "g/L",
        ),
    ]
    curve = sampled("ours", spread(0.5, 105.0), _percent, _half_width)
    told = [point.tolerance for point in points if point.source is SIMMONS]
    apart = Points("ours less printed", [p.x for p in scale], [p.deviation for p in scale])
    return Model(
        "strength",
        "Strength by hydrometer",
        "service/chemistry/strength.py and hydrometer.py: densities of 60 °F; the Baumé scale with modulus 144.3",
        "densities of NaOH 0 to 55 %, KOH 0 to 50 %",
        f"that of the density, {min(told):.1f} to {max(told):.1f} % NaOH, and of the reading",
        "No table of readings warmer than 60 °F was at hand, and none for KOH.",
        TWADDELL,
        [*points, *scale, *forms],
        [
            Panel(TWADDELL, "% NaOH", [curve], marked(points), "Caustic soda at 60 °F", height=220.0),
            Panel(TWADDELL, "°Bé", [], [apart], "Baumé scale with modulus 144.3, ours less printed", height=160.0),
        ],
    )
