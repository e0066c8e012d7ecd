"""Texts and drawings of a document made fit to be set: characters, line breaks, drawings as files."""

import re
from typing import Any

from steelyard.paper.coverage import held_together, plain, shown

LONGEST_WORD, PIECE = 24, 8
"""Letters: a longer word may be broken anywhere between pieces, so that no line leaves the page."""
FAMILIES = "Atkinson Hyperlegible Next, Noto Sans, Noto Sans Hebrew, Noto Sans Arabic"
MAY_BREAK, HOLDS = "\u200b", "\u00a0"
LONG_WORD = re.compile(f"[^ ]{{{LONGEST_WORD + 1},}}")
BEFORE_PERCENT = re.compile(r"(?<=\d) (?=%)")
DRAWING, FILE = "svg", "file"


class FitToPrint:
    """Makes data fit, and gathers what was found in it.

    codes: numbers of the characters that no font has, each once. drawings: content by the name of a file.
    """

    def __init__(self) -> None:
        self.codes: dict[str, None] = {}
        self.drawings: dict[str, bytes] = {}

    def fit(self, value: Any) -> Any:
        """The same data with every text as the fonts can show it, each drawing as the name of its file.

        value: of texts, numbers, lists, tuples and dicts.
        """
        if isinstance(value, str):
            return self._text(value)
        if isinstance(value, dict):
            fitted = {name: self.fit(inside) for name, inside in value.items() if name != DRAWING}
            return fitted | {FILE: self._drawing(value[DRAWING])} if DRAWING in value else fitted
        if isinstance(value, list | tuple):
            return [self.fit(inside) for inside in value]
        return value

    def _text(self, text: str) -> str:
        held = text if plain().issuperset(text) else self._said(text)
        if " %" in held:
            held = BEFORE_PERCENT.sub(HOLDS, held)
        return held if len(held) <= LONGEST_WORD else LONG_WORD.sub(_breakable, held)

    def _said(self, text: str) -> str:
        said, put = shown(text)
        self.codes.update(dict.fromkeys(put))
        return held_together(said)

    def _drawing(self, svg: str) -> str:
        name = f"picture-{len(self.drawings)}.svg"
        self.drawings[name] = in_our_fonts(shown(svg)[0]).encode()
        return name


def _breakable(found: "re.Match[str]") -> str:
    word = found[0]
    return MAY_BREAK.join(word[i : i + PIECE] for i in range(0, len(word), PIECE))


def in_our_fonts(svg: str) -> str:
    """A drawing whose words are set in the fonts of the paper."""
    return svg.replace("<svg ", f'<svg font-family="{FAMILIES}" ', 1)
