#!/bin/sh
# Refuses programs that would not run on Debian 12 and Ubuntu 22.04 without installing anything:
# that need a newer C library than the older of the two has, or another shared library than the C
# library's own (and SDL 2 for the window and the demo game).
#   needs.sh PROGRAM...
set -u
oldest_there=2.35  # of Ubuntu 22.04; Debian 12 has 2.36
status=0
for program in "$@"; do
    symbols=$(objdump -p "$program") || exit 2
    for library in $(printf '%s\n' "$symbols" | sed -n 's/^ *NEEDED *//p'); do
        case $library in
        libc.so.6 | libm.so.6 | libdl.so.2 | libpthread.so.0 | ld-linux-x86-64.so.2) ;;
        libSDL2-2.0.so.0)
            case $(basename "$program") in
            tram-game | understudy-window) ;;
            *) status=1 ;;
            esac
            ;;
        *) status=1 ;;
        esac
        [ "$status" -eq 0 ] || {
            printf '%s needs %s, which is not everywhere; link its archive\n' \
                "$program" "$library" >&2
            exit 1
        }
    done
    newest=$(printf '%s\n' "$symbols" | sed -n 's/.*GLIBC_\([0-9][0-9.]*\)$/\1/p' | sort -V |
        tail -n 1)
    if [ "$(printf '%s\n%s\n' "$newest" "$oldest_there" | sort -V | tail -n 1)" != \
        "$oldest_there" ]; then
        printf '%s needs the C library %s, newer than %s; build on Debian 12\n' \
            "$program" "$newest" "$oldest_there" >&2
        exit 1
    fi
done
