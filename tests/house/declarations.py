"""Prints the public declarations in the headers named that are not explained: a function without a
comment above it or above the lines it stands among, a double whose unit neither its name nor a comment near it tells.
How a unit is told is guessed from words; so a wrong unit passes, a missing one does not."""
import re
import sys

UNIT_NAME = re.compile(r"_(mm2?|deg|rad|kg|g|gmm2?|kgm|N|Nm|Npmm|Nps|ms|s|px|pt|percent|turns|per_minute|turns_per_minute|gm2|m2|gcm3|kgm3|mps|J|MPa|GPa)$|^(co)?sine$|^(cos|sin)_|^(degrees|radians|squareness|coefficient|restitution)$")
UNIT_WORD = re.compile(
    r"\b(mm2?|mm4|m|cm|Pa|px|inch(es)?|degrees?|deg|radians?|rad|N|Nm|kN|g|kg|gmm2?|g/m2|kg/m|s|ms|seconds?|minutes?|Hz|W|J|mJ|MPa|GPa|days?|years?"
    r"|turns?|turns/min|pixels?|points|percent|%|units?|unitless|ratio|share|factor|coefficient|cosine|sine|squareness|number|numbers|times"
    r"|0 to 1|money|per|tall)\b|%")
FUNCTION = re.compile(r"^(?!typedef|struct|enum|#|/|\*| )[A-Za-z_][\w \*]*?\b(fw_\w+) \(")


def blocks(lines):
    """Runs of lines between blank lines at the top level (not inside braces): (number of the first line, lines)."""
    run, start, depth = [], 0, 0
    for number, line in enumerate(lines, 1):
        if not line.strip() and depth == 0:
            if run:
                yield start, run
            run = []
            continue
        if not run:
            start = number
        run.append(line)
        depth += line.count("{") - line.count("}")
    if run:
        yield start, run


def comments(text):
    return " ".join(re.findall(r"/\*.*?\*/", text, re.S))


def without_comments(text):
    return re.sub(r"/\*.*?\*/", lambda m: "\n" * m[0].count("\n"), text, flags=re.S)


def tells(name, *texts):
    return bool(UNIT_NAME.search(name)) or any(UNIT_WORD.search(text) for text in texts)


def check_struct(path, start, text, above):
    """Members: in the name, in the comment of the line, or in that above the struct or the member's own lines."""
    lines = text.split("\n")
    bare = without_comments(text).split("\n")
    near = ""
    for i, line in enumerate(lines):
        if line.strip().startswith("/*"):
            near = comments("\n".join(lines[i:])[: "\n".join(lines[i:]).find("*/") + 2])
        member = re.match(r"\s+(?:const )?double (.*);", bare[i])
        if not member or "(" in member[1]:
            continue
        rest = "\n".join(lines[i:])
        beside = rest[: rest.index("*/") + 2] if "/*" in line else ""
        for name in re.findall(r"(\w+)(?:\[[^]]*\])*\s*(?:,|$)", member[1]):
            if not tells(name, beside, near, above):
                yield f"{path}:{start + i}: {name}: which unit?"


def check_function(path, number, declaration, name, words):
    if "/*" not in words:
        yield f"{path}:{number}: {name}: no comment above"
    inside = declaration[declaration.index("(") + 1:].split("\n{")[0]
    for argument in re.findall(r"\bdouble \**(\w+)", inside):
        if not tells(argument, words):
            yield f"{path}:{number}: {name} ({argument}): which unit?"
    if re.match(r"(?:static inline |const )*double \**fw_", declaration) and not tells(name, words):
        yield f"{path}:{number}: {name}: which unit is the answer?"


def check(path):
    lines = open(path, encoding="utf-8").read().split("\n")
    whole = comments("\n".join(lines[: next((i for i, l in enumerate(lines) if l.startswith("#pragma")), 0)]))
    for start, run in blocks(lines):
        text = "\n".join(run)
        if re.search(r"^(typedef )?struct", without_comments(text), re.M) and "{" in text:
            yield from check_struct(path, start, text, text[: text.index("{")] if "/*" in text[: text.index("{")] else whole)
        bare = without_comments(text).split("\n")
        words = comments(text)
        for i, line in enumerate(bare):
            found = FUNCTION.match(line) or (i > 0 and re.match(r"^(fw_\w+) \(", line))
            if found and bare[i - 1].strip() != "{":
                declaration = "\n".join(bare[i:])
                end = min(x for x in (declaration.find(";"), declaration.find("\n{"), len(declaration)) if x > 0)
                head = "" if FUNCTION.match(line) else bare[i - 1] + " "
                yield from check_function(path, start + i, head + declaration[:end], found[1], words)


found = [line for path in sys.argv[1:] for line in check(path)]
print("\n".join(found), end="\n" if found else "")
