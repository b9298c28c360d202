"""POST /v1/stock-assay/titration: the strength of a stock by titration with acid, to two end points."""

from typing import Annotated, ClassVar, Final

from msgspec import UNSET, Meta, UnsetType

from service.calculations.assays.stock_assay_titration_examples import EXAMPLES
from service.calculations.assays.stock_assay_titration_notes import (
    CARBONATE_NAME,
    HIGHEST_CARBONATE,
    WARM,
    caution_assay,
    caution_density,
    caution_hot_sample,
    caution_spread,
    explain_assay,
    millilitres,
)
from service.calculations.assays.stock_titration_entries import (
    MeasuredStock,
    blur_of,
    density_of,
    half_width_of,
    molarity_of,
    stock_entries,
)
from service.calculations.assays.titration_budget import Budget, budget_of, explain_spread
from service.calculations.assays.titration_readings import TitrationRequest, acid_of, caution_exact, limits_of
from service.calculations.mixing.stock_mixing import StrengthFigure
from service.calculations.registry import Calculation, Link
from service.calculations.shared.given import Density, Mass, MeasuredVolume, Temperature, Volume
from service.calculations.shared.messages import Answer, Strength
from service.calculations.shared.notes import Notes, percent
from service.calculations.shared.rules import ExactlyOne, NeverWith, OnlyWith, Rule
from service.calculations.shared.thresholds import above
from service.calculations.shared.told import DensityFigure, FractionFigure, MolarityFigure, RatioFigure
from service.calculations.stock.draw_factor import draw_factor
from service.calculations.stock.label import caution_off_label, labelled
from service.calculations.stock.solutions import COLDEST, HOTTEST, ROOM, SOLUBILITY, SOLUBILITY_REASON
from service.calculations.stock.stock_age import Age, caution_age
from service.calculations.stock.unfit import caution_carbonated, caution_no_stock
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import ALKALI, CARBONATE, OXIDE
from service.chemistry.titration import Assay, Sample, Titration, assay, measured, measured_at, sensitivities, weighed
from service.chemistry.uncertainty import coverage_half_width

WATER: Final = 1e-4
"""Water that a sample is put into [m3] (a choice of this service)."""


class StockTitrationRequest(TitrationRequest, kw_only=True):
    """A sample of stock, and the acid that it took to two end points."""

    sample_mass: Annotated[Mass, Meta(description="Mass of stock that was titrated.", examples=["2.05 g"])] | None = (
        None
    )
    sample_volume: (
        Annotated[
            MeasuredVolume, Meta(description="Volume of stock that was titrated, at `temperature`.", examples=["2 mL"])
        ]
        | None
    ) = None
    density: (
        Annotated[
            Density,
            Meta(description="Density of the stock as it was measured out; without it, it follows from the strength."),
        ]
        | None
    ) = None
    temperature: (
        Annotated[Temperature, Meta(description="Of the stock when it was measured out, 0 to 100 °C; default 20 °C.")]
        | None
    ) = None
    first_end_point: Annotated[
        MeasuredVolume,
        Meta(description="Acid to the first end point (phenolphthalein), from the start.", examples=["25.30 mL"]),
    ]
    second_end_point: Annotated[
        MeasuredVolume,
        Meta(
            description="Acid to the second end point (methyl orange or bromocresol green), from the start.",
            examples=["25.45 mL"],
        ),
    ]
    water_volume: (
        Annotated[
            Volume,
            Meta(
                description="Water that the sample was put into; it takes acid of its own, by which the second end "
                "point is late. Default 100 mL.",
                examples=["100 mL"],
            ),
        ]
        | None
    ) = None
    labelled_strength: (
        Annotated[Strength, Meta(description="What the label of the stock says; a caution tells where it is off.")]
        | None
    ) = None
    age: Age | None = None

    rules: ClassVar[tuple[Rule, ...]] = (
        ExactlyOne(("sample_mass", "sample_volume")),
        OnlyWith("density", ("sample_volume",)),
        OnlyWith("temperature", ("sample_volume",)),
        OnlyWith("scale_division", ("sample_mass",)),
        NeverWith(
            "temperature",
            ("density",),
            "a density that is given holds for the sample as it was measured out, at whatever temperature",
            "leave temperature out, or the density",
        ),
    )


class StockTitrationAnswer(Answer):
    """What the stock holds."""

    strength: Annotated[
        StrengthFigure, Meta(description="Pure hydroxide beside the carbonate; what a batch is reckoned with.")
    ]
    carbonate_mass_fraction: Annotated[
        FractionFigure, Meta(description="Na2CO3 or K2CO3 per mass of stock; it makes no soap of fats.")
    ]
    total_alkali_fraction: Annotated[
        FractionFigure, Meta(description="Hydroxide and carbonate, counted as hydroxide, as certificates state it.")
    ]
    oxide_fraction: Annotated[FractionFigure, Meta(description="The same, counted as Na2O or K2O.")]
    draw_factor: Annotated[RatioFigure, Meta(description="Mass of this stock that holds a mass of pure hydroxide.")]
    budget: Budget
    density: (
        Annotated[
            DensityFigure,
            Meta(
                description="Density that was reckoned with, where the sample was a volume; the interval has room for "
                "the carbonate, and is wider than 95 %."
            ),
        ]
        | UnsetType
    ) = UNSET
    molarity: (
        Annotated[MolarityFigure, Meta(description="Hydroxide per volume of stock, where the sample was a volume.")]
        | UnsetType
    ) = UNSET


def calculate(request: StockTitrationRequest, notes: Notes) -> StockTitrationAnswer:
    """The strength of a stock, by titration with acid."""
    alkali = request.alkali
    _check_end_points(request, notes)
    label = labelled(request.labelled_strength, alkali, notes)
    temperature = _temperature(request, notes)
    acid = acid_of(request, notes)
    notes.stop_at_faults()
    if acid is None:
        raise TypeError(acid)  # what makes it missing is a fault, and faults have stopped us
    readings = (request.first_end_point, request.second_end_point)
    limits = limits_of(request, readings, notes, weighed=request.sample_mass is not None)
    titration = Titration(acid.normality, *(one.value for one in readings))
    sample = _sample(request, titration, temperature, notes)
    found = assay(alkali, titration, sample)
    _check_contents(request, found, notes)
    mass, volume, density, water = request.sample_mass, request.sample_volume, request.density, _water(request, notes)
    measured_in = MeasuredStock(alkali, acid, limits, *readings, mass, volume, density, sample, water)
    by_hydroxide, by_carbonate, by_total = sensitivities(alkali, titration, sample)
    entries = stock_entries(measured_in, by_hydroxide)
    combined, budget = budget_of(entries)
    half_width = coverage_half_width(combined)
    carbonate_half = half_width_of(measured_in, by_carbonate)
    total_half = half_width_of(measured_in, by_total)
    w, by_volume = found.hydroxide, sample.volume > 0
    density_found = by_volume and request.density is None
    caution_exact(
        [
            ("acid_molarity", request.acid_molarity),
            ("sample_mass", request.sample_mass),
            ("sample_volume", request.sample_volume),
            ("density", request.density),
        ],
        limits,
        notes,
    )
    caution_assay(alkali, found, carbonate_half, notes, by_volume=density_found, normality=acid.normality)
    caution_spread(found, half_width, blur_of(measured_in, by_hydroxide), notes)
    if request.temperature is not None and above(request.temperature.value, WARM):
        caution_hot_sample(request.temperature.value, notes)
    caution_no_stock(alkali, w, "the amount of the sample and its unit, molarity and protons of the acid", notes)
    caution_carbonated(alkali, w, (found.total_alkali, carbonate_half * 2 * ALKALI[alkali] / CARBONATE[alkali]), notes)
    caution_off_label((w, half_width), label, notes)
    caution_age(request.age, "The strength found here is what to draw by.", notes)
    if request.density is not None:
        caution_density(alkali, found, request.density.value, notes)
    if notes.explain:
        explain_assay(alkali, acid, titration, (sample, temperature if density_found else None), notes)
        explain_spread("the strength", entries, combined, notes)
    strength = FractionFigure.around(w, half_width)
    return StockTitrationAnswer(
        strength=StrengthFigure(mass_fraction=strength),
        carbonate_mass_fraction=FractionFigure.around(found.carbonate, carbonate_half),
        total_alkali_fraction=FractionFigure.around(found.total_alkali, total_half),
        oxide_fraction=FractionFigure.around(found.oxide, total_half * OXIDE[alkali] / (2 * ALKALI[alkali])),
        draw_factor=draw_factor(strength),
        budget=budget,
        density=density_of(measured_in) if by_volume else UNSET,
        molarity=molarity_of(measured_in, titration) if by_volume else UNSET,
    )


def _check_end_points(request: StockTitrationRequest, notes: Notes) -> None:
    """Refuse readings that no caustic gives."""
    first, second = request.first_end_point.value, request.second_end_point.value
    if second < first:
        notes.fault(
            "/second_end_point",
            "contradiction",
            f"the second end point ({millilitres(second)}) lies before the first ({millilitres(first)})",
            "give both volumes from the start of the titration, phenolphthalein first",
        )
    elif 2 * first <= second:
        only = "all of it is carbonate" if 2 * first == second else "there is bicarbonate beside the carbonate"
        notes.fault(
            "/first_end_point",
            "contradiction",
            f"the first end point ({millilitres(first)}) is not past half of the second ({millilitres(second)}), so "
            f"{only}, and no hydroxide",
            "check which indicator each reading is of, and that both are counted from the start; if they are right, "
            "discard the stock",
        )


def _temperature(request: StockTitrationRequest, notes: Notes) -> float:
    """Temperature that the sample was measured out at [°C]."""
    if request.temperature is None:
        if request.sample_volume is not None and request.density is None:
            notes.assume("/temperature", "20 °C", "a workshop's room")
        return ROOM
    t = request.temperature.value
    if not COLDEST <= t <= HOTTEST:
        notes.fault(
            "/temperature",
            "beyond-data",
            f"{t:.4g} °C is outside {COLDEST:g} to {HOTTEST:g} °C, where densities are known",
            "give the density as it was measured, or weigh the sample",
        )
    return t


def _water(request: StockTitrationRequest, notes: Notes) -> float:
    """Water that the sample was put into [m3]."""
    if request.water_volume is not None:
        return request.water_volume.value
    notes.assume("/water_volume", "100 mL", "as much as a flask for titrations takes beside a burette of acid")
    return WATER


def _sample(request: StockTitrationRequest, titration: Titration, temperature: float, notes: Notes) -> Sample:
    """The sample, by its mass or its volume."""
    if request.sample_mass is not None:
        return weighed(request.sample_mass.value)
    volume = request.sample_volume
    if volume is None:
        raise TypeError(volume)  # one of the two is due, and the rules have seen to it
    if request.density is not None:
        return measured(volume.value, request.density.value)
    try:
        return measured_at(request.alkali, titration, volume.value, temperature)
    except OutOfRange:
        raise notes.refuse(
            "/sample_volume",
            "beyond-solubility",
            f"{millilitres(volume.value)} of stock cannot hold as much {request.alkali} as this acid takes",
            f"check the volumes, and molarity and protons of the acid; {SOLUBILITY_REASON[request.alkali]}",
        ) from None


def _check_contents(request: StockTitrationRequest, found: Assay, notes: Notes) -> None:
    """Refuse what no solution holds."""
    alkali = request.alkali
    at = "/sample_mass" if request.sample_mass is not None else "/sample_volume"
    mend = "check the amount of the sample, its unit, and molarity and protons of the acid"
    name, top = CARBONATE_NAME[alkali], HIGHEST_CARBONATE[alkali]
    if found.hydroxide + found.carbonate > 1:
        notes.fault(at, "contradiction", "this acid takes more alkali than the whole sample weighs", mend)
    elif found.hydroxide > SOLUBILITY[alkali] + 1e-9:
        told = f"that would be {percent(found.hydroxide)} {alkali} in the sample: {SOLUBILITY_REASON[alkali]}"
        notes.fault(at, "beyond-solubility", told, f"{mend}; of a solid, titrate a solution of known mass")
    elif found.carbonate > top:
        notes.fault(
            "/first_end_point",
            "beyond-solubility",
            f"that would be {percent(found.carbonate)} {name}, and not even water dissolves more than {percent(top)}",
            "check the two readings, and sample the clear solution above what has settled",
        )
    notes.stop_at_faults()


CALCULATION: Final = Calculation(
    name="stock-assay/titration",
    summary="Strength of a stock by titration",
    description=(
        "For a stock whose strength must be known and not supposed: bought, old, or mixed of solid of unknown purity. "
        "A sample is titrated with acid to two end points, phenolphthalein and then methyl orange or bromocresol "
        "green, both volumes counted from the start. Hydroxide takes 2 V1 - V2, carbonate 2 (V2 - V1). Answers the "
        "strength to draw by, the carbonate, the total alkali, and the whole uncertainty budget.\n\n"
        "Range: NaOH to 52 %, KOH to 50 %. A sample by volume needs no density: the one that the strength itself has "
        "is found, carbonate counted as hydroxide. Of an aliquot, give its share of the sample. Not for solutions of "
        "both hydroxides, nor for silicate or borate; with little carbonate the barium chloride method tells it "
        "better.\n\n"
        "The interval covers the spreads of the readings, of the acid and of the sample; that carbon dioxide escapes "
        "before the first end point, which makes the hydroxide look more, it does not. Readings without a spread get "
        "the limits of a class B burette; both end points are taken as independent, which is the wide side. Carbonate "
        "blurs them, and no finer burette helps: the first may be seen early or late by 7.6 % of the carbonate, the "
        "second by 2.5 % of it, or by what 0.125 mmol/L in water and acid take (computed at pH 8.0 "
        "to 8.6 and 4.0 to 4.6, in acid of up to 1 mol/L). Both are in the interval and in the budget, as limits: of "
        "a stock with a twentieth of its alkali as carbonate that is 0.4 % of the strength, where half of it is, 7 "
        "%. Where it is more than 1 %, `end-points-blurred` says so.\n\n"
        "Sources: ASTM E291 (scope read in a reprint); the equivalents of JECFA, Sodium Hydroxide; budget by JCGM "
        "100:2008 and EURACHEM/CITAC CG 4 (2012), examples A2 and A3; atomic weights of IUPAC/CIAAW 2021; pH by "
        "Pitzer's equations (pitzer.dat of PHREEQC, U.S. Geological Survey); density as in `concentration`."
    ),
    request=StockTitrationRequest,
    answer=StockTitrationAnswer,
    calculate=calculate,
    examples=EXAMPLES,
    links=(
        Link(
            "draw-from-this-stock",
            "liquid-split",
            "How much of the stock, by the strength found, holds 100 g of pure hydroxide.",
            {
                "alkalis": [{"alkali": "$request.body#/alkali", "mass": "100 g"}],
                "stocks": [{"alkali": "$request.body#/alkali", "strength": "$response.body#/strength"}],
            },
        ),
        Link(
            "properties-of-this-stock",
            "concentration",
            "The properties of the stock by the strength found; carbonate is not counted in them.",
            {"alkali": "$request.body#/alkali", "strength": "$response.body#/strength"},
        ),
    ),
)
