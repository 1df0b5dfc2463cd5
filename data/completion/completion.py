"""completion.py CLI SHELL OUT: completion of flapwright-cli for bash, zsh or fish, from what the program says of itself."""
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from helptext import file_ending, read_verbs, values


def quoted(text):
    """As one word in single quotes, for a shell that takes '\\'' (bash, zsh)."""
    return "'" + text.replace("'", "'\\''") + "'"


# ---- bash ----

BASH_HEAD = """# Completion of flapwright-cli for bash: verbs, their options, what an option takes, design files.
_flapwright_cli_files ()
{
  # Folders, and files that end in $1 (any, if empty).
  local IFS=$'\\n'
  compopt -o filenames 2>/dev/null
  COMPREPLY=($(compgen -d -- "$cur"))
  if [[ -n $1 ]]; then
    COMPREPLY+=($(compgen -f -X "!*.$1" -- "$cur"))
  else
    COMPREPLY+=($(compgen -A file -- "$cur"))
  fi
}

_flapwright_cli ()
{
  local cur=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} verb=${COMP_WORDS[1]} options=
  COMPREPLY=()
  # bash takes --option=value apart at the sign.
  if [[ $cur == = ]]; then
    cur=
  elif [[ $before == = ]]; then
    before=${COMP_WORDS[COMP_CWORD-2]}
  fi
  if [[ $COMP_CWORD -eq 1 ]]; then
    COMPREPLY=($(compgen -W "VERBS --help --version" -- "$cur"))
    return
  fi
  case $verb in
"""

BASH_TAIL = """    *) return ;;
  esac
  if [[ $cur == -* ]]; then
    COMPREPLY=($(compgen -W "$options" -- "$cur"))
    [[ ${COMPREPLY[*]} == *= ]] && compopt -o nospace 2>/dev/null
    return
  fi
  _flapwright_cli_files flap
}

complete -F _flapwright_cli flapwright-cli
"""


def bash_option(option):
    """What may stand after an option that takes something; None: it takes nothing."""
    if option.value is None:
        return None
    names = f"--{option.long}" + (f"|-{option.short}" if option.short else "")
    ending = file_ending(option)
    if values(option):
        action = f'COMPREPLY=($(compgen -W "{" ".join(values(option))}" -- "$cur")); return'
    elif ending is not None:
        action = f"_flapwright_cli_files {quoted(ending)}; return"
    else:
        action = "return"
    return f"        {names}) {action} ;;\n"


def bash(verbs):
    out = BASH_HEAD.replace("VERBS", " ".join(verb.name for verb in verbs))
    for verb in verbs:
        words = [f"--{o.long}" + ("=" if o.value else "") for o in verb.options] + [f"-{o.short}" for o in verb.options if o.short]
        arms = "".join(filter(None, map(bash_option, verb.options)))
        out += f'    {verb.name})\n      options="{" ".join(words)}"\n'
        out += f"      case $before in\n{arms}      esac\n      ;;\n" if arms else "      ;;\n"
    return out + BASH_TAIL


# ---- zsh ----

def zsh_text(text):
    for sign in "\\[]:":
        text = text.replace(sign, "\\" + sign)
    return text


def zsh_option(option):
    taken = ""
    if option.value:
        ending = file_ending(option)
        if values(option):
            action = "(" + " ".join(values(option)) + ")"
        elif ending is not None:
            action = f'_files -g "*.{ending}"' if ending else "_files"
        else:
            action = " "
        taken = f":{zsh_text(option.value)}:{action}"
    names = [f"--{option.long}" + ("=" if option.value else "")] + ([f"-{option.short}"] if option.short else [])
    return [quoted(f"*{name}[{zsh_text(option.text)}]{taken}") for name in names]


def zsh(verbs):
    out = "#compdef flapwright-cli\n# Completion of flapwright-cli for zsh: verbs, their options, what an option takes, design files.\n"
    out += "local -a verbs\nverbs=(\n" + "".join(f"  {quoted(verb.name + ':' + zsh_text(verb.what))}\n" for verb in verbs) + ")\n"
    out += "if (( CURRENT == 2 )); then\n  _describe -t verbs verb verbs\n  _arguments '--help[List the verbs]' '--version[Print the version]'\n  return\nfi\n"
    out += "local verb=$words[2]\nshift words\n(( CURRENT-- ))\ncase $verb in\n"
    for verb in verbs:
        specs = [spec for option in verb.options for spec in zsh_option(option)]
        out += f"  {verb.name})\n    _arguments \\\n" + "".join(f"      {spec} \\\n" for spec in specs)
        out += "      '1:design:_files -g \"*.flap\"'\n    ;;\n"
    return out + "esac\n"


# ---- fish ----

def fish_text(text):
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


def fish_option(verb, option):
    line = f"complete -c flapwright-cli -n '__fish_seen_subcommand_from {verb.name}' -l {option.long}"
    line += f" -s {option.short}" if option.short else ""
    if option.value:
        line += " -r"
        if values(option):
            line += f" -f -a {fish_text(' '.join(values(option)))}"
        elif file_ending(option) is None:
            line += " -f"
        else:
            line += " -F"
    return line + f" -d {fish_text(option.text)}\n"


def fish(verbs):
    out = "# Completion of flapwright-cli for fish: verbs, their options, what an option takes, design files.\n"
    out += "complete -c flapwright-cli -f\n"
    out += "complete -c flapwright-cli -n __fish_use_subcommand -l help -d 'List the verbs'\n"
    out += "complete -c flapwright-cli -n __fish_use_subcommand -l version -d 'Print the version'\n"
    for verb in verbs:
        out += f"complete -c flapwright-cli -n __fish_use_subcommand -a {verb.name} -d {fish_text(verb.what)}\n"
    out += "complete -c flapwright-cli -n 'not __fish_use_subcommand' -k -a '(__fish_complete_suffix .flap)'\n"
    for verb in verbs:
        out += "".join(fish_option(verb, option) for option in verb.options)
    return out


def main(cli, shell, out):
    text = {"bash": bash, "zsh": zsh, "fish": fish}[shell](read_verbs(cli))
    with open(out, "w", encoding="utf-8") as file:
        file.write(text)


if __name__ == "__main__":
    main(*sys.argv[1:])
