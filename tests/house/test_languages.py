"""Every catalogue in po/LINGUAS is whole and sound, and flapwright-cli in that language says the same things.
Usage: test_languages.py SOURCE CLI. The judges are gettext's msgfmt and msgmerge, i18nspector, and the C library's
localedef, which makes the locales: a machine that builds need not have them."""
import functools
import glob
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile

SOURCE, CLI = sys.argv[1:3]
sys.path.insert(0, os.path.join(SOURCE, "tests", "cli"))
from tap import Tap

TEMP = tempfile.mkdtemp(prefix="flapwright-languages-")
DEMOS = os.path.join(SOURCE, "data", "demos")
POT = os.path.join(TEMP, "flapwright.pot")
# As meson's preset for GLib programs has them.
KEYWORDS = ["_", "N_", "C_:1c,2", "NC_:1c,2", "g_dcgettext:2", "g_dngettext:2,3", "g_dpgettext2:2c,3"]

with open(os.path.join(SOURCE, "po", "LINGUAS"), encoding="utf-8") as file:
    LANGUAGES = [word for line in file for word in line.split("#")[0].split()]


def run(*command, **env):
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=dict(os.environ, **env))
    return done.returncode, done.stdout.decode("utf-8", "replace"), done.stderr.decode("utf-8", "replace")


def catalogue(language):
    return os.path.join(SOURCE, "po", language + ".po")


# ---- The catalogues ----


def words_are_found(tap):
    status, _, said = run("xgettext", "--directory=" + SOURCE, "--files-from=" + os.path.join(SOURCE, "po", "POTFILES.in"),
                          "--from-code=UTF-8", "--output=" + POT, *("--keyword=" + word for word in KEYWORDS), LC_ALL="C.UTF-8")
    tap.ok(status == 0, "the words of all files in po/POTFILES.in can be gathered", said)
    tap.ok("not a valid C format string" not in said, "no message is cut short by a macro of C in its middle", said)


def catalogues_are_whole(tap):
    for language in LANGUAGES:
        there = tap.ok(os.path.exists(catalogue(language)), f"po/{language}.po is there, as po/LINGUAS says")
        if not there:
            continue
        status, _, said = run("msgfmt", "--check", "--check-accelerators=_", "--output-file=/dev/null", catalogue(language),
                              LC_ALL="C.UTF-8")
        tap.ok(status == 0, f"{language}: formats, plurals and keys of menus are those of the original", said)
        merged = os.path.join(TEMP, language + ".po")
        run("msgmerge", "--no-fuzzy-matching", "--quiet", "--output-file=" + merged, catalogue(language), POT)
        _, left, _ = run("msgattrib", "--untranslated", "--no-obsolete", "--no-wrap", merged)
        _, fuzzy, _ = run("msgattrib", "--only-fuzzy", "--no-obsolete", "--no-wrap", merged)
        missing = re.findall(r'^msgid "(?!"$).*', left + fuzzy, re.M)
        tap.ok(not missing, f"{language}: every message is translated", f"{len(missing)} are not:\n" + "\n".join(missing[:12]))
        if not shutil.which("i18nspector"):
            tap.skip(f"{language}: i18nspector finds no error", "i18nspector is not there")
            continue
        _, found, _ = run("i18nspector", catalogue(language), LC_ALL="C.UTF-8")
        errors = [line for line in found.splitlines() if line.startswith("E:")]
        tap.ok(not errors, f"{language}: i18nspector finds no error", "\n".join(errors))


def materials_have_words(tap):
    with open(os.path.join(SOURCE, "data", "materials.json"), encoding="utf-8") as file:
        materials = {item["name"] for item in json.load(file)["materials"]}
    for demo in glob.glob(os.path.join(DEMOS, "*.flap")):
        with open(demo, encoding="utf-8") as file:
            materials.update(re.findall(r'"material": *"([^"]*)"', file.read()))
    with open(POT, encoding="utf-8") as file:
        known = set(re.findall(r'^msgctxt "material"\nmsgid "(.*)"$', file.read(), re.M))
    tap.ok(len(materials) > 20 and not materials - known, "every material of the table and of the demos has words for people",
           materials - known)


# ---- The program in a language ----


def make_locale(language):
    """The name of a locale of the language, made into TEMP, or None where its sources are not there."""
    sources = "/usr/share/i18n/locales/"
    names = [language, f"{language}_{language.upper()}"] + sorted(os.path.basename(f) for f in glob.glob(sources + language + "_??"))
    for name in names:
        if os.path.isfile(sources + name) and shutil.which("localedef"):
            locale = name + ".UTF-8"
            run("localedef", "--no-archive", "-i", name, "-f", "UTF-8", os.path.join(TEMP, locale))
            return locale
    return None


def call(locale, *args):
    """Status and output in a locale; TEXTDOMAINDIR is where the catalogues lie, not installed."""
    language = locale.split(".")[0]
    return run(CLI, *args, LOCPATH=TEMP, LC_ALL=locale, LANGUAGE=language, TEXTDOMAINDIR=TEMP)


def without_words(tree, ids):
    """All keys and numbers, and the texts that are no words but identifiers."""
    if isinstance(tree, dict):
        return {key: value if key in ids else without_words(value, ids) for key, value in tree.items()}
    if isinstance(tree, list):
        return [without_words(value, ids) for value in tree]
    return "" if isinstance(tree, str) else tree


SAME = [("turn",), ("loads", "--format", "csv"), ("tolerance", "--runs", "100", "--format", "json")]
SAME_NUMBERS = [("check", ("kind", "part", "unit")), ("cut", ("letter", "stock"))]


@functools.cache
def in_english(*args):
    return call("C.UTF-8", *args)


def speaks(tap, language, locale, has_words):
    heron, troubled = (os.path.join(DEMOS, name + ".flap") for name in ("heron", "troubled"))
    for args in SAME:
        tap.ok(in_english(*args, heron)[:2] == call(locale, *args, heron)[:2],
               f"{language}: {' '.join(args)} is byte for byte what it is in English")
    for verb, ids in SAME_NUMBERS:
        english, other = in_english(verb, "--format", "json", troubled), call(locale, verb, "--format", "json", troubled)
        trees = [without_words(json.loads(text[1]), ids) for text in (english, other)]
        tap.ok(english[0] == other[0] and trees[0] == trees[1], f"{language}: {verb} as JSON has the same exit status, keys and numbers",
               other)
    for verb, file in (("check", troubled), ("loads", heron)):
        english, other = in_english(verb, file), call(locale, verb, file)
        tap.ok(english[0] == other[0], f"{language}: {verb} as text has the same exit status")
        tap.ok(re.search(r"\d,\d", other[1]) and not re.search(r"\d\.\d", other[1]),
               f"{language}: the numbers of {verb} as text have a comma", other[1])
        if has_words:
            tap.ok(re.sub(r"[\d.,]", "", english[1]) != re.sub(r"[\d.,]", "", other[1]), f"{language}: {verb} is told in it", other[1])
    if has_words:
        english, other = (do("scale", "--by", "4", heron)[1] for do in (in_english, functools.partial(call, locale)))
        tap.ok("crank" in english and "crank" not in other, f"{language}: a part without a name is told in it", other)
        cut = call(locale, "cut", heron)[1]
        tap.ok(cut and not re.search("copper tube|brass rod|kraft card", cut), f"{language}: so are the materials", cut)
    refused = call(locale, "check", os.path.join(DEMOS, "none.flap"))
    tap.ok(refused[0] == 2 and refused[2].count("\n") == 1, f"{language}: what is refused is refused in one line", refused)
    typed = [call(locale, "animate", "--speed", number, "--frames", "1", "-o", os.devnull, heron)[2] for number in ("1,5", "1.5", "1x5")]
    tap.ok(typed[0] == typed[1] != typed[2], f"{language}: a number may be typed with a comma or a point", typed)


def numbers_have_the_mark_of_the_locale(tap):
    """Without a catalogue too: German numbers, English words."""
    for language in LANGUAGES or ["de"]:
        locale = make_locale(language)
        if locale is None:
            tap.skip(f"{language}: the program speaks it", "the sources of its locale (package locales) are not there")
            continue
        has_words = language in LANGUAGES and os.path.exists(catalogue(language))
        if has_words:
            folder = os.path.join(TEMP, language, "LC_MESSAGES")
            os.makedirs(folder, exist_ok=True)
            run("msgfmt", "--output-file=" + os.path.join(folder, "flapwright.mo"), catalogue(language))
        speaks(tap, language, locale, has_words)


try:
    sys.exit(Tap().run([words_are_found, catalogues_are_whole, materials_have_words, numbers_have_the_mark_of_the_locale]))
finally:
    shutil.rmtree(TEMP)
