#!/bin/sh
# Prints what the core costs as one table: instructions by callgrind (the difference of two runs, so
# that start and end do not count), and the time against GSL in the same run.
#
#   tests/core/bench.sh [PATH/TO/bench_core]      (build it with -O2: meson setup build --buildtype=release)
set -eu
bench=${1:-build/tests/core/bench_core}
[ -x "$bench" ] || { echo "bench.sh: no $bench; build it first (meson setup build --buildtype=release && ninja -C build)" >&2; exit 2; }
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT

count ()
{
  valgrind --tool=callgrind --callgrind-out-file="$dir/out" "$bench" count "$1" "$2" 2> "$dir/log" || { cat "$dir/log" >&2; exit 1; }
  sed -n 's/.*Collected : \([0-9]*\).*/\1/p' "$dir/log"
}

printf '%-26s %14s\n' 'case' 'instructions'
for name in $("$bench" cases); do
  case $name in turn*) n=4 ;; *) n=2000 ;; esac
  once=$(count "$name" "$n")
  twice=$(count "$name" $((2 * n)))
  each=$(( (twice - once) / n ))
  printf '%-26s %14d\n' "$name" "$each"
  echo "$name $each" >> "$dir/table"
done

ratio ()
{
  awk -v a="$1" -v b="$2" -v t="$3" '$1 == a { x = $2 } $1 == b { y = $2 } END { printf "%-58s %6.2f\n", t, y / x }' "$dir/table"
}

echo
ratio pose-4 pose-8 'pose: 8 panels against 4'
ratio pose-8 pose-16 'pose: 16 panels against 8'
ratio pose-rates-4 pose-rates-8 'pose with rates: 8 panels against 4'
ratio pose-rates-8 pose-rates-16 'pose with rates: 16 panels against 8'
ratio turn-heron turn-720-heron 'turn: 720 poses against 360'
ratio turn-trouble-heron turn-trouble-720-heron 'turn and trouble list: 720 poses against 360'
ratio turn-trouble-4 turn-trouble-8 'turn and trouble list: 8 panels against 4'
echo
"$bench" ratio
