"""The one configured Markdown parser: blocks with their lines, and HTML for prose.

HTML in a log is text. Link definitions are off, because a word in square brackets is a label.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from html import escape

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token

_LABEL = re.compile(r"\[([^\[\]\n]+)\]")
_RULES_OFF = ["reference", "html_block"]
# What must stand somewhere in a text for a rule to find anything in it. Most logs have none of
# it, and the parser asks every rule at every line.
_FENCE = re.compile(r"```|~~~")
_DRAWN_LINE = re.compile(r"[-=*_][ \t]*(?:[\r\n]|\Z)")
_PROSE = MarkdownIt("commonmark", {"html": False}).disable([*_RULES_OFF, "html_inline"])


def block_tokens(text: str) -> list[Token]:
    """The block tokens of a text; each opening token has its range of lines in `map`."""
    fences = _FENCE.search(text) is not None
    return _blocks_parser(fences, ">" in text, _DRAWN_LINE.search(text) is not None).parse(text)


@cache
def _blocks_parser(fences: bool, quotations: bool, drawn_lines: bool) -> MarkdownIt:
    """The parser of blocks without the rules that a text gives nothing to do."""
    parser = MarkdownIt("commonmark", {"html": False}).disable(_RULES_OFF)
    parser.core.ruler.enableOnly(["normalize", "block"])
    if not fences:
        parser.disable("fence")
    if not quotations:
        parser.disable("blockquote")
    if not drawn_lines:  # neither a rule across the page nor a heading that is underlined
        parser.disable(["hr", "lheading"])
    return parser


def prose_html(markdown: str, label_links: Mapping[str, str]) -> str:
    r"""HTML of the writer's prose, with each known label linked to its page.

    Whatever the writer typed comes out as text: no tag, no handler, no script address.
    Headings go down one level, because the page has the first.

    >>> prose_html("Burnt [F-2] <b>twice</b>.", {"F-2": "labels/f-2.html"})
    '<p>Burnt <a class="label" href="labels/f-2.html">[F-2]</a> &lt;b&gt;twice&lt;/b&gt;.</p>\n'
    """
    tokens = _PROSE.parse(markdown)
    for token in tokens:
        if token.type in {"heading_open", "heading_close"}:
            token.tag = f"h{min(6, int(token.tag[1]) + 1)}"
        if token.children:
            token.children = _linked(token.children, label_links)
    renderer = RendererHTML()
    return str(renderer.render(tokens, _PROSE.options, {}))


def _linked(children: list[Token], label_links: Mapping[str, str]) -> list[Token]:
    """Inline tokens with labels as links, outside links and code."""
    linked: list[Token] = []
    depth = 0
    for child in children:
        depth += child.nesting if child.type in {"link_open", "link_close"} else 0
        if child.type == "image":
            linked.append(_text(child.content))  # pictures stand on a line of their own
        elif child.type == "text" and depth == 0 and "[" in child.content:
            linked.append(_label_html(child.content, label_links))
        else:
            linked.append(child)
    return linked


def _text(content: str) -> Token:
    return Token("text", "", 0, content=content)


def _label_html(content: str, label_links: Mapping[str, str]) -> Token:
    def linked(match: re.Match[str]) -> str:
        shown = escape(match[0], quote=True)
        address = label_links.get(match[1])
        if address is None:
            return shown
        return f'<a class="label" href="{escape(address, quote=True)}">{shown}</a>'

    pieces = []
    end = 0
    for match in _LABEL.finditer(content):
        pieces += [escape(content[end : match.start()], quote=True), linked(match)]
        end = match.end()
    pieces.append(escape(content[end:], quote=True))
    return Token("html_inline", "", 0, content="".join(pieces))
