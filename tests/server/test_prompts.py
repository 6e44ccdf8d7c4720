"""What a page asks for while too little is given: one sentence, the values in the order of its fields."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient


def prompt(page: str) -> str:
    """What stands in the answer's place."""
    found = re.search(r'<p id="prompt" class="prompt">(.*?)</p>', page)
    assert found
    return found[1]


@pytest.mark.parametrize(
    ("address", "sentence"),
    [
        ("/force", "Give the material, the depth of cut, the feed and the surface speed."),
        ("/force?material=C45&depth=2", "Give the feed and the surface speed."),
        ("/force?material=C45&depth=2&feed=0.2", "Give the surface speed."),
    ],
)
def test_values_that_lack_are_asked_for_in_one_sentence(client: TestClient, address: str, sentence: str) -> None:
    assert prompt(client.get(address).text) == sentence
