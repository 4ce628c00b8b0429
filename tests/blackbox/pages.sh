# One answer in every form: sections, tables, widths. Markdown, HTML and CSV are read by parsers that are not ours, where
# Python is there.
. "$(dirname "$0")/lib.sh"
cd "$project" || exit 1
case=examples/kitchen-scale.toml
few="--futures 1000"

run 0 weigh $case $few
expect "the first screen has at most 40 lines" test "$(wc -l <"$work/out")" -le 40
says "): --show all, or --show LIST"
says "Hazards: "
run 0 weigh $case $few --show sensitivity,costs
expect "sections come in the order asked for" \
  test "$(grep -oE '^What the (saving|money)' "$work/out" | tr '\n' ' ')" = "What the saving What the money "
expect "nothing but these sections" test "$(grep -c '^Where the answer' "$work/out")" -eq 0
run 2 weigh $case --show sensitvity
complains "did you mean 'sensitivity'"
complains "break-even"
run 2 weigh $case --show all,costs
run 2 weigh $case --show costs --format json
run 2 weigh $case --show costs --table costs
run 2 weigh $case $few --table cost
complains "this answer has no table 'cost', only"

run 0 weigh $case $few --format csv
cp "$work/out" "$work/all.csv"
run 0 weigh $case $few --table options
cp "$work/out" "$work/options.csv"
run 0 rates --format csv
cp "$work/out" "$work/rates.csv"
run 0 weigh $case $few --format html --show all
cp "$work/out" "$work/weigh.html"
expect "no script" test "$(grep -c '<script' "$work/out")" -eq 0
run 0 lifetime examples/history/bench-record.csv --group part --format html
cp "$work/out" "$work/lifetime.html"
run 0 bulk examples/keypad-fleet.toml --format html
cp "$work/out" "$work/bulk.html"
run 0 weigh $case $few --format markdown --show all
says "| --- |"
says "## What to order"

cat >"$work/read.py" <<'PY'
import csv, html.parser, sys

class Nesting(html.parser.HTMLParser):
    void = {"meta", "br", "hr", "img", "path", "line", "rect", "circle", "polygon", "polyline", "ellipse", "use"}
    def __init__(self):
        super().__init__()
        self.open = []
        self.tables = 0
    def handle_starttag(self, tag, attributes):
        for name, value in attributes:
            if name in ("src", "href") and not value.startswith("#"): sys.exit(f"fetches {value}")
        self.tables += tag == "table"
        if tag not in self.void: self.open.append(tag)
    def handle_startendtag(self, tag, attributes): pass
    def handle_endtag(self, tag):
        if tag in self.void: return
        if not self.open or self.open.pop() != tag: sys.exit(f"</{tag}> closes nothing at {self.getpos()}")

for path in sys.argv[1:]:
    with open(path, newline="", encoding="utf-8") as file:
        if path.endswith(".html"):
            parser = Nesting()
            parser.feed(file.read())
            if parser.open or not parser.tables: sys.exit(f"{path}: {parser.open}, {parser.tables} tables")
            continue
        widths = {}
        rows = list(csv.reader(file, strict=True))
        named = not path.endswith("options.csv")
        for row in rows:
            if widths.setdefault(row[0] if named else "", len(row)) != len(row): sys.exit(f"{path}: {row}")
        if len(rows) < 4: sys.exit(f"{path}: {len(rows)} rows")
PY
if command -v python3 >"$work/python"; then
  expect "a parser reads the pages" python3 "$work/read.py" "$work"/*.csv "$work"/*.html
fi
finish
