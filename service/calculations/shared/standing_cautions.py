"""Cautions that say the same in every answer that needs them, built once.

An answer takes them over as they are: `notes.tell(*HANDLING)`. What depends on the request is told by the
notes of its calculation.
"""

from typing import Final

from service.calculations.shared.cautions import Caution, CautionCode, Severity, caution
from service.calculations.shared.messages import AlkaliName
from service.chemistry.ranges import ROUNDING

IRRITANT: Final = 0.005
CORROSIVE: Final = 0.02
STRONGLY_CORROSIVE: Final = 0.05
"""Mass fractions from which NaOH solutions are Skin Irrit. 2, Skin Corr. 1B and 1A [-] (mixed: Regulation (EC)
1272/2008, Annex VI, index 011-002-00-6). KOH is taken alike, from memory. From 2 % on, US household packages are
child-resistant (16 CFR 1700.14(a)(5))."""
HAZARDOUS_WASTE: Final = 0.001
"""Mass fraction near which a solution reaches pH 12.5 [-] (computed): 0.032 mol/kg of hydroxide are 0.13 % NaOH and
0.18 % KOH."""

BURNS: Final = caution(
    "alkali-burns",
    "Caustic burns skin and eyes within seconds. Wear goggles, gloves and long sleeves, and have an eye wash or "
    "running water within 10 seconds' reach.",
)
RINSE: Final = caution(
    "rinse-with-water",
    "On skin or in eyes: take off what is soaked, brush dry alkali off, and rinse with running water at once, at least "
    "30 min (eye washes are built for 15 min). No vinegar or other acid. Swallowed: rinse the mouth, and do not "
    "vomit. Get medical help at once, and follow the safety data sheet.",
)
LOCAL_CODES: Final = caution(
    "local-codes-first",
    "This is a calculation. Local codes, licensed practice and the supplier's safety data sheet come first.",
)
SOLID_INTO_WATER: Final = caution(
    "solid-into-water",
    "Strew solid alkali into cold water or cool stock, in small portions, stirring. Never pour water onto solid "
    "alkali, nor stock: it boils at once and spatters.",
)
MIST: Final = caution(
    "caustic-mist",
    "Dissolving gives off dust, steam and mist that carry caustic (limit 2 mg/m3): do it under an extractor or in the "
    "open, and keep your face away.",
)
METALS: Final = caution(
    "metals-attacked",
    "No aluminium, magnesium, zinc, galvanised steel, tin, chromium, copper, brass or bronze, nor in taps, lids and "
    "tools: caustic attacks them, and aluminium, zinc and tin give off hydrogen, which ignites.",
)
CHILDREN: Final = caution(
    "keep-from-children",
    "Label it with content, strength and date, lock it away from children, under a child-resistant cap (US households: "
    "from 2 %), and never keep it in a bottle for food or drink.",
)
STORE: Final = caution(
    "store-closed",
    "Store it closed, once it is cool: each gram of carbon dioxide from the air takes 1.8 g of NaOH or 2.5 g of KOH, "
    "and water that dries off makes it stronger.",
)
WASTE: Final = caution(
    "caustic-waste",
    "From pH 12.5, about 0.1 %, rests and spills may be hazardous waste: use them up, or hand them over as local rules "
    "say. Do not pour acid on them.",
)

STANDING: Final[frozenset[CautionCode]] = frozenset(
    (
        *(one.code for one in (BURNS, RINSE, LOCAL_CODES, SOLID_INTO_WATER, METALS, CHILDREN, STORE, WASTE)),
        "acid-heats-caustic",
        "budget-incomplete",
        "cooling-unstirred",
        "end-points-indistinct",
        "ethanol-ignites",
        "free-alkali-limits",
        "heat-lost-unknown",
        "heater-control",
        "heater-sheath",
        "heater-surface-hot",
        "hot-vessel",
        "hydrometer-counts-all",
        "sample-clear-and-mixed",
        "sheet-for-each-batch",
        "soap-still-reacts",
        "tongue-is-no-assay",
    )
)
"""Codes of what stands in so many answers that whoever works with them has read it.

They read the same, but for a figure, in all answers to the question. How far the heater is covered, and where it ends
when its thermostat fails, is found for the tank that was asked about, so those codes are not among them.
"""
HANDLING: Final = (BURNS, RINSE, LOCAL_CODES)
"""For whoever weighs or pours caustic."""
DISSOLVING: Final = (SOLID_INTO_WATER, MIST)
"""For whoever dissolves it for a batch."""


def _of_solution(alkali: AlkaliName, words: str, severity: Severity, lowest: float) -> Caution:
    """That a solution burns, from which strength on, and by which class."""
    return caution(
        "alkali-burns",
        f"From {lowest * 100:g} % {alkali} on a solution {words}. Wear goggles and gloves, and rinse splashes with "
        "much water at once.",
        severity,
        "Regulation (EC) 1272/2008, Annex VI, index "
        + ("011-002-00-6" if alkali == "NaOH" else "019-002-00-8 (from memory)"),
    )


_IRRITATES: Final = "irritates skin and eyes (Skin Irrit. 2, Eye Irrit. 2)"
_BURNS: Final = "burns skin and eyes (Skin Corr. 1B)"
_BURNS_AT_ONCE: Final = "burns skin and eyes severely (Skin Corr. 1A)"

_SOLUTIONS: Final[dict[AlkaliName, tuple[tuple[Caution, ...], ...]]] = {
    alkali: (
        (_of_solution(alkali, _IRRITATES, "caution", IRRITANT), LOCAL_CODES),
        (_of_solution(alkali, _BURNS, "danger", CORROSIVE), CHILDREN, LOCAL_CODES, STORE),
        (_of_solution(alkali, _BURNS_AT_ONCE, "danger", STRONGLY_CORROSIVE), CHILDREN, LOCAL_CODES, STORE),
    )
    for alkali in ("NaOH", "KOH")
}


def reaches(strength: float, threshold: float) -> bool:
    """Whether a strength is at a threshold of the cautions or above, however it was said: 2 % by its density is 2 %.

    Args:
        strength: mass fraction of hydroxide, or by how much it is off over what it should be.
        threshold: likewise.
    """
    return strength + ROUNDING >= threshold


def of_solution(alkali: AlkaliName, strength: float) -> tuple[Caution, ...]:
    """What stands with a solution that somebody has: that it burns, and how it is kept.

    Args:
        alkali: its hydroxide.
        strength: mass fraction of hydroxide.
    """
    if not reaches(strength, IRRITANT):
        return ()
    weak, strong, strongest = _SOLUTIONS[alkali]
    if not reaches(strength, CORROSIVE):
        return weak
    return strongest if reaches(strength, STRONGLY_CORROSIVE) else strong
