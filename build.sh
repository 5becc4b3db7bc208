#!/usr/bin/env bash
# Build, serve, test and time Turnback. `./build.sh` alone says how.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"

readonly WASM_TARGET=wasm32-unknown-unknown
readonly GLUE=www/pkg

usage() {
    cat <<'TEXT'
usage: ./build.sh VERB

  build   compile the core to WebAssembly and complete www/, which any static
          server can serve
  serve   build, then serve www/ on this machine: http://127.0.0.1:8080/
          (another port: PORT=8081 ./build.sh serve)
  test    build, then run every check: format, lints, the core's tests, types
          and lints of the page, and the page in a real browser
  one-file  build, then write the page as one file that runs from a folder
          without a server: target/one-file/turnback.html
  release build, then make the folder to put on any static host:
          target/release-page/
  fuzz [SECONDS [READER...]]
          throw mutated input at every reader, 600 s each unless told; or at
          those that are named as in tests/fuzz/seeds/
  bench   build, then time the core here and in Chromium beside the peers

What is missing is installed where that can be done: the WebAssembly target by
rustup, JavaScript packages by npm, browsers and poppler-utils by apt-get (as
root), the peers of `bench` by pip. Needed beforehand: bash, cargo (https://rustup.rs), and Node.js
20 or newer with npm. Nothing is fetched when everything is there.
TEXT
}

say() { printf '== %s\n' "$*" >&2; }

fail() {
    printf 'build.sh: %s\n' "$*" >&2
    exit 1
}

have() { command -v "$1" >/dev/null 2>&1; }

# --- What the machine must have -------------------------------------------

need_rust() {
    have cargo || fail "cargo is missing. Install Rust from https://rustup.rs, open a new shell, and run this again."
}

need_node() {
    have node && have npm || fail "Node.js or npm is missing. Install Node.js 20 or newer (https://nodejs.org) and run this again."
    local major
    major=$(node --print 'process.versions.node.split(".")[0]')
    ((major >= 20)) || fail "Node.js $major is too old. Install Node.js 20 or newer and run this again."
}

# Install Debian packages, where this user may.
debian() {
    have apt-get || return 1
    local apt=(apt-get)
    if (($(id -u) != 0)); then
        have sudo && sudo -n true 2>/dev/null || return 1
        apt=(sudo -n apt-get)
    fi
    say "Installing from Debian: $*"
    # A list that is out of date names versions that are gone, so the second
    # try comes after an update.
    DEBIAN_FRONTEND=noninteractive "${apt[@]}" install -y --no-install-recommends "$@" </dev/null >/dev/null 2>&1 ||
        { "${apt[@]}" update </dev/null >/dev/null &&
            DEBIAN_FRONTEND=noninteractive "${apt[@]}" install -y --no-install-recommends "$@" </dev/null >/dev/null; }
}

need_browsers() {
    # Without its recommended packages Chromium has no typeface to draw with.
    have chromium || debian chromium fonts-liberation ||
        fail "Chromium is missing. Install it as root (apt-get install chromium fonts-liberation) and run this again."
    have firefox-esr || debian firefox-esr ||
        fail "Firefox is missing. Install it as root (apt-get install firefox-esr) and run this again."
}

# What turns a printed page into text and pictures, to be checked.
need_paper() {
    have pdftoppm && have pdftotext || debian poppler-utils ||
        fail "pdftoppm and pdftotext are missing. Install them as root (apt-get install poppler-utils) and run this again."
}

# Install the npm packages of a directory, unless its lock file's are there.
npm_packages() {
    local directory=$1 lock wanted
    lock=$directory/node_modules/.installed-from
    wanted=$(sha256sum <"$directory/package-lock.json")
    if [[ -f $lock && $(<"$lock") == "$wanted" ]]; then return; fi
    say "Installing the npm packages of $directory"
    # The browsers come from the system, never from a test tool's download.
    PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD=1 PUPPETEER_SKIP_DOWNLOAD=1 \
        npm ci --prefix "$directory" --no-audit --no-fund --loglevel=error </dev/null >&2 ||
        fail "npm could not install the packages of $directory. Check the network, then run this again."
    printf '%s\n' "$wanted" >"$lock"
}

# --- The WebAssembly target ------------------------------------------------

# Set by `wasm_target`: the command that compiles for WebAssembly here, and
# what it must add to a build.
wasm_cargo=(cargo)
wasm_flags=(--target "$WASM_TARGET")

wasm_target() {
    if [[ -d $(rustc --print sysroot)/lib/rustlib/$WASM_TARGET/lib ]]; then return; fi
    if have rustup; then
        say "Adding the target $WASM_TARGET"
        if rustup target add "$WASM_TARGET" >&2; then return; fi
    fi
    # Where rustup reaches no server, Debian's own compiler can build the
    # standard library from its sources.
    if debian rustc-web cargo-web rust-web-src lld-19; then
        wasm_cargo=(env PATH="/usr/bin:$PATH" RUSTC_BOOTSTRAP=1
            CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER=wasm-ld-19 /usr/bin/cargo)
        wasm_flags+=(-Zbuild-std=std,panic_abort)
        return
    fi
    fail "Rust's target $WASM_TARGET is missing. Add it (rustup target add $WASM_TARGET), or install Debian's rustc-web, cargo-web, rust-web-src and lld-19 as root; then run this again."
}

# Compile a library for WebAssembly. Level 2 instead of 3: when that was
# measured (2026-11-25), a lesson took 4 % longer and the page was 10 KB
# lighter, compressed. A third of the usual size at which a function is copied
# to where it is called: another 5 KB, and no slower, because what the solver
# calls at every step says `#[inline]`.
wasm_library() {
    CARGO_PROFILE_RELEASE_OPT_LEVEL=2 CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS=-Cllvm-args=-inline-threshold=75 \
        "${wasm_cargo[@]}" rustc --release --locked --lib --crate-type cdylib "$@" "${wasm_flags[@]}"
}

# --- build -----------------------------------------------------------------

# Make the glue for a compiled module and optimise it, unless the directory
# holds what came of the very same module and tools. What only the methods of a
# class call is laid into a file of its own, where a class is named.
glue() {
    local raw=$1 directory=$2 class=${3:-} name made_from stamp fresh=target/glue
    name=$(basename "$raw" .wasm)
    stamp=target/glue-of-$name
    made_from=$(cat "$raw" target/tool/bindgen tests/tools/package-lock.json build.sh | sha256sum)
    if [[ -f $directory/$name.js && -f $directory/${name}_bg.wasm && -f $stamp && $(<"$stamp") == "$made_from" ]]; then
        return
    fi
    say "Making the glue of $name and optimising"
    rm -rf "$fresh"
    target/tool/bindgen glue "$raw" "$fresh"
    # No feature flags: the file says itself what it uses, and what
    # --all-features emits is refused by browsers.
    # Low memory is the far end of the stack, so no address below 1024 is used.
    tests/tools/node_modules/.bin/wasm-opt -O3 --converge --low-memory-unused "$fresh/${name}_bg.wasm" -o "$fresh/optimised.wasm"
    mv "$fresh/optimised.wasm" "$fresh/${name}_bg.wasm"
    if [[ -n $class ]]; then target/tool/bindgen part "$fresh" "$name" "$class"; fi
    rm -rf "$directory"
    mkdir -p "$(dirname "$directory")"
    mv "$fresh" "$directory"
    printf '%s\n' "$made_from" >"$stamp"
}

build() {
    need_rust
    need_node
    wasm_target
    npm_packages tests/tools

    say "Compiling the core"
    wasm_library
    cargo build --locked --profile tool -p bindgen
    glue target/$WASM_TARGET/release/turnback.wasm "$GLUE" desk
    node tests/tools/bundle.mjs www || fail "the page's modules could not be joined; what is wrong stands above."
    say "www/ is complete: $(wc -c <"$GLUE/turnback_bg.wasm") bytes of WebAssembly for the bench, $(wc -c <"$GLUE/turnback_desk.wasm") for the desk"
}

serve() {
    build
    exec node tests/tools/serve.mjs www "${PORT:-8080}"
}

one_file() {
    build
    node tests/tools/onefile.mjs www target/one-file/turnback.html
}

release() {
    build
    node tests/tools/release.mjs www target/release-page
}

# --- test ------------------------------------------------------------------

failures=()

# Run one check and go on to the next, so that one run tells everything.
check() {
    local name=$1 started=$SECONDS
    shift
    say "$name"
    if "$@"; then
        printf '   passed in %d s: %s\n' $((SECONDS - started)) "$name" >&2
    else
        printf '   FAILED after %d s: %s\n' $((SECONDS - started)) "$name" >&2
        failures+=("$name")
    fi
}

# Wait for what was begun beside the other checks, and show what it said.
ended() {
    local status=0
    wait "$1" || status=$?
    cat "$2" >&2
    return "$status"
}

# As cargo's own `clippy` does it, but over what is built anyway: to check all
# that this tool stands on took longer than to build it.
tool_lints() {
    RUSTC_WORKSPACE_WRAPPER=clippy-driver CLIPPY_ARGS=-Dwarnings__CLIPPY_HACKERY__ \
        cargo build --locked --profile tool -p bindgen
}

# A run in which nothing was run must not pass for a good one.
core_tests() {
    local log=target/core-tests.log passed
    # To the end: what fails late must not wait for what fails early.
    cargo test --locked --no-fail-fast 2>&1 | tee "$log" || return 1
    passed=$(awk '/^test result:/ { sum += $4 } END { print sum + 0 }' "$log")
    ((passed > 0)) || { echo "no test of the core ran" >&2; return 1; }
}

browser_tests() {
    node tests/browser/run.mjs 2>&1 | tee target/browser-tests.log
}

page_lints() {
    tests/browser/node_modules/.bin/biome check --config-path=tests/browser/lint.json --error-on-warnings www tests/browser tests/tools tests/bench
}

run_tests() {
    need_rust
    need_node
    need_browsers
    need_paper
    npm_packages tests/browser
    wasm_target
    mkdir -p target

    # A shell of its own: inside an `if`, bash no longer stops at an error. And
    # beside the lints: it is mostly one compiler at work after another, which
    # leaves a second processor idle.
    ./build.sh build >target/build.log 2>&1 &
    local building=$!
    check "Format of the core" cargo fmt --all --check
    check "Lints of the core, native" cargo clippy --locked --workspace --exclude bindgen --all-targets -- -D warnings
    # Debian's compiler, the second way to the target, comes without clippy.
    if [[ ${wasm_cargo[0]} == cargo ]]; then
        check "Lints of the core, WebAssembly" cargo clippy --locked --lib "${wasm_flags[@]}" -- -D warnings
    fi
    check "The page and its core build" ended "$building" target/build.log
    check "Lints of the tool that makes the glue" tool_lints
    check "Tests of the core" core_tests
    check "Format and lints of the page" page_lints
    check "Types of the page" tests/browser/node_modules/.bin/tsc --project tests/browser
    check "The page in real browsers" browser_tests

    if ((${#failures[@]} > 0)); then
        printf '\n%d of the checks failed:\n' "${#failures[@]}" >&2
        printf '  %s\n' "${failures[@]}" >&2
        exit 1
    fi
    printf '\nAll checks passed in %d s.\n' "$SECONDS" >&2
}

# --- fuzz ------------------------------------------------------------------

# Each reader of what comes from outside, under libFuzzer, so many seconds:
# with at most 512 MB, no single request for memory above 64 MB, and no input
# that takes longer than 50 ms (tests/fuzz/src/main.rs measures that, as the
# processor's time: libFuzzer's own limit is the clock's, and on a busy machine a
# process may wait for many seconds).
fuzz() {
    local seconds=${1:-600} reader found=target/fuzz/found readers=("${@:2}")
    [[ $seconds =~ ^[0-9]+$ ]] || fail "fuzz wants a number of seconds, such as ./build.sh fuzz 600"
    need_rust
    have c++ || debian g++ || fail "A C++ compiler is missing, which libFuzzer needs. Install it as root (apt-get install g++) and run this again."
    say "Compiling the readers with counters of their branches"
    # What libFuzzer reads to see where an input led; the stable compiler has
    # it, so that no other one is needed.
    RUSTFLAGS="--cfg fuzzing -Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4 -Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Cllvm-args=-sanitizer-coverage-pc-table -Cllvm-args=-sanitizer-coverage-trace-compares -Ccodegen-units=1" \
        cargo build --release --locked --manifest-path tests/fuzz/Cargo.toml --target-dir target/fuzz --target "$(rustc -vV | awk '/^host:/ { print $2 }')"
    ((${#readers[@]} > 0)) || { readers=(tests/fuzz/seeds/*) && readers=("${readers[@]##*/}"); }
    local failed=()
    for reader in "${readers[@]}"; do
        [[ -d tests/fuzz/seeds/$reader ]] || fail "there is no reader '$reader'; tests/fuzz/seeds/ names them all"
        mkdir -p "$found/$reader/corpus" "$found/$reader/crashes"
        say "$reader: $seconds s"
        READER=$reader nice -n 19 target/fuzz/*/release/fuzz "$found/$reader/corpus" "tests/fuzz/seeds/$reader" \
            -max_total_time="$seconds" -max_len=16384 -timeout=60 -rss_limit_mb=512 -malloc_limit_mb=64 \
            -artifact_prefix="$found/$reader/crashes/" -print_final_stats=1 >"$found/$reader/log" 2>&1 ||
            failed+=("$reader")
        awk -v reader="$reader" '/ cov: / { for (i = 1; i < NF; i++) if ($i == "cov:") { if (!first) first = $(i + 1); last = $(i + 1) } }
            /^stat::number_of_executed_units/ { runs = $2 } /^stat::peak_rss_mb/ { mb = $2 }
            END { printf "%s: %d inputs, branches reached %d at first and %d in the end, peak %d MB\n", reader, runs, first, last, mb }' "$found/$reader/log"
    done
    ((${#failed[@]} == 0)) || fail "found something: ${failed[*]}. The input lies in $found/READER/crashes, the story in $found/READER/log. Put the input among tests/fuzz/seeds/READER, so that every test run reads it, then mend the reader."
}

# --- bench -----------------------------------------------------------------

# The peers, in a virtual environment of their own.
need_peers() {
    local environment=tests/bench/.venv wanted
    have python3 || fail "Python is missing. Install Python 3.11 or newer (apt-get install python3 python3-venv) and run this again."
    wanted=$(sha256sum <tests/bench/peers/requirements.txt)
    if [[ -f $environment/installed-from && $(<"$environment/installed-from") == "$wanted" ]]; then return; fi
    say "Installing the peers"
    rm -rf "$environment"
    python3 -m venv "$environment" || fail "Python cannot make a virtual environment. Install python3-venv as root and run this again."
    "$environment/bin/pip" install --quiet --disable-pip-version-check --requirement tests/bench/peers/requirements.txt >&2 ||
        fail "pip could not install the peers. Check the network, then run this again."
    printf '%s\n' "$wanted" >"$environment/installed-from"
}

bench() {
    need_browsers
    npm_packages tests/browser
    need_peers
    build
    say "Compiling the workloads"
    wasm_library -p workloads
    cargo build --release --locked -p workloads
    glue target/$WASM_TARGET/release/workloads.wasm target/bench-page

    # One after another, on a machine that had better do nothing else: how
    # busy it was stands in the report.
    local results=target/bench load
    mkdir -p "$results"
    load=$(cut -d ' ' -f 1 /proc/loadavg)
    printf '{"load":%s}\n' "$load" >"$results/start.jsonl"
    awk -v load="$load" 'BEGIN { exit !(load > 1) }' &&
        say "This machine is busy (load $load): the times will be worth little"
    say "Timing the peers"
    PYTHONDONTWRITEBYTECODE=1 tests/bench/.venv/bin/python tests/bench/peers/run.py tests/reference/chemistry >"$results/peers.jsonl"
    say "Timing the core natively"
    target/release/workloads >"$results/native.jsonl"
    say "Timing the core in Chromium"
    node tests/bench/browser.mjs target/bench-page >"$results/chromium.jsonl"
    say "Timing the page"
    node tests/bench/page.mjs >"$results/page.jsonl"
    node tests/bench/report.mjs "$results" | tee "$results/report.md"
}

case "${1:-}" in
    build) build ;;
    serve) serve ;;
    test) run_tests ;;
    one-file) one_file ;;
    release) release ;;
    fuzz) fuzz "${@:2}" ;;
    bench) bench ;;
    "" | help | -h | --help) usage ;;
    *)
        usage >&2
        fail "there is no verb '$1'"
        ;;
esac
