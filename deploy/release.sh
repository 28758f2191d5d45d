#!/usr/bin/env bash
# Packs the program as it is checked out, with the packages it was tested with, and writes the checksum beside it:
#   npm run release -- FOLDER
set -euo pipefail
cd "$(dirname "$0")/.."
into=$(mkdir -p "${1:?Name a folder for the package.}" && cd "$1" && pwd)
[ -z "$(git status --porcelain)" ] || { echo "There are changes that are not committed." >&2; exit 1; }
# npm packs no package-lock.json; under this name it does, and `npm ci` goes by it where the package is unpacked.
trap "rm -f '$PWD/npm-shrinkwrap.json'" EXIT
cp package-lock.json npm-shrinkwrap.json
package=$(npm pack --silent --pack-destination "$into" ${RELEASE_NO_BUILD:+--ignore-scripts})
cd "$into"
sha256sum "$package" > SHA256SUMS
echo "$into/$package"
cat SHA256SUMS
