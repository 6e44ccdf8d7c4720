"""Cutting: speed, feed, chip, finish, time and the materials they depend on."""
