"""A book in which every place of the grammar holds what was meant to do harm."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from tests.hostile.payloads import ADDRESSES, ODD, SCRIPTS

TEXTS = {**SCRIPTS, **ODD}
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h9"/></svg>'
FIXED = {
    "bench.md": "# {text}\n\nTitle: {text}\nKeeper: {text}\nCurrency: EUR\nHour: 18 EUR\n"
    "Room: {text}\n{text}: {text}\n\n{text}\n",
    "supplies.md": "# {text}\n\n{text}\n\n"
    "- 2026-01-08 bought 2.5 L nitric acid 68 % for 42 EUR, {text}\n"
    "- 2026-01-08 bought 1 L {text} for 4 EUR\n- 2026-01-08 had 1 kg {text} ({text})\n",
    "prices.md": "# {text}\n\n- 2026-03-01 priced silver at 1.08 EUR/g, {text}\n"
    "- 2026-03-02 priced {text} at 1 EUR/g\n- 2026-03-02 priced silver at {text}\n",
    "scales.md": "# {text}\n\n"
    "- scale {text}: reads 0.01 g, repeats 0.01 g, up to 200 g\n- {text}\n",
    "sources.md": "# {text}\n\n- wire: also {text}, cable\n- {text}: {text}\n",
}
LOG = """\
# {text}

Date: 2026-03-{day:02d}
Metal: silver
{text}: {text}
Note: {text}
Marks: {text}
Continues: {text}

{text}

## Dissolve, {text}

{text} and *{text}*, `{text}`

- took 12.4 g wire {text} [{label}], silver 80 ± 2 % by {text}, from [{label} 2], for 8 EUR
- added 40 mL nitric acid 68 %, {text}
- added 3 g {text} [{label} 3] ({text})
- added 3 {text} salt
- kept 2 filters [{label} 4], on the {text}
- tested [{label} 4] with {text}: {text}
- tested with salt:
  - {text}: no cloud
  - no cloud: {text}
- discarded 0.2 L {text} into [W {label}], silver 0.1 g/L by {text}
- read 4 {text}
- found {text}
- broke {text}, 5 EUR
- spent 3 EUR on {text}
- private: {text} SECRETWORD
- ask {text}
- ask how much nitric acid does 10 g {text} need
- reckoned recovery 95 % {text}
- reckoned {text} 3 g
- {text}

> {text}

1. {text}

```
{text}
```

<div>{text}</div>

### {text}

## {text}

- got 9.7 g silver bar {text} [AG {label}], silver 99 ± 0.5 % by {text}
- sold [AG {label}] for 9 EUR, {text}
- {day:02d} March {text}
"""
PLAN = """\
# {text}

Date: 2026-04-{day:02d}
Status: planned
Metal: silver
Like: {text}
For: {text}

## Dissolve {text}

- take 20 g wire {text} [{label} 9], silver 80 %
- add 60 mL nitric acid 68 %, {text}
- get {text}
"""
NAMES = (
    "2026-03-01-quotes-'\"`.md",
    "2026-03-02-\U0001f9ea.md",
    "2026-03-03-<img src=x onerror=window.hit=1>.md",
    "2026-03-04-..md",
    "...md",
    "..md.md",
    "2026-03-05-%2e%2e%2fpwned.md",
    "2026-03-06-\u05db\u05e1\u05e3.md",
    "2026-03-07-e\u0301.md",
    "2026-03-07-\u00e9.md",
    "con.md",
    "CON.md",
    "nul.txt",
    "index.md",
    "INDEX.md",
    "2026-03-08-\u202egnp.md",
    "2026-03-09-line\nend.md",
    "2026-03-10-\x1b[2J.md",
    "2026-03-11-\\..\\..\\pwned.md",
    "-rf.md",
    "=1+1.md",
    "2026-03-12 {{ 7*7 }}.md",
    "2026-03-13-" + "n" * 200 + ".md",
)


def line(text: str) -> str:
    """A text that stays on its line."""
    return re.sub(r"[\r\n]", " ", text)


def label(text: str) -> str:
    """A text that may stand between the brackets of a label."""
    return re.sub(r"[\[\]\r\n]", "", text)[:190].strip() or "x"


def logs() -> Iterator[tuple[str, str]]:
    """A log and a plan for every text, with the text in every place."""
    for number, (name, text) in enumerate(TEXTS.items()):
        day = number % 28 + 1
        words = {"text": line(text), "label": label(text), "day": day}
        file = re.sub(r"[^a-z]+", "-", name.lower())
        yield f"2026-03-{day:02d}-{number:03d}-{file}.md", LOG.format(**words)
        if number % 6 == 0:
            yield f"2026-04-{day:02d}-{number:03d}-{file}.md", PLAN.format(**words)


def links() -> str:
    """A log with each address in every kind of link and picture."""
    lines = ["# Links\n\nDate: 2026-03-29\nMetal: silver\n\n## Melt\n"]
    for address in ADDRESSES:
        lines += [
            f'[a]({address}) [b](<{address}>) <{address}> [c]({address} "{address}") {address}',
            f"![d]({address})",
            f'![e](<{address}> "{address}")',
            f"- got 1 g bar [L](x) {address} ![f]({address})",
            f"[g]: {address}",
        ]
    return "\n\n".join(lines) + "\n"


def files() -> Mapping[str, str | bytes]:
    """Every file of the book by its name in `runs`."""
    found: dict[str, str | bytes] = dict(logs())
    for name, form in FIXED.items():
        texts = (line(text).replace("{", "(").replace("}", ")") for text in TEXTS.values())
        one, *rest = (form.replace("{text}", text) for text in texts)
        bodies = [body.partition("\n\n")[2] for body in rest]
        found[name] = one + "\n" + "\n".join(bodies)
    for number, name in enumerate(NAMES):
        title = "" if number % 2 else line(name)
        found[name] = f"# {title}\n\nMetal: silver\n\n- got 1.0 g bar [N-{number}]\n"
    found["2026-03-29-links.md"] = links()
    found["2026-03-30-wide.md"] = "# Wide\n\nDate: 2026-03-30\n\n- took 3 g " + "w" * 900_000
    found["2026-03-30-ten-megabytes.md"] = "# Ten\n\n- took 3 g " + "x" * 10_000_000
    found["2026-03-30-no-text.md"] = b"# \xff\xfe\n"
    found["2026-03-30-drawings.md"] = drawings()
    found["good.svg"] = SVG
    found["acting.svg"] = SVG.replace("<path", "<script>window.hit=1</script><path")
    found["script.jpg"] = "<script>window.hit=1</script>"
    return found


def drawings() -> str:
    """A log whose pictures lead out of the book, each way there is."""
    ways = (
        *("good.svg", "acting.svg", "script.jpg", "out.png", "linked/secret.png", "gone.png"),
        *("../../secret.png", "..%2f..%2fsecret.png", "..\\..\\secret.png", "/etc/passwd"),
        *(
            "file:///etc/passwd.png",
            "linked/../../../secret.png",
            "secret.png%00.svg",
            "out-log.md",
        ),
    )
    lines = [f'![a picture <b>"]({way})' for way in ways]
    return "# Pictures\n\nDate: 2026-03-30\nMetal: silver\n\n## Melt\n\n" + "\n\n".join(lines)


def lay_out(folder: Path) -> Path:
    """Write the book into `folder`/book, beside it what it must not reach."""
    from tests.writing.photo_makers import png

    runs = folder / "book" / "runs"
    runs.mkdir(parents=True)
    outside = folder / "outside"
    outside.mkdir()
    (outside / "secret.png").write_bytes(png())
    (outside / "secret.md").write_text("# OUTSIDEWORD\n\n- got 3 g bar [OUTSIDEWORD]\n")
    (folder / "secret.png").write_bytes(png())
    for name, content in files().items():
        data = content if isinstance(content, bytes) else content.encode("utf-8", "surrogatepass")
        (runs / name).write_bytes(data)
    (runs / b"2026-03-31-\xff.md".decode("utf-8", "surrogateescape")).write_text("# Not text\n")
    (runs / "out.png").symlink_to(outside / "secret.png")
    (runs / "2026-03-31-out.md").symlink_to(outside / "secret.md")
    (runs / "linked").symlink_to(outside)
    (runs / "loop").symlink_to(runs)
    (runs / "round.md").symlink_to(runs / "round.md")
    return folder / "book"
