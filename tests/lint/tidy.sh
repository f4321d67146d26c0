#!/bin/sh
# clang-tidy finds nothing in src/. usage: tidy.sh BUILD-FOLDER [FILE…]
set -u
cd "$(dirname -- "$0")/../.." || exit 1
build=${1:-.build}
[ $# -gt 0 ] && shift
[ $# -gt 0 ] || set -- $(git ls-files 'src/*.c')
printf '%s\n' "$@" | xargs -P 2 -n 6 clang-tidy --quiet -p "$build" 2>/dev/null
