# Whatever a file holds: a message with its place, exit code 3, nothing printed, no crash.
. "$(dirname "$0")/lib.sh"

refused() { # refused NAME: file $work/NAME is bad data
  run 3 weigh "$work/$1"
  silent
  complains "$work/$1:"
  expect "no internal error for $1" sh -c '! grep -q internal "$1"' - "$work/err"
}

: >"$work/empty.toml"
refused empty.toml
echo 'not toml at all' >"$work/words.toml"
refused words.toml
complains "words.toml:1:"
head -c 5000 "$program" >"$work/binary.toml"
refused binary.toml
printf '\0\0\0' >"$work/nul.toml"
refused nul.toml
printf '\377\376d\0e\0' >"$work/utf16.toml"
refused utf16.toml
printf '[d\303\251vice]\nname = "x"\n' >"$work/accent.toml"
refused accent.toml
printf '[device]\nname = "\033[2J' >"$work/escape.toml"
refused escape.toml
expect "messages hold no escape" sh -c '! grep -q "$(printf "\033")" "$1"' - "$work/err"
head -c 104857600 /dev/zero | tr '\0' 'x' >"$work/huge.toml"
refused huge.toml
rm "$work/huge.toml"
run 4 weigh "$work"

"$program" new "$work/good.toml" 2>/dev/null
changed() { # changed SED-COMMAND MESSAGE: the starter case with one change is refused with this message
  sed "$1" "$work/good.toml" >"$work/changed.toml"
  expect "'$1' changes nothing" sh -c '! cmp -s "$1" "$2"' - "$work/good.toml" "$work/changed.toml"
  refused changed.toml
  complains "$2"
}
changed 's/^age_years/age_yaers/' "age_years"
changed 's/^currency.*/currency = "ZZZ"/' "ZZZ"
changed 's/^failed = 1/failed = 99/' "failed"
changed 's/^use_per_day = [0-9]*/use_per_day = 0/' "use_per_day"
changed 's/^rate_per_hour = [0-9]*/rate_per_hour = -1/' "rate_per_hour"
changed 's/^rate_per_hour = [0-9]*/rate_per_hour = { low = 9, high = 2 }/' "rate_per_hour"
changed 's/^rate_per_hour = [0-9]*/rate_per_hour = nan/' "rate_per_hour"
changed 's/^rate_per_hour = [0-9]*/rate_per_hour = true/' "rate_per_hour"
changed '/^\[\[replacement/,$d' "replacement"
changed '/^\[\[part.offer/,/^price/d' "offer"

# All problems in one go.
sed -e 's/^age_years/age_yaers/' -e 's/^failed = 1/failed = 99/' "$work/good.toml" >"$work/two.toml"
refused two.toml
expect "both problems are named" test "$(grep -c "two.toml:[0-9]*:[0-9]*:" "$work/err")" -ge 2
expect "their number is said" grep -q "problems" "$work/err"
finish
