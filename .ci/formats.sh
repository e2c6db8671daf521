#!/usr/bin/env bash
# The feed and the site map of a built site: well formed, valid by the schemas beside this script, and every
# address in them a page of the site. Usage: formats.sh FOLDER
set -euo pipefail
here="$(cd "$(dirname "$0")" && pwd)"
site="$1"

quiet() { grep -v '^\[warning\]' || true; } # jing's words on its own installation

check() { # FILE SCHEMA
	xmllint --noout "$site/$1"
	jing -c "$here/$2" "$site/$1" 2>&1 | quiet
	[ "${PIPESTATUS[0]}" = 0 ] || { echo "$1 is not valid"; exit 1; }
}

# exists reads addresses and looks for their files; root is the address of the site.
exists() {
	local n=0 address file
	while read -r address; do
		file="${address#"$root"}"
		[ "$file" != "$address" ] || { echo "$address is not under $root"; exit 1; }
		case "$file" in '' | */) file="${file}index.html" ;; esac
		[ -f "$site/$(printf '%b' "${file//%/\\x}")" ] || { echo "$address: there is no $file"; exit 1; }
		n=$((n + 1))
	done
	[ "$n" -gt 0 ] || { echo "$1 names no page"; exit 1; }
	echo "$1: valid, $n addresses"
}

named() { # FILE XPATH
	xmllint --xpath "$2" "$site/$1" | sed -E 's/^[^"]*="?//; s/"$//; s/<[^>]*>//g; s/&amp;/\&/g' | grep .
}

root=$(xmllint --xpath 'string(/*/*[local-name()="id"])' "$site/feed.atom")
check feed.atom atom.rnc
named feed.atom '//*[local-name()="link"]/@href' | exists feed.atom
check sitemap.xml sitemap.rnc
named sitemap.xml '//*[local-name()="loc"]/text()' | exists sitemap.xml

# A planted slip must be found: a feed without its date, a site map with a path instead of an address.
slips=$(mktemp -d)
trap 'rm -rf "$slips"' EXIT
sed '0,/<updated>/{/<updated>/d}' "$site/feed.atom" >"$slips/feed.atom"
sed "0,/<loc>/s|<loc>$root|<loc>/|" "$site/sitemap.xml" >"$slips/sitemap.xml"
for pair in feed.atom:atom.rnc sitemap.xml:sitemap.rnc; do
	if jing -c "$here/${pair#*:}" "$slips/${pair%:*}" >/dev/null 2>&1; then
		echo "the slip in ${pair%:*} was not found"
		exit 1
	fi
done
echo "both planted slips are found"
