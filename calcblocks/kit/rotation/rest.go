// Package rotation says how long a mix rests from a plant family, and which plantings come too soon. In
// containers the mix follows the crop, so the story is told of each lot of mix: old mix that moves to another
// pot takes its story along, and a pot whose mix was replaced whole begins anew. Intervals and diseases are
// those of families.yaml; its reasoning is in season.md, section 2.
package rotation

import (
	"slices"

	"trug/calcblocks/kit/reference"
)

// A Rest is how long a mix rests before it carries a crop again.
type Rest struct {
	Known bool    // false = no interval is published
	Never bool    // no waiting is enough
	Years float64 // from the last year with a host
	// Sources are keys of the bibliography.
	Sources []string
}

// FamilyOf returns the family of a crop, nil when the reference does not know it.
func FamilyOf(lib *reference.Library, crop string) *reference.Family {
	if c, ok := lib.Crop(crop); ok {
		if f, ok := lib.Family(c.Family); ok {
			return f
		}
	}
	f, _ := lib.FamilyOf(crop)
	return f
}

// AfterFamily returns the rest of a mix that carried a crop of the same family (families.yaml,
// interval_years.default).
func AfterFamily(f *reference.Family) Rest {
	if f == nil || !f.Interval.Known {
		return Rest{}
	}
	return Rest{Known: true, Years: f.Interval.Typical, Sources: f.Interval.Source}
}

// AfterDisease returns the rest of a mix in which a disease was found from a family that it attacks: the
// longest of what families.yaml holds for the two, since sources disagree (season.md, section 2). It is not
// known where the family is no host or no source gives a number.
func AfterDisease(f *reference.Family, disease string) Rest {
	var out Rest
	if f == nil {
		return out
	}
	words := wordsOf(disease)
	for _, p := range f.Published {
		if p.Years.Known && slices.ContainsFunc(heads(p.What), func(head string) bool { return speaksOf(words, wordsOf(head)) }) {
			out = out.orLonger(Rest{Known: true, Years: p.Years.High, Sources: p.Years.Source})
		}
	}
	for _, a := range f.After {
		if contains(words, wordsOf(a.Disease)) {
			out = out.orLonger(Rest{Known: true, Never: a.Never, Years: a.Years.Typical, Sources: a.Years.Source})
		}
	}
	return out
}

// orLonger returns the longer of two rests, with the sources of both.
func (r Rest) orLonger(other Rest) Rest {
	if !r.Known {
		return other
	}
	if other.Known {
		r.Sources = append(slices.Clone(r.Sources), other.Sources...)
		r.Never = r.Never || other.Never
		r.Years = max(r.Years, other.Years)
	}
	return r
}

// speaksOf says whether one name stands within the other: "Verticillium" in "Verticillium wilt".
func speaksOf(a, b []string) bool { return indexOf(a, b) >= 0 || indexOf(b, a) >= 0 }

// contains says whether all words of some are among others, in any order.
func contains(words, some []string) bool {
	return !slices.ContainsFunc(some, func(w string) bool { return !slices.Contains(words, w) })
}

// The verdicts on a planting.
const (
	TooSoon = "conflict"
	AtLimit = "allowed at the limit"
	Allowed = "allowed"
)

// Verdict judges a planting so many years after the last host.
func (r Rest) Verdict(years int) string {
	switch since := float64(years); {
	case !r.Known:
		return Allowed
	case r.Never || since < r.Years:
		return TooSoon
	case since == r.Years:
		return AtLimit
	}
	return Allowed
}

// Wait returns the years still to wait after so many years, 0 when none.
func (r Rest) Wait(years int) int { return max(int(r.Years)-years, 0) }
