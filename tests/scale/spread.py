"""Prints many invented cases twice, by one process and spread over Dask workers, and compares every byte.

A packet is one independent job that gives the same bytes wherever it runs and is put in place whole or not at all,
so an engine may run it anywhere, and again where a worker was lost.
"""

import filecmp
import json
import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time

from dask.distributed import Client, LocalCluster, as_completed
from invented import invented

CHUNK = 10


def printed(program: str, paths: list[str], out: str, papers: list[str], jobs: int) -> list[dict]:
    """One call of the program over a list on standard input; its JSON lines."""
    only = [part for paper in papers for part in ("--only", paper)]
    done = subprocess.run(
        [program, "print", "--from", "-", "--out", out, "--jobs", str(jobs), *only],
        input="\n".join(paths),
        capture_output=True,
        text=True,
    )
    # 1: some papers are withheld, which is an answer; more is a failure of the job.
    if done.returncode > 1:
        raise RuntimeError(done.stderr)
    return [json.loads(line) for line in done.stdout.splitlines()]


def spread(program: str, paths: list[str], out: str, papers: list[str]) -> tuple[list[dict], int]:
    """The same over two Dask workers, one of which is killed when half of the chunks are done."""
    chunks = [paths[at : at + CHUNK] for at in range(0, len(paths), CHUNK)]
    lines, killed = [], 0
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster, Client(cluster) as client:
        jobs = [client.submit(printed, program, chunk, out, papers, 1, retries=2) for chunk in chunks]
        for done, job in enumerate(as_completed(jobs), 1):
            lines += job.result()
            if done == len(chunks) // 2:
                killed = next(iter(client.run(os.getpid).values()))
                os.kill(killed, signal.SIGKILL)
    return lines, killed


def compared(one: pathlib.Path, many: pathlib.Path) -> int:
    """How many papers are the same; stops at the first that is not."""
    names = sorted(it.name for it in one.iterdir())
    if names != sorted(it.name for it in many.iterdir() if not it.name.startswith(".")):
        sys.exit("the two runs printed different papers")
    _, other, broken = filecmp.cmpfiles(one, many, names, shallow=False)
    if other or broken:
        sys.exit(f"{len(other)} papers differ and {len(broken)} cannot be read, {(other + broken)[0]} first")
    return len(names)


def main() -> None:
    program = os.path.abspath(sys.argv[1])
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 2000
    papers = sys.argv[3:] or ["handout", "card", "summary"]
    with tempfile.TemporaryDirectory() as home:
        folders = {name: pathlib.Path(home, name) for name in ("cases", "one", "many")}
        for folder in folders.values():
            folder.mkdir()
        paths = invented(folders["cases"], count)
        start = time.monotonic()
        alone = printed(program, paths, str(folders["one"]), papers, os.cpu_count() or 1)
        middle = time.monotonic()
        lines, killed = spread(program, paths, str(folders["many"]), papers)
        end = time.monotonic()
        same = compared(folders["one"], folders["many"])
        if sorted(it["case"] for it in alone) != sorted({it["case"] for it in lines}):
            sys.exit("a case was lost")
        print(f"{count} cases, {same} papers, the same bytes; worker {killed} was killed half-way and nothing lost")
        print(f"one process: {middle - start:.0f} s, {count / (middle - start):.1f} packets a second")
        print(f"two Dask workers: {end - middle:.0f} s, {count / (end - middle):.1f} packets a second")


if __name__ == "__main__":
    main()
