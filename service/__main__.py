"""`python -m service`."""

import sys

from service.command import main

if __name__ == "__main__":
    sys.exit(main())
