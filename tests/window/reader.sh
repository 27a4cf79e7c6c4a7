#!/bin/bash
# The desk on a real accessibility bus: five tasks done as with a screen reader, by keys and by what the bus offers, with what
# is announced and where the focus goes checked; see reader.py.
# Usage: tests/window/reader.sh [binary]     Pictures go to $SHOTS (a folder), or nowhere.
# Needs: xvfb openbox xdotool imagemagick dbus at-spi2-core python3-pyatspi
set -u
cd "$(dirname "$0")/../.." || exit 1
bin=$(realpath "${1:-target/debug/knockon}")
# the Python of the system has the bindings, whatever else is first on the path
python=/usr/bin/python3
name="reader test"
. tests/window/display.sh
need "xvfb openbox xdotool imagemagick dbus at-spi2-core" Xvfb openbox xdotool import dbus-run-session gdbus "$python"
"$python" -c 'import pyatspi' 2>/dev/null || { echo "reader test: python3-pyatspi is missing"; exit 2; }
display
unset AT_SPI_BUS_ADDRESS
# a session of its own: nothing of the bus of whoever runs this is touched, and all in it ends with it
dbus-run-session -- "$python" -u tests/window/reader.py "$bin" "$dir"
