#!/bin/bash
# Makes the README's small pictures of the papers anew from the demo cases. To be run when the look of a paper changes.
# Needs pdftoppm (poppler-utils), and gets it where it is missing.
set -euo pipefail
cd "$(dirname "$0")/../.."
folder=demo-cases/shown
papers=target/shown

command -v pdftoppm >/dev/null || { apt-get update -qq && apt-get install -y -qq --no-install-recommends poppler-utils; }
cargo build --release --locked --quiet
rm -rf "$papers"
target/release/tautline print demo-cases/quarry-bend-left-flexion.yaml demo-cases/orchard-lane-new-loop.yaml \
  --out "$papers" >/dev/null 2>&1
target/release/tautline measuring-sheet demo-cases/rope-loft-short.yaml --out "$papers" >/dev/null 2>&1

# picture NAME PAPER PAGE: one page in grey, small.
picture() { pdftoppm -r 54 -gray -png -f "$3" -singlefile "$papers/$2.pdf" "$folder/$1"; }
picture handout-steps QB-2207-handout 2
picture handout-ruler QB-2207-handout 3
picture card QB-2207-card 2
picture summary OL-1180-summary 1
picture pattern QB-2207-pattern 1
picture measuring-sheet RL-0931-measuring-sheet 2
ls -l $folder/*.png
