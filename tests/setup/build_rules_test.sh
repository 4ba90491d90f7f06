#!/bin/sh
# What the build must refuse, tried on a small tree with the real sim/cmake: a sound include
# compiles, one of a folder that is no dependency does not, and a test file that nothing registers
# stops the configure step.
set -u
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
mkdir -p "$work/sim/base" "$work/sim/board" "$work/sim/wire" "$work/tests/sim/wire"
cp "$UNDERSTUDY_SOURCE_ROOT/CMakeLists.txt" "$work/"
cp -R "$UNDERSTUDY_SOURCE_ROOT/sim/cmake" "$work/sim/"
cp "$UNDERSTUDY_SOURCE_ROOT/tests/CMakeLists.txt" "$work/tests/"
echo 'understudy_library(base)' >"$work/sim/base/CMakeLists.txt"
echo 'understudy_library(board DEPENDS base)' >"$work/sim/board/CMakeLists.txt"
echo 'understudy_library(wire SOURCES wire.cpp DEPENDS base)' >"$work/sim/wire/CMakeLists.txt"
echo 'inline int base() { return 1; }' >"$work/sim/base/base.h"
echo 'inline int board() { return 2; }' >"$work/sim/board/board.h"

wire() { printf '#include "sim/%s"\nint wire();\nint wire() { return 3; }\n' "$1"; }
configure() { cmake -S "$work" -B "$work/build" -G Ninja >"$work/log" 2>&1; }
build() { cmake --build "$work/build" --target understudy_wire >"$work/log" 2>&1; }
fail() {
    echo "$1; the build said:"
    tail -n 30 "$work/log"
    exit 1
}

wire base/base.h >"$work/sim/wire/wire.cpp"
configure || fail "a sound tree was not configured"
build || fail "a sound include did not compile"

wire board/board.h >"$work/sim/wire/wire.cpp"
build && fail "sim/wire could include sim/board, on which it does not depend"
grep -q 'board.h: No such file' "$work/log" || fail "the wrong include failed for another reason"

wire base/base.h >"$work/sim/wire/wire.cpp"
touch "$work/tests/sim/wire/lost_test.cpp"
configure && fail "a test file that nothing registers was let pass"
grep -q 'tests/sim/wire/lost_test.cpp exists' "$work/log" || fail "the lost file was not named"
exit 0
