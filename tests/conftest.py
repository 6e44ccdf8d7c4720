"""How hard the properties are tried: `HYPOTHESIS_PROFILE=thorough` takes its time, the usual run does not.

A test that sets its own number of examples keeps it.
"""

import os

from hypothesis import settings

settings.register_profile("usual", deadline=None, max_examples=80)
settings.register_profile("thorough", deadline=None, max_examples=1000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE") or "usual")
