#!/usr/bin/env bash
# The Nu HTML checker on pages and style sheets, then html-validate on the pages. Anything that they say
# and that vnu-known.txt does not know is a failure, warnings too. Usage: html.sh FOLDER
set -euo pipefail
site=$(cd "$1" && pwd)
cd "$(dirname "$0")"
failed=0

nu() {
	if ! said=$(java -jar node_modules/vnu-jar/build/dist/vnu.jar --stdout --filterfile vnu-known.txt "$@" "$site") || [ -n "$said" ]; then
		printf '%s\n' "${said:-the Nu HTML checker did not run}"
		failed=1
	fi
}

nu --skip-non-html
nu --skip-non-css
node_modules/.bin/html-validate --config .htmlvalidate.json --max-warnings 0 "$site/**/*.html" || failed=1
[ "$failed" = 0 ] && echo "$(find "$site" -name '*.html' | wc -l) pages and $(find "$site" -name '*.css' | wc -l) style sheets: nothing wrong"
exit "$failed"
