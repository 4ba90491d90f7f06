#!/bin/sh
# Installing what is missing: made-up dpkg-query, apt-get, sudo and id stand in for the real ones
# and write down how they are called.
set -u
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
root=$work/tree
mkdir -p "$work/bin" "$root/sim/cmake"
cp "$UNDERSTUDY_SOURCE_ROOT/sim/cmake/setup.sh" "$root/sim/cmake/"
cat >"$root/sim/cmake/packages.txt" <<'LIST'
# A list of packages.
build here-one
build absent-one
build here-two
test absent-two
LIST
failures=0

stand_in() { # NAME, then its script on standard input
    { echo '#!/bin/sh'; cat; } >"$work/bin/$1"
    chmod +x "$work/bin/$1"
}

# Runs install_packages for the purposes $*; leaves its words, status and the calls it made.
try() {
    : >"$work/calls"
    # shellcheck disable=SC2016 # the inner shell expands these
    said=$(PATH="$work/bin:/usr/bin:/bin" CALLS="$work/calls" root="$root" \
        sh -c '. "$root/sim/cmake/setup.sh"; install_packages "$@"' sh "$@" 2>&1)
    status=$?
    calls=$(cat "$work/calls")
}

expect() { # WHAT, ACTUAL, EXPECTED
    [ "$2" = "$3" ] && return
    echo "$1: expected '$3', got '$2'"
    failures=$((failures + 1))
}

# Answers as the real one: a line for what it knows, status 1 if it doesn't know all.
stand_in dpkg-query <<'S'
for word in "$@"; do
    case $word in
    here-*) echo "installed $word" ;;
    removed-*) echo "config-files $word" ;;
    esac
done
exit 1
S
for name in apt-get sudo; do
    # shellcheck disable=SC2016
    printf 'echo "%s $*" >>"$CALLS"\n[ %s != sudo ] || exec "$@"\n' "$name" "$name" |
        stand_in "$name"
done
echo 'echo 0' | stand_in id

try build
expect "as root: status" "$status" 0
expect "as root: calls" "$calls" "apt-get -q update
apt-get -q -y install --no-install-recommends absent-one"
case $said in
"these Debian packages are missing: absent-one"*) ;;
*) expect "as root: said beforehand" "$said" "these Debian packages are missing: absent-one..." ;;
esac

try build test
expect "two purposes: calls" "$calls" "apt-get -q update
apt-get -q -y install --no-install-recommends absent-one absent-two"

echo 'echo 1000' | stand_in id
try build
expect "as a user: first call" "$(printf '%s\n' "$calls" | head -n 1)" "sudo apt-get -q update"
expect "as a user: status" "$status" 0

sed 's/here-two/removed-two/; s/absent/here/' "$root/sim/cmake/packages.txt" >"$work/list"
mv "$work/list" "$root/sim/cmake/packages.txt"
try build
expect "removed but configured counts as missing" "$(printf '%s\n' "$calls" | tail -n 1)" \
    "apt-get -q -y install --no-install-recommends removed-two"

try test
expect "nothing missing: calls" "$calls" ""
expect "nothing missing: words" "$said" ""

echo 'exit 100' | stand_in apt-get
try build
expect "apt fails: status" "$status" 2

[ "$failures" -eq 0 ]
