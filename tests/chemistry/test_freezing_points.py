"""What is made of a table of freezing points: its evidence, its ice line, and its faults.

The rows are invented, so that each rule shows; the last tests hold the real table to its sources.
"""

from functools import partial
from pathlib import Path
from types import ModuleType

import pytest

from service.chemistry import freezing
from service.chemistry.errors import OutOfRange
from service.chemistry.molar_masses import Alkali
from service.reference import tables
from tests.chemistry.anew import made_anew

HEAD = (
    "# source: invented\n# evidence: memory\nalkali,mass_fraction,temperature,low,high,solid,evidence\n"
    "KOH,0,0,0,0,ice,seen-secondary\n"
    "KOH,0.05,-4,-5,-3,ice,seen-secondary\n"
    "KOH,0.1,-9,-11,-8,ice,mixed\n"
    "KOH,0.6,-50,-60,-40,KOH·4H2O,memory\n"
)
SODA = (
    "NaOH,0,0,0,0,ice,seen-secondary\n"
    "NaOH,0.1,-10,-12,-9,ice,seen-secondary\n"
    "NaOH,0.2,-30,-33,-28,NaOH·7H2O,seen-secondary\n"
    "NaOH,0.3,-20,-21,-18,NaOH·7H2O,mixed\n"
    "NaOH,0.4,-15,-16,-11,NaOH·5H2O,memory\n"
    "NaOH,0.6,-5,-6,-1,NaOH·2H2O,memory\n"
)


def freshly_made(monkeypatch: pytest.MonkeyPatch, folder: Path | None = None, rows: str = SODA) -> ModuleType:
    """The module, made anew; of these rows, where a folder for them is named."""
    if folder:
        (folder / "freezing_points.csv").write_text(HEAD + rows, encoding="utf-8")
        monkeypatch.setattr(tables, "read", partial(tables.read, folder=folder))
    return made_anew("freezing")


@pytest.mark.parametrize(
    ("w", "evidence"),
    [
        (0.05, "seen-secondary"),
        (0.1, "seen-secondary"),
        (0.2, "seen-secondary"),
        (0.25, "mixed"),  # from what was seen to a mixture
        (0.3, "mixed"),
        (0.35, "mixed"),  # from a mixture to memory
        (0.4, "memory"),
        (0.5, "memory"),
    ],
)
def test_between_two_points_the_worse_evidence_counts_and_memory_beside_what_was_read_is_a_mixture(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, w: float, evidence: str
) -> None:
    assert freshly_made(monkeypatch, tmp_path).first_solid("NaOH", w).evidence == evidence


def test_an_ice_line_ends_at_the_first_hydrate_or_where_ice_was_no_longer_seen(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    made = freshly_made(monkeypatch, tmp_path)
    assert made.ICE_LINES == {"NaOH": ((0.0, 0.1, 0.2), (0.0, -10.0, -30.0)), "KOH": ((0.0, 0.05), (0.0, -4.0))}
    unseen = freshly_made(monkeypatch, tmp_path, SODA.replace("NaOH·7H2O,seen-secondary", "NaOH·7H2O,memory"))
    assert unseen.ICE_LINES["NaOH"].strengths == (0.0, 0.1)


def test_all_three_temperatures_are_read_off_straight_lines(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    made = freshly_made(monkeypatch, tmp_path)
    assert made.first_solid("NaOH", 0.225)[:3] == pytest.approx((-27.5, -30.0, -25.5))  # by hand: a quarter of the way
    assert made.first_solid("NaOH", 0.55)[:3] == pytest.approx((-7.5, -8.5, -3.5))  # three quarters
    assert made.ice_line("NaOH", 0.125) == pytest.approx(-15.0)
    assert made.ice_line("NaOH", 0.2) == -30.0


@pytest.mark.parametrize("strength", ["0.1", "0.05"])
def test_points_that_do_not_rise_are_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, strength: str) -> None:
    with pytest.raises(ValueError, match="mass fractions of NaOH must rise"):
        freshly_made(monkeypatch, tmp_path, SODA.replace("NaOH,0.2,", f"NaOH,{strength},"))


@pytest.mark.parametrize(
    ("old", "new"), [("NaOH·5H2O", "NaOH·6H2O"), ("NaOH·5H2O,memory", "NaOH·5H2O,hearsay"), ("NaOH·5H2O", "KOH")]
)
def test_an_unknown_solid_or_evidence_is_refused_with_its_row(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, old: str, new: str
) -> None:
    with pytest.raises(ValueError, match="row 5 of NaOH: unknown solid or evidence"):
        freshly_made(monkeypatch, tmp_path, SODA.replace(old, new))


def test_the_real_ice_lines_end_at_pickering_s_eutectic_and_at_the_last_depression_of_the_crc_handbook(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Pickering 1893: 18.8 %, -28 °C. CRC Handbook, 102nd ed. (2021): KOH to 7 %, 4.92 K."""
    lines = freshly_made(monkeypatch).ICE_LINES
    assert (lines["NaOH"].strengths[-1], lines["NaOH"].temperatures[-1]) == (0.188, -28.0)
    assert (lines["KOH"].strengths[-1], lines["KOH"].temperatures[-1]) == (0.07, -4.92)


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_at_the_knots_the_first_solid_has_their_temperatures(alkali: Alkali) -> None:
    for w, t in zip(freezing.KNOTS[alkali], freezing.KNOT_TEMPERATURES[alkali], strict=True):
        if w <= freezing.HIGHEST_MASS_FRACTION[alkali]:
            assert freezing.first_solid(alkali, w).temperature == pytest.approx(t, abs=1e-12)


def test_saturated_caustic_potash_is_that_of_the_encyclopedia_at_its_two_temperatures() -> None:
    """Great Soviet Encyclopedia: 97 g at 0 °C and 112 g at 20 °C in 100 g of water; whole grams."""
    for grams, t in ((97.0, 0.0), (112.0, 20.0)):
        strength = grams / (100.0 + grams)
        nearest = min(strength, freezing.HIGHEST_MASS_FRACTION["KOH"])
        assert nearest == pytest.approx(strength, abs=5e-4)
        assert freezing.first_solid("KOH", nearest).temperature == pytest.approx(t, abs=0.5)
    assert freezing.first_solid("KOH", 0.51).temperature == pytest.approx(10.0)  # by hand: half way from 49.2 to 52.8 %


@pytest.mark.parametrize(("alkali", "reason"), [("NaOH", "eutectic"), ("KOH", "no freezing points")])
def test_beyond_the_ice_line_it_is_said_why_it_ends(alkali: Alkali, reason: str) -> None:
    end = freezing.ICE_LINES[alkali].strengths[-1]
    with pytest.raises(OutOfRange, match=reason) as caught:
        freezing.ice_line(alkali, end + 0.01)
    assert (caught.value.quantity, caught.value.low, caught.value.high) == ("mass_fraction", 0.0, end)
