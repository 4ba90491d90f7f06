#!/bin/sh
# By hand, as root, with a Debian mirror: what sim/dist made, on bare systems without anything else.
# Costs a minute and 70 MB for each system, so it is not part of tests/run.
#
#   tests/dist/bare_system.sh DIST_FOLDER [FOLDER_FOR_SYSTEMS]
#
# On Debian 13, the tar: emit, serve with a line read over TCP and from the pseudo-terminal, the
# port library in a game, the demo game without SDL. On Debian 12, the package: install, run, purge,
# and what is left.
# shellcheck disable=SC2016 # the shell in the bare system expands what is quoted
set -eu
dist=$(cd "$1" && pwd)
systems=${2:-$(mktemp -d)}
mirror=${MIRROR:-http://deb.debian.org/debian}

say() { printf '%s\n' "$*"; }
bare() { # SUITE: makes the system if it is not there
    [ -x "$systems/$1/bin/sh" ] ||
        debootstrap --variant=minbase "$1" "$systems/$1" "$mirror" >"$systems/$1.log" 2>&1
    mkdir -p "$systems/$1/dev/pts"
    mountpoint -q "$systems/$1/proc" || mount -t proc proc "$systems/$1/proc"
    mountpoint -q "$systems/$1/dev/pts" ||
        mount -t devpts -o newinstance,ptmxmode=0666 devpts "$systems/$1/dev/pts"
    rm -f "$systems/$1/dev/ptmx"
    ln -s pts/ptmx "$systems/$1/dev/ptmx"
}
leave() { umount "$systems/$1/dev/pts" "$systems/$1/proc"; }
in_system() { # SUITE, then a script
    env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/ chroot "$systems/$1" sh -eu -c "$2"
}

bare trixie
rm -rf "$systems/trixie/opt/try"
mkdir -p "$systems/trixie/opt/try"
cp "$dist"/understudy-*-linux-*.tar.gz "$systems/trixie/opt/try/"
say "== trixie: the tar"
in_system trixie '
    . /etc/os-release; echo "$PRETTY_NAME"
    cd /opt/try; tar xzf understudy-*.tar.gz; cd understudy-*/
    panel=share/understudy/scenarios/tram/tram.panel.toml
    bin/understudy --version
    bin/understudy emit "$panel" --for 2s --seed 4 2>&1 | tail -n 2
    bin/understudy serve "$panel" --for 6s --tcp 27500 >ready 2>told &
    server=$!
    until grep -q ^ready ready; do :; done
    cat ready
    pty=$(sed "s/.* pty=\([^ ]*\).*/\1/" ready)
    bash -c "exec 3<>/dev/tcp/127.0.0.1/27500; IFS= read -r line <&3; IFS= read -r line <&3
        echo \"over TCP: \$line\""
    wait $server
    bin/understudy serve "$panel" --for 6s --no-tcp >ready 2>told &
    server=$!
    until grep -q ^ready ready; do :; done
    pty=$(sed "s/.* pty=\([^ ]*\).*/\1/" ready)
    bash -c "exec 3<>$pty; IFS= read -r line <&3; IFS= read -r line <&3
        echo \"from the pseudo-terminal: \$line\""
    wait $server
    bin/understudy serve "$panel" -- sh -c "echo \$LD_PRELOAD" 2>&1 | grep -a "game: "
    ./play || echo "play gave status $?"'
leave trixie

bare bookworm
say "== bookworm: the package"
cp "$dist"/understudy_*_amd64.deb "$systems/bookworm/srv/understudy.deb"
in_system bookworm '
    . /etc/os-release; echo "$PRETTY_NAME"
    find / -xdev \( -path /proc -o -path /var/lib/dpkg -o -path /var/cache -o -path /var/log \) \
        -prune -o -print | sort >/srv/before
    dpkg -i /srv/understudy.deb >/srv/said
    understudy --version
    understudy emit /usr/share/understudy/scenarios/tram/tram.panel.toml --for 2s --seed 4 2>&1 |
        tail -n 2
    dpkg --verify understudy
    dpkg --purge understudy >>/srv/said
    find / -xdev \( -path /proc -o -path /var/lib/dpkg -o -path /var/cache -o -path /var/log \) \
        -prune -o -print | sort >/srv/after
    touch /srv/said /srv/after
    diff /srv/before /srv/after | grep -v " /srv/" | grep "^[<>]" || echo "nothing is left"
    dpkg -s understudy 2>&1 | head -n 1'
leave bookworm
