"""Drawings on their way to the site: shapes and words, or refused."""

from __future__ import annotations

import pytest

from logbook.writing.drawings import UnfitPicture, clean_drawing, drawing_size

SECRET = "52.5163 N 13.3777 E, camera 4711"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'


@pytest.mark.parametrize(
    "inside",
    [
        "><script>alert(1)</script></svg>",
        ' onload="alert(1)"></svg>',
        '><g ONCLICK="alert(1)"/></svg>',
        "><foreignObject><p>x</p></foreignObject></svg>",
        '><a href="javascript:alert(1)"><path d="M0 0"/></a></svg>',
        '><a xlink:href=" java&#115;cript:alert(1)"><path d="M0 0"/></a></svg>',
        '><image href="https://example.org/a.png"/></svg>',
        '><image xlink:href="//example.org/a.png"/></svg>',
        '><image href="data:image/svg+xml;base64,PHN2Zy8+"/></svg>',
        '><use href="other.svg#a"/></svg>',
        '><rect fill="url(https://example.org/a.svg#b)"/></svg>',
        '><rect style="fill: URL( &quot;https://example.org/a&quot; )"/></svg>',
        '><rect style="fill:\\75rl(https://example.org/a)"/></svg>',
        "><style>@import 'https://example.org/a.css';</style></svg>",
        "><style>rect { background: image-set('https://example.org/a' 1x) }</style></svg>",
        '><set attributeName="href" to="javascript:alert(1)"/></svg>',
        '><animate attributeName="onclick" values="alert(1)"/></svg>',
        ' xml:base="https://example.org/"><use href="#a"/></svg>',
        '><x:script xmlns:x="http://www.w3.org/1999/xhtml">alert(1)</x:script></svg>',
        "><g></svg>",
        ">" + "<g>" * 100_000 + "</g>" * 100_000 + "</svg>",
    ],
)
def test_a_drawing_that_does_more_than_draw_is_refused(inside: str) -> None:
    """Scripts, handlers, foreign content and every way of calling out are refused."""
    with pytest.raises(UnfitPicture):
        clean_drawing(f"{SVG}{inside}".encode())


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"<html></html>",
        b"\xff\xfe<\0s\0v\0g\0",
        b'<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><svg>&b;</svg>',
        b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]><svg>&x;</svg>',
    ],
)
def test_what_is_no_plain_drawing_is_refused(data: bytes) -> None:
    """Other documents, other encodings and entities are refused."""
    with pytest.raises(UnfitPicture):
        clean_drawing(data)


def test_a_plain_drawing_keeps_its_shapes_and_loses_the_rest() -> None:
    """Shapes, words and links within stay; comments, instructions and editors' notes go."""
    drawing = (
        f'<?xml version="1.0"?><?xml-stylesheet href="https://example.org/a.css"?><!-- {SECRET} -->'
        f'{SVG} xmlns:ed="https://example.org/ed" ed:docname="C:/{SECRET}" data-by="{SECRET}"'
        ' viewBox="0 0 9 9">'
        f"<metadata>{SECRET}</metadata><ed:view>{SECRET}</ed:view><title>A dish</title>"
        '<defs><g id="a"><path d="M0 0h9"/></g></defs><use xlink:href="#a"/>'
        '<rect fill="url(#a)" style="stroke:#000"/></svg>'
    )
    clean = clean_drawing(drawing.encode()).decode()
    assert SECRET not in clean
    assert "example.org" not in clean
    for kept in ("viewBox", "<title>A dish</title>", 'd="M0 0h9"', '="#a"', "url(#a)", "#000"):
        assert kept in clean


@pytest.mark.parametrize(
    ("box", "size"),
    [
        ("0 0 640 400", (640, 400)),
        ("-5,-5, 30.0 ,20", (30, 20)),
        ("0 0 0 400", (0, 0)),
        ("0 0 1e9 1", (0, 0)),
        ("0 0 999999999 1", (0, 0)),
        ("x", (0, 0)),
        ('0 0 " 1', (0, 0)),
    ],
)
def test_the_room_of_a_drawing_is_its_view_box(box: str, size: tuple[int, int]) -> None:
    """The last two numbers of viewBox (SVG 1.1, 7.7); nothing where they are no plain numbers."""
    quoted = box.replace('"', "&quot;")
    assert drawing_size(f'{SVG} viewBox="{quoted}"></svg>'.encode()) == size
