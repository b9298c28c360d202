"""Starts the service as the first process of a container.

The kernel lets a signal pass by a first process that has no handler for it. Told to end while it still loads, the
service would go on, until it is killed once its time to end is over.
"""

import os
import signal
import sys


def _end(_signal: int, _frame: object) -> None:
    os._exit(0)


if __name__ == "__main__":  # and not in the workers, which have this file loaded too
    signal.signal(signal.SIGTERM, _end)
    from service.command import main  # whose server has handlers of its own, which finish what is being served

    sys.exit(main())
