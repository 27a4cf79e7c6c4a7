#!/usr/bin/env bash
# Reads the reports that the program writes with other programs: CSV with Python's own reader, workbooks with openpyxl and
# worked out anew by LibreOffice where it is installed, else by the package "formulas", PDF with pypdf and drawn with pdfium,
# square codes with zxing. Needs Python 3.11 with venv, and a package registry.
#
# usage: tests/reference/reports.sh [PROGRAM] [FOLDER TO KEEP WHAT IT WROTE AND DREW IN]
set -euo pipefail
program="$(realpath "${1:-target/debug/knockon}")"
cd "$(dirname "$0")"

work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
python3 -m venv "$work/venv"
"$work/venv/bin/pip" install --quiet --disable-pip-version-check --no-deps --requirement requirements-reports.txt
mkdir -p "$work/home" "${2:-$work/out}"
XDG_DATA_HOME="$work/home" XDG_STATE_HOME="$work/home" "$work/venv/bin/python" reports.py "$program" "$(realpath "${2:-$work/out}")"
