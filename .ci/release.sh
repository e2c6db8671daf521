#!/usr/bin/env bash
# Builds the releases for every target into a folder, with their sums: .ci/release.sh DIR
# The one for this machine is built a second time from a copy in a folder of another name, with a cache, a home
# and a clock zone of its own, and must come out to the byte.
set -euo pipefail
out=$(mkdir -p "${1:?say where the releases go: .ci/release.sh DIR}" && cd "$1" && pwd)
cd "$(dirname "$0")/.."

# as in cmd/trug/licences_test.go
targets="linux/amd64 linux/arm64 darwin/amd64 darwin/arm64 windows/amd64 windows/arm64"
export CGO_ENABLED=0

# release SYSTEM/MACHINE FILE: no path of this machine, no state of its repository, no table of names for debuggers.
release() {
	GOOS=${1%/*} GOARCH=${1#*/} go build -trimpath -buildvcs=false -ldflags "-s -w -buildid=" -o "$2" ./cmd/trug
}

go mod verify
for target in $targets; do
	file="$out/trug-${target/\//-}"
	case $target in windows/*) file="$file.exe" ;; esac
	release "$target" "$file"
done
(cd "$out" && sha256sum trug-* >SHA256SUMS && cat SHA256SUMS)

here="$(go env GOHOSTOS)/$(go env GOHOSTARCH)"
first="$out/trug-${here/\//-}"
[ -e "$first" ] || { echo "no release is for this machine, $here: nothing can be compared"; exit 1; }

copy=$(mktemp -d)
trap 'chmod -R u+w "$copy" && rm -rf "$copy"' EXIT
mkdir -p "$copy/a shed of another name" "$copy/home"
tar -c --exclude=./.git --exclude=./public --exclude=./.ci/node_modules . | tar -x -C "$copy/a shed of another name"
modules=$(go env GOMODCACHE)
(
	cd "$copy/a shed of another name"
	export HOME="$copy/home" GOCACHE="$copy/cache" GOMODCACHE="$modules" TZ=Pacific/Chatham LC_ALL=C
	release "$here" "$copy/again"
)
cmp "$first" "$copy/again" || { echo "two builds of the same differ"; exit 1; }
echo "two builds of $here are the same to the byte"

# Static: the system's loader finds nothing to load. It says so of the release, and names libraries of bash.
loads() { LC_ALL=C ldd "$1" 2>&1 || true; }
[[ $(loads "$(command -v bash)") == *"=>"* ]] || { echo "ldd tells of no library even for bash: it cannot be trusted"; exit 1; }
[[ $(loads "$first") == *"not a dynamic executable"* ]] || { echo "$first is not static"; exit 1; }
echo "it is static"

# Every module that the releases hold has its licence in them, and no path of this machine is in them.
"$first" catalogue licences >"$copy/licences"
for file in "$out"/trug-*; do
	go version -m "$file" | awk '$1 == "dep" { print $2, $3 }' | while read -r module version; do
		grep -q "^$module  *$version " "$copy/licences" || { echo "$file holds $module $version without a licence"; exit 1; }
	done
	if grep -qaF -e "$PWD" -e "$modules" "$file"; then echo "$file tells where it was built"; exit 1; fi
done
echo "the licences of $(go version -m "$first" | grep -c '	dep	') modules are in it"
