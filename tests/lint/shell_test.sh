#!/bin/sh
# Every shell script of the project passes shellcheck. Fails where shellcheck is not installed.
set -eu
cd "$UNDERSTUDY_SOURCE_ROOT"
# shellcheck disable=SC2046 # our own file names hold no blanks
shellcheck -x sim/start sim/dist tests/run .ci/run sim/cmake/setup.sh \
    $(find sim tests scenarios protocol -name '*.sh' ! -path sim/cmake/setup.sh)
