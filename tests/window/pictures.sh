#!/bin/bash
# Takes the pictures of README and of the manual anew, from the real window on a copy of the example: assets/picture.
# Usage: tests/window/pictures.sh [binary] [folder]     `.ci/run --pictures` builds a release and runs it.
# Needs: xvfb openbox xdotool imagemagick.
set -u
cd "$(dirname "$0")/../.." || exit 1
bin=$(realpath "${1:-target/release/knockon}")
out=$(realpath "${2:-assets/picture}")
name=pictures
. tests/window/display.sh
need "xvfb openbox xdotool imagemagick" Xvfb openbox xdotool import convert compare
display
cp examples/furrow-10.json "$dir/barn-pickup.knockon.json"
(cd "$dir" && exec "$bin" "$dir/barn-pickup.knockon.json") >"$dir/log" 2>&1 &
pids+=($!)
window() { w=$(xdotool search --onlyvisible --name 'Barn pickup - Knockon' | head -1) && [ -n "$w" ]; }
until_ok window || fail "no window opened"
xdotool windowfocus --sync "$w" 2>/dev/null
# out of the way of what is drawn, so that nothing is under the pointer
xdotool mousemove 1365 767

key() { for k in "$@"; do xdotool key "$k"; sleep 0.2; done; }
go() {
    key ctrl+k
    xdotool type --delay 12 "$1"
    key Return
}
# as it stands once nothing changes any more: what is worked out beside it is told while it goes on
take() {
    import -window "$w" "$dir/before.png"
    for _ in $(seq 100); do
        sleep 3
        import -window "$w" "$dir/now.png"
        if compare -metric AE "$dir/before.png" "$dir/now.png" null: 2>/dev/null; then
            # few colours, which is all a drawing of lines and text has: a third of the size
            convert "$dir/now.png" +dither -colors 128 -strip -define png:compression-level=9 "PNG8:$dir/$1.png"
            [ ! -f "$dir/last.png" ] || ! cmp -s "$dir/last.png" "$dir/$1.png" || fail "$1 shows what was shown before"
            cp "$dir/$1.png" "$dir/last.png"
            echo "pictures: $1, $(stat -c %s "$dir/$1.png") bytes"
            return
        fi
        cp "$dir/now.png" "$dir/before.png"
    done
    fail "$1 does not come to rest"
}

key Escape
take board
go 'front brakes'
take place
key Escape
go 'air cleaner'
take clash
go 'wheel over brake'
take fit-up
key ctrl+2
take buying
key ctrl+4
take jobs
key ctrl+9
take plans
for name in board place clash fit-up buying jobs plans; do cp "$dir/$name.png" "$out/$name.png"; done
total=$(cat "$out"/*.png | wc -c)
[ "$total" -lt 1500000 ] || fail "all pictures together are $total bytes, more than 1,500,000"
echo "pictures: all right, $total bytes in $out"
