"""Single values of a batch: its alkali, its draw of stock, the liquid beside it, and its superfat."""

from collections.abc import Sequence
from typing import Any, Final

from service.calculations.shared.faults import Faulty
from service.calculations.shared.given import LiquidRatio, Mass, PlainMass, Superfat
from service.calculations.shared.told import FractionFigure, MassFigure
from service.calculations.values.inputs import ALKALI, FATS, STRENGTH, alkali, with_given
from service.calculations.values.value import Input, Parameters, Value, fats, strength

_SPLIT_PLACES: Final = (("/alkalis/0/alkali", "alkali"), ("/alkalis", "alkali_mass"), ("/stocks", "strength"))
_ALKALI_MASS: Final = Input("alkali_mass", "Pure hydroxide that the batch needs.", "7 oz", Mass, required=True)


def _only(lines: Sequence[Any]) -> Any:
    """What is told of the one alkali, or the one stock, that was asked for."""
    (line,) = lines
    return line


def _alkali_request(given: Parameters) -> dict[str, Any]:
    request = {"fats": fats(given["fats"], "/fats"), "alkalis": [{"alkali": alkali(given)}]}
    return request | with_given(given, superfat=Superfat)


ALKALI_MASS: Final = Value(
    name="alkali-mass",
    summary="Pure hydroxide that fats need",
    description="The pure hydroxide that fats need at a superfat, as `saponification` answers it under `alkalis`; of a "
    "solid that is not pure more is weighed, by its purity.",
    inputs=(
        FATS,
        Input("superfat", "Share of the need that is left unmet. Default 5 %.", "5 %", Superfat),
        ALKALI,
    ),
    calculation="saponification",
    request=_alkali_request,
    pick=lambda answer, _: _only(answer.alkalis).mass,
    kinds=(MassFigure.kind,),
    places=(("/fats", "fats"), ("/superfat", "superfat"), ("/alkalis", "alkali")),
)


def _split_request(given: Parameters) -> dict[str, Any]:
    name = alkali(given)
    return {
        "alkalis": [{"alkali": name, "mass": given["alkali_mass"].strip()}],
        "stocks": [{"alkali": name, "strength": strength(given["strength"], "/stocks/0/strength")}],
    }


STOCK_DRAW: Final = Value(
    name="stock-draw",
    summary="Stock that holds an alkali mass",
    description="The mass of stock that holds the hydroxide a batch needs, as `liquid-split` answers it under "
    "`stock_draws`. Weigh it: by volume it is far too much.",
    inputs=(_ALKALI_MASS, STRENGTH, ALKALI),
    calculation="liquid-split",
    request=_split_request,
    pick=lambda answer, _: _only(answer.stock_draws).mass,
    kinds=(MassFigure.kind,),
    places=_SPLIT_PLACES,
)


def _added_request(given: Parameters) -> dict[str, Any]:
    total = with_given(given, water_ratio=LiquidRatio)
    if "total_liquid" in given:
        total["mass"] = given["total_liquid"].strip()
    if len(total) != 1:
        raise Faulty(
            "choose-one",
            "how much liquid is wanted in all is not said in exactly one way",
            "give water_ratio=2:1, or total_liquid with a mass",
            "/total_liquid/water_ratio",
        )
    return _split_request(given) | {"total_liquid": total}


ADDED_LIQUID: Final = Value(
    name="added-liquid",
    summary="Liquid to add beside the stock",
    description="The liquid that goes in beside the stock, counted as water, as `liquid-split` answers it under "
    "`added_liquid_mass`. Milk, juice and coffee go into the fats, never into the stock.",
    inputs=(
        _ALKALI_MASS,
        STRENGTH,
        Input("water_ratio", "All liquid per mass of pure hydroxide.", "2:1", LiquidRatio),
        Input("total_liquid", "All liquid as a mass, the stock's own included; in place of it.", "14 oz", PlainMass),
        ALKALI,
    ),
    calculation="liquid-split",
    request=_added_request,
    pick=lambda answer, _: answer.added_liquid_mass,
    kinds=(MassFigure.kind,),
    places=(
        *_SPLIT_PLACES,
        ("/total_liquid/mass", "total_liquid"),
        ("/total_liquid", "water_ratio"),
    ),
    beside=("total_liquid",),
)


def _superfat_request(given: Parameters) -> dict[str, Any]:
    name = alkali(given)
    draw = {
        "alkali": name,
        "mass": given["stock_draw"].strip(),
        "strength": strength(given["strength"], "/stock_draws/0/strength"),
    }
    return {"fats": fats(given["fats"], "/fats"), "stock_draws": [draw]}


SUPERFAT: Final = Value(
    name="superfat",
    summary="Superfat that a draw of stock leaves",
    description="Share of the fats' need for alkali that a draw of stock leaves unmet, as `superfat-check` answers it; "
    "below 0 alkali is free, and the soap burns. `end=low` is the lower end of its interval.",
    inputs=(
        FATS,
        Input("stock_draw", "Mass of stock that was drawn.", "400 g", PlainMass, required=True),
        STRENGTH,
        ALKALI,
    ),
    calculation="superfat-check",
    request=_superfat_request,
    pick=lambda answer, _: answer.superfat,
    kinds=(FractionFigure.kind,),
    places=(
        ("/fats", "fats"),
        ("/stock_draws/0/alkali", "alkali"),
        ("/stock_draws/0/mass", "stock_draw"),
        ("/stock_draws", "strength"),
    ),
)

VALUES: Final = (ALKALI_MASS, STOCK_DRAW, ADDED_LIQUID, SUPERFAT)
