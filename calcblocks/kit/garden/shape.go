package garden

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/vessel"
)

var (
	inchMark  = regexp.MustCompile(`\d\s*("|”|″|'')`)
	onlySizes = regexp.MustCompile(`(?i)^\s*\d[^x×]*[x×][^x×]*\d.*[x×]\s*\d`)
)

// readShape reads a container, and says first what is wrong with one that is written as on a shop's shelf.
func readShape(text string, p units.Parser) (vessel.Vessel, error) {
	if m := inchMark.FindStringSubmatchIndex(text); m != nil {
		better := inchMark.ReplaceAllStringFunc(text, func(s string) string {
			return strings.TrimRight(s, "\"”″' ") + " in"
		})
		return vessel.Vessel{}, units.Faultf(utf8.RuneCountInString(text[:m[2]]), "inch-mark",
			fmt.Sprintf("write %q", strings.Join(strings.Fields(better), " ")), "inches are written with %q, not with a mark", "in")
	}
	if onlySizes.MatchString(text) {
		return vessel.Vessel{}, units.Faultf(0, "no-shape", fmt.Sprintf("write the shape first: %q or %q", "trough "+text, "oval "+text), "%q does not say which shape it is", text)
	}
	return vessel.Parse(text, p)
}
