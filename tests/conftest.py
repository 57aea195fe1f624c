"""What all tests share."""

from __future__ import annotations

from hypothesis import settings

# A busy machine is no failure: nothing here is judged by the clock.
settings.register_profile("evenheft", deadline=None)
# For a long look by hand: bash tests/run --hypothesis-profile=deep
settings.register_profile("deep", deadline=None, max_examples=2000)
settings.load_profile("evenheft")
