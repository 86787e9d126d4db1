"""Files of a site: written whole, only where they changed, and never outside of its folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.writing.site_folder import LIST, SiteError, SiteFolder


def pour_into(folder: Path, files: dict[str, str]) -> SiteFolder:
    """One pour of some files."""
    site = SiteFolder(folder)
    for path, text in files.items():
        site.write(path, text)
    site.finish()
    return site


def test_a_file_that_did_not_change_is_not_written(tmp_path: Path) -> None:
    """The second pour of the same files writes none, and their times stay."""
    pour_into(tmp_path, {"a.html": "a", "runs/b.html": "b"})
    before = (tmp_path / "a.html").stat().st_mtime_ns
    again = pour_into(tmp_path, {"a.html": "a", "runs/b.html": "other"})
    assert (again.written, again.kept, again.removed) == (1, 1, 0)
    assert (tmp_path / "a.html").stat().st_mtime_ns == before
    assert (tmp_path / "runs" / "b.html").read_text() == "other"


def test_only_listed_files_are_removed_and_empty_folders_go(tmp_path: Path) -> None:
    """A stale file goes, with its folder if that is empty; a file of the keeper stays."""
    pour_into(tmp_path, {"a.html": "a", "labels/b.html": "b", "runs/c.html": "c"})
    (tmp_path / "runs" / "mine.txt").write_text("mine")
    site = pour_into(tmp_path, {"a.html": "a"})
    assert site.removed == 2
    assert not (tmp_path / "labels").exists()
    assert [file.name for file in (tmp_path / "runs").iterdir()] == ["mine.txt"]


@pytest.mark.parametrize("path", ["../out.html", "/out.html", "runs/../../out.html", ""])
def test_a_path_out_of_the_site_is_refused(tmp_path: Path, path: str) -> None:
    """Whatever asks for it, nothing is written outside."""
    with pytest.raises(SiteError):
        SiteFolder(tmp_path / "site").write(path, "x")
    assert not (tmp_path / "out.html").exists()


def test_a_list_that_was_tampered_with_removes_nothing_outside(tmp_path: Path) -> None:
    """A stale line of the list that leads out of the site, or through a link, is ignored."""
    victim = tmp_path / "victim.txt"
    victim.write_text("precious")
    site = tmp_path / "site"
    pour_into(site, {"a.html": "a"})
    (site / "link").symlink_to(tmp_path)
    (site / LIST).write_text(f"a.html\n../victim.txt\nlink/victim.txt\n{victim}\n")
    pour_into(site, {"a.html": "a"})
    assert victim.read_text() == "precious"


def test_a_page_that_is_a_link_is_replaced_not_followed(tmp_path: Path) -> None:
    """Where one of our files was made a link, the link is replaced and its target stays."""
    victim = tmp_path / "victim.txt"
    victim.write_text("precious")
    site = tmp_path / "site"
    pour_into(site, {"a.html": "a"})
    (site / "a.html").unlink()
    (site / "a.html").symlink_to(victim)
    pour_into(site, {"a.html": "new"})
    assert victim.read_text() == "precious"
    assert (site / "a.html").read_text() == "new"
    assert not (site / "a.html").is_symlink()


def test_what_a_pour_cut_short_wrote_is_known_to_the_next(tmp_path: Path) -> None:
    """Files are listed before they are written, so the next pour may replace or remove them."""
    cut = SiteFolder(tmp_path)
    cut.write("a.html", "a")
    cut.write("b.html", "b")
    site = pour_into(tmp_path, {"a.html": "other"})
    assert site.removed == 1
    assert (tmp_path / "a.html").read_text() == "other"


def test_a_file_made_from_the_same_thing_is_kept_unread(tmp_path: Path) -> None:
    """`keep` holds a file while its origin is the same and the file is there."""
    first = SiteFolder(tmp_path)
    first.write("pictures/a.png", b"small", made_from="digest")
    first.finish()
    second = SiteFolder(tmp_path)
    assert second.keep("pictures/a.png", "digest")
    assert not second.keep("pictures/a.png", "another")
    assert not second.keep("pictures/b.png", "digest")
    second.finish()
    assert (tmp_path / "pictures" / "a.png").read_bytes() == b"small"
    (tmp_path / "pictures" / "a.png").unlink()
    assert not SiteFolder(tmp_path).keep("pictures/a.png", "digest")


def test_files_can_be_read_by_a_web_server(tmp_path: Path) -> None:
    """A written file has the usual permissions, not those of a temporary one."""
    pour_into(tmp_path, {"a.html": "a"})
    plain = tmp_path / "plain"
    plain.write_text("x")
    assert (tmp_path / "a.html").stat().st_mode == plain.stat().st_mode
