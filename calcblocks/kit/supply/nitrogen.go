package supply

import (
	"slices"

	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// A course is how a material's nitrogen becomes available: a function of the weeks.
type course struct {
	season Share
	on     func(weeks float64) Share // nil where the season is not known or is nothing
}

func (c course) at(weeks float64) Share {
	if c.on == nil {
		return c.season
	}
	return c.on(weeks)
}

// nitrogen finds the course of a material.
func nitrogen(lib *reference.Library, m *garden.Material, celsius float64) course {
	content := m.Content(reference.N)
	switch {
	case !content.Known:
		return course{season: Share{Road: "how much nitrogen it holds is not known"}}
	case content.Typical == 0:
		return course{season: none("holds no nitrogen that counts", content.Source)}
	case m.Ref != nil && m.Ref.Release.FirstSeason.Known:
		return tabled(lib, m, celsius)
	}
	season := byRoad(lib, m, content)
	if !season.Known {
		return course{season: season}
	}
	if isMeal(percentOf(m, content)) {
		return asMeal(lib, season, celsius)
	}
	return following(season, paceOf(lib, m, celsius))
}

// asMeal follows the four meals that were tested: from what they gave at the coolest to the warmest.
func asMeal(lib *reference.Library, season Share, celsius float64) course {
	return course{season: season, on: func(weeks float64) Share {
		s, slower := season, chill(lib, celsius, weeks)
		cool, warm := mealRow(lib, "0", "temp_c"), mealRow(lib, "1", "temp_c")
		s.Value = units.SomeShare{
			Low: Meal(lib, cool, weeks) * slower, Typical: Meal(lib, celsius, weeks), High: Meal(lib, warm, weeks) * slower,
		}
		return s
	}}
}

// tabled follows the material's own figures: its season's, and its weeks' where there are any.
func tabled(lib *reference.Library, m *garden.Material, celsius float64) course {
	r := m.Ref.Release
	season := Share{Value: r.FirstSeason.Share(), Known: true, Road: "its own season figure", Sources: r.FirstSeason.Source}
	if r.Week2.Known && r.Week8.Known {
		return measured(lib, r, season, celsius)
	}
	return following(season, paceOf(lib, m, celsius))
}

func paceOf(lib *reference.Library, m *garden.Material, celsius float64) pace {
	if m.Class() == "compost" {
		return slow(lib, celsius)
	}
	return residue(lib, celsius)
}

// following goes toward a season's share at a pace.
func following(season Share, p pace) course {
	return course{season: season, on: func(weeks float64) Share {
		now := Share{Value: p.toward(season.Value, weeks), Known: true, Road: p.road, Sources: union(season.Sources, p.sources)}
		if weeks >= SeasonWeeks {
			now.Road, now.Sources = season.Road, season.Sources
		}
		return now
	}}
}

// measured goes through the shares measured at 2 and 8 weeks to the season's. They are of organic nitrogen,
// nearly all that these meals hold, and averages over 10 and 25 C; the eighth week's own figure is widened to
// what four such meals gave at those temperatures (hartz-johnstone-2006). No week passes the season's share.
// In between the meals' pace is followed, after week 8 a straight line.
func measured(lib *reference.Library, r reference.Release, season Share, celsius float64) course {
	cool, warm := mealRow(lib, "0", "A"), mealRow(lib, "1", "A")
	week8 := r.Week8.Share()
	week8.Low, week8.High = min(week8.Low, cool), max(week8.High, warm)
	week8 = atMost(week8, season.Value)
	week2 := atMost(r.Week2.Share(), week8)
	sources := union(r.Week2.Source, r.Week8.Source)
	k := mealPace(lib, celsius)
	return course{season: season, on: func(weeks float64) Share {
		s := Share{Known: true, Road: "measured weeks", Sources: sources}
		switch {
		case weeks <= 2:
			s.Value = week2.Scale(Released(k, weeks) / Released(k, 2))
		case weeks <= 8:
			s.Value = onTheWay(week2, week8, Released(k, weeks-2)/Released(k, 6))
		case weeks < SeasonWeeks:
			s.Value = onTheWay(week8, season.Value, (weeks-8)/(SeasonWeeks-8))
			s.Road, s.Sources = "between its eighth week and its season figure", union(sources, season.Sources)
		default:
			s = season
		}
		s.Value = s.Value.Scale(chill(lib, celsius, weeks))
		return s
	}}
}

// chill returns the factor on a measured share in a mix colder than the coolest test.
func chill(lib *reference.Library, celsius, weeks float64) float64 {
	if weeks == 0 {
		return 1
	}
	coolest := mealRow(lib, "0", "temp_c")
	return Meal(lib, min(celsius, coolest), weeks) / Meal(lib, coolest, weeks)
}

// atMost keeps each figure of a share at or below another's.
func atMost(s, limit units.SomeShare) units.SomeShare {
	return units.SomeShare{Low: min(s.Low, limit.Low), Typical: min(s.Typical, limit.Typical), High: min(s.High, limit.High)}
}

// onTheWay returns the share that lies a part of the way from one to another.
func onTheWay(from, to units.SomeShare, part float64) units.SomeShare {
	return from.Scale(1 - part).Add(to.Scale(part))
}

func union(lists ...[]string) []string {
	out := slices.Concat(lists...)
	slices.Sort(out)
	return slices.Clip(slices.Compact(out)) // kept: who adds to it gets a list of their own
}
