# shellcheck shell=sh
# What sim/start and tests/run have in common: missing Debian packages, configuring, building.
# Sourced with `root` set to the top of the sources; leaves the rest to them.
# shellcheck disable=SC2154 # root comes from the script that sources this

say() { printf '%s\n' "$*" >&2; }

# The packages of packages.txt for the purposes $* that are not installed.
missing_packages() {
    for purpose in "$@"; do
        sed -n "s/^$purpose //p" "$root/sim/cmake/packages.txt"
    done | sort -u | {
        wanted=$(cat)
        # shellcheck disable=SC2086 # one word a package
        present=$(dpkg-query -W -f '${db:Status-Status} ${Package}\n' $wanted 2>/dev/null |
            sed -n 's/^installed //p')
        for package in $wanted; do
            printf '%s\n' "$present" | grep -qxF "$package" || printf '%s ' "$package"
        done
    }
}

# Installs what is missing for the purposes $*, after saying so. What is there is not touched, and
# with nothing missing neither apt nor sudo is called.
install_packages() {
    if ! command -v dpkg-query >/dev/null; then
        say "no Debian system: if the build stops, it lacks what sim/cmake/packages.txt names"
        return 0
    fi
    packages=$(missing_packages "$@")
    [ -n "$packages" ] || return 0
    as_root=
    if [ "$(id -u)" -ne 0 ]; then
        as_root=sudo
        if ! command -v sudo >/dev/null; then
            say "these Debian packages are missing, and there is no sudo here to install them with;"
            say "as root, run:  apt-get install --no-install-recommends $packages"
            exit 2
        fi
    fi
    say "these Debian packages are missing: $packages"
    say "installing them with: ${as_root:+$as_root }apt-get install --no-install-recommends"
    # shellcheck disable=SC2086 # as_root may be nothing; packages are many words
    if ! { $as_root apt-get -q update &&
        $as_root env DEBIAN_FRONTEND=noninteractive \
            apt-get -q -y install --no-install-recommends $packages; } >&2 </dev/null; then
        say "installing failed; mend what apt-get says above, then run this again"
        exit 2
    fi
}

# The number of compilers or tests to run side by side.
jobs_at_once() { getconf _NPROCESSORS_ONLN 2>/dev/null || echo 2; }

# Configures the preset $1 (again, which takes a second or two and sees new files); silent unless
# something is wrong.
configure() {
    output=$(cmake -P "$root/sim/cmake/write_presets.cmake" && cd "$root" &&
        cmake --preset "$1" --log-level=WARNING 2>&1) && return 0
    say "$output"
    return 1
}

# Builds the target $2 in the folder $1. Ninja keeps to one line on a terminal; elsewhere it only
# speaks when something is wrong.
build() {
    case $(ninja -C "$root/$1" -n "$2" 2>/dev/null) in
    *'no work to do'*) return 0 ;;
    esac
    if [ -t 1 ]; then
        cmake --build "$root/$1" --target "$2" -j "$(jobs_at_once)"
    else
        cmake --build "$root/$1" --target "$2" -j "$(jobs_at_once)" -- --quiet
    fi
}
