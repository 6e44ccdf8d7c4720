"""How the properties of the contour are tried."""

from hypothesis import settings

settings.register_profile("contour", deadline=None, max_examples=80)
settings.load_profile("contour")
