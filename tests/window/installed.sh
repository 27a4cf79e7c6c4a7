#!/bin/bash
# The Debian package in two roots of its own, each filled from Debian's packages: a bare one, which holds what the package
# declares to need and not even a shell, and one where dpkg installs it beside what a desktop has for file types.
# In the first the window has to open; in the second a sheet has to open by its file type, as a double click opens it.
# Usage: tests/window/installed.sh PACKAGE.deb     as root: it changes the root of processes. Takes about a minute.
# Needs: mmdebstrap xvfb openbox xdotool, and Debian's packages from the network.
set -u
cd "$(dirname "$0")/../.." || exit 1
deb=$(realpath "${1:-target/debug/package/knockon.deb}")
[ -f "$deb" ] || { echo "installed test: there is no $deb; make it first (.ci/deb)"; exit 2; }
[ "$(id -u)" -eq 0 ] || { echo "installed test: it needs root, to change the root of a process"; exit 2; }
for tool in mmdebstrap Xvfb openbox xdotool; do
    command -v "$tool" >/dev/null || { echo "installed test: $tool is missing (apt install mmdebstrap xvfb openbox xdotool)"; exit 2; }
done

dir=$(mktemp -d)
# another user than root has to get through
chmod 755 "$dir"
pids=()
# whatever still runs in a root of this test
leave() {
    for proc in /proc/[0-9]*; do
        case $(readlink "$proc/root" 2>/dev/null) in "$dir"/*) kill -KILL "${proc#/proc/}" 2>/dev/null ;; esac
    done
}
finish() {
    code=$?
    leave
    for pid in "${pids[@]}"; do kill "$pid" 2>/dev/null; done
    wait 2>/dev/null
    rm -rf --one-file-system "$dir"
    exit "$code"
}
trap finish EXIT
fail() {
    echo "installed test: FAILED: $1"
    tail -n 12 "$dir/log" 2>/dev/null | sed 's/^/    said: /'
    exit 1
}
until_ok() {
    for _ in $(seq 300); do
        if "$@" 2>/dev/null; then return 0; fi
        sleep 0.1
    done
    return 1
}

# the names the package declares to need, without their versions
needs() { dpkg-deb --field "$deb" Depends | sed 's/([^)]*)//g; s/|[^,]*//g; s/[[:space:]]//g'; }
# the release of this machine, so that the package meets the libraries it was built with
release=$(. /etc/os-release && echo "$VERSION_CODENAME")
root() { mmdebstrap --quiet --mode=root "$@" >"$dir/log" 2>&1 || fail "a root cannot be made"; }

Xvfb -displayfd 3 -screen 0 1366x768x24 -nolisten tcp -ac 3>"$dir/display" 2>/dev/null &
pids+=($!)
until_ok test -s "$dir/display" || fail "the display did not start"
DISPLAY=:$(cat "$dir/display")
export DISPLAY
unset WAYLAND_DISPLAY WAYLAND_SOCKET DBUS_SESSION_BUS_ADDRESS
openbox >/dev/null 2>&1 &
pids+=($!)
# a user of that root, who has a home and nothing else
me=1000
inside() {
    local at=$1
    shift
    env -i DISPLAY="$DISPLAY" HOME=/home/me PATH=/usr/sbin:/usr/bin:/bin chroot --userspec="$me:$me" "$at" "$@"
}
home() { mkdir -p "$1/home/me" "$1/tmp" && chmod 1777 "$1/tmp" && chown "$me:$me" "$1/home/me"; }
titled() { w=$(xdotool search --onlyvisible --name "$1" | head -1) && [ -n "$w" ]; }
no_window() { ! titled "$1"; }
shut() {
    sleep 1
    xdotool windowfocus --sync "$w" 2>/dev/null
    xdotool key ctrl+q
    until_ok no_window "$1" || fail "the window did not close: $1"
}

# 1. what it declares to need is enough
root --variant=extract --include="$(needs)" "$release" "$dir/bare"
dpkg-deb --extract "$deb" "$dir/bare"
home "$dir/bare"
[ ! -e "$dir/bare/usr/bin/sh" ] && [ ! -e "$dir/bare/bin/sh" ] || fail "the bare root is not bare"
inside "$dir/bare" /usr/bin/knockon library check >"$dir/log" 2>&1 || fail "the command line does not run"
inside "$dir/bare" /usr/bin/knockon >"$dir/log" 2>&1 &
until_ok titled Knockon || fail "no window opened in the bare root"
shut Knockon
echo "installed test: with nothing but $(needs), the window opens"

# 2. dpkg takes it, and a sheet opens by its file type
types=shared-mime-info,desktop-file-utils,libglib2.0-bin
root --variant=essential --include="$(needs),$types" --customize-hook="copy-in $deb /" \
    --customize-hook='chroot "$1" dpkg --install /'"$(basename "$deb")" "$release" "$dir/desktop"
at=$dir/desktop
home "$at"
[ "$(chroot "$at" dpkg-query --show --showformat='${db:Status-Status}' knockon)" = installed ] || fail "dpkg did not install it"
inside "$at" desktop-file-validate /usr/share/applications/knockon.desktop >"$dir/log" 2>&1 || fail "the desktop entry is wrong"
icon=$(sed -n 's/^Icon=//p' "$at/usr/share/applications/knockon.desktop")
for size in scalable 48x48 128x128 256x256; do
    ls "$at/usr/share/icons/hicolor/$size/apps/$icon".* >/dev/null 2>&1 || fail "there is no icon $icon of size $size"
done
for page in knockon knockon-jobs knockon-library-check; do
    gzip -dc "$at/usr/share/man/man1/$page.1.gz" | grep -q "^.TH $page 1" || fail "there is no man page $page"
done
bash -n "$at/usr/share/bash-completion/completions/knockon" || fail "bash does not read the completions"

# a sheet whose name nobody else has, and a JSON that is no sheet
name="Double click $$"
sed "s/\"name\": \"Barn pickup\"/\"name\": \"$name\"/" "$at/usr/share/doc/knockon/examples/furrow-10.knockon.json" >"$at/home/me/my truck.knockon.json"
grep -q "$name" "$at/home/me/my truck.knockon.json" || fail "the example of the package has another name"
echo '{}' >"$at/home/me/notes.json"
chown "$me:$me" "$at"/home/me/*
kind() { inside "$at" gio info -a standard::content-type "/home/me/$1" | sed -n 's/.*content-type: //p'; }
type=$(sed -n 's/^MimeType=\([^;]*\);.*/\1/p' "$at/usr/share/applications/knockon.desktop")
[ "$(kind "my truck.knockon.json")" = "$type" ] || fail "a sheet is a file of type $(kind "my truck.knockon.json")"
[ "$(kind notes.json)" = application/json ] || fail "every JSON is taken for a sheet"
(inside "$at" gio open "/home/me/my truck.knockon.json") >"$dir/log" 2>&1 || fail "nothing opens a sheet"
until_ok titled "^$name - Knockon" || fail "the sheet did not open by its file type"
if [ -n "${SHOTS:-}" ]; then sleep 2; mkdir -p "$SHOTS" && import -window root "$SHOTS/installed.png"; fi
shut "$name"
[ ! -e "$at/home/me/my truck.knockon.json.lock" ] || fail "the lock file was left behind"
echo "installed test: a sheet opens by its file type ($type)"
echo "installed test: all right"
