"""Whether this process still takes requests, as a balancer asks at /health/ready."""


class Readiness:
    """Told by whoever runs the process.

    Attributes:
        draining: what is being served is finished, and new requests should go elsewhere.
    """

    def __init__(self) -> None:
        self.draining = False


PROCESS = Readiness()
"""That of this process."""
