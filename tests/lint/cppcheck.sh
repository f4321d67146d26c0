#!/bin/sh
# cppcheck finds nothing in src/. Left out, because it follows neither arrays filled through a pointer (uninitvar) nor
# memory handed to a callback (memleak); valgrind and the sanitizers do both. NULL is a pointer here (varFuncNullUB),
# and log (0) is -INFINITY as meant (invalidFunctionArg).
set -u
cd "$(dirname -- "$0")/../.." || exit 1
cppcheck --quiet -j 2 --std=c11 --language=c --enable=warning,performance,portability --inline-suppr --library=gtk \
  --suppress=missingInclude --suppress=missingIncludeSystem --suppress=unknownMacro --suppress=uninitvar \
  --suppress=memleak --suppress=varFuncNullUB --suppress=invalidFunctionArg --error-exitcode=1 \
  -D_GNU_SOURCE '-DGETTEXT_PACKAGE=""' '-D_(x)=x' '-DN_(x)=x' -I src $(git ls-files 'src/*.c')
