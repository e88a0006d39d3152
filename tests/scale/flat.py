"""Prints many invented cases in one process and watches its memory: at the end the peak must be within a fifth of that
after the first hundred. Linux alone, whose `/proc` it reads; needs nothing else.

Usage: python3 tests/scale/flat.py PROGRAM [CASES] [PAPER...]
"""

import os
import pathlib
import subprocess
import sys
import tempfile
import time

from invented import invented

EARLY = 100
SHARE = 1.2


def peak(process: int) -> float:
    """Largest resident memory so far (MB)."""
    for line in pathlib.Path(f"/proc/{process}/status").read_text().splitlines():
        if line.startswith("VmHWM:"):
            return int(line.split()[1]) * 1024 / 1e6
    raise RuntimeError("the process is gone")


def main() -> None:
    program = os.path.abspath(sys.argv[1])
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 5000
    papers = sys.argv[3:] or ["handout", "card", "summary"]
    if count < 2 * EARLY:
        sys.exit(f"at least {2 * EARLY} cases, or there is nothing to compare")
    only = [part for paper in papers for part in ("--only", paper)]
    with tempfile.TemporaryDirectory() as home:
        cases = pathlib.Path(home, "cases")
        cases.mkdir()
        listed = pathlib.Path(home, "list.txt")
        listed.write_text("\n".join(invented(cases, count)))
        begun = time.monotonic()
        with subprocess.Popen(
            [program, "print", "--from", str(listed), "--out", str(pathlib.Path(home, "papers")), *only],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        ) as child:
            number, early, late = 0, 0.0, 0.0
            # The last few lines may come when the process is over already.
            for number, _ in enumerate(child.stdout, 1):
                if number == EARLY:
                    early = peak(child.pid)
                if number % (count // 10) == 0 and number < count:
                    late = peak(child.pid)
                    print(f"{number:>6} cases: {late:.0f} MB", flush=True)
        took = time.monotonic() - begun
        if child.returncode > 1 or number != count:
            sys.exit(f"{number} of {count} cases, exit code {child.returncode}")
        print(f"peak after {EARLY}: {early:.0f} MB; near the end: {late:.0f} MB, {late / early:.2f} times as much")
        print(f"{count} packets of {', '.join(papers)} in {took:.0f} s, {count / took:.1f} a second")
        if late > SHARE * early:
            sys.exit(f"more than {SHARE} times the early peak")


if __name__ == "__main__":
    main()
