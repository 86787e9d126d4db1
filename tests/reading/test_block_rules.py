"""A rule of Markdown that is left out for a text would have found nothing in that text."""

from __future__ import annotations

from hypothesis import example, given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

from logbook.commonmark import block_tokens

PIECES = st.sampled_from(
    [
        "a", "b c", " ", "  ", "    ", "\t", "\n", "\n\n", "\r\n", "\r", "-", "- ", "---", "- - -",
        "* ", "***", "_", "___", "=", "===", "```", "~~~", "`", "~", ">", "> ", "#", "## ", "1. ",
        "10) ", "+ ", "\0", "\u00a0", "\u2028", "\x0b",
    ]
)  # fmt: skip
TEXTS = st.lists(PIECES, max_size=25).map("".join)

EVERY_RULE = MarkdownIt("commonmark", {"html": False}).disable(["reference", "html_block"])
EVERY_RULE.core.ruler.enableOnly(["normalize", "block"])


def marks(tokens: list[Token]) -> list[tuple[object, ...]]:
    """What the reader looks at in each token."""
    return [(t.type, t.tag, t.nesting, t.level, t.map, t.markup) for t in tokens]


@settings(max_examples=500, deadline=None)
@given(TEXTS)
@example("a\n  ===\t")
@example("- a\n  ---\r- b")
@example("- * * *\n> ~~~\n> a")
def test_a_rule_left_out_finds_nothing(text: str) -> None:
    """The blocks are those that the parser finds with every rule of CommonMark at work."""
    assert marks(block_tokens(text)) == marks(EVERY_RULE.parse(text))
