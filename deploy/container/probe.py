"""Asks the service in this container whether it is ready, for a container engine; exit code 0 where it is."""

import http.client
import os
import sys


def main() -> int:
    """Ask, and give 0 or 1 for the engine."""
    connection = http.client.HTTPConnection("127.0.0.1", int(os.environ.get("LYESTOCK_PORT") or 8765), timeout=3)
    try:
        connection.request("GET", "/health/ready")
        return int(connection.getresponse().status != http.HTTPStatus.OK)
    except (OSError, http.client.HTTPException) as error:
        print(f"The service does not answer: {error}", file=sys.stderr)
        return 1
    finally:
        connection.close()


if __name__ == "__main__":
    sys.exit(main())
