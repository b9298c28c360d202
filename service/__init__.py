"""Lyestock: calculations for soap workshops that work from a concentrated lye stock."""

__version__ = "0.1.0"
