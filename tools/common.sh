# tools/common.sh — what tools/demo and tools/check share; sourced, not run.
# SPDX-License-Identifier: GPL-3.0-or-later
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
cd "$root"
jobs=$(nproc)

# Another checkout at another place finds its objects in the cache too.
export CCACHE_BASEDIR=$root CCACHE_NOHASHDIR=1

# packages <kind>…: the names that tools/packages lists for these kinds.
packages() {
  local kind
  for kind in "$@"; do awk -v kind="$kind" '$1 == kind { print $2 }' tools/packages; done
}

# missing <package>…: those that are not installed.
missing() {
  local package
  for package in "$@"; do
    [[ $(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null) == installed ]] ||
      echo "$package"
  done
}

# install <kind>…: installs what tools/packages lists and this machine lacks; needs root or sudo
# only if something is missing.
install() {
  command -v dpkg-query >/dev/null || {
    echo "This script installs packages of Debian 12. Elsewhere: install what tools/packages lists," \
         "then cmake --preset release && cmake --build --preset release." >&2
    return 1
  }
  local wanted as_root=()
  mapfile -t wanted < <(packages "$@")
  mapfile -t wanted < <(missing "${wanted[@]}")
  ((${#wanted[@]})) || return 0
  if ((EUID)); then
    command -v sudo >/dev/null || {
      echo "Missing: ${wanted[*]}. Run this as root once, or install sudo." >&2
      return 1
    }
    as_root=(sudo)
  fi
  echo "Installing ${wanted[*]}"
  "${as_root[@]}" apt-get update -qq
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
    apt-get install -y -qq --no-install-recommends "${wanted[@]}" >/dev/null
}

# quietly <log> <command>…: runs it with its output in the log, which is shown if it fails.
quietly() {
  local log=$1
  shift
  mkdir -p "$(dirname "$log")"
  "$@" >"$log" 2>&1 || {
    cat "$log" >&2
    echo "failed: $*" >&2
    return 1
  }
}
