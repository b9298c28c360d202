"""What a dilution of soap paste says beside its numbers: how it is done, what it needs, and the steps."""

from typing import TYPE_CHECKING, Final

from service.calculations.batch.fat_notes import caution_free_alkali
from service.calculations.batch.paste_batch import Held
from service.calculations.shared.notes import Notes, weight
from service.calculations.shared.standing_cautions import LOCAL_CODES

if TYPE_CHECKING:
    from service.calculations.batch.paste_dilution import PasteDilutionRequest

TRACE: Final = 1e-4
"""Free alkali per paste up to which it is one of rounding and of weighing."""
MOSTLY: Final = 0.5
"""Share of sodium in the alkali, by mass, from which a paste is one of sodium soap."""


def caution_paste(request: "PasteDilutionRequest", found: Held | None, notes: Notes) -> None:
    """Everything the person at the pot should know."""
    notes.tell(LOCAL_CODES)
    notes.caution(
        "thin-with-hot-water",
        "Add the paste to hot water, or hot water to the paste, in portions, and let it stand until no lump is left: "
        "cold paste skins over. Hot soap foams up and scalds.",
    )
    notes.caution(
        "thinned-soap-spoils",
        "Thinned soap holds water in which germs may grow, more so the less soap it holds: a qualified assessor says "
        "whether it has to be preserved, and a soap's pH rules out many preservatives.",
    )
    notes.caution("soap-stings-eyes", "Liquid soap is alkaline and stings in the eyes: rinse with much water.")
    if request.batch is None:
        return
    sodium = sum(one.mass.value for one in request.batch.alkalis if one.alkali == "NaOH")
    whole = sum(one.mass.value for one in request.batch.alkalis)
    if sodium >= MOSTLY * whole:
        notes.caution(
            "sodium-soap-gels",
            "Sodium soap does not stay liquid: thinned, it sets to a gel as it cools. Liquid soap is made with KOH.",
        )
    if found is None:
        return
    free = found.parts.alkali
    if free > TRACE * request.paste_mass.value:
        notes.caution(
            "free-alkali-left",
            f"{weight(free)} of alkali found no fat. Thinned or not, the soap burns skin and eyes: do not use or sell "
            "it. Neutralise it first, and titrate its free alkali.",
        )
    elif found.budget is not None:
        caution_free_alkali(found.budget, notes)


def explain_paste(paste: float, share: float, wanted: float, found: Held | None, notes: Notes) -> None:
    """The steps, so that a person can redo them by hand.

    Args:
        paste: its mass [kg].
        share: of soap in it.
        wanted: share of soap.
        found: what it holds, where its batch is known.
        notes: where the steps go.
    """
    if found is not None:
        parts = found.parts
        notes.step(
            "share of soap in the paste",
            "soap / paste",
            {"soap": (parts.soap * 1000, "g"), "paste": (paste * 1000, "g")},
            (share, "1"),
            "soap: fat that was saponified and the hydroxide that did it, less the glycerol of esters and the water of "
            "free acids",
        )
        notes.step(
            "water evaporated",
            "all_in - paste",
            {"all_in": ((paste + found.evaporated) * 1000, "g"), "paste": (paste * 1000, "g")},
            (found.evaporated * 1000, "g"),
            "conservation of mass; what has gone is taken to be water",
        )
    notes.step(
        "water to add",
        "paste * (share / wanted - 1)",
        {"paste": (paste * 1000, "g"), "share": (share, "1"), "wanted": (wanted, "1")},
        (paste * (share / wanted - 1) * 1000, "g"),
        "mass balance of the soap",
    )
