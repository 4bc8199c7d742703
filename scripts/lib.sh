# What setup, start, test and bench share. Sourced by bash, never run.
#
# Every function that can fail ends the script through `die`: one line that says what is missing and what to
# do. The noise of apt, CMake and the compilers goes to .deps/log/, and that line names the file.

set -euo pipefail
export LC_ALL=C.UTF-8

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
deps=$root/.deps
logs=$deps/log
self=${called_as:-$(basename "$0")}     # what the person called: setup may run for start
python=/usr/bin/python3          # Debian's own: the modules that setup installs belong to it
jobs=${JOBS:-$(nproc)}
export HANGTIME_ROOT=$root

# Debian's Emscripten needs Debian's acorn, which another Node.js does not look for by itself.
if [ -d /usr/share/nodejs/acorn ]; then export NODE_PATH=/usr/share/nodejs${NODE_PATH:+:$NODE_PATH}; fi

die() { printf '%s: %s\n' "$self" "$*" >&2; exit 1; }
note() { printf '%s: %s\n' "$self" "$*" >&2; }

# need_disk MEGABYTES FOLDER WHAT
need_disk() {
    local free
    free=$(($(df --output=avail -m "$2" | tail -n 1)))
    if [ "$free" -lt "$1" ]; then
        die "not enough disk for $3: $free MB free under $2, $1 MB needed; free some and run this again"
    fi
}

full='the disk is full; free some and run this again'
offline='connect to the network and run this again'
unwritable="make the project's folder writable"
disk_was_full() { grep -q 'No space left on device' "$1"; }

# quietly LOG MESSAGE COMMAND...: runs it, output into the log; dies with MESSAGE if it fails.
quietly() {
    local log=$logs/$1 message=$2
    shift 2
    mkdir -p "$logs" || die "cannot write to $logs; $unwritable"
    "$@" >"$log" 2>&1 </dev/null && return
    if disk_was_full "$log"; then message=$full; fi
    die "$message (output: ${log#"$root"/})"
}

# --- Debian packages ---

missing_packages() {
    local name
    for name in "$@"; do
        [ "$(dpkg-query -W -f '${db:Status-Status}' "$name" 2>/dev/null)" = installed ] ||
            printf '%s ' "$name"
    done
}

apt_get() { DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 "$@"; }

# install_packages MEGABYTES NAME...: installs what is missing of them.
install_packages() {
    local megabytes=$1 missing
    shift
    missing=$(missing_packages "$@")
    [ -n "$missing" ] || return 0
    command -v apt-get >/dev/null ||
        die "needs a Debian 12 machine (no apt-get here); install by hand: $missing"
    [ "$(id -u)" = 0 ] || die "needs root to install packages; run as root once: apt-get install ${missing% }"
    need_disk "$megabytes" / "the packages"
    note "installing ${missing% }"
    quietly apt-update.log "the package sources cannot be reached; $offline" \
        apt_get -o APT::Update::Error-Mode=any update
    # shellcheck disable=SC2086
    quietly apt-install.log "apt-get could not install $missing; see what it says and run this again" \
        apt_get -y --no-install-recommends install $missing
}

# --- Source packages of another release ---

# The first ordinary (not security) archive among the machine's own package sources, whichever way they are
# written.
archive_uri() {
    apt-get indextargets --format '$(REPO_URI) $(COMPONENT)' 'Created-By: Packages' 2>/dev/null |
        awk '$2 == "main" && $1 !~ /security/ { print $1; exit }'
}

# source_package NAME: the folder .deps/src/NAME with what sources.lock pins, fetched and verified if it is
# not there.
source_package() {
    local name=$1 suite package version file sum dir stamp uri work keyring
    read -r suite package version file sum < <(awk -v n="$name" '$2 == n' "$root/scripts/sources.lock") ||
        die "scripts/sources.lock has no line for $name; restore the file"
    dir=$deps/src/$package
    stamp=$dir/.sha256
    [ "$(cat "$stamp" 2>/dev/null)" != "$sum" ] || return 0

    mkdir -p "$deps/src" "$deps/archives" 2>/dev/null || die "cannot write to $deps; $unwritable"
    need_disk 300 "$deps" "the sources of $package"
    if ! sha256sum --status -c <<<"$sum  $deps/archives/$file" 2>/dev/null; then
        local by_hand="put $file into .deps/archives"
        uri=$(archive_uri)
        [ -n "$uri" ] || die "no Debian archive among this machine's package sources; add one, or $by_hand"
        keyring=/usr/share/keyrings/debian-archive-keyring.gpg
        [ -r "$keyring" ] ||
            die "the archive's keyring is missing; run: apt-get install debian-archive-keyring"
        note "fetching the source of $package $version"
        work=$(mktemp -d "$deps/fetch.XXXXXX")
        # shellcheck disable=SC2064
        trap "rm -rf '$work'" EXIT
        mkdir -p "$work/lists/partial" "$work/cache/archives/partial" "$work/get"
        printf 'Types: deb-src\nURIs: %s\nSuites: %s\nComponents: main\nSigned-By: %s\n' \
            "$uri" "$suite" "$keyring" >"$work/next.sources"
        local options=(-o "Dir::Etc::sourcelist=$work/next.sources" -o Dir::Etc::sourceparts=/dev/null
                       -o "Dir::State::Lists=$work/lists" -o "Dir::Cache=$work/cache"
                       -o APT::Sandbox::User=root)
        quietly source-update.log "the package sources cannot be reached for $package; $offline" \
            apt-get "${options[@]}" -o APT::Update::Error-Mode=any update
        cd "$work/get"
        quietly source-fetch.log "$package $version cannot be fetched; $offline, or $by_hand" \
            apt-get "${options[@]}" source --download-only "$package=$version"
        cd "$root"
        sha256sum --status -c <<<"$sum  $work/get/$file" 2>/dev/null ||
            die "$file has not the SHA-256 of scripts/sources.lock; nothing was unpacked, fetch it again"
        mv "$work/get/$file" "$deps/archives/$file"
        rm -rf "$work"
        trap - EXIT
    fi

    rm -rf "$dir.new"
    mkdir -p "$dir.new"
    quietly "unpack-$package.log" "$file cannot be unpacked; free some disk and run this again" \
        tar -xf "$deps/archives/$file" -C "$dir.new" --strip-components=1
    printf '%s\n' "$sum" >"$dir.new/.sha256"
    rm -rf "$dir"
    mv "$dir.new" "$dir"
}

imgui_dir() { printf '%s\n' "${IMGUI_DIR:-$deps/src/imgui}"; }

# --- Tool chains ---

find_emscripten() {
    emxx=$(command -v "${EMXX:-em++}") ||
        die "no em++ in PATH; run scripts/setup as root, or name yours: EMXX=/path/to/em++ scripts/$self"
    emcmake=$(dirname "$(readlink -f "$emxx")")/emcmake
    [ -x "$emcmake" ] || emcmake=$(dirname "$emxx")/emcmake
    [ -x "$emcmake" ] ||
        die "no emcmake beside $emxx; name a whole Emscripten: EMXX=/path/to/em++ scripts/$self"
}

# What a built Catch2 depends on; when it changes, Catch2 is built again.
tool_chain_id() {
    case $1 in
        native) "${CXX:-g++}" --version | awk "NR == 1" ;;
        wasm) printf "%s " "$emxx"; "$emxx" --version | awk "NR == 1" ;;
    esac
    awk '$2 == "catch2" { print $5 }' "$root/scripts/sources.lock"
}

# build_catch2 native|wasm: a static library in .deps/catch2-KIND, built once for all build trees.
build_catch2() {
    local kind=$1 dir=$deps/catch2-$1 tree=$deps/tree-catch2-$1 id options=()
    id=$(tool_chain_id "$kind")
    [ "$(cat "$dir/.tool-chain" 2>/dev/null)" != "$id" ] || return 0
    note "building Catch2 ($kind; once, about half a minute)"
    need_disk 300 "$deps" "Catch2"
    rm -rf "$tree" "$dir.new"
    if [ "$kind" = wasm ]; then options=(-DCMAKE_CXX_FLAGS=-fwasm-exceptions); fi
    quietly "catch2-$kind.log" "Catch2 cannot be configured ($kind)" \
        ${kind/native/env} cmake -S "$deps/src/catch2" -B "$tree" -G Ninja -DCMAKE_BUILD_TYPE=Release \
        -DCMAKE_CXX_STANDARD=20 -DCMAKE_INSTALL_PREFIX="$dir.new" -DBUILD_TESTING=OFF \
        -DCATCH_INSTALL_DOCS=OFF -DCATCH_INSTALL_EXTRAS=OFF \
        -DCMAKE_UNITY_BUILD=ON -DCMAKE_UNITY_BUILD_BATCH_SIZE=20 "${options[@]}"   # a third of the time
    quietly "catch2-$kind.log" "Catch2 cannot be built ($kind)" \
        cmake --build "$tree" -j "$jobs" --target install
    printf '%s\n' "$id" >"$dir.new/.tool-chain"
    rm -rf "$dir" "$tree"
    mv "$dir.new" "$dir"
}
wasm() { "$emcmake" "$@"; }      # build_catch2 and configure call this by the kind's name

# --- The project's own builds ---

# configure native|wasm [-DOPTION...]: build/KIND, configured again only when the options or the tool chain
# changed.
configure() {
    local kind=$1 tree=$root/build/$1 id
    shift
    mkdir -p "$tree" 2>/dev/null || die "cannot write to $tree; $unwritable"
    need_disk 400 "$tree" "the build"
    local options=(-DIMGUI_DIR="$(imgui_dir)" -DCATCH2_DIR="$deps/catch2-$kind" "$@")
    # Catch2 is no option, but whether it is there decides whether tests are built.
    id="$(tool_chain_id "$kind") $(cat "$deps/catch2-$kind/.tool-chain" 2>/dev/null || :) ${options[*]}"
    if [ "$(cat "$tree/.configured" 2>/dev/null)" != "$id" ]; then
        rm -f "$tree/CMakeCache.txt"
        quietly "configure-$kind.log" "CMake cannot configure the $kind build" \
            ${kind/native/env} cmake -S "$root" -B "$tree" -G Ninja "${options[@]}"
        printf '%s' "$id" >"$tree/.configured"
    fi
}

# build native|wasm TARGET...: on failure the compiler's words are shown too, since a developer wants them.
build() {
    local kind=$1 tree=$root/build/$1 log=$logs/build-$1.log
    shift
    if ! cmake --build "$tree" -j "$jobs" --target "$@" >"$log" 2>&1 </dev/null; then
        if disk_was_full "$log"; then die "$full"; fi
        grep -E -A 8 'error|FAILED|undefined|ninja:' "$log" | head -n 60 >&2 || tail -n 30 "$log" >&2
        die "the $kind build of $* failed (output: ${log#"$root"/})"
    fi
}

# What people use: build/hangtime and build/hangtime.html.
build_product() {
    configure native
    build native hangtime
    configure wasm
    build wasm page
    take native/hangtime
    take wasm/hangtime.html
}

# take FILE: build/KIND/FILE beside the other products in build/, if it is another one than there.
take() {
    cmp -s "$root/build/$1" "$root/build/${1#*/}" || cp "$root/build/$1" "$root/build/${1#*/}" ||
        die "build/${1#*/} cannot be written; free some disk and run this again"
}

# The browser tests' packages, exactly those of the lock file.
install_browser_packages() {
    local dir=$root/tests/browser sum
    sum=$(sha256sum <"$dir/package-lock.json")
    [ "$(cat "$dir/node_modules/.lock-sum" 2>/dev/null)" != "$sum" ] || return 0
    note "installing the browser tests' packages"
    need_disk 200 "$dir" "the browser tests' packages"
    cd "$dir"
    quietly npm.log "the npm packages cannot be fetched; $offline" \
        npm ci --ignore-scripts
    cd "$root"
    printf '%s\n' "$sum" >"$dir/node_modules/.lock-sum"
}
