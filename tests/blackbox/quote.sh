# Quotes: pages, records that are whole or not there, numbers, refusals, wrong use.
. "$(dirname "$0")/lib.sh"

case=$project/examples/field-recorder.toml
shop=$project/examples/shop.toml
quote=(quote "$case" --shop "$shop" --futures 200 --date 2026-03-01)
fits() { test "$(LC_ALL=C.UTF-8 wc -L <"$1")" -le 80; } # columns, not bytes

run 0 quote --help
expect "no line of the help is wider than 80" fits "$work/out"

# The shop file to start from.
run 0 new --shop
cp "$work/out" "$work/started.toml"
run 0 new --shop "$work/fresh.toml"
silent
complains "mendworth quote CASE --shop $work/fresh.toml"
expect "the same to a file as to standard output" cmp -s "$work/started.toml" "$work/fresh.toml"
run 4 new --shop "$work/fresh.toml"
run 0 new "$work/case.toml"
run 0 quote "$work/case.toml" --shop "$work/fresh.toml" --futures 200 --despite-owner-loss

# Pages on standard output; without --record nothing is kept.
run 0 "${quote[@]}"
says "Field recorder"
cp "$work/out" "$work/draft"
run 0 quote "$case" --futures 200 --date 2026-03-01 --despite-owner-loss
says "Field recorder"
for format in text markdown html json; do
  for page in customer shop; do
    run 0 "${quote[@]}" --page $page --format $format
    expect "a $page page as $format" test -s "$work/out"
    [ $format != text ] || expect "no line of the $page page is wider than 80" fits "$work/out"
  done
done

# A record.
run 0 "${quote[@]}" --record "$work/quotes" --number A-7
complains "$work/quotes/A-7: written"
says "A-7"
record=$work/quotes/A-7
for page in customer/quote shop/at-cost; do
  for ending in txt md html json; do
    expect "$page.$ending is there" test -s "$record/$page.$ending"
  done
done
expect "the page kept is the page printed" cmp -s "$record/customer/quote.txt" "$work/out"
expect "the case is kept as it was read" cmp -s "$record/inputs/case.toml" "$case"
expect "the shop is kept as it was read" cmp -s "$record/inputs/shop.toml" "$shop"
expect "what was not read is not kept" test ! -e "$record/inputs/drawer.csv" -a ! -e "$record/inputs/rates"
expect "the command is kept" grep -q '"seed": 1' "$record/inputs/command.json"
expect "nothing half-written stays" test ! -e "$work/quotes/.mendworth-new"
expect "nobody else may read it" test -z "$(find "$record" -perm /077)"
run 0 quote --again "$record"
complains "the same, byte by byte"
expect "the page remade is the page kept" cmp -s "$record/customer/quote.txt" "$work/out"
run 0 quote --again "$record" --page shop --format html
expect "so is the shop's" cmp -s "$record/shop/at-cost.html" "$work/out"
run 2 quote "$case" --again "$record"
run 4 quote --again "$work/quotes/none"
find "$record" -type f -exec cksum {} + | sort >"$work/before"
run 4 "${quote[@]}" --record "$work/quotes" --number A-7 --set labour.rate_per_hour=30
silent
complains "A-7: exists already"
find "$record" -type f -exec cksum {} + | sort >"$work/after"
expect "an existing record is left alone" cmp -s "$work/before" "$work/after"
mkdir "$work/quotes/empty"
run 4 "${quote[@]}" --record "$work/quotes" --number empty
expect "nor does an empty folder give way" test -z "$(ls -A "$work/quotes/empty")"

# Everything that was read.
printf 'candidate,pieces\n"button 6x6, 7 mm",2\n' >"$work/drawer.csv"
mkdir "$work/rates"
cp "$project"/rates/hazards.toml "$project"/rates/skills.toml "$work/rates"
sed 's/Field recorder/Other recorder/' "$case" >"$work/changed.toml"
"$program" quote - --shop "$shop" --drawer "$work/drawer.csv" --rates "$work/rates" --futures 200 --seed 7 \
  --set labour.case_minutes=9 --record "$work/deep/quotes" --number 1 <"$work/changed.toml" >"$work/out" 2>"$work/err"
expect "a case from standard input" test $? -eq 0
record=$work/deep/quotes/1
expect "standard input is kept" cmp -s "$record/inputs/case.toml" "$work/changed.toml"
expect "the drawer is kept" cmp -s "$record/inputs/drawer.csv" "$work/drawer.csv"
expect "the rates are kept" diff -r "$record/inputs/rates" "$work/rates"
expect "the override is kept" grep -q 'labour.case_minutes=9' "$record/inputs/command.json"
run 0 quote --again "$record"
complains "the same, byte by byte"
sed -i 's/9"/10"/' "$record/inputs/command.json"
run 3 quote --again "$record"
complains "customer/quote.txt differs"
expect "the seed is kept" grep -q '"seed": 7' "$record/inputs/command.json"

# Numbers of a day.
for wanted in 20260301-01 20260301-02; do
  run 0 "${quote[@]}" --record "$work/days"
  complains "$work/days/$wanted: written"
done
mkdir "$work/days/20260301-04"
run 0 "${quote[@]}" --record "$work/days"
complains "20260301-03: written"
run 0 "${quote[@]}" --record "$work/days"
complains "20260301-05: written"
expect "the pages carry the number" grep -q 20260301-05 "$work/days/20260301-05/customer/quote.txt"
expect "the command too" grep -q '"number": "20260301-05"' "$work/days/20260301-05/inputs/command.json"
SOURCE_DATE_EPOCH=1772496000 run 0 quote "$case" --shop "$shop" --futures 200 --record "$work/days"
complains "20260303-01: written" # 1772496000 s after the start of 1970 is 2026-03-03

# A job that was declined.
run 0 "${quote[@]}" --declined --record "$work/days" --number D1
expect "an invoice" test -s "$work/days/D1/customer/invoice.txt"
expect "and no quote" test ! -e "$work/days/D1/customer/quote.txt" -a ! -e "$work/days/D1/shop"
run 0 "${quote[@]}" --declined --minutes-spent 25
says "Time spent after the diagnosis"

# Refusals: nothing is printed or kept, not even the folder.
sed 's/^hazards = .*/hazards = ["microwave-oven"]/' "$case" >"$work/oven.toml"
run 5 quote "$work/oven.toml" --shop "$shop" --futures 200 --record "$work/none"
silent
complains "not quoted: "
expect "a refusal keeps nothing" test ! -e "$work/none"
run 5 quote "$work/oven.toml" --shop "$shop" --futures 200 --despite-owner-loss
complains "--declined makes the invoice"
run 0 quote "$work/oven.toml" --shop "$shop" --declined
says "Invoice for a diagnosis"
says "Not repaired here"
run 0 quote "$case" --futures 200 --despite-owner-loss
complains "no shop file"
sed 's/"mains"/"mains", "microwave-oven"/' "$shop" >"$work/licensed.toml"
run 0 quote "$work/oven.toml" --shop "$work/licensed.toml" --futures 200 --despite-owner-loss

# Wrong use, wrong files, places that will not do.
run 2 "${quote[@]}" --minutes-spent 20
complains "goes with --declined"
run 2 "${quote[@]}" --declined --page shop
run 2 "${quote[@]}" --declined --minutes-spent -1
run 2 "${quote[@]}" --ceiling 80
run 2 "${quote[@]}" --choice all
complains "every-original"
run 2 "${quote[@]}" --record -
run 2 quote - --shop - --futures 200
run 2 quote
for number in '' .hidden a/b 'a b' ../x 12345678901234567890123456789012345678901 'ü'; do
  run 2 "${quote[@]}" --number "$number"
done
run 0 "${quote[@]}" --number 1234567890123456789012345678901234567890
run 3 quote "$case" --shop "$case" --futures 200
complains "field-recorder.toml:"
run 3 quote "$case" --shop "$shop" --set intake.rushh=true
complains "did you mean 'rush'?"
run 4 quote "$case" --shop "$work/missing.toml"
echo full >"$work/file"
run 4 "${quote[@]}" --record "$work/file"
silent
complains "is a file"
run 4 "${quote[@]}" --record "$work/file/below"
expect "a file is left alone" grep -q full "$work/file"
if [ "$(id -u)" -ne 0 ]; then
  mkdir "$work/closed"
  chmod a-w "$work/closed"
  run 4 "${quote[@]}" --record "$work/closed"
  silent
fi

# Fifty commands at once with one number: one record, and it is whole.
codes=()
for i in $(seq 50); do
  "$program" "${quote[@]}" --threads 1 --seed "$i" --record "$work/race" --number R >"$work/race.$i" 2>/dev/null &
  codes[i]=$!
done
won=0
lost=0
winner=0
for i in $(seq 50); do
  wait "${codes[i]}"
  case $? in
    0) won=$((won + 1)); winner=$i ;;
    4) lost=$((lost + 1)) ;;
  esac
done
expect "one of fifty keeps its record ($won did)" test "$won" -eq 1
expect "the others are told ($lost were)" test "$lost" -eq 49
expect "the record is the winner's" grep -q "\"seed\": $winner," "$work/race/R/inputs/command.json"
expect "the record has all its files" test "$(find "$work/race/R" -type f | wc -l)" -eq 11
expect "the losers leave nothing" test "$(ls "$work/race")" = R -a ! -e "$work/race/.mendworth-new"
for i in $(seq 50); do
  [ "$i" -eq "$winner" ] || expect "a loser prints nothing" test ! -s "$work/race.$i"
done

# Twenty at once without a number: twenty records.
pids=()
for i in $(seq 20); do
  "$program" "${quote[@]}" --threads 1 --record "$work/many" >/dev/null 2>&1 &
  pids+=($!)
done
for pid in "${pids[@]}"; do wait "$pid" || fail "a command without a number failed"; done
expect "twenty numbers" test "$(ls "$work/many" | wc -l)" -eq 20
expect "from 01 to 20" test -d "$work/many/20260301-01" -a -d "$work/many/20260301-20"

# Killed at any moment: a whole record or none. What is left is hidden, and cleared away by the next command.
started=$(date +%s%N)
run 0 "${quote[@]}" --threads 1 --record "$work/killed" --number K0
takes=$((($(date +%s%N) - started) / 1000)) # microseconds
for i in $(seq 40); do
  LLVM_PROFILE_FILE=/dev/null "$program" "${quote[@]}" --threads 1 --record "$work/killed" --number "K$i" >/dev/null 2>&1 &
  pid=$!
  moment=$((takes * (i + 8) / 45)) # from long before the end to after it
  sleep "$(printf '%d.%06d' $((moment / 1000000)) $((moment % 1000000)))"
  kill -9 $pid 2>/dev/null
  wait $pid 2>/dev/null
  [ ! -e "$work/killed/K$i" ] ||
    expect "K$i is whole" test "$(find "$work/killed/K$i" -type f -size +0 | wc -l)" -eq 11
done
mkdir -p "$work/killed/.mendworth-new/K98/customer"
run 0 "${quote[@]}" --record "$work/killed" --number K99
expect "the record is there" test -s "$work/killed/K99/shop/at-cost.json"
expect "what killed commands left is cleared away" test ! -e "$work/killed/.mendworth-new"
finish
