#!/usr/bin/env bash
# Regenerates the values of general-purpose libraries and fails where they differ from values.json, the schedules of networkx
# and an exact solver from schedules.json, holds the shipped files to their schemas with a validator from outside, and reads
# a calendar that the program wrote with another reader. Needs Python 3.11 with venv, and a package registry. With --write
# it stores the values that came out instead.
#
# usage: tests/reference/run.sh [--write]
set -euo pipefail
cd "$(dirname "$0")"

work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT

python3 -m venv "$work/venv"
"$work/venv/bin/pip" install --quiet --disable-pip-version-check --no-deps --requirement requirements.txt
"$work/venv/bin/python" schema.py
"$work/venv/bin/python" calendar_file.py
"$work/venv/bin/python" values.py >"$work/values.json"
"$work/venv/bin/python" schedules.py >"$work/schedules.json"
"$work/venv/bin/python" orders.py >"$work/orders.json"

if [ "${1:-}" = "--write" ]; then
  cp "$work/values.json" "$work/schedules.json" "$work/orders.json" .
  echo "values.json, schedules.json and orders.json written"
elif diff --unified values.json "$work/values.json" && diff --brief schedules.json "$work/schedules.json" &&
  diff --unified orders.json "$work/orders.json"; then
  echo "$(grep --count '"id"' values.json) values, $(grep --count '^{.' schedules.json) schedules and $(grep --count '"least"' orders.json) lists, the same as stored"
else
  echo "the libraries give other values than stored; find out why before you run this with --write" >&2
  exit 1
fi
