#!/usr/bin/env bash
# usage: tests/trials.sh [ci|soak|soak/N] [debug|release [PART OF A TEST'S NAME]]
# Breaks the program and its files on purpose, as often as every submission wants (ci) or a release (soak), and
# prints one line a trial: how many, how long, what came of it. What is not to be had here (root, loop devices,
# strace, faketime) is skipped aloud.
set -euo pipefail
cd "$(dirname "$0")/.."
export ENDSMEET_TRIALS=${1-ci}
profile=()
[ "${2:-debug}" = release ] && profile=(--release)
log=$(mktemp)
trap 'rm -f "$log"' EXIT
code=0
cargo test "${profile[@]}" --test journal --test trials --test crash_calls --no-fail-fast -- --nocapture ${3:+"$3"} >"$log" 2>&1 || code=$?
if [ $code -ne 0 ]; then cat "$log"; fi
grep -aoE '(TRIALS|SKIPPED) .*' "$log" | sort || true
grep -aE '^test result' "$log" || true
exit $code
