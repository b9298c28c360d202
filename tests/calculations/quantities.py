"""Quantities as requests give them, and what is read off the figures of answers."""

from typing import Any


def celsius(t: float, **more: float) -> dict[str, Any]:
    """A temperature [°C], with the ends or the uncertainty that are said of it."""
    return {"value": t, "unit": "°C", **more}


def normal(value: float, uncertainty: float, unit: str) -> dict[str, Any]:
    """A quantity with its standard uncertainty."""
    return {"value": value, "uncertainty": uncertainty, "unit": unit}


def half_width(figure: dict[str, float]) -> float:
    """What a figure may be above its value."""
    return figure["high"] - figure["value"]


def half_of_width(figure: dict[str, float]) -> float:
    """Half of the width of a figure's interval, whose sides may differ."""
    return (figure["high"] - figure["low"]) / 2
