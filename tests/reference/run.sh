#!/usr/bin/env bash
# Regenerates the values of general-purpose libraries and fails where they differ from values.json, and holds the shipped
# files to their schemas with a validator from outside. Needs Python 3.11 with venv, and a package registry. With --write
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
"$work/venv/bin/python" values.py >"$work/values.json"
"$work/venv/bin/python" orders.py >"$work/orders.json"

if [ "${1:-}" = "--write" ]; then
  cp "$work/values.json" values.json
  cp "$work/orders.json" orders.json
  echo "values.json and orders.json written"
elif diff --unified values.json "$work/values.json" && diff --unified orders.json "$work/orders.json"; then
  echo "$(grep --count '"id"' values.json) values and $(grep --count '"least"' orders.json) lists, the same as stored"
else
  echo "the libraries give other values than stored; find out why before you run this with --write" >&2
  exit 1
fi
