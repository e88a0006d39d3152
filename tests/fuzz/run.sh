#!/bin/bash
# Runs a fuzz target on the stable toolchain: tests/fuzz/run.sh read|plan [SECONDS]. The first build takes a quarter of an hour.
set -euo pipefail
cd "$(dirname "$0")"
target=${1:-read} seconds=${2:-600}
home=../../target/fuzz triple=$(rustc -vV | sed -n 's/^host: //p')
# Coverage as libFuzzer reads it (LLVM's SanitizerCoverage); overflow and debug assertions on.
export CARGO_PROFILE_RELEASE_DEBUG_ASSERTIONS=true CARGO_PROFILE_RELEASE_OVERFLOW_CHECKS=true CARGO_TARGET_DIR=$home
export RUSTFLAGS='--cfg fuzzing -Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4
  -Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Cllvm-args=-sanitizer-coverage-pc-table
  -Cllvm-args=-sanitizer-coverage-trace-compares -Clink-dead-code -Ccodegen-units=1'
cargo build --release --locked --target "$triple" --bin "$target"
corpus=$home/corpus/$target
mkdir -p "$corpus" "$home/found"
seeds=()
[ "$target" != read ] || seeds=(../../demo-cases)
exec "$home/$triple/release/$target" "$corpus" "${seeds[@]}" -max_total_time="$seconds" -max_len=8000 -timeout=20 \
  -rss_limit_mb=2048 -artifact_prefix="$home/found/$target-"
