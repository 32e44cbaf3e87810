"""How hypothesis looks for examples: the same ones every time; ``--hypothesis-profile=search`` looks further."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("search", max_examples=5000, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")
