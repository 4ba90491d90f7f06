#!/bin/sh
# Plays the tram desk: a virtual panel behind a real port, a small tram game that reads it, and
# hands that wander over its controls. In windows where there is a display, else in this terminal.
# Arguments go to `understudy panel` or `understudy serve`. Closing its window or Ctrl-C ends it.
here=$(cd "$(dirname "$0")" && pwd) || exit 2
if ! "$here/bin/tram-game" --help >/dev/null 2>&1; then
    echo "play: the demo game needs SDL 2 (on Debian and Ubuntu the package" >&2
    echo "      libsdl2-2.0-0); all else works without it, see bin/understudy --help" >&2
    exit 2
fi
verb=panel
headless=
if [ -z "${DISPLAY-}${WAYLAND_DISPLAY-}" ]; then
    verb=serve
    headless=--headless
fi
# shellcheck disable=SC2086 # nothing or one word
exec "$here/bin/understudy" $verb "$here/share/understudy/scenarios/tram/tram.panel.toml" \
    --play wander "$@" -- "$here/bin/tram-game" --port '{port}' $headless
