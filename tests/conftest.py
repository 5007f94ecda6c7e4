"""What holds for every test."""

from hypothesis import HealthCheck, settings

# No example is held to a time: the checks also run on slow machines that others share.
settings.register_profile("patient", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("patient")
