#!/bin/sh
# The Debian package from sim/dist, installed into an empty root beside the system's: its files are
# whole and in their places, its program runs, and after purging none of it is left. lintian, where
# it is installed, finds no error.
set -eu
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
said=$work/said
fail() {
    echo "$1"
    tail -n 30 "$said"
    exit 1
}
"$UNDERSTUDY_SOURCE_ROOT/sim/dist" --build "$UNDERSTUDY_BUILD_ROOT" --into "$work/dist" deb \
    >"$said" 2>&1 || fail "sim/dist failed"
package=$(echo "$work"/dist/understudy_*.deb)

root=$work/root
mkdir -p "$root/var/lib/dpkg/updates" "$root/var/lib/dpkg/info" "$root/var/log"
touch "$root/var/lib/dpkg/status" "$root/var/lib/dpkg/available"
into_root() { # what the package needs is in the system, not in this root
    dpkg --root="$root" --force-not-root --force-depends --log=/dev/null "$@" >"$said" 2>&1
}
into_root --install "$package" || fail "the package does not install"
into_root --verify understudy || fail "dpkg --verify failed"
[ ! -s "$said" ] || fail "dpkg --verify finds changed files"
for file in bin/understudy bin/understudy-window bin/tram-game \
    lib/understudy/libunderstudy-port.so \
    share/man/man1/understudy.1.gz share/bash-completion/completions/understudy \
    share/zsh/vendor-completions/_understudy share/understudy/readers/panel_reader.py \
    share/understudy/scenarios/tram/tram.panel.toml share/doc/understudy/copyright \
    share/doc/understudy/changelog.gz share/doc/understudy/licences/libserialport-dev \
    share/doc/understudy/licences/libimgui-dev share/doc/understudy/licences/libstb-dev \
    share/doc/understudy/licences/fonts-dejavu-core share/doc/understudy/window.md \
    lib/cmake/understudy/understudy-config.cmake; do
    [ -s "$root/usr/$file" ] || fail "the package lacks usr/$file"
done
# SIL Open Font License 1.1, condition 2: each copy contains the copyright notice and the licence.
for font in cabin courier-prime; do
    licence=$root/usr/share/doc/understudy/licences/fonts-$font
    grep -q 'Copyright: *20' "$licence" || fail "nobody is named for the typeface $font"
    grep -q 'PERMISSION & CONDITIONS' "$licence" || fail "the typeface $font has no licence"
done
"$root/usr/bin/understudy" emit "$root/usr/share/understudy/scenarios/tram/tram.panel.toml" \
    --for 3s >"$work/lines" 2>"$said" || fail "the installed program does not run"
grep -qE '^[0-9]+(,[01]){4}$' "$work/lines" || fail "it emits no line of the tram desk"
dpkg-deb -f "$package" Depends | grep -qE '^libc6 \(>= 2\.[0-9]+\)$' ||
    fail "the package needs more than the C library: $(dpkg-deb -f "$package" Depends)"
dpkg-deb -f "$package" Recommends | grep -q libsdl2 ||
    fail "the package does not recommend what its windows need"

into_root --purge understudy || fail "the package does not purge"
left=$(find "$root" -mindepth 1 ! -path "$root/var*")
[ -z "$left" ] || fail "after purging is left: $left"

if command -v lintian >/dev/null; then
    lintian --fail-on error --suppress-tags-from-file /dev/null "$package" >"$said" 2>&1 ||
        fail "lintian finds errors"
fi
