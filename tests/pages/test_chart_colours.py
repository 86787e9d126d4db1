"""Series are told apart by colour, whatever the reader's eyes, and without any colour."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import combinations
from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt

import pytest

from logbook.pages.charts.view import UNKNOWN
from logbook.pages.metal_marks import METAL_MARKS, OTHER
from tests.pages.shown import THEME

LOOKS = (*METAL_MARKS.values(), OTHER)
THEMES = THEME.parent
PAPERS = ("paper", "sheet")
LEAST = 10.0  # CIEDE2000: about 2 is seen when looked for, 10 at a glance (from memory)
Triple = tuple[float, float, float]

# Machado, Oliveira and Fernandes, "A physiologically-based model for simulation of color vision
# deficiency", IEEE Trans. Vis. Comput. Graph. 15 (2009), severity 1.0, on linear RGB.
EYES: dict[str, tuple[Triple, Triple, Triple]] = {
    "all cones": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
# IEC 61966-2-1, linear sRGB to CIE XYZ with white at D65.
TO_XYZ = (
    (0.4124, 0.3576, 0.1805),
    (0.2126, 0.7152, 0.0722),
    (0.0193, 0.1192, 0.9505),
)
WHITE = (0.9505, 1.0, 1.089)


def linear(colour: str) -> Triple:
    """An sRGB colour in linear light (IEC 61966-2-1)."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return red, green, blue


def times(matrix: Sequence[Triple], light: Triple) -> Triple:
    """A matrix times a column."""
    first, second, third = (
        sum(one * other for one, other in zip(row, light, strict=True)) for row in matrix
    )
    return first, second, third


def lab(light: Triple) -> Triple:
    """CIE L*a*b* of linear sRGB (CIE 15)."""

    def root(share: float) -> float:
        return share ** (1 / 3) if share > 216 / 24389 else (24389 / 27 * share + 16) / 116

    x, y, z = (
        root(value / white) for value, white in zip(times(TO_XYZ, light), WHITE, strict=True)
    )
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def seen(colour: str, eyes: str) -> Triple:
    """What eyes of a kind see of a colour."""
    red, green, blue = (min(max(part, 0.0), 1.0) for part in times(EYES[eyes], linear(colour)))
    return lab((red, green, blue))


def difference(one: Triple, other: Triple) -> float:
    """The colour difference CIEDE2000 (CIE 142; Sharma, Wu and Dalal 2005)."""
    (l1, a1, b1), (l2, a2, b2) = one, other
    mean7 = ((hypot(a1, b1) + hypot(a2, b2)) / 2) ** 7
    stretch = 1.0 + 0.5 * (1.0 - sqrt(mean7 / (mean7 + 25.0**7)))
    c1, c2 = hypot(a1 * stretch, b1), hypot(a2 * stretch, b2)
    h1, h2 = (degrees(atan2(b, a * stretch)) % 360 for a, b in ((a1, b1), (a2, b2)))
    grey = not c1 * c2
    turn = 0.0 if grey else (h2 - h1 + 180.0) % 360.0 - 180.0
    hue = h1 + h2 if grey else (h1 + turn / 2.0) % 360.0
    light, chroma = (l1 + l2) / 2.0, (c1 + c2) / 2.0
    weight = (
        1.0
        - 0.17 * cos(radians(hue - 30.0))
        + 0.24 * cos(radians(2.0 * hue))
        + 0.32 * cos(radians(3.0 * hue + 6.0))
        - 0.20 * cos(radians(4.0 * hue - 63.0))
    )
    dl = (l2 - l1) / (1.0 + 0.015 * (light - 50.0) ** 2 / sqrt(20.0 + (light - 50.0) ** 2))
    dc = (c2 - c1) / (1.0 + 0.045 * chroma)
    dh = 2.0 * sqrt(c1 * c2) * sin(radians(turn / 2.0)) / (1.0 + 0.015 * chroma * weight)
    bend = -2.0 * sqrt(chroma**7 / (chroma**7 + 25.0**7))
    bend *= sin(radians(60.0 * exp(-(((hue - 275.0) / 25.0) ** 2))))
    return sqrt(dl * dl + dc * dc + dh * dh + bend * dc * dh)


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        ((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485), 2.0425),
        ((50.0, 3.1571, -77.2803), (50.0, 0.0, -82.7485), 2.8615),
        ((50.0, 2.8361, -74.0200), (50.0, 0.0, -82.7485), 3.4412),
        ((50.0, -1.3802, -84.2814), (50.0, 0.0, -82.7485), 1.0000),
        ((50.0, 2.5, 0.0), (73.0, 25.0, -18.0), 27.1492),
        ((50.0, 2.5, 0.0), (61.0, -5.0, 29.0), 22.8977),
        ((50.0, 2.5, 0.0), (56.0, -27.0, -3.0), 31.9030),
        ((50.0, 2.5, 0.0), (58.0, 24.0, 15.0), 19.4535),
    ],
)
def test_the_measure_of_difference_is_the_published_one(
    one: Triple, other: Triple, expected: float
) -> None:
    """Sharma, Wu and Dalal, Color Res. Appl. 30 (2005) 21, Table 1."""
    assert difference(one, other) == pytest.approx(expected, abs=5e-5)


@pytest.mark.parametrize("eyes", EYES)
def test_series_can_be_told_apart_by_all_eyes(eyes: str) -> None:
    """Any two of the colours stay apart, with all cones and with each kind of them lacking."""
    for one, other in combinations([look.colour for look in LOOKS], 2):
        apart = difference(seen(one, eyes), seen(other, eyes))
        assert apart >= LEAST, (eyes, one, other, apart)


def test_series_can_be_told_apart_without_colour() -> None:
    """No two share a dash or a marker."""
    for one, other in combinations(LOOKS, 2):
        assert one.dash != other.dash
        assert one.dashes != other.dashes
        assert one.symbol != other.symbol
        assert one.outline != other.outline
    assert UNKNOWN.symbol not in {look.symbol for look in LOOKS}


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2, definitions)."""
    red, green, blue = linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours (WCAG 2.2, definitions)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def colours(theme: str, scheme: str) -> dict[str, str]:
    """The named colours of a theme's sheet, for the light or the dark scheme."""
    sheet = (THEMES / theme / "assets" / f"{theme}.css").read_text(encoding="utf-8")
    light, dark = sheet.split("@media (prefers-color-scheme: dark)", 1)
    block = light if scheme == "light" else dark.split("\n}\n", 1)[0]
    return dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", block))


SCHEMES = [(theme, scheme) for theme in ("bench", "fair-copy") for scheme in ("light", "dark")]


@pytest.mark.parametrize(("theme", "scheme"), SCHEMES)
def test_series_stand_out_from_the_paper(theme: str, scheme: str) -> None:
    """Graphics keep a contrast of 3 to 1 (WCAG 2.2, 1.4.11), in each theme, light and dark."""
    found = colours(theme, scheme)
    for look in (*LOOKS, UNKNOWN):
        for paper in PAPERS:
            assert contrast(look.colour, found[paper]) >= 3.0, (look.colour, paper)


@pytest.mark.parametrize(("theme", "scheme"), SCHEMES)
def test_text_can_be_read(theme: str, scheme: str) -> None:
    """Text keeps a contrast of 4.5 to 1 on the paper it stands on (WCAG 2.2, 1.4.3)."""
    found = colours(theme, scheme)
    pairs = [(ink, "paper") for ink in ("ink", "soft", "link", "danger", "warning")]
    pairs += [(ink, "danger-paper") for ink in ("ink", "soft", "danger", "link")]
    pairs += [(ink, "warning-paper") for ink in ("ink", "soft", "warning", "danger", "link")]
    pairs += [(ink, "here") for ink in ("ink", "soft", "link")] + [("ink", "sheet")]
    for ink, paper in pairs:
        assert contrast(found[ink], found[paper]) >= 4.5, (ink, paper)
