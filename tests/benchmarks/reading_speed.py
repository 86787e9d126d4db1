"""How long reading a log takes, as a multiple of what Markdown alone takes to parse it.

Run it as `python -m tests.benchmarks.reading_speed [LOG ...]`; ratios of one run can be trusted,
times cannot. The target is 1.5 for a log of 3 KB.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

from markdown_it import MarkdownIt

from logbook.model.book import Customs
from logbook.reading.read_log import read_log
from logbook.source import SourceText

RUNS = Path(__file__).parents[2] / "runs"


def fastest(work: Callable[[], object], rounds: int = 40) -> float:
    """The fastest of several rounds, in milliseconds: what the machine can do undisturbed."""
    times = []
    for _ in range(rounds):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return min(times) * 1000


def main(paths: list[Path]) -> None:
    """Print a line for each log."""
    parser = MarkdownIt()
    for path in paths:
        text = path.read_text(encoding="utf-8")
        source = SourceText(f"runs/{path.name}", text)
        read_log(source, Customs())
        markdown = fastest(lambda text=text: parser.parse(text))  # type: ignore[misc]
        reading = fastest(lambda source=source: read_log(source, Customs()))  # type: ignore[misc]
        sizes = f"{len(text):6} B  Markdown {markdown:5.2f} ms  reading {reading:5.2f} ms"
        print(f"{sizes}  x {reading / markdown:4.2f}  {path.name}")


if __name__ == "__main__":
    main([Path(arg) for arg in sys.argv[1:]] or sorted(RUNS.glob("20*.md")))
