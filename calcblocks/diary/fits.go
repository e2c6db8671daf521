package diary

import (
	"slices"
	"strings"

	"trug/calcblocks/kit/form"
)

// fits reports fields that do not go with what was done, or with each other.
func (e *entry) fits(m form.Mapping) {
	for _, f := range m.Entries {
		if where := takers(f.Name); where != nil && !slices.Contains(where, e.did) {
			f.Key.Fault("misplaced-field", "it goes with "+or(where), "%q does not go with %q", f.Name, e.did)
		}
	}
	if e.crop == nil && slices.Contains([]string{"planted", "sown", "harvested"}, e.did) {
		m.Need("crop", "write the crop, such as \"crop: pepper\"")
	}
	if e.did == "fed" && m.Get("with") == nil && e.amountAt == nil {
		m.Need("with", "write what you fed, such as \"with: kelp-meal\" and \"amount: 1/2 cup\"; or write \"did: noted\" with a note")
	}
	if e.amountAt != nil && m.Get("with") == nil && slices.Contains(did[e.did], "with") {
		e.amountAt.Fault("amount-of-nothing", "write the amendment, such as \"with: kelp-meal\"", "%q of what", e.amountAt.Raw())
	}
	if m.Get("share") != nil && m.Get("depth") != nil {
		m.Get("depth").Fault("share-and-depth", "keep one of the two", "\"share\" and \"depth\" both say how much of the mix was replaced")
	}
	if v := m.Get("yield"); v != nil && len(e.pots) > 1 && e.did == "harvested" {
		v.Fault("shared-yield", "write a line for each pot", "one yield stands for several pots")
	}
}

// takers returns the deeds that a field goes with, nil for one that goes with all of them.
func takers(field string) []string {
	var out []string
	for _, word := range strings.FieldsFunc(deeds, func(r rune) bool { return r == ',' || r == ' ' }) {
		if slices.Contains(did[word], field) {
			out = append(out, word)
		}
	}
	return out
}

func or(words []string) string {
	n := len(words)
	if n == 1 {
		return "\"" + words[0] + "\""
	}
	return "\"" + strings.Join(words[:n-1], "\", \"") + "\" or \"" + words[n-1] + "\""
}
