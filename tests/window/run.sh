#!/bin/bash
# The desk in a real window, driven by mouse and keyboard, checked by the files it writes.
# Usage: tests/window/run.sh [binary]     Pictures go to $SHOTS (a folder), or nowhere.
# Needs: xvfb openbox xdotool x11-utils; imagemagick for pictures.
set -u
cd "$(dirname "$0")/../.." || exit 1
bin=$(realpath "${1:-target/debug/knockon}")
place=${PLACE:-carburettor}
name="window test"
. tests/window/display.sh
need "xvfb openbox xdotool" Xvfb openbox xdotool
failing() { shot failed; }
shot() {
    if [ -n "${SHOTS:-}" ] && command -v import >/dev/null; then
        mkdir -p "$SHOTS" && import -window root "$SHOTS/window-$1.png"
    fi
}
display
(cd "$dir" && exec "$bin") >"$dir/log" 2>&1 &
desk=$!
pids+=("$desk")
window() { w=$(xdotool search --onlyvisible --name Knockon | head -1) && [ -n "$w" ]; }
until_ok window || fail "no window opened"
sleep 1
xdotool windowfocus --sync "$w" 2>/dev/null
shot start

key() { for k in "$@"; do xdotool key "$k"; sleep 0.05; done; }
put() { xdotool type --delay 12 "$1"; sleep 0.05; }
click() { xdotool mousemove --window "$w" "$1" "$2"; sleep 0.2; xdotool click 1; sleep 0.3; }
# ctrl+s, and a wait until everything is saved: the title says so until then, and what nobody changed is not written
save() {
    key ctrl+s
    saved() { case $(xdotool getwindowname "$w") in *"(changed)"*) return 1 ;; esac; }
    sleep 0.3
    until_ok saved || fail "ctrl+s saved nothing"
}
alive() { kill -0 "$desk" 2>/dev/null || fail "the desk ended by itself after: $1"; }

# the start page: the first plan by its number; then a first save under a typed path
# nothing waits for a frame from here on: what is typed ahead must arrive
key 1 ctrl+s
put "$dir/truck.json"
key Return
until_ok test -s "$dir/truck.json" || fail "the sheet was not saved under the typed path"
cp "$dir/truck.json" "$dir/first.json"
shot saved

# a position by name, then a route by its number; the plan changes in the file
key ctrl+k
put "$place"
key Return
changed() { ! cmp -s "$dir/truck.json" "$dir/first.json"; }
for number in 2 3 4 5 6; do
    key "$number"
    save
    changed && break
done
changed || fail "no route could be chosen by its number"
cp "$dir/truck.json" "$dir/second.json"
shot route

# undo and save: the file is as before; redo and save: it is as after
key ctrl+z ctrl+s
until_ok cmp -s "$dir/truck.json" "$dir/first.json" || fail "undo did not bring the first sheet back"
key ctrl+y ctrl+s
until_ok cmp -s "$dir/truck.json" "$dir/second.json" || fail "redo did not bring the choice back"

# a part of one's own, typed with the keyboard alone, is in the file and undo takes it out again
key ctrl+k
put "$place"
key Return ctrl+k
put "add my own part"
key Return
put "$place of my own"
key Tab
put "45"
key Return ctrl+s
until_ok grep -q "$place of my own" "$dir/truck.json" || fail "a part typed in is not in the file"
shot own
key ctrl+z ctrl+s
until_ok cmp -s "$dir/truck.json" "$dir/second.json" || fail "undo did not take the typed part out"

# walking the board with arrows and opening a row
key Escape Down Down Return
alive "arrows on the board"
shot board

# the buy list as a file
key ctrl+e
put "$dir/list.csv"
key Return
until_ok grep -q 'item,part id,' "$dir/list.csv" || fail "the buy list was not exported"
key ctrl+2
sleep 0.4
shot buying

# a broken file leaves the sheet open
echo '{ "format": 1,' >"$dir/broken.json"
key ctrl+o
put "$dir/broken.json"
key Return
alive "opening a broken file"
save
shot broken
cmp -s "$dir/truck.json" "$dir/second.json" || fail "the broken file changed the open sheet"

# the mouse: light and dark at the right end of the bar, remembered in the settings
eval "$(xdotool getwindowgeometry --shell "$w")"
click $((WIDTH - 24)) 24
dark() { grep -rqs '"dark": true' "$dir/config"; }
until_ok dark || fail "a click on light and dark was not remembered"
shot dark

# it closes by itself
key ctrl+q
gone() { ! kill -0 "$desk"; }
until_ok gone || fail "the window did not close"
wait "$desk" || fail "the desk ended with $?"
echo "window test: all right"
