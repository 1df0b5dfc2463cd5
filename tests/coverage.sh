#!/bin/sh
# Coverage of the core and of the document layer by their own tests and by those of drawing and of the command line.
# Run it by hand:
#     tests/coverage.sh build-cover
# Prints lines and branches of each file, and fails where either is below 95 % over all. FW_COVERAGE_DETAILS=FOLDER
# writes a page for each file there. Left out of the branches are lines with a branch that must never be taken or that
# is not ours: `assert (...)`, cJSON_ArrayForEach (), which asks by itself whether its list is there, and likewise
# g_clear_pointer (), g_once_init_enter () and g_return_if_fail (); and what the compiler adds for exceptions. Only what was
# compiled for core and doc counts: drawing is optimised even here, and there the inline functions of core/vec.h and
# core/solve.h get the branches of what they are woven into. What no test reaches, and why: docs/proof.md, section 5.
set -eu
[ $# = 1 ] || { echo "usage: tests/coverage.sh BUILD" >&2; exit 2; }
cd "$(dirname "$0")/.."
build=$1
suites="app aim shop strength swing house fuzz outside" # what is not run
failed=0
[ -f "$build/build.ninja" ] || meson setup "$build" -Db_coverage=true --buildtype=debug -Dc_args=-fprofile-update=atomic >/dev/null
ninja -C "$build" build.ninja >/dev/null && ninja -C "$build" $(python3 tests/targets.py "$build" $suites) >/dev/null
find "$build" -name '*.gcda' -delete
meson test -C "$build" --no-rebuild --print-errorlogs $(printf -- '--no-suite %s ' $suites) >"$build/coverage.log" 2>&1 ||
  { grep -E 'FAIL|TIMEOUT|ERROR' "$build/coverage.log"; failed=1; }

gcovr -r . --object-directory "$build" --filter src/core --filter src/doc --exclude-unreachable-branches --exclude-throw-branches \
  --exclude-branches-by-pattern '^ *((assert|g_assert|g_return_if_fail|cJSON_ArrayForEach|g_clear_pointer) \(|if \(g_once_init_enter)' --json "$build/coverage.json" "$build/src/core" "$build/src/doc"
[ -z "${FW_COVERAGE_DETAILS:-}" ] ||
  gcovr -r . -a "$build/coverage.json" --html-details "$FW_COVERAGE_DETAILS/index.html"
gcovr -r . -a "$build/coverage.json"
gcovr -r . -a "$build/coverage.json" --branches --fail-under-line 95 --fail-under-branch 95 || failed=1
exit $failed
