#!/usr/bin/env python3
"""Changes the program in one place at a time and counts what the tests notice.

    python3 tests/mutants/mutants.py BUILD [--count 200] [--seed 1] [--only src/numeric,src/lifetime] [--jobs 2] [--go-on]
                                           [--list]

BUILD is a built folder of this project, made with Ninja and optimisation. A change is an operator, a bound, a term, a unit or
a condition in the layers that work things out. All of them are compiled at once, each behind a switch, into one more program
of tests (BUILD/mutants); what does not compile is left out. Every test case runs once and notes which switches it comes by;
then, for each change, those that came by run with it switched on, the quickest first, until one notices; before the slowest
of them the commands of tests/golden that come by it, whose whole outputs must stay. What none notices is printed;
explained.txt beside this script lists changes that nothing can notice, and why: these are not tried. Ends with 1 if less
than 95 % of the others are noticed.

Which changes are tried hangs on each of them alone: another change of the sources leaves the rest of the sample as it is.
What was noticed is written down (BUILD/mutants/noticed.txt): with --go-on it is not tried again, after a run that was ended
or to see what new tests notice.
"""
import argparse
import collections
import concurrent.futures
import hashlib
import itertools
import json
import os
import re
import resource
import shlex
import subprocess
import sys

LAYERS = ["model", "futures", "answers", "quote", "numeric", "lifetime"]
HERE = os.path.dirname(os.path.realpath(__file__))
PROJECT = os.path.realpath(os.path.join(HERE, "..", ".."))
LEAST = 0.95
# Some of those chosen do not compile, which is known only afterwards: so many more are compiled than are tried.
SPARE = 1.15
# The quickest tests of a change that together take no longer run before the whole outputs, the others after them.
QUICK_SECONDS = 15.0
# A change may make a loop that never ends fill the memory.
MOST_BYTES = 4 << 30
# What is looked for, and what is put in its place.
CHANGES = [
    (r" < ", [" <= ", " > "]), (r" <= ", [" < "]), (r" > ", [" >= ", " < "]), (r" >= ", [" > "]),
    (r" == ", [" != "]), (r" != ", [" == "]), (r" && ", [" || "]), (r" \|\| ", [" && "]),
    (r" \+ ", [" - "]), (r" - ", [" + "]), (r" \* ", [" / "]), (r" / ", [" * "]),
    (r"std::max\(", ["std::min("]), (r"std::min\(", ["std::max("]), (r"\btrue\b", ["false"]), (r"\bfalse\b", ["true"]),
    (r"\b60\.0\b", ["1.0"]), (r"\bdays_per_year\b", ["365.0"]), (r"\b0\.5\b", ["0.25"]), (r"\b1\.0\b", ["1.1"]), (r"\b1\b", ["2"]),
]
ASSIGNED = [(r" \+= ", " -= "), (r" -= ", " += "), (r" \*= ", " /= ")]
SKIPPED = re.compile(r"^\s*(//|#|template|static_assert|throw|assert|using|namespace)|constexpr|operator|std::function|"
                     r"invalid_argument|domain_error|logic_error|format\(|notes?\.push_back|\"|<[^<>]*\b1\b[^<>]*>")
# A switch: whether change k is on; notes that it was come by.
SWITCH = ("extern int mutant_on; extern unsigned char mutant_met[];\n"
          "static inline bool mutant(int k) { mutant_met[k] = 1; return mutant_on == k; }\n")

Change = collections.namedtuple("Change", "file line begin end what put shown")


def expression_around(text, at):
    """Begin and end of the smallest argument, bracket, or right side of a statement that holds text[at]."""
    depth, begin = 0, at
    while begin > 0:
        c = text[begin - 1]
        if c in ")]}":
            depth += 1
        elif c in "([{":
            if depth == 0:
                break
            depth -= 1
        elif depth == 0 and (c in ",;" or re.search(r"(?: [-+*]?= |\breturn )$", text[max(0, begin - 8):begin])):
            break
        elif depth == 0 and c == ":" and re.search(r"[^:?]\s:$", text[max(0, begin - 3):begin]):
            return None
        begin -= 1
    depth, end = 0, at
    while end < len(text):
        c = text[end]
        if c in "([{":
            depth += 1
        elif c in ")]}":
            if depth == 0:
                break
            depth -= 1
        elif depth == 0 and c in ",;":
            break
        end += 1
    return begin, end


def bare(text):
    """Without comments, in the same places."""
    return re.sub(r"//[^\n]*", lambda m: " " * len(m[0]), text)


def changes_of(path):
    with open(path, encoding="utf-8") as file:
        text = file.read()
    text = bare(text)
    shown = os.path.relpath(path, PROJECT)
    start = 0
    for number, line in enumerate(text.split("\n"), 1):
        if not SKIPPED.search(line) and line.strip():
            for pattern, puts in CHANGES:
                for match in re.finditer(pattern, line):
                    for put in puts:
                        changed = (line[:match.start()] + put + line[match.end():]).strip()
                        around = expression_around(text, start + match.start() + 1)
                        if around and "\n\n" not in text[around[0]:around[1]]:
                            yield Change(shown, number, start + match.start(), start + match.end(), around, put, changed)
            match = re.match(r"\s*(?:\} else )?(?:if|while) \((.*)\) ", line)
            if match and match[1].count("(") == match[1].count(")") and "=" not in re.sub(r"[=!<>]=", "", match[1]):
                at = start + match.start(1)
                yield Change(shown, number, at, at, (at, start + match.end(1)), "!", f"if (!({match[1]}))")
            for pattern, put in ASSIGNED:
                match = re.match(rf"(\s*)([^;]*?){pattern}([^;]*);\s*$", line)
                if match and not re.match(r"for|if|while|else|return", match[2]):
                    at = start + match.start(2)
                    yield Change(shown, number, start + match.end(2), start + match.start(3), (at, start + match.end(3) + 1),
                                 put, (match[2] + put + match[3] + ";").strip())
        start += len(line) + 1


def with_switches(text, changes):
    """The text with every change behind its switch; one that lies within another is applied first."""
    def key(item):
        return item[1].what[1] - item[1].what[0], item[0]
    edits = sorted(changes, key=key)
    # Each edit wraps the present text of its stretch; marks keep the places of the untouched source.
    pieces = list(text)
    for number, change in edits:
        begin, end = change.what
        kept = "".join(pieces[begin:end])
        plain = text[begin:end]
        changed = text[begin:change.begin] + change.put + text[change.end:end]
        if change.put == "!":
            put = f"mutant({number}) ? !({plain}) : static_cast<bool>({kept})"
        elif plain.endswith(";"):
            put = f"{{ if (mutant({number})) {{ {changed} }} else {{ {kept} }} }}"
        else:
            put = f" (mutant({number}) ? ({changed.strip()}) : ({kept.strip()})) "
        flat = put.replace("\n", " ")
        pieces[begin:end] = [flat + "\n" * plain.count("\n")] + [""] * (end - begin - 1)
    return "".join(pieces)


def batched(path):
    """The sources that a batch is made of; none of a plain source."""
    with open(path, encoding="utf-8", errors="replace") as file:
        return re.findall(r'^#include "(/.*\.cpp)"', file.read(), re.MULTILINE)


def run(words, seconds, **more):
    try:
        return subprocess.run(words, timeout=seconds, check=False, capture_output=True, text=True, errors="replace", **more)
    except subprocess.TimeoutExpired:
        return None


def text_of(path):
    """Empty where there is no such file."""
    if not os.path.exists(path):
        return ""
    with open(path, encoding="utf-8") as file:
        return file.read()


def digest(*texts):
    return hashlib.sha256("\0".join(texts).encode()).hexdigest()


def in_turn(changes, seed):
    """The changes in an order that hangs on each of them alone."""
    alike, ranked = collections.Counter(), []
    for change in changes:
        of_change = f"{seed}\t{change.file}\t{change.shown}"
        alike[of_change] += 1
        ranked.append((digest(of_change, str(alike[of_change])), change))
    return [change for _, change in sorted(ranked)]


def headers():
    """The text of every header of the project."""
    found = []
    for folder in ("include", "src"):
        for path, _, names in sorted(os.walk(os.path.join(PROJECT, folder))):
            for name in sorted(n for n in names if n.endswith(".hpp")):
                with open(os.path.join(path, name), encoding="utf-8") as file:
                    found.append(file.read())
    return "".join(found)


class Build:
    def __init__(self, folder):
        self.folder = os.path.realpath(folder)
        self.own = os.path.join(self.folder, "mutants")
        os.makedirs(self.own, exist_ok=True)
        found = subprocess.run(["ninja", "-C", self.folder, "-t", "compdb"], check=True, capture_output=True, text=True).stdout
        self.headers = headers()
        # What compiles a source, and the batch that it is compiled in.
        self.commands, self.batch_of = {}, {}
        for entry in json.loads(found):
            path = os.path.realpath(os.path.join(self.folder, entry["file"]))
            if not entry["output"].endswith(".o") or path in self.commands or not os.path.exists(path):
                continue
            self.commands[path] = entry["command"]
            for part in batched(path) or [path]:
                self.batch_of[part] = path

    def compiled(self, source, like, only_read=False):
        """The object made of `source` as `like` is compiled, or the messages."""
        made = source + ".o"
        words = [w for w in shlex.split(self.commands[like]) if w != "-Werror" and not re.match(r"-M[DFTMP]|\S+\.d$|-O", w)]
        words[words.index("-o") + 1] = made
        words[words.index("-c") + 1] = source
        done = run([w for w in words if not w.endswith(".o") or w == made] + ["-w", "-O1"] + ["-fsyntax-only"] * only_read,
                   3600, cwd=self.folder)
        return (made, None) if done and done.returncode == 0 else (None, done.stderr if done else "too slow")

    def batch(self, path, changes):
        """Compiles what `path` compiles with changes; drops those that do not compile. Returns object and changes left."""
        sources = batched(path) or [path]
        texts = {}
        for source in sources:
            with open(source, encoding="utf-8") as file:
                texts[os.path.relpath(source, PROJECT)] = bare(file.read())
        flat = {shown: shown.replace("/", "_") for shown in texts}
        left = list(changes)
        # What an earlier run compiled of the same is taken.
        out = os.path.join(self.own, "batch_" + next(iter(flat.values())))
        key = digest(self.headers, self.commands[path], repr(left), *texts.values())
        known, *numbers = text_of(out + ".done").split() or [""]
        if known == key and os.path.exists(out + ".o"):
            return out + ".o", [(n, c) for n, c in left if str(n) in numbers]
        while left:
            for shown, text in texts.items():
                mine = [(n, c) for n, c in left if c.file == shown]
                with open(os.path.join(self.own, flat[shown]), "w", encoding="utf-8") as file:
                    file.write(with_switches(text, mine))
            with open(out, "w", encoding="utf-8") as file:
                file.write(SWITCH + "".join(f'#include "{os.path.join(self.own, name)}"\n' for name in flat.values()))
            made, trouble = self.compiled(out, path, only_read=True)
            if made:
                made = self.compiled(out, path)[0]
                with open(out + ".done", "w", encoding="utf-8") as file:
                    file.write(" ".join([key] + [str(n) for n, _ in left]))
                return made, left
            fewer = left
            for shown, text in texts.items():
                bad = {int(n) for n in re.findall(re.escape(flat[shown]) + r":(\d+)[:,]", trouble)}
                fewer = [(n, c) for n, c in fewer if c.file != shown or not any(
                    text.count("\n", 0, c.what[0]) < b <= text.count("\n", 0, c.what[1]) + 1 for b in bad)]
            if len(fewer) == len(left):
                sys.stderr.write(trouble[:2000])
                return None, []
            left = fewer
        return None, []

    def linked(self, target, objects):
        """The program `target` with these objects in place of those of the libraries."""
        commands = subprocess.run(["ninja", "-C", self.folder, "-t", "commands", target], check=True, capture_output=True,
                                  text=True).stdout.strip().split("\n")
        link = re.search(r"&& (\S*(?:g\+\+|clang\+\+)\S* .*?)(?: && |$)", " && " + commands[-1].removeprefix(": && "))[1]
        words = shlex.split(link)
        out = os.path.join(self.own, "mutant_" + target)
        words[words.index("-o") + 1] = out
        archive = next(i for i, w in enumerate(words) if w.endswith(".a"))
        done = run(words[:archive] + objects + words[archive:], 1800, cwd=self.folder)
        if not done or done.returncode != 0:
            sys.exit(done.stderr if done else "linking takes too long")
        return out

    def programs(self, objects, most):
        """The tests and the command, both with all changes."""
        made = {}
        for name in ("switches", "met"):
            own = os.path.join(self.own, name + ".cpp")
            with open(os.path.join(HERE, name + ".cpp"), encoding="utf-8") as file, open(own, "w", encoding="utf-8") as out:
                out.write(f"#define MOST_MUTANTS {most}\n" + file.read())
            made[name], trouble = self.compiled(own, os.path.join(PROJECT, "tests/unit/main.cpp"))
            if trouble:
                sys.exit(trouble)
        objects = objects + [made["switches"]]
        return self.linked("mendworth_tests", objects + [made["met"]]), self.linked("mendworth", objects)


def pattern_of(name):
    return re.sub(r"[,\\\[\]?*\"]", "?", name)


def cases(program, folder):
    """Every test case: seconds and the changes that it came by."""
    path = os.path.join(folder, "met.txt")
    with open(program, "rb") as file:
        key = hashlib.sha256(file.read()).hexdigest()
    if text_of(path + ".of") != key:
        for old in (path, path + ".of"):
            if os.path.exists(old):
                os.remove(old)
        done = run([program], 7200, env=dict(os.environ, MUTANTS_MET_BY_CASE=path, MENDWORTH_FEW_CASES="1"))
        if not done or done.returncode != 0:
            sys.exit("the tests fail without any change:\n" + (done.stdout[-2000:] if done else "no end in two hours"))
        with open(path + ".of", "w", encoding="utf-8") as file:
            file.write(key)
    met = collections.defaultdict(list)
    with open(path, encoding="utf-8") as file:
        for line in file:
            name, seconds, *numbers = line.rstrip("\n").split("\t")
            for number in numbers:
                met[int(number)].append((float(seconds), name))
    return {number: sorted(those) for number, those in met.items()}


def noticed(program, number, those):
    """The name of a test case that notices, or None."""
    environment = dict(os.environ, MUTANT=str(number), MENDWORTH_FEW_CASES="1")
    while those:
        some, spent = [], 0.0
        while those and len(some) < 40 and (not some or spent < 2.0):
            spent += those[0][0]
            some.append(those[0][1])
            those = those[1:]
        names = ",".join(pattern_of(name) for name in some)
        done = run([program, "--abort-after=1", "--no-intro=1", f"--test-case={names}"], 60 + 15 * spent, env=environment)
        if not done or done.returncode != 0:
            failed = re.search(r"TEST CASE: +(.*)", done.stdout) if done else None
            return failed[1] if failed else f"one of {some[0]} ..."
    return None


class Goldens:
    """Commands with whole outputs, and the changes that each comes by."""

    def __init__(self, program, folder):
        self.program, self.met_path = program, os.path.join(folder, "met_by_command.txt")
        self.commands = []
        for path, _, names in sorted(os.walk(os.path.join(PROJECT, "tests", "golden"))):
            for name in sorted(n for n in names if n.endswith(".command")):
                with open(os.path.join(path, name), encoding="utf-8") as file:
                    words = file.readline().split()
                if os.path.exists(self.met_path):
                    os.remove(self.met_path)
                output = self.output(words, MUTANTS_MET=self.met_path)
                with open(self.met_path, encoding="utf-8") as file:
                    self.commands.append((name, words, output, {int(n) for n in file.read().split()}))

    def output(self, words, **environment):
        plain = dict(os.environ, LC_ALL="C", TERM="dumb", SOURCE_DATE_EPOCH="1772366400", **environment)
        plain.pop("NO_COLOR", None)
        done = run([self.program] + words, 120, cwd=PROJECT, env=plain, stdin=subprocess.DEVNULL)
        return done and (done.returncode, done.stdout, done.stderr)

    def noticed(self, number):
        for name, words, output, met in self.commands:
            if number in met and self.output(words, MUTANT=str(number)) != output:
                return name
        return None


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("build")
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="")
    parser.add_argument("--jobs", type=int, default=2, help="changes tried side by side")
    parser.add_argument("--go-on", action="store_true", help="leaves out what an earlier run noticed")
    parser.add_argument("--list", action="store_true", help="names the changes and makes none")
    options = parser.parse_args()
    sys.stdout.reconfigure(line_buffering=True)
    paths = [os.path.join(PROJECT, "src", layer, name) for layer in LAYERS
             for name in sorted(os.listdir(os.path.join(PROJECT, "src", layer))) if name.endswith(".cpp")]
    every = [c for path in paths for c in changes_of(path) if c.file.startswith(tuple(options.only.split(",")))]
    chosen = list(enumerate(in_turn(every, options.seed)[:round(options.count * SPARE)], 1))
    if options.list:
        for number, c in chosen:
            print(f"{number}: {c.file}:{c.line}: {c.shown}")
        return 0
    lines = text_of(os.path.join(HERE, "explained.txt")).splitlines()
    known = [line.split("\t")[:2] for line in lines if line and not line.startswith("#")]
    build = Build(options.build)
    objects, tried = [], []
    batches = collections.defaultdict(list)
    for number, c in chosen:
        batches[build.batch_of[os.path.join(PROJECT, c.file)]].append((number, c))
    with concurrent.futures.ThreadPoolExecutor(options.jobs) as pool:
        compiled = pool.map(lambda item: build.batch(*item), sorted(batches.items()))
        for (path, changes), (made, left) in zip(sorted(batches.items()), compiled):
            print(f"{os.path.basename(path)}: {len(left)} of {len(changes)} changes compile")
            if made:
                objects.append(made)
                tried += left
    tried = sorted(tried)[:options.count]
    program, command = build.programs(objects, len(chosen) + 1)
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
    met = cases(program, build.own)
    log = os.path.join(build.own, "noticed.txt")
    before = dict(line.rsplit("\t", 1) for line in text_of(log).splitlines()) if options.go_on else {}

    def place_of(c):
        return f"{c.file}\t{c.line}\t{c.begin}\t{c.shown}"

    counts, whole_outputs = collections.Counter(), 0

    def tell(number, c, by):
        nonlocal whole_outputs
        outcome = ("noticed" if by else "explained" if [c.file, c.shown] in known
                   else "never met" if number not in met else "unnoticed")
        counts[outcome] += 1
        whole_outputs += bool(by and by.endswith(".command"))
        print(f"{number}: {outcome}: {c.file}:{c.line}: {c.shown}" + (f" [{by}]" if by else ""))
        if by and place_of(c) not in before:
            noted.write(f"{place_of(c)}\t{by}\n")
            noted.flush()

    # First the quickest tests of all changes, then whole outputs and all other tests of those that are left.
    quick, slow = {}, {}
    for number, _ in tried:
        spent = list(itertools.accumulate(seconds for seconds, _ in met.get(number, [])))
        few = sum(seconds < QUICK_SECONDS for seconds in spent)
        quick[number], slow[number] = met.get(number, [])[:few], met.get(number, [])[few:]
    with (concurrent.futures.ThreadPoolExecutor(options.jobs) as pool,
          open(log, "a" if before else "w", encoding="utf-8") as noted):
        left = []
        for number, c in tried:
            if place_of(c) in before or [c.file, c.shown] in known:
                tell(number, c, before.get(place_of(c)))
            else:
                left.append((number, c))
        running = {pool.submit(noticed, program, number, quick[number]): (number, c) for number, c in left}
        for ended in concurrent.futures.as_completed(running):
            if ended.result():
                tell(*running[ended], ended.result())
                left.remove(running[ended])
        goldens = Goldens(command, build.own)

        def slowly(number):
            return goldens.noticed(number) or noticed(program, number, slow[number])

        running = {pool.submit(slowly, number): (number, c) for number, c in left}
        for ended in concurrent.futures.as_completed(running):
            tell(*running[ended], ended.result())
    counted = len(tried) - counts["explained"]
    print(f"{len(every)} changes known, {len(tried)} tried: {dict(counts)}, {whole_outputs} of them by whole outputs; "
          f"{100 * counts['noticed'] / max(1, counted):.1f} % are noticed")
    return counts["noticed"] < LEAST * counted


if __name__ == "__main__":
    sys.exit(main())
