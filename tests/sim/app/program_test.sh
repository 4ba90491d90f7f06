#!/bin/sh
# The built program from outside: its exit statuses, and which stream it speaks on.
set -u
program=$UNDERSTUDY_BUILD_ROOT/understudy
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
failures=0

# expect STATUS STREAM PATTERN WORDS...: the other stream must stay empty.
expect() {
    status=$1
    stream=$2
    pattern=$3
    shift 3
    "$program" "$@" >"$work/out" 2>"$work/err"
    got=$?
    other=err
    [ "$stream" = out ] || other=out
    if [ "$got" -ne "$status" ] || [ -s "$work/$other" ] ||
        ! grep -q "$pattern" "$work/$stream"; then
        echo "understudy $*: status $got, expected $status and '$pattern' on $stream alone; said:"
        cat "$work/out" "$work/err"
        failures=$((failures + 1))
    fi
}

expect 0 out '^understudy [0-9]' --version
expect 0 out '^usage: ' --help
expect 2 err 'a verb is missing'
expect 2 err "there is no verb 'no-such-verb'" no-such-verb
[ "$failures" -eq 0 ]
