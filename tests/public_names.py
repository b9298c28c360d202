"""The public names of each layer, found by looking; `python -m tests.public_names` writes the listing anew.

A public name is a function, a class or a constant of a module, without an underscore, and defined there.
"""

import inspect
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from types import FunctionType, ModuleType
from typing import Final

ROOT: Final = Path(__file__).parents[1]
LAYERS: Final = ("reference", "chemistry", "calculations", "http")
LISTING: Final = Path(__file__).parent / "public_names.txt"


def modules(layer: str) -> Iterator[ModuleType]:
    """The modules of a layer, its package first."""
    for path in sorted((ROOT / "service" / layer).rglob("*.py")):
        dotted = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        yield import_module(dotted.removesuffix(".__init__"))


def public(module: ModuleType) -> dict[str, object]:
    """What a module defines for others to use."""
    return {
        name: thing
        for name, thing in sorted(vars(module).items())
        if not name.startswith("_") and _own(name, thing, module)
    }


def _own(name: str, thing: object, module: ModuleType) -> bool:
    if inspect.isclass(thing) or callable(thing):
        return getattr(thing, "__module__", None) == module.__name__
    return name.isupper() and f"\n{name}" in inspect.getsource(module)


def functions(module: ModuleType) -> Iterator[tuple[str, FunctionType]]:
    """The public functions of a module, and the public methods of its public classes."""
    for name, thing in public(module).items():
        called = inspect.unwrap(thing) if callable(thing) else thing
        if isinstance(called, FunctionType):
            yield name, called
        elif inspect.isclass(thing):
            for inner, method in vars(thing).items():
                plain = method.fget if isinstance(method, property) else getattr(method, "__func__", method)
                if (
                    not inner.startswith("_")
                    and isinstance(plain, FunctionType)
                    and plain.__module__ == module.__name__
                ):
                    yield f"{name}.{inner}", plain


def listing() -> str:
    """One line for each module, with the names it offers."""
    lines = ["# Public names of each layer; written by python -m tests.public_names, and compared by a test."]
    for layer in LAYERS:
        lines += ["", f"[{layer}]"]
        lines += [
            f"{module.__name__}: {' '.join(public(module))}".rstrip() for module in modules(layer) if public(module)
        ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    LISTING.write_text(listing(), encoding="utf-8")
