"""Holds what the suite counted in each running text against textstat on the same text.

textstat counts syllables by hyphenation patterns, which leave out breaks that typesetters avoid (`a-gain`), and does
not count sentences of one or two words: so its syllables are too few and its sentences too long, and the two errors
part ways. The bounds allow for that and for nothing more.
"""

import pathlib
import sys

import textstat

# Grades (English) and points of 100 (Spanish).
BOUNDS = {"grade": 0.75, "SMOG": 0.75, "ease": 10.0}


def theirs(language, text):
    textstat.set_lang({"en": "en_US", "es": "es"}[language])
    textstat.textstat.set_rounding(False)
    if language == "en":
        return {"grade": textstat.flesch_kincaid_grade(text), "SMOG": textstat.smog_index(text)}
    return {"ease": textstat.flesch_reading_ease(text)}


def compare(file):
    head, text = file.read_text(encoding="utf-8").split("\n", 1)
    language, _, words, *scores = head.split("\t")
    assert textstat.lexicon_count(text) == int(words), f"{file}: {textstat.lexicon_count(text)} words, not {words}"
    for (name, other), ours in zip(theirs(language, text).items(), scores):
        yield name, float(ours), other


def main():
    files = sorted(pathlib.Path(sys.argv[1]).glob("*.txt"))
    worst, failed = {}, 0
    for file in files:
        for name, ours, other in compare(file):
            apart = abs(ours - other)
            worst[name] = max(worst.get(name, 0.0), apart)
            if not apart <= BOUNDS[name]:
                failed += 1
                print(f"{file.name}: {name} {ours:.2f} against {other:.2f}")
    told = ", ".join(f"{name} {apart:.2f} of {BOUNDS[name]:.1f}" for name, apart in worst.items())
    print(f"readability: {len(files)} texts against textstat, at most apart by {told}")
    return 1 if failed or not files else 0


if __name__ == "__main__":
    sys.exit(main())
