#!/bin/bash
# The desk in a real window is ended at random while somebody types; then it is started again, and what was typed up to
# half a second before has to be there. The sheet's file is never touched by that.
# Usage: tests/window/kill.sh [binary] [times]     20 times without a number; by hand 200.
# Needs: xvfb openbox xdotool python3.
set -u
cd "$(dirname "$0")/../.." || exit 1
bin=$(realpath "${1:-target/debug/knockon}")
times=${2:-20}
RANDOM=${SEED:-58}
name="kill test"
ended_by=-KILL
. tests/window/display.sh
need "xvfb openbox xdotool python3" Xvfb openbox xdotool python3
desk=
file=$dir/truck.json
cp examples/furrow-10.json "$file"

window() { w=$(xdotool search --onlyvisible --name 'Barn pickup' | head -1) && [ -n "$w" ]; }
# what was seen of the horn, as it is in the file
seen() { python3 -c 'import json, sys; print(json.load(open(sys.argv[1]))["survey"]["horn"]["note"])' "$file"; }
saved() { case $(seen) in "$mark"*) return 0 ;; *) return 1 ;; esac; }
gone() { ! kill -0 "$desk"; }
# what stands in the field for what was seen is in the journal with every key
reached() { grep -q "\"seen\":\[\"horn\",\"[^\"]*$1" "$file.journal"; }
# to the horn and into the field for what was seen of it, with a mark of its own: all by their keys. What is typed next is
# no more than typed ahead until the mark is there
field() {
    xdotool key ctrl+k
    sleep 0.2
    xdotool type --delay 12 horn
    xdotool key Return
    sleep 0.5
    xdotool key ctrl+i
    sleep 0.2
    xdotool key ctrl+a
    xdotool type --delay 8 "$1"
    until_ok reached "$1" || fail "the field for what was seen was not reached"
}

letters=abcdefghijklmnopqrstuvwxyz
round=0 how=start
display
open_desk
for round in $(seq "$times"); do
    case $((RANDOM % 6)) in
        0) how=TERM ;;
        1) how=HUP ;;
        2) how=display ;;
        *) how=KILL ;;
    esac
    # letters alone: a figure that misses the field takes a route
    mark="r$(tr 0-9 a-j <<<"$round")"
    field "$mark"
    before=$(sha256sum <"$file")
    sent=$mark
    at=()
    # the mark itself is older than half a second when it ends
    end=$(($(date +%s%N) / 1000000 + 700 + RANDOM % 1500))
    while now=$(($(date +%s%N) / 1000000)) && [ "$now" -lt "$end" ]; do
        letter=${letters:RANDOM % 26:1}
        xdotool key "$letter"
        at+=("$(($(date +%s%N) / 1000000))")
        sent+=$letter
    done
    ended=$(($(date +%s%N) / 1000000))
    case $how in
        display) kill -KILL "$xvfb" ;;
        *) kill -"$how" "$desk" ;;
    esac
    until_ok gone || fail "the desk did not end"
    wait "$desk" 2>/dev/null || true
    [ "$(sha256sum <"$file")" = "$before" ] || fail "the sheet's file was touched"
    # who is asked to end ends in order
    case $how in TERM | HUP) [ ! -e "$file.lock" ] || fail "the lock file was left behind" ;; esac
    # whatever was sent half a second before the end has to be there
    safe=${#mark}
    for t in "${at[@]}"; do [ "$t" -le $((ended - 500)) ] && safe=$((safe + 1)); done
    [ "$how" = display ] && { wait "$xvfb" 2>/dev/null; kill "$openbox" 2>/dev/null; display; }
    open_desk
    xdotool key ctrl+s
    until_ok saved || fail "nothing of \"$sent\" is back: \"$(seen)\""
    back=$(seen)
    [ "${sent#"$back"}" != "$sent" ] || [ "$back" = "$sent" ] || fail "\"$back\" is back of \"$sent\""
    [ "${#back}" -ge "$safe" ] || fail "\"$back\" is back of \"$sent\", of which $safe letters were safe"
    echo "round $round, $how: ${#sent} letters sent, ${#back} back, $safe had to be"
done
echo "kill test: all right"
