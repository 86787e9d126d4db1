"""SVG drawings made fit for the site: only shapes and words, nothing that acts or calls out.

What is written is what was checked: the drawing is built anew from its parsed tree, without
comments, instructions and whatever is not SVG (editors leave names and folders in there).
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from xml.etree.ElementTree import Element

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
LARGEST = 5_000_000  # bytes
TOO_WIDE = 100_000  # units of a view box
_NUMBER = r"\d{1,9}(?:\.\d{0,9})?"
VIEW_BOX = re.compile(
    rf"\s*-?{_NUMBER}[\s,]+-?{_NUMBER}[\s,]+(?P<width>{_NUMBER})[\s,]+(?P<height>{_NUMBER})\s*"
)
ACTING = frozenset(
    {"audio", "embed", "foreignobject", "handler", "iframe", "listener", "object", "script"}
    | {"video"}
)
ANIMATING = frozenset({"animate", "animatemotion", "animatetransform", "discard", "set"})
CALLS = re.compile(  # an address that is no place in the drawing, or words that could hide one
    r"url\s*\(\s*[\"']?\s*(?![#\"'\s])|image-set\s*\(|@import|\\", re.IGNORECASE
)

ElementTree.register_namespace("", SVG)
ElementTree.register_namespace("xlink", XLINK)


class UnfitPicture(Exception):  # noqa: N818 - the picture is at fault, not the program
    """A picture cannot be shown on the site; the words say why."""


def clean_drawing(data: bytes) -> bytes:
    """A drawing without anything but its shapes; raises `UnfitPicture` where it does more.

    >>> clean_drawing(b'<svg xmlns="http://www.w3.org/2000/svg"><!-- by me --><g id="a"/></svg>')
    b'<svg xmlns="http://www.w3.org/2000/svg"><g id="a" /></svg>'
    """
    try:
        root = ElementTree.fromstring(_markup(data))
        if root.tag != f"{{{SVG}}}svg":
            raise UnfitPicture("it is not an SVG drawing")
        for element in list(root.iter()):
            _refuse_acting(element)
            _strip(element)
        return ElementTree.tostring(root, encoding="unicode").encode()
    except (ElementTree.ParseError, RecursionError, ValueError) as error:
        raise UnfitPicture("it is broken and cannot be read") from error


def drawing_size(clean: bytes) -> tuple[int, int]:
    """Width and height of a drawing by its view box, for the room to leave; 0 by 0 if unsaid.

    >>> drawing_size(b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 400.2" />')
    (640, 400)
    """
    box = VIEW_BOX.fullmatch(ElementTree.fromstring(clean).get("viewBox", ""))
    width, height = (round(float(box[name])) for name in ("width", "height")) if box else (0, 0)
    return (width, height) if 0 < width < TOO_WIDE and 0 < height < TOO_WIDE else (0, 0)


def _markup(data: bytes) -> str:
    if len(data) > LARGEST:
        raise UnfitPicture(f"it is larger than {LARGEST // 1_000_000} MB")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UnfitPicture("it is not saved as UTF-8") from error
    if "<!ENTITY" in text:
        raise UnfitPicture("it declares entities")
    return text


def _refuse_acting(element: Element) -> None:
    """Refuse a drawing that runs something or fetches something."""
    name = _local(element.tag)
    if name in ACTING:
        raise UnfitPicture(f"it holds a {name} element")
    if name in ANIMATING and _local(element.get("attributeName", "")).startswith(("href", "on")):
        raise UnfitPicture("it changes its links as it runs")
    for attribute, value in element.attrib.items():
        if _local(attribute).startswith("on"):
            raise UnfitPicture(f"it holds an event handler ({_local(attribute)})")
        if _local(attribute) in {"href", "src", "base"} and not value.strip().startswith("#"):
            raise UnfitPicture(f"it refers to something outside of itself ({value[:60]})")
        _refuse_calls(value)
    if name == "style":
        _refuse_calls("".join(element.itertext()))


def _refuse_calls(words: str) -> None:
    """Refuse style that fetches something, or is written so that one cannot tell."""
    if CALLS.search(words):
        raise UnfitPicture("its style refers to something outside of itself")


def _strip(element: Element) -> None:
    """Take out of an element what is no part of the drawing."""
    for attribute in [name for name in element.attrib if not _is_drawing(name)]:
        del element.attrib[attribute]
    for child in [child for child in element if not _is_shape(child)]:
        element.remove(child)


def _is_drawing(attribute: str) -> bool:
    if attribute.startswith("data-"):  # notes of an editor
        return False
    return not attribute.startswith("{") or attribute.startswith(
        (f"{{{XLINK}}}", "{http://www.w3.org/XML")
    )


def _is_shape(child: Element) -> bool:
    return child.tag.startswith(f"{{{SVG}}}") and _local(child.tag) != "metadata"


def _local(name: str) -> str:
    """The name of an element or attribute without its namespace, in lower case."""
    return name.rpartition("}")[2].rpartition(":")[2].lower()
