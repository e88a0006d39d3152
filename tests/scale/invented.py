"""Invented cases, many, of different patients at different clinics; the same on each run."""

import datetime
import pathlib
import random
import re

DEMOS = ["quarry-bend-left-flexion", "saltmarsh-right-extension", "ropewalk-plateau", "salt-stair-spanish"]
NAMES = ["Ada Brook", "Bo Tarn", "Cy Fell", "Di Scree", "Ed Combe", "Fay Thwaite"]
CLINICS = [
    ("Upper Weir Hand Rooms", "555-0131", "Oona Pell, OT"),
    ("Tanyard Lane Hand Therapy", "555-0164", "Jory Anstey, OTR/L"),
    ("Three Bridges Hand Clinic", "555-0125", "Mina Sorley, OT"),
    ("Beacon Steps Therapy", "555-0189", "Pia Lund, OTR/L, CHT"),
]
DAY = re.compile(r"\b20\d\d-\d\d-\d\d\b")
LENGTH = re.compile(r"\b(\d+(?:\.\d+)?) (cm|mm)\b")
FORCE = re.compile(r"\bforce: (\d+(?:\.\d+)?)\b")


def another(case: str, number: int, chance: random.Random) -> str:
    """The same job for another patient: name, clinic, days, the limb's sizes and what the gauge read."""
    clinic, phone, therapist = chance.choice(CLINICS)
    own = {"id": f"SC-{number:05}", "phone": phone, "therapist": therapist}
    names = iter((clinic, chance.choice(NAMES)))
    later = datetime.timedelta(days=chance.randint(0, 27))
    size, grip = chance.uniform(0.97, 1.03), chance.uniform(0.9, 1.1)
    lines, section = [], ""
    for line in case.splitlines():
        if line[:1].isalpha():
            section = line.split(":")[0]
        key = line.strip().split(":")[0]
        if line.startswith(f"  {key}:") and section in ("case", "clinic", "patient"):
            new = next(names) if key == "name" else own.get(key)
            line = f"  {key}: {new}" if new else line
        line = DAY.sub(lambda it: str(datetime.date.fromisoformat(it[0]) + later), line)
        line = FORCE.sub(lambda it: f"force: {float(it[1]) * grip:.2f}", line)
        if section == "limb":
            line = LENGTH.sub(lambda it: f"{float(it[1]) * size:.1f} {it[2]}", line)
        lines.append(line)
    return "\n".join(lines) + "\n"


def invented(folder: pathlib.Path, count: int) -> list[str]:
    """Writes case files and gives their paths."""
    chance = random.Random(20260413)
    demos = [pathlib.Path("demo-cases", f"{name}.yaml").read_text() for name in DEMOS]
    paths = []
    for number in range(count):
        path = folder / f"SC-{number:05}.yaml"
        path.write_text(another(demos[number % len(demos)], number, chance))
        paths.append(str(path))
    return paths
