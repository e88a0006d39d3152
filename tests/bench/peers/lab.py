"""The content through ReportLab's flowables; its open edition writes no tags."""

import html

from reportlab.lib import colors, pagesizes, styles
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics, ttfonts
from reportlab.platypus import Paragraph, SimpleDocTemplate, Table, TableStyle

FONTS = "fonts/atkinson-hyperlegible-next/AtkinsonHyperlegibleNext_"
pdfmetrics.registerFont(ttfonts.TTFont("A", FONTS + "400Regular.ttf"))
pdfmetrics.registerFont(ttfonts.TTFont("B", FONTS + "700Bold.ttf"))
TEXT = styles.ParagraphStyle("text", fontName="A", fontSize=12, leading=15, spaceAfter=6)
HEAD = styles.ParagraphStyle("head", fontName="B", fontSize=16, leading=20, spaceAfter=6)
GRID = TableStyle([("GRID", (0, 0), (-1, -1), 0.5, colors.black)])


def flowable(block: dict):
    if block["kind"] == "table":
        width = max(map(len, block["rows"]))
        rows = [[Paragraph(html.escape(it), TEXT) for it in row + [""] * (width - len(row))] for row in block["rows"]]
        return Table(rows, style=GRID, repeatRows=1)
    text = html.escape(block["text"])
    if block["kind"] == "heading":
        return Paragraph(text, HEAD)
    return Paragraph(text, TEXT, bulletText="•" if block["kind"] == "item" else None)


def make(blocks: list[dict], out: str) -> None:
    page = SimpleDocTemplate(out, pagesize=pagesizes.letter, margins=18 * mm, title="Paper", lang="en")
    page.build([flowable(it) for it in blocks])
