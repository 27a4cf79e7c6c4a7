# What the tests in a window begin with, to be sourced: a folder that goes with them, a display of its own, what waits, what
# fails. Set before: `name`, as failures are told; `bin`, the program. Set by it: `dir`, `pids`.
# shellcheck shell=bash

# what is missing of the tools named, told with the packages that have them
need() {
    packages=$1
    shift
    for tool in "$@"; do
        command -v "$tool" >/dev/null || { echo "$name: $tool is missing (apt install $packages)"; exit 2; }
    done
    [ -x "$bin" ] || { echo "$name: there is no $bin; build it first (cargo build)"; exit 2; }
}

dir=$(mktemp -d)
pids=()
finish() {
    code=$?
    for pid in "${pids[@]}"; do kill "${ended_by:--TERM}" "$pid" 2>/dev/null; done
    wait 2>/dev/null
    rm -rf "$dir"
    exit "$code"
}
trap finish EXIT

# a test may want to do more before it ends
failing() { :; }
fail() {
    echo "$name: FAILED${round:+ in round $round ($how)}: $1"
    failing
    sed 's/^/    desk: /' "$dir/log" 2>/dev/null
    exit 1
}

# waits up to fifteen seconds for a condition: the machine may be busy with other things
until_ok() {
    for _ in $(seq 300); do
        if "$@" 2>/dev/null; then return 0; fi
        sleep 0.05
    done
    return 1
}

# opens the sheet "$file" in a window that `window` finds, and gives it the keyboard
open_desk() {
    (cd "$dir" && exec "$bin" "$file") >"$dir/log" 2>&1 &
    desk=$!
    pids+=("$desk")
    until_ok window || fail "no window opened"
    sleep 0.6
    xdotool windowfocus --sync "$w" 2>/dev/null
}

# the server picks a free number by itself
display() {
    rm -f "$dir/display"
    Xvfb -displayfd 3 -screen 0 1366x768x24 -nolisten tcp 3>"$dir/display" 2>/dev/null &
    xvfb=$!
    pids+=("$xvfb")
    until_ok test -s "$dir/display" || fail "the display did not start"
    DISPLAY=:$(cat "$dir/display")
    export DISPLAY
    unset WAYLAND_DISPLAY WAYLAND_SOCKET
    export HOME=$dir XDG_CONFIG_HOME=$dir/config XDG_DATA_HOME=$dir/data XDG_RUNTIME_DIR=$dir
    openbox >/dev/null 2>&1 &
    openbox=$!
    pids+=("$openbox")
    sleep 0.5
}
