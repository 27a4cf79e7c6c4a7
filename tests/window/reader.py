"""Five tasks on the accessibility bus, done as with a screen reader. Run by reader.sh."""

import os
import subprocess
import sys
import time

import pyatspi
from gi.repository import GLib

BIN, DIR = sys.argv[1:3]
PATIENCE = 30.0  # seconds: the machine may be busy with other things
said = []  # what was announced
at = []  # names of what has got the focus


def fail(text):
    print(f"reader test: FAILED: {text}")
    print(f"    announced: {said[-6:]}")
    print(f"    focus: {at[-6:]}")
    print(f"    has it now: {[a.name for a in everything() if a.getState().contains(pyatspi.STATE_FOCUSED)]}")
    shot("failed")
    log = os.path.join(DIR, "log")
    print(open(log).read() if os.path.exists(log) else "")
    desk.kill()
    sys.exit(1)


def shot(name):
    folder = os.environ.get("SHOTS")
    if folder:
        os.makedirs(folder, exist_ok=True)
        subprocess.run(["import", "-window", "root", f"{folder}/reader-{name}.png"], check=False)


def pump(seconds=0.05):
    """Lets events of the bus come in."""
    end = time.time() + seconds
    while time.time() < end:
        while GLib.MainContext.default().iteration(False):
            pass
        time.sleep(0.01)


def until(test, text):
    """Waits for something that is true; what it was."""
    end = time.time() + PATIENCE
    while time.time() < end:
        pump()
        try:
            found = test()
        except Exception:  # what was looked at may be gone by now
            found = None
        if found:
            return found
    return fail(text)


def key(*keys):
    for one in keys:
        subprocess.run(["xdotool", "key", one], check=True)
        pump(0.15)


def put(text):
    subprocess.run(["xdotool", "type", "--delay", "15", text], check=True)
    pump(0.3)


def heard(part, since):
    return until(lambda: next((s for s in said[since:] if part in s), None), f"nobody said: {part}")


def focus(part):
    return until(lambda: at and part in at[-1], f"the focus did not come to: {part}")


def everything():
    app.clear_cache()
    return pyatspi.findAllDescendants(app, lambda _: True)


def named(role, part):
    is_it = lambda a: a.getRoleName() == role and part in a.name
    return until(lambda: next((a for a in everything() if is_it(a)), None), f"there is no {role} {part}")


def in_sight(thing):
    box = thing.queryComponent().getExtents(pyatspi.WINDOW_COORDS)
    return box.width > 0 and box.y >= 0 and box.y + box.height <= 768


def on_announcement(event):
    text = event.any_data
    said.append(str(text))


def on_focus(event):
    if event.detail1 and event.host_application and event.host_application.name:
        # what was hidden a moment ago is known without its name
        event.source.clear_cache()
        at.append(event.source.name or "")


# a reader is at work: the desk gives its tree
for flag in ("IsEnabled", "ScreenReaderEnabled"):
    call = ["gdbus", "call", "--session", "--dest", "org.a11y.Bus", "--object-path", "/org/a11y/bus", "--method",
            "org.freedesktop.DBus.Properties.Set", "org.a11y.Status", flag, "<true>"]
    subprocess.run(call, check=True, stdout=subprocess.DEVNULL)
pyatspi.Registry.registerEventListener(on_announcement, "object:announcement")
pyatspi.Registry.registerEventListener(on_focus, "object:state-changed:focused")

with open(os.path.join(DIR, "log"), "w") as log:
    desk = subprocess.Popen([BIN], stdout=log, stderr=log, cwd=DIR)


def find_app():
    root = pyatspi.Registry.getDesktop(0)
    root.clear_cache()
    return next((a for a in root if a is not None and a.get_process_id() == desk.pid), None)


app = until(find_app, "the desk is not on the bus")
until(lambda: named("push button", "Look at this plan"), "the start page is not on the bus")
window = subprocess.run(["xdotool", "search", "--onlyvisible", "--name", "Knockon"], capture_output=True, text=True)
subprocess.run(["xdotool", "windowfocus", "--sync", window.stdout.split()[0]], check=False)
pump(0.5)

# 1: a plan of the example, and a place by its name
n = len(said)
key("2")
heard("plan ", n)
key("alt+e")
n = len(said)
key("ctrl+k")
focus("Command or place")
put("front brakes")
heard(" found: ", n)
n = len(said)
key("Return")
focus("Front brakes")
heard(" routes. F6 leads to them.", n)
print("1: a place was found by its name, and its routes were announced")

# 2: a route, asked for by the bus: it comes into sight, and what it changes is announced
routes = [a for a in everything() if a.getRoleName() == "radio button" and ", key " in a.name]
if not routes:
    fail("no route says its digit")
route = routes[-1]
name = route.name
route.queryComponent().grabFocus()
focus(name)
until(lambda: in_sight(route), f"out of sight: {name}")
n = len(said)
route.queryAction().doAction(0)
pump(1.0)
yes = [a for a in everything() if a.name == "Choose it all the same"]
if yes:
    yes[0].queryAction().doAction(0)
heard("Now ", n)
print(f"2: \"{name[:40]}…\" was taken; announced: {said[-1]}")
shot("route")

# 3: the buy list by arrows, and the state of a line: the list gives the focus back, its name tells its value
n = len(said)
key("ctrl+2")
heard("Buying, ", n)
key("Down")
until(lambda: at and "to buy" in at[-1], "no line has the focus")
line = at[-1]
key("Right", "Right", "Right")
focus("State of ")
before = at[-1]
n = len(said)
key("Return", "Down", "Down", "Return")
heard("on order", n)
until(lambda: at[-1].startswith("State of ") and at[-1] != before, "the list gave the focus to nobody")
print(f"3: {line} is now \"{at[-1]}\"; announced: {said[-1]}")
shot("line")

# 4: saved under a typed path; the dialog has a name, is modal, and leaves nothing behind it to be read
key("ctrl+s")
focus("Path of the file")
dialog = named("dialog", "Save the sheet")
if not dialog.getState().contains(pyatspi.STATE_MODAL):
    fail("the dialog is not modal")
if any(a.name == "Light or dark" for a in everything()):
    fail("what the dialog covers can be read")
put(os.path.join(DIR, "truck.json"))
n = len(said)
key("Return")
heard("truck.json", n)
until(lambda: os.path.getsize(os.path.join(DIR, "truck.json")) > 0, "nothing was saved")
until(lambda: at[-1].startswith("State of "), "the dialog gave the focus to nobody")
print(f"4: saved; announced: {said[-1]}")

# 5: an export that cannot be, and one that can
key("ctrl+e")
focus("Path of the file")
put(os.path.join(DIR, "nowhere", "list.csv"))
n = len(said)
key("Return")
wrong = heard("list.csv", n)
key("ctrl+e")
focus("Path of the file")
key("ctrl+a")
put(os.path.join(DIR, "list.csv"))
n = len(said)
key("Return")
right = heard("list.csv", n)
until(lambda: os.path.getsize(os.path.join(DIR, "list.csv")) > 0, "nothing was exported")
print(f"5: announced: {wrong}")
print(f"   announced: {right}")

# what has the focus is seen: the picture changes with it
pictures = []
for step in range(4):
    picture = os.path.join(DIR, f"{step}.png")
    subprocess.run(["import", "-window", "root", picture], check=True)
    pictures.append(open(picture, "rb").read())
    key("Tab")
    pump(0.3)
if len({p for p in pictures}) < 4:
    fail("the focus moved and was not seen")
print("6: the focus is seen wherever Tab leads")

key("ctrl+q")
end = time.time() + PATIENCE
while desk.poll() is None and time.time() < end:
    pump()
if desk.poll() is None:
    fail("the desk did not end")
print("reader test: all five tasks were done")
