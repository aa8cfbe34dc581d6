# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=bash disable=SC2034
# Bash completion for holdfast: source it, or put it into /usr/share/bash-completion/completions/holdfast
_holdfast() {
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} command=${COMP_WORDS[1]:-}
  local order="--metal --thickness --kerf --width --height --unit --piece --page --font --white"
  local make="$order --output --also --cure --paper --pixels --shop --watch --all --sizes --from-cut --units --json --quiet --help"
  local check="$order --shop --watch --all --sizes --units --json --quiet --help"
  local cure="$order --take --best --output --over --pictures --shop --units --json --quiet --help"
  local look="--picture --recipe $order --all --help"
  local recipe="--schema --shop-schema --help"
  local fonts="--picture --smallest --symbols --metal --thickness --kerf --text --shop --json --help"
  local replay="--kerf --against --layer --within --at --table --picture --shop --units --json --quiet --help"
  local shop="--units --help"
  local coupon="--metal --thickness --kerf --row --font --output --learn --shop --units --quiet --help"
  local page="--folder --no-browser --help"
  COMPREPLY=()
  if ((COMP_CWORD == 1)); then
    mapfile -t COMPREPLY < <(compgen -W "make check cure look new recipe fonts replay shop coupon page --help --version" -- "$word")
    return
  fi
  case $before in
    --also) mapfile -t COMPREPLY < <(compgen -W "$(holdfast make --help 2>/dev/null | sed -n 's/^ *--also .*: //p' | tr -d ,)" -- "$word"); return ;;
    --cure) mapfile -t COMPREPLY < <(compgen -W "best" -- "$word"); return ;;
    --pictures) mapfile -t COMPREPLY < <(compgen -d -- "$word"); return ;;
    --unit) mapfile -t COMPREPLY < <(compgen -W "mm cm m in ft" -- "$word"); return ;;
    --white) mapfile -t COMPREPLY < <(compgen -W "opening metal nothing" -- "$word"); return ;;
    --units) mapfile -t COMPREPLY < <(compgen -W "mm in in-decimal" -- "$word"); return ;;
    --layer) mapfile -t COMPREPLY < <(compgen -W "front middle back" -- "$word"); return ;;
    --paper) mapfile -t COMPREPLY < <(compgen -W "a4 letter" -- "$word"); return ;;
    -o | --output | --folder) mapfile -t COMPREPLY < <(compgen -d -- "$word"); return ;;
  esac
  if [[ $word == -* ]]; then
    mapfile -t COMPREPLY < <(compgen -W "${!command:-}" -- "$word")
  elif [[ $command == new ]] && ((COMP_CWORD == 2)); then
    mapfile -t COMPREPLY < <(compgen -W "$(holdfast new 2>/dev/null | awk '{print $1}')" -- "$word")
  else
    mapfile -t COMPREPLY < <(compgen -f -X '!*.@(yaml|yml|json|svg|dxf|nc|ngc)' -- "$word"; compgen -d -- "$word")
  fi
}
complete -F _holdfast holdfast
