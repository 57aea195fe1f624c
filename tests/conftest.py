"""What all tests share."""

from __future__ import annotations

from hypothesis import settings

# A busy machine is no failure: nothing here is judged by the clock.
settings.register_profile("evenheft", deadline=None)
settings.load_profile("evenheft")
