"""The line on which ice is the first solid: thermodynamics of dilute solutions, and a plot."""

from collections.abc import Iterator

from service.chemistry.freezing import first_solid
from service.chemistry.molar_masses import Alkali
from tests.proof.opinions import pitzer
from tests.proof.opinions.records import NONE, Excepted, Opinion, Point, Region, steps

CRC = "CRC Handbook of Chemistry and Physics, 102nd ed. (2021), depressions of the freezing point"
WANG = (
    (0.0217, -1.3),
    (0.0406, -2.9),
    (0.0569, -4.5),
    (0.0758, -6.7),
    (0.0934, -8.5),
    (0.1096, -10.9),
    (0.1259, -13.3),
    (0.1408, -16.0),
)
"""Mass fraction and temperature [°C]: the ice line of Wang et al. 2008, read off a plot in absorptionlib 1.1.0."""


def _point(alkali: Alkali, w: float, theirs: float) -> Point:
    """With that limit of ours which lies on their side."""
    ours = first_solid(alkali, w)
    reach = ours.temperature - ours.low if theirs < ours.temperature else ours.high - ours.temperature
    return Point(w, 0.0, ours.temperature, reach, theirs)


def _thermodynamic(alkali: Alkali, highest: float, number: int) -> tuple[Point, ...]:
    return tuple(
        _point(alkali, pitzer.mass_fraction(alkali, m), pitzer.freezing_point(alkali, m))
        for m in steps(0.1, highest, number)
    )


def opinions() -> Iterator[Opinion]:
    """Of both hydroxides."""
    their = (
        "Pitzer and Mayorga 1973 at 25 °C, {}carried to the freezing point with Laliberté's heat capacities of water, "
        "and the heat of fusion of IAPWS; {}"
    )
    yield Opinion(
        name="ice-line-naoh-pitzer",
        quantity="first solid, ice from caustic soda",
        unit="°C",
        our_source=CRC + " (to 14 %); beyond, Wang et al. 2008 as below",
        their_source=their.format("slopes of Silvester and Pitzer 1978, ", "to 5.5 mol/kg"),
        shared="nothing",
        points=_thermodynamic("NaOH", 5.5, 55),
        curves=NONE,
        explanation="Within 0.01 K to 1 mol/kg, 0.5 % of the depression at 1.5 mol/kg and 2.7 % at 3 mol/kg, theirs "
        "lower. From 11 to 18 % theirs falls away from ours, by 0.4 K to 3.8 K, and our lower limit with it. Which is "
        "nearer is open: below -12 °C theirs carries slopes of 25 °C over 40 K without a term of the third order, and "
        "its eutectic at 18.8 % would lie at -32 °C, where -28 °C is known (Pickering 1893); ours beyond 14 % is a "
        "plot whose weaker points lie too high.",
        checks=pitzer.checks("NaOH"),
        coded_here=True,
    )
    yield Opinion(
        name="ice-line-koh-pitzer",
        quantity="first solid, ice from caustic potash",
        unit="°C",
        our_source=CRC + " (to 7 %); beyond, a parabola to a eutectic from memory",
        their_source=their.format("", "to 5.5 mol/kg"),
        shared="nothing",
        points=_thermodynamic("KOH", 5.5, 55),
        curves=NONE,
        explanation="From 1 to 7 % theirs is 1.6 to 3.5 % of the depression lower, where the same programme follows "
        "NaOH to 0.5 %: the table is as if its solutions held 3 % less KOH than it says, as its densities are. Our "
        "lower limit reaches as far since. Beyond 10 % theirs is higher than the parabola, within its wide limits.",
        checks=pitzer.checks("KOH"),
        coded_here=True,
    )
    yield Opinion(
        name="ice-line-naoh-wang",
        quantity="first solid, ice from caustic soda",
        unit="°C",
        our_source=CRC + " (to 14 %)",
        their_source="Wang et al. 2008 (Cellulose Fiber Dissolution in Sodium Hydroxide Solution at Low Temperature, "
        "as the package absorptionlib 1.1.0 quotes it, which digitised the plot; where it appeared is not known)",
        shared="nothing to 14 %",
        points=tuple(_point("NaOH", w, t) for w, t in WANG),
        curves=NONE,
        explanation="The plot lies 0.6 to 1.1 K higher.",
        excepted=(
            Excepted(
                (Region((0.0, 0.15), (0.0, 0.0)),),
                "read to 1 K: its line begins at 0.27 % NaOH with 0.0 °C; at 2.2 % it would need an osmotic "
                "coefficient of 0.63, where 0.92 to 0.93 is known (Pitzer and Mayorga 1973)",
            ),
        ),
    )
