"""Holds every shipped file to its stored schema with a validator that shares nothing with the program."""

import json
import pathlib
import sys

from jsonschema import Draft202012Validator

ROOT = pathlib.Path(__file__).resolve().parents[2]


def files(folder):
    return sorted(path for path in (ROOT / folder).rglob("*") if path.suffix.lower() == ".json")


def read(path):
    return json.loads(path.read_text(encoding="utf-8"))


def main():
    wrong = 0
    held = 0
    for kind, folders in {
        "library": ["assets/library", "tests/formats/1/library.json"],
        "sheet": ["examples", "tests/formats/1/sheet.json"],
    }.items():
        schema = read(ROOT / f"assets/schema/{kind}.schema.json")
        Draft202012Validator.check_schema(schema)
        validator = Draft202012Validator(schema)
        for folder in folders:
            path = ROOT / folder
            found = [path] if path.is_file() else files(folder)
            if not found:
                sys.exit(f"{folder}: no file found")
            for path in found:
                held += 1
                for error in validator.iter_errors(read(path)):
                    wrong += 1
                    print(f"{path.relative_to(ROOT)}: {error.json_path}: {error.message}", file=sys.stderr)
        # a schema that takes everything would hold nothing
        file = read(ROOT / f"tests/formats/1/{kind}.json")
        for spoilt in ({**file, "versoin": 1}, {**file, "format": 2}, {**file, "parts": []}):
            if validator.is_valid(spoilt):
                sys.exit(f"{kind}: the schema takes what is no {kind}")
    if wrong:
        sys.exit(f"{wrong} faults against the stored schemas")
    print(f"{held} files, each as its stored schema says")


main()
