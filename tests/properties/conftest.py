"""How hard the properties are tried: the same examples on every run, however busy the machine.

`SHEDTALLY_EXAMPLES=2000 pytest tests/properties` tries more, and new ones each time.
"""

import os

from hypothesis import HealthCheck, settings

EXAMPLES = os.environ.get("SHEDTALLY_EXAMPLES")

settings.register_profile(
    "shed",
    max_examples=int(EXAMPLES or 60),
    derandomize=EXAMPLES is None,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("shed")
