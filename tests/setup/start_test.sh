#!/bin/sh
# How sim/start calls the program, by display and arguments: a made-up cmake builds nothing, and a
# made-up understudy tells its arguments.
set -u
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
top=$work/tree
mkdir -p "$work/bin" "$top/sim/cmake" "$top/build"
cp "$UNDERSTUDY_SOURCE_ROOT/sim/start" "$top/sim/"
cp "$UNDERSTUDY_SOURCE_ROOT/sim/cmake/setup.sh" "$top/sim/cmake/"
echo '# Nothing is needed.' >"$top/sim/cmake/packages.txt"
touch "$top/build/build.ninja"
printf '#!/bin/sh\n' >"$work/bin/cmake"
# shellcheck disable=SC2016
printf '#!/bin/sh\nprintf "[%%s]" "$@"\n' >"$top/build/understudy"
chmod +x "$work/bin/cmake" "$top/build/understudy"
failures=0

# expect DISPLAY WAYLAND_DISPLAY EXPECTED ARGUMENTS...; ROOT stands for the top of the tree.
expect() {
    display=$1
    wayland=$2
    expected=$3
    shift 3
    got=$(DISPLAY=$display WAYLAND_DISPLAY=$wayland PATH="$work/bin:$PATH" \
        "$top/sim/start" "$@" 2>/dev/null | sed "s#$top#ROOT#g")
    [ "$got" = "$expected" ] && return
    printf 'sim/start %s, display "%s" "%s":\nexpected %s\ngot      %s\n' \
        "$*" "$display" "$wayland" "$expected" "$got"
    failures=$((failures + 1))
}

desk='[ROOT/scenarios/tram/tram.panel.toml]'
game='[--][ROOT/build/tram-game][--port][{port}]'
expect '' '' "[serve]${desk}[--play][wander]${game}[--headless]"
expect ':0' '' "[panel]${desk}[--play][wander]${game}[--right]"
expect '' 'wayland-0' "[panel]${desk}[--play][wander]${game}[--right]"
expect '' '' "[serve]${desk}[--play][wander][--record][a b.jsonl]${game}[--headless]" \
    --record 'a b.jsonl'
expect '' '' "[serve]${desk}[--quiet][--][./own game][{port}]" --quiet -- './own game' '{port}'
expect ':0' '' "[panel]${desk}[--on-top][--][./own game][{port}]" --on-top -- './own game' '{port}'
expect '' '' '' --build-only
[ "$failures" -eq 0 ]
