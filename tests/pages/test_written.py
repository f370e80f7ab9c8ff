"""Cells and rows as markup, letter by letter: nothing of a text is markup, a figure says how it is known."""

from __future__ import annotations

import pytest
from markupsafe import Markup

from specreg.pages.content import Break, Cell, Figure, Known, Picture, Row, Unknown, Words, cell
from specreg.pages.texts import Texts, Untranslated
from specreg.pages.written import Writer

TEXTS = Texts(
    "de",
    {"known.declared": "laut <Plan>", "known.computed": "berechnet", "known.measured": "gemessen"},
    {"known.seen by": "seen by"},
)


@pytest.mark.parametrize(
    ("pieces", "markup"),
    [
        ((), ""),
        ((Words("a <b> & c"),), "a &lt;b&gt; &amp; c"),
        ((Words("a", strong=True),), "<b>a</b>"),
        ((Words(Untranslated("a <b>")),), '<span lang="en">a &lt;b&gt;</span>'),
        ((Words("lamp (-E1)"),), 'lamp (<span class="n">-E1)</span>'),
        ((Words("<a>", 'x.html?"&'),), '<a href="x.html?&#34;&amp;">&lt;a&gt;</a>'),
        ((Words("a", "x.html", strong=True),), '<a href="x.html">a</a>'),
        ((Words("a"), Break(), Words("b")), "a<br>b"),
        (
            (Figure("<1 A", Known.declared),),
            '<span class="figure"><b>&lt;1 A</b> <i>laut &lt;Plan&gt;</i></span>',
        ),
        (
            (Figure("1 A", Known.measured, "on 2026-05-20"),),
            '<span class="figure"><b>1 A</b> <i>gemessen: on <span class="n">2026-05-20</span></i></span>',
        ),
        (
            (Figure("", Known.computed, "a & b"),),
            '<span class="figure"> <i>berechnet: a &amp; b</i></span>',
        ),
        (
            (Figure("ok", Known.seen, "A. B."),),
            '<span class="figure"><b>ok</b> <i><span lang="en">seen by</span> A. B.</i></span>',
        ),
        ((Unknown("state <x>"),), '<span class="unknown">state &lt;x&gt;</span>'),
        (
            (Unknown(Untranslated("state <x>")),),
            '<span class="unknown"><span lang="en">state &lt;x&gt;</span></span>',
        ),
        (
            (Picture('a"b.jpg', 'the "galley" (-E1)', 640, 480),),
            '<a class="photo" href="a&#34;b.jpg"><img src="a&#34;b.jpg" alt="the &#34;galley&#34; (-E1)" '
            'width="640" height="480" loading="lazy"></a>',
        ),
        (
            (Picture("a.jpg", Untranslated("the <galley>"), 1, 2),),
            '<a class="photo" href="a.jpg"><img src="a.jpg" alt="the &lt;galley&gt;" '
            'width="1" height="2" loading="lazy"></a>',
        ),
    ],
)
def test_a_cell(pieces: Cell, markup: str) -> None:
    """Each kind of piece, with what would be markup in it; in an attribute stands none."""
    found = Writer(TEXTS).cell(pieces)
    assert isinstance(found, Markup)
    assert found == markup


def test_a_row() -> None:
    """Each cell has the name of its column; places that older links lead to stand in the first one."""
    row = Row((cell("a"), (), cell("<c>")), formerly=("was", 'and"was'))
    found = Writer(TEXTS).row(row, ("<One>", "Two", Untranslated("Three & (-E1)")))
    assert isinstance(found, Markup)
    assert found == (
        '<td data-of="&lt;One&gt;"><span id="was"></span><span id="and&#34;was"></span>a</td>'
        '<td data-of="Two"></td>'
        '<td data-of="Three &amp; (-E1)">&lt;c&gt;</td>'
    )


def test_a_row_has_a_cell_for_each_column() -> None:
    """A cell too few would slide the others below the wrong heads."""
    with pytest.raises(ValueError, match="shorter"):
        Writer(TEXTS).row(Row((cell("a"),)), ("One", "Two"))
