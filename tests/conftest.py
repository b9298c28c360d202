"""Settings of all tests."""

import os

from hypothesis import settings

# The same examples on every run: a test that fails here fails there. HYPOTHESIS_PROFILE=wide looks farther by hand.
settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("wide", max_examples=2000, deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "same"))
