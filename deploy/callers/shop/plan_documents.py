"""Writes what a shop's own system takes of a production plan, each as JSON and as CSV.

A bill of materials, an inventory adjustment and a purchase order. Python 3.11 and nothing else:

    python3 deploy/callers/shop/plan_documents.py openapi/examples/production-plan/a-week-of-orders.request.json
        --service http://localhost:8765 --out week-10 --made-here ice --made-here distilled-water

The plan may be asked for as often as one likes: the same request gets the same documents, byte for byte. What is then
posted into the shop's own system is not so by itself. Each document and each line therefore has a key that follows from
the request alone: send it as the idempotency key of your system, or look whether it is there before you post. It stays
the same when a newer service reckons a figure otherwise, so that no plan is booked twice; to book the same orders again
on purpose, change `reference` in the request.

SKUs come back as the request has them. A material without one has its name instead. In CSV, and only there, a text
that a spreadsheet would run as a formula has an apostrophe before it; JSON has it as it is.
"""

import argparse
import hashlib
import json
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from pathlib import Path

from ask_plan import Json, UnansweredError, ask
from document_lines import PIECE, count, csv_text, grams, line


def key_of(request: Json) -> str:
    """What makes the booking of a plan idempotent: the same for the same request, however its members are ordered.

    Args:
        request: of the plan.
    """
    canonical = json.dumps(request, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(canonical.encode()).hexdigest()[:32]


def stock_names(request: Json) -> list[str]:
    """What each stock is called, as weigh lists call it; the place in the request tells several of one alkali apart.

    Args:
        request: of the plan.
    """
    kinds = [one["alkali"] for one in request.get("stocks") or []]
    return [f"{kind}-stock" + (f"-{place}" if kinds.count(kind) > 1 else "") for place, kind in enumerate(kinds)]


def _summed(pairs: Iterable[tuple[str, Decimal]]) -> dict[str, Decimal]:
    found: dict[str, Decimal] = {}
    for name, amount in pairs:
        found[name] = found.get(name, Decimal(0)) + amount
    return found


def stock_lines(request: Json, plan: Json) -> Iterator[Json]:
    """Stock that is mixed anew, and stock that batches draw.

    Args:
        request: of the plan.
        plan: its answer.
    """
    names = stock_names(request)
    mixed = _summed(
        (names[count(one["stock"])], grams(one["mass"]) - grams(one["stock_before"])) for one in plan["mixings"]
    )
    drawn = _summed(
        (names[count(draw["stock"])], grams(draw["mass"])) for batch in plan["batches"] for draw in batch["stock_draws"]
    )
    yield from (line("made", (name, name), mass, "GRM") for name, mass in mixed.items())
    yield from (line("taken", (name, name), mass, "GRM") for name, mass in drawn.items())


def bar_lines(request: Json, plan: Json, taken: Mapping[str, int]) -> Iterator[Json]:
    """Bars that are made, and bars that go into other soaps.

    Args:
        request: of the plan.
        plan: its answer.
        taken: what `bars_taken` found.
    """
    made = _summed((one["sku"], Decimal(count(one["bars"]))) for one in plan["batches"])
    for sku, recipe in request["recipes"].items():
        called = recipe.get("description") or sku
        if sku in made:
            yield line("made", (sku, called), made[sku], PIECE)
        if taken.get(sku):
            yield line("taken", (sku, called), Decimal(taken[sku]), PIECE)


def bars_taken(request: Json, plan: Json, asked: Callable[[Json], Json]) -> dict[str, int]:
    """Bars of each article that go into other soaps: made and there before, less ordered and left over.

    Where the bars on the shelf are enough, none is made and the plan tells nothing of them; then it is asked what would
    be made if they were not there.

    Args:
        request: of the plan.
        plan: its answer.
        asked: gives the plan for another request.
    """
    parts = {
        addition["sku"]
        for one in plan["batches"]
        for addition in request["recipes"][one["sku"]]["recipe"].get("additions") or []
        if addition.get("sku") in request["recipes"]
    }
    found = {}
    for sku in sorted(parts):
        told, shelf = plan, request.get("on_hand") or []
        if not any(one["sku"] == sku for one in plan["batches"]):
            shelf = [one for one in shelf if one["sku"] != sku]
            told = asked({**request, "on_hand": shelf})
        made = sum(count(one["bars"]) for one in told["batches"] if one["sku"] == sku)
        there = sum(one["quantity"] for one in shelf if one["sku"] == sku)
        ordered = sum(one["quantity"] for one in request["orders"] if one["sku"] == sku)
        over = sum(count(one["quantity"]) for one in told["surplus"] if one["sku"] == sku)
        found[sku] = made + there - ordered - over
    return found


def documents(request: Json, plan: Json, taken: Mapping[str, int], made_here: Iterable[str] = ()) -> dict[str, Json]:
    """The documents by name.

    Args:
        request: of the plan.
        plan: its answer.
        taken: bars that go into other soaps, as `bars_taken` finds them.
        made_here: materials that are never bought, such as ice.
    """
    materials = [
        line("taken", (one["sku"], one["description"]), Decimal(one["quantity"]), one["unit_code"], one["needed_for"])
        for one in plan["materials"]
    ]
    lines = [*materials, *stock_lines(request, plan), *bar_lines(request, plan, taken)]
    bought = []
    for one in plan["shortages"]:
        if one["material"] not in set(made_here):
            quantity = Decimal(one["purchase_quantity"])
            entry = line("bought", (one["sku"], one["description"]), quantity, one["unit_code"], one["needed_for"])
            bought.append(entry | ({"packages": count(one["packages"])} if "packages" in one else {}))
    return {
        "bill-of-materials": _document("bill-of-materials", request, plan, _unsigned(lines)),
        "inventory-adjustment": _document("inventory-adjustment", request, plan, lines),
        "purchase-order": _document("purchase-order", request, plan, bought),
    }


def _unsigned(lines: Iterable[Json]) -> list[Json]:
    """Lines of a bill of materials: first what comes out, then what goes in, without signs."""
    plain = [
        one | {"quantity": one["quantity"].removeprefix("-"), "whole_quantity": abs(one["whole_quantity"])}
        for one in lines
    ]
    return sorted(plain, key=lambda one: one["what"] != "made")


def _document(name: str, request: Json, plan: Json, lines: Iterable[Json]) -> Json:
    key = f"{name}-{key_of(request)}"
    return {
        "document": name,
        "key": key,
        "reference": request.get("reference", ""),
        "data_version": plan["data_version"],
        "lines": [{"key": f"{key}-{one['what']}-{one['sku']}", **one} for one in lines],
        "cautions": plan["cautions"],
    }


def one_batch(request: Json, sku: str) -> Json:
    """The request for one batch of one article, whose bill of materials is wanted.

    Args:
        request: with its recipe and stocks.
        sku: of the article.
    """
    if sku not in request["recipes"]:
        raise UnansweredError(f"{sku} is none of the recipes: {', '.join(request['recipes'])}")
    kept = {name: member for name, member in request.items() if name not in {"orders", "on_hand", "first_day"}}
    return kept | {"orders": [{"sku": sku, "quantity": request["recipes"][sku]["bars"]}]}


def main(arguments: Sequence[str] | None = None) -> int:
    """Ask, and write the documents.

    Args:
        arguments: words of the command line.

    Returns:
        Exit code: 1 where there is no plan, and then nothing is written.
    """
    parser = argparse.ArgumentParser(description="A production plan as documents for a shop's own system.")
    parser.add_argument("request", type=Path, help="the request as JSON: orders, recipes, stocks, materials")
    parser.add_argument("--service", default="http://localhost:8765", help="its address (%(default)s)")
    parser.add_argument("--key", default="", help="where who runs the service asks for one")
    parser.add_argument("--out", type=Path, default=Path(), help="folder for the documents (this one)")
    parser.add_argument(
        "--made-here", action="append", default=[], metavar="MATERIAL", help="never bought, such as ice"
    )
    parser.add_argument("--article", metavar="SKU", help="for one batch of this article alone, not for the orders")
    said = parser.parse_args(arguments)
    try:
        request = json.loads(said.request.read_text(encoding="utf-8"))
        request = one_batch(request, said.article) if said.article else request
        address = f"{said.service.rstrip('/')}/v1/production-plan"
        plan = ask(address, request, said.key)
        taken = bars_taken(request, plan, lambda other: ask(address, other, said.key))
    except (OSError, ValueError, UnansweredError) as error:
        print(error, file=sys.stderr)
        return 1
    said.out.mkdir(parents=True, exist_ok=True)
    for name, document in documents(request, plan, taken, said.made_here).items():
        text = json.dumps(document, ensure_ascii=False, indent=2) + "\n"
        (said.out / f"{name}.json").write_text(text, encoding="utf-8", newline="")
        (said.out / f"{name}.csv").write_text(csv_text(document), encoding="utf-8", newline="")
    for one in plan["cautions"]:
        if one["severity"] == "danger":
            print(f"Danger: {one['message']}", file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(main())
