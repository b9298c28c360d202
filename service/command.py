"""The command line: serve, calculate without a server, and keep the committed contract up to date."""

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TextIO

import msgspec

from service import __version__
from service.calculations.registry import calculations
from service.calculations.shared.faults import Refusal, near
from service.calculations.shared.rendering import MOST_DIGITS, renderer
from service.calculations.values.value_registry import values
from service.http.addresses import BASE
from service.http.operation.settings import DEFAULTS, Settings
from service.http.operation.settings_reading import SettingsError, read_settings, table
from service.http.operation.start_checks import cautions, unresolvable
from service.http.problems import refused
from service.reference import ReferenceDataError


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line.

    Args:
        arguments: words of the command line; those of the process where they are not given.

    Returns:
        Exit code: 0 where it went well, 1 where a request or a comparison failed or a data file is faulty. Wrong usage
        exits with 2.
    """
    parser = _parser()
    said = parser.parse_args(arguments)
    try:
        if said.command == "calculate":
            return _calculate(parser, said)
        if said.command == "contract":
            return _contract(parser, said)
        if said.command == "key":
            return _key()
        if said.command == "settings":
            return _settings(said)
        return _serve(_read_settings(said), lambda: _read_settings(said))
    except SettingsError as error:
        print(f"The settings cannot be used.\n{error}", file=sys.stderr)
        return 1
    except _Unwritable as error:
        print(f"The answer cannot be written: {error}.", file=sys.stderr)
        return 1
    except ReferenceDataError as error:
        print(f"The reference data cannot be used. {error}", file=sys.stderr)
        return 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="lyestock", description="Calculations for soap workshops. Without a command: serve them over HTTP."
    )
    parser.add_argument("--version", action="version", version=f"lyestock {__version__}")
    parser.add_argument("--host", help=f"address to listen on (default {DEFAULTS.host}: this machine only)")
    parser.add_argument("--port", type=_port, help=f"port to listen on (default {DEFAULTS.port})")
    parser.add_argument("--workers", type=int, help=f"processes that serve (default {DEFAULTS.workers})")
    parser.add_argument("--settings", metavar="FILE", help="file of settings (TOML); `lyestock settings` lists them")
    commands = parser.add_subparsers(dest="command", title="commands", metavar="calculate | contract | key | settings")

    calculate = commands.add_parser("calculate", help="answer one request without a server")
    calculate.add_argument("name", help="name of the calculation, such as saponification")
    calculate.add_argument("file", help="file that holds the request as JSON, or - for standard input")
    calculate.add_argument("--units", choices=("metric", "us"), default="metric", help="units of the answer")
    calculate.add_argument("--digits", type=_digits, help="significant digits of the answer")
    calculate.add_argument("--explain", action="store_true", help="answer the steps of the calculation too")

    contract = commands.add_parser("contract", help="print the contract (OpenAPI)")
    contract.add_argument("--check", metavar="FILE", help="compare a file with the contract")
    contract.add_argument("--write", metavar="FILE", help="write the contract to a file")
    contract.add_argument("--examples", metavar="FOLDER", help="write its examples into a folder, a file each")

    commands.add_parser("key", help="make a new key for callers, and its hash for the settings")
    settings = commands.add_parser("settings", help="list the settings of the service")
    settings.add_argument("--check", action="store_true", help="say whether those at hand are good, without serving")
    return parser


def _port(text: str) -> int:
    if text.isascii() and text.isdigit() and int(text) < 1 << 16:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is not a port: give a whole number from 0 to 65535")


def _digits(text: str) -> int:
    if text.isascii() and text.isdigit() and 1 <= int(text) <= MOST_DIGITS:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is not a whole number from 1 to {MOST_DIGITS}")


def _calculate(parser: argparse.ArgumentParser, said: argparse.Namespace) -> int:
    known = calculations()
    if said.name not in known:
        names = ", ".join(known)
        parser.error(f"there is no calculation {said.name!r}{near(said.name, known)}; there are: {names}")
    try:
        body = sys.stdin.buffer.read() if said.file == "-" else Path(said.file).read_bytes()
    except OSError as error:
        parser.error(f"cannot read {said.file}: {error.strerror or error}")
    try:
        answer = known[said.name].run(body, explain=said.explain)
    except Refusal as refusal:
        _print(refused(refusal).document(BASE + said.name), sys.stderr)
        return 1
    _print(renderer(said.units, said.digits)(answer), sys.stdout)
    return 0


def _print(document: bytes, stream: TextIO) -> None:
    """Write a document in UTF-8, whatever the terminal is set to."""
    _write(msgspec.json.format(document, indent=2) + b"\n", stream)


class _Unwritable(Exception):  # noqa: N818 - says what an answer is
    """The disk is full, or the program that reads has gone."""


def _write(document: bytes, stream: TextIO) -> None:
    """Write all of a document.

    Raises:
        _Unwritable: it cannot be written; the stream is then closed without a word, else Python would try once more.
    """
    try:
        stream.buffer.write(document)
        stream.buffer.flush()
    except OSError as error:
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
        raise _Unwritable(error.strerror or str(error)) from None


def _contract(parser: argparse.ArgumentParser, said: argparse.Namespace) -> int:
    from service.http.contract import contract  # noqa: PLC0415 - calculating needs no web framework
    from service.http.contract_bulk import example_files as bulk_files  # noqa: PLC0415
    from service.http.contract_calculations import example_files  # noqa: PLC0415

    made = contract(calculations(), values())
    try:
        if said.check is not None and Path(said.check).read_bytes() != made:
            print(
                f"{said.check} is not the contract that is served.\n"
                f"If the change is meant, run: python -m service contract --write {said.check}\n"
                "and write a line about it into openapi/CHANGELOG.md.",
                file=sys.stderr,
            )
            return 1
        if said.write is not None:
            Path(said.write).write_bytes(made)
        if said.examples is not None:
            files = example_files(calculations()) | bulk_files(calculations())
            for name, example in files.items():
                file = Path(said.examples, name)
                file.parent.mkdir(parents=True, exist_ok=True)
                file.write_bytes(example)
        if said.check is said.write is said.examples is None:
            _write(made, sys.stdout)
    except OSError as error:
        parser.error(f"cannot use {error.filename}: {error.strerror}")
    return 0


def _key() -> int:
    from service.http.operation.keys import new_key  # noqa: PLC0415

    key, digest = new_key()
    print(f"key:  {key}\nhash: {digest}")
    print(
        "Give the key to who may call, and to nobody else: it is shown this once. Put the hash into key_hashes.",
        file=sys.stderr,
    )
    return 0


def _settings(said: argparse.Namespace) -> int:
    if said.check:
        settings = _read_settings(said)
        if wrong := unresolvable(settings):
            raise SettingsError(wrong)
        for caution in cautions(settings):
            print(caution, file=sys.stderr)
        print("The settings are good.")
    else:
        print(table(), end="")
    return 0


def _read_settings(said: argparse.Namespace) -> Settings:
    named = {name: getattr(said, name) for name in ("host", "port", "workers")}
    given = {name: value for name, value in named.items() if value is not None}
    return read_settings(os.environ, said.settings, given)


def _serve(settings: Settings, read_again: Callable[[], Settings]) -> int:
    from service.http.operation.workers import serve  # noqa: PLC0415 - only serving needs a web framework

    return serve(settings, read_again)
