# A program of ten lines that finds the installed library by pkg-config:
#   bash pkg_config.sh PROGRAM PROJECT INSTALLED COMPILER FLAGS
. "$(dirname "$0")/lib.sh"
installed=$3
compiler=$4
flags=${5-}
export PKG_CONFIG_PATH
PKG_CONFIG_PATH=$(dirname "$(find "$installed" -name mendworth.pc)")
expect "pkg-config knows it" pkg-config --exists --print-errors mendworth
expect "its version is the program's" test "mendworth $(pkg-config --modversion mendworth)" = "$("$program" --version)"
expect "it builds" "$compiler" -std=c++20 $flags -o "$work/consumer" "$project/tests/consumer/main.cpp" \
  $(pkg-config --cflags --libs mendworth)
expect "it runs" "$work/consumer" >"$work/out"
says "device"
finish
