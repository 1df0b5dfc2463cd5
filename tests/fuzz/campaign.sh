#!/bin/sh
# Searches with libFuzzer for inputs that crash, leak, hang or break what the targets require.
# Usage: tests/fuzz/campaign.sh SECONDS [TARGET...] (load typed table edits stock cli design), from anywhere.
# Needs clang-14 with its sanitizer runtime. Builds in build-libfuzzer. What is found stays in
# build-libfuzzer/found-TARGET; new inputs that reach more are kept in build-libfuzzer/grown-TARGET, and
# KEEP=1 writes the smallest set of them that reaches as much to tests/fuzz/corpus-TARGET.
set -eu

seconds=${1:?seconds were expected}
shift
[ $# -gt 0 ] || set -- load typed table edits stock cli design
root=$(cd "$(dirname "$0")/../.." && pwd)
here=$root/tests/fuzz
build=$root/build-libfuzzer

cd "$root"
mkdir -p "$build"
[ -f "$build/build.ninja" ] ||
  CC=${FUZZ_CC:-clang-14} meson setup "$build" -Db_sanitize=address,undefined -Db_lundef=false --buildtype=debugoptimized \
    -Dc_args='-fsanitize=fuzzer-no-link -fno-sanitize-recover=undefined' >"$build/build.log" 2>&1 || { cat "$build/build.log"; exit 1; }

# Words of the format, of the wishes and of the command line, so that it is not left to luck to find them.
words () {
  grep -oh '"[a-z_]*"' tests/doc/valid/*.flap | sort -u | sed 's/"\(.*\)"/"\\"\1\\""/'
  grep -oh '{ "[a-z-]*", *[0'\'']' src/cli/*.c | sed 's/{ "\([a-z-]*\)".*/"--\1"/' | sort -u
  sed -n 's/^  { "\([a-z]*\)", fw_verb.*/"\1"/p' src/cli/main.c
  printf '"%s"\n' inner.top inner.bottom after travel push torque without=any same=inrod.length,in.radius ' in' ' mm' ' deg' 1/2 999999 1e-6
}

status=0
for target in "$@"; do
  ninja -C "$build" "tests/fuzz/fuzz-$target" >"$build/build.log" 2>&1 || { tail -n 40 "$build/build.log"; exit 1; }
  words >"$build/words"
  mkdir -p "$build/grown-$target" "$build/found-$target"
  ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=print_stacktrace=1 G_SLICE=always-malloc G_DEBUG=gc-friendly \
    LSAN_OPTIONS="suppressions=$root/tests/leaks.supp:print_suppressions=0" \
    "$build/tests/fuzz/fuzz-$target" -max_total_time="$seconds" -max_len=8192 -timeout=30 -rss_limit_mb=3000 -close_fd_mask=1 \
    -dict="$build/words" -artifact_prefix="$build/found-$target/" -print_final_stats=1 \
    "$build/grown-$target" "$here/corpus-$target" >"$build/$target.log" 2>&1 || {
    grep -aE 'ERROR|SUMMARY|runtime error|CRITICAL|WARNING|#[0-9]+ .* in (fw_|fuzz_)' "$build/$target.log" | head -n 30
    ls "$build/found-$target"
    status=1
  }
  echo "$target: $(grep -a 'stat::number_of_executed_units' "$build/$target.log" | tail -n 1), $(grep -aoE 'cov: [0-9]+' "$build/$target.log" | tail -n 1)"
  if [ -n "${KEEP:-}" ]; then
    rm -rf "$build/merged-$target"
    mkdir "$build/merged-$target"
    ASAN_OPTIONS=detect_leaks=0 "$build/tests/fuzz/fuzz-$target" -merge=1 -max_len=4096 -timeout=30 -close_fd_mask=1 "$build/merged-$target" \
      "$here/corpus-$target" "$build/grown-$target" >"$build/$target-merge.log" 2>&1
    rm -rf "$here/corpus-$target"
    cp -r "$build/merged-$target" "$here/corpus-$target"
  fi
done
exit $status
