#!/usr/bin/env bash
# Builds the core for the browser.
# usage: web/build.sh [OUT.wasm]        (default: web/dist/core.wasm)
#
# std is built along, without the words of its panics, which nobody in a browser could read (a twentieth smaller): with
# rustup's source of std, else with Debian's rustc-web and its source, unpacked, not installed, into $CI_SCRATCH (else
# the user's cache). Exit 77: neither can be had here. Binaryen's wasm-opt, unpacked likewise where it is not installed,
# makes it a fiftieth smaller.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
out=$(realpath -m "${1:-$here/dist/core.wasm}")
scratch=${CI_SCRATCH:-${XDG_CACHE_HOME:-$HOME/.cache}/chutescribe-ci}
target=wasm32-unknown-unknown
mkdir -p "$scratch" "$(dirname "$out")"
export CARGO_TARGET_DIR=${WASM_TARGET_DIR:-$scratch/wasm-target}

# Lists of packages may be missing in a fresh container: fetches them where they do not have this one.
lists_with() {
    local root=
    if [ -z "$(apt-cache depends "$1" 2>/dev/null)" ]; then
        [ "$(id -u)" -eq 0 ] || root=sudo
        $root apt-get update -qq
    fi
}

# Unpacks packages into a folder, in place of what was there, without installing them.
debian() {
    local tools=$1 deb
    rm -rf "$tools"
    mkdir -p "$tools/debs"
    (cd "$tools/debs" && apt-get download -qq "${@:2}" 2>/dev/null)
    for deb in "$tools"/debs/*.deb; do dpkg -x "$deb" "$tools"; done
    rm -rf "$tools/debs"
}

# rustc and the source of std, of one version.
unpack() {
    local tools=$1 std llvm
    lists_with libstd-rust-web-dev
    std=$(apt-cache depends libstd-rust-web-dev | sed -n 's/^ *Depends: \(libstd-rust-web-[0-9.]*\)$/\1/p' | head -n 1)
    llvm=$(apt-cache depends "$std" | sed -n 's/^ *Depends: \(libllvm[0-9]*\)$/\1/p' | head -n 1)
    debian "$tools" rustc-web rust-web-src libstd-rust-web-dev "$std" "$llvm" libz3-4
    # rustc finds its libraries beside itself only through this.
    cat >"$tools/rustc" <<WRAPPER
#!/bin/sh
LD_LIBRARY_PATH=$tools/usr/lib/x86_64-linux-gnu\${LD_LIBRARY_PATH:+:\$LD_LIBRARY_PATH} exec $tools/usr/bin/rustc "\$@"
WRAPPER
    chmod +x "$tools/rustc"
    "$tools/rustc" -V
    touch "$tools/.done"
}

# Puts a smaller core in the place of this one, where Binaryen can be had.
shrink() {
    local core=$1 tools=$scratch/binaryen
    if ! command -v wasm-opt >/dev/null; then
        command -v apt-get >/dev/null || { echo 'no wasm-opt: the core stays as it is' >&2; return; }
        if [ ! -e "$tools/.done" ]; then
            lists_with binaryen
            debian "$tools" binaryen
            touch "$tools/.done"
        fi
        PATH=$tools/usr/bin:$PATH
    fi
    # What the compiler's own code needs, and no more. Flat, and put together anew, it is another 150th smaller, and once
    # more a 600th; and a 200th, as nothing lies in the first kilobyte of memory but the end of the stack, which nobody
    # comes to.
    LD_LIBRARY_PATH=$tools/usr/lib/x86_64-linux-gnu${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH} wasm-opt \
        --enable-bulk-memory --enable-sign-ext --enable-nontrapping-float-to-int \
        -Oz --flatten --rereloop -Oz -Oz --low-memory-unused -Oz --flatten --rereloop -Oz -Oz "$core" -o "$core.small"
    mv "$core.small" "$core"
}

# Neither std from source nor panics without words are stable yet.
export RUSTC_BOOTSTRAP=1
flags="--remap-path-prefix=${CARGO_HOME:-$HOME/.cargo}=/cargo --remap-path-prefix=$(dirname "$here")=/src"
std=$(rustc --print sysroot)/lib/rustlib/src/rust
if ! [ -d "$std" ] && ! timeout 300 rustup component add rust-src 2>/dev/null; then
    tools=${WASM_TC:-$scratch/wasm-toolchain}
    command -v apt-get >/dev/null || {
        echo "neither \`rustup component add rust-src\` nor Debian's rustc-web can be had here" >&2
        exit 77
    }
    [ -e "$tools/.done" ] || unpack "$tools"
    linker=$(find "$(rustc --print sysroot)/lib/rustlib" -path '*/bin/rust-lld' | head -n 1)
    std=$(readlink -f "$tools/usr/lib/rustlib/src/rust")
    export RUSTC="$tools/rustc"
    export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER="${linker:-wasm-ld-19}"
    flags+=" --remap-path-prefix=$tools=/tc"
fi
flags+=" --remap-path-prefix=$std=/rust -Zunstable-options -Cpanic=immediate-abort"
export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS=$flags
cargo build --locked --release --lib --manifest-path "$here/core/Cargo.toml" --target $target -Zbuild-std=std
cp "$CARGO_TARGET_DIR/$target/release/chutescribe_core.wasm" "$out"
shrink "$out"
printf '%s: %d bytes, %d gzipped\n' "$out" "$(stat -c %s "$out")" "$(gzip -9 -c "$out" | wc -c)"
