"""Pages made by hand: the seat of the levelling foot in every state that a feature page has."""

from __future__ import annotations

from dataclasses import replace

from markupsafe import Markup

from server.context import (
    ErrorView,
    GroupView,
    PageView,
    ResultView,
    SectionView,
    StepView,
    SwitchView,
    TableView,
    WorkingView,
)
from server.field_context import ChoiceView, FieldView

SKETCH = Markup(
    '<svg class="sketch" viewBox="0 0 400 380" width="400" height="380" role="img" aria-labelledby="s-t s-d"'
    ' xmlns="http://www.w3.org/2000/svg">'
    '<title id="s-t">Seat, half section</title><desc id="s-d">A dish R 75, 4.5 deep, in a bar of 60.</desc>'
    '<path d="M60 40H300V60A380 380 0 0 0 300 320V340H60" fill="none" stroke="currentColor" stroke-width="2.5"/>'
    '<g data-field="radius"><path d="M360 190 268 150" stroke="currentColor" stroke-width="1.25"/>'
    '<text x="330" y="160" fill="currentColor">R75</text></g>'
    '<g data-field="depth"><path d="M266 350H300" stroke="currentColor" stroke-width="1.25"/>'
    '<text x="266" y="372" fill="currentColor">4.5</text></g></svg>'
)

DETAIL = Markup(
    '<svg class="sketch" viewBox="0 0 220 170" width="220" height="170" role="img" aria-labelledby="{0}-t"'
    ' xmlns="http://www.w3.org/2000/svg"><title id="{0}-t">{1}</title>'
    '<circle cx="110" cy="70" r="50" fill="none" stroke="currentColor" stroke-width="2.5"/>'
    '<text x="20" y="160" fill="currentColor">{1}</text></svg>'
)


def field(name: str, label: str, symbol: str = "", unit: str = "mm", text: str = "", **more: object) -> FieldView:
    """A field that takes a number, as the server would declare it."""
    plain = FieldView(name, label, symbol, "", text, unit, "quantity")
    return replace(plain, **more)  # type: ignore[arg-type]


def choice(name: str, label: str, chosen: str, **choices: str) -> FieldView:
    """A field that offers `choices` (code=words)."""
    views = tuple(ChoiceView(code, words, code == chosen) for code, words in choices.items())
    return FieldView(name, label, "", "", chosen, "", "choice", views)


def quantity(name: str, label: str, symbol: str, digits: str, unit: str = "mm", sign: str = "") -> ResultView:
    """A result as it stands on the page."""
    return ResultView(name, label, symbol, digits, unit, f"{sign}{digits} {unit}".strip())


SWITCHES = (
    SwitchView("units", "Units", (("mm", "/dish?units=mm", True), ("inch", "/dish?units=inch", False))),
    SwitchView("x", "X", (("X diameter", "/dish?x=diameter", True), ("X radius", "/dish?x=radius", False))),
    SwitchView("zplus", "Z", (("+Z out", "/dish?zplus=out", True), ("+Z in", "/dish?zplus=in", False))),
)

PRINT = GroupView(
    "print",
    "On the print",
    (
        field("radius", "Dish radius", "R"),
        field("depth", "Depth", "t"),
        field("mouth_diameter", "Mouth diameter", "D"),
        field("hole_diameter", "Centre hole", "d"),
        choice("break_kind", "Edge at the mouth", "none", none="none", chamfer="chamfer", radius="radius"),
        field("break_size", "Edge size", "e"),
    ),
    "",
    folded=False,
)

INSERT = GroupView(
    "insert",
    "Insert",
    (
        field("nose_radius", "Nose radius", "r", text="6", starting=True),
        choice("tool_point", "Tool point", "2", **{str(number): str(number) for number in range(10)}),
        field("insert", "Insert designation", unit="", text="RCMT 1204M0", role="word"),
    ),
    "round, nose 6, tool point 2",
    folded=True,
)

CUT = GroupView(
    "cut",
    "Cut",
    (
        field("surface_speed", "Surface speed, finishing", "v", "m/min", "220", starting=True),
        field("feed", "Feed, finishing", "f", "mm/rev", "0.20", starting=True),
        field("max_rpm", "Spindle limit", "n", "1/min", "2000", starting=True),
        field("chuck_rpm", "Chuck's marked limit", "", "1/min", hint="as marked on the chuck's face"),
    ),
    "finishing 220 m/min, 0.20 mm/rev, spindle limit 2000 1/min",
    folded=True,
)

EMPTY = PageView(
    path="/dish",
    title="Dish",
    summary="A concave arc in a face, from what the print gives to a plan you can cut.",
    state="empty",
    prompt="Give any two of dish radius, depth and mouth diameter.",
    example=False,
    example_address="/dish?radius=75&depth=4.5&example=seat",
    clear_address="/dish",
    switches=SWITCHES,
    hidden=(("units", "mm"), ("x", "diameter"), ("zplus", "out")),
    groups=(PRINT, INSERT, CUT),
    sketch=SKETCH,
    conventions="X as diameter, +Z away from the chuck.",
)


def with_fields(page: PageView, **changes: dict[str, object]) -> PageView:
    """The page with some of its fields changed: `with_fields(page, radius={"text": "75"})`."""
    groups = tuple(
        replace(
            group,
            fields=tuple(replace(each, **changes.get(each.name, {})) for each in group.fields),  # type: ignore[arg-type]
        )
        for group in page.groups
    )
    return replace(page, groups=groups)


POINTS = SectionView(
    "points",
    "Points",
    tables=(
        TableView(
            "points",
            "Points to key in, from the outside to the axis",
            ("Point", "X, diameter", "Z", "Move", "R", "I, radius", "K"),
            (
                ("Start on the face", "60.000", "0.000", "", "", "", ""),
                ("Edge on the face", "51.637", "0.000", "line", "", "", ""),
                ("Edge on the dish", "50.720", "-0.154", "arc, clockwise G2", "0.800", "0.000", "-0.800"),
                ("Axis", "0.000", "-4.500", "arc, anticlockwise G3", "75.000", "-25.360", "70.654"),
            ),
            "Words are given for ISO axes: X up, +Z away from the chuck.",
        ),
    ),
    sentences=("From the outside to the axis the arc is G3 and the compensation G41; from the axis out G2 and G42.",),
    folded=False,
    summary="4 points",
)

PASSES = SectionView(
    "passes",
    "Passes",
    results=(quantity("time", "Time in the cut", "T", "1.84", "min"),),
    tables=(
        TableView(
            "passes",
            "Passes that follow the dish",
            ("Pass", "Depth, mm", "Length, mm", "Time, min"),
            (
                *((f"Roughing {number}", "0.840", "25.6", "0.31") for number in range(1, 6)),
                ("Finishing", "0.300", "25.7", "0.29"),
            ),
        ),
    ),
    summary="5 roughing and 1 finishing, 1.84 min",
)


def _fraction(top: str, bottom: str) -> str:
    return f"<mfrac><mrow>{top}</mrow><mrow>{bottom}</mrow></mfrac>"


def _mathml(inner: str) -> Markup:
    return Markup(f'<math display="inline">{inner}</math>')


STEP = StepView(
    "Spindle speed at the mouth",
    "at the mouth",
    _mathml(f"<mi>n</mi><mo>=</mo>{_fraction('<mn>1000</mn><mo>⋅</mo><mi>v</mi>', '<mi>π</mi><mo>⋅</mo><mi>D</mi>')}"),
    _mathml(f"<mo>=</mo>{_fraction('<mn>1000</mn><mo>⋅</mo><mn>220</mn>', '<mi>π</mi><mo>⋅</mo><mn>51.176</mn>')}"),
    _mathml("<mo>=</mo><mn>1368</mn><mtext> 1/min</mtext>"),
    "Common practice, no source.",
)

SEAT = replace(
    with_fields(
        EMPTY,
        radius={"text": "75"},
        depth={"text": "4.5"},
        mouth_diameter={"solved": "51.176"},
        break_size={"text": "1/32in", "understood": "= 0.794 mm"},
    ),
    state="answered",
    headline=quantity("mouth_diameter", "Mouth diameter", "D", "51.176", sign="Ø"),
    supporting=(
        quantity("arc_centre_z", "Arc centre Z", "", "70.500"),
        quantity("mouth_angle", "Slope at the mouth", "", "19.951", "deg"),
        quantity("point_axis", "Tool point on the axis, X", "", "12.000"),
        quantity("limit_diameter", "Spindle limit takes over at", "", "35.014", sign="Ø"),
    ),
    echo="R 75, depth 4.5, edge radius 0.8",
    cautions=(
        "The tool point stands beyond the axis, at X12, when the nose cuts the centre line: the insert passes the "
        "axis. Feed no further than X12.",
        "The chuck's marked limit is not given. Read it from the chuck and set the spindle limit below it.",
    ),
    details=(DETAIL.format("a", "Insert at the mouth"), DETAIL.format("b", "Insert on the axis")),
    sections=(POINTS, PASSES),
    working=(WorkingView("", 1, (STEP, STEP)),),
    step_count=2,
    share_address="http://shop.example:8000/dish?radius=75&depth=4.5&mouth_diameter=&units=mm&x=diameter&zplus=out",
    qr_address="/qr?of=%2Fdish",
    date="25 November 2025",
)

WAITING = replace(
    with_fields(EMPTY, radius={"text": "75"}), state="waiting", prompt="One more: the depth or the mouth diameter."
)

EXAMPLE = replace(SEAT, example=True)

_MESSAGE = "With R 75 and 4.5 deep the mouth would be Ø51.176 mm; 60 mm disagrees by 8.824 mm."
WRONG = replace(
    with_fields(
        EMPTY,
        radius={"text": "75"},
        depth={"text": "4.5"},
        mouth_diameter={"text": "60", "error": _MESSAGE},
        feed={"text": "abc", "error": "Feed, finishing must be a number; “abc” is not."},
    ),
    state="error",
    errors=(
        ErrorView("mouth_diameter", "Mouth diameter", _MESSAGE, (("Let the depth go", "/dish?radius=75"),)),
        ErrorView("feed", "Feed, finishing", "Feed, finishing must be a number; “abc” is not."),
    ),
)
WRONG = replace(
    WRONG, groups=tuple(replace(group, has_error=any(each.error for each in group.fields)) for group in WRONG.groups)
)

STATES = {"empty": EMPTY, "seat": SEAT, "waiting": WAITING, "example": EXAMPLE, "wrong": WRONG}
