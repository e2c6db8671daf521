// Package supply says which share of what a material holds of a nutrient a crop can take up, and by when.
// Nitrogen follows the material's own release figures, else the first of these roads that fits
// (nutrition.md, section 6): meals of 11 to 16 % N, percent of N, the ratio of carbon to nitrogen. Phosphate
// and potash follow the material's own first-season share, else that of its class; calcium, magnesium and
// sulfur are counted as added.
package supply

import (
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// When is a time after the material is mixed in.
type When int

// The times that recipes tell of.
const (
	Week2 When = iota
	Week8
	Season
)

// Times lists the times in order.
var Times = []When{Week2, Week8, Season}

// String returns the key of a time in data: week2, week8, season.
func (w When) String() string { return [...]string{"week2", "week8", "season"}[w] }

// weeks returns the time in weeks.
func (w When) weeks() float64 { return [...]float64{2, 8, SeasonWeeks}[w] }

// Celsius is the temperature of the mix that is taken where nobody tells another, C: an average of a
// growing season (planning value).
const Celsius = 20.0

// SeasonWeeks is how long a season is taken to be, in weeks, as in the worked contribution of old mix
// (judging.yaml, old_mix_contribution).
const SeasonWeeks = 20.0

// Share is the part of a nutrient in a material that has become available by a time. Nothing is known of
// the value unless Known; Road then says why not.
type Share struct {
	Value   units.SomeShare // parts of 1; negative = tied up
	Known   bool
	Road    string   // how it was found, in a few words
	Sources []string // keys of the bibliography
}

// Of returns the share of a nutrient in a material that is available at a time, in a mix of so many C.
// Temperature moves the weeks of nitrogen only. It rests on the library's figures and their sources.
func Of(lib *reference.Library, m *garden.Material, n reference.Nutrient, at When, celsius float64) Share {
	switch n {
	case reference.N:
		return outlookOf(lib, m, celsius).nitrogen[at]
	case reference.P2O5:
		return outlookOf(lib, m, celsius).phosphate
	case reference.K2O:
		return outlookOf(lib, m, celsius).potash
	}
	return whole("counted as added", m.Content(n).Source)
}

// Curve returns the share of a material's nitrogen that is available at the end of each week, from week 0
// (nothing yet) to the given week. The list is shared: treat it as read-only.
func Curve(lib *reference.Library, m *garden.Material, celsius float64, weeks int) []Share {
	if known := outlookOf(lib, m, celsius).weeks; weeks < len(known) {
		return known[: weeks+1 : weeks+1]
	}
	return curve(nitrogen(lib, m, celsius), weeks)
}

func curve(c course, weeks int) []Share {
	out := make([]Share, weeks+1)
	for w := range out {
		out[w] = c.at(float64(w))
	}
	return out
}

// An outlook is every share of a material in a mix of one temperature. Each size of each recipe asks for them.
type outlook struct {
	nitrogen          [Season + 1]Share // by each of Times
	weeks             []Share           // nitrogen by the end of each week, to the season's last
	phosphate, potash Share             // over the season
}

type outlookKey struct {
	lib     *reference.Library
	celsius float64
}

func outlookOf(lib *reference.Library, m *garden.Material, celsius float64) *outlook {
	return garden.Kept(m, outlookKey{lib, celsius}, func() *outlook {
		c := nitrogen(lib, m, celsius)
		out := &outlook{
			weeks:     curve(c, SeasonWeeks),
			phosphate: mineral(lib, m, reference.P2O5), potash: mineral(lib, m, reference.K2O),
		}
		for _, at := range Times {
			out.nitrogen[at] = c.at(at.weeks())
		}
		return out
	})
}

// whole counts all of a nutrient.
func whole(road string, sources []string) Share {
	return Share{Value: units.SomeShare{Low: 1, Typical: 1, High: 1}, Known: true, Road: road, Sources: sources}
}

// none counts nothing of a nutrient.
func none(road string, sources []string) Share {
	return Share{Known: true, Road: road, Sources: sources}
}
