"""XML as it is written, beside another hand's."""

from lxml import etree

from steelyard.paper.dcc.tree import Element, written

A, B = "https://one.example", "https://two.example"
PREFIXES = {"a": A, "b": B}
ODD = "& < > \" ' \t\n\r é 🔧 ]]>"


def tree() -> Element:
    root = Element(f"{{{A}}}root", None, {f"{{{B}}}where": ODD, "plain": "1"})
    for tag, text in ((f"{{{A}}}empty", None), (f"{{{A}}}nothing", ""), (f"{{{B}}}odd", ODD)):
        root.add(Element(tag, text, {}))
    inner = Element(f"{{{A}}}inner", None, {})
    inner.add(Element(f"{{{B}}}odd", "again", {"plain": ODD}))
    root.add(inner)
    return root


def by_others(element: Element, parent: "etree._Element | None" = None) -> "etree._Element":
    attributes = dict(element.attributes)
    made = (
        etree.Element(element.tag, attributes, nsmap=PREFIXES)
        if parent is None
        else etree.SubElement(parent, element.tag, attributes)
    )
    made.text = element.text
    for one in element.inside:
        by_others(one, made)
    return made


def test_it_is_written_as_lxml_writes_it() -> None:
    theirs = etree.tostring(by_others(tree()), xml_declaration=True, encoding="UTF-8", pretty_print=True)
    assert written(tree(), PREFIXES) == theirs


def test_a_reader_gets_back_every_character() -> None:
    root = etree.fromstring(written(tree(), PREFIXES))
    assert root.get(f"{{{B}}}where") == ODD
    assert root.findtext(f"{{{B}}}odd") == ODD


def test_elements_are_found_in_the_order_they_are_written() -> None:
    assert [one.text for one in tree().iter(f"{{{B}}}odd")] == [ODD, "again"]
    assert [one.tag for one in tree().iter(f"{{{A}}}root")] == [f"{{{A}}}root"]
