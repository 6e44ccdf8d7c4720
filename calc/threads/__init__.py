"""Screw threads: sizes and limits by designation, checking, cutting, and what surrounds them on a part."""
