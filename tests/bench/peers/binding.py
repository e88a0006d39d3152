"""The content through Typst's Python binding with a plain layout, to the same two standards as the program's papers."""

import json
import pathlib
import tempfile

import typst

LAYOUT = """
#set document(title: "Paper")
#set page(paper: "us-letter", margin: 18mm, numbering: "1 / 1")
#set text(font: "Atkinson Hyperlegible Next", size: 12pt, lang: "en")
#for block in json("content.json") {
  if block.kind == "heading" { heading(level: block.level, block.text) }
  else if block.kind == "item" { list.item(block.text) }
  else if block.kind == "table" {
    let (head, ..rows) = block.rows
    let wide = calc.max(..block.rows.map(array.len))
    let filled(row) = row + ("",) * (wide - row.len())
    table(columns: wide, table.header(..filled(head)), ..rows.map(filled).flatten())
  } else { par(block.text) }
}
"""
HOME = tempfile.TemporaryDirectory()
pathlib.Path(HOME.name, "paper.typ").write_text(LAYOUT)
FONTS = [str(pathlib.Path("fonts").resolve())]
COMPILER = None


def make(blocks: list[dict], out: str) -> None:
    global COMPILER
    pathlib.Path(HOME.name, "content.json").write_text(json.dumps(blocks))
    if COMPILER is None:
        COMPILER = typst.Compiler(
            str(pathlib.Path(HOME.name, "paper.typ")), font_paths=FONTS, ignore_system_fonts=True
        )
    COMPILER.compile(output=out, format="pdf", pdf_standards=["ua-1", "a-2a"])
