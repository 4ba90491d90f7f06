#!/bin/sh
# Packs an installed tree into understudy_VERSION_ARCHITECTURE.deb. Called by sim/dist:
#   deb.sh BUILD_FOLDER VERSION WORK_FOLDER OUT_FOLDER
# The rules are those of the Debian Policy Manual, chapters 5 (control), 9 (places), 10 (files)
# and 12 (documents).
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../../.." && pwd)
build=$1
version=$2
stage=$3/deb
for tool in dpkg-deb dpkg-shlibdeps; do
    command -v "$tool" >/dev/null && continue
    echo "no .deb: $tool is missing; on Debian: apt-get install dpkg-dev" >&2
    exit 1
done
architecture=$(dpkg --print-architecture)
out=$4/understudy_${version}_$architecture.deb

DESTDIR=$stage cmake --install "$build" --prefix /usr --strip >"$3/deb.log" || {
    tail -n 20 "$3/deb.log" >&2
    exit 1
}
documents=$stage/usr/share/doc/understudy
mv "$documents/CHANGELOG.md" "$3/upstream"
gzip -9n <"$3/upstream" >"$documents/CHANGELOG.md.gz"
gzip -9n "$stage/usr/share/man/man1/understudy.1"
day=$(date -u -R -d "@$SOURCE_DATE_EPOCH")
sed -e "s/@VERSION@/$version/" -e "s/@DAY@/$day/" "$here/debian_changelog" |
    gzip -9n >"$documents/changelog.gz"
# The machine-readable format of the policy's section 12.5: a line's indent, and a dot where empty.
{
    cat "$here/debian_copyright"
    sed -n 's/^> \{0,1\}//p' "$root/docs/licence.md" | sed -n '/^Permission is hereby/,$p' |
        sed -e 's/^$/./' -e 's/^/ /'
    printf '\nLicense: 0BSD\n'
    sed -n 's/^> \{0,1\}//p' "$root/docs/licence.md" |
        sed -n '/^Permission to use/,/^OF THIS SOFTWARE/p' | sed -e 's/^$/./' -e 's/^/ /'
} >"$documents/copyright"

# dpkg-shlibdeps wants to stand beside a debian/control.
mkdir -p "$3/shlibs/debian"
printf 'Source: understudy\n\nPackage: understudy\nArchitecture: any\n' >"$3/shlibs/debian/control"
work=$3
packages_for() { # what the files $* need
    (cd "$work/shlibs" && dpkg-shlibdeps -O "$@" 2>>log) | sed 's/^shlibs:Depends=//'
}
depends=$(packages_for "$stage/usr/bin/understudy" "$stage"/usr/lib/understudy/*.so)
recommends=$(packages_for "$stage/usr/bin/understudy-window" "$stage/usr/bin/tram-game")
if [ -z "$depends" ] || [ -z "$recommends" ]; then
    cat "$work/shlibs/log" >&2
    exit 1
fi

chmod -R u=rwX,go=rX "$stage"
mkdir -m 755 "$stage/DEBIAN"
size=$(du -k --apparent-size -s "$stage/usr" | cut -f 1)
sed -e "s/@VERSION@/$version/" -e "s/@ARCHITECTURE@/$architecture/" -e "s/@SIZE@/$size/" \
    -e "s/@DEPENDS@/$depends/" -e "s/@RECOMMENDS@/$recommends/" "$here/debian_control" \
    >"$stage/DEBIAN/control"
(cd "$stage" && find usr -type f | LC_ALL=C sort | xargs md5sum >DEBIAN/md5sums)
dpkg-deb --root-owner-group -Zxz --build "$stage" "$out.new" >/dev/null
mv "$out.new" "$out"
printf '%s\n' "$out"
