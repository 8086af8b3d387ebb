# Sourced by the scripts: finds or installs a Rust that can build for this machine, the browser and chips.
#
#   host_rust                                make sure that host_cargo works
#   host_cargo ARGUMENTS...                  cargo for this machine
#   target_rust TARGET                       make sure that target_cargo works for TARGET
#   target_cargo TARGET LIBRARIES ARGUMENTS  cargo for TARGET; LIBRARIES as -Zbuild-std wants them:
#                                            `core`, or `std,panic_abort`
#   target_output TARGET                     prints the folder that holds TARGET's profiles
#
# For a TARGET, in this order: its libraries are installed; rustup adds them; the distribution's compiler
# builds them from its own source package. SPURLESS_RUST_TARGETS=debian goes straight to the last: a machine
# that reaches only package registries must not wait for a server of toolchains. So does rustup's own
# RUSTUP_AUTO_INSTALL=0: who set it wants no toolchain changed behind their back.
# shellcheck shell=bash

SPURLESS_ROOT=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
: "${CARGO_TARGET_DIR:=$SPURLESS_ROOT/target}"
export SPURLESS_ROOT CARGO_TARGET_DIR
. "$SPURLESS_ROOT/tests/support/packages.sh"

SPURLESS_RUST_MINIMUM=$(sed -n 's/^rust-version = "\(.*\)"/\1/p' "$SPURLESS_ROOT/Cargo.toml")
[ "${RUSTUP_AUTO_INSTALL:-}" != 0 ] || : "${SPURLESS_RUST_TARGETS:=debian}"
SPURLESS_LOCKED=()
[ "${CI:-}" != true ] || SPURLESS_LOCKED=(--locked)

# rust_in DIRECTORY: a cargo and a rustc there that run and are new enough.
rust_in() {
  [ -x "$1/cargo" ] && [ -x "$1/rustc" ] && "$1/cargo" --version >/dev/null 2>&1 || return 1
  local version
  version=$("$1/rustc" --version 2>/dev/null | cut -d ' ' -f 2)
  [ -n "$version" ] && at_least "$version" "$SPURLESS_RUST_MINIMUM"
}

# distribution_rust: prints the folder of the distribution's own Rust. Its versioned packages sit in
# /usr/lib/rust-1.NN (Ubuntu; from memory, not run by us).
distribution_rust() {
  local directory
  for directory in /usr/bin $(printf '%s\n' /usr/lib/rust-1.*/bin | sort -rV); do
    if rust_in "$directory"; then printf '%s\n' "$directory"; return 0; fi
  done
  return 1
}

# rust_packages PART: the distribution's names for PART, one of compiler, source, clippy, rustfmt.
# Debian keeps a current compiler for its browsers as *-web beside the one of the release.
rust_packages() {
  local version compiler suffix
  for compiler in rustc-web rustc $(apt-cache search --names-only '^rustc-1\.[0-9]+$' 2>/dev/null | cut -d ' ' -f 1 | sort -rV); do
    version=$(apt_candidate "$compiler")
    [ -n "$version" ] && at_least "$version" "$SPURLESS_RUST_MINIMUM" || continue
    suffix=${compiler#rustc}                   # "-web", "" or "-1.NN"
    case $1 in
      compiler) echo "$compiler cargo$suffix" ;;
      source) echo "rust$suffix-src" ;;
      clippy) echo "rust$suffix-clippy" ;;
      rustfmt) echo "rustfmt$suffix" ;;
    esac
    return 0
  done
  return 1
}

# install_rust PART WHY
install_rust() {
  local packages
  command -v apt-cache >/dev/null ||
    fail "$2 needs Rust $SPURLESS_RUST_MINIMUM or newer. Install it with rustup and run again."
  apt_refresh "$2" "a Rust $1"
  packages=$(rust_packages "$1") ||
    fail "$2 needs Rust $SPURLESS_RUST_MINIMUM or newer and apt has none. Install it with rustup and run again."
  # shellcheck disable=SC2086 # several packages are several words
  apt_install "$2" $packages
  hash -r
}

host_rust() {
  [ -z "${SPURLESS_HOST_RUST:-}" ] || return 0
  local directory found
  found=$(command -v cargo || true)
  for directory in "${found%/cargo}" "${CARGO_HOME:-$HOME/.cargo}/bin"; do
    if [ -n "$directory" ] && rust_in "$directory"; then SPURLESS_HOST_RUST=$directory; break; fi
  done
  if [ -z "${SPURLESS_HOST_RUST:-}" ]; then
    distribution_rust >/dev/null || install_rust compiler "compiling"
    SPURLESS_HOST_RUST=$(distribution_rust) || fail "the installed Rust does not run. Try: rustc --version"
  fi
  export SPURLESS_HOST_RUST
  need cc "gcc libc6-dev" "linking"
  say "Rust for this machine: $("$SPURLESS_HOST_RUST/rustc" --version), in $SPURLESS_HOST_RUST"
}

# In a subshell with its own PATH: cargo, rustc, rustdoc and clippy must come from one place.
host_cargo() { (PATH="$SPURLESS_HOST_RUST:$PATH"; unset RUSTC RUSTC_BOOTSTRAP; exec cargo "$@"); }

# has_libraries TARGET: the host's Rust came with TARGET's libraries.
has_libraries() {
  local directory
  directory=$("$SPURLESS_HOST_RUST/rustc" --target "$1" --print target-libdir 2>/dev/null) || return 1
  compgen -G "$directory/libcore-*.rlib" >/dev/null
}

target_rust() {
  host_rust
  if [ "${SPURLESS_RUST_TARGETS:-}" != debian ]; then
    has_libraries "$1" && return 0
    if [ -x "$SPURLESS_HOST_RUST/rustup" ]; then
      say "rustup adds the libraries of $1"
      if "$SPURLESS_HOST_RUST/rustup" target add "$1" >&2 && has_libraries "$1"; then return 0; fi
      say "rustup could not; building them from the distribution's source instead"
    fi
  fi
  source_rust
  [ "$1" != wasm32-unknown-unknown ] || wasm_linker
}

# source_rust: the distribution's compiler and the source of its libraries.
source_rust() {
  [ -z "${SPURLESS_SOURCE_RUST:-}" ] || return 0
  distribution_rust >/dev/null || install_rust compiler "compiling for another machine"
  SPURLESS_SOURCE_RUST=$(distribution_rust) || fail "the installed Rust does not run. Try: rustc --version"
  local library
  library=$("$SPURLESS_SOURCE_RUST/rustc" --print sysroot)/lib/rustlib/src/rust/library
  [ -e "$library/Cargo.lock" ] || install_rust source "the libraries of another machine, from source"
  [ -e "$library/Cargo.lock" ] || fail "$library is missing although its package is installed. Install rustup instead."
  export SPURLESS_SOURCE_RUST
  say "Rust for other machines: $("$SPURLESS_SOURCE_RUST/rustc" --version), in $SPURLESS_SOURCE_RUST"
}

# wasm_linker: Rust's own copy of lld, or a system one, best of the compiler's own LLVM version.
wasm_linker() {
  [ -z "${SPURLESS_WASM_LINKER:-}" ] || return 0
  local major sysroot
  major=$("$SPURLESS_SOURCE_RUST/rustc" --version --verbose | sed -n 's/^LLVM version: \([0-9]*\).*/\1/p')
  sysroot=$("$SPURLESS_HOST_RUST/rustc" --print sysroot)
  find_wasm_linker "$sysroot" "$major" || {
    local package=lld
    [ -z "$(apt_candidate "lld-$major")" ] || package=lld-$major
    apt_install "linking WebAssembly" "$package"
    hash -r
    find_wasm_linker "$sysroot" "$major" || fail "$package is installed but brings no wasm-ld. Install rustup instead."
  }
  export SPURLESS_WASM_LINKER
}

find_wasm_linker() {
  local found
  found=$(find "$1/lib/rustlib" -name rust-lld -type f 2>/dev/null | head -n 1)
  SPURLESS_WASM_LINKER=${found:-$(command -v "wasm-ld-$2" || command -v rust-lld || command -v wasm-ld || true)}
  [ -n "$SPURLESS_WASM_LINKER" ]
}

target_cargo() {
  local target=$1 libraries=$2
  shift 2
  if [ "${SPURLESS_RUST_TARGETS:-}" != debian ] && has_libraries "$target"; then
    host_cargo "$@" --target "$target"
    return
  fi
  # One folder for all such builds: the libraries are compiled once, not once per caller.
  (
    PATH="$SPURLESS_SOURCE_RUST:$PATH"
    unset RUSTC
    export RUSTC_BOOTSTRAP=1 CARGO_TARGET_DIR="$CARGO_TARGET_DIR/build-std"
    [ -z "${SPURLESS_WASM_LINKER:-}" ] || export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER=$SPURLESS_WASM_LINKER
    exec cargo "$@" --target "$target" "-Zbuild-std=$libraries"
  )
}

target_output() {
  if [ "${SPURLESS_RUST_TARGETS:-}" != debian ] && has_libraries "$1"; then printf '%s\n' "$CARGO_TARGET_DIR/$1"
  else printf '%s\n' "$CARGO_TARGET_DIR/build-std/$1"; fi
}
