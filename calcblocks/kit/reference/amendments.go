package reference

import (
	"regexp"
	"strings"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/sources"
)

// An Amendment is one material of the reference.
type Amendment struct {
	ID, Name     string
	Also         []string // other names
	Class        string   // nitrogen, phosphorus, potassium, calcium, magnesium, liming, compost, ...
	Basis        string   // "as-is" or "dry": what Analysis and Totals are percent of
	DryMatter    Figure   // percent of the material as it is
	Analysis     map[Nutrient]Figure
	Totals       map[Nutrient]Figure // total P2O5 and K2O, only where they differ from the available ones
	AnalysisNote string
	CToN         Figure
	Density      Figure // g/mL
	LimeValue    Figure // percent of pure CaCO3; negative = acid-forming
	Release      Release
	PRelease     Figure // percent of the available figure, first season
	KRelease     Figure
	SaltIndex    Figure // sodium nitrate = 100
	PracticeRate string
	Limit        Limit
	Hazards      []string
	Cautions     []string
	Evidence     []Evidence

	moist map[Nutrient]Figure // AsIs, worked out when the reference is read
}

// Release is how much nitrogen is given off by when, percent of the total unless a basis says otherwise;
// negative is tie-up.
type Release struct {
	FirstSeason, Week2, Week8, Week12 Figure
	Temperature                       Figure // C, of the weeks' tests
	Note                              string
}

// Limit is the usual most of a material. A figure that is not known is no limit.
type Limit struct {
	GramsPerLitre, GramsPerM2, PercentOfMix Figure
	Text                                    string
}

// Evidence is what one source says on a figure.
type Evidence struct {
	Figure, Source string
	Confidence     sources.Confidence
}

const asIs = "the material as it is"

// AsIs returns the content of a nutrient as percent of the material as it is: of a material given on dry
// weight, percent x dry matter. What is not known stays not known.
func (a *Amendment) AsIs(n Nutrient) Figure {
	if f, ok := a.moist[n]; ok {
		return f
	}
	return a.asItIs(a.Analysis[n])
}

// TotalAsIs is AsIs of the total P2O5 or K2O, not known where total and available are not told apart.
func (a *Amendment) TotalAsIs(n Nutrient) Figure { return a.asItIs(a.Totals[n]) }

func (a *Amendment) asItIs(f Figure) Figure {
	if a.Basis == "dry" {
		return f.times(a.DryMatter, asIs)
	}
	return f
}

var amendmentKeys = []string{
	"id", "name", "also", "class", "basis", "dry_matter_percent", "analysis", "c_to_n", "density_g_per_ml",
	"lime_value_percent", "n_release", "p_release", "k_release", "salt_index", "practice_rate", "limit",
	"hazards", "cautions", "sources",
}

func (r *reader) amendments(root *form.Node) []*Amendment {
	var out []*Amendment
	for _, item := range root.Fields("amendments").Need("amendments", "").Items() {
		out = append(out, r.amendment(item.Fields(amendmentKeys...)))
	}
	return out
}

func (r *reader) amendment(m form.Mapping) *Amendment {
	a := &Amendment{
		ID: r.need(m, "id"), Name: r.need(m, "name"), Also: r.texts(m.Get("also")),
		Class: r.need(m, "class"), Basis: r.need(m, "basis"),
		DryMatter:    r.fromMemory(m.Get("dry_matter_percent"), measure{"%", asIs}),
		CToN:         r.figure(m.Get("c_to_n"), measure{"1", "carbon to total nitrogen, by weight"}),
		Density:      r.figure(m.Get("density_g_per_ml"), measure{"g/mL", "loose fill, levelled, not tapped"}),
		LimeValue:    r.figure(m.Get("lime_value_percent"), measure{"%", "pure CaCO3, by weight"}),
		Release:      r.release(m.Need("n_release", "")),
		PRelease:     r.shareReleased(m.Need("p_release", ""), P2O5),
		KRelease:     r.shareReleased(m.Need("k_release", ""), K2O),
		SaltIndex:    r.figure(m.Get("salt_index"), measure{"index", "sodium nitrate = 100, equal weights"}),
		PracticeRate: r.text(m.Get("practice_rate")),
		Limit:        r.limit(m.Get("limit")),
		Hazards:      r.texts(m.Get("hazards")), Cautions: r.texts(m.Get("cautions")),
		Evidence: r.evidence(m.Need("sources", "")),
	}
	r.analysis(a, m.Need("analysis", ""))
	return a
}

func (r *reader) analysis(a *Amendment, n *form.Node) {
	m := n.Fields("n", "p2o5", "p2o5_total", "k2o", "k2o_total", "ca", "mg", "s", "note")
	in := measure{"%", asIs}
	if a.Basis == "dry" {
		in.basis = "dry weight"
	}
	a.Analysis, a.Totals = map[Nutrient]Figure{}, map[Nutrient]Figure{}
	for _, nutrient := range Nutrients {
		a.Analysis[nutrient] = r.figure(m.Get(string(nutrient)), in)
		if total := m.Get(string(nutrient) + "_total"); total != nil {
			a.Totals[nutrient] = r.figure(total, in)
		}
	}
	a.AnalysisNote = r.text(m.Get("note"))
	a.moist = map[Nutrient]Figure{}
	for n, f := range a.Analysis {
		a.moist[n] = a.asItIs(f)
	}
}

// fromMemory reads a bare number that no source stands behind, as the head of the fact file says.
func (r *reader) fromMemory(n *form.Node, in measure) Figure {
	f := r.span(nil, n, nil, in)
	f.Source, f.Confidence = []string{planning}, sources.FromMemory
	return f
}

const planning = "planning-values" // the bibliography's entry for a figure without a publication

func (r *reader) release(n *form.Node) Release {
	m := n.Fields("first_season", "week2", "week8", "week12", "temperature_c", "note")
	out := Release{Note: r.text(m.Get("note"))}
	out.FirstSeason = r.figure(m.Get("first_season"), measure{"%", "total nitrogen"})
	out.Week2 = r.figure(m.Get("week2"), weekOf(out.Note, 2))
	out.Week8 = r.figure(m.Get("week8"), weekOf(out.Note, 8))
	out.Week12 = r.figure(m.Get("week12"), weekOf(out.Note, 12))
	out.Temperature = r.temperature(m.Get("temperature_c"), out)
	return out
}

// weekOf says of what a week's share is one: of total nitrogen, unless the note tells that the week's is of
// the organic nitrogen. The note of a manure compost tells it of week 12, those of the meals of 2 and 8.
func weekOf(note string, week int) measure {
	organic := strings.Contains(strings.ToLower(note), "percent of organic n")
	twelve := strings.Contains(note, "Week 12 is manure compost")
	if organic && twelve == (week == 12) {
		return measure{"%", "organic nitrogen"}
	}
	return measure{"%", "total nitrogen"}
}

// temperature reads the temperatures at which the weeks were tested: their sources are those of the weeks.
func (r *reader) temperature(n *form.Node, out Release) Figure {
	in := measure{"C", "soil of the release tests"}
	if n == nil || n.IsNull() {
		return Figure{Unit: in.unit, Basis: in.basis}
	}
	m := n.Fields("low", "high")
	f := r.span(m.Get("low"), nil, m.Get("high"), in)
	for _, week := range []Figure{out.Week2, out.Week8, out.Week12} {
		if week.Known {
			f.Source, f.Confidence = union(f.Source, week.Source), week.Confidence
		}
	}
	return f
}

var keyInNote = regexp.MustCompile(`\[([a-z0-9-]+)\]`)

// shareReleased reads {first_season, note}: the source stands in the note, and where it does not the share
// is from memory.
func (r *reader) shareReleased(n *form.Node, nutrient Nutrient) Figure {
	m := n.Fields("first_season", "note")
	f := r.fromMemory(m.Get("first_season"), measure{"%", "available " + nutrient.Symbol() + ", first season"})
	f.Note = r.text(m.Get("note"))
	if !f.Known {
		f.Source, f.Confidence = nil, ""
		return f
	}
	if key := keyInNote.FindStringSubmatch(f.Note); key != nil {
		f.Source, f.Confidence = key[1:2:2], sources.SecondHand
		if strings.HasPrefix(f.Note, "derived") {
			f.Confidence = sources.Derived
		}
	}
	return f
}

func (r *reader) limit(n *form.Node) Limit {
	if n == nil || n.IsNull() {
		return Limit{}
	}
	m := n.Fields("grams_per_litre_of_mix", "grams_per_m2", "percent_of_mix_volume", "text", "source", "confidence")
	read := func(key string, in measure) Figure {
		f := r.span(nil, m.Get(key), nil, in)
		f.Source, f.Confidence = r.texts(m.Get("source")), r.confidence(m.Get("confidence"))
		return f
	}
	return Limit{
		GramsPerLitre: read("grams_per_litre_of_mix", measure{"g/L", "litre of mix"}),
		GramsPerM2:    read("grams_per_m2", measure{"g/m2", "square metre of surface"}),
		PercentOfMix:  read("percent_of_mix_volume", measure{"%", "volume of the mix"}),
		Text:          r.text(m.Get("text")),
	}
}

func (r *reader) evidence(n *form.Node) []Evidence {
	var out []Evidence
	for _, item := range n.Items() {
		m := item.Fields("figure", "source", "confidence")
		out = append(out, Evidence{r.need(m, "figure"), r.need(m, "source"), r.confidence(m.Get("confidence"))})
	}
	return out
}
