package compost

import (
	"strconv"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/heap"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

// stuff is one material with its figures.
type stuff struct {
	*entry
	title    string
	material heap.Material
	known    bool // how much there is
	class    string
	decays   units.SomeShare
	keys     []string
	aside    reference.Figure // nitrogen that the reference lists and that is not used
	held     bool             // the carbon reckoned from an analysis was more than there can be
	own      []sources.Entry
	garden   *garden.Material // an amendment, nil for others
}

// at returns a figure of what the reference holds of materials for a heap.
func (c *computation) at(path ...string) (reference.Figure, bool) {
	return c.pass.Ref.At("heap", path...)
}

// share turns a figure in percent, or a plain ratio, into a belief and notes its sources.
func (s *stuff) share(f reference.Figure) units.SomeShare {
	s.keys = append(s.keys, f.Source...)
	return f.Share()
}

// resolve finds the figures of one material: the author's own first, then those of a heap, then those of an
// amendment. What is missing is reported at the material.
func (c *computation) resolve(e *entry) (*stuff, bool) {
	s := &stuff{entry: e, title: e.name, class: "other"}
	_, known := c.at("materials", e.name, "c_to_n")
	if known {
		s.title, _ = c.pass.Ref.Text("heap", "materials", e.name, "name")
		s.class, _ = c.pass.Ref.Text("heap", "materials", e.name, "class")
	} else if m, ok := c.pass.Garden.Material(e.name); ok {
		s.garden, s.title = m, m.Name
	}
	if e.carbon != nil || e.nitrogen != nil || e.ratio != nil || e.moisture != nil || e.density != nil {
		s.own = []sources.Entry{care.Own(c.pass.Garden, e.key.At(), s.title+": own figures")}
		s.keys = append(s.keys, s.own[0].Key)
	}
	if e.broken || !c.analyse(s) {
		return s, false
	}
	ok := c.wet(s)
	ok = c.weigh(s) && ok
	c.decay(s)
	s.material = s.material.Complete()
	c.holdCarbon(s)
	return s, ok
}

func (c *computation) missing(s *stuff, code, hint, format string, args ...any) bool {
	c.pass.Report(diag.Errorf(s.key.At(), code, format, args...).Hint("%s", hint))
	return false
}

// analyse finds two of carbon, nitrogen and C:N. Of what the reference lists for a heap it goes by C:N and the usual
// carbon, which was checked (season.md, section 3.1, usda-ars-akron).
func (c *computation) analyse(s *stuff) bool {
	ratio, hasRatio := c.at("materials", s.name, "c_to_n")
	switch e := s.entry; {
	case e.carbon != nil && e.nitrogen != nil:
		s.material.Carbon, s.material.Nitrogen, s.material.Known = *e.carbon, *e.nitrogen, heap.CarbonAndNitrogen
	case e.nitrogen != nil && e.ratio != nil:
		s.material.Nitrogen, s.material.CToN, s.material.Known = *e.nitrogen, *e.ratio, heap.NitrogenAndRatio
	case e.ratio != nil:
		s.material.Carbon, s.material.CToN, s.material.Known = c.usualCarbon(s), *e.ratio, heap.CarbonAndRatio
	case e.nitrogen != nil:
		s.material.Carbon, s.material.Nitrogen, s.material.Known = c.usualCarbon(s), *e.nitrogen, heap.CarbonAndNitrogen
	case hasRatio:
		// the listed nitrogen is from memory, and with the C:N some would be more carbon than organic matter holds
		s.material.Carbon, s.material.CToN, s.material.Known = c.usualCarbon(s), s.share(ratio), heap.CarbonAndRatio
		s.aside, _ = c.at("materials", s.name, "n_percent")
	default:
		return c.analyseAmendment(s)
	}
	return true
}

// usualCarbon returns the author's carbon, else 40 % of dry matter, 45 % for roots.
func (c *computation) usualCarbon(s *stuff) units.SomeShare {
	if s.carbon != nil {
		return *s.carbon
	}
	row := "usual"
	if s.class == "roots" {
		row = "roots"
	}
	f, _ := c.at("carbon_percent", row)
	return s.share(f)
}

// analyseAmendment takes nitrogen on dry weight and C:N from an amendment.
func (c *computation) analyseAmendment(s *stuff) bool {
	if s.garden == nil {
		return c.unknown(s)
	}
	n, ratio := s.garden.Content(reference.N), s.garden.CToN()
	if !n.Known || n.Low <= 0 || !ratio.Known {
		return c.missing(s, "no-c-to-n", "tell two of c, n and c_to_n", "the carbon and the nitrogen of %q are not known", s.name)
	}
	dry, known := c.dryShare(s)
	if !known {
		return c.missing(s, "no-moisture", "tell \"moisture\"", "the moisture of %q is not known", s.name)
	}
	asIs := s.share(n)
	s.material.Nitrogen = units.SomeShare{Low: asIs.Low / dry.Typical, Typical: asIs.Typical / dry.Typical, High: asIs.High / dry.Typical}
	s.material.CToN, s.material.Known = s.share(ratio), heap.NitrogenAndRatio
	return true
}

// holdCarbon keeps the carbon that is reckoned from an amendment's nitrogen and C:N to what there can be: those two
// come from different analyses, and their far ends need not meet. The sums go by the two figures themselves.
func (c *computation) holdCarbon(s *stuff) {
	if s.garden == nil || s.material.Known != heap.NitrogenAndRatio || s.entry.nitrogen != nil {
		return
	}
	most, keys := c.mostCarbon(s)
	if s.held = s.material.Carbon.High > most; !s.held {
		return
	}
	b := &s.material.Carbon
	b.Low, b.Typical, b.High = min(b.Low, most), min(b.Typical, most), most
	s.keys = append(s.keys, keys...)
}

// mostCarbon is the carbon that organic matter holds (judging.yaml, compost_limits, normally_found): dry matter is
// organic matter at most. Char has lost the rest of it and is carbon at most.
func (c *computation) mostCarbon(s *stuff) (share float64, sources []string) {
	if s.garden.Class() == "mineral" {
		return 1, nil
	}
	f := c.pass.Ref.Must("judging", "compost_limits", "normally_found", "organic carbon as share of organic matter")
	return f.Share().High, f.Source
}

// dryShare returns the dry share of an amendment as the reference has it; an own blend has none.
func (c *computation) dryShare(s *stuff) (units.SomeShare, bool) {
	if s.garden == nil || s.garden.Ref == nil || !s.garden.Ref.DryMatter.Known {
		return units.SomeShare{}, false
	}
	return s.garden.Ref.DryMatter.Share(), true
}

func (c *computation) unknown(s *stuff) bool {
	all := append(c.materialIDs(), c.pass.Garden.MaterialIDs()...)
	if near := diag.Closest(s.name, all); near != "" {
		return c.missing(s, "unknown-material", "did you mean \""+near+"\"? or tell moisture and two of c, n and c_to_n", "nothing is known of %q", s.name)
	}
	return c.missing(s, "unknown-material", "tell moisture and two of c, n and c_to_n, or use a material of the reference, such as \"dry-leaves\"", "nothing is known of %q", s.name)
}

// materialIDs lists the materials of the reference for hints.
func (c *computation) materialIDs() []string {
	var out []string
	for i := 0; ; i++ {
		id, ok := c.pass.Ref.Text("heap", "materials", strconv.Itoa(i), "id")
		if !ok {
			return out
		}
		out = append(out, id)
	}
}

// wet finds the moisture.
func (c *computation) wet(s *stuff) bool {
	f, ok := c.at("materials", s.name, "moisture_percent")
	dry, isAmendment := c.dryShare(s)
	switch {
	case s.moisture != nil:
		s.material.Moisture = *s.moisture
	case ok:
		s.material.Moisture = s.share(f)
	case isAmendment:
		s.material.Moisture = units.SomeShare{Low: 1 - dry.High, Typical: 1 - dry.Typical, High: 1 - dry.Low}
		s.keys = append(s.keys, s.garden.Ref.DryMatter.Source...)
	default:
		return c.missing(s, "no-moisture", "tell \"moisture\": weigh a handful, dry it, weigh it again", "the moisture of %q is not known", s.name)
	}
	return true
}

// weigh finds the kilograms; a volume needs a density.
func (c *computation) weigh(s *stuff) bool {
	if s.amount == nil {
		return true
	}
	s.known = true
	if s.amount.Low.Weighed {
		low, high := s.amount.Low.Mass.Float()/1000, s.amount.High.Mass.Float()/1000
		s.material.Kg = units.SomeShare{Low: low, Typical: (low + high) / 2, High: high}
		return true
	}
	low, high := s.amount.Low.Volume.Float()/1000, s.amount.High.Volume.Float()/1000
	var d units.SomeShare
	switch {
	case s.density != nil:
		d = *s.density
	case s.garden != nil && s.garden.Density().Known:
		f := s.garden.Density()
		s.keys = append(s.keys, f.Source...)
		d = units.SomeShare(f.Density())
	default:
		return c.missing(s, "no-density", "tell \"weight\" instead, or \"density\", such as \"0.1 kg/L\"", "%q is given by volume, and how heavy it is is not known", s.name)
	}
	s.material.Kg = units.SomeShare{Low: low * d.Low, Typical: (low + high) / 2 * d.Typical, High: high * d.High}
	return true
}

// decay finds the share of the carbon that rots in a season.
func (c *computation) decay(s *stuff) {
	if s.entry.decays != nil {
		s.decays = *s.entry.decays
		return
	}
	f := c.pass.Ref.Must("heap", "decayed_in_a_season", "rows", s.class)
	s.keys = append(s.keys, f.Source...)
	s.decays = units.SomeShare{Low: f.Low, Typical: f.Typical, High: f.High}
}
