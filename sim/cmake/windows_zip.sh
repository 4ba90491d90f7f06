#!/bin/sh
# Builds the program for 64-bit Windows and packs it with all that belongs to it:
#
#   sim/cmake/windows_zip.sh OUT_FOLDER [BUILD_FOLDER]
#
# leaves understudy-VERSION-windows-x86_64.zip in OUT_FOLDER. BUILD_FOLDER (build-windows at the top
# unless said) is configured for a release where it is not configured yet. Needs the packages
# g++-mingw-w64-x86-64-posix and zip. What the program leaves out is written in
# docs/decisions/0007-what-the-windows-program-leaves-out.md.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
if [ $# -lt 1 ]; then
    echo "usage: sim/cmake/windows_zip.sh OUT_FOLDER [BUILD_FOLDER]" >&2
    exit 2
fi
mkdir -p "$1"
out=$(cd "$1" && pwd)
build=${2:-$root/build-windows}
for tool in x86_64-w64-mingw32-g++-posix zip; do
    if ! command -v "$tool" >/dev/null; then
        echo "windows_zip.sh: $tool is missing; its package stands in sim/cmake/packages.txt" >&2
        exit 2
    fi
done

version=$(sed -n 's/^project(understudy VERSION \([0-9.]*\).*/\1/p' "$root/CMakeLists.txt")
name=understudy-$version-windows-x86_64
if [ ! -f "$build/CMakeCache.txt" ]; then
    cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release --log-level=WARNING \
        -DCMAKE_TOOLCHAIN_FILE="$root/sim/cmake/windows/toolchain.cmake"
fi
cmake --build "$build" --target understudy -- --quiet

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
top=$work/$name
mkdir -p "$top/panels" "$top/readers" "$top/docs" "$top/licences"
cp "$build/understudy.exe" "$top/"
x86_64-w64-mingw32-strip "$top/understudy.exe"
cp "$root"/scenarios/*/*.panel.toml "$root"/scenarios/*/*.csv "$top/panels/"
for reader in "$root"/protocol/readers/*; do
    case $(basename "$reader") in
    CMakeLists.txt | .*) ;;
    *) [ -f "$reader" ] && cp "$reader" "$top/readers/" ;;
    esac
done
cp "$root"/docs/*.md "$top/docs/"
# For the plainest of editors, lines of these two end as Windows ends them.
sed "s/@VERSION@/$version/; s/\$/\r/" "$root/sim/cmake/windows/README.txt" >"$top/README.txt"
sed 's/$/\r/' "$root/docs/licence.md" >"$top/LICENCE.txt"
# What is inside the program besides our own sources, by the Debian packages that it comes from.
for package in libfmt-dev libtomlplusplus-dev nlohmann-json3-dev libcli11-dev libasio-dev \
    g++-mingw-w64-x86-64-posix mingw-w64-common; do
    cp "/usr/share/doc/$package/copyright" "$top/licences/$package.txt"
done

# The same files give the same zip.
find "$top" -exec touch -d "@${SOURCE_DATE_EPOCH:-$(date +%s)}" {} +
rm -f "$out/$name.zip"
(cd "$work" && find "$name" -type f | LC_ALL=C sort | TZ=UTC zip -q -X "$out/$name.zip" -@)
echo "$out/$name.zip"
