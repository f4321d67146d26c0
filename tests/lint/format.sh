#!/bin/sh
# Every C file is laid out as .clang-format says. With --mend the files are rewritten.
cd "$(dirname -- "$0")/../.." || exit 1
if [ "${1:-}" = --mend ]; then
  git ls-files -z '*.c' '*.h' | xargs -0 clang-format -i; exit
fi
git ls-files -z '*.c' '*.h' | xargs -0 clang-format --dry-run -Werror
