"""The content as HTML through WeasyPrint, tagged, as PDF/UA-1."""

import html

import weasyprint

STYLE = """
@font-face { font-family: A; src: url('fonts/atkinson-hyperlegible-next/AtkinsonHyperlegibleNext_400Regular.ttf') }
@font-face { font-family: A; font-weight: bold;
  src: url('fonts/atkinson-hyperlegible-next/AtkinsonHyperlegibleNext_700Bold.ttf') }
@page { size: letter; margin: 18mm; @bottom-right { content: counter(page) ' / ' counter(pages) } }
body { font: 12pt A } table { border-collapse: collapse; width: 100% } td, th { border: .5pt solid; text-align: left }
"""


def element(block: dict) -> str:
    if block["kind"] == "table":
        head, *body = block["rows"]
        row = lambda cells, tag: "<tr>" + "".join(f"<{tag}>{html.escape(it)}</{tag}>" for it in cells) + "</tr>"
        rows = "".join(row(it, "td") for it in body)
        return f"<table><thead>{row(head, 'th')}</thead><tbody>{rows}</tbody></table>"
    text = html.escape(block["text"])
    match block["kind"]:
        case "heading":
            return f"<h{block['level']}>{text}</h{block['level']}>"
        case "item":
            return f"<ul><li>{text}</li></ul>"
        case _:
            return f"<p>{text}</p>"


def make(blocks: list[dict], out: str) -> None:
    body = "".join(map(element, blocks))
    page = f"<html lang=en><head><title>Paper</title><style>{STYLE}</style></head><body>{body}</body></html>"
    weasyprint.HTML(string=page, base_url=".").write_pdf(out, pdf_variant="pdf/ua-1")
