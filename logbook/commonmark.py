"""The one configured Markdown parser: blocks with their lines, and HTML for prose.

HTML in a log is text. Link definitions are off, because a word in square brackets is a label.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from html import escape
from typing import Literal

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.rules_block import StateBlock
from markdown_it.token import Token

from logbook.shown_text import shown_text

_LABEL = re.compile(r"\[([^\[\]\n]+)\]")
_RULES_OFF = ["reference", "html_block"]
# What must stand somewhere in a text for a rule to find anything in it. Most logs have none of
# it, and the parser asks every rule at every line.
_DRAWN_LINE = re.compile(r"[-=*_][ \t]*$", re.M)
_MAY_LEAD = re.compile(r"https?://[^/?#\\@\s]+(?:[/?#][^\\\s]*)?|mailto:[^\s\\]+", re.IGNORECASE)


class _Prose(MarkdownIt):
    """The parser of prose, for which few addresses are links."""

    def validateLink(self, url: str) -> bool:  # noqa: N802 (the name that the rules call)
        """Whether a link may lead to an address: to the web or a mailbox, and nowhere else.

        Other schemes start programs or scripts, and a path is one of the book, not of the site.
        """
        return _MAY_LEAD.fullmatch(url) is not None


_PROSE = _Prose("commonmark", {"html": False}).disable([*_RULES_OFF, "html_inline"])


def block_tokens(text: str) -> list[Token]:
    """The block tokens of a text; each opening token has its range of lines in `map`.

    They are there for their lines: what they hold is not cut out of the text.
    """
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    parser = _blocks_parser(
        indents="    " in text or "\t" in text,
        fences="```" in text or "~~~" in text,
        quotations=">" in text,
        drawn_lines=_DRAWN_LINE.search(text) is not None,
    )
    state = _Lines(text, parser, {}, [])
    parser.block.tokenize(state, 0, state.lineMax)
    return state.tokens


@cache
def _blocks_parser(indents: bool, fences: bool, quotations: bool, drawn_lines: bool) -> MarkdownIt:
    """The parser of blocks without the rules that a text gives nothing to do."""
    parser = MarkdownIt("commonmark", {"html": False}).disable(_RULES_OFF)
    if not indents:
        parser.disable("code")
    if not fences:
        parser.disable("fence")
    if not quotations:
        parser.disable("blockquote")
    if not drawn_lines:  # neither a rule across the page nor a heading that is underlined
        parser.disable(["hr", "lheading"])
    return parser


class _Mark(Token):
    """A token that only tells what begins or ends on which lines."""

    __slots__ = ()

    def __init__(self, type: str, tag: str, nesting: Literal[-1, 0, 1], level: int) -> None:
        self.type = type
        self.tag = tag
        self.nesting = nesting
        self.level = level
        self.map = None
        self.markup = ""


class _Lines(StateBlock):
    """What the rules work on, where only lines are wanted."""

    def push(self, ttype: str, tag: str, nesting: Literal[-1, 0, 1]) -> Token:
        """Add a token; a closing one stands on the level of the one that opened."""
        if nesting < 0:
            self.level -= 1
        token = _Mark(ttype, tag, nesting, self.level)
        if nesting > 0:
            self.level += 1
        self.tokens.append(token)
        return token

    def getLines(self, *_: object) -> str:  # noqa: N802 (the name that the rules call)
        """Nothing: the words of a block are read from the raw lines."""
        return ""


def prose_html(markdown: str, label_links: Mapping[str, str], below: int = 1) -> str:
    r"""HTML of the writer's prose, with each known label linked to its page.

    Whatever the writer typed comes out as text: no tag, no handler, and no link but one to
    the web or to a mailbox. Headings stand below the page's own one of level `below`, and
    none is left out between.

    >>> prose_html("Burnt [F-2] <b>twice</b>.", {"F-2": "labels/f-2.html"})
    '<p>Burnt <a class="label" href="labels/f-2.html">[F-2]</a> &lt;b&gt;twice&lt;/b&gt;.</p>\n'
    """
    tokens = _PROSE.parse(markdown)
    _set_headings(tokens, below)
    for token in tokens:
        if token.children:
            token.children = _linked(token.children, label_links)
    renderer = RendererHTML()
    # An entity may stand for a sign that the text itself was freed of.
    return shown_text(str(renderer.render(tokens, _PROSE.options, {})))


def _set_headings(tokens: list[Token], below: int) -> None:
    """Give headings their place below that of the page, each at most one below the last."""
    depths = [int(token.tag[1]) for token in tokens if token.type == "heading_open"]
    last = below
    for token in tokens:
        if token.type == "heading_open":
            last = min(6, last + 1, below + 1 + int(token.tag[1]) - min(depths))
        if token.type in {"heading_open", "heading_close"}:
            token.tag = f"h{last}"


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
