# Sourced by the scripts: what they say, how they stop, and system packages that are missing.
# shellcheck shell=bash

# say WORDS...: what is being done, for people. Stdout stays free for results.
say() { printf 'spurless: %s\n' "$*" >&2; }

# fail WORDS...: the one line that says what is wrong and what to do; ends the script or its subshell.
fail() { printf 'spurless: FAILED: %s\n' "$*" >&2; exit 1; }

# apt_run WHAT-FOR WANTED ARGUMENTS...: apt-get as root; asks for a password only where one can be typed.
apt_run() {
  local why=$1 wanted=$2 as_root=()
  shift 2
  command -v apt-get >/dev/null ||
    fail "missing for $why: $wanted. There is no apt-get here: install it your system's way and run again."
  if [ "$(id -u)" != 0 ]; then
    if sudo -n true 2>/dev/null; then as_root=(sudo -n)
    elif [ -t 0 ] && command -v sudo >/dev/null; then as_root=(sudo)
    else fail "missing for $why: $wanted. Run as root: apt-get install --no-install-recommends $wanted"; fi
  fi
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
    apt-get -qq -o DPkg::Lock::Timeout=300 -o Dpkg::Use-Pty=0 "$@" >&2
}

# apt_refresh WHY WANTED: the lists of packages, once a run; old lists are still better than none.
apt_refresh() {
  [ -z "${SPURLESS_APT_FRESH:-}" ] || return 0
  export SPURLESS_APT_FRESH=1
  apt_run "$1" "$2" update || say "apt-get update failed; going on with the lists that are here"
}

# apt_install WHY PACKAGE...: only called when something is missing.
apt_install() {
  local why=$1
  shift
  say "installing $* ($why)"
  apt_refresh "$why" "$*"
  # --no-remove: an install that would push out something of yours stops instead.
  apt_run "$why" "$*" install -y --no-remove --no-install-recommends "$@" ||
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
