# shellcheck shell=bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by ./demo and ./check: installs Debian packages that are missing, after saying which.

# missing_packages FILE...: the packages of the lists (one a line, # comments) that are not installed
missing_packages() {
  local name
  sed 's/#.*//; /^[[:space:]]*$/d' "$@" | tr -d ' ' | sort -u | while read -r name; do
    # Node may come from elsewhere
    [[ $name == npm ]] && command -v npm >/dev/null && command -v node >/dev/null && continue
    dpkg-query -W -f='${Status}' "$name" 2>/dev/null | grep -q 'install ok installed' || echo "$name"
  done
}

# install_packages FILE...: shows what is missing, asks on a terminal, installs with apt
install_packages() {
  local missing as_root="" answer
  missing=$(missing_packages "$@" | tr '\n' ' ')
  if [[ -z ${missing// /} ]]; then
    return 0
  fi
  echo "These Debian packages are needed and not installed yet:"
  echo "  $missing" | fold -s -w 96 | sed '2,$s/^/  /'
  if [[ $(id -u) != 0 ]]; then
    as_root=sudo
    command -v sudo >/dev/null || { echo "Install them as root, then run this again."; return 1; }
  fi
  if [[ -t 0 && -t 1 ]]; then
    read -r -p "Install them now with apt (as root)? [Y/n] " answer
    [[ -z $answer || $answer == [yYjJ]* ]] || { echo "Nothing installed."; return 1; }
  fi
  # shellcheck disable=SC2086
  $as_root sh -c 'apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@"' sh $missing >/tmp/holdfast-apt.$$ 2>&1 ||
    { tail -n 20 /tmp/holdfast-apt.$$; rm -f /tmp/holdfast-apt.$$; echo "apt could not install them; see above."; return 1; }
  rm -f /tmp/holdfast-apt.$$
  echo "Installed."
}
