"""Settings: read from three places, and refused with their name and how to mend them."""

from pathlib import Path
from typing import Any

import pytest

from service.command import main
from service.http.operation.settings import DEFAULTS, PUBLIC_RATE
from service.http.operation.settings_reading import FIELDS, SettingsError, read_settings, table

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
    ("environment", "code"), [({}, 0), ({"LYESTOCK_PUBLIC": "true"}, 1), ({"LYESTOCK_MOST_ITEMS": "many"}, 1)]
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
