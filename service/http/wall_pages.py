"""A batch sheet and a production plan as pages to tape to the wall: what to weigh, in which order, and what to mind."""

from collections.abc import Iterable
from html import escape
from typing import Final

from service.calculations.orders.csv_lines import UNIT_OF_CODE
from service.http.paper import (
    BOX,
    LINE,
    Answer,
    dangers,
    foot,
    heading,
    number,
    other_cautions,
    paper,
    percent,
    quantity,
    steps,
    table,
)

_STEPS: Final = {
    "fats": "fats",
    "liquids-into-fats": "liquid, into the fats",
    "liquids-into-stock": "liquid, into the stock",
    "solid-alkali": "solid alkali",
    "stock": "stock",
    "trace": "at trace",
}
_MOST_LINES: Final = 2000
"""Lines of a table that a wall holds; the answer as JSON holds all."""


def batch_sheet_page(answer: Answer) -> bytes:
    """A batch sheet.

    Args:
        answer: of batch-sheet.
    """
    record = answer["record"]
    name = record["product"] or "Batch"
    return paper(
        f"{name} - batch sheet",
        [
            f"<h1>{escape(name)}</h1><p>Batch {LINE} made on {LINE} by {LINE}{_reference(answer)}</p>",
            dangers(answer),
            heading("Weigh, in this order"),
            table(
                ("done", "material", "mass", "goes into", "lot"),
                map(_weighing, answer["weigh_list"]),
                ("", "", "big"),
            ),
            heading("Do"),
            table(
                ("done", "step", "planned", "measured", "by"),
                ((BOX, escape(one["operation"]), _planned(one), LINE, LINE) for one in record["operations"]),
                ("", "", "right"),
            ),
            heading("Check"),
            table(("done", "what", "by"), ((BOX, escape(one["control"]), LINE) for one in record["controls"])),
            heading("What comes out"),
            table(("what", "by this sheet"), _results(answer), ("", "right")),
            _label(answer),
            other_cautions(answer),
            steps(answer),
            foot(answer),
        ],
    )


def production_plan_page(answer: Answer) -> bytes:
    """A production plan.

    Args:
        answer: of production-plan.
    """
    batches, shortages = answer["batches"], answer["shortages"]
    return paper(
        "Production plan",
        [
            f"<h1>Production plan</h1><p>Batches: {len(batches)}{_reference(answer)}</p>",
            dangers(answer),
            heading("Late orders") if answer.get("late_orders") else "",
            table(
                ("order", "article", "due", "ready"),
                (
                    (number(one["order"]), escape(one["sku"]), escape(one["due"]), escape(one["ready"]))
                    for one in answer.get("late_orders", ())
                ),
            ),
            heading("Batches, in this order"),
            table(
                ("done", "no.", "article", "bars", "day", "due", "draw"),
                (
                    (
                        BOX,
                        number(one["number"]),
                        escape(one["sku"]),
                        number(one["bars"]),
                        _day(one),
                        _due(one),
                        _draws(one),
                    )
                    for one in batches[:_MOST_LINES]
                ),
                ("", "right", "", "right"),
            ),
            _cut(batches),
            heading("Stock to mix") if answer["mixings"] else "",
            table(
                ("done", "tank", "mix on", "before batch", "solid", "ice", "water", "peak"),
                (
                    (
                        BOX,
                        f"{number(one['stock'])} ({escape(one['alkali'])})",
                        escape(one["mix_day"]) if "mix_day" in one else f"day {number(one['mix_on'])}",
                        number(one["before_batch"]),
                        quantity(one["mass_as_supplied"]),
                        quantity(one["ice_mass"]),
                        quantity(one["water_mass"]),
                        quantity(one["peak_temperature"]),
                    )
                    for one in answer["mixings"]
                ),
            ),
            heading("Buy") if shortages else "",
            table(
                ("done", "article", "what", "quantity", "packages"),
                map(_purchase, shortages[:_MOST_LINES]),
                ("", "", "", "big"),
            ),
            _cut(shortages),
            other_cautions(answer),
            steps(answer),
            foot(answer),
        ],
    )


def _reference(answer: Answer) -> str:
    return f" ({escape(answer['reference'])})" if "reference" in answer else ""


def _weighing(line: Answer) -> tuple[str, ...]:
    material = f"{escape(line['material'])}<br><small>{_STEPS[line['step']]}</small>"
    return BOX, material, quantity(line["mass"]), escape(line["goes_into"]), LINE


def _purchase(line: Answer) -> tuple[str, ...]:
    how_much = f"{escape(line['purchase_quantity'])} {escape(UNIT_OF_CODE[line['unit_code']])}"
    packages = number(line["packages"]) if "packages" in line else ""
    return BOX, escape(line["sku"]), escape(line["description"]), how_much, packages


def _planned(operation: Answer) -> str:
    return quantity(operation["planned_temperature"]) if "planned_temperature" in operation else ""


def _results(answer: Answer) -> Iterable[tuple[str, str]]:
    yield "superfat", percent(answer["superfat"])
    yield "batter", f"{quantity(answer['batter_mass'])}, {quantity(answer['batter_volume'])}"
    if "bars" in answer:
        yield "bars", f"{number(answer['bars']['count'])} of {quantity(answer['bars']['mass'])}"
    for place, one in enumerate(answer["stocks_left"]):
        yield f"left of stock {place} ({escape(one['alkali'])})", quantity(one["mass"])
    if "cured_mass" in answer:
        yield "mass when dry", quantity(answer["cured_mass"])


def _label(answer: Answer) -> str:
    if "label_text" not in answer:
        return ""
    return f"{heading('List of ingredients')}<p>{escape(answer['label_text'])}</p>"


def _day(batch: Answer) -> str:
    return escape(batch["day"]) if "day" in batch else f"day {number(batch['work_day'])}"


def _due(batch: Answer) -> str:
    due = escape(batch["due"]) if "due" in batch else ""
    return f"{due} <b>LATE</b>" if batch.get("late") else due


def _draws(batch: Answer) -> str:
    return "<br>".join(
        f"<b>{quantity(one['mass'])}</b> of tank {number(one['stock'])} ({escape(one['alkali'])})"
        for one in batch["stock_draws"]
    )


def _cut(lines: list[Answer]) -> str:
    more = len(lines) - _MOST_LINES
    return f"<p><b>{more} more are in the answer as JSON.</b></p>" if more > 0 else ""
