"""The guide's pages in other languages say what the English ones say: same parts in the same order, same calls, the words of
the program as its translation has them, and after the present English text.

    test_translated_pages.py SOURCE            checks
    test_translated_pages.py SOURCE --follow   notes at each page's end that it follows the present English page: run it when it does
"""
import glob
import hashlib
import os
import re
import sys

SOURCE = sys.argv[1]
DOCS = os.path.join(SOURCE, "docs")
MARK = re.compile(r"\n*<!-- follows ([0-9a-f]{12}) -->\n*\Z")
LANGUAGES = sorted(os.path.basename(os.path.dirname(path)) for path in glob.glob(os.path.join(DOCS, "*", "guide.md")))
PAGES = ["guide.md", "tutorial.md", "using.md", "troubleshooting.md"]


def read(*parts):
    with open(os.path.join(DOCS, *parts), encoding="utf-8") as file:
        return file.read()


def mark_of(text):
    return hashlib.sha256(text.encode()).hexdigest()[:12]


def without_remarks(text):
    return re.sub(r"<!--.*?-->\n?", "", text, flags=re.S)


def outline(text):
    """What a page is made of, in order: headings, pictures, links, rows of tables, items, calls."""
    text = without_remarks(text)
    parts = []
    for line in text.splitlines():
        heading, item = re.match(r"(#+) ", line), re.match(r"( *)(-|\d+\.) ", line)
        if heading:
            parts.append(heading.group(1))
        elif line.startswith("    $ "):
            parts.append(line.strip())
        elif line.startswith("|"):
            parts.append(f"row of {line.count('|') - line.count(chr(92) + '|')}")
        elif item:
            parts.append(item.group(1) + item.group(2))
        parts += ["picture " + os.path.basename(p) for p in re.findall(r"!\[[^\]]*\]\(([^)\s]+)\)", line)]
    return parts


def links(text):
    """Pages that links lead to, in order."""
    found = re.findall(r"(?<!!)\[[^\]]*\]\(([^)\s#]*)(?:#[^)\s]*)?\)", without_remarks(text))
    return [re.sub(r"^\.\./", "", link) for link in found]


def names_in_bold(text):
    text = re.sub(r"^ {4,}\S.*$", "", without_remarks(text), flags=re.M)
    return re.findall(r"(?<!\*)\*\*([^*\n]+?)\*\*", re.sub(r"`[^`\n]*`", "", text))


def messages(language):
    """Every message as the program shows it, without the marks of access keys."""
    with open(os.path.join(SOURCE, "po", language + ".po"), encoding="utf-8") as file:
        text = re.sub(r'"\n"', "", file.read())
    words = set()
    for found in re.findall(r'^msgstr(?:\[\d\])? "(.*)"$', text, re.M):
        words.add(found.replace('\\"', '"').replace("_", "").rstrip("…"))
    return words


def pairs():
    for language in LANGUAGES:
        for page in PAGES:
            yield language, page


def each_language_has_all_pages_or_none():
    missing = [f"{language}/{page}" for language, page in pairs() if not os.path.exists(os.path.join(DOCS, language, page))]
    translated = {os.path.basename(p)[:-3] for p in glob.glob(os.path.join(SOURCE, "po", "*.po"))}
    return len(LANGUAGES) >= 3 and not missing and set(LANGUAGES) <= translated, [f"languages: {LANGUAGES}, of the program: {sorted(translated)}", *missing]


def pages_have_the_same_parts():
    wrong = []
    for language, page in pairs():
        for kind, of in (("part", outline), ("link", links)):
            a, b = of(read(page)), of(read(language, page))
            first = next((i for i, (x, y) in enumerate(zip(a, b)) if x != y), min(len(a), len(b)))
            if a != b:
                wrong.append(f"docs/{language}/{page}: {kind} {first + 1}: {b[first:first + 1]}, in English {a[first:first + 1]} after {a[max(0, first - 2):first]}")
    return not wrong, wrong


def names_are_those_of_the_program():
    wrong, n = [], 0
    for language in LANGUAGES:
        words = {w.lower().replace("\u00a0", " ") for w in messages(language)}
        text = "\n".join(words)
        patterns = [re.compile(re.sub(r"%(\d\$)?\w", ".+", re.escape(w).replace(r"\%", "%").replace(r"\$", "$"))) for w in words
                    if "%s" in w and len(re.findall(r"\w", w.replace("%s", ""))) > 3]
        for page in PAGES:
            for told in names_in_bold(read(language, page)):
                name = told.replace("\u00a0", " ").rstrip("… ").lower()
                if told[-1] in ".:" or re.search(r"\w\+\S|^F\d|^[+A-B]$", told) or re.fullmatch(r"[a-z]+( --.*)?", told):
                    continue
                n += 1
                if not re.search(rf"(?<!\w){re.escape(name)}(?!\w)", text) and not any(p.fullmatch(name) for p in patterns):
                    wrong.append(f"docs/{language}/{page}: {told}")
    return n > 150 and not wrong, wrong


def pages_follow_the_english_of_today():
    wrong = []
    for language, page in pairs():
        mark = MARK.search(read(language, page))
        if mark is None or mark.group(1) != mark_of(read(page)):
            wrong.append(f"docs/{language}/{page} follows an older docs/{page}: bring it up to date, then run "
                         "tests/house/test_translated_pages.py . --follow")
    return not wrong, wrong


def follow():
    for language, page in pairs():
        text = MARK.sub("", read(language, page)).rstrip("\n")
        with open(os.path.join(DOCS, language, page), "w", encoding="utf-8") as file:
            file.write(f"{text}\n\n<!-- follows {mark_of(read(page))} -->\n")


TESTS = [each_language_has_all_pages_or_none, pages_have_the_same_parts, names_are_those_of_the_program, pages_follow_the_english_of_today]


def main():
    if sys.argv[2:] == ["--follow"]:
        follow()
        return 0
    print(f"1..{len(TESTS)}")
    failed = 0
    for number, test in enumerate(TESTS, 1):
        fine, told = test()
        failed += not fine
        print(f"{'ok' if fine else 'not ok'} {number} - {test.__name__.replace('_', ' ')}")
        if not fine:
            print("\n".join(f"# {line}" for line in told[:40]))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
