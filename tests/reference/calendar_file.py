"""Reads the stored calendar of the program with a reader that shares nothing with it, and holds it to RFC 5545."""

import datetime
import pathlib
import sys

import icalendar

FILE = pathlib.Path(__file__).resolve().parent / "calendar.ics"


def main():
    raw = FILE.read_bytes()
    wrong = [n for n, line in enumerate(raw.split(b"\r\n"), 1) if len(line) > 75 or b"\n" in line]
    if wrong:
        sys.exit(f"{FILE.name}: lines {wrong} are longer than 75 octets or do not end with CR LF")
    calendar = icalendar.Calendar.from_ical(raw)
    if calendar.errors or [str(calendar[word]) for word in ("VERSION", "PRODID")] != ["2.0", "-//Knockon//Jobs//EN"]:
        sys.exit(f"{FILE.name}: {calendar.errors}")
    events = list(calendar.walk("VEVENT"))
    kinds = {"session": 0, "order": 0, "wanted": 0}
    for event in events:
        start, end = event.decoded("DTSTART"), event.decoded("DTEND")
        if event.errors or type(start) is not datetime.date or end - start != datetime.timedelta(days=1):
            sys.exit(f"{FILE.name}: {event['UID']}: expected one whole day, {event.errors}")
        if event.decoded("DTSTAMP").tzinfo is None or not str(event["SUMMARY"]).strip():
            sys.exit(f"{FILE.name}: {event['UID']}: expected a stamp in UTC and a name")
        # what is escaped in the file reads as it was meant
        if "\\" in str(event["SUMMARY"]) + str(event["DESCRIPTION"]):
            sys.exit(f"{FILE.name}: {event['UID']}: a backslash is left")
        kinds[str(event["UID"]).split("-")[0].split("@")[0]] += 1
    if len({event["UID"] for event in events}) != len(events) or 0 in kinds.values():
        sys.exit(f"{FILE.name}: events of one name, or none of a kind: {kinds}")
    sessions = [event.decoded("DTSTART") for event in events if event["UID"].startswith("session-")]
    if sessions != sorted(sessions) or any(day.weekday() != 5 for day in sessions):
        sys.exit(f"{FILE.name}: expected a Saturday for each session, in order")
    print(f"{len(events)} events of the calendar read as meant")


main()
