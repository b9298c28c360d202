"""How settings are read: from the command line, the environment and a file, and what is wrong with them.

read_settings   from all three
SettingsError   every fault, each with the name of the setting and how to mend it
table           all settings, as README shows them
"""

import ipaddress
import re
import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, Final, NamedTuple

import msgspec

from service.calculations.shared.faults import near, quoted
from service.http.operation.hidden_keys import without_keys
from service.http.operation.settings import Settings

PREFIX: Final = "LYESTOCK_"
"""How the environment variables begin."""
FILE: Final = PREFIX + "SETTINGS"
"""The variable that names the file."""
KEY_HASH: Final = re.compile(r"sha256:[0-9a-f]{64}\Z")
_ORIGIN: Final = re.compile(r"https?://[a-z0-9.-]+(?::[0-9]{1,5})?\Z")


class Wrong(NamedTuple):
    """What is wrong with a setting."""

    name: str
    detail: str
    mend: str

    def __str__(self) -> str:
        return without_keys(f"{self.name}: {self.detail}; {self.mend}")  # what was given may be a key in a wrong place


class SettingsError(Exception):
    """Settings that cannot be used.

    Attributes:
        wrong: every fault found.
    """

    def __init__(self, wrong: Iterable[Wrong]) -> None:
        self.wrong = tuple(wrong)
        super().__init__("\n".join(map(str, self.wrong)))


FIELDS: Final = {field.name: field for field in msgspec.structs.fields(Settings)}


def read_settings(
    environment: Mapping[str, str], file: str | None = None, said: Mapping[str, Any] | None = None
) -> Settings:
    """Read the settings: the words of the command line before the environment, that before the file.

    Args:
        environment: variables of the process; those that begin with LYESTOCK_ are settings.
        file: path of a TOML file; where it is not given, the one that LYESTOCK_SETTINGS names, if any.
        said: settings that the command line gives.

    Raises:
        SettingsError: with every fault found.
    """
    wrong: list[Wrong] = []
    found: dict[str, Any] = {}
    path = file or environment.get(FILE)
    for name, value in _of_file(path, wrong).items():
        _take(name, value, name, found, wrong, strict=True)
    for variable, text in environment.items():
        if not variable.upper().startswith(PREFIX) or variable == FILE or not text:
            continue
        if not variable.isupper():
            detail = "settings are written in capitals, and this would be passed over"
            wrong.append(Wrong(variable, detail, f"write {variable.upper()}"))
        else:
            _take(variable.removeprefix(PREFIX).lower(), text, variable, found, wrong, strict=False)
    for name, value in (said or {}).items():
        _take(name, value, f"--{name}", found, wrong, strict=True)
    if not wrong:
        settings = Settings(**found)
        wrong.extend(_at_odds(settings))
    if wrong:
        raise SettingsError(wrong)
    return settings


def _of_file(path: str | None, wrong: list[Wrong]) -> dict[str, Any]:
    if not path:
        return {}
    try:
        return tomllib.loads(Path(path).read_text(encoding="utf-8"))
    except OSError as error:
        wrong.append(Wrong(path, f"the file cannot be read ({error.strerror or error})", "name a file that is there"))
    except UnicodeDecodeError:
        wrong.append(Wrong(path, "the file is not UTF-8", "save it in UTF-8"))
    except tomllib.TOMLDecodeError as error:
        wrong.append(
            Wrong(path, f"the file is not TOML ({error})", 'write lines such as: port = 8765, or host = "::1"')
        )
    return {}


def _take(name: str, value: Any, told: str, found: dict[str, Any], wrong: list[Wrong], *, strict: bool) -> None:
    """Take a setting, or what is wrong with it.

    Args:
        name: of the setting.
        value: as it is given.
        told: what it is called where it is given.
        found: the settings taken so far.
        wrong: the faults found so far.
        strict: whether the value has a type already; else it is text.
    """
    field = FIELDS.get(name)
    if field is None:
        wrong.append(Wrong(told, f"there is no such setting{near(name, FIELDS)}", f"leave it out; there are {_ALL}"))
        return
    if not strict and field.default == ():
        value = [part.strip() for part in value.split(",") if part.strip()]
    if not strict and isinstance(field.default, bool):
        value = value.lower()
    try:
        found[name] = msgspec.convert(value, field.type, strict=strict)
    except msgspec.ValidationError as error:
        shown = quoted(value if isinstance(value, str) else repr(value))
        if name == "key_hashes":
            shown = "what is given"  # it may be a key
        if isinstance(value, str) and value.startswith("tcp://"):
            mend = "Kubernetes sets it for a Service of this name: write enableServiceLinks: false into the Pod"
        else:
            mend = (
                _MENDS.get(name)
                or f"write for instance {told if told.startswith('--') else told + ' ='} {_example(name)}"
            )
            if field.default is None:
                mend += ", or leave it out for no limit of its own"
        wrong.append(Wrong(told, f"{shown} cannot be used ({_plain(error)})", mend))


def _plain(error: msgspec.ValidationError) -> str:
    """What msgspec says, in words that need no knowledge of types."""
    said = str(error).partition(" - at ")[0]
    said = said.partition(", got ")[0] if "`, got " in said else said
    said = re.sub(r"`([a-z |]+)`", lambda found: _words(found[1]), said)
    return said[:1].lower() + said[1:]


def _words(types: str) -> str:
    """Types, such as `int | null`, in words; that a setting may be left out is said elsewhere."""
    return " or ".join(_KINDS.get(one, one) for one in types.split(" | ") if one != "null")


def _example(name: str) -> str:
    default = FIELDS[name].default
    return str(default).lower() if isinstance(default, bool) else str(default or 600)


def _at_odds(settings: Settings) -> Iterable[Wrong]:
    """What the types cannot say."""
    for one in settings.key_hashes:
        if not KEY_HASH.match(one):
            yield Wrong(
                "key_hashes",
                "one of them is not the hash of a key (a key itself does not belong here)",
                "make one with: python -m service key",
            )
    for one in settings.allowed_origins:
        if not _ORIGIN.match(one):
            mend = "write it as https://shop.example, in small letters and without a path"
            if one == "*":
                mend = "leave the setting out: any origin may call where no keys are set; where they are, name each"
            yield Wrong("allowed_origins", f"{quoted(one)} is not an origin", mend)
    for one in settings.trusted_proxies:
        if (why := _no_network(one)) is not None:
            yield Wrong("trusted_proxies", f"{quoted(one)} {why}", "write it as 10.0.0.5 or 10.0.0.0/24")
    if settings.open_to_all and settings.key_hashes:
        yield Wrong(
            "open_to_all",
            "nobody is to need a key, and keys are set",
            "leave out open_to_all if callers are to show a key, or key_hashes if they are not",
        )
    if settings.public and not settings.key_hashes and not settings.open_to_all:
        yield Wrong(
            "public",
            "strangers can reach it, and no keys are set",
            "set key_hashes (make one with: python -m service key), or open_to_all = true if nobody is to need a key",
        )


def _no_network(text: str) -> str | None:
    """Why a text is not the address of a proxy or of its network."""
    try:
        network = ipaddress.ip_network(text)
    except ValueError as error:
        return f"is not an address or network ({error})"
    return "is everybody, whom nobody should trust" if network.prefixlen == 0 else None


_KINDS: Final = {
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false",
    "str": "a text",
    "array": "a list",
}
_ALL: Final = ", ".join(FIELDS)
_MENDS: Final = {
    "host": 'write an address, such as "127.0.0.1"',
    "log": 'write "json" or "off"',
    "build": "write a text of at most 100 characters",
    "key_hashes": "write a list, or in the environment the hashes separated by commas",
    "allowed_origins": "write a list, or in the environment the origins separated by commas",
    "trusted_proxies": "write a list, or in the environment the addresses separated by commas",
}


def table() -> str:
    """All settings, as a table in Markdown."""
    rows = ["| environment variable | default | meaning |", "|---|---|---|"]
    for name, field in FIELDS.items():
        default = field.default
        written = f"{default:g}" if isinstance(default, float) else _example(name)
        shown = "none" if default in {None, "", ()} else f"`{written}`"
        rows.append(f"| `{PREFIX}{name.upper()}` | {shown} | {_description(field)} |")
    return "\n".join(rows) + "\n"


def _description(field: Any) -> str:
    described: str = field.type.__metadata__[-1].description
    return described
