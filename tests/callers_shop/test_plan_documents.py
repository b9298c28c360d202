"""The script that writes a shop's documents of a plan, run as a shop runs it, against a running service.

Figures are reckoned by hand, as is shown. Shop, orders and SKUs are invented.
"""

import csv
import io
import json
import subprocess
import sys
import threading
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from decimal import Decimal
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from typing import Any, Final

import pytest

from tests.running import Served, serve

ROOT: Final = Path(__file__).parents[2]
SCRIPT: Final = ROOT / "deploy" / "callers" / "shop" / "plan_documents.py"
EXAMPLE: Final = ROOT / "openapi" / "examples" / "production-plan" / "a-week-of-orders.request.json"
NAMES: Final = ("bill-of-materials", "inventory-adjustment", "purchase-order")
NAOH, KOH = 39.997, 56.1056
"""g/mol, by the abridged standard atomic weights, IUPAC/CIAAW 2021."""
REQUEST: Final[dict[str, Any]] = {
    "reference": "invented week 10",
    "orders": [{"sku": "BAR-100", "quantity": 90}],
    "on_hand": [{"sku": "BAR-100", "quantity": 12}],
    "recipes": {
        "BAR-100": {
            "recipe": {
                "fats": [{"fat": "olive-oil", "share": "70 %"}, {"fat": "coconut-oil", "share": "30 %"}],
                "superfat": "5 %",
                "total_liquid": {"water_ratio": "2:1"},
            },
            "batch": {"fat_mass": "2 kg"},
            "bars": 40,
        }
    },
    "stocks": [{"alkali": "NaOH", "mass": "5 kg", "strength": {"mass_fraction": "50 %"}}],
    "materials": [
        {"material": "olive-oil", "sku": "=OIL-1", "mass": "9 kg", "unit": "L", "density": "0.916 kg/L"},
        {"material": "coconut-oil", "sku": "RM-002", "mass": "0.5 kg", "unit": "lb", "package_mass": "5 lb"},
    ],
}


@pytest.fixture(scope="module")
def served() -> Iterator[Served]:
    with serve() as running:
        yield running


def run(address: str, request: dict[str, Any], out: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """The script, run by the same Python but without what is installed in its environment."""
    given = out.parent / f"{out.name}.request.json"
    given.write_text(json.dumps(request), encoding="utf-8")
    command = [sys.executable, "-I", "-S", "-c", "import sys, runpy; sys.path.insert(0, sys.argv[1]);"]
    command[-1] += "sys.argv = sys.argv[2:]; runpy.run_path(sys.argv[0], run_name='__main__')"
    command += [str(SCRIPT.parent), str(SCRIPT), str(given), "--service", address, "--out", str(out), *words]
    return subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)


def lines(out: Path, name: str) -> dict[tuple[str, str], dict[str, Any]]:
    """Lines of a document by what they are and SKU."""
    document = json.loads((out / f"{name}.json").read_text(encoding="utf-8"))
    return {(one["what"], one["sku"]): one for one in document["lines"]}


def told(line: dict[str, Any]) -> tuple[str, str, int, str, str]:
    return (
        line["quantity"],
        line["unit_code"],
        line["whole_quantity"],
        line["whole_unit_code"],
        line["rounding"],
    )


def test_quantities_are_those_reckoned_by_hand(served: Served, tmp_path: Path) -> None:
    """90 bars less 12 on the shelf are two batches of 40, each of 1400 g of olive and 600 g of coconut oil."""
    done = run(served.address, REQUEST, tmp_path / "out", "--made-here", "distilled-water")
    assert done.returncode == 0, done.stderr
    adjusted = lines(tmp_path / "out", "inventory-adjustment")
    # 2.8 kg / 0.916 kg/L; 1.2 kg / 0.45359237 kg/lb, and 16 oz in a pound: 42.3 rounded up
    assert told(adjusted["taken", "=OIL-1"]) == ("-3.056769", "LTR", -3057, "MLT", "up")
    assert told(adjusted["taken", "RM-002"]) == ("-2.645547", "LBR", -43, "ONZ", "up")
    assert told(adjusted["made", "BAR-100"]) == ("80", "H87", 80, "H87", "down")
    # Codex CXS 33-1981: 184 to 196 mg KOH per g of olive oil; CXS 210-1999: 248 to 265 of coconut oil
    alkali = 2 * 0.95 * (1400 * 190 + 600 * 256.5) / 1000 * NAOH / KOH
    drawn = adjusted["taken", "NaOH-stock"]
    assert float(drawn["quantity"]) == pytest.approx(-alkali / 0.5, rel=1e-4)  # -1137.5 g of 50 % stock
    assert (drawn["whole_quantity"], drawn["whole_unit_code"]) == (-1138, "GRM")
    # liquid 2:1 is twice the alkali, and the stock brings once of it
    water = adjusted["taken", "distilled-water"]
    assert float(water["quantity"]) == pytest.approx(-alkali / 1000, rel=1e-4)
    assert len(adjusted) == 5
    # 0.7 kg of coconut oil lacks: one package of 5 lb, 80 oz; olive oil is there, water is made here
    bought = lines(tmp_path / "out", "purchase-order")
    assert list(bought) == [("bought", "RM-002")]
    assert told(bought["bought", "RM-002"]) == ("5.000", "LBR", 80, "ONZ", "up")
    assert bought["bought", "RM-002"]["packages"] == 1
    bill = lines(tmp_path / "out", "bill-of-materials")
    assert next(iter(bill)) == ("made", "BAR-100")
    assert {name: one["quantity"].lstrip("-") for name, one in adjusted.items()} == {
        name: one["quantity"] for name, one in bill.items()
    }
    assert "Danger: Caustic burns skin and eyes" in done.stderr
    document = json.loads((tmp_path / "out" / "bill-of-materials.json").read_text(encoding="utf-8"))
    assert any(one["severity"] == "danger" for one in document["cautions"])


def test_csv_and_json_tell_the_same_and_only_csv_guards_an_sku(served: Served, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run(served.address, REQUEST, out).returncode == 0
    for name in NAMES:
        document = json.loads((out / f"{name}.json").read_text(encoding="utf-8"))
        text = (out / f"{name}.csv").read_bytes().decode("utf-8")
        rows = list(csv.DictReader(io.StringIO(text)))
        assert [row["line_key"] for row in rows] == [one["key"] for one in document["lines"]]
        assert [row["quantity"] for row in rows] == [one["quantity"] for one in document["lines"]]
        assert {row["document_key"] for row in rows} == {document["key"]}
        assert len({row["line_key"] for row in rows}) == len(rows)
        for row, one in zip(rows, document["lines"], strict=True):
            assert row["sku"] == ("'=OIL-1" if one["sku"] == "=OIL-1" else one["sku"])


def test_a_tank_that_is_filled_anew_and_a_soap_in_another_are_counted(served: Served, tmp_path: Path) -> None:
    """The week of the contract's example."""
    request = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    assert run(served.address, request, tmp_path / "out").returncode == 0
    adjusted = lines(tmp_path / "out", "inventory-adjustment")
    # What is mixed is what goes in: solid, ice, and the water that no soap takes; nothing is lost
    bill = Decimal(adjusted["made", "NaOH-stock"]["quantity"])
    solid, ice = (-1000 * Decimal(adjusted["taken", sku]["quantity"]) for sku in ("RM-001", "ice"))
    water = -1000 * Decimal(adjusted["taken", "distilled-water"]["quantity"])
    assert solid + ice < bill < solid + ice + water
    # 4 kg there, 6 draws, 24.0907 kg left (the plan's own last draw): 4000 + made - drawn
    drawn = -Decimal(adjusted["taken", "NaOH-stock"]["quantity"])
    plan = asked(served.address, request)
    left = plan["batches"][-1]["stock_draws"][0]["stock_left"]["value"]
    assert float(4000 + bill - drawn) == pytest.approx(left, abs=0.01)
    # 20 % of 3 kg of fats are shreds of bars of 100 g: six of them
    assert told(adjusted["taken", "PLAIN-100"])[:2] == ("-6", "H87")
    assert told(adjusted["made", "PLAIN-100"])[:2] == ("96", "H87")
    # 6.3 kg of olive oil at 0.916 kg/L, and a can of 5 kg to buy since 6 kg are there
    assert told(adjusted["taken", "RM-014"]) == ("-6.877729", "LTR", -6878, "MLT", "up")
    bought = lines(tmp_path / "out", "purchase-order")
    assert told(bought["bought", "RM-014"]) == ("5.458516", "LTR", 5459, "MLT", "up")


def test_bars_from_the_shelf_that_go_into_another_soap_are_counted_too(served: Served, tmp_path: Path) -> None:
    request = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    request["on_hand"] = [{"sku": "PLAIN-100", "quantity": 200}]
    assert run(served.address, request, tmp_path / "out").returncode == 0
    adjusted = lines(tmp_path / "out", "inventory-adjustment")
    assert ("made", "PLAIN-100") not in adjusted
    assert adjusted["taken", "PLAIN-100"]["whole_quantity"] == -6


def test_one_batch_of_one_article(served: Served, tmp_path: Path) -> None:
    assert run(served.address, REQUEST, tmp_path / "out", "--article", "BAR-100").returncode == 0
    bill = lines(tmp_path / "out", "bill-of-materials")
    assert told(bill["made", "BAR-100"])[0] == "40"
    assert told(bill["taken", "=OIL-1"])[0] == "1.528384"  # 1.4 kg / 0.916 kg/L, and 0.3845 of a millionth
    missing = run(served.address, REQUEST, tmp_path / "none", "--article", "BAR-101")
    assert (missing.returncode, missing.stderr) == (1, "BAR-101 is none of the recipes: BAR-100\n")


def test_the_same_plan_is_written_and_booked_once(served: Served, tmp_path: Path) -> None:
    def keys(out: Path) -> list[str]:
        return [json.loads((out / f"{name}.json").read_text(encoding="utf-8"))["key"] for name in NAMES]

    turned = dict(reversed(REQUEST.items()))
    for place, request in enumerate((REQUEST, REQUEST, turned, REQUEST | {"reference": "invented week 11"})):
        assert run(served.address, request, tmp_path / str(place)).returncode == 0
    for name in (f"{one}.{kind}" for one in NAMES for kind in ("json", "csv")):
        assert (tmp_path / "0" / name).read_bytes() == (tmp_path / "1" / name).read_bytes()
    assert keys(tmp_path / "0") == keys(tmp_path / "2")
    assert not set(keys(tmp_path / "0")) & set(keys(tmp_path / "3"))


def test_a_refused_plan_writes_nothing_and_says_where(served: Served, tmp_path: Path) -> None:
    wrong = json.loads(json.dumps(REQUEST))
    wrong["stocks"][0]["mass"] = "5"
    wrong["orders"][0]["sku"] = "BAR-101"
    served.asked.clear()
    done = run(served.address, wrong, tmp_path / "out")
    assert done.returncode == 1
    assert "/stocks/0/mass: " in done.stderr
    assert not (tmp_path / "out").exists()
    assert sum(served.asked.values()) == 1, "what is wrong is not tried again"


# A service that is busy, or a line that breaks


def asked(address: str, request: dict[str, Any]) -> Any:
    sent = urllib.request.Request(  # noqa: S310 - our own service
        f"{address}/v1/production-plan", json.dumps(request).encode(), {"Content-Type": "application/json"}
    )
    with urllib.request.urlopen(sent, timeout=30) as reply:  # noqa: S310
        return json.load(reply)


Reply = Callable[[BaseHTTPRequestHandler], None]


@contextmanager
def unsteady(*replies: Reply) -> Iterator[tuple[str, list[int]]]:
    """A server that answers each request in another way, the last way ever after; its address and the count."""
    seen = [0]

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            self.rfile.read(int(self.headers["Content-Length"]))
            reply = replies[min(seen[0], len(replies) - 1)]
            seen[0] += 1
            reply(self)

        def log_message(self, *_: object) -> None:
            """Say nothing."""

    server = HTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}", seen
    finally:
        server.shutdown()
        server.server_close()
        thread.join(10)


def breaks(handler: BaseHTTPRequestHandler) -> None:
    handler.close_connection = True


def answers(status: int, body: Any, **headers: str) -> Reply:
    def reply(handler: BaseHTTPRequestHandler) -> None:
        text = json.dumps(body).encode()
        handler.send_response(status)
        for name, value in headers.items():
            handler.send_header(name.replace("_", "-"), value)
        handler.send_header("Content-Length", str(len(text)))
        handler.end_headers()
        handler.wfile.write(text)

    return reply


BUSY: Final = {"title": "Too many requests", "detail": "wait a little"}


def cut_short(handler: BaseHTTPRequestHandler) -> None:
    handler.send_response(200)
    handler.send_header("Content-Length", "1000")
    handler.end_headers()
    handler.wfile.write(b'{"batches": [')
    handler.close_connection = True


def test_what_breaks_or_is_busy_is_asked_again(served: Served, tmp_path: Path) -> None:
    plan = asked(served.address, REQUEST)
    replies = (
        answers(429, BUSY, Retry_After="0"),
        answers(503, BUSY, Retry_After="Sat, 01 Jan 2000 00:00:00 GMT"),
        breaks,
        cut_short,
        answers(200, plan),
    )
    with unsteady(*replies) as (address, seen):
        done = run(address, REQUEST, tmp_path / "out")
    assert (done.returncode, seen) == (0, [5]), done.stderr
    assert run(served.address, REQUEST, tmp_path / "other").returncode == 0
    for name in NAMES:
        assert (tmp_path / "out" / f"{name}.json").read_bytes() == (tmp_path / "other" / f"{name}.json").read_bytes()


def test_a_pause_that_is_too_long_is_not_waited_for(tmp_path: Path) -> None:
    with unsteady(answers(503, BUSY, Retry_After="3600")) as (address, seen):
        done = run(address, REQUEST, tmp_path / "out")
    assert (done.returncode, seen) == (1, [1])
    assert done.stderr == "Too many requests: wait a little\n"


def test_what_stays_busy_is_given_up(tmp_path: Path) -> None:
    with unsteady(answers(429, BUSY, Retry_After="0")) as (address, seen):
        done = run(address, REQUEST, tmp_path / "out")
    assert (done.returncode, seen) == (1, [6])
