"""Property tests here time out by no clock: the machine may be shared."""

from hypothesis import settings

settings.register_profile("ball", deadline=None)
settings.load_profile("ball")
