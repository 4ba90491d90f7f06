#!/bin/sh
# find_package(understudy) in a project of somebody else's, in C++ and C, against what
# `cmake --install` leaves, after the installed folder has been moved.
set -eu
configuration=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
said=$work/said
fail() {
    echo "$1"
    tail -n 30 "$said"
    exit 1
}

cmake --install "$UNDERSTUDY_BUILD_ROOT" --prefix "$work/first" --component development \
    --config "$configuration" >"$said" 2>&1 || fail "cmake --install failed"
mv "$work/first" "$work/moved elsewhere"
if grep -rl -e "$UNDERSTUDY_BUILD_ROOT" -e "$work/first" "$work/moved elsewhere/lib/cmake" \
    >"$said"; then
    fail "the installed package names a folder of the build"
fi

cp -R "$UNDERSTUDY_SOURCE_ROOT/tests/dist/consumer" "$work/consumer"
configure() { # WANTED VERSION
    cmake -S "$work/consumer" -B "$work/build" -G Ninja -DWANTED="$1" \
        -DCMAKE_BUILD_TYPE="$configuration" -DCMAKE_PREFIX_PATH="$work/moved elsewhere" \
        >"$said" 2>&1
}
configure 99 && fail "a version that is not there was found"
version=$(sed -n 's/^project(understudy VERSION \([0-9.]*\).*/\1/p' \
    "$UNDERSTUDY_SOURCE_ROOT/CMakeLists.txt")
rm -rf "$work/build"
configure "$version" || fail "version $version was not found"
cmake --build "$work/build" >"$said" 2>&1 || fail "the consumer did not compile"
grep -q 'warning:' "$said" && fail "the installed headers make the consumer's compiler warn"

[ "$("$work/build/consumer_cpp")" = 'P512,1 512 1' ] || fail "the C++ consumer read other values"
# The check value of CRC-16/MODBUS over "123456789" is 4B37 in the catalogue of parametrised CRC
# algorithms by G. Cook.
[ "$("$work/build/consumer_c")" = '777 4B37' ] || fail "the C consumer read other values"
exit 0
