#!/bin/bash
# Many cases over workers of an engine that others keep: Dask on this machine, one of its workers killed half-way. What
# comes out is compared byte for byte with one process. Usage: tests/scale/run.sh [CASES] [PAPER...]
set -euo pipefail
cd "$(dirname "$0")/../.."
tools=target/tools/scale
[ -x $tools/bin/pip ] || { mkdir -p target/tools && python3 -m venv $tools; }
$tools/bin/pip install -q --disable-pip-version-check 'distributed==2026.8.0' 'dask==2026.8.0'
cargo build --release --locked
exec $tools/bin/python tests/scale/spread.py target/release/tautline "$@"
