"""The forms of a page as a browser sees them: where they go, and what stands in their fields."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

TEXTS = {"text", "search", "date", "number", "email", "tel", "url"}


@dataclass
class PageForm:
    """One form. texts: names of its text fields; values: what a browser would send unless changed."""

    action: str
    method: str
    values: dict[str, str] = field(default_factory=dict)
    texts: list[str] = field(default_factory=list)
    choices: dict[str, list[str]] = field(default_factory=dict)
    has_file: bool = False


class Reader(HTMLParser):
    """Reads forms and links out of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.forms: list[PageForm] = []
        self.links: list[str] = []
        self._form: PageForm | None = None
        self._area: str | None = None
        self._select: str | None = None
        self._text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """A tag begins."""
        given = {name: value or "" for name, value in attrs}
        if tag == "a" and "href" in given:
            self.links.append(given["href"])
        if tag == "form":
            self._form = PageForm(given.get("action", ""), given.get("method", "get").lower())
            self.forms.append(self._form)
        if self._form is None or not given.get("name") and tag != "option":
            return
        match tag:
            case "input":
                self._input(self._form, given)
            case "textarea":
                self._area, self._text = given["name"], ""
                self._form.texts.append(given["name"])
            case "select":
                self._select = given["name"]
                self._form.choices.setdefault(given["name"], [])
            case "option" if self._select:
                self._form.choices[self._select].append(given.get("value", ""))
                if "selected" in given or self._select not in self._form.values:
                    self._form.values[self._select] = given.get("value", "")

    def _input(self, form: PageForm, given: dict[str, str]) -> None:
        name, kind = given["name"], given.get("type", "text")
        if kind == "file":
            form.has_file = True
        elif kind in ("radio", "checkbox"):
            form.choices.setdefault(name, []).append(given.get("value", "on"))
            if "checked" in given:
                form.values[name] = given.get("value", "on")
        else:
            form.values[name] = given.get("value", "")
            if kind in TEXTS:
                form.texts.append(name)

    def handle_data(self, data: str) -> None:
        """Text between tags."""
        if self._area is not None:
            self._text += data

    def handle_endtag(self, tag: str) -> None:
        """A tag ends."""
        if tag == "form":
            self._form = None
        if tag == "select":
            self._select = None
        if tag == "textarea" and self._area is not None and self._form is not None:
            self._form.values[self._area] = self._text.removeprefix("\n")
            self._area = None


def read_page(text: str) -> Reader:
    """Forms and links of a page."""
    reader = Reader()
    reader.feed(text)
    return reader
