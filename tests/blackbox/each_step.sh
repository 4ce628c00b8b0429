# Every command that writes files, ended or hindered at each of its steps (each_step.c says which those are): a file is the
# old one or the new one and nothing else lies about; after a kill the next command works.
#   bash tests/blackbox/each_step.sh PROGRAM PROJECT COMPILER
. "$(dirname "$0")/lib.sh"

"$3" -x c -O1 -shared -fPIC "$project/tests/blackbox/each_step.c" -o "$work/each_step.so" -ldl ||
  fail "each_step.c does not compile"
checks=$((checks + 1))
python3 - "$(realpath "$program")" "$project" "$work" <<'PYTHON' || fail "see above"
import filecmp, itertools, json, os, shutil, signal, subprocess, sys, urllib.parse, urllib.request
program, project, work = sys.argv[1:]
place = os.path.join(work, 'place')
surroundings = dict(os.environ, SOURCE_DATE_EPOCH='1772366400', LD_PRELOAD=work + '/each_step.so', STEPS_TO=work + '/steps')
failed = runs = 0

def check(what, holds):
    global failed
    if not holds:
        failed += 1
        print('FAILED:', what)

def run(words, **step):
    return subprocess.run([program] + words, cwd=place, env=dict(surroundings, **step), stdin=subprocess.DEVNULL,
                          capture_output=True, timeout=300).returncode

def paths(folder):
    return {os.path.relpath(os.path.join(at, name), folder)
            for at, folders, files in os.walk(folder) for name in folders + files}

def kept_as(name):
    kept = os.path.join(work, name)
    shutil.rmtree(kept, ignore_errors=True)
    shutil.copytree(place, kept)
    return kept

def restore(kept):
    shutil.rmtree(place, ignore_errors=True)
    shutil.copytree(kept, place)

def what_is_wrong(before, after, litter_too):
    """A path that is lost, half written or litter."""
    here, old, new = paths(place), paths(before), paths(after)
    if old - here:
        return 'lost: ' + min(old - here)
    if litter_too and here - old - new:
        return 'left: ' + min(here - old - new)
    for path in here & (old | new):
        full = os.path.join(place, path)
        if os.path.isfile(full) and not any(path in there and filecmp.cmp(full, os.path.join(kept, path), False)
                                            for kept, there in ((before, old), (after, new))):
            return 'half written: ' + path
    if any(path.startswith('records/Q') for path in here) and new - here:
        return 'half a record: without ' + min(new - here)
    return None

ENDING = itertools.cycle(['SIGINT', 'SIGTERM', 'SIGHUP', 'SIGPIPE', 'SIGQUIT'])
FAILING = itertools.cycle([28, 5])  # ENOSPC, EIO

def hinder(words, kinds=('end', 'kill', 'fail'), clears=False):
    """Tries all steps of a command; `clears`: what a killed one left is gone after the next."""
    global runs
    before = kept_as('before')
    check(f'{words[0]} works', run(words) == 0)
    after = kept_as('after')
    steps = int(open(work + '/steps').read())
    check(f'{words[0]} has steps: {steps}', steps > 2)
    # A record has many steps that are alike.
    for step in range(1, steps + 1, 1 if steps < 30 else 2):
        for kind in kinds if steps < 30 else (kinds[step % len(kinds)],):
            restore(before)
            runs += 1
            if kind == 'fail':
                error = next(FAILING)
                code = run(words, STEP=str(step), STEP_ERRNO=str(error))
                what, allowed = f'{words[0]}, error {error} at step {step}', (0, 4)
            else:
                name = 'SIGKILL' if kind == 'kill' else next(ENDING)
                number = int(getattr(signal, name))
                code = run(words, STEP=str(step), STEP_SIGNAL=str(number))
                what, allowed = f'{words[0]}, {name} at step {step}', (0, -number)
            check(f'{what}: exit code {code}', code in allowed)
            wrong = what_is_wrong(before, after, kind != 'kill')
            check(f'{what}: {wrong}', not wrong)
            if kind == 'kill' and clears and code != 0:
                again = run(words if words[0] == 'drawer' else [w.replace('Q1', 'Q2') for w in words])
                check(f'{what}: the next one fails: {again}', again == 0)
                left = [p for p in paths(place) if 'mendworth-new' in p]
                check(f'{what}: the next one leaves {left}', not left)

def saved(before, after, step=0, **more):
    """The live page told to save."""
    server = subprocess.Popen([program, 'page', 'case.toml', '--no-browser', '--linger', '60', '--futures', '100'], cwd=place,
                              env=dict(surroundings, STEP=str(step), **more), stdout=subprocess.PIPE,
                              stderr=subprocess.DEVNULL, text=True)
    address = server.stdout.readline().strip()
    def post(what, **fields):
        try:
            request = urllib.request.Request(address + what, urllib.parse.urlencode(fields).encode(),
                                             {'Content-Type': 'application/x-fields'})
            urllib.request.urlopen(request, timeout=60).read()
        except OSError:
            pass
    if address:
        post('change', key='labour.rate_per_hour', value='9')
        post('save', name='case.toml')
        post('end')
    server.stdout.close()
    code = server.wait(60)
    wrong = after and what_is_wrong(before, after, True)
    check(f'page, {more} at step {step}: {wrong}', not wrong)
    check(f'page, {more} at step {step}: exit code {code}', code in (0, 4))

os.mkdir(place)
shutil.copy(project + '/examples/history/bench-record.csv', place)
with open(project + '/examples/label-printer.toml') as case, open(place + '/shop-bulk.toml', 'w') as out:
    out.write(case.read() + '\n[bulk]\njobs_per_month = 6\n')
shutil.copy(project + '/examples/stock-scanner.toml', place)
with open(place + '/devices.csv', 'w') as out:
    out.write('serial,age\nA1,3\nB2,4\n')
for words in (['new', 'case.toml'], ['new', '--shop', 'shop.toml'], ['drawer', 'drawer.csv', '--add', 'key switch'],
              ['weigh', 'case.toml', '--futures', '100', '--out', 'answer']):
    check(f'{words} works', run(words) == 0)
few = ['--futures', '100', '--threads', '2']
new = ('end', 'fail')  # a new file, of which a kill leaves what is written so far
for words, *how in ((['new', 'new.toml'], new), (['ask', '--yes', '--out', 'asked.toml'] + few, new),
                    (['weigh', 'case.toml', '--seed', '2', '--out', 'answer'] + few,),
                    (['rows', 'stock-scanner.toml', 'devices.csv', '--order', 'order.txt'] + few, ('end', 'fail')),
                    (['bulk', 'shop-bulk.toml', '--out', 'bulk.txt'], ('end',)),
                    (['drawer', 'drawer.csv', '--add', 'key switch', '--pieces', '3'], ('end', 'kill', 'fail'), True),
                    (['lifetime', 'bench-record.csv', '--part', 'volume encoder', '--out', 'life', '--plot', 'plot.svg',
                      '--rates-out', 'rates.toml'], ('end', 'fail')),
                    (['quote', 'case.toml', '--shop', 'shop.toml', '--record', 'records', '--number', 'Q1'] + few,
                     ('end', 'kill', 'fail'), True)):
    start = kept_as('start')
    hinder(words, *how)
    restore(start)
before = kept_as('before')
saved(before, None)
after = kept_as('after')
steps = int(open(work + '/steps').read())
check(f'the page has steps: {steps}', steps > 4)
for step in range(2, steps + 1):
    restore(before)
    name = ('SIGINT', 'SIGTERM', 'SIGHUP')[step % 3]
    saved(before, after, step, STEP_SIGNAL=str(int(getattr(signal, name))))
restore(before)
saved(before, after, steps - 1, STEP_ERRNO='28')
print(f'{runs} commands hindered')
sys.exit(failed > 0 or runs < 100)
PYTHON
finish
