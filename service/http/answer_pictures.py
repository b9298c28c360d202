"""What the pictures of answers show: of a mixing its way and its margins, of a cooling its curve.

They are made from the answer as it is told, so that they show its very numbers, in its units.
"""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from service.http.drawing import (
    BLACK,
    BLUE,
    DASH_DOTTED,
    DASHED,
    DOTTED,
    GREEN,
    GREY,
    VERMILION,
    Curve,
    Level,
    Mark,
    Picture,
)

Answer = Mapping[str, Any]

_IN_SIGHT: Final = 0.6
"""How far beyond the curve a line may lie to be shown, as a share of the curve's own span; farther it is told."""
_CARE: Final = (
    "Caustic burns: goggles, gloves, solid into water, never water onto solid. Local rules and the safety data sheet "
    "come first."
)
_MOST_DANGERS: Final = 3


def _number(figure: Answer, digits: int = 3) -> str:
    unit = figure["unit"].replace("delta_degF", "°F")
    return f"{figure['value']:.{digits}g} {unit}"


def _with_ends(figure: Answer) -> str:
    """A figure with its interval."""
    said = _number(figure)
    return said if "low" not in figure else f"{said} ({figure['low']:.3g} to {figure['high']:.3g})"


def _ends(figure: Answer) -> tuple[float, float] | None:
    return (figure["low"], figure["high"]) if "low" in figure else None


def _dangers(answer: Answer) -> list[str]:
    """The gravest cautions that this request called for, and where the others are."""
    found = [one for one in answer["cautions"] if one["severity"] == "danger"]
    told = [f"Danger: {one['message']}" for one in found[:_MOST_DANGERS]]
    more = len(answer["cautions"]) - len(told)
    return [*told, f"{more} more cautions are in the answer as JSON: read them before you mix or move it.", _CARE]


def _level(label: str, figure: Answer | None, colour: str, dashes: Any, spans: Sequence[float]) -> list[Level]:
    """A line, where it is not so far off that the curve would be a flat line at the edge."""
    if figure is None or not _in_sight(figure["value"], spans):
        return []
    return [Level(f"{label}, {_number(figure)}", figure["value"], colour, dashes)]


def _in_sight(value: float, heights: Sequence[float]) -> bool:
    low, high = min(heights), max(heights)
    beyond = _IN_SIGHT * max(high - low, 10.0)
    return low - beyond <= value <= high + beyond


def mixing_picture(answer: Answer) -> Picture:
    """How warm a mixing gets while the solid goes in, and how near that comes to boiling and to the vessel's limit.

    Args:
        answer: of stock-mixing.
    """
    path, peak = answer["path"], answer["peak_temperature"]
    unit = peak["unit"]
    shares = [100.0 * point["solid_added_share"]["value"] for point in path]
    warm = [point["temperature"]["value"] if "temperature" in point else None for point in path]
    boiling = [point["boiling_point"]["value"] if "boiling_point" in point else None for point in path]
    heights = [*(t for t in warm if t is not None), peak.get("low", peak["value"]), peak.get("high", peak["value"])]
    heights += [t for t in boiling if t is not None]
    limit = answer.get("vessel_limit")
    margin = answer["boiling_margin"]
    says = f"The peak is {_with_ends(peak)}, and {_number(margin)} are left to boiling at the least."
    if answer["boils"] or margin["value"] <= 0.0:
        says = f"It boils, or may boil, and throws caustic about. The peak is {_with_ends(peak)}."
    if limit is not None:
        says += f" The vessel's limit is {_number(limit)}."
    return Picture(
        "How hot the mixing gets",
        says,
        "solid that is in, % of all",
        f"temperature, {unit}",
        [
            Curve("temperature, nothing lost", shares, warm, BLUE, width=2.6),
            Curve("boiling point of the liquid then", shares, boiling, VERMILION, DASHED),
        ],
        _level("vessel's limit", limit, BLACK, DASH_DOTTED, heights),
        [
            Mark(
                f"peak, {_with_ends(peak)}", 100.0 * answer["peak_at"]["value"], peak["value"], BLACK, None, _ends(peak)
            )
        ],
        [says, *_dangers(answer)],
    )


def cooling_picture(answer: Answer) -> Picture:
    """How a stock cools, when it is cool enough, and the temperatures that it must not pass.

    Args:
        answer: of stock-cooling.
    """
    path, time = answer["path"], answer["time"]
    unit = path[0]["temperature"]["unit"]
    times = [point["time"]["value"] for point in path]
    warm = [point["temperature"]["value"] for point in path]
    around = [point["bath_temperature"]["value"] if "bath_temperature" in point else None for point in path]
    rest, first, boiling = (
        answer.get(one) for one in ("resting_temperature", "first_solid_temperature", "boiling_point")
    )
    says = f"From {warm[0]:.3g} to {warm[-1]:.3g} {unit} it takes {_with_ends(time)}"
    says += "." if answer["surely_reached"] else "; it is not sure to get there."
    beyond = [
        f"{label} {_number(figure)}"
        for label, figure in (("boils at", boiling), ("vessel's limit", answer.get("vessel_limit")))
        if figure is not None and not _in_sight(figure["value"], warm)
    ]
    curves = [Curve("temperature of the stock", times, warm, BLUE, width=2.6)]
    if any(one is not None for one in around):
        curves.append(Curve("temperature of the bath", times, around, GREEN, DOTTED, 2.0))
    return Picture(
        "How the stock cools",
        says,
        f"time, {time['unit']}",
        f"temperature, {unit}",
        curves,
        [
            *_level("boiling point", boiling, VERMILION, DASHED, warm),
            *_level("vessel's limit", answer.get("vessel_limit"), BLACK, DASH_DOTTED, warm),
            *_level("comes to rest at", rest, GREY, DOTTED, warm),
            *_level("first crystals", first, GREEN, DASHED, warm),
        ],
        [Mark(f"cool enough after {_with_ends(time)}", time["value"], warm[-1], BLACK, _ends(time))],
        [says, *([f"Beyond this picture: {', '.join(beyond)}."] if beyond else []), *_dangers(answer)],
    )
