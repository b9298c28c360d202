"""What nginx may put into files and memory fits into the volumes that its containers have."""

import re
from typing import Final

import pytest

from tests.deployment.manifests import NGINX, compose, container, resource

MIB: Final = 1 << 20
FETCHED: Final = 64 * MIB
"""Room for answers that are fetched while all that may be kept is kept: nginx throws away afterwards."""
OWN: Final = 64 * MIB
"""What nginx's processes take for themselves, connections and zones not counted."""
FILES: Final = "/var/cache/nginx"


def _configuration(where: str) -> str:
    clustered: str = resource("ConfigMap", "lyestock-proxy")["data"]["nginx.conf"]
    return NGINX.read_text(encoding="utf-8") if where == "compose" else clustered


def _one(pattern: str, text: str) -> str:
    """What a pattern finds; the same wherever it stands."""
    [found] = set(re.findall(pattern, text, re.MULTILINE))
    one: str = found
    return one


def _bytes(text: str) -> int:
    """What nginx, Kubernetes or compose says as 32m, 576Mi or 1g, as bytes."""
    number, unit = re.fullmatch(r"(\d+)([kmg])i?", text.lower()).groups()  # type: ignore[union-attr]
    return int(number) << {"k": 10, "m": 20, "g": 30}[unit]


def _most(zone: str, text: str) -> int:
    return int(_one(rf"^\s*limit_conn {zone} (\d+);", text))


def _bodies(text: str) -> int:
    """Bytes of all bodies that can lie in files at once."""
    sizes = sorted({_bytes(size) for size in re.findall(r"client_max_body_size (\d+m);", text)})
    assert len(sizes) == 2
    return _most("filed_together", text) * sizes[0] + _most("long_together", text) * sizes[1]


def _held(text: str) -> int:
    """Bytes of all bodies and answers that can be in memory at once, and of what is counted there."""
    count, size = re.findall(r"^\s*proxy_buffers (\d+) (\d+k);", text, re.MULTILINE)[0]
    body = _bytes(_one(r"^\s*client_body_buffer_size (\d+k);", text))
    zones = sum(_bytes(size) for size in re.findall(r"(?:keys_)?zone=\w+:(\d+[mk])", text))
    return _most("together", text) * (body + int(count) * _bytes(size)) + zones


def _room(where: str) -> tuple[int, int, int]:
    """Bytes of the volume for files, of those that count as memory, and of the memory."""
    if where == "compose":
        proxy = compose()["services"]["proxy"]
        sizes = {mount.split(":")[0]: _bytes(_one(r"size=(\d+m)", mount.split(":")[1])) for mount in proxy["tmpfs"]}
        return sizes[FILES], sum(sizes.values()), _bytes(proxy["mem_limit"])
    [name] = [one["name"] for one in container("lyestock-proxy")["volumeMounts"] if one["mountPath"] == FILES]
    volumes = resource("Deployment", "lyestock-proxy")["spec"]["template"]["spec"]["volumes"]
    empty = {one["name"]: one["emptyDir"] for one in volumes if "emptyDir" in one}
    in_memory = sum(_bytes(one["sizeLimit"]) for one in empty.values() if one.get("medium") == "Memory")
    return (
        _bytes(empty[name]["sizeLimit"]),
        in_memory,
        _bytes(container("lyestock-proxy")["resources"]["limits"]["memory"]),
    )


@pytest.mark.parametrize("where", ["compose", "kubernetes"])
def test_bodies_and_kept_answers_fit_into_the_volume(where: str) -> None:
    text = _configuration(where)
    kept = _bytes(_one(r"^\s*proxy_cache_path .* max_size=(\d+m) ", text))
    files, in_memory, memory = _room(where)
    assert _bodies(text) + kept + FETCHED <= files
    assert _held(text) + in_memory + OWN <= memory


@pytest.mark.parametrize("where", ["compose", "kubernetes"])
def test_wherever_bodies_are_taken_their_lines_are_bounded(where: str) -> None:
    text = _configuration(where)
    places = re.findall(r"^ *location (?:= )?(\S+) \{\n(.*?)\n +\}", text, re.MULTILINE | re.DOTALL)
    large = {path: body for path, body in places if "client_max_body_size 32m;" in body}
    assert set(large) == {"/v1/production-plan", "/v1/bulk/"}
    for body in large.values():
        zones = re.findall(r"limit_conn (\w+) \d+;", body)
        assert zones == ["lines", "together", "filed_lines", "filed_together", "long_lines", "long_together"]
    others = [body for path, body in places if path not in large]
    assert not [body for body in others if "limit_conn" in body], "what the server says holds everywhere else"
    assert _one(r"^\s*proxy_max_temp_file_size (\w+);", text) == "0"
    # As many as it says in the comment.
    assert f"= {_bodies(text) // MIB} MiB" in text


@pytest.mark.parametrize("where", ["compose", "kubernetes"])
def test_what_counts_as_in_memory_fits_into_the_buffer(where: str) -> None:
    text = _configuration(where)
    digits = int(_one(r'"~\^\[0-9\]\{0,(\d)\}:\$" in_memory;', text))
    assert 10**digits - 1 <= _bytes(_one(r"^\s*client_body_buffer_size (\d+k);", text))
    digits = int(_one(r'"~\^\[0-9\]\{(\d)\}:\$" in_a_file;', text))
    assert 10**digits - 1 <= MIB
