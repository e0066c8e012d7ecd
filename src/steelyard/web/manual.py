"""Help without a network: the documents of this program as pages, their pictures, and a search over them.

In a checkout the documents lie in the repository's folders `docs` and `examples`; a wheel carries a copy of
both beside this module (setup.py puts it there).
"""

import posixpath
import re
from functools import cache, cached_property
from pathlib import Path
from typing import NamedTuple
from urllib.parse import unquote, urlsplit

from steelyard.errors import NotFound
from steelyard.web.markdown import Section, html_of, is_elsewhere, sections_of
from steelyard.words import say

HERE = Path(__file__).parent
ADDRESS = "/help/"
FIRST = "README.md"
EXAMPLES = "examples"
FOR_EVERYBODY = ("tutorial", "how-to", "explanation", "reference")
BEHIND_IT = "decisions"
"""Folder of what is written for those who build this program."""
MEDIA_TYPES = {".png": "image/png"}
MOST_FOUND = 30
LONGEST_SEARCH = 200
AROUND = 90  # characters on either side of what was found


class Listed(NamedTuple):
    """A page in the list. path: behind /help/."""

    title: str
    path: str


class HelpPage(NamedTuple):
    """A page as it is shown. html: safe to be put into a page as it is; its first heading is the title."""

    title: str
    path: str
    html: str


class HelpPicture(NamedTuple):
    """A picture of the documents."""

    content: bytes
    media_type: str


class Found(NamedTuple):
    """A place where all the words stand. path: behind /help/, with the anchor; excerpt: plain text."""

    title: str
    path: str
    excerpt: str


class Manual:
    """The documents below one folder. root: holds `docs` and `examples`."""

    def __init__(self, root: Path) -> None:
        self._docs, self._examples = root / "docs", root / EXAMPLES

    @cached_property
    def _texts(self) -> dict[str, str]:
        """Markdown of every page by its path, the first page first."""
        texts = {name: file.read_text("utf-8") for name, file in files_below(self._docs, {".md"}).items()}
        examples = {
            f"{EXAMPLES}/{name}": f"# {name}\n\n~~~~toml\n{file.read_text('utf-8')}\n~~~~\n"
            for name, file in files_below(self._examples, {".toml"}).items()
        }
        if examples:
            rows = "\n".join(f"- [{posixpath.basename(path)}]({path})" for path in examples)
            examples = {EXAMPLES: f"# {say('manual-examples')}\n\n{rows}\n", **examples}
        first = {FIRST: texts.pop(FIRST)} if FIRST in texts else {}
        return {**first, **texts, **examples}

    @cached_property
    def _pictures(self) -> dict[str, Path]:
        return files_below(self._docs, set(MEDIA_TYPES))

    @cached_property
    def _sections(self) -> dict[str, tuple[Section, ...]]:
        return {path: sections_of(text) for path, text in self._texts.items()}

    def listing(self) -> tuple[Listed, ...]:
        """Every page, the first page first, then by path, the examples last."""
        return tuple(Listed(self._title(path), path) for path in self._texts)

    def page(self, path: str = FIRST) -> HelpPage:
        """One page as HTML. path: behind /help/, as listed. Raises NotFound for any other."""
        if path not in self._texts:
            raise NotFound(path)

        def lead(address: str) -> str | None:
            return self._led(path, address)

        def picture(address: str) -> str | None:
            place = self._place(path, address)
            return ADDRESS + place if place in self._pictures else None

        return HelpPage(self._title(path), path, html_of(self._texts[path], lead=lead, picture=picture))

    def picture(self, path: str) -> HelpPicture:
        """One picture of the documents. path: behind /help/. Raises NotFound for anything else."""
        if path not in self._pictures:
            raise NotFound(path)
        file = self._pictures[path]
        return HelpPicture(file.read_bytes(), MEDIA_TYPES[file.suffix])

    def search(self, words: str) -> tuple[Found, ...]:
        """The places where all the words stand, in any order and case; those with them in the heading first.

        What explains and guides goes before examples and other papers, and the decisions come last.

        words: set apart by white space; the first 200 characters count.
        Returns at most 30.
        """
        wanted = [re.compile(re.escape(word), re.IGNORECASE) for word in words[:LONGEST_SEARCH].split()]
        if not wanted:
            return ()
        ranked = [
            (order_of(path, section, wanted), self._found(path, section, wanted))
            for path, sections in self._sections.items()
            for section in sections
            if all(word.search(f"{self._title(path)} {section.title} {section.text}") for word in wanted)
        ]
        ranked.sort(key=lambda pair: pair[0], reverse=True)
        return tuple(found for _, found in ranked[:MOST_FOUND])

    def _found(self, path: str, section: Section, wanted: list[re.Pattern[str]]) -> Found:
        """A section as it is shown among what was found."""
        page = self._title(path)
        title = f"{page}: {section.title}" if section.title not in ("", page) else page
        place = f"{path}#{section.anchor}" if section.anchor else path
        return Found(title, place, excerpt(section.text, wanted))

    def _title(self, path: str) -> str:
        """The first heading of a page; its path where it has none."""
        return next((section.title for section in self._sections[path] if section.title), path)

    def _led(self, path: str, address: str) -> str | None:
        """Where a link of one page leads; None for another site and for files that are no pages."""
        if is_elsewhere(address):
            return None
        if address.startswith("#"):
            return address
        place, anchor = self._place(path, address), urlsplit(address).fragment
        if place not in self._texts and place not in self._pictures:
            return None
        return ADDRESS + place + (f"#{anchor}" if anchor else "")

    def _place(self, path: str, address: str) -> str:
        """The path that a relative address means on a page: both are set into the repository to find it."""
        here = path if path.split("/")[0] == EXAMPLES else f"docs/{path}"
        there = posixpath.normpath(posixpath.join(posixpath.dirname(here), unquote(urlsplit(address).path)))
        return there if there.split("/")[0] == EXAMPLES else there.removeprefix("docs/")


def files_below(folder: Path, endings: set[str]) -> dict[str, Path]:
    """The files of a folder and below with one of these endings, by their path inside it, in order."""
    found = {
        file.relative_to(folder).as_posix(): file for file in folder.rglob("*") if file.suffix in endings
    }
    return dict(sorted(found.items()))


def order_of(path: str, section: Section, wanted: list[re.Pattern[str]]) -> tuple[int, int, int, int]:
    """What is shown first, the greatest: sort of paper, words in the heading, folder, words in all."""
    folder = path.partition("/")[0] if "/" in path else ""
    in_title, in_all = rank_of(section, wanted)
    if folder in FOR_EVERYBODY:
        return 2, in_title, -FOR_EVERYBODY.index(folder), in_all
    return 0 if folder == BEHIND_IT else 1, in_title, 0, in_all


def rank_of(section: Section, wanted: list[re.Pattern[str]]) -> tuple[int, int]:
    """How well a section answers: words in its heading, then how often they stand in it."""
    in_title = sum(1 for word in wanted if word.search(section.title))
    return in_title, sum(len(word.findall(section.text)) for word in wanted)


def excerpt(text: str, wanted: list[re.Pattern[str]]) -> str:
    """The text around the first of the words that stands in it, cut between words; else its beginning."""
    match = next((match for word in wanted if (match := word.search(text))), None)
    middle = match.start() if match else 0
    start, end = max(0, middle - AROUND), min(len(text), middle + AROUND)
    before = text[start:middle].partition(" ")[2] if start else text[:middle]
    after = text[middle:end].rpartition(" ")[0] if end < len(text) else text[middle:]
    return ("… " if start else "") + before + after + (" …" if end < len(text) else "")


@cache
def manual() -> Manual:
    """The documents of this program: those it carries, else those of the checkout it runs from."""
    return Manual(HERE if (HERE / "docs").is_dir() else HERE.parents[2])
