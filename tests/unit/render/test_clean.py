"""Texts as they stand in XML: read back by Python's own parser they are what they were."""

from __future__ import annotations

from defusedxml import ElementTree
from hypothesis import given
from hypothesis import strategies as st

from compiler.render.clean import as_value, clean_text, escaped


@given(st.text(alphabet=st.sampled_from("a<>&\"'\n\t;= é"), max_size=12))
def test_a_text_in_xml_is_read_back(text: str) -> None:
    """Between tags and as the value of an attribute, where line ends and tabs would else become spaces."""
    read = ElementTree.fromstring(f"<a b={as_value(text)}>{escaped(text)}</a>")
    assert (read.get("b"), read.text or "") == (text, text)


def test_a_carriage_return_is_kept_in_a_value() -> None:
    """A parser makes a line feed of one that stands as it is; between tags it has been cleaned away."""
    assert ElementTree.fromstring(f"<a b={as_value(chr(13))}/>").get("b") == "\r"
    assert clean_text("a\r\nb") == "a\nb"
