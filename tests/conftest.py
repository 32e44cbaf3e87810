"""How hypothesis looks for examples, the same ones every time (``--hypothesis-profile=search`` looks further);
and a folder of the run's own for what the program keeps beside itself.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("search", max_examples=5000, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")


@pytest.fixture(scope="session", autouse=True)
def own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What a test makes the program keep stays out of the user's own folder."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("YARNCHAT_CACHE", str(tmp_path_factory.mktemp("cache")))
        yield
