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

# includes FOLDER PATTERN: lines in which the folder includes what it must not.
includes () {
  grep -rnE "^ *# *include *[<\"]($2)" "src/$1" --include='*.c' --include='*.h'
}

check "the core includes nothing but itself and the C library" \
  "$(grep -rnE '^ *# *include' src/core --include='*.c' --include='*.h' |
    grep -vE '"core/|<(math|stdlib|string|stdbool|stddef|float|stdint|assert)\.h>')"
check "the strength layer knows the core and linear algebra only" \
  "$(grep -rnE '^ *# *include' src/strength --include='*.c' --include='*.h' |
    grep -vE '"(core|strength)/|<(math|stdlib|string|stdbool|stddef|float|stdint|assert|lapacke|complex)\.h>')"
check "the swing layer knows the core and the integrator only" \
  "$(grep -rnE '^ *# *include' src/swing --include='*.c' --include='*.h' |
    grep -vE '"(core|swing)/|<(math|stdlib|string|stdbool|stddef|float|stdint|assert)\.h>|<(cvode|nvector|sunmatrix|sunlinsol|sunnonlinsol|sundials)/')"
check "the aim layer knows no drawing, window or command line" "$(includes aim 'draw/|shop/|cli/|app/|cairo|pango|gtk|gdk')"
check "the workshop layer knows no window or command line" "$(includes shop 'aim/|cli/|app/|gtk/|gdk/')"
check "the document layer knows no drawing, window or command line" "$(includes doc 'aim/|draw/|shop/|cli/|app/|cairo|pango|gtk|gdk')"
check "the drawing layer knows no window or command line" "$(includes draw 'aim/|shop/|cli/|app/|gtk|gdk|cjson')"
check "the command line knows no window" "$(includes cli 'app/|gtk|gdk')"
check "the core prints, reads and remembers nothing" \
  "$(grep -rnE '\b(printf|fprintf|snprintf|fopen|getenv|setlocale|time) *\(' src/core --include='*.c')"
check "no file is longer than 600 lines" \
  "$(find src tests -name '*.[ch]' -o -name '*.py' -o -name '*.sh' | xargs wc -l | awk '$2 != "total" && $1 > 600')"
check "every header is guarded" "$(grep -rL '#pragma once' src tests --include='*.h')"
check "every public function of the core and the document layer is explained, every number has its unit" \
  "$(python3 -B tests/house/declarations.py src/core/*.h src/doc/*.h)"
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
