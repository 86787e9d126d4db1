"""The index of the search → the script file that the search page loads.

A page that was opened from a folder may load a script, but no data; so the data is one.
"""

from __future__ import annotations

import json
from typing import Any


def search_file(index: dict[str, Any]) -> str:
    r"""The script that hands over the index, in ASCII and without a sign that begins a tag.

    >>> search_file({"names": ["</script>é"]})
    'window.bookIndex = {"names":["\\u003c/script>\\u00e9"]};\n'
    """
    data = json.dumps(index, separators=(",", ":"), sort_keys=True).replace("<", "\\u003c")
    return f"window.bookIndex = {data};\n"
