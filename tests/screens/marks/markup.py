"""Reads marks as a browser would: balanced tags, text, roles and labels."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

_ALONE = {"br", "img", "hr", "input", "meta", "link"}


@dataclass
class Element:
    tag: str
    attributes: dict[str, str]
    children: list[Element] = field(default_factory=list)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.top = Element("top", {})
        self.open = [self.top]
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        made = Element(tag, {name: value or "" for name, value in attrs})
        self.open[-1].children.append(made)
        if tag not in _ALONE:
            self.open.append(made)

    def handle_endtag(self, tag: str) -> None:
        assert self.open[-1].tag == tag, f"</{tag}> closes <{self.open[-1].tag}>"
        self.open.pop()

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


@dataclass
class Page:
    elements: list[Element]
    text: str

    def with_class(self, css: str) -> list[Element]:
        return [one for one in self.elements if css in one.attributes.get("class", "").split()]

    @property
    def labels(self) -> list[str]:
        return [one.attributes["aria-label"] for one in self.elements if "aria-label" in one.attributes]

    @property
    def tags(self) -> set[str]:
        return {one.tag for one in self.elements}


def read(mark: str) -> Page:
    """Parse a mark; fails where its tags are not balanced."""
    reader = _Reader()
    reader.feed(mark)
    reader.close()
    assert reader.open == [reader.top], f"<{reader.open[-1].tag}> is never closed"
    found: list[Element] = []
    waiting = list(reader.top.children)
    while waiting:
        here = waiting.pop(0)
        found.append(here)
        waiting = here.children + waiting
    return Page(found, " ".join(" ".join(reader.texts).split()))


def left_of(element: Element) -> float:
    """The `left` of an element in percent."""
    style = dict(part.split(":", 1) for part in element.attributes["style"].split(";") if part)
    return float(style["left"].strip().removesuffix("%"))
