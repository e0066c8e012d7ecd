"""Help: the documents of the program as pages, and a search over them."""

from collections.abc import Iterable
from typing import NamedTuple

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.errors import NotFound
from steelyard.web.asked import Asked
from steelyard.web.manual import ADDRESS, FIRST, LONGEST_SEARCH, Listed, manual
from steelyard.web.pages import Form, page
from steelyard.words import say

router = APIRouter()
GROUPS = {
    "tutorial": "help-group-tutorial",
    "how-to": "help-group-how-to",
    "explanation": "help-group-explanation",
    "reference": "help-group-reference",
    "examples": "help-group-examples",
    "": "help-group-other",
    "decisions": "help-group-decisions",
}
"""Folders of the documents in the order of the list, with the code of each heading."""
FOLDED = ("", "decisions")


class Group(NamedTuple):
    """Documents of one folder. is_folded: shown only when it is opened."""

    title: str
    pages: tuple[Listed, ...]
    is_folded: bool


@router.get("/help")
def index(ask: Asked) -> HTMLResponse:
    """All documents, or the places where what is sought stands."""
    words = ask.request.query_params.get("q", "").strip()[:LONGEST_SEARCH]
    found = manual().search(words) if words else ()
    return page(
        ask,
        "help/index.html",
        say("help-title"),
        place="help",
        form=Form({"q": words}),
        words=words,
        found=found,
        count=_count(len(found), words),
        groups=tuple(groups_of(manual().listing())),
        address=ADDRESS,
    )


@router.get("/help/{path:path}")
def document(ask: Asked, path: str) -> Response:
    """One document, or a picture in one. Raises NotFound."""
    try:
        shown = manual().page(path)
    except NotFound:
        picture = manual().picture(path)
        return Response(picture.content, media_type=picture.media_type)
    return page(ask, "help/page.html", shown.title, place="help", shown=shown)


def groups_of(listing: Iterable[Listed]) -> Iterable[Group]:
    """The documents by folder; those nobody named a heading for stand under More."""
    by_folder: dict[str, list[Listed]] = {folder: [] for folder in GROUPS}
    for each in listing:
        folder = each.path.partition("/")[0] if "/" in each.path else each.path
        if each.path != FIRST:
            by_folder[folder if folder in by_folder else ""].append(each)
    for folder, pages in by_folder.items():
        if pages:
            yield Group(say(GROUPS[folder]), tuple(pages), folder in FOLDED)


def _count(count: int, words: str) -> str:
    if count == 0:
        return say("help-found-none", words=words)
    return say("help-found-one", words=words) if count == 1 else say("help-found", count=count, words=words)
