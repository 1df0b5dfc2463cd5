#!/bin/sh
# Static analysis of src, run by hand for it takes minutes: what cppcheck and clang-tidy find.
#     tests/static.sh build          # all of src
#     tests/static.sh build core doc # these folders only
# Prints each finding with its place, and fails if there is any. What is false is hushed on its own line with the reason,
# `// NOLINT(check): why` or `// cppcheck-suppress id ; why`. What is not asked at all, and why, is in .clang-tidy and
# below. Needs cppcheck and clang-tidy-14 (or CLANG_TIDY=another).
set -u
[ $# -ge 1 ] || { echo "usage: tests/static.sh BUILD [FOLDER OF src...]" >&2; exit 2; }
[ -f "$1/compile_commands.json" ] || { echo "tests/static.sh: $1: a folder set up by meson was expected" >&2; exit 2; }
build=$(cd "$1" && pwd)
shift
cd "$(dirname "$0")/.." || exit 2
[ $# -gt 0 ] || set -- core strength swing doc aim draw shop cli app
tidy=${CLANG_TIDY:-clang-tidy-14}
for tool in cppcheck "$tidy"; do
  command -v "$tool" >/dev/null || { echo "tests/static.sh: $tool is missing" >&2; exit 2; }
done
folders=
for folder in "$@"; do
  [ -d "src/$folder" ] || { echo "tests/static.sh: src/$folder: a folder was expected" >&2; exit 2; }
  folders="$folders src/$folder"
done

room=$(mktemp -d) || exit 2
trap 'rm -r "$room"' EXIT
trap 'exit 2' HUP INT TERM
# clang-tidy takes ccache for the compiler.
sed 's/"command": "[^" ]*ccache /"command": "/' "$build/compile_commands.json" >"$room/compile_commands.json"

for folder in "$@"; do
  case $folder in
    core | strength | swing) checks= ;;
    *) checks=-clang-analyzer-unix.Malloc ;; # does not know g_autofree
  esac
  for file in "src/$folder"/*.c; do
    # Its own errors too: a file that was not read is not clean.
    "$tidy" -p "$room" --quiet --checks="$checks" "$PWD/$file" >"$room/out" 2>"$room/err" ||
      echo "$file: error: clang-tidy could not read it" >>"$room/out"
    grep -E '(warning|error):' "$room/out" | sed 's|^.*\.\./src/|src/|; s|^'"$PWD"'/||' | sort -u | tee -a "$room/found"
  done
done

# gtk.cfg knows who owns what in GLib; what else cppcheck must know of macros is told here. The whole at once: it looks
# from one file into another.
cat >"$room/macros.h" <<'END'
#define cJSON_ArrayForEach(item, array) for (item = (array) ? (array)->child : 0; item; item = item->next)
#define G_DEFINE_QUARK(words, name)
#define GETTEXT_PACKAGE "flapwright"
#define FW_VERSION "0"
#define FW_LOCALEDIR "locale"
#define FW_DATADIR "data"
END
cppcheck -q --language=c --std=c11 --enable=warning,performance,portability --inline-suppr \
  --library=posix,gnu,gtk,cairo -Isrc --include="$room/macros.h" \
  --template='{file}:{line}: {message} [{id}]' $folders 2>"$room/out" || echo "cppcheck ends with an error" >>"$room/out"
sort -u "$room/out" | tee -a "$room/found"

count=$(sort -u "$room/found" | wc -l)
echo "$count findings in $*"
[ "$count" -eq 0 ]
