"""What all tests share: how many cases are generated, in the everyday run and in the thorough one."""

from hypothesis import HealthCheck, settings

settings.register_profile("everyday", max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("thorough", settings.get_profile("everyday"), max_examples=1500)
settings.load_profile("everyday")
