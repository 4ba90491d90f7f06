#!/bin/sh
# The verb replay from outside: verdicts, statuses, what comes on which stream.
set -u
program=$UNDERSTUDY_BUILD_ROOT/understudy
panel=$UNDERSTUDY_SOURCE_ROOT/scenarios/tram/tram.panel.toml
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
failures=0

fail() {
    echo "$1"
    failures=$((failures + 1))
}

# expect STATUS PATTERN FILE WORDS...: `replay FILE WORDS`, PATTERN on standard error.
expect() {
    status=$1
    pattern=$2
    shift 2
    "$program" replay "$@" >"$work/out" 2>"$work/err"
    got=$?
    if [ "$got" -ne "$status" ] || ! grep -q -- "$pattern" "$work/err"; then
        fail "replay $*: status $got, expected $status and '$pattern'; said: $(cat "$work/err")"
    fi
}

for name in a.jsonl a.jsonl.zst; do
    file=$work/$name
    "$program" emit "$panel" --for 12s --seed 4 --play wander --record "$file" \
        >"$work/bytes" 2>"$work/err" || fail "emit failed: $(cat "$work/err")"
    expect 0 'holds up to 12.000000 s; [0-9]* events, 2 fingerprints' "$file" --verify
    "$program" replay "$file" --stdout 2>"$work/err" | cmp - "$work/bytes" ||
        fail "$name: other bytes than emit gave"
done
file=$work/a.jsonl

"$program" emit "$panel" --for 1s --record "$file" >"$work/out" 2>"$work/err"
if [ $? -ne 2 ] || ! grep -q 'the file exists; give another name, or --force' "$work/err"; then
    fail "an existing recording was not refused: $(cat "$work/err")"
fi

# A part by time is a part of the bytes; together the parts are the whole.
"$program" replay "$file" --stdout --to 5s >"$work/parts"
"$program" replay "$file" --stdout --from 5.000000001s >>"$work/parts"
cmp "$work/parts" "$work/bytes" || fail "two parts are not the whole"

# One digit of the heater, the second number of a line.
number=$(sed -n '400,$p' "$file" | grep -n '"text":"[0-9]*,[0-9]*[0-8],' | head -1 | cut -d: -f1)
number=$((number + 399))
sed "${number}s/\\(\"text\":\"[0-9]*,[0-9]*\\)[0-8],/\\19,/" "$file" >"$work/edited.jsonl"
cmp -s "$file" "$work/edited.jsonl" && fail "the edit changed nothing"
expect 1 "line $number: at .*, seat tram: chunk .*: field heater" "$work/edited.jsonl" --verify

sed '1s/"model":[0-9]*/"model":99/' "$file" >"$work/model.jsonl"
expect 2 'model 99' "$work/model.jsonl" --verify
head -c 20000 "$file" >"$work/torn.jsonl"
expect 0 'where the recording was cut off' "$work/torn.jsonl" --verify
expect 2 'this is not a recording' "$panel" --verify
expect 2 'No such file' "$work/none.jsonl" --verify
expect 2 'plays to no game' "$file" --verify --as hands
expect 2 'has no seat .bus.; it has tram' "$file" --stdout --seat bus
# A mark that somebody says is in the recording, which holds all the same; without a recording it is
# refused in words.
printf 'mark: the lamp flickered\n' | "$program" serve "$panel" --no-pty --tcp 0 --for 700ms \
    --record "$work/marked.jsonl" >"$work/out" 2>"$work/err"
grep -q '"from":"mark","text":"the lamp flickered"' "$work/marked.jsonl" ||
    fail "the mark is not in the recording: $(cat "$work/err")"
expect 0 'holds up to' "$work/marked.jsonl" --verify
printf 'mark: here\n' | "$program" serve "$panel" --no-pty --tcp 0 --for 700ms \
    >"$work/out" 2>"$work/err"
grep -q 'nothing is being recorded' "$work/err" || fail "a mark went nowhere: $(cat "$work/err")"

[ "$failures" -eq 0 ]
