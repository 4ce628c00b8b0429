# Questions and answers: by options, piped, back and corrected, and what is wrong with them.
. "$(dirname "$0")/lib.sh"
few="--futures 300"

# One line is a decision, and the case that is kept gives the same one.
run 0 ask --part 0.45 --shipping 4.90 --new 85 --life 7 --age 6 --minutes 60 --hour 12 --yes --out "$work/one.toml" $few
cp "$work/out" "$work/answer"
complains "Not said, so taken: kind other, class tactile-switch"
complains "one.toml: written"
run 0 check "$work/one.toml"
run 0 weigh "$work/one.toml" $few
expect "the case gives the same answer" cmp -s "$work/out" "$work/answer"
grep -q '^price = 0.45' "$work/one.toml" || fail "the price is not in the case"
grep -q '# .*(usual)' "$work/one.toml" || fail "what was taken is not marked in the case"
run 0 ask --part 0.45 --new 85 --yes --format json --out "$work/json.toml" $few
cp "$work/out" "$work/answer"
run 0 weigh "$work/json.toml" --format json $few
expect "as JSON too" cmp -s "$work/out" "$work/answer"
run 0 ask --yes $few
run 0 ask --yes --class sleeve-fan --hours 8 --kind portable-computer $few
run 0 ask --yes --hazards microwave-oven $few

# Piped answers.
piped() { # piped EXPECTED ANSWERS WORDS...
  local expected=$1 answers=$2
  shift 2
  printf "$answers" | "$program" ask --futures 300 "$@" >"$work/out" 2>"$work/err"
  local code=$?
  checks=$((checks + 1))
  [ "$code" -eq "$expected" ] || fail "ask with answers '$answers': exit code $code, expected $expected"
}
all='radio\ntactile-switch\n5\n1\n0.45\n4.90\n85\n7\n6\n12\n60\n12\nnone\n'
piped 0 "$all"
says "worth"
piped 0 "$all\n$work/piped.toml\n"
expect "the case is kept" grep -q '^count = 5' "$work/piped.toml"
cp "$work/out" "$work/answer"
run 0 weigh "$work/piped.toml" $few
expect "and gives the same answer" cmp -s "$work/out" "$work/answer"
piped 0 "$all\n$work/piped.toml\n$work/second.toml\n"
complains "exists already"
expect "a name that is taken is asked again" cmp -s "$work/piped.toml" "$work/second.toml"

# A bad answer repeats the question and says what is allowed.
piped 0 "radio\nbuttn\ntactile-switch\n5\nfive\n1\n0,45\n0.45\n4.90\n85\n7\n6\n12\n60\n12\nnone\n\n$work/third.toml\n"
complains "a name that is listed"
complains "wants a whole number from 1 to 1000"
complains "a point for the decimal mark: 0.45"
expect "the same case in the end" cmp -s "$work/piped.toml" "$work/third.toml"

# Back, correct at once by name, correct at the end by number; ? explains.
piped 0 "radio\ntactile-switch\n4\nback\n5\n1\n?\n0.4\nshipping=4.90\n\n85\n7\n6\n12\n60\n9\nhour=10\nnone\npart=0.45\n12\n12\n\n$work/fourth.toml\n"
complains "With tax, as the seller asks"
complains "shipping: 4.90"
expect "the same case again" cmp -s "$work/piped.toml" "$work/fourth.toml"
piped 0 "back\n$all"
complains "This is the first question."
piped 0 "$all""colour=red\n99\nback\nmains\n\n"
complains "There is no answer 'colour'"
complains "a number from 1 to 13"
says "mains"
# What cannot be is not offered as the next answer, whenever it comes out.
piped 0 "radio\ntactile-switch\n2\n3\n2\n0.45\n4.90\n85\n7\n6\n12\n60\n12\nnone\n\n"
complains "wants at most 2, as there are no more"
expect "3 failed of 2 is no default" sh -c '! grep -qF "have failed? [3]" "$1"' - "$work/err"
piped 0 "radio\ntactile-switch\n3\n3\n0.45\n4.90\n85\n7\n6\n12\n60\n12\nnone\nalike=2\n\n\n"
complains "wants at most 2, as there are no more"
complains "have failed? [1]"
expect "nor afterwards" sh -c '! grep -qF "have failed? [3]" "$1"' - "$work/err"

# Options are not asked for again; another currency wants its own amounts.
piped 0 "1\n2\n" --kind radio --class relay --alike 1 --failed 1 --new 85 --life 7 --age 6 --use 5 --minutes 60 --hour 9 --hazards none
piped 3 "1\n" --kind radio --class relay --alike 1 --failed 1 --new 85 --life 7 --age 6 --use 5 --minutes 60 --hour 9 --hazards none
complains "the answers end before the question 'shipping'"
complains "-:1: error:"
silent
piped 3 ""
complains "before the question 'kind'"
run 2 ask --yes --currency JPY
complains "--part must be said"
run 0 ask --yes --currency JPY --part 100 --shipping 500 --hour 1500 $few
says "JPY"

# Wrong use.
for wrong in "--part x" "--part -1" "--alike 0" "--class nothing" "--age 1e99" "--hours 5" "--hazards ghosts" "--failed 2 --alike 1" "--out -"; do
  run 2 ask --yes $wrong
  silent
  complains "mendworth: ${wrong%% *}"
done
run 2 ask --yes --hours 5
complains "whose life is in cycles: --use says how many a day"
run 2 ask --yes --class sleeve-fan --use 5
complains "whose life is in hours: --hours says how many a day"
run 2 ask --yes --prat 1
complains "did you mean '--part'?"
run 2 ask --yes --part
run 2 ask stray
run 4 ask --yes --out "$work/one.toml"
complains "exists already"
silent
run 4 ask --yes --out "$work/none/x.toml"
silent
finish
