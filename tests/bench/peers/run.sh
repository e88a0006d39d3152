#!/bin/bash
# Measures the program beside general libraries; called by `cargo bench --bench peers` with the program's path.
set -euo pipefail
cd "$(dirname "$0")/../../.."
tools=target/tools/peers
[ -x $tools/bin/pip ] || { mkdir -p target/tools && python3 -m venv $tools; }
$tools/bin/pip install -q --disable-pip-version-check 'weasyprint==70.0' 'reportlab==5.1.0' 'typst==0.15.2'
exec $tools/bin/python tests/bench/peers/compare.py "$1"
