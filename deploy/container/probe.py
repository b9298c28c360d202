"""Asks the service in this container whether it is ready, for a container engine; exit code 0 where it is.

With the path of a page, such as /metrics, it shows that page to an operator; the key comes by standard input, so that
no list of processes shows it.
"""

import http.client
import os
import sys

READY = "/health/ready"


def main(page: str) -> int:
    """Ask, and give 0 or 1 for the engine."""
    headers = {} if page == READY else {"Authorization": f"Bearer {sys.stdin.readline().strip()}"}
    connection = http.client.HTTPConnection("127.0.0.1", int(os.environ.get("LYESTOCK_PORT") or 8765), timeout=3)
    try:
        connection.request("GET", page, headers=headers)
        answer = connection.getresponse()
        if page != READY:
            sys.stdout.write(answer.read().decode())
        return int(answer.status != http.HTTPStatus.OK)
    except (OSError, http.client.HTTPException) as error:
        print(f"The service does not answer: {error}", file=sys.stderr)
        return 1
    finally:
        connection.close()


if __name__ == "__main__":
    sys.exit(main(*(sys.argv[1:] or [READY])))
