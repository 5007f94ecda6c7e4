"""What a shell completes, read from the parser of the command line: one script for each shell.

Commands and options stand in the script, so that Tab waits for no Python; only the names of
pieces are asked for, with `tracker completion pieces`.
"""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from tracker.records import record

ENDINGS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "FILE": (".design.toml", ".pattern.toml"),
        "PIECE": (".design.toml", ".pattern.toml"),
        "DESIGN": (".design.toml",),
        "PATTERN": (".pattern.toml",),
        "EXPORTED": (".piece.toml",),
        "OUT": (".svg", ".png", ".html"),
    }
)
"""Which files an argument of that name may be; any other argument is typed."""
NAMED = ("FILE", "PIECE")
"""Arguments that the name of a piece may stand for."""


@record
class Word:
    """An option or an argument of a command."""

    names: tuple[str, ...]
    """An option's spellings; none of an argument."""
    value: str
    """What it takes, by its name in the help; "" for a switch."""
    choices: tuple[str, ...]
    help: str


@record
class Command:
    """A command; the one without a name is the program itself."""

    name: str
    help: str
    words: tuple[Word, ...]

    @property
    def options(self) -> Iterator[Word]:
        """Its options."""
        return (word for word in self.words if word.names)

    @property
    def arguments(self) -> Iterator[Word]:
        """Its arguments, in order."""
        return (word for word in self.words if not word.names)


def commands_of(parser: argparse.ArgumentParser) -> tuple[Command, ...]:
    """The program itself and its commands, as the parser has them."""
    found = [Command("", parser.description or "", tuple(_words(parser)))]
    for action in parser._actions:  # noqa: SLF001  argparse has no other way to be asked
        if isinstance(action, argparse._SubParsersAction):  # noqa: SLF001
            helps = {choice.dest: choice.help or "" for choice in action._choices_actions}  # noqa: SLF001
            found += [
                Command(name, helps.get(name, ""), tuple(_words(made)))
                for name, made in action.choices.items()
            ]
    return tuple(found)


def _words(parser: argparse.ArgumentParser) -> Iterator[Word]:
    for action in parser._actions:  # noqa: SLF001  as above
        if not isinstance(action, argparse._SubParsersAction):  # noqa: SLF001
            takes = action.nargs != 0
            name = str(action.metavar or action.dest)
            choices = tuple(map(str, action.choices or ()))
            said = (action.help or "").replace("%%", "%")
            yield Word(tuple(action.option_strings), name if takes else "", choices, said)


def script(shell: str, commands: tuple[Command, ...]) -> str:
    """The script for `shell`, one of SHELLS."""
    return "\n".join([*SHELLS[shell](commands), ""])


# --- bash --------------------------------------------------------------------------------------

_BASH = r"""
# Completion of tracker for bash: source it from ~/.bashrc.
_tracker_words() { # offers lines that begin with what was typed
    local word plain=${cur//\\/}
    plain=${plain#[\"\']}
    while IFS= read -r word; do
        [[ $word == "$plain"* ]] && COMPREPLY+=("$word")
    done
}
_tracker_files() { # offers folders, and files with one of these endings
    local file ending
    compopt -o filenames 2>/dev/null
    while IFS= read -r file; do
        [[ -d $file ]] && COMPREPLY+=("$file")
        for ending; do [[ $file == *"$ending" && ! -d $file ]] && COMPREPLY+=("$file"); done
    done < <(compgen -f -- "${cur//\\/}")
}
_tracker_pieces() {
    compopt -o filenames 2>/dev/null # so that spaces in a name are quoted
    _tracker_words < <(tracker completion pieces 2>/dev/null)
}
_tracker() {
    local cur=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command= i
    for ((i = 1; i < COMP_CWORD; i++)); do
        [[ ${COMP_WORDS[i]} != -* ]] && { command=${COMP_WORDS[i]}; break; }
    done
    COMPREPLY=()
    case $command:$before in
"""
_BASH_END = r"""
    esac
}
complete -F _tracker tracker
"""


def _bash(commands: tuple[Command, ...]) -> Iterator[str]:
    yield _BASH.strip("\n")
    for command in commands:
        for option in command.options:
            if option.value:
                cases = "|".join(f"{command.name}:{name}" for name in option.names)
                yield f"    {cases}) {'; '.join(_bash_value(option)) or ':'};;"
    yield "    *) case $command:$cur in"
    for command in commands:
        names = [name for option in command.options for name in option.names]
        yield f"        {command.name}:-*) _tracker_words <<< {_lines(names)};;"
        said = [part for word in command.arguments for part in _bash_value(word)]
        if not command.name:
            said = [f"_tracker_words <<< {_lines(c.name for c in commands if c.name)}"]
        if said:
            yield f"        {command.name}:*) {'; '.join(said)};;"
    yield "    esac;;"
    yield _BASH_END.strip("\n")


def _bash_value(word: Word) -> Iterator[str]:
    if word.choices:
        yield f"_tracker_words <<< {_lines(word.choices)}"
    if word.value in ENDINGS:
        yield f"_tracker_files {' '.join(ENDINGS[word.value])}"
    if word.value in NAMED:
        yield "_tracker_pieces"


def _lines(words: Iterator[str] | tuple[str, ...] | list[str]) -> str:
    return "$'" + "\\n".join(words) + "'"


# --- zsh ---------------------------------------------------------------------------------------

_ZSH = r"""
#compdef tracker
# Completion of tracker for zsh: a file named _tracker in a folder of $fpath, or sourced.
_tracker_pieces() {
    local -a pieces
    pieces=(${(f)"$(tracker completion pieces 2>/dev/null)"})
    compadd -a pieces
}
_tracker() {
    local curcontext=$curcontext state line
    local -a commands
"""


def _zsh(commands: tuple[Command, ...]) -> Iterator[str]:
    main, *rest = commands
    yield _ZSH.strip("\n")
    yield "    commands=("
    yield from (f"        {shlex.quote(f'{c.name}:{c.help}')}" for c in rest)
    yield "    )"
    options = " ".join(part for option in main.options for part in _zsh_option(option))
    yield f"    _arguments -C {options} '1:command:->command' '*::argument:->argument'"
    yield "    case $state in"
    yield "    command) _describe command commands;;"
    yield "    argument) case $words[1] in"
    for command in rest:
        parts = [part for option in command.options for part in _zsh_option(option)]
        for at, word in enumerate(command.arguments, start=1):
            parts.append(shlex.quote(f"{at}:{word.value}:{_zsh_value(word)}"))
        yield f"        {command.name}) _arguments {' '.join(parts)};;"
    yield "        esac;;"
    yield "    esac"
    yield "}"
    yield 'if [ "$funcstack[1]" = _tracker ]; then _tracker "$@"; else compdef _tracker tracker; fi'


def _zsh_option(option: Word) -> Iterator[str]:
    said = option.help.replace("[", "(").replace("]", ")").replace(":", " -")
    value = f":{option.value}:{_zsh_value(option)}" if option.value else ""
    yield from (shlex.quote(f"{name}[{said}]{value}") for name in option.names)


def _zsh_value(word: Word) -> str:
    if word.choices:
        return f"({' '.join(word.choices)})"
    if word.value not in ENDINGS:
        return " "
    globs = " ".join(f"*{ending}" for ending in ENDINGS[word.value])
    files = f'_files -g "{globs}"'
    return f"{{{files}; _tracker_pieces}}" if word.value in NAMED else files


# --- fish --------------------------------------------------------------------------------------


_FISH = r"""
# Completion of tracker for fish: a file named tracker.fish in ~/.config/fish/completions.
function __tracker_files # offers folders, and files with one of these endings
    set -l typed (commandline -ct)
    for file in $typed*
        test -d $file; and echo $file/; and continue
        for ending in $argv
            string match -q -- "*$ending" $file; and echo $file
        end
    end
end
complete -c tracker -f
"""


def _fish(commands: tuple[Command, ...]) -> Iterator[str]:
    yield _FISH.strip("\n")
    main, *rest = commands
    yield from (_fish_option(option, "__fish_use_subcommand") for option in main.options)
    for command in rest:
        yield _fish_line("__fish_use_subcommand", f"-a {command.name}", command.help)
        here = f"__fish_seen_subcommand_from {command.name}"
        yield from (_fish_option(option, here) for option in command.options)
        for word in command.arguments:
            yield from (f"complete -c tracker -n '{here}' -a '{a}'" for a in _fish_value(word))


def _fish_option(option: Word, where: str) -> str:
    names = [f"-l {n[2:]}" if n.startswith("--") else f"-s {n[1:]}" for n in option.names]
    if option.value:
        names += ["-x", *(f"-a '{value}'" for value in _fish_value(option))]
    return _fish_line(where, " ".join(names), option.help)


def _fish_line(where: str, what: str, said: str) -> str:
    quoted = said.replace("\\", "\\\\").replace("'", "\\'")
    return f"complete -c tracker -n '{where}' {what} -d '{quoted}'"


def _fish_value(word: Word) -> Iterator[str]:
    if word.choices:
        yield " ".join(word.choices)
    if word.value in ENDINGS:
        yield f"(__tracker_files {' '.join(ENDINGS[word.value])})"
    if word.value in NAMED:
        yield "(tracker completion pieces 2>/dev/null)"


SHELLS = {"bash": _bash, "zsh": _zsh, "fish": _fish}
