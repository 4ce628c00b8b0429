#!/usr/bin/env python3
"""Runs the tests of published values and writes the table of what they compared: source, published, ours, difference.

    python3 tests/published/checks.py TESTS PAGE.md

Fails if a test does, or if a value lies further off than its test allows. The source is the comment above a test case.
"""
import collections
import itertools
import os
import subprocess
import sys
import tempfile

HEAD = """# Checks

What the tests compare with published values and with values of independent programs, as they compared it: made by the
tests themselves, run by run. "Allowed" is as a rule half a unit of the last digit printed, or the error of a simulation.
"""


def comment_above(path, line):
    """The lines of comment right above a line, which say where the values come from; else those above the suite."""
    with open(path, encoding="utf-8") as file:
        lines = file.read().split("\n")
    above = list(itertools.takewhile(lambda text: text.startswith("//"), reversed(lines[:line - 1])))
    words = " ".join(text.lstrip("/ ").strip() for text in reversed(above))
    return words or " ".join(text.lstrip("/ ").strip() for text in itertools.takewhile(lambda t: t.startswith("//"), lines))


def number(text):
    return f"{float(text):.10g}"


def main(tests, page):
    with tempfile.TemporaryDirectory() as work:
        notes = os.path.join(work, "checks")
        run = subprocess.run([tests, "--source-file=*/tests/published/*"], env=dict(os.environ, MENDWORTH_CHECKS=notes),
                             stdout=subprocess.DEVNULL, check=False)
        with open(notes, encoding="utf-8") as file:
            rows = [line.rstrip("\n").split("\t") for line in file]
    cases = collections.OrderedDict()
    for suite, path, line, case, ours, published, allowed in rows:
        cases.setdefault((suite, path, int(line), case), []).append((ours, published, allowed))
    off = 0
    text = HEAD
    for (suite, path, line, case), values in sorted(cases.items()):
        text += f"\n## {suite.removeprefix('published: ')}: {case}\n\n{comment_above(path, line)}\n\n"
        text += "| published | ours | difference | allowed |\n|---:|---:|---:|---:|\n"
        for ours, published, allowed in values:
            difference = float(ours) - float(published)
            off += not abs(difference) <= float(allowed)
            text += f"| {number(published)} | {number(ours)} | {difference:.2g} | {float(allowed):.2g} |\n"
    sources = len(cases)
    text += f"\n{len(rows)} values of {sources} test cases; {off} further off than allowed.\n"
    with open(page, "w", encoding="utf-8") as file:
        file.write(text)
    print(f"{page}: {len(rows)} values of {sources} test cases, {off} further off than allowed")
    return run.returncode != 0 or off > 0 or len(rows) < 500 or sources < 30


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
