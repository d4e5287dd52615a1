"""For every test: no clock decides. Machines are busy at times, and slow is not wrong."""

from hypothesis import settings

settings.register_profile("no clock", deadline=None)
settings.load_profile("no clock")
