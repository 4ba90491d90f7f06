#!/bin/sh
# A recording that the first version made opens for ever: its bytes come out, it is measured, and it
# is verified, or refused for the one reason there may be, another model of the box.
set -u
program=$UNDERSTUDY_BUILD_ROOT/understudy
file=$UNDERSTUDY_SOURCE_ROOT/scenarios/tram/recordings/first-version.jsonl.zst
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
failures=0

fail() {
    echo "$1"
    failures=$((failures + 1))
}

# What went to the game, as the first version wrote it itself.
digest=$("$program" replay "$file" --stdout | sha256sum | cut -d' ' -f1)
[ "$digest" = eb76337fe30401b59cec908f90b440128bc5283bfb1153ecffc45228dcfb7101 ] ||
    fail "other bytes than the first version recorded: $digest"

"$program" replay "$file" --verify 2>"$work/err"
status=$?
case $status in
0) grep -q 'holds up to 12.0001' "$work/err" || fail "verified, but not to its end" ;;
2) grep -q 'made by understudy 0.1.0 with model 2, and this program has model' "$work/err" ||
    fail "refused for no good reason: $(cat "$work/err")" ;;
*) fail "status $status: $(cat "$work/err")" ;;
esac

"$program" measure "$file" --json >"$work/measured" 2>"$work/err" ||
    fail "cannot be measured: $(cat "$work/err")"
grep -q '"power"' "$work/measured" || fail "power was not measured"

[ "$failures" -eq 0 ]
