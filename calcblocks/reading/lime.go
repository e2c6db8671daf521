package reading

import (
	"regexp"
	"strconv"
	"strings"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/liming"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// mediums are the kinds of mix as an author names them; the first is meant where none is named.
var mediums = []string{"used", "peat", "bark", "with-soil"}

// limeWish is what the author says of liming.
type limeWish struct {
	target   *float64
	material *form.Node
	value    *units.SomeShare // lime value as a share of pure CaCO3
	rate     *float64         // g/L for each unit of pH
	fineness []form.Entry
	at       *form.Node // of the fineness
}

func (w *limeWish) read(m form.Mapping) {
	w.target, w.material = readNumber(m.Get("target"), readPH), m.Get("lime")
	if v := m.Get("lime value"); v != nil {
		if s, ok := form.Value(v, readLimeValue); ok {
			w.value = &s
		}
	}
	if v := m.Get("lime rate"); v != nil {
		if rate, ok := form.Value(v, v.Values().Rate); ok {
			if !rate.Weighed {
				v.Fault("bad-lime-rate", "write grams in a litre of mix for one unit of pH, such as \"2.5 g/L\"", "%q is not a weight in a volume of mix", v.Raw())
				return
			}
			x := rate.Mass.Float()
			w.rate = &x
		}
	}
	if v := m.Get("fineness"); v != nil {
		w.at, w.fineness = v, v.Mapping().Entries
	}
}

var valueText = regexp.MustCompile(`^(\d{1,3}(?:\.\d+)?)(?: ?%)?$`)

// readLimeValue reads the neutralising value in percent of pure CaCO3, which pure magnesia takes to 248.
func readLimeValue(text string) (units.SomeShare, error) {
	if m := valueText.FindStringSubmatch(text); m != nil {
		if x, _ := strconv.ParseFloat(m[1], 64); x > 0 && x <= 250 {
			return units.SomeShare{Low: x / 100, Typical: x / 100, High: x / 100}, nil
		}
	}
	return units.SomeShare{}, units.Faultf(0, "bad-lime-value", "write percent of pure calcium carbonate, such as \"95 %\"", "%q is not a lime value", text)
}

// A lime is a liming material with what the sums need.
type lime struct {
	material *garden.Material
	value    units.SomeShare
	keys     []string
}

// findLime finds the liming material: ground calcitic lime where none is named.
func (c *computation) findLime() bool {
	ok := c.readFineness()
	id := "calcitic-lime"
	if c.liming.material != nil {
		text, told := c.liming.material.Text()
		if !told {
			return false
		}
		id = text
	}
	m, known := c.pass.Garden.Material(id)
	if !known {
		c.reportLime("unknown-amendment", "unknown liming material %q", id)
		return false
	}
	c.lime.material = m
	f := m.LimeValue()
	switch {
	case c.liming.value != nil:
		c.lime.value = *c.liming.value
	case f.Known && f.Low > 0:
		c.lime.value, c.lime.keys = f.Share(), f.Source
	default:
		c.reportLime("no-lime-value", "%q does not raise pH, or its lime value is not known", id)
		return false
	}
	return ok
}

func (c *computation) reportLime(code, format, id string) {
	d := diag.Errorf(c.liming.material.At(), code, format, id)
	c.pass.Report(d.Hint("write a lime of the reference, such as \"calcitic-lime\" or \"dolomitic-lime\", or tell \"lime value\""))
}

// readFineness reads shares by size class and finds how much of the lime works by day 7.
func (c *computation) readFineness() bool {
	if c.liming.at == nil {
		return true
	}
	var fractions []liming.Fraction
	sum, names := 0.0, c.sizeClasses()
	for _, e := range c.liming.fineness {
		i := classAt(names, e.Name)
		if i < 0 {
			e.Key.Fault("unknown-size", "the sizes here are "+strings.Join(names, ", "), "%q is not a size class of the table", e.Name)
			return false
		}
		share, ok := form.Value(e.Value, e.Value.Values().Share)
		if !ok {
			return false
		}
		works := c.pass.Ref.Must("judging", "lime_particle_effect_day7", "sizes_mm", strconv.Itoa(i), "share")
		fractions = append(fractions, liming.Fraction{Share: share.Float(), Works: works.Typical})
		sum += share.Float()
	}
	if sum > 1+1e-9 {
		c.liming.at.Fault("over-100", "check the shares against the bag", "the sizes add up to %.4g %%, more than the whole", 100*sum)
		return false
	}
	works := liming.Works(fractions...)
	c.works = &works
	return true
}

// sizeClasses names the classes of the table: "0.25 to 0.85 mm".
func (c *computation) sizeClasses() []string {
	var out []string
	for i := 0; ; i++ {
		at := func(end string) (reference.Figure, bool) {
			return c.pass.Ref.At("judging", "lime_particle_effect_day7", "sizes_mm", strconv.Itoa(i), end)
		}
		low, ok := at("low")
		if !ok {
			return out
		}
		high, _ := at("high")
		out = append(out, plain(low.Typical)+" to "+plain(high.Typical)+" mm")
	}
}

func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func classAt(names []string, name string) int {
	name = strings.Join(strings.Fields(strings.ToLower(name)), " ")
	for i, n := range names {
		if n == name {
			return i
		}
	}
	return -1
}

// limeRate returns grams of pure fine limestone in a litre of mix for one unit of pH: the author's, or the pick
// for the kind of mix within the range of published rates (judging.yaml, lime_rates). A used mix takes
// none unless a test shows a pH below the target, and then the rate of peat.
func (c *computation) limeRate() (units.SomeDose, []string) {
	if c.liming.rate != nil {
		x := *c.liming.rate
		return units.SomeDose{Low: x, Typical: x, High: x}, []string{c.own.Key}
	}
	row := "mostly peat, fine lime"
	switch {
	case c.medium == "bark":
		row = "mostly bark"
	case c.lime.material.ID == "dolomitic-lime":
		row = "mostly peat, ordinary dolomite"
	}
	pick := c.pass.Ref.Must("judging", "lime_rates", "pick", row, "g_per_l_per_ph")
	seen := c.pass.Ref.Must("judging", "lime_rates", "range_seen_g_per_l")
	return units.SomeDose{Low: seen.Low, Typical: pick.Typical, High: seen.High}, append(append([]string{}, pick.Source...), seen.Source...)
}

// target is the pH to reach: the author's, or the middle of what is usual for the kind of mix.
func (c *computation) target() (ph float64, band reference.Figure) {
	band = c.pass.Ref.Must("judging", "ph_pick", "target")
	if c.medium == "with-soil" {
		band = c.pass.Ref.Must("judging", "ph_ranges", "with 20 % or more field soil")
	}
	if c.liming.target != nil {
		return *c.liming.target, band
	}
	return band.Typical, band
}

// rise returns the units by which the pH has to rise: none while it lies in the band and no other target is
// set. A neat compost is not limed.
func (c *computation) rise() float64 {
	target, band := c.target()
	if c.ph == nil || c.compost || c.liming.target == nil && *c.ph >= band.Low {
		return 0
	}
	return liming.Rise(*c.ph, target)
}

// fall returns the units by which the pH has to fall: none up to the warning level unless a target is set.
func (c *computation) fall() float64 {
	target, _ := c.target()
	warn := c.pass.Ref.Must("judging", "ph_pick", "warn_above").Typical
	if c.ph == nil || c.compost || c.liming.target == nil && *c.ph <= warn {
		return 0
	}
	return liming.Rise(target, *c.ph)
}

type number struct{}

// limePerLitre returns grams of the material in a litre of mix.
func (c *computation) limePerLitre() units.SomeDose {
	rate, _ := c.limeRate()
	return units.SomeDose(units.Corners[number](func(x []float64) float64 { return liming.Dose(1, c.rise(), x[0], x[1]) }, rate, c.lime.value))
}

// sulfur returns grams of elemental sulfur of the bag in a litre of mix: what undoes as much limestone as the
// rate names for the units to fall. It is a rough mirror of liming; carbonate in the mix takes more.
func (c *computation) sulfur() units.SomeDose {
	rate, _ := c.limeRate()
	m, _ := c.pass.Garden.Material("sulfur-powder")
	per := c.pass.Ref.Must("volumes", "pure_compounds", "sulfur_acidity", "kg_caco3_per_kg_s").Typical
	purity := m.Content(reference.S).Share()
	return units.SomeDose(units.Corners[number](func(x []float64) float64 { return liming.Sulfur(c.fall()*x[0], per, x[1]) }, rate, purity))
}
