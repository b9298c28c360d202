"""What a titration of stock says beside its numbers: cautions of carbonate and of sampling, and its steps."""

from typing import Final

from service.calculations.assays.titration_readings import Acid
from service.calculations.shared.cautions import degrees
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes, percent, points
from service.calculations.shared.standing_cautions import LOCAL_CODES, of_solution
from service.calculations.shared.thresholds import above
from service.calculations.stock.solution_steps import explain_density
from service.calculations.stock.solutions import ROOM, SOLUBILITY
from service.chemistry import density, molar_masses, water
from service.chemistry.titration import (
    LABELLED_AT,
    Assay,
    Sample,
    Titration,
    assay,
    carbonate_amount,
    hydroxide_amount,
)

CARBONATE_NAME: Final[dict[AlkaliName, str]] = {"NaOH": "Na2CO3", "KOH": "K2CO3"}
HIGHEST_CARBONATE: Final[dict[AlkaliName, float]] = {"NaOH": 0.33, "KOH": 0.53}
"""Mass fractions at which water is saturated with carbonate [-], the highest up to 40 °C: 49.7 g of Na2CO3 in 100 g of
water at 35 °C, 112 g of K2CO3 at 20 °C (CRC Handbook, solubilities; from memory)."""
FRESH_CARBONATE: Final[dict[AlkaliName, float]] = {"NaOH": 0.03, "KOH": 0.035}
"""Most carbonate that solid may bring for each mass of its total alkali [-] (seen-reprint: JECFA and USP, Sodium
Hydroxide; USP-NF, Potassium Hydroxide)."""
CARBONATE_SETTLES_FROM: Final = 0.4
"""Mass fraction of NaOH from which sodium carbonate hardly dissolves [-] (laboratory practice for 50 %, from
memory)."""
WEAK_ACID: Final = 300.0
"""Protons per volume [mol/m3] below which the second end point, seen at pH 4.3, comes late by about 0.1 % of the alkali
of a 50 % stock, or more, in 100 mL of water (computed from the balance of charges)."""
DENSITY_ROOM: Final = 0.03
"""Relative room of a density that is given [-]: 50 % NaOH grows by 0.047 % for each kelvin (International Critical
Tables, in Perry; from memory), which is 2 % up to 60 °C, and hydrometers of workshops are off by some thousandths."""
WARM: Final = 40.0
"""Temperature [°C] of a sample from which a word is due (from memory)."""
HOT_SAMPLE: Final = 60.0
"""Temperature [°C] from which glass may crack, as of a hydrometer (from memory)."""
HARDLY_KNOWN: Final = 0.02
"""Half-width of the strength, over the strength, that moves a superfat by two points (a choice of this service)."""
BLURRED: Final = 0.01
"""Half-width that carbonate alone makes of the strength, over the strength, that moves a superfat by a point (a choice
of this service)."""
MOSTLY: Final = 0.7
"""Part of a half-width that brings half of its variance (a choice of this service)."""
HARDLY: Final = 0.005
"""Mass fraction of Na2CO3 that such a stock may hold without word of it (a choice of this service)."""


def millilitres(volume: float) -> str:
    """A volume for a message.

    Args:
        volume: the volume [m3].
    """
    return f"{volume * 1e6:.6g} mL"


def caution_assay(
    alkali: AlkaliName, found: Assay, carbonate_half: float, notes: Notes, *, by_volume: bool, normality: float
) -> None:
    """Everything that whoever titrates a stock, or draws by what was found, should know.

    Args:
        alkali: its hydroxide.
        found: what the titration found.
        carbonate_half: 95 % half-width of the carbonate.
        notes: where the cautions go.
        by_volume: whether the density of the sample was found from its strength.
        normality: protons for each volume of the acid [mol/m3].
    """
    w, carbonate, name = found.hydroxide, found.carbonate, CARBONATE_NAME[alkali]
    notes.tell(*of_solution(alkali, w), LOCAL_CODES)
    _caution_carbonate(alkali, found, carbonate_half, notes)
    notes.caution(
        "acid-heats-caustic",
        "Put the sample into much cold water, boiled to drive carbon dioxide off, before acid comes to it: strong "
        "caustic and acid spatter. Goggles and gloves, and no pipette by mouth. Acid and indicator never go into the "
        "stock.",
    )
    notes.caution(
        "end-points-indistinct",
        "The first end point fades slowly. Add the acid cold, slowly and swirling: where it is in excess carbon "
        "dioxide escapes, and the hydroxide comes out too high. Barium chloride before the acid tells the hydroxide "
        "better.",
    )
    if normality < WEAK_ACID:
        notes.caution(
            "end-points-indistinct",
            "With acid so weak the second end point comes late: with 0.1 mol/L in 100 mL of water, hydroxide comes out "
            "0.3 % of itself too low and the carbonate 0.3 percentage points too high. Take acid of about 1 mol/L, or "
            "take off what the same water alone needs.",
        )
    notes.caution(
        "sample-clear-and-mixed",
        "Sample a stock that is clear and colourless, liquid throughout and mixed, stirred before each draw, and close "
        "it at once. One to two months closed is as long as many keep it; after that, assay again.",
    )
    if by_volume:
        notes.caution(
            "stock-by-weight-only",
            f"A weighed sample is surer: of a volume the density must be known, and here it rests on a model, with the "
            f"carbonate ({percent(carbonate, 2)} {name}) counted as hydroxide.",
            "note",
        )


def caution_spread(found: Assay, half_width: float, blur: tuple[float, float], notes: Notes) -> None:
    """Say so where a strength is hardly known, and where that is the carbonate's doing.

    Args:
        found: what the titration found.
        half_width: 95 % half-width of the hydroxide.
        blur: share of its acid by which carbonate lets the first end point be off, and that half-width by it alone.
        notes: where the cautions go.
    """
    w, (room, blurred) = found.hydroxide, blur
    if half_width > HARDLY_KNOWN * w:
        known = percent(half_width / w) if half_width < w else "100 % and more"
        mend = "Take a sample for 20 to 40 mL of acid, a finer burette, or the mean of several."
        if blurred > MOSTLY * half_width:
            mend = "Most of that is the carbonate's doing, and no finer burette mends it."
        notes.caution(
            "strength-hardly-known",
            f"The strength is known to {known} of itself only, and a superfat moves by as many percentage points. "
            f"{mend}",
        )
    if blurred > BLURRED * w:
        notes.caution(
            "end-points-blurred",
            f"{percent(1 - w / found.total_alkali)} of the alkali is carbonate: phenolphthalein then fades up to "
            f"{percent(room)} of its acid early or late, whatever the burette: to 95 % the strength is open by "
            f"{percent(blurred / w)} of itself. Precipitate the carbonate with barium chloride first, or take a pH "
            "meter and the steepest fall.",
        )


def caution_hot_sample(t: float, notes: Notes) -> None:
    """Say that a stock is not measured out warm.

    Args:
        t: temperature of the stock when it was measured out [°C].
        notes: where the caution goes.
    """
    notes.caution(
        "glass-may-crack",
        f"At {degrees(t)} caustic burns faster, may crack cold glass, and spatters where acid meets it; a pipette "
        "holds its volume at 20 °C (68 °F). Let the closed sample cool to the room, or weigh it.",
        "danger" if above(t, HOT_SAMPLE) else "caution",
    )


def caution_density(alkali: AlkaliName, found: Assay, given: float, notes: Notes) -> None:
    """Say so where a density that was given is not that of the strength found with it.

    Args:
        alkali: the hydroxide.
        found: what the titration found.
        given: density that was given [kg/m3].
        notes: where the caution goes.
    """
    due = density.density(alkali, min(found.hydroxide + found.carbonate, SOLUBILITY[alkali]), ROOM)
    if abs(given / due - 1) > DENSITY_ROOM:
        notes.caution(
            "density-contradicts",
            f"A stock of {percent(found.hydroxide)} {alkali} weighs about {due / 1000:.3f} kg/L at 20 °C (68 °F), and "
            f"{given / 1000:.4g} kg/L was given. Check density, volumes and molarity, or weigh the sample: one of them "
            "is off, or the stock holds something else.",
        )


def _caution_carbonate(alkali: AlkaliName, found: Assay, carbonate_half: float, notes: Notes) -> None:
    """What the carbonate tells of the stock."""
    w, carbonate, name = found.hydroxide, found.carbonate, CARBONATE_NAME[alkali]
    fresh = FRESH_CARBONATE[alkali]
    if carbonate > fresh * found.total_alkali:
        lost = found.total_alkali - w
        notes.caution(
            "carbonate-taken-up",
            f"{percent(carbonate, 2)} {name} is more than the {percent(fresh * found.total_alkali, 2)} that fresh "
            f"solid may bring ({percent(fresh)} of its total alkali). Carbon dioxide from the air, or of old solid, "
            f"has taken {percent(lost, 2)} {alkali}. Keep it closed; as long as it is drawn from, go by the strength "
            "found here, not by the label.",
        )
    if carbonate_half and carbonate <= carbonate_half:
        notes.caution(
            "below-detection",
            f"The carbonate cannot be told from none: {percent(carbonate, 2)} {name}, give or take "
            f"{points(carbonate_half)}.",
        )
    elif alkali == "NaOH" and w >= CARBONATE_SETTLES_FROM and carbonate > HARDLY:
        notes.caution(
            "carbonate-settles",
            f"So strong a stock hardly dissolves Na2CO3: of the {percent(carbonate, 2)} found, most was sediment in "
            "the sample. Let it settle, sample and draw the clear part; that is stronger than found here.",
        )
    elif alkali == "NaOH" and carbonate > HIGHEST_CARBONATE[alkali] * (1 - w):
        notes.caution(
            "carbonate-settles",
            f"Water dissolves Na2CO3 to {percent(HIGHEST_CARBONATE[alkali])} at most, and less beside NaOH: of the "
            f"{percent(carbonate, 2)} found, some was sediment in the sample. Let it settle, sample and draw the clear "
            "part; that is stronger than found here.",
        )


def explain_assay(
    alkali: AlkaliName, acid: Acid, titration: Titration, measured: tuple[Sample, float | None], notes: Notes
) -> None:
    """The steps, so that a person can redo them by hand.

    Args:
        alkali: its hydroxide.
        acid: the acid.
        titration: its end points.
        measured: the sample, and the temperature of one by volume whose density was found [°C].
        notes: where the steps go.
    """
    sample, temperature = measured
    found = assay(alkali, titration, sample)
    oh, co3 = hydroxide_amount(titration), carbonate_amount(titration)
    hydroxide, carbonate = molar_masses.ALKALI[alkali] * 1000, molar_masses.CARBONATE[alkali] * 1000
    explain_acid(acid, notes)
    volumes = {
        "normality": (titration.normality / 1000, "mol/L"),
        "first": (titration.first * 1e6, "mL"),
        "second": (titration.second * 1e6, "mL"),
    }
    two_points = "phenolphthalein: hydroxide and half the carbonate; methyl orange: all (ASTM E291)"
    notes.step("hydroxide", "normality * (2 * first - second) / 1000", volumes, (oh, "mol"), two_points)
    notes.step("carbonate", "normality * (second - first) / 1000", volumes, (co3, "mol"), two_points)
    if sample.volume:
        _explain_volume(alkali, (oh, co3), sample, temperature, notes)
    masses = {"mass": (sample.mass * 1000, "g")}
    for name, amount, molar_mass, result in (
        ("strength", oh, hydroxide, found.hydroxide),
        ("carbonate mass fraction", co3, carbonate, found.carbonate),
    ):
        inputs = {"amount": (amount, "mol"), "molar_mass": (molar_mass, "g/mol")} | masses
        notes.step(name, "amount * molar_mass / mass", inputs, (result, "1"), "definition")
    for name, molar_mass, result in (
        ("total alkali fraction", hydroxide, found.total_alkali),
        ("oxide fraction", molar_masses.OXIDE[alkali] * 500, found.oxide),
    ):
        inputs = {
            "normality": volumes["normality"],
            "second": volumes["second"],
            "molar_mass": (molar_mass, "g/mol"),
        } | masses
        source = "definition; of an oxide, half a mole for each mole of hydroxide"
        notes.step(name, "normality * second / 1000 * molar_mass / mass", inputs, (result, "1"), source)
    strength = {"strength": (found.hydroxide, "1")}
    notes.step("draw factor", "1 / strength", strength, (1 / found.hydroxide, "1"), "definition")


def explain_acid(acid: Acid, notes: Notes) -> None:
    """The protons that the burette delivers."""
    notes.step(
        "normality of the acid",
        "molarity * protons * water / water_at_label",
        {
            "molarity": (acid.molarity / 1000, "mol/L"),
            "protons": (float(acid.protons), "1"),
            "water": (water.density(acid.temperature) / 1000, "kg/L"),
            "water_at_label": (water.density(LABELLED_AT) / 1000, "kg/L"),
        },
        (acid.normality / 1000, "mol/L"),
        "labelled at 20 °C; expands as water, Kell 1975",
    )


def _explain_volume(
    alkali: AlkaliName, amounts: tuple[float, float], sample: Sample, temperature: float | None, notes: Notes
) -> None:
    """The mass of a sample by volume; a density that was found fits the strength that it gives."""
    rho = sample.density / 1000
    if temperature is not None:
        oh, co3 = amounts
        solute = oh * molar_masses.ALKALI[alkali] + co3 * molar_masses.CARBONATE[alkali]
        notes.step(
            "hydroxide and carbonate, for the density",
            "(hydroxide * molar_mass + carbonate * carbonate_molar_mass) / (volume * density)",
            {
                "hydroxide": (oh, "mol"),
                "molar_mass": (molar_masses.ALKALI[alkali] * 1000, "g/mol"),
                "carbonate": (co3, "mol"),
                "carbonate_molar_mass": (molar_masses.CARBONATE[alkali] * 1000, "g/mol"),
                "volume": (sample.volume * 1e6, "mL"),
                "density": (rho, "kg/L"),
            },
            (solute / sample.mass, "1"),
            "found by trying: the density of the next step is that of this strength, carbonate counted as hydroxide",
        )
        explain_density(alkali, solute / sample.mass, temperature, notes)
    notes.step(
        "mass of the sample",
        "volume * density",
        {"volume": (sample.volume * 1e6, "mL"), "density": (rho, "kg/L")},
        (sample.mass * 1000, "g"),
        "definition",
    )
