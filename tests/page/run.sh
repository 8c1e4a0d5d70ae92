#!/usr/bin/env bash
# The page in headless Chromium.
# usage: tests/page/run.sh PROGRAM CORE      (exit 77: something it needs cannot be installed)
#
# PAGE_TESTS="main same" runs only those files; PICTURES=DIR writes screenshots there.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
PROGRAM=$(realpath "$1") CORE=$(realpath "$2")
export PROGRAM CORE
scratch=${CI_SCRATCH:-${XDG_CACHE_HOME:-$HOME/.cache}/chutescribe-ci}
mkdir -p "$scratch"
root=; [ "$(id -u)" -eq 0 ] || root=sudo

CHROMIUM=$(command -v chromium || command -v chromium-browser || true)
if [ -z "$CHROMIUM" ]; then
    { $root apt-get update -q && $root apt-get install -qy --no-install-recommends chromium; } >/dev/null || exit 77
    CHROMIUM=$(command -v chromium) || exit 77
fi
export CHROMIUM
command -v npm >/dev/null || $root apt-get install -qy --no-install-recommends nodejs npm >/dev/null || exit 77

# Node looks for packages beside the tests and above: so the tests run from a copy beside their packages.
work=$scratch/page-tests
mkdir -p "$work"
rm -rf "$work/tests"
cp "$here"/package.json "$here"/package-lock.json "$here"/.npmrc "$work/"
cmp -s "$work/package-lock.json" "$work/.installed" || {
    (cd "$work" && npm ci --ignore-scripts --silent) || exit 77
    cp "$work/package-lock.json" "$work/.installed"
}
mkdir "$work/tests"
cp "$here"/*.mjs "$work/tests/"
REPO=$(cd "$here/../.." && pwd)
export REPO
export XDG_DATA_HOME=$work/no-data

files=()
for name in ${PAGE_TESTS:-main same lost hostile usable offline speed}; do files+=("$work/tests/$name.test.mjs"); done
node --test --test-timeout=120000 --test-concurrency=1 --test-reporter=spec "${files[@]}"
