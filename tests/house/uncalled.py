"""Prints the functions that a header of src declares and that nothing outside their own file uses, neither in src nor in
tests: dead, or no business of a header. What GObject's macros call is left out: get_type, quarks, autoptr cleanup."""
import glob
import re

COMMENT = re.compile(r"/\*.*?\*/", re.S)
DECLARED = re.compile(r"^(?!\s|typedef|#)[^;{}=]*?\b(fw_\w+) \([^;{}]*\)[^;{}]*;", re.M)

texts = {path: COMMENT.sub("", open(path, encoding="utf-8").read())
         for folder in ("src", "tests") for end in ("c", "cc", "h") for path in glob.glob(f"{folder}/**/*.{end}", recursive=True)}
words = {path: set(re.findall(r"\bfw_\w+", text)) for path, text in texts.items()}
for header in sorted(path for path in texts if path.startswith("src/") and path.endswith(".h")):
    for name in DECLARED.findall(texts[header]):
        if name.endswith(("_get_type", "_quark")) or re.search(rf"G_DEFINE_AUTOPTR_CLEANUP_FUNC \(\w+, {name}\)", texts[header]):
            continue
        users = [path for path in texts if name in words[path] and path != header and not re.search(rf"^{name} \(", texts[path], re.M)]
        if not users:
            print(f"{header}: {name}: no caller outside its own file")
