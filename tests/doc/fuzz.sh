#!/bin/sh
# Feeds the loader with damaged designs for a bounded time; any crash, leak or hang fails.
# Usage: tests/doc/fuzz.sh [SECONDS], from anywhere. Needs clang-14 with its sanitizer runtime.
set -eu

seconds=${1:-20}
root=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

mkdir "$work/corpus" "$work/found"
cp "$root"/tests/doc/valid/*.flap "$root"/tests/doc/invalid/*.flap "$work/corpus"

# Words of the format, so that it is not left to luck to find them.
grep -oh '"[a-z_]*"' "$root"/tests/doc/valid/*.flap | sort -u | sed 's/"\(.*\)"/"\\"\1\\""/' > "$work/words"

# shellcheck disable=SC2046
clang-14 -g -O1 -fsanitize=fuzzer,address,undefined -fno-sanitize-recover=undefined \
  -DGETTEXT_PACKAGE='"flapwright"' -I"$root/src" \
  $(pkg-config --cflags glib-2.0 gio-2.0 libcjson) \
  "$root"/tests/doc/fuzz_load.c "$root"/src/core/*.c "$root"/src/doc/*.c \
  $(pkg-config --libs glib-2.0 gio-2.0 libcjson) -lm -o "$work/fuzz_load"

G_SLICE=always-malloc "$work/fuzz_load" -max_total_time="$seconds" -max_len=8192 -timeout=10 \
  -dict="$work/words" -artifact_prefix="$work/found/" -print_final_stats=1 "$work/corpus" \
  2> "$work/log" || {
  tail -n 60 "$work/log" >&2
  for found in "$work"/found/*; do
    [ -f "$found" ] || continue
    echo "input that fails ($found), base64:" >&2
    base64 "$found" >&2
  done
  exit 1
}
grep -E 'stat::number_of_executed_units|stat::new_units_added|cov:' "$work/log" | tail -n 3
