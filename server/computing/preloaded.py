"""Imported by the process from which computing processes are forked: makes everything ready once, for all of them."""

from server.computing.worker import warm

warm()
