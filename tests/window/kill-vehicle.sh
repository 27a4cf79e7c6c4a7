#!/bin/bash
# The desk in a real window is ended in the middle of describing a vehicle of one's own: a place has been added, a part typed in,
# another part begun, and a field is half typed. After the next start all of it is there, and one save puts it into the sheet.
# Usage: tests/window/kill-vehicle.sh [binary]     Under a minute.
# Needs: xvfb openbox xdotool python3.
set -u
cd "$(dirname "$0")/../.." || exit 1
bin=$(realpath "${1:-target/debug/knockon}")
name="kill test of a vehicle"
ended_by=-KILL
. tests/window/display.sh
need "xvfb openbox xdotool python3" Xvfb openbox xdotool python3
failing() {
    if [ -n "${SHOTS:-}" ] && command -v import >/dev/null; then import -window root "$SHOTS/kill-vehicle.png"; fi
}
file=$dir/van.json
cat >"$file" <<'SHEET'
{"format": 1, "name": "Mill van", "vehicle": "blank", "plan": "p", "plans": {"p": {"name": "As it is"}}}
SHEET
cp "$file" "$dir/before.json"

window() { w=$(xdotool search --onlyvisible --name 'Mill van' | head -1) && [ -n "$w" ]; }
key() { for k in "$@"; do xdotool key "$k"; sleep 0.1; done; }
put() { xdotool type --delay 12 "$1"; sleep 0.1; }
click() { xdotool mousemove --window "$w" "$1" "$2"; sleep 0.2; xdotool click 1; sleep 0.3; }
command() { key ctrl+k; sleep 0.2; put "$1"; sleep 0.2; key Return; sleep 0.4; }
journal() { grep -qs -- "$1" "$file.journal"; }
begun() { grep -rqs -- "$1" "$dir/config"; }
gone() { ! kill -0 "$desk"; }
# of the sheet as it is in the file, whether this is so
holds() { python3 -c 'import json, sys; s = json.load(open(sys.argv[1])); sys.exit(not eval(sys.argv[2]))' "$file" "$1"; }

display
open_desk
# the page of the vehicle: a place is found, and behind the field stands its tick
key ctrl+6
sleep 0.4
click 290 133
put "carburettor"
key Tab space
until_ok journal '"carburettor"' || fail "no place was added"
# a part for it, typed in and saved
command "carburettor"
command "add my own part"
put "Carburettor from the barn"
key Tab
put "45"
key Return
until_ok journal 'Carburettor from the barn' || fail "no part was typed in"
# another one begun
command "carburettor"
command "add my own part"
put "Half a carbu"
until_ok begun 'Half a carbu' || fail "what is begun of a part is kept nowhere"
# a field of the page half typed
key ctrl+6
sleep 0.4
click 212 70
key ctrl+a
put "Mill va"
until_ok journal 'Mill va"' || fail "what is half typed is kept nowhere"
kill -KILL "$desk"
until_ok gone || fail "the desk did not end"
wait "$desk" 2>/dev/null || true
cmp -s "$file" "$dir/before.json" || fail "the sheet's file was touched"

open_desk
key ctrl+s
saved() { holds 's.get("described", {}).get("name") == "Mill va"'; }
until_ok saved || fail "what was half typed is not back"
holds '"carburettor" in s["described"]["positions"]' || fail "the place is not back"
holds '"Carburettor from the barn" in [p.get("name") for p in s["parts"].values()]' || fail "the part is not back"
# what was begun is gone on with, where it was left
command "carburettor"
command "add my own part"
key End
put "rettor"
key Tab
put "5"
key Return ctrl+s
ended() { holds '"Half a carburettor" in [p.get("name") for p in s["parts"].values()]'; }
until_ok ended || fail "the part that was begun is not back"
echo "kill test of a vehicle: all right"
