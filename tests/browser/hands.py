"""Ways to use a page: keys alone, fingers alone, plain forms. Each does what a person's hands can do."""

from typing import Protocol

from playwright.sync_api import Locator, Page, expect

from browser.seen import tab_to, tap

MOST_TABS = 90
UNFOLD = "() => document.querySelectorAll('main details').forEach(part => { part.open = true; })"


class Hand(Protocol):
    """What a job asks of a hand. page: where it works."""

    page: Page

    def follow(self, target: Locator) -> None:
        """Use a link or a button that leads to another page, and wait for it."""

    def press(self, target: Locator) -> None:
        """Use a button or a folded part; the page stays."""

    def write(self, field: Locator, text: str) -> None:
        """Write into a text field, in place of what stands there."""

    def mark(self, box: Locator) -> None:
        """Choose one of several, or tick a box."""

    def pick(self, field: Locator, value: str) -> None:
        """Choose from a list that folds out."""

    def pull(self, reading: str) -> None:
        """Take a reading on the pull page."""


def fill(hand: Hand, **typed: str) -> None:
    """Fill fields of the page in the order of the page; in a name two underscores stand for a dot."""
    for name, text in typed.items():
        fields = hand.page.locator("main").locator(f'[name="{name.replace("__", ".")}"]:not([type="hidden"])')
        kind = fields.first.evaluate("field => field.type")
        if kind in ("radio", "checkbox"):
            chosen = fields.and_(hand.page.locator(f'[value="{text}"]'))
            hand.mark(chosen)
            expect(chosen).to_be_checked()
        elif kind == "select-one":
            hand.pick(fields, text)
            expect(fields).to_have_value(text)
        else:
            hand.write(fields, text)
            expect(fields).to_have_value(text)


def label_of(box: Locator) -> Locator:
    """The words around a box, which are what one aims at."""
    return box.locator("xpath=ancestor::label")


class Keys:
    """A keyboard and nothing else."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def follow(self, target: Locator) -> None:
        tab_to(target, MOST_TABS)
        with self.page.expect_navigation():
            self.page.keyboard.press("Enter")

    def press(self, target: Locator) -> None:
        tab_to(target, MOST_TABS)
        self.page.keyboard.press("Space")

    def write(self, field: Locator, text: str) -> None:
        tab_to(field, MOST_TABS)
        self.page.keyboard.press("Control+a")
        self.page.keyboard.type(text)

    def mark(self, box: Locator) -> None:
        """Tab leads to the chosen one of a group, or to its first; arrows go on from there."""
        group = self.page.locator(f'[name="{box.get_attribute("name")}"]')
        chosen = group.and_(self.page.locator(":checked"))
        is_radio = box.get_attribute("type") == "radio"
        tab_to(chosen if is_radio and chosen.count() else group.first if is_radio else box, MOST_TABS)
        for _ in range(group.count()):
            if box.evaluate("box => box === document.activeElement"):
                break
            self.page.keyboard.press("ArrowDown")
        if not box.is_checked():
            self.page.keyboard.press("Space")

    def pick(self, field: Locator, value: str) -> None:
        tab_to(field, MOST_TABS)
        self.page.keyboard.press("Home")
        for _ in range(field.locator("option").count()):
            if field.input_value() == value:
                return
            self.page.keyboard.press("ArrowDown")

    def pull(self, reading: str) -> None:
        """Nothing needs the focus: digits and Enter, as from a device."""
        self.page.keyboard.type(reading)
        self.page.keyboard.press("Enter")


class Fingers:
    """Touch and the keys that a phone shows; each aim is looked at before it is hit."""

    def __init__(self, page: Page) -> None:
        self.page = page

    @property
    def least_px(self) -> float:
        """How large an aim has to be here. [CSS px]"""
        return 56 if "/bench/" in self.page.url else 48

    def follow(self, target: Locator) -> None:
        with self.page.expect_navigation():
            tap(target, self.least_px)

    def press(self, target: Locator) -> None:
        tap(target, self.least_px)

    def write(self, field: Locator, text: str) -> None:
        tap(field, self.least_px)
        expect(field).to_be_focused()
        self.page.keyboard.press("Control+a")
        self.page.keyboard.type(text)

    def mark(self, box: Locator) -> None:
        if not box.is_checked():
            tap(label_of(box), self.least_px)

    def pick(self, field: Locator, value: str) -> None:
        """The list that folds out belongs to the phone and is not part of the page."""
        tap(field, self.least_px)
        field.select_option(value)

    def pull(self, reading: str) -> None:
        for key in (*reading, "Enter"):
            tap(self.page.locator(f'.keypad [data-key="{key}"]'), 64)


class PlainForms:
    """A mouse, a keyboard, and a browser in which no script runs."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def follow(self, target: Locator) -> None:
        with self.page.expect_navigation():
            target.click()

    def press(self, target: Locator) -> None:
        target.click()

    def write(self, field: Locator, text: str) -> None:
        field.fill(text)

    def mark(self, box: Locator) -> None:
        label_of(box).click()

    def pick(self, field: Locator, value: str) -> None:
        field.select_option(value)

    def pull(self, reading: str) -> None:
        self.page.locator("#f-line").fill(reading)
        self.follow(self.page.locator("#pull-take"))
