#!/bin/sh
# With what every shell has: stty sets the port, cat reads a panel's lines into OUT, and printf
# writes LINES to it, the first once something has come.
#   kinds_client.sh ADDRESS OUT [LINES...]
set -eu
address=$1 out=$2
shift 2
stty -F "$address" 115200 raw -echo
exec 3<>"$address"
cat <&3 >"$out" &
for line; do
  until [ -s "$out" ]; do sleep 0.1; done
  printf '%s\n' "$line" >&3
  sleep 0.2
done
wait
