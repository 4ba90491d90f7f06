#!/bin/sh
# Packs an installed tree into understudy-VERSION-linux-ARCHITECTURE.tar.gz. Called by sim/dist:
#   tar.sh BUILD_FOLDER VERSION WORK_FOLDER OUT_FOLDER
set -eu
here=$(cd "$(dirname "$0")" && pwd)
build=$1
name=understudy-$2
stage=$3/tar
out=$4/$name-linux-$(uname -m).tar.gz

cmake --install "$build" --prefix "$stage/$name" --strip >"$3/tar.log" || {
    tail -n 20 "$3/tar.log" >&2
    exit 1
}
cp "$here/README.md" "$stage/$name/README.md"
cp "$here/play.sh" "$stage/$name/play"
chmod -R u=rwX,go=rX "$stage"
chmod 755 "$stage/$name/play"
sh "$here/needs.sh" "$stage/$name/bin/understudy" "$stage/$name/bin/understudy-window" \
    "$stage/$name/bin/tram-game" "$stage/$name"/lib/understudy/*.so

tar --sort=name --owner=0 --group=0 --numeric-owner --mtime="@$SOURCE_DATE_EPOCH" \
    -C "$stage" -cf - "$name" | gzip -9n >"$out.new"
mv "$out.new" "$out"
printf '%s\n' "$out"
