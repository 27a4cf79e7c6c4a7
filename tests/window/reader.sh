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
for tool in Xvfb openbox xdotool import dbus-run-session gdbus "$python"; do
    command -v "$tool" >/dev/null || { echo "reader test: $tool is missing; see the head of this file"; exit 2; }
done
"$python" -c 'import pyatspi' 2>/dev/null || { echo "reader test: python3-pyatspi is missing"; exit 2; }
[ -x "$bin" ] || { echo "reader test: there is no $bin; build it first (cargo build)"; exit 2; }

dir=$(mktemp -d)
pids=()
finish() {
    code=$?
    for pid in "${pids[@]}"; do kill "$pid" 2>/dev/null; done
    wait 2>/dev/null
    rm -rf "$dir"
    exit "$code"
}
trap finish EXIT
Xvfb -displayfd 3 -screen 0 1366x768x24 -nolisten tcp 3>"$dir/display" 2>/dev/null &
pids+=($!)
for _ in $(seq 150); do [ -s "$dir/display" ] && break; sleep 0.1; done
DISPLAY=:$(cat "$dir/display")
export DISPLAY
unset WAYLAND_DISPLAY WAYLAND_SOCKET AT_SPI_BUS_ADDRESS
export HOME=$dir XDG_CONFIG_HOME=$dir/config XDG_DATA_HOME=$dir/data XDG_RUNTIME_DIR=$dir
openbox >/dev/null 2>&1 &
pids+=($!)
# a session of its own: nothing of the bus of whoever runs this is touched, and all in it ends with it
dbus-run-session -- "$python" -u tests/window/reader.py "$bin" "$dir"
