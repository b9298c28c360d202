"""What holds between two answers of the service, whatever was asked.

A law asks again, in other words or for another amount, and compares. Where it cannot say anything of a request
it gives the reason, which is counted and printed.
"""

from collections.abc import Callable
from typing import Any, Final, NamedTuple

from tests.contract.figures import differences
from tests.contract.members import holds
from tests.contract.realistic_strengths import FORMS, STRONGEST
from tests.contract.rewordings import doubled, reordered, reworded, split_fat

Request = dict[str, Any]


class Told(NamedTuple):
    """What a service answered: a status, and a document."""

    status: int
    document: Any


Ask = Callable[[str, Request], Told]
"""Asks a calculation by its name."""
Law = Callable[[Ask, str, Request], str | None]
"""Holds a law for a request that computes, or gives the reason why it says nothing."""

LISTS: Final = (
    "alkalis",
    "contributions",
    "stock_draws",
    "weigh_dry",
    "additions",
    "stock_to_add",
    "solid_to_add",
    "stocks_left",
)
"""Lists of an answer whose order is that of the request; the path of a mixing has one of its own."""
AT_A_LIMIT: Final = {"out-of-range", "beyond-solubility", "beyond-data", "does-not-add-up", "impossible-temperature"}
"""Codes of what rounding may put beyond a limit that a request stands on."""


def _hold(ask: Ask, name: str, request: Request, second: Request, edge: set[str], **how: Any) -> str | None:
    """Hold that a second request gets the answer that the first makes expect."""
    first, other = ask(name, request), ask(name, second)
    assert first.status == 200, first
    if other.status in {400, 422}:
        codes = {fault["code"] for fault in other.document["errors"]}
        assert codes <= edge, f"{second} is refused: {other.document}"
        return f"the request stands on a limit: {', '.join(sorted(codes))}"
    assert other.status == 200, other
    due, found = _without_texts(first.document), _without_texts(other.document)
    if how.pop("turned", False):
        due, found = _in_one_order(due), _in_one_order(_turned(found))
    found = differences(due, found, **how)
    assert not found, f"{found}, asking {second} after {request}"
    return None


def _without_texts(answer: Any) -> Any:
    """An answer without the net mass, a text that is rounded down and so neither doubles nor stands in other units."""
    return {name: one for name, one in answer.items() if name != "net_mass"}


def _turned(answer: Any) -> Any:
    return {name: one[::-1] if name in LISTS else one for name, one in answer.items()}


def _in_one_order(answer: Any) -> Any:
    """An answer whose list of what is weighed stands in one order, whatever that of the request: its steps stay."""
    if "weigh_list" not in answer:
        return answer
    answer = answer | {"weigh_list": sorted(answer["weigh_list"], key=_place), "record": dict(answer["record"])}
    if "use_limits" in answer:
        answer["use_limits"] = sorted(answer["use_limits"], key=lambda one: one["material"])
    if "cost" in answer:
        found = answer["cost"]
        answer["cost"] = found | {
            "lines": sorted(found["lines"], key=_place),
            "without_price": sorted(found["without_price"]),
        }
    answer["record"]["materials"] = sorted(answer["record"]["materials"], key=_place)
    return answer


def _place(line: Any) -> tuple[str, str, float]:
    mass = line["mass"] if "mass" in line else line["planned_mass"]
    return line.get("step", ""), line["material"], mass["value"]


def twice_the_masses(ask: Ask, name: str, request: Request) -> str | None:
    """Twice every mass and volume of a request gives twice every mass, volume and heat, and all else as it was.

    Twice the batch has less than twice the surface, so that the heat exchanged with the room in a given time is
    not twice as much: the time is left out of both requests, and then everything is compared.
    """
    if name == "production-plan":
        return "quantities are told as decimal texts too, which are rounded, and a tank cools by its surface"
    if name in {"stock-cooling", "stock-warming"}:
        return "what a vessel loses goes with its surface, and twice the stock has less than twice of that"
    if holds(request, "diameter", "height"):
        return "a vessel by its diameter and height: no factor for both makes twice its volume and its surface"
    if holds(request, "acid_molarity") and not (
        holds(request, "burette_tolerance")
        and holds(request, "end_point_uncertainty")
        and (name == "soap-assay" or holds(request, "water_volume"))
    ):
        return (
            "a titration with the usual limits of burette and eye, or the usual water: they stay for twice the volume"
        )
    # Cents are rounded, line by line: twice the batch may cost a cent more or less than twice as much.
    timeless = {member: one for member, one in request.items() if member not in {"duration", "prices"}}
    return _hold(ask, name, timeless, doubled(timeless), {"out-of-range"}, factor=2.0)


def other_units(ask: Ask, name: str, request: Request) -> str | None:
    """The same quantities in other units and forms give the same answer."""
    return _hold(ask, name, request, reworded(request), AT_A_LIMIT)


def other_order(ask: Ask, name: str, request: Request) -> str | None:
    """The same lines in another order give the same lines in that order."""
    if name == "production-plan":
        return "stocks are drawn in the order of the request, and late orders are told by their place in it"
    if isinstance(request.get("readings"), list):
        return "readings of a cooling stand in the order of their times, and are refused in another"
    return _hold(ask, name, request, reordered(request), AT_A_LIMIT, turned=True)


def fat_on_two_lines(ask: Ask, name: str, request: Request) -> str | None:
    """A fat on two lines of half its mass is the same fat."""
    second = split_fat(request)
    if isinstance(second, str):
        return second

    def asked(of: str, what: Request) -> Told:
        told = ask(of, what)
        if what is second and told.status == 200 and "contributions" in told.document:
            told.document["contributions"] = _joined(told.document["contributions"])
        return told

    return _hold(asked, name, request, second, {"out-of-range"})


def _joined(lines: list[Any]) -> list[Any]:
    """Contributions with the last line, which is half of the first, added to it."""
    first, *middle, last = lines
    for member in ("mass", "alkali_mass"):
        for end in first[member].keys() - {"unit"}:
            first[member][end] += last[member][end]
    return [first, *middle]


def strength_round_trip(ask: Ask, name: str, request: Request) -> str | None:
    """Each form of a strength, as it is answered, is read as the same strength."""
    if name != "concentration":
        return "no answer that tells strengths"
    answer = ask(name, request).document
    w = answer["mass_fraction"]["value"]
    if w > STRONGEST[request["alkali"]] - 1e-6:
        return "a strength at saturation: rounding may put it beyond"
    if w < 1e-3:
        return "hardly any hydroxide: its density is that of water but for rounding"
    for form, how in FORMS.items():
        value = answer[form]
        strength = {
            form: value["value"] if how.given is None else {member: value[member] for member in ("value", "unit")}
        }
        if how.holds_at is not None:
            strength[how.holds_at] = answer[how.holds_at]
        if form == "degrees_baume":
            strength["baume_modulus"] = answer["baume_modulus"]
        again = ask(name, {"alkali": request["alkali"], "strength": strength})
        assert again.status == 200, f"{strength} is refused: {again.document}"
        back = again.document["mass_fraction"]["value"]
        assert abs(back - w) <= 1e-9, f"{strength} is read as {back!r}, and {w!r} was meant"
    return None


LAWS: Final[dict[str, Law]] = {
    "twice the masses": twice_the_masses,
    "other units": other_units,
    "other order": other_order,
    "a fat on two lines": fat_on_two_lines,
    "strengths there and back": strength_round_trip,
}
