"""What a paper says, in reading order, from the tag tree of its PDF: headings, paragraphs, list items, tables.

Drawings are left out, which makes the peers' work easier than the program's.
"""

import re
import subprocess

HEADINGS = {"H1": 1, "H2": 2, "H3": 3}
TEXTS = {"P", "LBody", "Lbl", "Caption", "TH", "TD", *HEADINGS}


def blocks(pdf: str) -> list[dict]:
    """The blocks of one paper."""
    tree = subprocess.run(["pdfinfo", "-enc", "UTF-8", "-struct-text", pdf], capture_output=True, check=True).stdout
    found: list[dict] = []
    path: list[tuple[int, str]] = []
    # Alternative texts come as they stand in the file, and are not needed.
    for line in tree.decode(errors="replace").splitlines():
        depth = len(line) - len(line.lstrip())
        if text := re.match(r'\s*"(.*)"$', line):
            put(found, [name for _, name in path], text.group(1))
        elif tag := re.match(r"\s*([A-Z]\w*)\b", line):
            path = [it for it in path if it[0] < depth] + [(depth, tag.group(1))]
            if tag.group(1) in TEXTS | {"Table", "TR", "LI"}:
                opened(found, tag.group(1))
    return [it for it in found if it.get("text", "").strip() or any(map(any, it.get("rows", [])))]


def opened(found: list[dict], tag: str) -> None:
    """Begins a block, a row or a cell."""
    if tag == "Table":
        found.append({"kind": "table", "rows": []})
    elif tag == "TR" and found[-1]["kind"] == "table":
        found[-1]["rows"].append([])
    elif tag in ("TH", "TD") and found[-1]["kind"] == "table":
        found[-1]["rows"][-1].append("")
    elif tag in HEADINGS:
        found.append({"kind": "heading", "level": HEADINGS[tag], "text": ""})
    elif tag == "LBody":
        found.append({"kind": "item", "text": ""})
    elif tag == "P":
        found.append({"kind": "text", "text": ""})


def put(found: list[dict], path: list[str], text: str) -> None:
    """Adds a piece of text to the block it stands in."""
    if not found or "Lbl" in path:
        return
    block = found[-1]
    if "TH" in path or "TD" in path:
        if block["kind"] == "table" and block["rows"] and block["rows"][-1]:
            block["rows"][-1][-1] += text
    elif block["kind"] == "table":
        found.append({"kind": "text", "text": text})
    else:
        block["text"] += text
