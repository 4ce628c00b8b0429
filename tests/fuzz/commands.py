#!/usr/bin/env python3
"""Whole commands on spoilt copies of the project's own files: every one is answered or refused.

    python3 tests/fuzz/commands.py PROGRAM PROJECT [TRIES [SEED]]

A file is spoilt in one to three places: a line dropped, doubled or moved, a value replaced by one that people and machines
write by mistake, a byte changed, the end cut off. Right is an exit code that --help names for bad data, and a message then;
wrong are a fault of the program, a signal, a silence and a control character on the terminal.
"""
import os
import random
import re
import subprocess
import sys
import tempfile

VALUES = ["0", "-1", "1e308", "1e-308", "nan", "inf", "-inf", "0x10", "9223372036854775808", "1_000", "007", '""', '"x"',
          "true", "[]", "{}", "{ low = 3, high = 1 }", "{ low = 0, high = 1e9 }", "{ low = 1, likely = 1, high = 1 }",
          "[1, 2]", "2026-02-30", "2026-02-28", "1979-05-27T07:32:00Z", '"\\u001b[31m"', '"=1+1"', "1e9", "0.5", "1", "2"]
FIELDS = ["", "0", "-1", "1e308", "nan", "inf", '"', '"a', "a" * 300, "=1+1", "1,5", "2026-02-30", "\x1b[31m", "é", "1000001"]

# The words of a command; FILE is the spoilt file.
COMMANDS = [
    ("examples/*.toml", ["weigh", "FILE", "--futures", "200", "--show", "all"]),
    ("examples/*.toml", ["buy", "FILE", "--futures", "200", "--show", "all"]),
    ("examples/*.toml", ["quote", "FILE", "--futures", "200", "--shop", "examples/shop.toml", "--despite-owner-loss",
                         "--page", "shop", "--date", "2026-03-01"]),
    ("examples/keypad-fleet.toml", ["bulk", "FILE", "--show", "all"]),
    ("examples/shop.toml", ["quote", "examples/field-recorder.toml", "--futures", "200", "--shop", "FILE",
                            "--despite-owner-loss", "--page", "shop", "--date", "2026-03-01"]),
    ("examples/shop.toml", ["check", "FILE"]),
    ("examples/history/bench-record.csv", ["lifetime", "FILE", "--part", "volume encoder", "--group", "kind"]),
    ("examples/tables/*.csv", ["rows", "examples/stock-scanner.toml", "FILE", "--futures", "200"]),
    ("examples/stock-scanner.toml", ["rows", "FILE", "examples/tables/scanners.csv", "--futures", "100"]),
    ("examples/stock-scanner.toml", ["weigh", "FILE", "--futures", "200", "--vary", "replacement.price=60:180:2"]),
    ("examples/quotations/granite-lane.csv", ["bulk", "examples/keypad-fleet.toml", "--quotation", "FILE"]),
    ("tests/fuzz/corpus/fuzz_read_drawer/commas.csv", ["drawer", "FILE", "--add", "=knob"]),
    ("tests/fuzz/corpus/fuzz_read_drawer/semicolons.csv", ["weigh", "examples/label-printer.toml", "--futures", "200",
                                                           "--drawer", "FILE"]),
]
ALLOWED = {0, 3, 5}
CONTROL = re.compile(rb"[\x00-\x08\x0b-\x1f\x7f]|\xc2[\x80-\x9f]")


def files_of(project, pattern):
    import glob
    found = sorted(glob.glob(os.path.join(project, pattern)))
    return [f for f in found if pattern != "examples/*.toml" or os.path.basename(f) != "shop.toml"]


def spoilt(dice, text, toml):
    lines = text.split("\n")
    kind = dice.randrange(7)
    at = dice.randrange(len(lines))
    if kind == 0:
        del lines[at]
    elif kind == 1:
        lines.insert(at, lines[dice.randrange(len(lines))])
    elif kind == 2:
        lines[at] = lines[at][:dice.randrange(len(lines[at]) + 1)]
    elif kind == 3:
        text = "\n".join(lines)
        place = dice.randrange(len(text) or 1)
        return text[:place] + chr(dice.choice([0, 9, 27, 34, 44, 61, 91, 125, 255])) + text[place + 1:]
    elif kind == 4:
        return text[:dice.randrange(len(text) + 1)]
    elif toml:
        values = [i for i, line in enumerate(lines) if "=" in line and not line.lstrip().startswith("#")]
        if values:
            at = dice.choice(values)
            lines[at] = lines[at].split("=")[0] + "= " + dice.choice(VALUES)
    else:
        fields = lines[at].split(",")
        fields[dice.randrange(len(fields))] = dice.choice(FIELDS)
        lines[at] = ",".join(fields)
    return "\n".join(lines)


def fault_of(code, out, err):
    if code not in ALLOWED:
        return f"exit code {code}"
    if code != 0 and not err.strip():
        return "refused without a word"
    if CONTROL.search(out) or CONTROL.search(err):
        return "a control character is printed"
    return None


def main(program, project, tries=300, seed=1):
    program, project = os.path.realpath(program), os.path.realpath(project)
    dice = random.Random(int(seed))
    tries = int(tries) // (4 if os.environ.get("MENDWORTH_FEW_CASES", "0") != "0" else 1)
    faults = refused = 0
    environment = dict(os.environ, LC_ALL="C", TERM="dumb", SOURCE_DATE_EPOCH="1772366400")
    with tempfile.TemporaryDirectory() as work:
        for number in range(int(tries)):
            pattern, words = COMMANDS[number % len(COMMANDS)]
            source = dice.choice(files_of(project, pattern))
            with open(source, encoding="utf-8", newline="") as file:
                text = file.read()
            for _ in range(dice.randint(1, 3)):
                text = spoilt(dice, text, source.endswith(".toml"))
            path = os.path.join(work, os.path.basename(source))
            with open(path, "w", encoding="utf-8", newline="") as file:
                file.write(text)
            command = [program] + [path if word == "FILE" else word for word in words]
            try:
                run = subprocess.run(command, cwd=project, env=environment, stdin=subprocess.DEVNULL, capture_output=True,
                                     timeout=600, check=False)
                fault = fault_of(run.returncode, run.stdout, run.stderr)
                refused += run.returncode == 3
            except subprocess.TimeoutExpired:
                fault = "no end in ten minutes"
            if fault:
                faults += 1
                kept = os.path.join(os.getcwd(), f"spoilt-{number}-{os.path.basename(source)}")
                with open(kept, "w", encoding="utf-8", newline="") as file:
                    file.write(text)
                print(f"FAILED: try {number}: {' '.join(words)}: {fault}; the file is {kept}")
                if fault != "no end in ten minutes":
                    print(run.stderr.decode(errors="replace")[:2000])
    print(f"{tries} tries, {refused} refused, {faults} failed")
    return faults > 0 or refused == 0 or refused == int(tries)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
