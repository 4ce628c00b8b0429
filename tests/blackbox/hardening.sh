# What protects the program is in it: asked of the file itself, not of the flags.
. "$(dirname "$0")/lib.sh"

readelf -Whdl "$program" >"$work/out" 2>/dev/null || exit 1
has() { expect "$1" grep -qE -- "$2" "$work/out"; }
has "the program may lie at any address (PIE)" 'Type:.*DYN'
has "addresses of functions are fixed and locked before it begins" 'GNU_RELRO'
has "all symbols are bound at the start" '\(FLAGS_1\).*NOW'
expect "data is not run as a program" sh -c '! grep -E "GNU_STACK.*RWE" "$1"' - "$work/out"

readelf -Ws --dyn-syms "$program" >"$work/out"
has "the stack is guarded" '__stack_chk_fail'
has "functions of the C library check the sizes they are given" '_chk(@|$| )'

# Debian's start-up code carries no note of it, so the linker drops that of the whole; the instructions are there.
case $(uname -m) in
  x86_64)
    objdump -d --no-show-raw-insn "$program" | awk '/<main>:$/ { getline; print }' >"$work/out"
    has "jumps land only where a function begins" 'endbr64'
    ;;
esac

# The same sources give the same bytes wherever they lie, and whenever they are built.
expect "no folder of this machine is in it" sh -c '! grep -qF "$1/" "$2"' - "$project" "$program"
expect "no time of building is in it" \
  sh -c '! grep -rnE "__(DATE|TIME|TIMESTAMP)__" "$1/src" "$1/include"' - "$project"
finish
