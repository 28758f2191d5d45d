#!/usr/bin/env bash
# Packs the program as it is checked out, and writes its checksum beside it: npm run release -- FOLDER
set -euo pipefail
cd "$(dirname "$0")/.."
into=$(mkdir -p "${1:?Name a folder for the package.}" && cd "$1" && pwd)
[ -z "$(git status --porcelain)" ] || { echo "There are changes that are not committed." >&2; exit 1; }
package=$(npm pack --silent --pack-destination "$into" ${RELEASE_NO_BUILD:+--ignore-scripts})
cd "$into"
sha256sum "$package" > SHA256SUMS
echo "$into/$package"
cat SHA256SUMS
