"""The steps of what a cooling vessel loses at the start: convection, radiation, vapour, or the films of a bath."""

import math
from typing import Final

from service.calculations.keeping.cooling_losses import Lost
from service.calculations.keeping.cooling_runs import Run
from service.calculations.shared.notes import Notes
from service.chemistry import air
from service.chemistry.bath import FILM, Stock, coefficient, films, wetted_area
from service.chemistry.heat_loss import HEAT_OF_EVAPORATION
from service.chemistry.moving_air import forced_coefficient, together
from service.chemistry.standing_loss import (
    BOTTOM,
    GRAVITY,
    LOWEST_LEVEL,
    STEFAN_BOLTZMANN,
    Standing,
    convection_coefficient,
    radiation_coefficient,
    steam,
)
from service.chemistry.vapour_pressure import water_vapour_pressure

AIR: Final = "air at the mean temperature: Bergman et al., 6th ed., table A.4"


def explain_loss(lost: Lost, run: Run, notes: Notes) -> None:
    """Write down what is lost at the start.

    Args:
        lost: how the vessel loses heat.
        run: the cooling.
        notes: where the steps go.
    """
    convection = _free(lost.standing, run, notes)
    if lost.speed is not None:
        convection = _forced(lost.standing, run, lost.speed[0], convection, notes)
    radiation = _radiation(lost.standing, run, notes)
    carried = _vapour(lost, run, convection, notes)
    if lost.bathed is None:
        _through_air(lost.standing, run, (convection, radiation, carried), notes)
    else:
        _through_bath(lost, run, (convection, radiation, carried), notes)


def _free(standing: Standing, run: Run, notes: Notes) -> float:
    t, ambient = run.contents.temperature, standing.ambient
    film, height = 0.5 * (t + ambient), max(standing.level, LOWEST_LEVEL)
    viscosity = air.kinematic_viscosity(film)
    rayleigh = GRAVITY * abs(t - ambient) / (film + 273.15) * height**3 * air.PRANDTL / viscosity**2
    notes.step(
        "Rayleigh number of the air at the wall",
        "9.80665 * (t - ambient) / (film + 273.15) * height**3 * prandtl / viscosity**2",
        {
            "t": (t, "°C"),
            "ambient": (ambient, "°C"),
            "film": (film, "°C"),
            "height": (height, "m"),
            "prandtl": (air.PRANDTL, "1"),
            "viscosity": (viscosity, "m2/s"),
        },
        (rayleigh, "1"),
        AIR,
    )
    found = convection_coefficient(height, t, ambient)
    notes.step(
        "free convection",
        "(0.825 + 0.387 * rayleigh**(1/6) / (1 + (0.492 / prandtl)**(9/16))**(8/27))**2 * conductivity / height",
        {
            "rayleigh": (rayleigh, "1"),
            "prandtl": (air.PRANDTL, "1"),
            "conductivity": (air.conductivity(film), "W/(m K)"),
            "height": (height, "m"),
        },
        (found, "W/(m2 K)"),
        "Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1323",
    )
    return found


def _forced(standing: Standing, run: Run, speed: float, free: float, notes: Notes) -> float:
    film = 0.5 * (run.contents.temperature + standing.ambient)
    viscosity = air.kinematic_viscosity(film)
    reynolds = speed * standing.diameter / viscosity
    notes.step(
        "Reynolds number of the air",
        "speed * diameter / viscosity",
        {"speed": (speed, "m/s"), "diameter": (standing.diameter, "m"), "viscosity": (viscosity, "m2/s")},
        (reynolds, "1"),
        AIR,
    )
    forced = forced_coefficient(standing.diameter, speed, film)
    notes.step(
        "forced convection",
        "(0.3 + 0.62 * sqrt(reynolds) * prandtl**(1/3) / (1 + (0.4 / prandtl)**(2/3))**(1/4) * "
        "(1 + (reynolds / 282000)**(5/8))**(4/5)) * conductivity / diameter",
        {
            "reynolds": (reynolds, "1"),
            "prandtl": (air.PRANDTL, "1"),
            "conductivity": (air.conductivity(film), "W/(m K)"),
            "diameter": (standing.diameter, "m"),
        },
        (forced, "W/(m2 K)"),
        "Churchill & Bernstein, J. Heat Transfer 99 (1977) 300",
    )
    both = together(forced, free)
    notes.step(
        "convection",
        "(forced**3 + free**3)**(1/3)",
        {"forced": (forced, "W/(m2 K)"), "free": (free, "W/(m2 K)")},
        (both, "W/(m2 K)"),
        "forced and free convection together; Bergman et al., 6th ed., 9.9",
    )
    return both


def _radiation(standing: Standing, run: Run, notes: Notes) -> float:
    t, ambient = run.contents.temperature, standing.ambient
    found = radiation_coefficient(standing.emissivity[0], t, ambient)
    notes.step(
        "radiation",
        "emissivity * sigma * ((t + 273.15)**2 + (ambient + 273.15)**2) * (t + ambient + 546.3)",
        {
            "emissivity": (standing.emissivity[0], "1"),
            "sigma": (STEFAN_BOLTZMANN, "W/(m2 K4)"),
            "t": (t, "°C"),
            "ambient": (ambient, "°C"),
        },
        (found, "W/(m2 K)"),
        "Stefan and Boltzmann; emissivity of plastic, glass or paint 0.9, of bare metal 0.3 (from memory)",
    )
    return found


def _vapour(lost: Lost, run: Run, convection: float, notes: Notes) -> float:
    """Heat that goes with the vapour [W]."""
    if not lost.standing.is_open:
        return 0.0
    c = run.contents
    vapour = water_vapour_pressure(c.alkali, c.w, max(c.temperature, 0.0))
    density = steam(c.temperature, vapour, lost.moisture)
    notes.step(
        "vapour over the stock, beyond that of the room",
        "max(0, vapour - moisture) * 0.018015 / (8.314462618 * (t + 273.15))",
        {"vapour": (vapour, "Pa"), "moisture": (lost.moisture, "Pa"), "t": (c.temperature, "°C")},
        (density, "kg/m3"),
        "vapour pressure as in concentration; the room's air at half of saturation; law of the ideal gas",
    )
    disc = math.pi * lost.standing.diameter**2 / 4.0
    carried = disc * convection * density / air.VOLUMETRIC_HEAT * HEAT_OF_EVAPORATION
    notes.step(
        "heat of evaporation",
        "surface * convection / air * density * latent",
        {
            "surface": (disc, "m2"),
            "convection": (convection, "W/(m2 K)"),
            "air": (air.VOLUMETRIC_HEAT, "J/(m3 K)"),
            "density": (density, "kg/m3"),
            "latent": (HEAT_OF_EVAPORATION, "J/kg"),
        },
        (carried, "W"),
        "Lewis, Trans. ASME 44 (1922) 325: mass goes with heat",
    )
    return carried


def _through_air(standing: Standing, run: Run, parts: tuple[float, float, float], notes: Notes) -> None:
    convection, radiation, carried = parts
    notes.step(
        "heat lost at the start",
        "((3.141592653589793 * diameter * level + bottom * surface) / (1 / (convection + radiation) + wall) + "
        "surface * (convection + radiation)) * (t - ambient) + evaporation",
        {
            "diameter": (standing.diameter, "m"),
            "level": (standing.level, "m"),
            "bottom": (BOTTOM[0], "1"),
            "surface": (math.pi * standing.diameter**2 / 4.0, "m2"),
            "convection": (convection, "W/(m2 K)"),
            "radiation": (radiation, "W/(m2 K)"),
            "wall": (standing.wall_resistance, "m2 K/W"),
            "t": (run.contents.temperature, "°C"),
            "ambient": (standing.ambient, "°C"),
            "evaporation": (carried, "W"),
        },
        (run.loss_at_start[0], "W"),
        "wall, half of the bottom, and lid or surface; at each later temperature likewise",
    )


def _through_bath(lost: Lost, run: Run, parts: tuple[float, float, float], notes: Notes) -> None:
    bathed, standing, c = lost.bathed, lost.standing, run.contents
    if bathed is None:
        return
    convection, radiation, carried = parts
    bath = run.around.temperature
    found = films(bathed, Stock(c.alkali, c.w), c.temperature, bath)
    through = coefficient(bathed, found, 0)
    notes.step(
        "coefficient from stock to bath",
        "1 / (1 / inside + wall + 1 / outside)",
        {
            "inside": (FILM[0] * found.inside, "W/(m2 K)"),
            "wall": (bathed.wall_resistance[0], "m2 K/W"),
            "outside": (FILM[0] * found.outside, "W/(m2 K)"),
        },
        (through, "W/(m2 K)"),
        f"free convection of stock and water along a wall of {found.wall_inside:.4g} °C inside and "
        f"{found.wall_outside:.4g} °C outside, by Churchill & Chu 1975; wall: thickness over conductivity",
    )
    notes.step(
        "heat lost at the start",
        "through * wetted * (t - bath) + surface * (convection + radiation) * (t - ambient) + evaporation",
        {
            "through": (through, "W/(m2 K)"),
            "wetted": (wetted_area(bathed, 0), "m2"),
            "t": (c.temperature, "°C"),
            "bath": (bath, "°C"),
            "surface": (math.pi * standing.diameter**2 / 4.0, "m2"),
            "convection": (convection, "W/(m2 K)"),
            "radiation": (radiation, "W/(m2 K)"),
            "ambient": (standing.ambient, "°C"),
            "evaporation": (carried, "W"),
        },
        (run.loss_at_start[0], "W"),
        "wall and half of the bottom in the water, lid or surface in air as warm as the bath",
    )
