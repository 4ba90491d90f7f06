#!/bin/sh
# Makes the Windows zip where its script and its compiler are there; else says what is missing.
#   zip.sh OUT_FOLDER
set -u
script=$(cd "$(dirname "$0")/.." && pwd)/windows_zip.sh
if [ ! -f "$script" ]; then
    echo "no Windows zip: these sources lack sim/cmake/windows_zip.sh" >&2
    exit 1
fi
for tool in x86_64-w64-mingw32-g++ zip; do
    command -v "$tool" >/dev/null && continue
    echo "no Windows zip: $tool is missing; on Debian: apt-get install g++-mingw-w64-x86-64 zip" >&2
    exit 1
done
exec sh "$script" "$1"
