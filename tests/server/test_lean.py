"""What classes share to save memory says and does the same; without docstrings the API is described as before."""

import json
import math
import os
import subprocess
import sys
from copy import copy
from dataclasses import FrozenInstanceError, dataclass, field
from pathlib import Path

import pytest

from calc.cutting.material_data import Hardness, names_in
from calc.cutting.speed import spindle_speed
from calc.language.messages import Message
from calc.language.quantities import View
from calc.language.working import recording
from deploy import serve
from server import lean
from server.app import create_app

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True)
class Noted:
    """Made as ours are, in a module that is not one of ours."""

    name: str
    inner: object = None
    hidden: int = field(default=0, repr=False)


@pytest.fixture(autouse=True)
def _shared() -> None:
    lean.share_methods()


def test_what_is_shared_is_written_as_it_was() -> None:
    own = repr(Noted("a", Noted("b"), 3))
    assert lean.SHARED["__repr__"](Noted("a", Noted("b"), 3)) == own


def test_our_classes_share_what_says_the_same() -> None:
    assert Hardness.__setattr__ is Message.__setattr__
    assert Hardness.__delattr__ is Message.__delattr__
    assert repr(Message("{n} passes", {"n": 2})).startswith("Message(")


def test_nothing_is_changed_or_lost() -> None:
    hardness = Hardness(200.0, 220.0, "HB", "typed")
    with pytest.raises(FrozenInstanceError, match="cannot assign to field 'low'"):
        hardness.low = 3.0  # type: ignore[misc]
    with pytest.raises(FrozenInstanceError, match="cannot delete field 'low'"):
        del hardness.low
    assert copy(hardness) == hardness
    assert hash(hardness) == hash(Hardness(200.0, 220.0, "HB", "typed"))


def test_values_are_told_apart_by_the_fields_that_count_alone() -> None:
    @dataclass(frozen=True)
    class Counted:
        name: str
        size: float
        seen: int = field(default=0, compare=False)

    made = [Counted("a", math.nan, 1), Counted("a", 2.0, 2), Counted("b", 2.0, 2), Counted("a", 2.0, 3)]
    before = [[one == other for other in made] for one in made], list(map(hash, made))
    lean._share_comparison(Counted)
    assert Counted.__eq__ is Hardness.__eq__
    assert ([[one == other for other in made] for one in made], list(map(hash, made))) == before
    assert made[1].__eq__(("a", 2.0)) is NotImplemented


def test_functions_forget_their_types_and_formulas_show_their_kinds() -> None:
    lean.forget_types()
    assert names_in.__annotations__ == {}
    assert names_in("C45; 1.0503") == ("C45", "1.0503")
    with recording() as steps:
        spindle_speed(200_000.0, 25.0)
    assert steps[0].plain(View()).value == "= 2546 1/min"


def test_a_class_that_is_written_in_its_own_way_stays_so() -> None:
    assert Noted.__setattr__ is not Hardness.__setattr__


def test_without_docstrings_the_api_is_described_in_the_same_words() -> None:
    code = "import json; from server.app import create_app; print(json.dumps(create_app().openapi()))"
    environ = {**os.environ, **serve.COMPACT}
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, env=environ, capture_output=True, text=True, check=True
    )
    assert json.loads(done.stdout) == json.loads(json.dumps(create_app().openapi()))
