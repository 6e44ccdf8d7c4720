"""Tests of the house as a whole: what holds for every module, every page and every document."""
