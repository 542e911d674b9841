# Shared by the scripts beside it; source it, do not run it.
# shellcheck shell=bash

root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd -P)"
target="${CARGO_TARGET_DIR:-$root/target}"

say() { printf '\n== %s\n' "$*" >&2; }
die() { printf '%s: %s\n' "$(basename "$0")" "$1" >&2; exit "${2:-1}"; }
have() { command -v "$1" >/dev/null 2>&1; }

# The build tool's own profile: nothing of it runs long enough to be worth optimising.
tool_profile=(
  --config 'profile.tool.inherits="dev"'
  --config 'profile.tool.opt-level=0'
  --config 'profile.tool.debug=false'
  --profile tool
)

need_rust() {
  have rustup || die "rustup is missing: install Rust by rustup, then run this again"
  local channel
  channel="$(sed -n 's/^channel = "\(.*\)"/\1/p' "$root/rust-toolchain.toml")"
  if ! rustup run "$channel" rustc --version >/dev/null 2>&1; then
    say "installing Rust $channel"
    rustup toolchain install "$channel" --profile minimal --component rustfmt --component clippy >&2
  fi
  if ! rustup target list --toolchain "$channel" --installed | grep -qx wasm32-unknown-unknown; then
    say "adding the wasm target"
    rustup target add --toolchain "$channel" wasm32-unknown-unknown >&2
  fi
}

need_node() {
  have node && have npm || die "Node.js (20.19 or later) with npm is missing"
  node -e 'const [a, b] = process.versions.node.split(".").map(Number); process.exit(a > 20 || (a === 20 && b >= 19) ? 0 : 1)' \
    || die "Node.js $(node --version) is too old: 20.19 or later is needed"
}

# npm_install FOLDER: what its lock file says, once.
npm_install() {
  local folder="$root/$1"
  cmp -s "$folder/package-lock.json" "$folder/node_modules/.installed-lock.json" && return
  say "npm ci in $1"
  (cd "$folder" && npm ci --no-fund --no-audit >&2)
  cp "$folder/package-lock.json" "$folder/node_modules/.installed-lock.json"
}

build_wasm() { (cd "$root" && cargo run --quiet "${tool_profile[@]}" --package kickstill-build -- wasm "$@" >&2); }
# test_boundary ARGUMENT...: crates/web/tests/boundary and lab in Node, with bindings as the page gets
# them.
# Not quiet: cargo would hand that on to the runner, which does not know it.
test_boundary() {
  (cd "$root" \
    && cargo build --quiet "${tool_profile[@]}" --package kickstill-build --features test-runner --bin kickstill-test-runner \
    && WASM_BINDGEN_NO_DEBUG=1 cargo test --package kickstill-web --target wasm32-unknown-unknown --features lab --test boundary --test lab \
      --config "target.wasm32-unknown-unknown.runner = ['$target/tool/kickstill-test-runner']" "$@")
}
build_page() { (cd "$root/www" && npm run --silent build >&2); }

setup_build() { need_rust; need_node; npm_install www; }

find_chromium() { local name; for name in "${KICKSTILL_CHROMIUM:-}" chromium chromium-browser google-chrome; do
  [ -n "$name" ] && command -v "$name" && return; done; return 1; }
find_firefox() { local name; for name in "${KICKSTILL_FIREFOX:-}" firefox-esr firefox; do
  [ -n "$name" ] && command -v "$name" && return; done; return 1; }

# apt_install PACKAGE...: answers 1, and has said why, where it cannot.
apt_install() {
  local run=()
  have apt-get || { printf 'there is no apt-get here\n' >&2; return 1; }
  if [ "$(id -u)" -ne 0 ]; then
    sudo -n true 2>/dev/null || { printf 'no right to install here\n' >&2; return 1; }
    run=(sudo -n)
  fi
  say "installing $*"
  "${run[@]}" apt-get update -qq >&2 || true
  "${run[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@" >&2 \
    || { printf 'apt-get failed\n' >&2; return 1; }
}

# Browsers by the system's package manager; the two variables tell the tests where they are.
need_browsers() {
  local missing=()
  find_chromium >/dev/null || missing+=(chromium)
  find_firefox >/dev/null || missing+=(firefox-esr)
  if [ ${#missing[@]} -gt 0 ]; then
    apt_install "${missing[@]}" \
      || { printf 'no browser to test in: install %s, or set KICKSTILL_CHROMIUM and KICKSTILL_FIREFOX to their programs\n' "${missing[*]}" >&2; return 1; }
  fi
  KICKSTILL_CHROMIUM="$(find_chromium)" || { printf 'chromium did not appear on the path\n' >&2; return 1; }
  KICKSTILL_FIREFOX="$(find_firefox)" || { printf 'firefox did not appear on the path\n' >&2; return 1; }
  export KICKSTILL_CHROMIUM KICKSTILL_FIREFOX
}

# WebKit, its driver and a screen for it, where they can be had; the tests in it are skipped elsewhere.
want_webkit() {
  find_webkit && return
  apt_install webkit2gtk-driver xvfb || true
  find_webkit || say "WebKit cannot be had here (webkit2gtk-driver, xvfb): its tests are skipped"
}
find_webkit() { node -e 'import(process.argv[1]).then(({ webkitParts }) => process.exit(webkitParts() ? 0 : 1))' "$root/tests/browser/support/browsers.mjs"; }
