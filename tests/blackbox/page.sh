# The live page over its socket: what is refused, and that it goes on; figures; files.
#   bash tests/blackbox/page.sh PROGRAM PROJECT
. "$(dirname "$0")/lib.sh"
program=$(realpath "$program")  # it runs in another directory

cp "$project/examples/label-printer.toml" "$work/case.toml"
mkdir "$work/elsewhere"
cp "$work/case.toml" "$work/elsewhere/other.toml"
ln -s elsewhere/other.toml "$work/link.toml"
(cd "$work" && exec "$program" page case.toml --no-browser --futures 1000 --linger 600) >"$work/address" 2>"$work/err" &
server=$!
trap 'kill $server 2>/dev/null; rm -rf "$work"' EXIT
for _ in $(seq 100); do [ -s "$work/address" ] && break; sleep 0.1; done
expect "the address is printed" grep -q '^http://127\.0\.0\.1:[0-9]*/[0-9a-f]\{32\}/$' "$work/address"

"$program" weigh "$work/case.toml" --set labour.rate_per_hour=9 --futures 1000 --format json >"$work/by_set.json" 2>/dev/null
sed -i 's#"source_name": *"[^"]*"#"source_name": ""#' "$work/by_set.json"

checks=$((checks + 1))
python3 - "$(cat "$work/address")" "$work" <<'PYTHON' || fail "see above"
import concurrent.futures, http.client, json, re, socket, sys, urllib.parse
address, work = sys.argv[1:]
place = urllib.parse.urlsplit(address)
port, base = place.port, place.path
failed = 0

def check(what, holds):
    global failed
    if not holds:
        failed += 1
        print('FAILED:', what)

def ask(method, path, body=None, headers=None):
    connection = http.client.HTTPConnection('127.0.0.1', port, timeout=60)
    try:
        connection.putrequest(method, path, skip_host=bool(headers and 'Host' in headers))
        if body is not None:
            connection.putheader('Content-Length', str(len(body)))
            if not headers or 'Content-Type' not in headers:
                connection.putheader('Content-Type', 'application/x-fields')
        for name, value in (headers or {}).items():
            connection.putheader(name, value)
        connection.endheaders()
        if body is not None:
            connection.send(body)
        reply = connection.getresponse()
        return reply.status, reply.read(), reply
    except (ConnectionError, http.client.HTTPException):
        return 0, b'', None
    finally:
        connection.close()

def post(path, **fields):
    status, body, _ = ask('POST', base + path, urllib.parse.urlencode(fields).encode())
    return status, json.loads(body) if body else {}

def raw(data):
    with socket.create_connection(('127.0.0.1', port), timeout=20) as s:
        try:
            s.sendall(data)
            s.shutdown(socket.SHUT_WR)
            answer = b''
            while chunk := s.recv(65536):
                answer += chunk
            return answer
        except ConnectionError:
            return b''

def lives():
    return ask('GET', base + 'state')[0] == 200

check('the page is served', ask('GET', base)[0] == 200)
policy = ask('GET', base)[2].getheader('Content-Security-Policy')
check('strict policy', "default-src 'none'" in policy and 'unsafe' not in policy)
check('wrong secret', ask('GET', '/' + '0' * 32 + '/state')[0] == 404)
check('no secret', ask('GET', '/state')[0] == 404)
check('wrong Host', ask('GET', base + 'state', headers={'Host': 'elsewhere.example'})[0] == 403)
check('another port in Host', ask('GET', base + 'state', headers={'Host': '127.0.0.1:1'})[0] == 403)
for origin in ('http://elsewhere.example', 'null', 'http://127.0.0.1:1'):
    check('origin ' + origin, ask('POST', base + 'undo', b'', {'Origin': origin})[0] == 403)
check('cross-site', ask('GET', base + 'state', headers={'Sec-Fetch-Site': 'cross-site'})[0] == 403)
check('own origin', ask('POST', base + 'alive', b'', {'Origin': f'http://127.0.0.1:{port}'})[0] == 200)
check('a form of elsewhere', ask('POST', base + 'undo', b'a=1', {'Content-Type': 'text/plain'})[0] == 415)

# Large and broken requests.
check('100 MB', ask('POST', base + 'change', b'x' * 100_000_000)[0] in (0, 413) and lives())
check('2 MB', ask('POST', base + 'change', b'x' * 2_000_000)[0] in (0, 413) and lives())
check('a body of unknown length',
      raw(b'POST %schange HTTP/1.1\r\nHost: 127.0.0.1:%d\r\nTransfer-Encoding: chunked\r\n\r\n5\r\nhello\r\n' %
          (base.encode(), port))[9:12] in (b'', b'411') and lives())
check('long header', raw(b'GET %sstate HTTP/1.1\r\nHost: x\r\nX: ' % base.encode() + b'y' * 200_000 + b'\r\n\r\n')[9:12]
      in (b'', b'400', b'403', b'414', b'431') and lives())
check('many headers', raw(b'GET %sstate HTTP/1.1\r\nHost: 127.0.0.1:%d\r\n' % (base.encode(), port) +
      b''.join(b'X-%d: y\r\n' % i for i in range(5000)) + b'\r\n')[9:12] in (b'', b'400', b'431') and lives())
check('long address', raw(b'GET /' + b'a' * 100_000 + b' HTTP/1.1\r\nHost: x\r\n\r\n')[9:12] in
      (b'', b'400', b'403', b'404', b'414') and lives())
ranges = b'bytes=' + b','.join(b'%d-%d' % (i, i) for i in range(1200))
raw(b'GET %sstate HTTP/1.1\r\nHost: 127.0.0.1:%d\r\nRange: %s\r\n\r\n' % (base.encode(), port, ranges))
check('many ranges', lives())
for broken in (b'', b'\r\n', b'GARBAGE\r\n\r\n', b'GET\r\n\r\n', b'GET / HTTP/9.9\r\n\r\n', b'\x00' * 4096, b'GET %s\xff\xfe HTTP/1.1\r\n\r\n' % base.encode(),
               b'POST %schange HTTP/1.1\r\nHost: 127.0.0.1:%d\r\nContent-Length: -1\r\n\r\n' % (base.encode(), port),
               b'POST %schange HTTP/1.1\r\nHost: 127.0.0.1:%d\r\nContent-Length: 99999999999999999999\r\n\r\n' % (base.encode(), port),
               b'POST %schange HTTP/1.1\r\nHost: 127.0.0.1:%d\r\nContent-Length: 10\r\nContent-Type: application/x-fields\r\n\r\nab' % (base.encode(), port)):
    raw(broken)
check('broken requests', lives())
check('values that are no text', post('change', key='device.name', value='\udcff'.encode('utf-8', 'surrogateescape'))[0] in (200, 422) and lives())
while post('undo')[0] == 200:
    pass

# Figures.
status, state = post('change', key='labour.rate_per_hour', value='9')
check('a change', status == 200 and state['answerable'])
figures = ask('GET', base + 'answer.json')[1].decode()
figures = re.sub(r'"source_name": *"[^"]*"', '"source_name": ""', figures)
check('figures of weigh --set', figures == open(work + '/by_set.json').read())
check('a quick answer', '<table' in post('change', key='labour.rate_per_hour', value='8', revision=state['revision'])[1]['answer']['lead'])
post('undo')

# Files.
for name in ('../x.toml', '/tmp/x.toml', 'elsewhere/x.toml', '.hidden.toml', 'x.sh', '..%2fx.toml', 'x.toml\x00'):
    check('saves nothing as ' + repr(name), post('save', name=name)[0] == 422)
check('a link is not followed', post('save', name='link.toml')[0] == 422 and post('open', name='link.toml')[0] == 422)
check('saved', post('save', name='case.toml')[0] == 200)
check('a new one', post('save', name='second.toml')[0] == 200)
files = json.loads(ask('GET', base + 'files')[1])['files']
check('files', files == ['case.toml', 'second.toml'])

with concurrent.futures.ThreadPoolExecutor(16) as pool:
    good = sum(status == 200 for status in pool.map(lambda _: ask('GET', base + 'state')[0], range(10_000)))
check(f'10,000 requests: {good} met', good == 10_000)
check('goes on', lives())
check('told to end', post('end')[0] == 200)
sys.exit(failed > 0)
PYTHON

for _ in $(seq 50); do kill -0 $server 2>/dev/null || break; sleep 0.1; done
expect "it ends when it is told to" bash -c "! kill -0 $server 2>/dev/null"
wait $server
expect "it ends well" test $? -eq 0
expect "comments stay in what is saved" test "$(grep -o '#.*' "$work/case.toml")" = "$(grep -o '#.*' "$project/examples/label-printer.toml")"
expect "one line differs" test "$(diff "$work/case.toml" "$project/examples/label-printer.toml" | grep -c '^<')" -eq 1
expect "a new file is the same" cmp -s "$work/case.toml" "$work/second.toml"
expect "nothing else is written" test "$(cd "$work" && ls -d -- *.toml | tr '\n' ' ')" = "case.toml link.toml second.toml "

# A page that was open and gives no sign of life any more ends it.
(cd "$work" && exec "$program" page --no-browser --linger 1) >"$work/address" 2>/dev/null &
server=$!
for _ in $(seq 100); do [ -s "$work/address" ] && break; sleep 0.1; done
sleep 2
expect "it waits for the page to be opened" kill -0 $server
python3 -c 'import sys, urllib.request; urllib.request.urlopen(sys.argv[1]).read()' "$(cat "$work/address")"
wait $server
expect "it ends well when the page is closed" test $? -eq 0

printf 'a = \n' >"$work/broken.toml"
run 3 page --no-browser "$work/broken.toml"
run 4 page --port 1024 --no-browser nothing-here.toml
run 2 page --port 80
for signal in TERM INT; do
  # A shell without job control lets its background jobs ignore INT.
  (cd "$work" && exec env --default-signal=INT "$program" page --no-browser) >"$work/address" 2>/dev/null &
  server=$!
  for _ in $(seq 100); do [ -s "$work/address" ] && break; sleep 0.1; done
  kill -$signal $server
  wait $server
  expect "$signal ends it well" test $? -eq 0
done
finish
