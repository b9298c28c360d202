"""Cautions an answer may carry: every code, how grave it is, and what it rests on."""

from typing import Annotated, Final, Literal, NamedTuple, get_args

from msgspec import Meta, Struct

Severity = Literal["note", "caution", "danger"]

CautionCode = Literal[
    "acid-heats-caustic",
    "acid-splits-soap",
    "acid-takes-alkali",
    "acid-unknown",
    "adjustment-within-spread",
    "alcohol-in-batch",
    "alkali-added-late",
    "alkali-burns",
    "aqueous-alkali-hardly-saponifies",
    "assay-after-mixing",
    "batch-may-boil-over",
    "batch-temperature-unusual",
    "bath-into-stock",
    "bath-warms",
    "below-detection",
    "beyond-source-range",
    "boiling-margin-small",
    "boils",
    "budget-incomplete",
    "cake-under-ice",
    "carbon-monoxide",
    "carbonate-settles",
    "carbonate-taken-up",
    "caustic-mist",
    "caustic-waste",
    "change-contradicts-air",
    "close-when-cool",
    "coefficient-extrapolated",
    "composition-from-memory",
    "composition-incomplete",
    "cooling-unstirred",
    "crystallises-in-store",
    "crystals-in-solution",
    "density-contradicts",
    "dissolving-heats",
    "end-points-blurred",
    "end-points-indistinct",
    "ethanol-ignites",
    "fat-note",
    "fats-hot",
    "fats-not-liquid",
    "fats-set",
    "finer-scale-needed",
    "figure-from-memory",
    "figure-limits-assumed",
    "free-alkali-in-soap",
    "free-alkali-limits",
    "free-alkali-left",
    "free-alkali-possible",
    "glass-may-crack",
    "heat-lost-unknown",
    "heater-control",
    "heater-runs-away",
    "heater-sheath",
    "heater-surface-hot",
    "heater-uncovered",
    "hot-vessel",
    "hydrogen",
    "hydrometer-counts-all",
    "ice-bath-melts",
    "ice-left",
    "ice-too-little",
    "ice-path-beyond-data",
    "keep-from-children",
    "label-contradicts",
    "label-needs-assessor",
    "limit-above-boiling",
    "liquid-brings-fat",
    "liquid-counted-whole",
    "local-boiling",
    "local-codes-first",
    "melting-unknown",
    "materials-not-taken",
    "metals-attacked",
    "milk-too-warm",
    "moisture-assumed",
    "not-for-use",
    "price-missing",
    "property-missing",
    "purity-missing",
    "purity-taken-as-exact",
    "reaction-heat-rough",
    "rebatch-with-care",
    "rinse-with-water",
    "sample-clear-and-mixed",
    "saponification-value-taken-as-exact",
    "saponification-value-unusual",
    "sheet-for-each-batch",
    "slip-likely",
    "soap-still-reacts",
    "soap-stings-eyes",
    "sodium-soap-gels",
    "solid-into-water",
    "stock-by-weight-only",
    "stock-got-stronger",
    "stock-got-weaker",
    "stock-hot",
    "stock-old",
    "store-closed",
    "strength-hardly-known",
    "strong-into-weak",
    "superfat-contradicts",
    "superfat-high",
    "tongue-is-no-assay",
    "superfat-within-spread",
    "thin-with-hot-water",
    "thinned-soap-spoils",
    "target-not-sure",
    "time-from-last-reading",
    "temperatures-left-out",
    "thawing-heat-left-out",
    "thawing-heat-rough",
    "uncovered-while-cooling",
    "use-limit-exceeded",
    "vessel-closed",
    "vessel-limit-exceeded",
    "vessel-limit-from-memory",
    "vessel-limit-near",
    "vessel-limit-unknown",
    "vessel-not-given",
    "vessel-too-small",
    "vessel-unsuitable",
    "water-ratio",
    "water-warms-stock",
    "wax-or-resin",
]


class Ground(NamedTuple):
    """How grave a caution is, and what it rests on, where the calculation does not say otherwise."""

    severity: Severity
    basis: str
    meaning: str


_PRACTICE: Final = "common practice"
_CHEMISTRY: Final = "chemistry"
_DATA: Final = "reference data"

GROUNDS: Final[dict[CautionCode, Ground]] = {
    "acid-heats-caustic": Ground(
        "caution",
        "chemistry; about 56 kJ/mol of protons, from memory",
        "Acid and caustic react at once, with heat.",
    ),
    "acid-splits-soap": Ground("note", _CHEMISTRY, "Acid beyond the free alkali splits soap into fatty acids."),
    "acid-takes-alkali": Ground("caution", _CHEMISTRY, "An acid in a liquid takes alkali meant for the fats."),
    "acid-unknown": Ground("caution", _DATA, "A liquid is sour, and how sour is not known."),
    "adjustment-within-spread": Ground(
        "caution", "JCGM 100:2008", "The strength may be as wanted already: what is to be added is within its spread."
    ),
    "alcohol-in-batch": Ground("caution", _PRACTICE, "Alcohol can boil up and make the batter seize."),
    "alkali-added-late": Ground(
        "caution", _PRACTICE, "More alkali for a batch that is made: too much cannot be taken out again."
    ),
    "alkali-burns": Ground(
        "danger",
        "Regulation (EC) 1272/2008, Annex VI (H314); 29 CFR 1910.133, 1910.138(a) and 1910.151(c); ANSI/ISEA "
        "Z358.1 (10 s)",
        "Caustic burns skin and eyes: what to wear, and to have water at hand.",
    ),
    "aqueous-alkali-hardly-saponifies": Ground(
        "caution",
        "British Pharmaceutical Codex 1911, Adeps Lanae; Ph. Eur., White Beeswax",
        "Alkali in water leaves most of this material as it is.",
    ),
    "assay-after-mixing": Ground(
        "note", _PRACTICE, "A stock that was diluted or adjusted is measured again, and labelled anew."
    ),
    "batch-may-boil-over": Ground(
        "danger",
        "estimated from heats of esterification (J. Therm. Anal. Calorim. 139 (2020) 1301) and neutralisation (from "
        "memory)",
        "So warm a batch can boil by the heat of its own reaction, and foam over.",
    ),
    "batch-temperature-unusual": Ground(
        "note", _PRACTICE, "Fats and stock are usually mixed between 29 and 35 °C, and this batch lies outside."
    ),
    "bath-into-stock": Ground(
        "danger", _CHEMISTRY, "Water of the bath that gets into a hot stock heats it and throws it out."
    ),
    "bath-warms": Ground("caution", _CHEMISTRY, "The bath takes up the heat of the stock, and gets warm itself."),
    "below-detection": Ground("note", "JCGM 100:2008", "So little cannot be told from none by this titration."),
    "beyond-source-range": Ground(
        "note",
        _DATA,
        "A model was used beyond the range its source states; a danger where a peak or a margin rests on it.",
    ),
    "boiling-margin-small": Ground("danger", _CHEMISTRY, "The mixing comes close to boiling."),
    "boils": Ground("danger", _CHEMISTRY, "The mixing can boil and throw caustic out of the vessel."),
    "budget-incomplete": Ground(
        "caution", "JCGM 100:2008", "An input came without a spread, so that the interval is too narrow."
    ),
    "cake-under-ice": Ground("danger", _PRACTICE, "Solid that cakes under ice erupts when the ice has gone."),
    "carbon-monoxide": Ground(
        "danger",
        "storage guidance of caustic soda makers (Dow Chemical)",
        "A reducing sugar in a closed caustic container gives carbon monoxide.",
    ),
    "carbonate-settles": Ground(
        "caution", "laboratory practice, from memory", "Strong caustic hardly dissolves sodium carbonate: it settles."
    ),
    "carbonate-taken-up": Ground(
        "caution",
        "JECFA and USP, Sodium Hydroxide (3 %); USP-NF, Potassium Hydroxide (3.5 %)",
        "A stock holds more carbonate than fresh solid brings: it has taken up carbon dioxide.",
    ),
    "caustic-mist": Ground(
        "caution",
        "29 CFR 1910.1000, Table Z-1 (2 mg/m3, 8 h), and the NIOSH ceiling (2 mg/m3), both of NaOH",
        "Steam of hot mixing carries caustic, and is not to be breathed.",
    ),
    "caustic-waste": Ground(
        "note", "40 CFR 261.22 (from pH 12.5: D002)", "Rests and spills of caustic may be hazardous waste."
    ),
    "close-when-cool": Ground(
        "danger", _CHEMISTRY, "A jug capped hot is under pressure first, and then under a vacuum that folds it in."
    ),
    "coefficient-extrapolated": Ground(
        "caution",
        "Bergman et al., Introduction to Heat Transfer, 6th ed., 9.4",
        "The heat-loss coefficient was fitted at other temperatures than those it is used for.",
    ),
    "composition-from-memory": Ground("note", _DATA, "Fatty acids were written down from memory and not verified."),
    "composition-incomplete": Ground("note", _DATA, "The fatty acids of a part of the fats are not known."),
    "cooling-unstirred": Ground(
        "caution", _PRACTICE, "A stock that is not stirred lies in layers: surface, middle and bottom differ."
    ),
    "crystals-in-solution": Ground("caution", _DATA, "The solution is not fully liquid at this temperature."),
    "end-points-blurred": Ground(
        "caution",
        "computed by Pitzer's equations (pitzer.dat of PHREEQC, U.S. Geological Survey)",
        "So much carbonate blurs the first end point of a titration by more than 1 % of the strength, whatever the "
        "burette.",
    ),
    "end-points-indistinct": Ground(
        "note", "chemistry; computed", "Where the two end points of a titration mislead, and what makes them surer."
    ),
    "ethanol-ignites": Ground("danger", _PRACTICE, "Ethanol, warmed to dissolve soap, ignites."),
    "fat-note": Ground("note", _DATA, "What a user of this fat must know."),
    "fats-hot": Ground("danger", _CHEMISTRY, "Fats near 100 °C boil the water that meets them, and throw caustic out."),
    "fats-not-liquid": Ground("caution", _DATA, "A fat is not liquid at the temperature of the batch."),
    "fats-set": Ground(
        "caution",
        "reference data; the heat of melting is from memory",
        "A fat had set when it was weighed: the heat that melts it is not known, and only the lower end counts it.",
    ),
    "finer-scale-needed": Ground(
        "caution", _PRACTICE, "Something weighs less than half a step of the scale that the sheet is made for."
    ),
    "figure-from-memory": Ground("caution", _DATA, "A figure was written down from memory and not verified."),
    "figure-limits-assumed": Ground("note", _DATA, "Only one value is published; its limits are assumed."),
    "density-contradicts": Ground(
        "caution", "densities as in concentration", "A density that was given is not that of the strength found by it."
    ),
    "dissolving-heats": Ground("danger", _CHEMISTRY, "Dissolving dry alkali in little water comes close to boiling."),
    "free-alkali-in-soap": Ground(
        "caution",
        "IS 2888, EAS 186 (0.05 %) and GB/T 2485 (0.10 %), from memory; Regulation (EC) 1272/2008, Annex VI (0.5 %)",
        "A soap holds more free alkali than standards of toilet soap allow; a danger where it irritates.",
    ),
    "free-alkali-limits": Ground(
        "note",
        "IS 2888, EAS 186 and GB/T 2485, all from memory",
        "What standards of toilet soap allow of free alkali, and what a titration does not show.",
    ),
    "free-alkali-left": Ground(
        "danger", _CHEMISTRY, "More alkali went in than fats and acids can take: the soap burns."
    ),
    "free-alkali-possible": Ground("caution", "JCGM 100:2008", "The finished soap may hold free alkali."),
    "glass-may-crack": Ground("danger", "from memory", "Glass cracks where it is heated or cooled suddenly."),
    "heat-lost-unknown": Ground("note", _PRACTICE, "Without a duration the heat lost is only bounded roughly."),
    "hot-vessel": Ground(
        "danger", "ISO 13732-1 (burn thresholds of touched surfaces), from memory", "The vessel is hot enough to burn."
    ),
    "hydrogen": Ground("danger", "Dow Chemical, caustic soda", "This metal gives off hydrogen, which can ignite."),
    "hydrometer-counts-all": Ground(
        "caution", _CHEMISTRY, "A hydrometer cannot tell hydroxide from what else is dissolved."
    ),
    "ice-bath-melts": Ground("caution", _CHEMISTRY, "How much ice a bath needs until the stock is cool."),
    "ice-left": Ground("caution", _CHEMISTRY, "Not all ice melts by the heat of dissolving."),
    "ice-too-little": Ground("danger", _CHEMISTRY, "Even with all of the water as ice the mixing passes its limit."),
    "ice-path-beyond-data": Ground("note", _DATA, "A part of the path lies below the data."),
    "keep-from-children": Ground(
        "caution",
        "16 CFR 1700.14(a)(5) (from 2 %); common practice",
        "Caustic is labelled, locked away, and never in a food container.",
    ),
    "label-contradicts": Ground(
        "caution",
        "JCGM 100:2008; a choice of this service",
        "A stock is not as strong as its label: batches drawn by the label get another superfat.",
    ),
    "label-needs-assessor": Ground(
        "note",
        "the law that was named",
        "A list of ingredients is ordered by one law; whether it holds, others decide.",
    ),
    "limit-above-boiling": Ground(
        "caution", _CHEMISTRY, "The limit lies above boiling, which therefore is what the ice is reckoned for."
    ),
    "liquid-brings-fat": Ground("note", _CHEMISTRY, "A liquid brings fat, which raises the superfat."),
    "liquid-counted-whole": Ground("note", _PRACTICE, "Liquids are counted whole, though part of them is not water."),
    "local-boiling": Ground("caution", _CHEMISTRY, "The whole stays cooler, but undissolved solid boils and spatters."),
    "local-codes-first": Ground(
        "caution", _PRACTICE, "A calculation replaces no local code, no licensed practice and no safety data sheet."
    ),
    "melting-unknown": Ground("note", _DATA, "Where a fat melts is not known, and nothing is guessed."),
    "materials-not-taken": Ground(
        "note", "the materials that were given", "Materials of the shelf are in nothing that is made."
    ),
    "metals-attacked": Ground(
        "caution", "Dow Chemical, caustic soda", "Metals that caustic attacks, in fittings and tools too."
    ),
    "milk-too-warm": Ground("caution", _PRACTICE, "Milk batches stay at or below 38 °C: milk browns and smells."),
    "moisture-assumed": Ground("caution", "USP-NF, Potassium Hydroxide", "Water in the solid alkali is assumed."),
    "not-for-use": Ground(
        "caution",
        "a choice of this service; limits of soap from memory",
        "By this result the stock or the soap is not to be used or sold as it is: discard, rework or relabel it.",
    ),
    "price-missing": Ground("note", "the prices that were given", "A material has no price, and the cost is too low."),
    "property-missing": Ground("note", _DATA, "A property is left out since no data reach there."),
    "purity-missing": Ground("caution", _PRACTICE, "Without a purity the mass to weigh cannot be told."),
    "purity-taken-as-exact": Ground("note", _DATA, "The purity carries no spread in the intervals."),
    "reaction-heat-rough": Ground(
        "note",
        "estimated from heats of esterification (J. Therm. Anal. Calorim. 139 (2020) 1301) and neutralisation (from "
        "memory)",
        "The heat of saponifying is an order of magnitude, and no limit of safety.",
    ),
    "rebatch-with-care": Ground("danger", _PRACTICE, "Reworking a caustic batch is for trained persons, with goggles."),
    "rinse-with-water": Ground(
        "caution",
        "ANSI/ISEA Z358.1 (15 min); New Jersey Hazardous Substance Fact Sheet 1706, 2015 (30 min); from memory: no "
        "acid, and swallowing (P301+P330+P331 of Regulation (EC) 1272/2008)",
        "First aid is much water, and no vinegar.",
    ),
    "sample-clear-and-mixed": Ground(
        "note", _PRACTICE, "A sample tells of a stock that is clear, mixed and kept closed."
    ),
    "saponification-value-taken-as-exact": Ground(
        "note", _DATA, "A certified saponification value carries no spread in the intervals."
    ),
    "saponification-value-unusual": Ground(
        "caution", _CHEMISTRY, "No common fat has this saponification value; 110 to 165 mg/g looks like mg NaOH per g."
    ),
    "sheet-for-each-batch": Ground(
        "note", _PRACTICE, "A plan is no sheet for the bench; each batch has one of its own."
    ),
    "slip-likely": Ground(
        "caution", _CHEMISTRY, "A figure is so far out that a unit, a decimal point, a tare or a draw slipped."
    ),
    "soap-still-reacts": Ground("note", _PRACTICE, "The free alkali of young soap goes on falling."),
    "solid-into-water": Ground("danger", _PRACTICE, "Solid alkali goes into cold water, never water onto it."),
    "stock-by-weight-only": Ground("caution", _PRACTICE, "Stock is weighed, never measured by volume."),
    "stock-got-stronger": Ground(
        "caution", _CHEMISTRY, "Water has dried off: what is drawn brings more alkali than before."
    ),
    "change-contradicts-air": Ground(
        "caution", _CHEMISTRY, "A cool strong stock takes water up from air, so that what is missing was hardly dried."
    ),
    "stock-got-weaker": Ground(
        "caution", _CHEMISTRY, "Water was taken up from the air: what is drawn brings less alkali than before."
    ),
    "stock-old": Ground("caution", _PRACTICE, "The stock has stood longer than many keep one: assay or discard it."),
    "stock-hot": Ground(
        "caution", _PRACTICE, "The stock is too hot to meet fats and liquids; a danger where it boils their water."
    ),
    "store-closed": Ground(
        "note",
        "storage guidance of caustic soda makers (Dow Chemical); computed",
        "Air takes strength from a stock: keep it closed.",
    ),
    "strength-hardly-known": Ground(
        "caution",
        "JCGM 100:2008",
        "A titration leaves the strength so uncertain that batches drawn by it miss superfat.",
    ),
    "strong-into-weak": Ground(
        "caution",
        "common practice; handling guides of caustic soda makers, from memory",
        "The stronger solution is poured into the weaker, or into water, never the other way round.",
    ),
    "superfat-high": Ground("caution", _PRACTICE, "So high a superfat is seldom meant."),
    "superfat-contradicts": Ground("caution", _CHEMISTRY, "Fats, alkali and superfat do not belong together."),
    "tongue-is-no-assay": Ground("caution", _PRACTICE, "Tasting soap is dangerous, and proves nothing."),
    "superfat-within-spread": Ground(
        "note", "JCGM 100:2008", "What is known of the batch does not tell whether anything is to be mended."
    ),
    "soap-stings-eyes": Ground("note", _CHEMISTRY, "Soap is alkaline and stings in the eyes."),
    "sodium-soap-gels": Ground("caution", _PRACTICE, "Soap made with NaOH does not stay liquid when it is thinned."),
    "thin-with-hot-water": Ground("note", _PRACTICE, "How paste is thinned without lumps, and that it scalds."),
    "thinned-soap-spoils": Ground(
        "caution",
        "common practice; Regulation (EC) 1223/2009, Article 10 and Annex I (safety assessment)",
        "Thinned soap may have to be preserved.",
    ),
    "uncovered-while-cooling": Ground(
        "caution", _CHEMISTRY, "An open stock loses water and takes up carbon dioxide while it cools."
    ),
    "use-limit-exceeded": Ground(
        "danger",
        "the limit that was given, as its supplier or a standard states it",
        "More of an addition is in the finished bar than it may hold.",
    ),
    "vessel-closed": Ground("danger", _CHEMISTRY, "A closed vessel builds up pressure while it is mixed in."),
    "vessel-limit-exceeded": Ground("danger", _DATA, "The vessel gets hotter than it stands."),
    "vessel-limit-from-memory": Ground("note", _DATA, "The vessel's temperature limit was not read in a source."),
    "vessel-limit-near": Ground("caution", _PRACTICE, "The vessel gets nearly as hot as it stands."),
    "vessel-limit-unknown": Ground("caution", _DATA, "No temperature limit of the vessel is known."),
    "vessel-not-given": Ground("caution", _DATA, "The mixing gets hotter than many vessels stand."),
    "vessel-too-small": Ground("danger", _CHEMISTRY, "The vessel does not hold the mixing with room for foam."),
    "vessel-unsuitable": Ground("danger", _DATA, "Caustic attacks this material."),
    "crystallises-in-store": Ground("caution", _DATA, "The stock would set in the room where it stands."),
    "heater-control": Ground("danger", _PRACTICE, "A heater needs a thermostat, and a cut-out of its own beside it."),
    "heater-runs-away": Ground(
        "danger", _CHEMISTRY, "Left on, the heater brings the stock beyond what it or the vessel stands."
    ),
    "heater-sheath": Ground(
        "danger",
        "Dow Chemical, caustic soda; for sheaths common practice",
        "Caustic eats through the sheath of a heater of the wrong metal.",
    ),
    "heater-surface-hot": Ground("caution", _PRACTICE, "At the surface of a heater it is hotter than in the liquid."),
    "heater-uncovered": Ground("danger", _PRACTICE, "A heater that comes out of the liquid burns through."),
    "target-not-sure": Ground("caution", _CHEMISTRY, "At an end of what is uncertain the temperature is not reached."),
    "time-from-last-reading": Ground(
        "note",
        "JCGM 100:2008, 5.2",
        "The time counts from the last reading, and is uncertain by what that one is.",
    ),
    "temperatures-left-out": Ground(
        "note", _PRACTICE, "How warm fats and caustic must be is not told for this batch, and why."
    ),
    "thawing-heat-left-out": Ground(
        "caution", _DATA, "The heat that thaws the crystals is not known, and not counted."
    ),
    "thawing-heat-rough": Ground(
        "note",
        "computed from the freezing line (Pickering 1893; Wang et al. 2008) and water activity (Olsson et al. 1997)",
        "The heat that thaws the crystals is known roughly.",
    ),
    "water-ratio": Ground("note", _PRACTICE, "What this ratio of water to alkali is used for."),
    "water-warms-stock": Ground(
        "caution", _CHEMISTRY, "Water poured into the stock warms it; a danger where it can boil at once."
    ),
    "wax-or-resin": Ground("caution", _CHEMISTRY, "Not a glyceride: no glycerol, and part of it takes no alkali."),
}

if set(GROUNDS) != set(get_args(CautionCode)):  # a code without ground would be found only by a caller
    raise RuntimeError("every caution code needs its ground")


class Caution(Struct, frozen=True):
    """Something the caller must know about an answer."""

    code: Annotated[
        CautionCode,
        Meta(
            description="What kind of caution; stable, for programs. Each is listed with its usual severity; an "
            "answer may tell a graver or a milder one."
        ),
    ]
    severity: Annotated[Severity, Meta(description="note, caution or danger, in rising order.")]
    message: Annotated[str, Meta(description="What to know, for a person.", examples=["Weigh the stock."])]
    basis: Annotated[
        str,
        Meta(
            description="What it rests on: a standard, a regulation, reference data, chemistry or common practice.",
            examples=["common practice"],
        ),
    ]


def caution(code: CautionCode, message: str, severity: Severity | None = None, basis: str | None = None) -> Caution:
    """A caution with the severity and basis of its code, unless others are named."""
    ground = GROUNDS[code]
    return Caution(code, severity or ground.severity, message, basis or ground.basis)


def degrees(value: float, decimals: int | None = None, *, apart: bool = False) -> str:
    """A temperature for a message, on both scales: 93 °C (199 °F).

    Args:
        value: the temperature [°C], or a difference of temperatures [K].
        decimals: at most so many; none where it is not given.
        apart: whether it is a difference: 6 K (11 °F).
    """
    fahrenheit = value * 1.8 if apart else value * 1.8 + 32
    if decimals is None:
        return f"{round(value)} {'K' if apart else '°C'} ({round(fahrenheit)} °F)"
    return f"{round(value, decimals) + 0:g} {'K' if apart else '°C'} ({round(fahrenheit, decimals) + 0:g} °F)"
