#!/bin/bash
# Holds the suite's measure of readability against textstat, from PyPI, on the same running texts: those of the handouts
# of all demo cases. Version 0.7.4 needs no download at run time; it needs a setuptools that still has pkg_resources.
set -euo pipefail
cd "$(dirname "$0")/../.."
work=target/readability
tools=target/tools/readability

if [ ! -x "$tools/bin/python" ]; then
  python3 -m venv "$tools"
fi
"$tools/bin/pip" install -q --disable-pip-version-check 'textstat==0.7.4' 'setuptools<81'

rm -rf "$work"
mkdir -p "$work/texts"
READABILITY_OUT=$PWD/$work/texts cargo test --release --locked --quiet --test suite \
  readability::running_text_can_be_read_by_another_program >"$work/suite.txt" 2>&1 || { cat "$work/suite.txt"; exit 1; }
compare() { "$tools/bin/python" -W ignore tests/readability/compare.py "$1"; }

# A score that is wrong by twenty must fail in either language, or the verdict below says nothing.
mkdir "$work/wrong"
first=$(ls "$work"/texts/*.txt | head -1)
awk -F'\t' -v OFS='\t' 'NR == 1 { $4 += 20 } { print }' "$first" >"$work/wrong/wrong.txt"
if compare "$work/wrong" >"$work/wrong.txt" || ! grep -q '^wrong.txt: ' "$work/wrong.txt"; then
  echo "the comparison let a wrong grade pass: its verdict cannot be trusted" >&2
  exit 1
fi

compare "$work/texts"
