"""Settings: read from three places, and refused with their name and how to mend them."""

import json
import resource
import socket
from pathlib import Path
from typing import Any

import pytest

from service.command import main
from service.http.operation.keys import new_key
from service.http.operation.settings import DEFAULTS, PUBLIC_RATE, Settings
from service.http.operation.settings_reading import FIELDS, SettingsError, read_settings, table
from service.http.operation.start_checks import FILES_BESIDE, cautions, unresolvable, unusable
from tests.restart.running_service import started

HASH = "sha256:" + "0a" * 32


def wrong(environment: dict[str, str], file: str | None = None) -> list[str]:
    with pytest.raises(SettingsError) as caught:
        read_settings(environment, file)
    return [str(one) for one in caught.value.wrong]


def test_defaults_are_those_of_a_service_for_ones_own_machine() -> None:
    settings = read_settings({"PATH": "/bin", "OTHER_PORT": "1"})
    assert settings == DEFAULTS
    assert (settings.host, settings.docs, settings.key_hashes, settings.public) == ("127.0.0.1", True, (), False)
    assert settings.address_rate is None
    assert settings.any_origin


def test_command_line_goes_before_environment_before_file(tmp_path: Path) -> None:
    file = tmp_path / "lyestock.toml"
    file.write_text(f'port = 1\nworkers = 2\nhost = "::1"\nkey_hashes = ["{HASH}"]\nrequest_seconds = 5\n')
    settings = read_settings(
        {"LYESTOCK_SETTINGS": str(file), "LYESTOCK_PORT": "2", "LYESTOCK_WORKERS": "3"}, None, {"port": 4}
    )
    assert (settings.port, settings.workers, settings.host, settings.request_seconds) == (4, 3, "::1", 5.0)
    assert settings.key_hashes == (HASH,)


def test_lists_are_separated_by_commas_in_the_environment_and_an_empty_variable_is_none() -> None:
    settings = read_settings(
        {
            "LYESTOCK_ALLOWED_ORIGINS": "https://shop.example, http://localhost:3000,",
            "LYESTOCK_TRUSTED_PROXIES": "10.0.0.0/24,::1",
            "LYESTOCK_PORT": "",
            "LYESTOCK_DOCS": "False",
        }
    )
    assert settings.allowed_origins == ("https://shop.example", "http://localhost:3000")
    assert settings.trusted_proxies == ("10.0.0.0/24", "::1")
    assert (settings.port, settings.docs, settings.any_origin) == (8765, False, False)


@pytest.mark.parametrize(
    ("environment", "told"),
    [
        ({"LYESTOCK_PORT": "http"}, ["LYESTOCK_PORT: 'http' cannot be used", "a whole number", "LYESTOCK_PORT = 8765"]),
        ({"LYESTOCK_PORT": "70000"}, ["LYESTOCK_PORT", "<= 65535"]),
        ({"LYESTOCK_PORT": "tcp://10.0.0.1:80"}, ["LYESTOCK_PORT", "enableServiceLinks: false"]),
        ({"LYESTOCK_WORKERS": "0"}, ["LYESTOCK_WORKERS", ">= 1"]),
        ({"LYESTOCK_DOCS": "maybe"}, ["LYESTOCK_DOCS", "true or false"]),
        ({"LYESTOCK_LOG": "xml"}, ["LYESTOCK_LOG", "'xml'", 'write "json" or "off"']),
        ({"LYESTOCK_WORKER": "2"}, ["LYESTOCK_WORKER: there is no such setting", "workers"]),
        ({"LYESTOCK_HEADER_SECONDS": "nan"}, ["LYESTOCK_HEADER_SECONDS"]),
        ({"LYESTOCK_REQUEST_SECONDS": "inf"}, ["LYESTOCK_REQUEST_SECONDS"]),
        ({"LYESTOCK_LARGEST_BODY": "2097152"}, ["LYESTOCK_LARGEST_BODY", "<= 1048576"]),
        ({"LYESTOCK_KEY_HASHES": "lyestock-secret"}, ["key_hashes", "python -m service key"]),
        ({"LYESTOCK_ALLOWED_ORIGINS": "*"}, ["allowed_origins", "'*'", "leave the setting out"]),
        ({"LYESTOCK_ALLOWED_ORIGINS": "https://shop.example/x"}, ["allowed_origins", "without a path"]),
        ({"LYESTOCK_TRUSTED_PROXIES": "0.0.0.0/0"}, ["trusted_proxies", "everybody"]),
        ({"LYESTOCK_TRUSTED_PROXIES": "proxy.example"}, ["trusted_proxies", "10.0.0.0/24"]),
        ({"LYESTOCK_PUBLIC": "true"}, ["public", "no keys are set", "open_to_all = true"]),
        ({"LYESTOCK_OPEN_TO_ALL": "1", "LYESTOCK_KEY_HASHES": HASH}, ["open_to_all: nobody"]),
        ({"lyestock_port": "9"}, ["lyestock_port: settings are written in capitals", "write LYESTOCK_PORT"]),
        ({"Lyestock_Port": "9"}, ["write LYESTOCK_PORT"]),
        ({"LYESTOCK_port": "9"}, ["write LYESTOCK_PORT"]),
        (
            {"LYESTOCK_RATE_PER_ADDRESS": "lots"},
            ["'lots' cannot be used (expected a whole number)", "LYESTOCK_RATE_PER_ADDRESS = 600, or leave it out"],
        ),
        ({"LYESTOCK_RATE_PER_KEY": "0"}, ["LYESTOCK_RATE_PER_KEY", "a whole number", ">= 1", "leave it out"]),
        ({"LYESTOCK_SETTINGS": "/nowhere/lyestock.toml"}, ["/nowhere/lyestock.toml", "cannot be read"]),
    ],
    ids=lambda value: "".join(value) if isinstance(value, dict) else "",
)
def test_a_bad_setting_is_told_with_its_name_and_the_mend(environment: dict[str, str], told: list[str]) -> None:
    (said,) = wrong(environment)
    for part in told:
        assert part in said
    assert "lyestock-secret" not in said


def test_every_bad_setting_is_told_at_once(tmp_path: Path) -> None:
    file = tmp_path / "lyestock.toml"
    file.write_text('workers = "two"\nhosts = "::1"\n')
    said = wrong({"LYESTOCK_PORT": "-1", "LYESTOCK_IDLE_SECONDS": "0"}, str(file))
    assert [one.partition(":")[0] for one in said] == [
        "workers",
        "hosts",
        "LYESTOCK_PORT",
        "LYESTOCK_IDLE_SECONDS",
    ]


@pytest.mark.parametrize("name", FIELDS)
def test_what_is_told_of_a_type_needs_no_knowledge_of_types(name: str, tmp_path: Path) -> None:
    file = tmp_path / "lyestock.toml"
    file.write_text(f"{name} = 1979-05-27\n")
    (said,) = wrong({}, str(file))
    assert said.startswith(f"{name}: ")
    assert not {"`", "|", "null", "int", "str", "float"} & {*said.replace("`", " ` ").replace("|", " | ").split()}


@pytest.mark.parametrize("name", ["key_hashes", "port", "allowed_origins", "log"])
def test_a_key_in_a_wrong_place_is_never_shown(name: str, tmp_path: Path) -> None:
    key, _ = new_key()
    file = tmp_path / "lyestock.toml"
    for text in (f'{name} = "{key}"', f'{name} = {{a = "{key}"}}', f"{key} = 1", f'[[{name}]]\nx = "{key}"'):
        file.write_text(text + "\n")
        for said in wrong({}, str(file)):
            assert key[9:20] not in said
    for said in wrong({f"LYESTOCK_{name.upper()}": key}):
        assert key[9:20] not in said


def test_a_secret_of_another_kind_is_not_shown_in_place_of_hashes(tmp_path: Path) -> None:
    file = tmp_path / "lyestock.toml"
    file.write_text('key_hashes = "hunter2-of-the-house"\n')
    (said,) = wrong({}, str(file))
    assert "hunter2" not in said
    assert "write a list" in said


@pytest.mark.parametrize(("text", "told"), [("port 1", "not TOML"), (b"\xff", "not UTF-8")])
def test_a_file_that_is_none_is_told(tmp_path: Path, text: str | bytes, told: str) -> None:
    file = tmp_path / "lyestock.toml"
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    (said,) = wrong({}, str(file))
    assert told in said
    assert str(file) in said


@pytest.mark.parametrize("word", [{"LYESTOCK_KEY_HASHES": HASH}, {"LYESTOCK_OPEN_TO_ALL": "true"}])
def test_public_starts_with_keys_or_the_explicit_word_and_limits_the_rate(word: dict[str, str]) -> None:
    assert read_settings({"LYESTOCK_PUBLIC": "true", **word}).address_rate == PUBLIC_RATE
    assert read_settings({"LYESTOCK_PUBLIC": "1", "LYESTOCK_RATE_PER_ADDRESS": "7", **word}).address_rate == 7


def test_table_shows_every_setting_and_readme_holds_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["settings"]) == 0
    said = capsys.readouterr().out
    assert said == table()
    assert said.count("\n") == len(FIELDS) + 2
    for name in FIELDS:
        assert f"`LYESTOCK_{name.upper()}`" in said
    assert said in (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("environment", "code"),
    [
        ({}, 0),
        ({"LYESTOCK_PUBLIC": "true"}, 1),
        ({"LYESTOCK_MOST_ITEMS": "many"}, 1),
        ({"LYESTOCK_HOST": "no-such-host.invalid"}, 1),
    ],
)
def test_settings_are_checked_without_serving(
    environment: dict[str, str], code: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert main(["settings", "--check"]) == code
    said = capsys.readouterr()
    assert ("The settings are good." in said.out) == (code == 0)
    assert ("The settings cannot be used." in said.err) == (code == 1)


def test_a_bad_setting_stops_the_start(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setenv("LYESTOCK_DRAIN_SECONDS", "soon")
    assert main([]) == 1
    assert "LYESTOCK_DRAIN_SECONDS: 'soon' cannot be used (expected a number)" in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [["--workers", "0"], ["--port", "65536"]])
def test_a_bad_word_of_the_command_line_is_told(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    code: Any
    try:
        code = main(arguments)
    except SystemExit as stopped:
        code = stopped.code
    assert code in {1, 2}
    assert arguments[0] in capsys.readouterr().err


# What only the machine knows


@pytest.mark.parametrize("host", ["no-such-host.invalid", "a..b", "300.1.1.1", "x" * 300])
def test_a_host_that_is_none_is_told(host: str) -> None:
    for found in (unresolvable(Settings(host=host)), unusable(Settings(host=host))):
        (said,) = map(str, found)
        assert said.startswith("host: ")
        assert "LYESTOCK_HOST" in said


def test_a_port_that_is_taken_is_told_and_one_that_is_free_is_not() -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        (said,) = map(str, unusable(Settings(port=port)))
        assert said.startswith(f"port: 127.0.0.1 port {port} cannot be listened on (address already in use)")
        assert "LYESTOCK_PORT" in said
        assert not unresolvable(Settings(port=port))  # it may be the service itself that is running
    assert not unusable(Settings(port=port))
    assert not unusable(Settings(port=0))
    assert not unusable(Settings(host="localhost", port=0))


def test_an_address_of_another_machine_is_told() -> None:
    (said,) = map(str, unusable(Settings(host="192.0.2.7", port=0)))  # of documentation, RFC 5737
    assert said.startswith("host: ")
    assert "LYESTOCK_HOST" in said


@pytest.mark.parametrize(
    ("settings", "warned"),
    [
        (Settings(), False),
        (Settings(host="localhost"), False),
        (Settings(host="::1"), False),
        (Settings(host="127.8.0.1"), False),
        (Settings(host="0.0.0.0"), True),  # noqa: S104 - that is what is warned of
        (Settings(host="::"), True),
        (Settings(host="192.0.2.7", key_hashes=(HASH,)), True),
        (Settings(host="192.0.2.7", key_hashes=(HASH,), rate_per_address=60), False),
        (Settings(host="0.0.0.0", public=True, open_to_all=True), False),  # noqa: S104
    ],
)
def test_who_listens_to_others_unguarded_is_told_of_public(settings: Settings, warned: bool) -> None:
    assert [("LYESTOCK_PUBLIC" in one and "LYESTOCK_HOST" in one) for one in cautions(settings)] == [True] * warned


def test_too_few_files_are_told_before_callers_are_cut_off(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(resource, "getrlimit", lambda _: (256 + FILES_BESIDE, 4096))
    assert not [*cautions(Settings())]
    (said,) = cautions(Settings(most_concurrent=257))
    assert "LYESTOCK_MOST_CONCURRENT=257 needs 357" in said


def test_the_start_tells_it_in_the_log(tmp_path: Path) -> None:
    with started(tmp_path, LYESTOCK_HOST="0.0.0.0", LYESTOCK_MOST_CONCURRENT="100000") as service:  # noqa: S104
        said = [json.loads(line) for line in service.log.splitlines()]
        warned = [one["message"] for one in said if one["level"] == "warning"]
        assert any("LYESTOCK_PUBLIC=true" in one for one in warned)
        files = resource.getrlimit(resource.RLIMIT_NOFILE)[0]
        assert any("ulimit -n" in one for one in warned) == (0 < files < 100_000 + FILES_BESIDE)
