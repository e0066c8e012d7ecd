"""What a person sees and touches on a page, measured. What is not so raises AssertionError."""

from collections.abc import Iterable, Sequence

from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]
from playwright.sync_api import FloatRect, Locator, Page

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
CONTRAST = ["color-contrast"]
AXE = Axe()
INNER_STOPS = 12
"""How many more times Tab is pressed than there are controls: dates have parts, once around is one more."""

# Height of the ink of an element's text, by the font it is really drawn in; a scale() on the way is counted.
INK_PX = """element => {
  const style = getComputedStyle(element), pen = document.createElement('canvas').getContext('2d');
  pen.font = `${style.fontStyle} ${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
  const ink = pen.measureText((element.value ?? element.textContent).trim());
  const scale = element.offsetHeight ? element.getBoundingClientRect().height / element.offsetHeight : 1;
  return scale * (ink.actualBoundingBoxAscent + ink.actualBoundingBoxDescent);
}"""

# Colours of text and of what is behind it after all layers and opacities, as [r, g, b] of 0..255.
INK_AND_GROUND = """element => {
  const pen = new OffscreenCanvas(1, 1).getContext('2d', {willReadFrequently: true});
  const read = colour => {
    pen.clearRect(0, 0, 1, 1);
    pen.fillStyle = colour;
    pen.fillRect(0, 0, 1, 1);
    const [r, g, b, a] = pen.getImageData(0, 0, 1, 1).data;
    return {rgb: [r, g, b], part: a / 255};
  };
  const mix = (under, over, part) => under.map((value, i) => value + part * (over[i] - value));
  const path = [];
  for (let at = element; at; at = at.parentElement) path.unshift(at);
  let opaque = false;
  const look = (i, under) => {
    const style = getComputedStyle(path[i]), own = read(style.backgroundColor);
    if (style.backgroundImage !== 'none') throw new Error('a picture lies behind the text');
    if (own.part === 1) opaque = true;
    const ground = mix(under, own.rgb, own.part), ink = read(style.fill && element.ownerSVGElement
      && i === path.length - 1 ? style.fill : style.color);
    const seen = i === path.length - 1 ? [mix(ground, ink.rgb, ink.part), ground] : look(i + 1, ground);
    return seen.map(colour => mix(under, colour, Number(style.opacity)));
  };
  const seen = look(0, [255, 255, 255]);
  if (!opaque) throw new Error('nothing opaque lies behind the text');
  return seen;
}"""

# Everything a finger aims at that is smaller than wanted, its label too, and what a link spreads itself over.
# Links inside a sentence are left out (WCAG 2.2 SC 2.5.5 and 2.5.8), and what waits outside the page until it
# has the focus.
SMALL_TARGETS = """least => {
  const aims = 'a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex="0"]';
  const inSentence = e => e.matches('a') && getComputedStyle(e).display === 'inline'
    && [...e.parentElement.childNodes].some(n => n.nodeType === Node.TEXT_NODE && n.textContent.trim());
  const spread = e => {
    const over = getComputedStyle(e, '::after');
    if (over.position !== 'absolute' || over.inset !== '0px') return [];
    let at = e;
    while (getComputedStyle(at).position === 'static') at = at.parentElement;
    return [at];
  };
  const side = box => Math.min(box.width, box.height);
  return [...document.querySelectorAll(aims)]
    .filter(e => e.checkVisibility({visibilityProperty: true}) && !inSentence(e))
    .map(e => [e, [e, ...(e.labels ?? []), ...spread(e)].map(part => part.getBoundingClientRect())])
    .filter(([, boxes]) => boxes.some(box => box.right > 0 && box.bottom > 0))
    .filter(([, boxes]) => boxes.every(box => side(box) < least - 0.5))
    .map(([e, [box]]) => [e.ariaLabel || (e.labels?.[0] ?? e).textContent || e.name, box])
    .map(([name, box]) => `${name.trim()}: ${box.width} × ${box.height} px`);
}"""

# An outline on the element that has the focus, or on its label, or on what a label shows in its place.
FOCUS_RING = """element => [element, ...(element.labels ?? []), element.nextElementSibling].some(part => {
  const style = part && getComputedStyle(part);
  return style && style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) > 0;
})"""

# Nothing lies over the middle of the element that has the focus (WCAG 2.2 SC 2.4.11, and stricter); while a
# page is still coming in, its old picture does.
IN_SIGHT = """async element => {
  const parts = [element, ...(element.labels ?? [])];
  const isClear = () => {
    const box = element.getClientRects()[0];
    const there = document.elementFromPoint((box.left + box.right) / 2, (box.top + box.bottom) / 2);
    return parts.some(part => part.contains(there));
  };
  for (const until = performance.now() + 2000; !isClear() && performance.now() < until;)
    await new Promise(requestAnimationFrame);
  return isClear();
}"""

# Numbers all that Tab should lead to, in the order in which it stands in the page; radios of a group are one.
NUMBER_STOPS = """() => {
  const all = 'a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex="0"]';
  const seen = new Map();
  for (const e of document.querySelectorAll(all)) {
    if (!e.checkVisibility({visibilityProperty: true}) || e.disabled || e.tabIndex < 0) continue;
    const key = e.type === 'radio' ? `${e.form?.action} ${e.name}` : e;
    if (!seen.has(key)) seen.set(key, seen.size);
    e.stop = seen.get(key);
  }
  return seen.size;
}"""
STOP_HERE = "() => document.activeElement.stop ?? -1"


def axe(page: Page, rules: Sequence[str] = TAGS) -> None:
    """Raise with the report when axe-core finds a breach of WCAG 2.2 A or AA, or of good practice.

    rules: tags or names of rules of axe-core, one sort of the two.
    """
    found = AXE.run(page, options={"runOnly": list(rules), "resultTypes": ["violations"]})
    assert found.violations_count == 0, f"{page.url}\n{found.generate_report()}"


def box(target: Locator) -> FloatRect:
    """Where it is on the screen. [CSS px]"""
    found = target.bounding_box()
    assert found is not None, "it is not shown"
    return found


def digit_height_px(target: Locator) -> float:
    """Height of the ink of its text, top of the highest to foot of the lowest character. [CSS px]

    Left out: text in more than one font or size inside the element.
    """
    return float(target.evaluate(INK_PX))


def contrast(target: Locator) -> float:
    """Contrast of its text against what lies behind it, transparent layers and opacity included. [1..21]

    Raises when a picture or a gradient lies behind, or nothing opaque does.
    Source: WCAG 2.2, definitions of contrast ratio and relative luminance.
    Left out: things that lie behind without being ancestors, filters, blend modes.
    """
    ink, ground = (luminance(colour) for colour in target.evaluate(INK_AND_GROUND))
    return (max(ink, ground) + 0.05) / (min(ink, ground) + 0.05)


def luminance(colour: Iterable[float]) -> float:
    """Relative luminance of an sRGB colour of 0..255. Source: WCAG 2.2, relative luminance."""
    parts = [value / 255 for value in colour]
    red, green, blue = (v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def targets_are_large(page: Page, least_px: float = 48) -> None:
    """Raise with a list when something a finger aims at is narrower or lower than this. [CSS px]"""
    small = page.evaluate(SMALL_TARGETS, least_px)
    assert not small, f"{page.url}\n" + "\n".join(small)


def fits_across(page: Page) -> None:
    """Raise when the page is wider than its window: it scrolls sideways, or a phone shows it made small."""
    wide, size = page.evaluate("document.documentElement.scrollWidth"), page.viewport_size
    assert size is not None, "the page has no size of its own"
    assert wide <= size["width"], f"{page.url}: {wide} px wide in a window of {size['width']} px"


def tap(target: Locator, least_px: float = 48) -> None:
    """Touch its middle, after a look that a finger can hit it. [CSS px]"""
    target.scroll_into_view_if_needed()
    found = box(target)
    assert min(found["width"], found["height"]) >= least_px - 0.5, f"too small for a finger: {found}"
    target.tap()


def press_long(target: Locator, milliseconds: int = 900) -> None:
    """Hold a finger on its middle. [ms]"""
    target.scroll_into_view_if_needed()
    found, page = box(target), target.page
    point = {"x": found["x"] + found["width"] / 2, "y": found["y"] + found["height"] / 2}
    finger = page.context.new_cdp_session(page)
    finger.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [point]})
    page.wait_for_timeout(milliseconds)
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    finger.detach()


def tab_to(target: Locator, most: int = 60) -> None:
    """Press Tab until it has the focus; raise when it never gets it or the focus cannot be seen on it."""
    for _ in range(most):
        target.page.keyboard.press("Tab")
        if target.evaluate("element => element === document.activeElement"):
            assert target.evaluate(FOCUS_RING), "nothing shows that it has the focus"
            assert target.evaluate(IN_SIGHT), "it has the focus and lies out of sight or under something"
            return
    raise AssertionError(f"{most} times Tab did not lead there")


def walk(page: Page) -> None:
    """Go once around the page with Tab and once back.

    Raises where a control is left out, cannot be left, comes out of order, lies under something, or does not
    show that it has the focus.
    """
    count = page.evaluate(NUMBER_STOPS)
    for key, way in (("Tab", 1), ("Shift+Tab", -1)):
        page.keyboard.press(key)
        last, met = page.evaluate(STOP_HERE), set()
        for _ in range(count + INNER_STOPS):
            page.keyboard.press(key)
            stop = page.evaluate(STOP_HERE)
            if stop in (-1, last):  # once around, or on to the next part of a date
                continue
            where = f"{page.url}: {key} leads from {last} to {stop}"
            assert last == -1 or stop == (last + way) % count, where
            assert page.evaluate(f"({FOCUS_RING})(document.activeElement)"), f"{where}: nothing shows it"
            assert page.evaluate(f"({IN_SIGHT})(document.activeElement)"), f"{where}, which is hidden"
            last = stop
            met.add(stop)
        assert met == set(range(count)), f"{page.url}: never met: {set(range(count)) - met}"


def wedge(page: Page, lines: Iterable[str], pause_ms: float = 0) -> None:
    """Send lines as a device does that types like a keyboard: each character at once, then Enter. [ms]"""
    for line in lines:
        page.keyboard.type(line)
        page.keyboard.press("Enter")
        if pause_ms:
            page.wait_for_timeout(pause_ms)
