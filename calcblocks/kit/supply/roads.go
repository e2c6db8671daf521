package supply

import (
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// LeastMeal and MostMeal are the nitrogen, percent, of the meals that hartz-johnstone-2006 tested: 11.7 to 15.8, as nutrition.md rounds.
const LeastMeal, MostMeal = 11.0, 16.0

// IsFast says whether a material gives off much of its nitrogen at once: about half within two weeks. A release that
// was measured for so early is published of such meals alone; an own blend is one where it is as rich as they are
// (hartz-johnstone-2006), and a salt that is richer gives it off at once.
func IsFast(m *garden.Material) bool {
	if m.Ref != nil {
		return m.Ref.Release.Week2.Known
	}
	n := m.Content(reference.N)
	return n.Known && n.Typical >= LeastMeal
}

// byRoad returns the season's share of a material without a season figure of its own.
func byRoad(lib *reference.Library, m *garden.Material, content reference.Figure) Share {
	percent := percentOf(m, content)
	switch {
	case m.Ref == nil && content.Typical > MostMeal:
		return Share{Road: "holds more nitrogen than any organic meal: its label must say how it is given off"}
	case m.Ref == nil || plantLike(m):
		return byNitrogen(lib, percent, m.Ref == nil)
	case m.CToN().Known:
		return byRatio(lib, m.CToN())
	}
	return Share{Road: "no release figure is published for it"}
}

// isMeal says whether a percent of nitrogen is that of the meals.
func isMeal(percent reference.Figure) bool {
	return percent.Typical >= LeastMeal && percent.Typical <= MostMeal
}

// plantLike says whether the roads by percent of nitrogen are for a material of the reference.
func plantLike(m *garden.Material) bool { return m.Class() == "nitrogen" || m.Class() == "blend" }

// percentOf returns percent of nitrogen in dry matter where the dry matter is known, else in the material
// as it is, which is less.
func percentOf(m *garden.Material, content reference.Figure) reference.Figure {
	if m.Ref == nil || !m.Ref.DryMatter.Known {
		return content
	}
	dry := m.Ref.DryMatter.Share()
	content.Low, content.Typical, content.High = content.Low/dry.High, content.Typical/dry.Typical, content.High/dry.Low
	return content
}

// byNitrogen takes the road of the meals or of the residues. An own blend may as well behave as the granular
// organic fertilisers do: its range then holds both, with the middle as typical.
func byNitrogen(lib *reference.Library, percent reference.Figure, own bool) Share {
	if isMeal(percent) {
		row := lib.Must("judging", meals[0], meals[1], "rows", "0", "A")
		return Share{Value: spread(mealRow(lib, "0", "A"), mealRow(lib, "1", "A")), Known: true, Road: "by its nitrogen content, as a meal", Sources: row.Source}
	}
	low, high := ByNitrogen(lib, percent.Low), ByNitrogen(lib, percent.High)
	value := units.SomeShare{Low: low, Typical: ByNitrogen(lib, percent.Typical), High: high}
	rule := lib.Must("judging", "pan_rules", "by_n_percent", "points", "0", "share")
	s := Share{Value: value, Known: true, Road: "by its nitrogen content", Sources: rule.Source}
	if percent.High > residueMost(lib) {
		s.Sources = union(s.Sources, beyond(lib, "share_season").Source)
	}
	if own {
		granular := lib.Must("judging", "incubation_classes", "rows", "granular organic fertilisers", "share")
		s.Value = spread(min(low, granular.Low), max(high, granular.High))
		s.Road, s.Sources = "by its nitrogen content, as an organic blend", union(s.Sources, granular.Source)
	}
	return s
}

func spread(low, high float64) units.SomeShare {
	return units.SomeShare{Low: low, Typical: (low + high) / 2, High: high}
}

func beyond(lib *reference.Library, key string) reference.Figure {
	return lib.Must("judging", "pan_rules", "by_n_percent", "beyond", key)
}

// The straight line of pnw636: nothing up to 1.5 % N in dry matter, 35 lb in a short ton at 3.5 %. That is
// 17.5 (N - 1.5) lb of 20 N lb: 0.875 (1 - 1.5/N).
const residueLeast, poundsPerPercent, poundsInPercent = 1.5, 17.5, 20.0

func residueMost(lib *reference.Library) float64 {
	return lib.Number("judging", "pan_rules", "by_n_percent", "points", "3.5", "n_percent")
}

// ByNitrogen returns the share of total nitrogen that a plant-like material gives in a season, by percent
// of N in dry matter: 0.875 (1 - 1.5/N) from 1.5 to 3.5 % N (pnw636), then a straight bend to 0.75 at 6 % N
// and more (gale-2006). It is never negative.
func ByNitrogen(lib *reference.Library, percent float64) float64 {
	line := func(p float64) float64 {
		return poundsPerPercent / poundsInPercent * (1 - residueLeast/p)
	}
	bend, full := residueMost(lib), beyond(lib, "n_percent_from").Typical
	switch season := beyond(lib, "share_season").Typical; {
	case percent <= residueLeast:
		return 0
	case percent <= bend:
		return line(percent)
	case percent < full:
		return line(bend) + (season-line(bend))*(percent-bend)/(full-bend)
	default:
		return season
	}
}

// The lines of gale-2006: 60 to 75 % at a ratio of 4, nothing at 15 to 20.
const (
	richest                 = 4.0
	lowStart, highStart     = 0.60, 0.75
	lowNothing, highNothing = 15.0, 20.0
)

// byRatio falls straight from 60 to 75 % at C:N 4 to nothing at 15 to 20 (judging.yaml, pan_rules, by_c_to_n;
// gale-2006, from memory): the low end is the low line at the highest ratio, the high end the other.
func byRatio(lib *reference.Library, ratio reference.Figure) Share {
	line := func(start, nothing, ratio float64) float64 {
		return max(start*(nothing-max(ratio, richest))/(nothing-richest), 0)
	}
	value := units.SomeShare{
		Low: line(lowStart, lowNothing, ratio.High), High: line(highStart, highNothing, ratio.Low),
		Typical: (line(lowStart, lowNothing, ratio.Typical) + line(highStart, highNothing, ratio.Typical)) / 2,
	}
	return Share{Value: value, Known: true, Road: "by its C:N", Sources: union(ratio.Source, beyond(lib, "share_season").Source)}
}
