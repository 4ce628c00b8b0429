# The README's loop: history, rates file, decision. What weigh takes as the prior median life is what the record says.
. "$(dirname "$0")/lib.sh"
cd "$project" || exit 1
record=examples/history/bench-record.csv
part="volume encoder"

value() { # value KEY FILE: the first number of this key in a JSON answer
  sed -n "s/.*\"$1\": \([-0-9.e+]*\),*\$/\1/p" "$2" | head -1
}
agree() { # agree A B TOLERANCE: relative
  awk -v a="$1" -v b="$2" -v t="$3" 'BEGIN { d = a - b; if (d < 0) d = -d; exit !(a > 0 && b > 0 && d <= t * b) }'
}

# The median of the second group of the record, "open", is that of the station's own encoders.
run 0 lifetime "$record" --part "$part" --group kind --format json
sed -n '/"name": "open"/,$p' "$work/out" | sed -n '/"median_age"/,/}/p' >"$work/median"
fitted=$(value value "$work/median")

mkdir "$work/rates"
run 0 lifetime "$record" --part "$part" --group kind --rates-out "$work/rates/encoders.toml"
says "Does 'sealed' last longer than 'open'?"
expect "the rates of the example are those of its record" cmp -s "$work/rates/encoders.toml" examples/history/rates/encoders.toml
expect "the source says how many failed" grep -q 'source = "11 failed and 15 still working' "$work/rates/encoders.toml"

run 3 weigh examples/history/intercom.toml --futures 500
complains "volume-encoder-open"
run 0 check examples/history/intercom.toml --rates "$work/rates"
run 0 weigh examples/history/intercom.toml --rates "$work/rates" --futures 2000 --format json
expect "the prior median life, $(value prior_median_life "$work/out"), is the record's, $fitted" \
  agree "$(value prior_median_life "$work/out")" "$fitted" 0.01
run 0 weigh examples/history/intercom.toml --rates "$work/rates" --futures 2000
expect "no line is wider than 80" awk 'length > 80 { exit 1 }' "$work/out"
run 0 rates --rates "$work/rates"
says "volume-encoder-sealed"
finish
