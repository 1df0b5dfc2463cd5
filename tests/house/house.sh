#!/bin/sh
# What holds for the whole tree: layers point one way, files stay readable, nothing half-done.
cd "$1" || exit 1
n=0

# check NAME OFFENDERS: fails, and shows them, if there are any.
check () {
  n=$((n + 1))
  if [ -z "$2" ]; then
    echo "ok $n - $1"
  else
    echo "not ok $n - $1"
    echo "$2" | sed 's/^/# /'
  fi
}

# strangers FOLDER LAYERS LIBRARIES: lines of the folder that include neither its own, nor those layers, nor those headers.
strangers () {
  grep -rnE '^ *# *include' "src/$1" --include='*.c' --include='*.h' |
    grep -vE "\"($1${2:+|$2})/|<($3)>"
}

c='(math|stdlib|string|stdbool|stddef|stdarg|stdint|float|limits|errno|assert)\.h'
g='glib(/.*|-object)?(\.h)?|gio/gio\.h|cjson/cJSON\.h'
posix='(stdio|locale|signal|unistd|fcntl|sys/[a-z]+)\.h'
check "the core includes nothing but itself and the C library" "$(strangers core '' "$c")"
check "the strength layer knows the core and linear algebra only" "$(strangers strength core "$c|(lapacke|complex)\.h")"
check "the swing layer knows the core and the integrator only" \
  "$(strangers swing core "$c|(cvode|nvector|sunmatrix|sunlinsol|sunnonlinsol|sundials)/.*")"
check "the document layer knows the core, GLib and cJSON only" "$(strangers doc core "$c|$g|$posix")"
check "the aim layer knows what works it out and the document, and no drawing" \
  "$(strangers aim 'core|strength|swing|doc' "$c|$g|nlopt\.h|cminpack(-1/cminpack)?\.h")"
check "the drawing layer knows the core, the document and cairo only" "$(strangers draw 'core|doc' "$c|$g|(cairo[a-z-]*|pango/.*)\.h")"
check "the workshop layer knows no wishes, window or command line" \
  "$(strangers shop 'core|strength|swing|doc|draw' "$c|$g|$posix|(cairo[a-z-]*|pango/.*|zip|cgif|gdk-pixbuf/gdk-pixbuf)\.h")"
check "the command line knows no window" "$(strangers cli 'core|strength|swing|doc|aim|draw|shop' "$c|$g|$posix")"
check "the core prints, reads and remembers nothing" \
  "$(grep -rnE '\b(printf|fprintf|snprintf|fopen|getenv|setlocale|time) *\(' src/core --include='*.c')"
check "no file is longer than 600 lines" \
  "$(find src tests -name '*.[ch]' -o -name '*.py' -o -name '*.sh' | xargs wc -l | awk '$2 != "total" && $1 > 600')"
check "every header is guarded" "$(grep -rL '#pragma once' src tests --include='*.h')"
check "every public function below the command line is explained, every number has its unit" \
  "$(python3 -B tests/house/declarations.py src/core/*.h src/strength/*.h src/swing/*.h src/doc/*.h src/aim/*.h src/draw/*.h src/shop/*.h)"
check "every function that a header declares has a caller outside its own file" "$(python3 -B tests/house/uncalled.py)"
check "what the analysers are told to pass over has its reason beside it" \
  "$(grep -rnE 'NOLINT|cppcheck-suppress' src --include='*.[ch]' |
    grep -vE 'NOLINT(NEXTLINE)?\([a-zA-Z0-9.,*-]+\): [^ ]|cppcheck-suppress [a-zA-Z]+ ; [^ ]')"
check "nothing is marked as unfinished" \
  "$(grep -rnE '\b(TODO|FIXME|XXX|HACK)\b' src data docs README.md DEVELOPERS.md 2>/dev/null | grep -v '\.png')"
check "only what belongs there stands at the top" \
  "$(git ls-files 2>/dev/null | cut -d/ -f1 | sort -u |
    grep -vxE 'README\.md|DEVELOPERS\.md|LICENSE|meson\.build|src|data|tests|po|docs|\..*')"
check "every translated file is listed for translators" \
  "$(grep -rlE '\b(N?C?_|ngettext) *\(|translatable="yes"' src --include='*.c' --include='*.ui' |
    while read -r file; do grep -qxF "$file" po/POTFILES.in || echo "$file"; done)"
check "every file listed for translators is there" \
  "$(grep -vE '^(#|$)' po/POTFILES.in | while read -r file; do [ -f "$file" ] || echo "$file"; done)"
echo "1..$n"
