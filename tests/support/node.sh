# Sourced by the scripts: Node and the pinned tools of tests/page.
# shellcheck shell=bash

# node_tools WHY: node on PATH, tests/page/node_modules as the lock file says.
node_tools() {
  local folder=$SPURLESS_ROOT/tests/page
  need node "nodejs npm" "$1"
  need npm npm "$1"
  at_least "$(node --version | tr -d v)" 18 ||
    fail "$1 needs Node 18 or newer, here is $(node --version). Install a newer one and run again."
  [ "$folder/node_modules/.package-lock.json" -nt "$folder/package-lock.json" ] && return 0
  say "npm fetches the pinned tools of tests/page ($1)"
  npm ci --prefix "$folder" --no-audit --no-fund --loglevel=error >&2 ||
    fail "npm ci in tests/page failed ($1). Is there a network? Try: npm ci --prefix tests/page"
  touch "$folder/node_modules/.package-lock.json"
}
