#!/bin/bash
# Holds the program from outside: its schema in another validator, its questions in a real terminal.
set -euo pipefail
cd "$(dirname "$0")/../.."
cargo build --release --locked --quiet
cargo test --quiet --release --locked --manifest-path tests/outside/Cargo.toml --target-dir target/outside
