#!/bin/sh
# Every source with words for people stands in po/POTFILES.in, and every file named there exists.
set -eu
cd "$(dirname "$0")/../.."

status=0
for file in $(grep -lE '\<(N|C)?_ ?\("|ngettext ?\(|translatable="(yes|true)"' src/*/*.c src/*/*.ui data/*.in data/*/*.ui 2> /dev/null); do
  grep -qx "$file" po/POTFILES.in || { echo "po/POTFILES.in: $file was expected in the list"; status=1; }
done
while read -r file; do
  case $file in '' | '#'*) continue ;; esac
  [ -f "$file" ] || { echo "po/POTFILES.in: $file is listed, but is not there"; status=1; }
done < po/POTFILES.in
exit $status
