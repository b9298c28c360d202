"""The words of the trade and of the answers, each explained once, for who has not met it before.

`/words` shows them; messages and descriptions use them without explaining them again.
"""

from typing import Final, NamedTuple


class Word(NamedTuple):
    """A word and what is meant by it here."""

    word: str
    meaning: str
    members: tuple[str, ...] = ()
    """Words of members' names in requests and answers that it explains."""

    @property
    def anchor(self) -> str:
        """Its place on the page."""
        return "".join(letter if letter.isalnum() else "-" for letter in self.word.lower()).strip("-")


WORDS: Final = (
    Word(
        "Adiabatic rise",
        "By how much something would warm if no heat got out. Real pots lose heat, so they stay below it.",
        ("adiabatic", "rise"),
    ),
    Word(
        "Alkali",
        "Sodium hydroxide (NaOH, caustic soda) for bars, or potassium hydroxide (KOH, caustic potash) for soft and "
        "liquid soaps. Both burn skin and eyes.",
        ("alkali", "alkalis"),
    ),
    Word("Ambient", "The temperature of the air in the room.", ("ambient", "surroundings")),
    Word(
        "Assay",
        "A measurement that tells how strong a stock is, or how much alkali a soap still holds free: with acid and an "
        "indicator (titration), with a floating hydrometer, or with a balance.",
    ),
    Word(
        "Assumed",
        "What the calculation took because the request did not say: a purity, a temperature, a wall. Every one is "
        "listed in the answer with its reason.",
        ("assumed", "basis"),
    ),
    Word("Batch", "What is made in one pot at one time.", ("batch", "batches", "lot")),
    Word(
        "Batter",
        "The mixture of fats, alkali and liquid from the pot to the mould. It takes a little less room than its parts.",
        ("batter",),
    ),
    Word(
        "Baumé, degrees",
        "A scale of hydrometers: the denser the liquid, the more degrees. For liquids heavier than water it is "
        "modulus x (1 - 1 / specific gravity); the modulus is 145 in the USA, 144.3 elsewhere.",
        ("baume", "modulus", "degrees"),
    ),
    Word(
        "Boiling margin",
        "How many degrees the hottest moment of a mixing stays below boiling. Positive is safe; near zero, caustic "
        "spits.",
        ("margin", "boils", "boiling", "boiled"),
    ),
    Word(
        "Carbonate",
        "What caustic becomes when it takes carbon dioxide from the air. It makes no soap from fat, yet makes a stock "
        "heavy, so that a hydrometer reads too strong.",
        ("carbonate",),
    ),
    Word(
        "Caution",
        "A warning that belongs to an answer: danger, caution or note. It has a code for programs and a sentence for "
        "people.",
        ("caution", "cautions", "severity", "hazards"),
    ),
    Word(
        "Cure",
        "The weeks on the shelf in which a bar loses water and gets hard. The caustic is used up in its first days.",
        ("cured",),
    ),
    Word(
        "Dead volume",
        "What stays in a tank below its outlet and cannot be drawn.",
        ("dead",),
    ),
    Word(
        "Draw",
        "The mass of stock that a batch takes. The rest of its liquid is added beside it.",
        ("draw", "draws", "drawn", "factor"),
    ),
    Word(
        "Evidence",
        "How a figure is known: seen in the text of its source, from memory, or common practice without a source.",
        ("evidence", "statement", "record"),
    ),
    Word(
        "Fatty acid",
        "The chains that fats are made of. C18:1 has 18 carbon atoms and 1 double bond (oleic acid).",
        ("fatty", "acid", "acids", "carbons", "bonds", "acidity"),
    ),
    Word(
        "First solid",
        "What crystallises first when a liquid cools: ice from a weak stock, a hydrate from a strong one. Below that "
        "temperature a stock sets, and what stays liquid has another strength.",
        ("crystallised", "frozen", "thawing"),
    ),
    Word(
        "Free caustic alkali",
        "Hydroxide that is still in a soap and has not met fat. It burns skin. ISO 456 measures it by titration.",
        ("free", "neutralise"),
    ),
    Word("Glycerol", "Glycerine: what is left of a fat beside its soap. It stays in the bar.", ("glycerol",)),
    Word("Headspace", "Empty room above the liquid in a vessel, for foam and for what heat adds.", ("headspace",)),
    Word(
        "Heat released",
        "The heat that dissolving or thinning caustic gives off. Nothing can stop it; ice only takes it up.",
        ("released", "heat", "energy"),
    ),
    Word(
        "Heat-loss coefficient",
        "How many watts a vessel loses for each degree that it is warmer than what is around it.",
        ("coefficient", "conductivity", "loses", "loss", "thickness", "wall"),
    ),
    Word(
        "Hydrate",
        "A crystal of caustic with water bound in it. Solid KOH always holds some water, which is why its purity must "
        "be given.",
        ("moisture",),
    ),
    Word(
        "Hydrometer",
        "A weighted glass float: the denser the liquid, the higher it swims. It holds for one temperature, printed on "
        "it.",
        ("gravity", "specific"),
    ),
    Word(
        "INCI name",
        "The name of an ingredient as lists on cosmetics have it, such as Sodium Olivate.",
        ("inci", "allergens"),
    ),
    Word(
        "Interval",
        "Where low and high stand beside a value, the true one lies between them in 95 of 100 cases. Plan by the end "
        "that is the unsafe one.",
        ("low", "high", "uncertainty", "budget", "contribution", "contributions", "probability", "sensitivity"),
    ),
    Word(
        "Iodine value",
        "Grams of iodine that 100 g of a fat bind: how many double bonds it has. It says how unsaturated a fat is.",
        ("iodine", "double"),
    ),
    Word("Lye", "Caustic dissolved in water. Here the word stands for it in any strength."),
    Word(
        "Mass as supplied",
        "What is weighed from the bag, with the water and the impurities in it. Plain mass of an alkali means the pure "
        "hydroxide.",
        ("supplied", "purity", "package", "packages", "bag", "bags"),
    ),
    Word(
        "Mass fraction",
        "Mass of one thing in the mass of all: 50 g of NaOH in 100 g of lye is 50 %.",
        ("fraction", "share", "shares", "concentration", "content"),
    ),
    Word(
        "Molality and molarity",
        "Moles of hydroxide per kilogram of water, and per litre of solution. A mole of NaOH is 40.00 g, one of KOH "
        "56.11 g.",
        ("molality", "molarity", "molar", "mole", "protons"),
    ),
    Word(
        "Oxide, total alkali as",
        "The hydroxide and carbonate of a caustic, counted as if they were Na2O or K2O. Data sheets of makers say so.",
        ("oxide",),
    ),
    Word("Paste", "Potassium soap as it comes from the pot, before it is thinned to liquid soap.", ("paste",)),
    Word("Peak temperature", "The hottest moment of a mixing.", ("peak", "highest")),
    Word(
        "Practice, common",
        "What workshops do without a published figure behind it. Such figures are marked so.",
        ("customary",),
    ),
    Word(
        "Saponification",
        "The reaction of fat with alkali to soap and glycerol.",
        ("saponified", "reaction", "soap"),
    ),
    Word(
        "Saponification value",
        "Milligrams of KOH that turn one gram of a fat into soap. For NaOH take 40.00/56.11 of it.",
        ("saponification",),
    ),
    Word("SKU", "The shop's own code of an article. It comes back exactly as it was sent.", ("sku",)),
    Word(
        "Stock",
        "Lye that is mixed ahead and kept in a jug or tank, usually of equal masses of NaOH and water, to be drawn for "
        "many batches.",
        ("stock", "stocks", "existing"),
    ),
    Word(
        "Strength",
        "How much hydroxide a lye holds, in whatever form: mass fraction, water ratio, density, degrees Baumé.",
        ("strength", "solution", "solutions", "diluted", "dilution"),
    ),
    Word(
        "Superfat",
        "Share of the fats that stays fat because too little alkali is taken on purpose. It is the reserve against a "
        "strong stock and a light scale. Negative means free caustic.",
        ("superfat",),
    ),
    Word(
        "Titration",
        "Adding acid of known strength from a burette until an indicator changes colour. Two colour changes tell "
        "hydroxide and carbonate apart.",
        ("titration", "burette", "sample"),
    ),
    Word(
        "Twaddell, degrees",
        "A scale of hydrometers: 200 x (specific gravity - 1).",
        ("twaddell",),
    ),
    Word(
        "Unsaponifiable",
        "The part of a fat or wax that alkali does not turn into soap.",
        ("unsaponifiable",),
    ),
    Word(
        "Vapour pressure",
        "How strongly a liquid gives off water. A strong cold stock takes water from damp air instead.",
        ("vapour", "pressure", "humidity", "evaporated"),
    ),
    Word(
        "Viscosity",
        "How thick a liquid flows: 50 % NaOH at 20 °C is some eighty times as thick as water.",
        ("viscosity",),
    ),
    Word(
        "Water ratio",
        "Mass of everything else in a lye per mass of hydroxide: 1:1 is 50 %, 2:1 is 33.3 %.",
        ("ratio",),
    ),
)
