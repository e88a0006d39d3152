"""Runs the program and its peers one after the other over the same three papers, and prints a table with ratios."""

import json
import os
import pathlib
import random
import statistics
import subprocess
import sys
import tempfile
import time

from content import blocks

sys.path.insert(0, str(pathlib.Path(__file__).parents[2] / "scale"))
from invented import another  # noqa: E402

PAPERS = ["handout", "card", "summary"]
PEERS = {"WeasyPrint": "weasy", "ReportLab": "lab", "Typst's Python binding": "binding"}
COLD, WARM = 11, 20
HERE = pathlib.Path(__file__).parent
DEMO = pathlib.Path("demo-cases/quarry-bend-left-flexion.yaml")


def wall(command: list[str]) -> float:
    begun = time.monotonic()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return time.monotonic() - begun


def spent(command: list[str]) -> tuple[float, float]:
    """CPU seconds and peak memory in MB of a command, told by a process whose only child it is."""
    done = subprocess.run([sys.executable, "-c", SPENT, *command], check=True, capture_output=True, text=True)
    told = json.loads(done.stdout)
    return told["cpu"], told["peak"]


SPENT = """
import json, resource, subprocess, sys
subprocess.run(sys.argv[1:], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
it = resource.getrusage(resource.RUSAGE_CHILDREN)
print(json.dumps({'cpu': it.ru_utime + it.ru_stime, 'peak': it.ru_maxrss / 1000}))
"""


def size(folder: str) -> int:
    return sum((pathlib.Path(folder) / f"{it}.pdf").stat().st_size for it in PAPERS)


def tagged(pdf: str) -> str:
    told = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
    return next(line.split()[1] for line in told.splitlines() if line.startswith("Tagged:"))


def ours(program: str, home: str) -> dict:
    """The program: cold as one process a packet, warm as one process and one worker over cases of unlike patients."""
    only = [part for paper in PAPERS for part in ("--only", paper)]
    one = [program, "print", str(DEMO), "--out", f"{home}/ours", *only]
    cold = statistics.median(wall(one) for _ in range(COLD))
    text, chance = DEMO.read_text(), random.Random(20260413)
    paths = []
    for number in range(WARM + 1):
        paths.append(f"{home}/{number}.yaml")
        pathlib.Path(paths[-1]).write_text(another(text, number, chance))
    many = [program, "print", "--out", f"{home}/many", "--jobs", "1", *only]
    first, _ = spent([*many, paths[0]])
    all_, peak = spent([*many, *paths])
    for paper in PAPERS:
        os.rename(f"{home}/ours/QB-2207-{paper}.pdf", f"{home}/ours/{paper}.pdf")
    return {"cold": cold, "warm": (all_ - first) / WARM, "peak": peak, "size": size(f"{home}/ours"),
            "tagged": tagged(f"{home}/ours/handout.pdf")}


def peer(module: str, content: str, home: str) -> dict:
    out = f"{home}/{module}"
    os.mkdir(out)
    command = [sys.executable, str(HERE / "peer.py"), module, content, out]
    cold = statistics.median(wall([*command, "1"]) for _ in range(COLD))
    done = subprocess.run([*command, str(WARM + 1)], check=True, capture_output=True, text=True)
    told = json.loads(done.stdout.splitlines()[-1])
    return {"cold": cold, "warm": statistics.mean(told["cpu"][1:]), "peak": told["peak"], "size": size(out),
            "tagged": tagged(f"{out}/handout.pdf")}


def main() -> None:
    program = os.path.abspath(sys.argv[1])
    with tempfile.TemporaryDirectory() as home:
        rows = {"tautline": ours(program, home)}
        content = f"{home}/content.json"
        papers = {it: blocks(f"{home}/ours/{it}.pdf") for it in PAPERS}
        pathlib.Path(content).write_text(json.dumps(papers))
        for name, module in PEERS.items():
            rows[name] = peer(module, content, home)
    words = sum(len(json.dumps(it).split()) for it in papers.values())
    print(f"Three papers, {words} words; drawings by tautline alone. Ratios to tautline in brackets.\n")
    print("| made with | cold, wall | warm, CPU a packet | peak memory | files | tagged |\n|---|---|---|---|---|---|")
    own = rows["tautline"]
    for name, it in rows.items():
        ratio = lambda key: f"({it[key] / own[key]:.2f})"
        print(
            f"| {name} | {it['cold'] * 1e3:.0f} ms {ratio('cold')} | {it['warm'] * 1e3:.0f} ms {ratio('warm')} "
            f"| {it['peak']:.0f} MB {ratio('peak')} | {it['size'] / 1e3:.0f} kB {ratio('size')} | {it['tagged']} |"
        )


if __name__ == "__main__":
    main()
