"""What several workers count: whichever is asked tells the sums, and no sum ever falls, whoever dies."""

import os
import signal
import socket
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPException
from pathlib import Path

import pytest

from service.http.metrics import Metrics
from service.http.operation.worker_counts import SharedCells, counts_folder, private_cells, summed
from tests.http.processes import Running, running, until

JSON = {"content-type": "application/json"}
BODY = b'{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}'
GAUGES = ("_in_flight", "_workers", "_bytes", "_fds")


@pytest.fixture
def service(tmp_path: Path) -> Iterator[Running]:
    with running("-m", "tests.http.workers", "PORT", "2", output=tmp_path / "log") as service:
        service.wait_for_workers(2)
        yield service


def ask(service: Running, times: int) -> None:
    with ThreadPoolExecutor(8) as pool:
        replies = list(pool.map(lambda _: service.ask("POST", "/v1/concentration", BODY, JSON), range(times)))
    assert {reply.status for reply in replies} == {200}


def serving(service: Running) -> set[int]:
    """Processes that have served."""
    return {line["process"] for line in service.lines() if line["message"] == "request"}


def counted(service: Running) -> float:
    return service.value("lyestock_requests_total", route="concentration", status="200")


def test_any_worker_tells_the_requests_of_all_at_once(service: Running) -> None:
    ask(service, 150)
    until(lambda: counted(service) == 150)  # an answer is counted once it has been handed over
    for _ in range(20):
        told = service.samples()
        assert told["lyestock_requests_total", (("route", "concentration"), ("status", "200"))] == 150
        assert told["lyestock_request_seconds_count", (("route", "concentration"),)] == 150
        assert told["lyestock_calculation_seconds_count", (("calculation", "concentration"),)] == 150
        assert told["lyestock_workers", ()] == 2
        memory = {labels for name, labels in told if name == "process_resident_memory_bytes"}
        assert memory == {(("worker", str(number)),) for number in range(2)}
    until(lambda: len(serving(service)) == 2)
    until(lambda: service.value("lyestock_requests_in_flight") == 1)


def test_counts_outlive_workers_that_are_killed_and_what_they_served_does_not(service: Running) -> None:
    ask(service, 60)
    until(lambda: counted(service) == 60)
    with socket.create_connection(("127.0.0.1", service.port)) as held:
        held.sendall(b"POST /v1/concentration HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n")
        held.sendall(b"Content-Length: 50\r\n\r\n{")
        until(lambda: service.value("lyestock_requests_in_flight") == 2)
        for number in (1, 2):
            victims = {int(line["process"]) for line in service.lines() if line["logger"] == "lyestock"}
            victims -= {service.process.pid}
            for process in victims:
                if _is_alive(process):
                    os.kill(process, signal.SIGKILL)
            service.wait_for_workers(2 + 2 * number)
            assert counted(service) == 60
            until(lambda: service.value("lyestock_requests_in_flight") == 1)
            assert service.value("lyestock_workers") == 2
    ask(service, 40)
    until(lambda: counted(service) == 100)
    workers = {labels for name, labels in service.samples() if name == "process_resident_memory_bytes"}
    assert workers == {(("worker", str(number)),) for number in range(2)}, "files of those who went are used again"


def _is_alive(process: int) -> bool:
    return Path(f"/proc/{process}").exists()


def alive(service: Running) -> set[int]:
    """Processes that have served, and live; at first none is known, as a line is written after its answer is sent."""
    return {one for one in serving(service) if _is_alive(one)}


def test_no_count_falls_between_two_readings_while_workers_come_and_go(service: Running) -> None:
    ending = threading.Event()

    def load() -> None:
        while not ending.is_set():
            try:
                service.ask("POST", "/v1/concentration", BODY, JSON)
            except (OSError, HTTPException):
                continue  # that worker was just killed

    loads = [threading.Thread(target=load) for _ in range(2)]
    for one in loads:
        one.start()
    try:
        before: dict[tuple[str, tuple[tuple[str, str], ...]], float] = {}
        for turn in range(40):
            try:
                now = service.samples()
            except (OSError, HTTPException):
                continue
            for key, value in before.items():
                name = key[0]
                if name.startswith("lyestock_") and not name.endswith(GAUGES):
                    assert now[key] >= value, key
            before = now
            if turn % 20 == 5:
                os.kill(max(until(lambda: alive(service))), signal.SIGKILL)
    finally:
        ending.set()
        for one in loads:
            one.join()
    assert counted(service) > 100


def test_sighup_rolls_the_workers_and_counts_stay(service: Running) -> None:
    ask(service, 30)
    until(lambda: counted(service) == 30)
    service.process.send_signal(signal.SIGHUP)
    service.wait_for_workers(4)
    until(lambda: service.value("lyestock_workers") == 2)
    assert counted(service) == 30


def test_the_folder_of_the_counts_is_private_and_goes_with_the_supervisor(service: Running) -> None:
    variable = next(
        text for text in Path(f"/proc/{_a_worker(service)}/environ").read_text().split("\0") if "COUNTS=" in text
    )
    folder = Path(variable.partition("=")[2])
    assert folder.stat().st_mode & 0o777 == 0o700
    assert {path.name for path in folder.iterdir()} == {"0.counts", "1.counts"}
    service.end()
    assert not folder.exists()


def _a_worker(service: Running) -> int:
    ask(service, 1)
    return min(until(lambda: serving(service)))


# In one process


def test_cells_are_taken_over_only_from_those_who_left(tmp_path: Path) -> None:
    first, second = (SharedCells(tmp_path, ["in", "out"]) for _ in range(2))
    first.cells[0] += 2
    second.cells[0] += 3
    assert [(one.number, one.alive, one.values) for one in first.told()] == [
        (0, True, {"in": 2, "out": 0}),
        (1, True, {"in": 3, "out": 0}),
    ]
    first.close()
    assert [one.alive for one in second.told()] == [False, True]
    third = SharedCells(tmp_path, ["in", "out"])
    assert (third.number, third.cells[0]) == (0, 2)
    third.close()
    second.close()


def test_workers_of_two_versions_count_side_by_side(tmp_path: Path) -> None:
    old = SharedCells(tmp_path, ["in", "out"])
    old.cells[1] += 5
    old.close()
    new = SharedCells(tmp_path, ["in", "between", "out"])
    new.cells[2] += 1
    assert new.number == 1
    assert summed(list(new.told())) == {"in": 0, "between": 0, "out": 6}
    new.close()


def test_what_is_no_file_of_counts_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "0.counts").write_bytes(b"")
    (tmp_path / "1.counts").write_bytes(b"nothing of the kind" * 10)
    (tmp_path / "other").write_bytes(b"")
    cells = SharedCells(tmp_path, ["in"])
    assert [one.number for one in cells.told()] == [cells.number] == [2]
    cells.close()


def test_what_was_counted_before_sharing_is_not_lost(tmp_path: Path) -> None:
    metrics = Metrics(["part"], "data")
    metrics.know_pages(["/"])
    metrics.calculation("part").served(200, 0.1)
    metrics.page("/").served(404, 0.1)
    metrics.problem("not-found")
    metrics.lost(3)
    metrics.share(tmp_path)
    metrics.calculation("part").served(200, 0.1)
    text = metrics.text().decode()
    assert 'lyestock_requests_total{route="part",status="200"} 2.0' in text
    assert 'lyestock_requests_total{route="/",status="404"} 1.0' in text
    assert 'lyestock_problems_total{kind="not-found"} 1.0' in text
    assert "lyestock_log_lines_lost_total 3.0" in text


def test_folder_goes_even_where_serving_fails() -> None:
    found: list[Path] = []

    def serve() -> None:
        with counts_folder() as folder:
            assert os.environ["_LYESTOCK_COUNTS"] == str(folder)
            assert folder.is_dir()
            found.append(folder)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        serve()
    assert not found[0].exists()
    assert "_LYESTOCK_COUNTS" not in os.environ


def test_private_cells_are_zero() -> None:
    assert private_cells(3).tolist() == [0, 0, 0]
