"""What an assay of soap says beside its numbers: cautions of free alkali and of reworking, and its steps."""

from typing import Final, NamedTuple

from service.calculations.assays.stock_assay_titration_notes import explain_acid
from service.calculations.assays.titration_readings import Acid
from service.calculations.batch.acids import HEAT_OF_NEUTRALISATION
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes, percent, points
from service.calculations.shared.standing_cautions import BURNS, IRRITANT, LOCAL_CODES, RINSE, reaches
from service.calculations.stock.unfit import caution_unfit_soap
from service.chemistry import molar_masses, water
from service.chemistry.titration import LABELLED_AT

TOILET_SOAP_LIMIT: Final = 0.0005
"""Free caustic alkali, as NaOH, that standards of toilet soap allow [-]: IS 2888 and EAS 186 0.05 %, GB/T 2485 0.10 %
(from memory; in none of them could the table itself be read, and the ISO methods set no limit)."""


class SoapTitration(NamedTuple):
    """What was titrated, and with what."""

    sample_mass: float
    """[kg]"""
    acid: Acid
    acid_volume: float
    """[m3]"""
    base_molarity: float = 0.0
    """Of what was titrated back with, as labelled [mol/m3]; 0 where nothing was."""
    base_normality: float = 0.0
    """Hydroxide for each volume of it delivered [mol/m3]."""
    base_volume: float = 0.0
    """[m3]"""

    @property
    def put_in(self) -> float:
        """Protons put in [mol]."""
        return self.acid.normality * self.acid_volume

    @property
    def taken_back(self) -> float:
        """Hydroxide titrated back [mol]."""
        return self.base_normality * self.base_volume


class Batch(NamedTuple):
    """A batch to neutralise."""

    mass: float
    """[kg]"""
    acid: str
    """Name of the acid."""
    takes: float
    """Hydroxide that one mass of the acid takes [mol/kg]."""
    acid_per_alkali: float
    """Mass of the acid for each mass of free alkali."""
    poisonous: bool


def told_from_none(share: float, half_width: float) -> bool:
    """Whether a titration finds any free alkali: whether the lower end of its interval is above nothing.

    Args:
        share: mass fraction of free alkali.
        half_width: its 95 % half-width.
    """
    return share > half_width


def caution_soap(alkali: AlkaliName, method: str, free: tuple[float, float], batch: Batch | None, notes: Notes) -> None:
    """Everything that whoever tests a soap, or reworks it, should know.

    Args:
        alkali: what the free alkali is told as.
        method: the method of the titration.
        free: mass fraction of free alkali, and the 95 % half-width of it.
        batch: the batch to neutralise, if one is.
        notes: where the cautions go.
    """
    share, half_width = max(0.0, free[0]), free[1] + min(0.0, free[0])
    _caution_method(alkali, method, notes)
    _caution_amount(alkali, method, share, half_width, notes)
    caution_unfit_soap(alkali, (share, half_width), notes)
    notes.caution(
        "free-alkali-limits",
        "Standards of toilet soap allow about 0.05 to 0.1 % free caustic alkali as NaOH (from memory; ask for the one "
        "of your market). A sample tells of its batch only where that was mixed evenly: take it from several places.",
    )
    notes.caution(
        "tongue-is-no-assay",
        "Never test soap with the tongue: caustic burns it, and soap that does not bite may still be caustic. An "
        "indicator on the bar is no assay either.",
    )
    notes.caution(
        "soap-still-reacts",
        "Young soap goes on reacting, and its free alkali falls for days to weeks: assay it when it is cured, and "
        "again before reworking it.",
    )
    notes.tell(LOCAL_CODES)
    if told_from_none(share, half_width):
        if batch is not None:
            _caution_batch(share * batch.mass / molar_masses.ALKALI[alkali], batch, notes)
    elif half_width:
        asked = " There is nothing that acid should be added for." if batch is not None else ""
        notes.caution(
            "below-detection",
            f"The free alkali cannot be told from none: {percent(share, 3)} {alkali}, give or take "
            f"{points(half_width, 3)}.{asked} Titrate more soap, or with weaker acid.",
        )


def _caution_method(alkali: AlkaliName, method: str, notes: Notes) -> None:
    """What the method itself may do to whoever works it, or to its result."""
    hot = "boils under a reflux condenser, with acid in it" if method == "total-free" else "is warmed with the soap"
    notes.caution(
        "ethanol-ignites",
        f"Ethanol {hot}: its vapour ignites. Use a water bath or a closed hot plate, no flame near, under an "
        "extractor, with goggles and gloves. Acid and ethanol splash: rinse with much water.",
    )
    if alkali == "KOH" and method == "free-caustic":
        notes.caution(
            "end-points-indistinct",
            "The ethanol method is one for sodium soaps: ISO 456 titrates potassium soaps after barium chloride. A "
            "potash soap brings water, in which carbonate may be counted with the caustic: too high a figure.",
            basis="ISO 456:1973 (abstract read)",
        )


def _caution_amount(alkali: AlkaliName, method: str, share: float, half_width: float, notes: Notes) -> None:
    """What so much free alkali does."""
    as_soda = molar_masses.NAOH / molar_masses.ALKALI[alkali]
    highest = (share + half_width) * as_soda
    if highest <= TOILET_SOAP_LIMIT:
        return
    told = f"up to {percent(highest, 3)} as NaOH{', carbonate counted with it' if method == 'total-free' else ''}"
    if reaches(share * as_soda, IRRITANT):
        notes.caution(
            "free-alkali-in-soap",
            f"So much free alkali ({told}) irritates skin and eyes, and from 2 % on it burns them (Regulation (EC) "
            "1272/2008). Nobody may wash with it; do not sell it. Handle it with gloves and goggles.",
            "danger",
        )
        notes.tell(BURNS, RINSE)
    else:
        notes.caution(
            "free-alkali-in-soap",
            f"More free alkali than toilet soap may hold, or it cannot be excluded ({told}; allowed is about 0.05 %). "
            "Do not use or sell it before it has cured and a new assay is sound.",
        )


def _caution_batch(amount: float, batch: Batch, notes: Notes) -> None:
    """How a batch is reworked, and with how much heat."""
    notes.caution(
        "rebatch-with-care",
        "Reworking a caustic batch is for trained persons only, with goggles, gloves and long sleeves, in a vessel "
        "with room for foam: hot caustic soap spatters. Assay the whole again, and sell nothing before that is sound.",
    )
    notes.caution(
        "acid-splits-soap",
        f"Dissolve the {batch.acid} in cold water, and begin with the lower end of its mass, in portions, stirring: "
        "beyond the free alkali it splits soap into fatty acids, and carbonate foams. Then assay again.",
    )
    if batch.poisonous:
        notes.caution(
            "acid-splits-soap",
            f"{batch.acid[0].upper()}{batch.acid[1:]} is poisonous, and soap goes onto skin: neutralise it with "
            "another acid.",
            "danger",
        )
    heat = amount * HEAT_OF_NEUTRALISATION / 1000
    if heat:
        told = f"{heat:.0f}" if heat >= 10 else f"{heat:.2g}"
        notes.caution(
            "acid-heats-caustic",
            f"Acid and free alkali react at once and give off about {told} kJ, most of it where the acid goes in. "
            "Never strew dry or pour strong acid into it.",
        )


def explain_soap(
    alkali: AlkaliName,
    titration: SoapTitration,
    free: tuple[float, float],
    reworked: tuple[Batch | None, bool],
    notes: Notes,
) -> None:
    """The steps, so that a person can redo them by hand.

    Args:
        alkali: what the free alkali is told as.
        titration: what was titrated, and with what.
        free: amount of free alkali in the sample [mol], and its mass fraction.
        reworked: the batch to neutralise, if one is, and whether there is anything to neutralise.
        notes: where the steps go.
    """
    amount, share = free
    batch, neutralised = reworked
    acid = titration.acid
    molar_mass = (molar_masses.ALKALI[alkali] * 1000, "g/mol")
    explain_acid(acid, notes)
    inputs = {"normality": (acid.normality / 1000, "mol/L"), "volume": (titration.acid_volume * 1e6, "mL")}
    notes.step("acid put in", "normality * volume / 1000", inputs, (titration.put_in, "mol"), "definition")
    if titration.base_normality:
        notes.step(
            "acid left over",
            "molarity * water / water_at_label * volume / 1000",
            {
                "molarity": (titration.base_molarity / 1000, "mol/L"),
                "water": (water.density(acid.temperature) / 1000, "kg/L"),
                "water_at_label": (water.density(LABELLED_AT) / 1000, "kg/L"),
                "volume": (titration.base_volume * 1e6, "mL"),
            },
            (titration.taken_back, "mol"),
            "labelled at 20 °C; expands as water, Kell 1975",
        )
    notes.step(
        "free alkali of the sample",
        "acid - left_over",
        {"acid": (titration.put_in, "mol"), "left_over": (titration.taken_back, "mol")},
        (amount, "mol"),
        "ISO 456 (free caustic alkali) and ISO 684 (total free alkali)",
    )
    inputs = {"amount": (amount, "mol"), "molar_mass": molar_mass, "mass": (titration.sample_mass * 1000, "g")}
    notes.step("free alkali", "amount * molar_mass / mass", inputs, (share, "1"), "definition")
    if batch is None:
        return
    in_batch = share * batch.mass
    inputs = {"free_alkali": (share, "1"), "batch": (batch.mass * 1000, "g")}
    notes.step("free alkali of the batch", "free_alkali * batch", inputs, (in_batch * 1000, "g"), "definition")
    if not neutralised:
        return
    notes.step(
        "acid to neutralise",
        "free_alkali / molar_mass / takes * 1000",
        {"free_alkali": (in_batch * 1000, "g"), "molar_mass": molar_mass, "takes": (batch.takes, "mol/kg")},
        (in_batch * batch.acid_per_alkali * 1000, "g"),
        f"{batch.acid}: hydroxide that a kilogram of it takes, by its protons, molar mass and content",
    )
