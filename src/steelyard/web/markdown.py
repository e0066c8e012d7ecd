"""From the Markdown of a document to HTML that needs no network, no script and no style of its own."""

import re
from collections.abc import Callable, Iterator
from typing import NamedTuple
from urllib.parse import urlsplit

from markdown_it import MarkdownIt
from markdown_it.token import Token

READER = MarkdownIt("commonmark", {"html": False}).enable("table")
ALIGNED = {"text-align:right": "right", "text-align:center": "middle", "text-align:left": "left"}
NOT_IN_ANCHORS = re.compile(r"[^\w\- ]")

Lead = Callable[[str], str | None]
"""From an address as a document gives it to one that can be followed here; None where none can."""


class Section(NamedTuple):
    """What stands under one heading. anchor: its id; text: all below it, without marks."""

    title: str
    anchor: str
    text: str


def html_of(text: str, *, lead: Lead, picture: Lead) -> str:
    """A document as HTML.

    text: its Markdown. HTML in it is shown as text.
    lead: where a link goes; where it goes nowhere its text stays, and the address of another site behind it.
    picture: where a picture lies; where there is none its description stays.
    Headings carry the ids of `sections_of`. Tables and examples stand in a `div.wide` that can be reached by
    key, so that it can be scrolled there where it is wider than the screen.
    """
    tokens = parsed(text)
    for token in tokens:
        if token.type == "inline":
            token.children = list(led(token.children or [], lead, picture))
    html: str = READER.renderer.render(list(framed(tokens)), READER.options, {})
    return html


def sections_of(text: str) -> tuple[Section, ...]:
    """A document cut at its headings; what stands before the first has an empty title and anchor."""
    title = anchor = ""
    parts: list[str] = []
    sections = []
    tokens = parsed(text)
    for i, token in enumerate(tokens):
        if token.type == "heading_open":
            sections.append(Section(title, anchor, " ".join(" ".join(parts).split())))
            title, anchor, parts = words_of(tokens[i + 1]), str(token.attrs["id"]), []
        elif token.type == "inline" and tokens[i - 1].type != "heading_open":
            parts.append(words_of(token))
        elif token.type in ("fence", "code_block"):
            parts.append(token.content)
    sections.append(Section(title, anchor, " ".join(" ".join(parts).split())))
    return tuple(s for s in sections if s.title or s.text)


def parsed(text: str) -> list[Token]:
    """The tokens of a document: headings with ids, cells with classes instead of styles."""
    tokens = READER.parse(text)
    taken: dict[str, int] = {}
    for i, token in enumerate(tokens):
        if token.type == "heading_open":
            token.attrSet("id", anchor_of(words_of(tokens[i + 1]), taken))
        elif token.type in ("th_open", "td_open"):
            if style := token.attrs.pop("style", None):
                token.attrSet("class", ALIGNED[str(style)])
            if token.type == "th_open" and not tokens[i + 1].content:
                token.tag = tokens[i + 2].tag = "td"  # an empty cell heads nothing
    return tokens


def anchor_of(title: str, taken: dict[str, int]) -> str:
    """The id of a heading as repositories make it: small letters, hyphens for gaps, a number when taken."""
    anchor = NOT_IN_ANCHORS.sub("", title.lower()).replace(" ", "-")
    taken[anchor] = taken.get(anchor, -1) + 1
    return f"{anchor}-{taken[anchor]}" if taken[anchor] else anchor


def words_of(inline: Token) -> str:
    """The text of a paragraph, heading or cell without its marks."""
    return "".join(
        " " if token.type in ("softbreak", "hardbreak") else token.content for token in inline.children or []
    )


def led(children: list[Token], lead: Lead, picture: Lead) -> Iterator[Token]:
    """The tokens of a paragraph; links and pictures that lead nowhere here are text."""
    dropped = ""  # address of the link that is being turned into text
    is_dropping = False
    words = ""
    for token in children:
        if token.type == "link_open":
            address = str(token.attrs["href"])
            target = lead(address)
            is_dropping, dropped, words = target is None, address, ""
            if target is not None:
                token.attrSet("href", target)
                yield token
        elif token.type == "link_close" and is_dropping:
            is_dropping = False
            if is_elsewhere(dropped) and words != dropped:
                yield text_token(f" ({dropped})")
        elif token.type == "image":
            words += token.content
            target = picture(str(token.attrs["src"]))
            if target is None:
                yield text_token(token.content)
            else:
                token.attrSet("src", target)
                yield token
        else:
            words += token.content
            yield token


def is_elsewhere(address: str) -> bool:
    """The address names a site or another way of reaching something, not a file beside this one."""
    parts = urlsplit(address)
    return bool(parts.scheme or parts.netloc)


def text_token(content: str) -> Token:
    """Plain text inside a paragraph."""
    return Token("text", "", 0, content=content)


def framed(tokens: list[Token]) -> Iterator[Token]:
    """The tokens with a frame around each table and each example, named after the heading above it."""
    heading = ""
    for i, token in enumerate(tokens):
        if token.type == "heading_open":
            heading = words_of(tokens[i + 1])
        if token.type in ("table_open", "fence", "code_block"):
            yield Token(
                "frame_open",
                "div",
                1,
                block=True,
                attrs={"class": "wide", "tabindex": "0", "role": "group", "aria-label": heading},
            )
        yield token
        if token.type in ("table_close", "fence", "code_block"):
            yield Token("frame_close", "div", -1, block=True)
