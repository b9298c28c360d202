"""Leaves out of the image what no request needs: the packages' own tests, and this file."""

import shutil
from pathlib import Path


def main() -> None:
    """Remove every folder of tests from the environment this file lies in."""
    here = Path(__file__)
    for folder in list(here.parent.glob("lib/*/site-packages/*/**/tests")):
        if folder.is_dir():  # else it lay within one that is gone
            shutil.rmtree(folder)
    here.unlink()


if __name__ == "__main__":
    main()
