# SPDX-License-Identifier: GPL-3.0-or-later
# Completion of dewtier for bash. It asks the program itself, so that it knows every command
# and every option that there is.

_dewtier ()
{
  local current=${COMP_WORDS[COMP_CWORD]} command=${COMP_WORDS[1]}

  if [ "$COMP_CWORD" -eq 1 ] && [ "${current#-}" = "$current" ]; then
    mapfile -t COMPREPLY < <(compgen -W "$(LC_ALL=C dewtier --help 2>/dev/null |
      sed -n 's/^  dewtier \([a-z][a-z-]*\).*/\1/p')" -- "$current"
      compgen -f -X '!*.@(dewtier|json)' -- "$current"; compgen -d -- "$current")
  elif [ "${current#-}" != "$current" ]; then
    mapfile -t COMPREPLY < <(compgen -W "$(LC_ALL=C dewtier "$command" --help 2>/dev/null |
      grep -o -- '--[a-z][a-z-]*')" -- "$current")
  else
    mapfile -t COMPREPLY < <(compgen -f -- "$current")
  fi
}

complete -o filenames -F _dewtier dewtier
