"""validate_toml.py accepts|rejects SCHEMA FILE.toml...: whether a JSON Schema does so with each file.

Of files to be rejected there is beside each FILE.toml the messages for it, FILE.err; those count of which one is about
a key alone, and which are TOML at all.
"""
import datetime
import json
import pathlib
import re
import sys
import tomllib

import jsonschema

ABOUT_A_KEY = re.compile(r"unknown key|found .*(, allowed is | is wanted)")
NOT_IN_JSON = re.compile(r"a date is wanted|found the number \d+(\.0)?, a whole number")  # dates are texts, 2.0 is 2
LEAST_REJECTED = 8  # of the files of a catalogue: that the filter above finds them at all


def as_json(value):
    if isinstance(value, dict):
        return {key: as_json(item) for key, item in value.items()}
    if isinstance(value, list):
        return [as_json(item) for item in value]
    if isinstance(value, datetime.date):
        return value.isoformat()
    return value


def read(path):
    try:
        return as_json(tomllib.loads(path.read_bytes().decode("utf-8")))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError):
        return None


def main():
    wanted, schema_file, *files = sys.argv[1:]
    schema = json.loads(pathlib.Path(schema_file).read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    wrong = checked = 0
    for path in map(pathlib.Path, files):
        document = read(path)
        if wanted == "rejects":
            messages = path.with_suffix(".err").read_text(encoding="utf-8").splitlines()
            about = [line for line in messages if ABOUT_A_KEY.search(line) and not NOT_IN_JSON.search(line)]
            if document is None or not about:
                continue
        checked += 1
        problems = list(validator.iter_errors(document))
        if bool(problems) != (wanted == "rejects"):
            wrong += 1
            print(path, problems[0].message if problems else "was accepted")
    if checked == 0 or (wanted == "rejects" and checked < LEAST_REJECTED):
        wrong += 1
        print("too few files checked:", checked)
    return 1 if wrong else 0


sys.exit(main())
