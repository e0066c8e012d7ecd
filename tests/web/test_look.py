"""The look holds what it promises: contrast in both themes, nothing from elsewhere, parts that say all."""

import re
from collections.abc import Mapping
from pathlib import Path
from types import SimpleNamespace

import pytest
from jinja2 import ChoiceLoader, DictLoader, Environment, FileSystemLoader, StrictUndefined

from steelyard.words import say

WEB = Path(__file__).parent.parent.parent / "src" / "steelyard" / "web"
CSS = (WEB / "static" / "steelyard.css").read_text("utf-8")
FOLDER = WEB / "templates"
TEMPLATES = {str(p.relative_to(FOLDER)): p.read_text("utf-8") for p in sorted(FOLDER.rglob("*.html"))}
LIGHT, DARK = 0, 1


def layer(name: str) -> str:
    """What stands in one layer of the style."""
    start = CSS.index(f"@layer {name} {{")
    ends = re.compile(r"^}", re.MULTILINE).search(CSS, start)
    assert ends
    return CSS[start : ends.start()]


PAIRS = dict(re.findall(r"--([a-z-]+): light-dark\((#[0-9a-f]{6}, #[0-9a-f]{6})\);", layer("tokens")))


def luminance(colour: str) -> float:
    """Relative luminance of #rrggbb. Source: WCAG 2.2, definition of relative luminance."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str, theme: int) -> float:
    """Contrast of two properties. Source: WCAG 2.2, definition of contrast ratio."""
    bright, dim = sorted((luminance(PAIRS[name].split(", ")[theme]) for name in (one, other)), reverse=True)
    return (bright + 0.05) / (dim + 0.05)


TEXT = [
    *(("ink", ground, 7.0) for ground in ("paper", "sheet", "well")),
    *(("quiet", ground, 7.0) for ground in ("paper", "sheet")),
    *(("link", ground, 7.0) for ground in ("paper", "sheet", "well")),
    ("on-deed", "deed", 7.0),
    ("on-deed", "deed-over", 7.0),
    ("on-out", "out", 7.0),
    ("on-demo", "demo", 7.0),
    *((state, f"{state}-wash", 7.0) for state in ("in", "out", "doubt", "running")),
    *((state, ground, 4.5) for state in ("in", "out", "doubt", "running") for ground in ("paper", "sheet")),
]
SHAPES = [
    *(("brass", ground, 3.0) for ground in ("paper", "sheet", "well")),
    *(("edge", ground, 3.0) for ground in ("paper", "sheet", "well")),
    *(("focus", ground, 3.0) for ground in ("paper", "sheet", "well", "out-wash")),
    *(("deed", ground, 3.0) for ground in ("paper", "sheet")),
]


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("one", "other", "least"), [*TEXT, *SHAPES])
def test_it_can_be_read(one: str, other: str, least: float, theme: int) -> None:
    assert contrast(one, other, theme) >= least


def test_contrast_is_reckoned_as_printed() -> None:
    # WCAG 2.2: black on white is 21:1; #767676 on white is the well-known grey that just passes 4.5:1
    PAIRS["black"], PAIRS["white"], PAIRS["grey"] = "#000000, #000000", "#ffffff, #ffffff", "#767676, #777777"
    assert contrast("black", "white", LIGHT) == pytest.approx(21)
    assert contrast("grey", "white", LIGHT) > 4.5 > contrast("grey", "white", DARK)


def test_colours_stand_in_one_place() -> None:
    elsewhere = CSS.replace(layer("tokens"), "").replace(layer("print"), "")
    assert re.findall(r"#[0-9a-f]{3,8}\b|\brgba?\(|\bhsla?\(", elsewhere) == []


def test_the_style_fetches_nothing_from_elsewhere() -> None:
    for address in re.findall(r"url\(\s*[\"']?([^\"')]{0,40})", CSS):
        assert address.startswith(("vendor/", "data:image/svg+xml,"))
    assert "@import" not in CSS
    assert "//" not in CSS.replace("http://www.w3.org/2000/svg", "")


def test_the_fonts_it_names_are_there() -> None:
    fonts = re.findall(r"url\(\"(vendor/[^\"]+)\"", CSS)
    assert len(fonts) == 2
    for font in fonts:
        assert (WEB / "static" / font).is_file()


def test_only_paper_overrules() -> None:
    assert "!important" not in CSS.replace(layer("print"), "")


def test_nothing_moves_where_movement_is_not_wanted() -> None:
    assert "prefers-reduced-motion: no-preference" in layer("media")
    elsewhere = CSS.replace(layer("media"), "")
    assert re.findall(r"\b(?:transition|animation)[a-z-]*:", elsewhere) == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_template_asks_for_nothing_that_the_policy_forbids(name: str) -> None:
    text = TEMPLATES[name]
    assert re.findall(r"<style|\sstyle=|\son[a-z]+=|javascript:|https?://", text) == []
    assert re.findall(r"<script(?![^>]*\ssrc=)", text) == []


# ---------------------------------------------------------------- parts


class Form:
    """A form with what was typed and what is wrong with it."""

    def __init__(self, values: Mapping[str, str], troubles: Mapping[str, str]) -> None:
        self.values, self.troubles = values, troubles

    def value(self, name: str) -> str:
        """As typed."""
        return self.values.get(name, "")

    def trouble(self, name: str) -> str | None:
        """The sentence, where something is wrong."""
        return self.troubles.get(name)


def rendered(source: str, **context: object) -> str:
    """A template made of parts, or one on top of the base."""
    loader = ChoiceLoader([DictLoader({"it": source}), FileSystemLoader(FOLDER)])
    made = Environment(
        loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    made.globals.update(say=say, url=lambda path: path, asset=lambda name: f"/static/{name}")
    return made.get_template("it").render(**context)


def part(call: str, **context: object) -> str:
    """One part."""
    return rendered("{% import 'parts.html' as parts %}{{ parts." + call + " }}", **context)


def whole(*, place: str = "rack", demo: bool = False, notice: str | None = None) -> str:
    """A page with a heading."""
    page = SimpleNamespace(
        title="A page", place=place, demo=demo, workshop="Tern Point Boatyard", who=None, notice=notice
    )
    page.clock_note = None
    return rendered("{% extends 'base.html' %}{% block main %}<h1>A page</h1>{% endblock %}", page=page)


WRONG = Form({"mass": '12,5 "big" <kg>'}, {"mass": "Not a mass.", "": "Somebody was quicker."})
RIGHT = Form({"kind": "dial", "loud": "yes"}, {})


def test_a_refused_field_keeps_what_was_typed_and_says_why_beside_it() -> None:
    html = part("field(form, 'mass', 'Mass', hint='With its handle.', unit='kg')", form=WRONG)
    assert 'value="12,5 &#34;big&#34; &lt;kg&gt;"' in html
    assert 'aria-invalid="true"' in html
    assert 'aria-describedby="f-mass-hint f-mass-trouble"' in html
    assert re.search(r'id="f-mass-trouble">.*Not a mass\.', html)
    assert '<label class="unit" for="f-mass">kg</label>' in html


def test_a_field_without_trouble_describes_nothing() -> None:
    html = part("field(form, 'arm', 'Arm', attrs={'maxlength': 9})", form=RIGHT)
    assert "aria-" not in html
    assert 'maxlength="9"' in html


def test_the_box_of_troubles_leads_to_the_fields() -> None:
    html = part("trouble_box(form)", form=WRONG)
    assert '<a href="#f-mass">Not a mass.</a>' in html
    assert "<li>Somebody was quicker.</li>" in html
    assert part("trouble_box(form)", form=RIGHT).strip() == ""


def test_what_was_chosen_stays_chosen() -> None:
    options = [("click", "Clicks", "At the torque"), ("dial", "Shows")]
    for call in ("choice(form, 'kind', 'Kind', options)", "pick(form, 'kind', 'Kind', options)"):
        html = part(
            call, form=RIGHT, options=[o[:2] for o in options] if call.startswith("pick") else options
        )
        assert re.findall(r'value="(\w+)"[^>]* (?:checked|selected)', html) == ["dial"]
    assert " checked" in part("tick(form, 'loud', 'Aloud')", form=RIGHT)
    assert " checked" not in part("tick(form, 'other', 'Other')", form=RIGHT)


STATES = (
    "in",
    "out",
    "cant-tell",
    "no-limit",
    "quarantined",
    "check-first",
    "overdue",
    "due-soon",
    "retired",
    "running",
    "sealed",
)


def test_every_state_has_a_sign_of_its_own_and_its_word() -> None:
    signs = {}
    for code in (*STATES, "ok", "none"):
        html = part(f"state('{code}', 'as said')")
        assert '<span class="state-word">as said</span>' in html
        assert f".state-{code}" in CSS
        signs[re.sub(r"</?span[^>]*>|<svg[^>]*>", "", html)] = code
    assert len(signs) == len(STATES) + 2


def test_the_poise_hangs_on_the_present_step() -> None:
    steps = [
        ("why", "Why", "done", "/1"),
        ("found", "As found", "now", "/2"),
        ("adjust", "Adjust", "skip", None),
    ]
    html = part("steps(steps)", steps=steps)
    assert html.count('aria-current="step"') == 1
    assert re.search(
        r'step-now" aria-current="step"><span class="step-here"><span class="step-text">As found', html
    )
    assert re.findall(r'href="([^"]+)"', html) == ["/1"]
    assert say("shell-step-skip") in html


def test_a_chart_comes_with_its_words_and_its_table() -> None:
    table = SimpleNamespace(head=("Torque", "Deviation"), rows=(("20 N·m", "+0.4 %"),))
    html = part("chart(c)", c=SimpleNamespace(svg="<svg></svg>", summary="One point, in.", table=table))
    assert "<svg></svg>" in html
    assert "<figcaption>One point, in.</figcaption>" in html
    assert re.search(r'<td role="cell" data-head="Deviation"><div>\+0\.4 %</div>', html)


def test_the_keypad_has_a_key_for_all_that_a_reading_is_made_of() -> None:
    keys = re.findall(r'<button type="button"[^>]* data-key="([^"]+)"', part("keypad(',')"))
    assert sorted(keys) == sorted([*"0123456789", ",", "-", "Backspace", "Enter"])


def test_a_reading_says_how_long_it_is() -> None:
    assert 'data-digits="6">100.25<' in part("big_number('100.25', 'N·m', 'Pull 3')")


# ---------------------------------------------------------------- the shell


@pytest.mark.parametrize("place", ["today", "rack", "rigs", "bench", "book", "reckon", "help", "settings"])
def test_the_poise_hangs_at_the_present_place(place: str) -> None:
    html = whole(place=place)
    assert f'<body class="place-{place}">' in html
    assert html.count('class="poise"') == html.count('aria-current="page"') == 1
    assert re.search(rf'aria-current="page">.*<span>{say(f"shell-{place}")}</span><span class="poise">', html)


def test_a_page_of_the_demo_says_so_and_no_other() -> None:
    assert say("shell-demo") in whole(demo=True)
    assert say("shell-demo") not in whole()


def test_a_page_shows_its_notice_once_and_begins_with_the_way_to_its_content() -> None:
    html = whole(notice="T-07 <was> put away.")
    assert html.count("T-07 &lt;was&gt; put away.") == 1
    assert (
        html.index('<a class="skip" href="#main">') < html.index("<header>") < html.index('<main id="main"')
    )
    assert html.count("<h1>") == 1
