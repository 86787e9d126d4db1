"""Pictures of the logs in the site: which are shown, under what name, and when made anew."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from PIL import Image

from logbook.build import PourOptions, PourReport, pour
from logbook.proof import proof
from tests.conftest import CLEAN_LOG, make_book, tree
from tests.writing.photo_makers import SECRETS, jpeg, png, scene, webp

SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 48"></svg>'


def _pour_with(tmp_path: Path, lines: str, files: dict[str, bytes]) -> tuple[Path, PourReport]:
    text = CLEAN_LOG.replace("## Dissolve\n", f"## Dissolve\n\n{lines}\n")
    make_book(tmp_path / "book", {"2026/relays.md": text, **files})
    report = pour(PourOptions(tmp_path / "book", tmp_path / "site"))
    return tmp_path / "site", report


class Pictures(HTMLParser):
    """What a page says of its pictures."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep what a picture is made of."""
        if tag in {"figure", "picture", "source", "img", "figcaption"}:
            self.found.append((tag, {name: value or "" for name, value in attrs}))

    def all(self, tag: str) -> list[dict[str, str]]:
        """The attributes of every tag of a kind."""
        return [attributes for name, attributes in self.found if name == tag]


def _page(site: Path) -> str:
    return (site / "runs" / "relays.html").read_text(encoding="utf-8")


def test_pictures_of_a_log_reach_its_page(tmp_path: Path) -> None:
    """A photo in several widths and a drawing as it is, each with its size and its words."""
    files = {"2026/dish one.JPG": jpeg((2000, 1000)), "2026/dish.svg": SVG}
    site, report = _pour_with(tmp_path, "![A dish](dish%20one.JPG)\n\n![Drawn](dish.svg)\n", files)
    assert report.findings == ()
    shown = Pictures(_page(site))
    photo, drawing = shown.all("img")
    assert (photo["alt"], photo["width"], photo["height"]) == ("A dish", "960", "480")
    assert (drawing["alt"], drawing["width"], drawing["height"]) == ("Drawn", "64", "48")
    assert {(one["loading"], one["decoding"]) for one in (photo, drawing)} == {("lazy", "async")}
    (source,) = shown.all("source")
    assert source["type"] == "image/webp"
    assert source["sizes"]
    widths = dict(reversed(one.split()) for one in source["srcset"].split(", "))
    assert list(widths) == ["480w", "960w", "1600w"]
    named = {photo["src"], drawing["src"], *widths.values()}
    there = {f"../{path}" for path in tree(site) if path.startswith("pictures/")}
    assert named == there


@pytest.mark.parametrize(
    ("line", "alt", "caption"),
    [
        ("![A dish](dish.png)", "A dish", "A dish"),
        (
            '![A dish with a grey bar](dish.png "The first bar")',
            "A dish with a grey bar",
            "The first bar",
        ),
        ('![](dish.png "The first bar")', "The first bar", "The first bar"),
        ('![<i>"x"](dish.png)', '<i>"x"', '<i>"x"'),
    ],
)
def test_words_of_a_picture(tmp_path: Path, line: str, alt: str, caption: str) -> None:
    """Its title is the caption; without one its words are both (CommonMark 0.31, 6.4)."""
    site, report = _pour_with(tmp_path, line, {"2026/dish.png": png()})
    assert report.findings == ()
    page = _page(site)
    assert [one["alt"] for one in Pictures(page).all("img")] == [alt]
    escaped = caption.replace("<", "&lt;").replace(">", "&gt;").replace('"', "&#34;")
    assert f"<figcaption>{escaped}</figcaption>" in page


def test_a_picture_without_words_is_asked_about(tmp_path: Path) -> None:
    """It is shown, with a name that is not empty, and the keeper is asked to say what it shows."""
    site, report = _pour_with(tmp_path, "![](dish.png)", {"2026/dish.png": png()})
    assert [finding.code for finding in report.findings] == ["picture-without-words"]
    (image,) = Pictures(_page(site)).all("img")
    assert "not described" in image["alt"]
    figure = _page(site).partition('class="text picture"')[2].partition("</figure>")[0]
    assert "<img" in figure
    assert "<figcaption" not in figure


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("dish%20one.png", "dish one.png"),
        ("<dish one.png>", "dish one.png"),
        ("dish(1).png", "dish(1).png"),
        ("de\u0301chets.png", "d\u00e9chets.png"),  # one letter, written in two ways (UAX 15)
        ("d\u00e9chets.png", "de\u0301chets.png"),
        ("photos/DISH.PNG", "photos/DISH.PNG"),
        ("./photos/../dish.png", "dish.png"),
    ],
)
def test_a_picture_is_found_however_its_name_is_written(
    tmp_path: Path, written: str, name: str
) -> None:
    """Spaces, parentheses, accents: the file that is meant is the one that is shown."""
    site, report = _pour_with(tmp_path, f"![A dish]({written})", {f"2026/{name}": png()})
    assert report.findings == ()
    assert len(Pictures(_page(site)).all("img")) == 1


TELLING = "52.5163N-13.3777E-at-moles-house"


def test_nothing_of_a_photo_but_its_pixels_is_in_the_site(tmp_path: Path) -> None:
    """Neither what was in the files, nor what they were called, is anywhere in the output."""
    photos = {"jpg": jpeg(), "png": png(), "webp": webp(), "svg": SVG}
    files = {f"2026/{TELLING}/{TELLING}.{kind}": data for kind, data in photos.items()}
    lines = [f"![A {kind}]({TELLING}/{TELLING}.{kind})" for kind in photos]
    missing = f"![gone]({TELLING}/{TELLING}-gone.jpg)\n\n![kind]({TELLING}.heic)"
    site, report = _pour_with(tmp_path, "\n\n".join([*lines, missing]), files)
    assert [finding.code for finding in report.findings] == ["picture-missing", "picture-kind"]
    assert TELLING in report.findings[0].hint  # on the terminal the keeper is told
    assert len(Pictures(_page(site)).all("img")) == 4
    for file in site.rglob("*"):
        assert TELLING not in file.name
        if file.is_file():
            data = file.read_bytes()
            for word in (TELLING, *SECRETS):
                assert word.encode() not in data, file.name
                assert word.encode("utf-16-le") not in data, file.name


@pytest.mark.parametrize(
    ("written", "file", "data"),
    [
        ("gone.jpg", "", b""),
        ("../../../etc/passwd.png", "", b""),
        ("https://example.org/a.png", "", b""),
        ("broken.png", "2026/broken.png", b"no picture"),
        ("half.png", "2026/half.png", png()[:300]),
        ("png.jpg", "2026/png.jpg", png()),
        ("acts.svg", "2026/acts.svg", b"<svg xmlns='http://www.w3.org/2000/svg' onload='x'/>"),
        ("photo.heic", "2026/photo.heic", b"unknown kind"),
    ],
)
def test_a_picture_that_cannot_be_shown_is_told_and_left_out(
    tmp_path: Path, written: str, file: str, data: bytes
) -> None:
    """One finding for the picture; the page is there, and nothing on it leads to nowhere."""
    site, report = _pour_with(tmp_path, f"![A dish]({written})\n", {file: data} if file else {})
    assert [finding.span.text.strip() for finding in report.findings] == [f"![A dish]({written})"]
    page = _page(site)
    assert "<img" not in page
    assert written not in page
    assert "A dish" in page
    assert not (site / "pictures").exists()


def test_a_picture_that_is_a_link_out_of_the_book_is_left_out(tmp_path: Path) -> None:
    """A link to a picture elsewhere on the disk is not followed."""
    elsewhere = tmp_path / "elsewhere.png"
    elsewhere.write_bytes(png())
    runs = tmp_path / "book" / "runs" / "2026"
    runs.mkdir(parents=True)
    (runs / "dish.png").symlink_to(elsewhere)
    site, report = _pour_with(tmp_path, "![A dish](dish.png)\n", {})
    assert report.findings
    assert not (site / "pictures").exists()


def test_the_picture_of_a_private_note_is_not_copied(tmp_path: Path) -> None:
    """A picture that stands in a private note stays out of the site with it."""
    text = CLEAN_LOG + "- private: see ![the ledger](ledger.png)\n"
    files: dict[str, str | bytes] = {"relays.md": text, "ledger.png": png()}
    book = make_book(tmp_path / "book", files)
    pour(PourOptions(book, tmp_path / "site"))
    assert not (tmp_path / "site" / "pictures").exists()


def test_a_picture_is_not_made_again_until_it_changes(tmp_path: Path) -> None:
    """A second pour keeps the picture; a changed one is made anew; a gone one is removed."""
    photo = tmp_path / "book" / "runs" / "2026" / "dish.png"
    site, _ = _pour_with(tmp_path, "![A dish](dish.png)\n", {"2026/dish.png": png()})
    options = PourOptions(tmp_path / "book", site)
    before = {file: file.stat().st_mtime_ns for file in (site / "pictures").iterdir()}
    assert len(before) == 2
    assert pour(options).written == 0
    assert {file: file.stat().st_mtime_ns for file in (site / "pictures").iterdir()} == before
    photo.write_bytes(png((20, 20)))
    pour(options)
    for file in (site / "pictures").iterdir():
        assert file not in before
        with Image.open(file) as image:
            assert image.size == (20, 20)
    photo.unlink()
    pour(options)
    assert not (site / "pictures").exists()


def test_a_photo_that_two_logs_show_is_made_once(tmp_path: Path) -> None:
    """Files are named after what is in them: the same photo under two names is one file."""
    lines = "![One](one.png)\n\n![The same](two.png)\n"
    site, _ = _pour_with(tmp_path, lines, {"2026/one.png": png(), "2026/two.png": png()})
    sources = [one["src"] for one in Pictures(_page(site)).all("img")]
    assert len(sources) == 2
    assert len(set(sources)) == 1
    assert len(list((site / "pictures").iterdir())) == 2
    assert all(
        re.fullmatch(r"[0-9a-f]{20}-40\.(png|webp)", file.name)
        for file in (site / "pictures").iterdir()
    )


def test_a_photo_that_cannot_be_finished_leaves_nothing(tmp_path: Path) -> None:
    """All sizes are made before any is written, and it is told again at the next pour."""
    whole = scene((900, 700))
    file = tmp_path / "whole.png"
    whole.save(file)
    half = file.read_bytes()[:1500]
    site, report = _pour_with(tmp_path, "![Half](half.png)", {"2026/half.png": half})
    again = pour(PourOptions(tmp_path / "book", site))
    for one in (report, again):
        assert [finding.code for finding in one.findings] == ["picture-unfit"]
    assert not (site / "pictures").exists()


def test_proof_opens_no_picture(tmp_path: Path) -> None:
    """What is missing is told at once; what is broken shows when the picture is made."""
    text = CLEAN_LOG + "\n![a](broken.png)\n\n![b](gone.png)\n"
    book = make_book(tmp_path / "book", {"relays.md": text, "broken.png": b"no photo"})
    assert [finding.code for finding in proof(book).findings] == ["picture-missing"]
