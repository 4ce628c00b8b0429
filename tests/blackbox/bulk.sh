# A fleet and a shop, quotations, their messages.
. "$(dirname "$0")/lib.sh"

fleet="$project/examples/keypad-fleet.toml"
quotations="$project/examples/quotations"
run 0 bulk "$fleet" --quantity 500
says "Door-entry keypad, 40 devices, 9 with a failed part now"
says "Look after them so: "
expect "the first screen has at most 40 lines" test "$(wc -l <"$work/out")" -le 40
run 0 bulk "$fleet" --quantity 500 --until 2 --show all
says "How to look after them"
says "Units to swap in"
expect "no line is wider than 80" awk 'length > 80 { print; exit 1 }' "$work/out"
expect "no number that is none" sh -c '! grep -Eqw "nan|inf|-nan" "$1"' - "$work/out"

# What else is asked for here hangs on no number of devices, and fewer are sooner answered.
sed -e 's/^devices = 40/devices = 8/' -e 's/^failed = 9/failed = 2/' "$fleet" >"$work/keypads.toml"
fleet=$work/keypads.toml
run 0 bulk "$fleet" --devices 8 --devices 12
says "Side by side"
run 0 bulk "$fleet" --quotation "$quotations/granite-lane.csv" --show buy
says "as quoted in"
run 0 bulk "$fleet" --quotation "$quotations/weir-mill.csv" --quotation "$quotations/granite-lane.csv" --show all
says "as quoted in"
printf 'candidate;from;each\nkey switch 6x6, 9.5 mm;25;1,390\n' >"$work/unclear.csv"
run 3 bulk "$fleet" --quotation "$work/unclear.csv"
complains "may be read in two ways"
run 0 bulk "$fleet" --quotation "$work/unclear.csv" --decimal-comma
run 4 bulk "$fleet" --quotation "$work/none.csv"
printf 'candidate,from,each\nno such key,1,0.5\n' >"$work/other.csv"
run 3 bulk "$fleet" --quotation "$work/other.csv"
complains "the case has no candidate 'no such key'"
silent

{ cat "$project/examples/label-printer.toml"; printf '\n[bulk]\njobs_per_month = 6\n'; } >"$work/shop.toml"
run 0 bulk "$work/shop.toml" --jobs-per-month 2 --jobs-per-month 6 --format json
says '"schema": "mendworth.bulk"'
run 3 bulk "$work/shop.toml" --devices 4
complains "about a shop"
run 3 bulk "$work/shop.toml" --jobs-per-month 90000
complains "ask about a shorter time"
run 3 bulk "$fleet" --devices 90000
complains "a fleet may have 20000 positions"
run 3 bulk "$work/shop.toml" --set bulk.carying_rate=0.1
complains "did you mean 'carrying_rate'?"
run 3 bulk "$project/examples/label-printer.toml"
complains "has no section [bulk]"
used="$project/examples/tables/used-keys.csv"
run 0 bulk "$work/shop.toml" --past-use "$used" --show demand
says "pieces go in clumps"
run 0 bulk "$work/shop.toml" "$fleet"
says "Side by side"
says "keypads.toml"
run 2 bulk - "$fleet"
complains "nothing is read from standard input"
run 3 bulk "$fleet" --past-use "$used"
complains "a record of past use is for a shop"
printf 'date,pieces\n2025-13-01,1\n2025-01-02,x\n' >"$work/used.csv"
run 3 bulk "$work/shop.toml" --past-use "$work/used.csv"
complains "used.csv:2:1"
complains "used.csv:3:12"
printf 'candidate,pieces\nkey switch,30\n' >"$work/drawer.csv"
run 0 bulk "$work/shop.toml" --drawer "$work/drawer.csv" --format json
says '"drawer_pieces": 30'
printf 'candidate,from,each\nkey switch,1,0.10\n' >"$work/cheap.csv"
run 0 buy "$work/shop.toml" --quotation "$work/cheap.csv" --show answer
run 0 schema bulk
says '"mendworth.bulk, version 1"'
run 2 bulk "$fleet" --devices 0
run 2 bulk
finish
