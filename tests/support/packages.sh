# Sourced by the scripts: what they say, how they stop, and system packages that are missing.
# shellcheck shell=bash

# say WORDS...: what is being done, for people. Stdout stays free for results.
say() { printf 'spurless: %s\n' "$*" >&2; }

# fail WORDS...: the one line that says what is wrong and what to do; ends the script or its subshell.
fail() { printf 'spurless: FAILED: %s\n' "$*" >&2; exit 1; }

# apt_run WHAT-FOR ARGUMENTS...: apt-get as root, asking for a password only where somebody can type one.
apt_run() {
  local why=$1 as_root=()
  shift
  command -v apt-get >/dev/null ||
    fail "something is missing for $why and there is no apt-get here: install it your system's way. Wanted: $*"
  if [ "$(id -u)" != 0 ]; then
    if sudo -n true 2>/dev/null; then as_root=(sudo -n)
    elif [ -t 0 ] && command -v sudo >/dev/null; then as_root=(sudo)
    else fail "something is missing for $why. Run as root: apt-get $*"; fi
  fi
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq -o DPkg::Lock::Timeout=300 "$@" >&2
}

# apt_refresh WHY: the lists of packages, once a run; old lists are still better than none.
apt_refresh() {
  [ -z "${SPURLESS_APT_FRESH:-}" ] || return 0
  export SPURLESS_APT_FRESH=1
  apt_run "$1" update || say "apt-get update failed; going on with the lists that are here"
}

# apt_install WHY PACKAGE...: only called when something is missing.
apt_install() {
  local why=$1
  shift
  say "installing $* ($why)"
  apt_refresh "$why"
  # --no-remove: an install that would push out something of yours stops instead.
  apt_run "$why" install -y --no-remove --no-install-recommends "$@" ||
    fail "apt could not install $* ($why). Read its lines above, install them by hand and run again."
}

# need COMMAND PACKAGES WHY: PACKAGES may be several words.
need() {
  command -v "$1" >/dev/null && return 0
  # shellcheck disable=SC2086 # several packages are several words
  apt_install "$3" $2
  hash -r
  command -v "$1" >/dev/null || fail "$2 is installed, but the command $1 is not on PATH"
}

# apt_candidate PACKAGE: the version that apt would install, or nothing.
apt_candidate() {
  command -v apt-cache >/dev/null || return 0
  apt-cache policy "$1" 2>/dev/null | sed -n 's/^ *Candidate: *\([0-9].*\)$/\1/p'
}

# at_least VERSION MINIMUM
at_least() { [ "$(printf '%s\n%s\n' "$2" "$1" | sort -V | head -n 1)" = "$2" ]; }
