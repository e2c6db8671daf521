package reading

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/extract"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

func n(x float64) string { return view.Number(x) }

// A level says how far a finding stands in the way of using a mix again.
type level int

const (
	note   level = iota
	mend         // put right, then use
	wash         // flush, then test again
	refuse       // not as it is
)

// finding is one thing that the reading shows.
type finding struct {
	care.Guard
	level level
}

// findings are what the numbers raise, the gravest first.
func (c *computation) findings() []finding {
	var out []finding
	for _, find := range []func() []finding{c.saltFindings, c.elementFindings, c.phFindings, c.balanceFindings, c.methodFindings} {
		out = append(out, find()...)
	}
	slices.SortStableFunc(out, func(a, b finding) int { return int(b.level - a.level) })
	return out
}

func found(l level, id, word string, keys []string, format string, args ...any) finding {
	return finding{care.Guard{ID: id, Word: word, Text: fmt.Sprintf(format, args...), Sources: care.Keys(keys)}, l}
}

// saltFindings judge the EC (judging.yaml: ec_limits_sme, ec_limit_seedlings_sme, salinity_use).
func (c *computation) saltFindings() []finding {
	ec, known := c.sme()
	if c.extreme() {
		f := c.pass.Ref.Must("judging", "ec_limits_sme", "stop_above")
		return []finding{found(refuse, "salt-extreme", "Extreme salt", f.Source, "EC %s mS/cm by %s lies beyond the published table, so it is converted to no other method. Flush the mix or thin it with fresh mix, and test again before you plant.", n(*c.ec), c.method.Name())}
	}
	if !known || c.compost {
		return c.compostFindings()
	}
	l := c.limits()
	seed := c.pass.Ref.Must("judging", "ec_limit_seedlings_sme", "below")
	switch {
	case ec.Typical > l.stop:
		have, stop := view.Apart(ec.Typical, l.stop)
		return []finding{found(refuse, "salt-stop", "Too much salt", l.keys, "EC is about %s mS/cm in the saturated extract; above %s do not plant. Flush it or thin it with fresh mix, then test again.", have, stop)}
	case l.felt(ec.Typical):
		have, fine := view.Apart(ec.Typical, l.fine)
		return []finding{found(wash, "salt-high", "Much salt", l.keys, "EC is about %s mS/cm in the saturated extract; %s%s roots feel it. Flush, let it drain, and test again.", have, l.words(fine), c.forCrop())}
	case l.felt(ec.High):
		most, fine := view.Apart(ec.High, l.fine)
		return []finding{found(note, "salt-near", "Close to the limit", l.keys, "Converted from %s, EC may be as much as %s mS/cm in the saturated extract, and %s is the limit here. Test by that method to be surer.", c.method.Name(), most, fine)}
	case ec.Typical >= seed.Typical:
		return []finding{found(note, "salt-seedlings", "Seedlings", seed.Source, "EC is about %s mS/cm in the saturated extract. For sowing and for seedlings keep it below %s.", n(ec.Typical), n(seed.Typical))}
	}
	return nil
}

func (c *computation) forCrop() string {
	if c.plant == nil {
		return ""
	}
	return " for " + view.Small(c.plant.Name)
}

// elementFindings speak of what is poison or plenty, by the bands of the saturated media extract.
func (c *computation) elementFindings() []finding {
	if c.method != extract.SME || c.compost {
		return nil
	}
	var out []finding
	at := func(path ...string) reference.Figure { return c.pass.Ref.Must("judging", path...) }
	above := func(key string, f reference.Figure, l level, id, word, text string) {
		if x, ok := c.mg(key); ok && x > f.Typical {
			have, limit := view.Apart(x, f.Typical)
			out = append(out, found(l, id, word, f.Source, text, have, limit))
		}
	}
	above("na", at("sme_sodium_chloride", "na_mg_l", "warn_above"), wash, "sodium", "Sodium", "Sodium is %s mg/L; above %s it hurts roots and packs the mix. Flush with soft water, and look for where it came from.")
	above("cl", at("sme_sodium_chloride", "cl_mg_l", "limit_high"), wash, "chloride", "Chloride", "Chloride is %s mg/L; %s is the upper limit. It comes with muriate of potash and fresh seaweed: flush, and leave those out.")
	above("b", at("boron", "sme_mg_l", "warn_above"), mend, "boron", "Boron", "Boron is %s mg/L; above %s it can scorch leaf edges. Leave wood ash and kelp meal out this year.")
	if x, ok := c.mg("p"); ok {
		if f := at("phosphorus", "no_p_meal_if", "or_sme_p_mg_l_at_least"); x >= f.Typical {
			out = append(out, found(note, "no-p-meal", "Phosphorus is there", f.Source, "P is %s mg/L; from %s on add no bone meal, guano or other meal rich in phosphorus.", n(x), n(f.Typical)))
		}
	}
	return append(out, c.ammonium()...)
}

// ammonium speaks when more than half of the mineral nitrogen is ammonium.
func (c *computation) ammonium() []finding {
	nh4, a := c.mg("nh4_n")
	no3, b := c.mg("no3_n")
	f := c.pass.Ref.Must("judging", "sme_normal_bands", "ammonium_share_max")
	if !a || !b || nh4+no3 == 0 || nh4/(nh4+no3) <= f.Typical {
		return nil
	}
	have, most := view.Apart(100*nh4/(nh4+no3), 100*f.Typical)
	return []finding{found(note, "ammonium", "Ammonium", f.Source, "Ammonium is %s %% of the mineral nitrogen; at most %s %% is wanted. Wait a week or two in warmth before you sow.", have, most)}
}

// phFindings hold the pH against the usual band (judging.yaml, ph_pick, derived).
func (c *computation) phFindings() []finding {
	if c.ph == nil || c.compost {
		return nil
	}
	low, high := c.pass.Ref.Must("judging", "ph_pick", "warn_below"), c.pass.Ref.Must("judging", "ph_pick", "warn_above")
	_, band := c.target()
	switch ph := *c.ph; {
	case ph < low.Typical:
		return []finding{found(mend, "ph-low", "Acid", low.Source, "pH is %s; below %s calcium and magnesium run short and metals come loose. Lime it, wait %s weeks, and test again.", x(ph), n(low.Typical), c.limeWeeks())}
	case ph < band.Low:
		return []finding{found(mend, "ph-lowish", "A little acid", band.Source, "pH is %s; %s is aimed at. A little lime brings it there.", x(ph), view.Span(band.Low, band.High))}
	case ph > high.Typical:
		return []finding{found(mend, "ph-high", "Alkaline", high.Source, "pH is %s; above %s iron and manganese run short. No lime and no wood ash; sulfur works slowly, fresh peat or bark at once.", x(ph), n(high.Typical))}
	case ph > band.High:
		return []finding{found(note, "ph-highish", "No more lime", band.Source, "pH is %s; %s is aimed at. No lime and no wood ash this year.", x(ph), view.Span(band.Low, band.High))}
	}
	return nil
}

func (c *computation) limeWeeks() string {
	f := c.pass.Ref.Must("judging", "lime_rates", "effect_weeks")
	return view.Span(f.Low, f.High)
}

// balanceFindings hold K, Mg and Ca against one another (judging.yaml, cation_balance, derived).
func (c *computation) balanceFindings() []finding {
	if c.compost {
		return nil
	}
	var out []finding
	at := func(path ...string) reference.Figure {
		return c.pass.Ref.Must("judging", append([]string{"cation_balance", "sme_ratios_by_weight"}, path...)...)
	}
	if r, ok := c.ratio("k", "mg"); ok {
		warn, act := at("k_to_mg", "fine_max"), at("k_to_mg", "act_above")
		switch {
		case r > act.Typical:
			have, most := view.Apart(r, act.Typical)
			out = append(out, found(mend, "k-to-mg", "Potassium against magnesium", act.Source, "K is %s times Mg; above %s cut potassium: that helps more than adding magnesium.", have, most))
		case r > warn.Typical:
			have, most := view.Apart(r, warn.Typical)
			out = append(out, found(note, "k-to-mg", "Potassium against magnesium", warn.Source, "K is %s times Mg; up to %s is fine. Add no more potash for now.", have, most))
		}
	}
	if r, ok := c.ratio("ca", "mg"); ok {
		above, below := at("ca_to_mg", "warn_above"), at("ca_to_mg", "warn_below")
		if r > above.Typical || r < below.Typical {
			out = append(out, found(note, "ca-to-mg", "Calcium against magnesium", above.Source, "Ca is %s times Mg; %s to %s is the usual span.", n(r), n(below.Typical), n(above.Typical)))
		}
	}
	if r, ok := c.ratio("ca", "k"); ok {
		if least := at("ca_to_k", "min"); r < least.Typical {
			out = append(out, found(note, "ca-to-k", "Calcium against potassium", least.Source, "Ca is %s times K; at least %s is wanted, or fruits get blossom-end rot sooner.", n(r), n(least.Typical)))
		}
	}
	return out
}

// methodFindings say how far the bands reach.
func (c *computation) methodFindings() []finding {
	var out []finding
	if len(c.values) > 0 && (c.method != extract.SME || c.compost) {
		out = append(out, found(note, "own-method", "No bands for this", c.pass.Ref.Must("judging", "ec_conversion", "break_points", "sme", "1").Source,
			"Bands for elements are held for the saturated extract of a soilless mix alone, and a band holds only for the extract it was made for. Ask the laboratory for its own."))
	}
	if c.method == extract.SME && !c.compost && c.medium == "used" && (c.ec != nil || len(c.values) > 0) {
		out = append(out, found(note, "compost-rich", "A border case", []string{"uconn-sme"},
			"The bands were made for soilless mixes, not for field soil or neat compost. A used mix that is rich in compost lies between: take the class as a hint."))
	}
	return out
}

// verdict says in words what to do with the mix, as far as this test goes.
func (c *computation) verdict() string {
	worst := note
	var why []string
	for _, f := range c.findings() {
		worst = max(worst, f.level)
		if f.level > note {
			why = append(why, view.Small(f.Word))
		}
	}
	because := ""
	if len(why) > 0 {
		because = " (" + strings.Join(why, ", ") + ")"
	}
	thing := "this mix"
	if c.compost {
		thing = "this compost"
	}
	const limits = "A test like this says nothing of diseases, weed seed, herbicide residue or metals."
	switch worst {
	case refuse:
		return fmt.Sprintf("Do not plant into %s as it is%s: flush it or thin it with fresh mix, and test again. %s", thing, because, limits)
	case wash:
		return fmt.Sprintf("Wash %s first%s, then test again before you use it. %s", thing, because, limits)
	case mend:
		return fmt.Sprintf("Put %s right first%s, then it can go into use again. %s", thing, because, limits)
	}
	if c.compost {
		return "Nothing in this reading stands against a share of it in a mix. " + limits
	}
	return "Nothing in this reading stands against another season after the usual renewal. " + limits
}

// cautions are those of what the reading may lead to: liming, watering, discarding.
func (c *computation) cautions() []*reference.Caution {
	var materials []*garden.Material
	tasks := []string{"watering"}
	if c.rise() > 0 {
		materials, tasks = append(materials, c.lime.material), append(tasks, "liming", "mixing")
	}
	if c.fall() > 0 {
		if m, ok := c.pass.Garden.Material("sulfur-powder"); ok {
			materials, tasks = append(materials, m), append(tasks, "mixing")
		}
	}
	if c.compost {
		tasks = append(tasks, "testing-compost", "sourcing-compost")
	}
	out := care.Concerning(c.pass.Ref, materials, tasks)
	if caution, ok := c.pass.Ref.Caution("runoff"); ok && !slices.Contains(out, caution) && c.flushNeeded() {
		out = append(out, caution)
	}
	return out
}

// flushNeeded says whether salt asks for a flush.
func (c *computation) flushNeeded() bool {
	return slices.ContainsFunc(c.findings(), func(f finding) bool { return f.level >= wash }) && !c.compost
}

// guards are the findings as cautions, and how the pot's size is known.
func (c *computation) guards() []care.Guard {
	var out []care.Guard
	for _, f := range c.findings() {
		out = append(out, f.Guard)
	}
	if c.hasPot {
		out = append(out, care.SizeKnown(c.pass.Ref, c.pot)...)
	}
	return out
}
