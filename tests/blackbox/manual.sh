# The manual pages and completions say what --help says, command by command and option by option, and their readers take
# them. Its third word is the folder that the build made them in.
. "$(dirname "$0")/lib.sh"
manual=$(realpath -e "$3")

commands=$("$program" --help | sed -n '/^Subcommands:/,/^$/s/^  \([a-z-]*\) .*/\1/p')
expect "help lists its commands" test "$(echo "$commands" | wc -w)" -gt 10
expect "a page for each command and one for the program" \
  test "$(ls "$manual"/*.1 | wc -l)" -eq $(($(echo "$commands" | wc -w) + 1))

# bash_words WORDS...: what the completion offers for the last of them.
bash_words() {
  bash -c '. "$1"; shift; COMP_WORDS=(mendworth "$@"); COMP_CWORD=$#; _mendworth; printf "%s\n" "${COMPREPLY[@]}"' - \
    "$manual/mendworth.bash" "$@"
}

# all_of WHAT: it names every line of $work/wanted.
all_of() {
  sort -u >"$work/named"
  missing=$(comm -23 "$work/wanted" "$work/named" | head -5)
  expect "$1: without $missing" test -z "$missing"
}

bash_words "" >"$work/offered"
for command in $commands; do
  expect "the program's page names $command" grep -qF "mendworth\\-$command" "$manual/mendworth.1"
  expect "bash offers $command" grep -qx -- "$command" "$work/offered"
  "$program" "$command" --help | grep -oE '^  (-h,)?--[a-z-]+' | sed 's/.*--/--/' | sort -u >"$work/wanted"
  expect "$command has options" test -s "$work/wanted"
  all_of "the page of $command" < <(sed 's/\\-/-/g' "$manual/mendworth-$command.1" | grep -oE -- '--[a-z-]+')
  bash_words "$command" - >"$work/options"
  all_of "bash offers of $command" <"$work/options"
  all_of "zsh offers of $command" \
    < <(sed -n "/^    $command)/,/;;/p" "$manual/_mendworth" | grep -oE -- '--[a-z-]+\[' | tr -d '[')
  all_of "fish offers of $command" \
    < <(sed -n "/seen_subcommand_from $command'/s/.* -l \([a-z-]*\) .*/--\1/p" "$manual/mendworth.fish")
  expect "no option but those of help" test "$(wc -l <"$work/options")" -eq $(($(wc -l <"$work/wanted") + 1)) # -h
done

# The pages of the files name every key that the schema knows.
for kind in case shop; do
  "$program" schema $kind >"$work/schema"
  keys=$(python3 -c 'import json, sys
def keys(node):
    for name, inner in node.get("properties", {}).items():
        kinds = [inner] + inner.get("anyOf", []) + inner.get("oneOf", []) + [inner.get("items", {})]
        tables = [k for k in kinds if isinstance(k, dict) and "properties" in k and "low" not in k["properties"]]
        if not tables: print(name)
        for table in tables: keys(table)
keys(json.load(sys.stdin))' <"$work/schema" | sort -u)
  expect "the schema of a $kind has keys" test "$(echo "$keys" | wc -w)" -gt 30
  echo "$keys" >"$work/wanted"
  all_of "the page of a $kind" < <(sed -n 's/^\\fB\(.*\)\\fR$/\1/p' "$manual/mendworth-$kind.5")
done

bash_words weigh --format "" >"$work/offered"
expect "bash offers the forms" sh -c 'echo "text markdown html csv json" | tr " " "\n" | cmp -s - "$1"' - "$work/offered"
bash_words help "la" >"$work/offered"
expect "bash offers no command that there is none" test ! -s "$work/offered" -o "$(cat "$work/offered")" = ""
touch "$work/my case.toml"
(cd "$work" && bash_words weigh my) >"$work/offered"
expect "bash offers a file whose name has a blank" grep -qx 'my case.toml' "$work/offered"

expect "bash reads its completion" bash -n "$manual/mendworth.bash"
for shell in zsh fish; do
  command -v $shell >/dev/null || continue
  file=$manual/_mendworth
  [ $shell = fish ] && file=$manual/mendworth.fish
  expect "$shell reads its completion" $shell -n "$file"
done
if command -v fish >/dev/null; then
  HOME=$work XDG_CONFIG_HOME=$work fish --no-config -c "source $manual/mendworth.fish; complete -C 'mendworth weigh --format '" >"$work/offered"
  expect "fish offers the forms" grep -q '^markdown' "$work/offered"
fi
if command -v man >/dev/null; then
  for page in "$manual"/*.[15]; do
    complaints=$(LC_ALL=C.UTF-8 MANROFFSEQ='' MANWIDTH=80 man --warnings -E UTF-8 -l -Tutf8 -Z "$page" 2>&1 >/dev/null)
    expect "man takes $(basename "$page"): $complaints" test -z "$complaints"
  done
fi
finish
