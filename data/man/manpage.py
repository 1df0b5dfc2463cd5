"""manpage.py CLI VERSION DATADIR TEMPLATE OUT: the manual page of flapwright-cli, its verbs and options as the program tells them."""
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from helptext import read_verbs


def roff(text):
    """Plain words as troff takes them: no line may begin with a control character."""
    text = text.replace("\\", "\\e").replace("-", "\\-").replace("“", "\\(lq").replace("”", "\\(rq").replace("…", "\\&...")
    text = text.replace("`", "\\(ga").replace("'", "\\(aq").replace("–", "\\(en")
    return "\\&" + text if text[:1] in (".", "'") else text


def option_lines(option):
    names = [f"\\fB\\-{option.short}\\fR"] if option.short else []
    value = f"\\fI{roff(option.value)}\\fR" if option.value else ""
    names.append(f"\\fB\\-\\-{roff(option.long)}\\fR" + ("=" + value if value else ""))
    return [".TP", ", ".join(names), roff(option.text) + "."]


def sentence(text):
    return text[0].upper() + text[1:] + ("" if text.endswith(".") else ".")


def verb_lines(verb):
    lines = [f'.SS "{verb.name} \\- {roff(verb.what)}"', f".B flapwright\\-cli {roff(verb.name)}", f".I {roff(verb.takes)}", "[\\fIOPTION\\fR...]", ".PP",
             roff(sentence(verb.summary))]
    for option in verb.options:
        lines += option_lines(option)
    return lines


def main(cli, version, datadir, template, out):
    verbs = read_verbs(cli)
    with open(template, encoding="utf-8") as file:
        page = file.read()
    page = page.replace("@VERSION@", version).replace("@DATADIR@", datadir)
    page = page.replace("@VERBS@", "\n".join(line for verb in verbs for line in verb_lines(verb)))
    with open(out, "w", encoding="utf-8") as file:
        file.write(page)


if __name__ == "__main__":
    main(*sys.argv[1:])
