#!/usr/bin/env bash
# Runs every fuzz target of the module for a while: `.ci/fuzz.sh [TIME]`, ten seconds each unless told. What a
# target finds, it writes as a seed below the package's testdata/fuzz, to be mended and kept.
set -euo pipefail
cd "$(dirname "$0")/.."
time="${1:-10s}"

log=$(mktemp)
trap 'rm -f "$log"' EXIT

# time_was_up tells whether the run in the log failed for the end of its time alone: go test now and then
# takes its own deadline for a fault. What a target finds is told by other lines, which all are indented.
time_was_up() {
	[ "$(grep -E '^[[:space:]]' "$log")" = "    context deadline exceeded" ] &&
		! grep -qiE 'panic|fatal|failing input|hung|signal' "$log"
}

count=0
while IFS=: read -r file line; do
	target=$(sed -E 's/^func (Fuzz[A-Za-z0-9_]*).*/\1/' <<<"$line")
	package=$(dirname "$file")
	if ! go test "./$package" -run '^$' -fuzz "^$target\$" -fuzztime "$time" -fuzzminimizetime 5s >"$log" 2>&1 && ! time_was_up; then
		cat "$log"
		echo "$package $target: found a fault"
		exit 1
	fi
	runs=$(sed -nE 's/.*execs: ([0-9]+).*/\1/p' "$log" | tail -n 1)
	echo "$package $target: ${runs:-no} new texts in $time, no fault"
	count=$((count + 1))
done < <(grep -rn --include='*_test.go' -o '^func Fuzz[A-Za-z0-9_]*(f \*testing.F)' builder calcblocks cmd layouts | sed -E 's/^([^:]*):[0-9]+:/\1:/' | sort)
[ "$count" -gt 0 ]
