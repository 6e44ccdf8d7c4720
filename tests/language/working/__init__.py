"""Tests of the recorded working."""
