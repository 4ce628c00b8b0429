#!/usr/bin/env python3
"""Changes the program in one place at a time and counts what the tests notice.

    python3 tests/mutants/mutants.py BUILD [--count 20] [--seed 1] [--only src/numeric] [--list]

BUILD is a configured build folder of this project (a plain one: batches make every change dear). A change is an operator, a
bound, a term or a unit in the layers that work things out. It is built, the tests run (all of one process, those of the
suite "slow" and golden outputs not), the file is restored. What no test notices is printed; explained.txt beside this
script lists those that change nothing that can be seen, by file and line of source, and why.
"""
import argparse
import os
import random
import re
import subprocess
import sys

LAYERS = ["model", "futures", "answers", "quote", "numeric", "lifetime"]
PROJECT = os.path.realpath(os.path.join(os.path.dirname(__file__), "..", ".."))
# What is looked for, and what is put in its place.
CHANGES = [
    (r" < ", [" <= ", " > "]), (r" <= ", [" < "]), (r" > ", [" >= ", " < "]), (r" >= ", [" > "]),
    (r" == ", [" != "]), (r" != ", [" == "]), (r" && ", [" || "]), (r" \|\| ", [" && "]),
    (r" \+ ", [" - "]), (r" - ", [" + "]), (r" \* ", [" / "]), (r" / ", [" * "]),
    (r" \+= ", [" -= "]), (r" -= ", [" += "]),
    (r"std::max\(", ["std::min("]), (r"std::min\(", ["std::max("]),
    (r"\breturn true;", ["return false;"]), (r"\breturn false;", ["return true;"]),
    (r"\b60\.0\b", ["1.0"]), (r"\b365\.25\b", ["365.0"]), (r"\b0\.5\b", ["0.25"]), (r"\b1\.0\b", ["1.1"]),
]
SKIPPED = re.compile(r"^\s*(//|#|template|static_assert|throw|assert)|operator|std::function|invalid_argument|domain_error|"
                     r"format\(|notes?\.push_back|\"")


def candidates(only):
    for layer in LAYERS:
        folder = os.path.join(PROJECT, "src", layer)
        for name in sorted(os.listdir(folder)):
            path = os.path.join(folder, name)
            shown = os.path.relpath(path, PROJECT)
            if not name.endswith((".cpp",)) or (only and not shown.startswith(only)):
                continue
            with open(path, encoding="utf-8") as file:
                lines = file.read().split("\n")
            for number, line in enumerate(lines):
                if SKIPPED.search(line):
                    continue
                code = line.split("//")[0]
                for pattern, replacements in CHANGES:
                    for match in re.finditer(pattern, code):
                        for put in replacements:
                            yield shown, number, match.start(), match.end(), put


def explained():
    path = os.path.join(os.path.dirname(__file__), "explained.txt")
    with open(path, encoding="utf-8") as file:
        return [line.split("\t") for line in file.read().split("\n") if line and not line.startswith("#")]


def run(words, seconds):
    try:
        return subprocess.run(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=seconds,
                              check=False).returncode
    except subprocess.TimeoutExpired:
        return -1


def tried(build, place, jobs):
    """noticed, unnoticed or "does not build"."""
    shown, number, start, end, put = place
    path = os.path.join(PROJECT, shown)
    with open(path, encoding="utf-8") as file:
        before = file.read()
    lines = before.split("\n")
    lines[number] = lines[number][:start] + put + lines[number][end:]
    try:
        with open(path, "w", encoding="utf-8") as file:
            file.write("\n".join(lines))
        if run(["ninja", "-C", build, f"-j{jobs}", "mendworth_tests"], 1800) != 0:
            return "does not build"
        tests = os.path.join(build, "tests", "mendworth_tests")
        os.environ["MENDWORTH_FEW_CASES"] = "1"
        # What is near first: a layer's own tests end most of it.
        for words in (["--source-file=*/unit/*"], ["--source-file=*/published/*"],
                      ["--source-file=*/property/*,*/questions/*,*/golden/*"]):
            if run([tests, "--abort-after=1", "--no-path-filenames=1", *words], 900) != 0:
                return "noticed"
        return "unnoticed"
    finally:
        with open(path, "w", encoding="utf-8") as file:
            file.write(before)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("build")
    parser.add_argument("--count", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--only", default="")
    parser.add_argument("--list", action="store_true", help="names the changes and makes none")
    options = parser.parse_args()
    places = list(candidates(options.only))
    random.Random(options.seed).shuffle(places)
    known = explained()
    counts = {"noticed": 0, "unnoticed": 0, "explained": 0, "does not build": 0}
    for place in places[:options.count]:
        shown, number, start, end, put = place
        with open(os.path.join(PROJECT, shown), encoding="utf-8") as file:
            line = file.read().split("\n")[number]
        changed = line[:start] + put + line[end:]
        if options.list:
            print(f"{shown}:{number + 1}: {changed.strip()}")
            continue
        outcome = tried(os.path.realpath(options.build), place, options.jobs)
        if outcome == "unnoticed" and any(shown == e[0] and changed.strip() == e[1] for e in known):
            outcome = "explained"
        counts[outcome] += 1
        print(f"{outcome}: {shown}:{number + 1}: {changed.strip()}", flush=True)
    built = sum(counts.values()) - counts["does not build"]
    print(f"of {len(places)} changes {sum(counts.values())} tried: {counts}")
    return not options.list and counts["noticed"] < 0.95 * (built - counts["explained"])


if __name__ == "__main__":
    sys.exit(main())
