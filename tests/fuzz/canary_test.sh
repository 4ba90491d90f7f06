#!/bin/sh
# Passes only if the canary's fuzz run dies and its last line repeats the very same death.
set -u
program=$UNDERSTUDY_BUILD_ROOT/tests/fuzz/fuzz_canary
corpus=$UNDERSTUDY_SOURCE_ROOT/tests/fuzz/corpus/canary
if said=$("$program" --name canary --corpus "$corpus" 2>&1); then
    echo "canary: expected a failure and got none: the fuzz run is not looking; it said: $said"
    exit 1
fi
repeat=$(printf '%s\n' "$said" | sed -n 's/^repeat with: //p')
if [ -z "$repeat" ]; then
    echo "canary: died without saying how to repeat it; it said: $said"
    exit 1
fi
if again=$(sh -c "exec $repeat" 2>&1); then
    echo "canary: '$repeat' did not fail again; it said: $again"
    exit 1
fi
printf '%s\n' "$again" | grep -q 'the canary met a capital C' && exit 0
echo "canary: repeating failed otherwise: $again"
exit 1
