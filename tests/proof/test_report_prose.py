"""What the validation report says in words of its figures is what the figures come to."""

from service.chemistry.batter import fat_density
from service.chemistry.strength import mass_fraction_from_degrees_twaddell
from tests.proof.report.every import models
from tests.proof.report.exceptions import EXCEPTIONS
from tests.proof.report.judged import JUDGED, WIDENED
from tests.proof.report.page import pages
from tests.proof.report.records import Evidence, Point
from tests.reference_cases.batch_validation import acids_leave
from tests.reference_cases.batter_validation import fat_by_choi_and_okos


def points_of(model: str, label: str) -> list[Point]:
    """Those of a source of a model."""
    (one,) = [one for one in models() if one.key == model]
    return [point for point in one.points if point.source.label == label]


def cause_of(model: str, label: str) -> str:
    """What is said of the first group of exceptions of a source."""
    return next(one.cause for one in EXCEPTIONS if (one.model, one.source) == (model, label))


def most(model: str, label: str, *, relative: bool = True, of: str = "") -> float:
    """Largest deviation of a source of a model, in % of what was published or in its unit."""
    some = [point for point in points_of(model, label) if of in point.what]
    return max(abs(point.deviation) * (100.0 / abs(point.published) if relative else 1.0) for point in some)


def test_the_cause_of_the_baume_column_counts_what_is_off() -> None:
    (one,) = [one for one in EXCEPTIONS if one.source.endswith("Baumé")]
    (model,) = [model for model in models() if model.key == one.model]
    off = [
        (point.x, point.deviation) for point in model.points if point.source.label == one.source and not point.is_within
    ]
    low = [deviation for degrees, deviation in off if degrees <= 35.0]
    others = [abs(deviation) for degrees, deviation in off if degrees > 35.0]
    assert min(degrees for degrees, _ in off if degrees > 35.0) == 45.0
    for count in (f"{len(off)} that are off", f"{len(low)} lie at or below 35", f"other {len(others)}"):
        assert count in one.cause
    assert f"{min(low):.2f} to {max(low):.2f} degree low" in one.cause
    assert f"{min(others):.2f} to {max(others):.2f} to either side" in one.cause


def test_causes_tell_how_far_off_the_listed_figures_are() -> None:
    potash = cause_of("density-koh", "CRC 2021")
    strong = [point.published / point.ours for point in points_of("density-koh", "CRC 2021") if point.x >= 40.0]
    assert {f"{100 * (1 - one):.2f} % at 40 to 50 %" in potash for one in strong} == {True}
    assert f"within {max(most('density-koh', label) for label in ('physics table', 'Perry')):.2f} %" in potash
    twaddell = {point.x: point for point in points_of("strength", "Simmons & Appleton 1908")}
    listed = [point for point in twaddell.values() if not point.is_within]
    worst = max(listed, key=lambda point: abs(point.deviation))
    at = 100 * mass_fraction_from_degrees_twaddell("NaOH", 44.6) - 20.0
    book = twaddell[44.0].published + 0.6 * (twaddell[45.0].published - twaddell[44.0].published) - 20.0
    said = cause_of("strength", "Simmons & Appleton 1908")
    assert f"The worst is {worst.x:g} °Tw, {abs(worst.deviation):.2f} % NaOH apart" in said
    assert f"ours {at:.2f} % above, the book {-book:.2f} % below" in said
    thomsen = {point.what: point.deviation for point in points_of("heat-of-solution", "Thomsen")}
    below = sorted(thomsen[f"NaOH in {waters} H2O"] for waters in (20, 25))
    assert f"{below[0]:.2f} to {below[1]:.2f} kJ/mol below" in cause_of("heat-of-solution", "Thomsen")
    apart = most("convection", "Bergman, example 7.4", of="coefficient of the cylinder")
    assert f"the coefficient is {apart:.1f} % apart" in cause_of("convection", "Bergman, example 7.4")
    beyond = [abs(p.deviation) - p.tolerance for p in points_of("iodine-value", "USDA SR26, limits recalled")]
    less, more = sorted(one for one in beyond if one > 0)
    assert f"lie {less:.1f} and {more:.0f} g/100 g beyond" in cause_of("iodine-value", "USDA SR26, limits recalled")
    fat = {point.x: point for point in points_of("batter-density", "Choi & Okos 1986, fat")}
    rises = [(fat[0.0].published - fat[100.0].published) / 100.0, (fat[0.0].ours - fat[100.0].ours) / 100.0]
    said = cause_of("batter-density", "Choi & Okos 1986, fat")
    assert f"by {rises[0]:.2f} kg/m3 for each kelvin, the service by {rises[1]:.2f}" in said
    assert abs(fat[20.0].deviation) < 1.0
    assert abs(fat_density("fat", 90.0).density - fat_by_choi_and_okos(90.0)) < fat_density("fat", 90.0).half_width


def test_intervals_that_were_made_from_what_is_held_against_them_say_by_how_much_it_is_off() -> None:
    labels = {(model.key, point.source.label) for model in models() for point in model.points}
    assert labels >= {(one.model, label) for one in (*WIDENED, *JUDGED) for label in one.sources}
    says = {one.model: one.says for one in JUDGED}
    cold, *warm = [most("density-naoh", "ICT 1928", of=f", {t} °C") for t in (0, 40, 60, 80, 100)]
    assert f"({cold:.2f} % at 0 °C, {max(warm):.2f} % from 40 °C up)" in says["density-naoh"]
    assert f"({most('density-naoh', 'table without origin'):.2f} %)" in says["density-naoh"]
    assert (
        f"within {max(most('density-koh', label) for label in ('physics table', 'Perry')):.2f} %" in says["density-koh"]
    )
    assert f"up to {most('viscosity', 'CRC 2021'):.1f} % off" in says["viscosity"]
    assert f"({most('thawing', 'Parker 1965, monohydrate', relative=False):.2f} kJ/mol)" in says["thawing"]
    assert most("density-carbonate", "Laliberté 2009, soda (program)") < 3.0
    assert "reaches {:.1f} to {:.1f} % beyond".format(*acids_leave()) in says["batch-heat"]
    stretches = {
        label: len(points_of("thawing", label)) for label in ("slope of the freezing line", "Parker 1965, monohydrate")
    }
    assert f"the {stretches['slope of the freezing line']} stretches" in says["thawing"]
    assert f"by which its {stretches['Parker 1965, monohydrate']} are off" in says["thawing"]
    assert f"up to {most('batter-density', 'USDA SR26, cups'):.1f} % off" in says["batter-density"]
    text = pages()["README.md"]
    assert all(f"- {one.says}" in text for one in (*WIDENED, *JUDGED))
    made = {(one.model, label) for one in (*WIDENED, *JUDGED) for label in one.sources}
    of_made = [point for model in models() for point in model.points if (model.key, point.source.label) in made]
    proofs = [p for p in of_made if p.source.is_independent and p.source.evidence is Evidence.SEEN]
    assert f"of these {len(proofs)} are held to an interval that was made from them" in text
    assert 0 < len(proofs) < len(of_made)
