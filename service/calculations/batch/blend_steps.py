"""The steps of the temperature of a batch: what each part brings, the balance at each end, the fats, the reaction."""

from typing import Final

from service.calculations.batch.blend_runs import HEAT_OF_SAPONIFICATION, ROUGHLY, Ends, Runs
from service.calculations.mixing.heat_steps import AGREES, REST, explain_ice_heat, explain_solution, explain_water
from service.calculations.shared.notes import Notes
from service.calculations.stock.solution_steps import ZERO
from service.chemistry import molar_masses
from service.chemistry.batch_blend import meet
from service.chemistry.enthalpy import Strength, at_strength
from service.chemistry.food_heat import FAT, Dry, Heat, heat_of
from service.chemistry.mixing_records import Stock
from service.reference import tables

_TABLE: Final = tables.read("choi_okos_1986.csv")
_FAT: Final = _TABLE.select(component="fat")
_FOODS: Final = "Y. Choi and M. R. Okos 1986, as printed in ASHRAE Handbook - Refrigeration (SI) 2006, ch. 9, Table 1"
_BALANCE: Final = "balance of enthalpies, nothing lost; heat capacities are means from 25 °C to what it comes to"
_KILO: Final = 1000.0
SHARES: Final = (("none", 0.0), ("all", 1.0))
"""How much of the heat of dilution is counted, by name."""

Inputs = dict[str, tuple[float, str]]


def explain_blend(
    runs: Runs,
    found: Ends | None,
    wanted: tuple[Ends | None, float | None],
    reaction: tuple[Ends, float],
    notes: Notes,
) -> None:
    """Write the steps down.

    Args:
        runs: the batch.
        found: its temperature, where it is told [°C].
        wanted: how warm the fats must be, where that is asked, and the temperature that is wanted [°C].
        reaction: rise by saponifying [K], and the temperature it starts from [°C].
        notes: where they go.
    """
    _brought(runs, found is not None, notes)
    _thinned(runs, notes)
    if found is not None:
        for name, share in SHARES:
            _temperature(runs, name, share, notes)
        _ends(runs, found, notes)
    needed, t = wanted
    if needed is not None and t is not None:
        _needed(runs, needed, t, notes)
    _reaction(runs, reaction, notes)


def _fat_enthalpy(t: float) -> tuple[str, Inputs]:
    """The equation of a fat's enthalpy, and what goes into it."""
    inputs: Inputs = {"t": (t, "°C"), **{f"c{k}": (one, "kJ/(kg K)") for k, one in enumerate(_FAT)}}
    return "(c0 * (t - 25) + c1 * (t**2 - 625) / 2 + c2 * (t**3 - 15625) / 3)", inputs


def _brought(runs: Runs, fats: bool, notes: Notes) -> None:
    """What each part brings, and the sum."""
    blend = runs.blend
    heats: dict[str, float] = {}
    for number, one in enumerate(blend.fats, start=1):
        expression, inputs = _fat_enthalpy(one.temperature)
        heat = one.mass * FAT.enthalpy(one.temperature) / _KILO
        notes.step(
            f"heat of fat {number}",
            f"mass * {expression}",
            {"mass": (one.mass, "kg"), **inputs},
            (heat, "kJ"),
            f"{_FOODS}; as a liquid; zero at 25 °C",
        )
        heats[f"fat{number}"] = heat
    explain_solution(blend.alkali, Stock(*blend.stock[:3]), "stock", notes)
    own = at_strength(blend.alkali, blend.stock.mass_fraction)
    heats["stock"] = blend.stock.mass * own.enthalpy(blend.stock.temperature) / _KILO
    for number, (liquid, content) in enumerate(zip(runs.liquids, blend.liquids, strict=True), start=1):
        name = f"{liquid.liquid.id} {number}"
        if content.ice:
            explain_ice_heat(content.ice, content.temperature, f"ice in {name}", notes)
        else:
            explain_water(content.water, content.temperature, f"water in {name}", notes)
        _dry(content.dry, content.temperature, name, notes)
        heats[f"liquid{number}"] = blend.liquid_heat(content) / _KILO
    total = blend.brought if fats else blend.beside
    notes.step(
        "heat of all parts" if fats else "heat of stock and liquids",
        " + ".join(heats),
        {name: (heat, "kJ") for name, heat in heats.items()},
        (total / _KILO, "kJ"),
        "sum of what the parts bring; a liquid's is that of its water or ice and of what else it holds",
    )


def _dry(dry: Dry, t: float, name: str, notes: Notes) -> None:
    """The heat of what a liquid holds beside its water, by its coefficients."""
    heat = heat_of(dry)
    if not any(heat):
        return
    columns: list[list[float]] = [[], [], []]
    held = {what: mass for what, mass in zip(Dry._fields, dry, strict=True) if mass}
    for what in held:
        one = heat_of(Dry(**{what: 1.0}))
        for column, figure in zip(columns, one, strict=True):
            column.append(figure / _KILO)
    for power, column in enumerate(columns, start=1):
        notes.step(
            f"coefficient {power} of what else {name} holds",
            " + ".join(f"{what} * c_{what}" for what in held),
            {what: (mass, "kg") for what, mass in held.items()}
            | {f"c_{what}": (figure, "kJ/kg") for what, figure in zip(held, column, strict=True)},
            (heat[power - 1] / _KILO, "kJ"),
            f"{_FOODS}, each coefficient over its power plus one; composition in the catalogue; ethanol from memory",
        )
    notes.step(
        f"heat of what else {name} holds",
        "h1 * (t - 25) + h2 * (t**2 - 625) + h3 * (t**3 - 15625)",
        {"t": (t, "°C"), **{f"h{power}": (one / _KILO, "kJ") for power, one in enumerate(heat, start=1)}},
        (heat.enthalpy(t) / _KILO, "kJ"),
        REST,
    )


def _thinned(runs: Runs, notes: Notes) -> None:
    """The strength of the thinned stock, and the heat of thinning it."""
    blend = runs.blend
    stock, water = blend.stock, blend.water
    notes.step(
        "strength of the thinned stock",
        "stock * strength / (stock + water)",
        {"stock": (stock.mass, "kg"), "strength": (stock.mass_fraction, "1"), "water": (water, "kg")},
        (blend.thinned, "1"),
        "mass balance; only the water of the liquids thins it",
    )
    before = at_strength(blend.alkali, stock.mass_fraction).at_25
    after = at_strength(blend.alkali, blend.thinned).at_25
    released = stock.mass * before - (stock.mass + water) * after + runs.acid_heat
    notes.step(
        "heat of dilution",
        "stock * before - (stock + water) * after + acids",
        {
            "stock": (stock.mass, "kg"),
            "before": (before / _KILO, "kJ/kg"),
            "water": (water, "kg"),
            "after": (after / _KILO, "kJ/kg"),
            "acids": (runs.acid_heat / _KILO, "kJ"),
        },
        (released / _KILO, "kJ"),
        "enthalpies at 25 °C, as in stock-dilution; acids of the liquids with 56 kJ/mol (from memory)",
    )


def _capacity(runs: Runs, t: float, name: str, share: float, notes: Notes) -> float:
    """The mean heat capacity of the whole from 25 °C to a temperature [J/K]."""
    blend = runs.blend
    dry = [heat_of(one.dry) for one in blend.liquids]
    dry_mean = sum(_mean(one, t) for one in dry)
    inputs: Inputs = {
        "fats": (blend.fat_mass, "kg"),
        "c_fats": (_mean(FAT, t) / _KILO, "kJ/(kg K)"),
        "dry": (dry_mean / _KILO, "kJ/K"),
        "stock": (blend.stock.mass, "kg"),
        "water": (blend.water, "kg"),
    }
    terms = ["fats * c_fats + dry"]
    own, plain, thin = (at_strength(blend.alkali, w) for w in (blend.stock.mass_fraction, 0.0, blend.thinned))
    if share:
        terms.append("(stock + water) * c_thinned")
        inputs["c_thinned"] = (_mean(thin, t) / _KILO, "kJ/(kg K)")
        of_stock = (blend.stock.mass + blend.water) * _mean(thin, t)
    else:
        terms.append("stock * c_stock + water * c_water")
        inputs["c_stock"] = (_mean(own, t) / _KILO, "kJ/(kg K)")
        inputs["c_water"] = (_mean(plain, t) / _KILO, "kJ/(kg K)")
        of_stock = blend.stock.mass * _mean(own, t) + blend.water * _mean(plain, t)
    capacity = blend.fat_mass * _mean(FAT, t) + dry_mean + of_stock
    notes.step(
        f"mean heat capacity from 25 °C, with {name} of the heat of dilution",
        " + ".join(terms),
        inputs,
        (capacity / _KILO, "kJ/K"),
        f"fats and what else the liquids hold (dry): {_FOODS}; stock and water as concentration explains them",
    )
    return capacity


def _mean(of: Heat | Strength, t: float) -> float:
    """Heat capacity in the mean from 25 °C to a temperature [J/(kg K), or J/K]."""
    if abs(t - ZERO) < AGREES:
        return of.capacity(t) if isinstance(of, Heat) else of.heat_capacity(t)
    at_25 = 0.0 if isinstance(of, Heat) else of.at_25
    return (of.enthalpy(t) - at_25) / (t - ZERO)


def _at_25(runs: Runs, share: float) -> tuple[float, Inputs, str]:
    """Enthalpy of the whole at 25 °C [J], what goes into it, and the equation."""
    blend = runs.blend
    before = blend.stock.mass * at_strength(blend.alkali, blend.stock.mass_fraction).at_25
    after = (blend.stock.mass + blend.water) * at_strength(blend.alkali, blend.thinned).at_25
    released = before - after + runs.acid_heat
    inputs: Inputs = {"stock_at_25": (before / _KILO, "kJ")}
    expression = "stock_at_25"
    if share:
        inputs |= {"released": (released / _KILO, "kJ")}
        expression = "stock_at_25 - released"
    return before - share * released, inputs, expression


def _temperature(runs: Runs, name: str, share: float, notes: Notes) -> None:
    """The temperature at one share of the heat of dilution."""
    blend = runs.blend
    met = meet(blend, share)
    what = f"temperature with {name} of the heat of dilution"
    if met.ice:
        melted = blend.enthalpy(0.0, share)
        notes.step(
            f"ice left with {name} of the heat of dilution",
            "(melted - heat) / fusion",
            {
                "melted": (melted / _KILO, "kJ"),
                "heat": (blend.brought / _KILO, "kJ"),
                "fusion": (blend.heat_of_fusion / _KILO, "kJ/kg"),
            },
            (met.ice, "kg"),
            "the whole at 0 °C with all ice melted holds more heat than there is, so that it stays at 0 °C",
        )
        return
    at_25, inputs, expression = _at_25(runs, share)
    capacity = _capacity(runs, met.temperature, name, share, notes)
    notes.step(
        what,
        f"25 + (heat - ({expression})) / capacity",
        {"heat": (blend.brought / _KILO, "kJ"), "capacity": (capacity / _KILO, "kJ/K"), **inputs},
        (ZERO + (blend.brought - at_25) / capacity, "°C"),
        _BALANCE,
    )


def _ends(runs: Runs, found: Ends, notes: Notes) -> None:
    """The value and both ends."""
    none, every = runs.uncapped
    own, thinned = runs.boiling_points
    apart, together = runs.half_width(none, 0.0), runs.half_width(every, 1.0)
    notes.step(
        "temperature",
        "min(all, boiling_point)",
        {"all": (every, "°C"), "boiling_point": (thinned, "°C")},
        (found.value, "°C"),
        "all of the heat of dilution is counted; capped where the thinned stock boils",
    )
    inputs: Inputs = {
        "none": (none, "°C"),
        "all": (every, "°C"),
        "width_of_none": (apart, "K"),
        "width_of_all": (together, "K"),
        "value": (found.value, "°C"),
    }
    low, high = "min(none - width_of_none, all - width_of_all, value", "max(none + width_of_none, all + width_of_all"
    lower, upper = dict(inputs), {name: one for name, one in inputs.items() if name != "value"}
    if runs.set_fats:
        lower["melting"] = (runs.melting, "°C")
        low += ", melting - width_of_none"
    if runs.held_back:
        upper["warm"] = (meet(runs.blend, 1.0, runs.held_back).temperature, "°C")
        high += ", warm + width_of_all"
    widths = (
        "half-widths are the 95 % of models (fats and other food 5 %, free fatty acids more above 50 °C), weighings, "
        "thermometers and strength"
    )
    notes.step(
        "lower end of the temperature",
        f"{low})",
        lower,
        (found.low, "°C"),
        f"{widths}; melting: with the most heat that set fats may take",
    )
    upper |= {"boiling_point": (own, "°C"), "value": inputs["value"]}
    notes.step(
        "upper end of the temperature",
        f"max(value, min({high}), boiling_point))",
        upper,
        (found.high, "°C"),
        f"{widths}; warm: with what may not have been ice; capped where the stock boils",
    )


def _needed(runs: Runs, needed: Ends, t: float, notes: Notes) -> None:
    """How warm the fats must be, with all of the heat of dilution."""
    blend = runs.blend
    at_25, inputs, expression = _at_25(runs, 1.0)
    beside = blend.enthalpy(t, 1.0) - blend.fat_mass * FAT.enthalpy(t) - at_25
    rest = beside / (t - ZERO) if abs(t - ZERO) > AGREES else 0.0
    due = (blend.enthalpy(t, 1.0) - blend.beside) / blend.fat_mass
    notes.step(
        "enthalpy of the fats that is due",
        f"({expression} + rest * (wanted - 25) - beside) / fats + wanted_fat",
        {
            **inputs,
            "rest": (rest / _KILO, "kJ/K"),
            "wanted": (t, "°C"),
            "beside": (blend.beside / _KILO, "kJ"),
            "fats": (blend.fat_mass, "kg"),
            "wanted_fat": (FAT.enthalpy(t) / _KILO, "kJ/kg"),
        },
        (due / _KILO, "kJ/kg"),
        "balance at the wanted temperature; rest: mean heat capacity from 25 °C of all but the fats; wanted_fat: "
        "enthalpy of a kilogram of fat there",
    )
    mean = _mean(FAT, needed.value)
    notes.step(
        "temperature of the fats",
        "25 + enthalpy / c_fats",
        {"enthalpy": (mean * (needed.value - ZERO) / _KILO, "kJ/kg"), "c_fats": (mean / _KILO, "kJ/(kg K)")},
        (needed.value, "°C"),
        f"{_FOODS}; c_fats: mean from 25 °C to this temperature, found by trying",
    )


def _reaction(runs: Runs, reaction: tuple[Ends, float], notes: Notes) -> None:
    """What saponifying would add."""
    blend, takers = runs.blend, runs.takers
    rise, t = reaction
    notes.step(
        "hydroxide in the stock",
        "mass * strength / molar_mass",
        {
            "mass": (blend.stock.mass, "kg"),
            "strength": (blend.stock.mass_fraction, "1"),
            "molar_mass": (molar_masses.ALKALI[blend.alkali], "kg/mol"),
        },
        (takers.alkali, "mol"),
        "definition of mass fraction; abridged standard atomic weights (IUPAC/CIAAW)",
    )
    notes.step(
        "hydroxide that saponifies",
        "max(0, min(alkali - acid, need))",
        {"alkali": (takers.alkali, "mol"), "acid": (takers.acid, "mol"), "need": (takers.need, "mol")},
        (takers.reacting, "mol"),
        "the lesser of what is there and what fats take; need by saponification values, as saponification explains it",
    )
    notes.step(
        "rise by saponifying",
        "amount * heat / capacity",
        {
            "amount": (takers.reacting, "mol"),
            "heat": (HEAT_OF_SAPONIFICATION / _KILO, "kJ/mol"),
            "capacity": (blend.capacity(t, 1.0) / _KILO, "kJ/K"),
        },
        (rise.value, "K"),
        "estimated: splitting an ester takes 3.6 kJ/mol (J. Therm. Anal. Calorim. 139 (2020) 1301), neutralising the "
        f"acid gives about 56 (from memory); told within a factor of {ROUGHLY:g}",
    )
