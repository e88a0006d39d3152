"""Invented cases, many and each a little different; the same on each run."""

import pathlib
import random

DEMOS = ["quarry-bend-left-flexion", "saltmarsh-right-extension", "ropewalk-plateau", "salt-stair-spanish"]
NAMES = ["Ada Brook", "Bo Tarn", "Cy Fell", "Di Scree", "Ed Combe", "Fay Thwaite"]


def invented(folder: pathlib.Path, count: int) -> list[str]:
    """Writes case files that differ in id, name and limb, and gives their paths."""
    chance = random.Random(20260413)
    demos = [pathlib.Path("demo-cases", f"{name}.yaml").read_text() for name in DEMOS]
    paths = []
    for number in range(count):
        lines = []
        for line in demos[number % len(demos)].splitlines():
            key = line.strip().split(":")[0]
            if line.startswith("  id:"):
                line = f"  id: SC-{number:05}"
            elif line.startswith("  name:") and not any(it.startswith("  name:") for it in lines):
                line = f"  name: {chance.choice(NAMES)}"
            elif key == "forearm_length" and line.rstrip().endswith("mm"):
                line = f"{line[: line.index(':')]}: {chance.randint(235, 275)} mm"
            lines.append(line)
        path = folder / f"SC-{number:05}.yaml"
        path.write_text("\n".join(lines) + "\n")
        paths.append(str(path))
    return paths
