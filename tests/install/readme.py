"""README's commands and its log, taken from README.md itself; also `python readme.py test`.

It needs the standard library alone, because it runs before anything is installed.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
WHICH = {"demo": 0, "test": 1}


def blocks(language: str) -> list[str]:
    """The code blocks of README.md in a language, in order."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    return re.findall(rf"^```{language}\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)


def command(which: str) -> str:
    """The set-up command that pours the demo, or the one that passes the tests."""
    return blocks("sh")[WHICH[which]].strip()


if __name__ == "__main__":
    print(command(sys.argv[1]))
