#!/bin/bash
# Opens sealed papers with two other readers, qpdf and poppler: with the password, and not without. Installs both from
# Debian where they are missing.
set -euo pipefail
cd "$(dirname "$0")/../.."
work=target/sealed
program=target/release/tautline

if ! command -v qpdf >/dev/null || ! command -v pdfinfo >/dev/null; then
  apt-get update -qq
  apt-get install -y -qq --no-install-recommends qpdf poppler-utils >/dev/null
fi

rm -rf "$work"
mkdir -p "$work"
echo 'Kiesel am Bach 9' >"$work/word.txt"
word=$(cat "$work/word.txt")
"$program" print demo-cases/quarry-bend-left-flexion.yaml --out "$work" --seal-from "$work/word.txt" >/dev/null 2>&1

fail() {
  echo "$1: $2" >&2
  exit 1
}

count=0
for paper in "$work"/*.pdf; do
  qpdf --password="$word" --check "$paper" >"$work/check.txt" 2>&1 || fail "$paper" "qpdf finds it damaged"
  qpdf --password="$word" --show-encryption "$paper" >"$work/how.txt"
  grep -q 'stream encryption method: AESv3' "$work/how.txt" ||
    fail "$paper" "not AES with 256 bits"
  pdfinfo -upw "$word" "$paper" >"$work/info.txt" 2>/dev/null || fail "$paper" "poppler does not open it"
  grep -q '^Tagged: *yes' "$work/info.txt" || fail "$paper" "the tags are lost"
  pdftotext -upw "$word" "$paper" "$work/text.txt" 2>/dev/null
  grep -q 'QB-2207' "$work/text.txt" || fail "$paper" "its text is lost"
  if qpdf --password='another word' --check "$paper" >/dev/null 2>&1; then fail "$paper" "qpdf opens it with another word"; fi
  if pdfinfo "$paper" >/dev/null 2>&1; then fail "$paper" "poppler opens it without a word"; fi
  count=$((count + 1))
done
[ "$count" = 7 ] || fail "$work" "$count papers of 7"
echo "$count sealed papers open in qpdf and poppler with their password alone, tagged, AES-256"
