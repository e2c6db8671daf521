package supply

import (
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// mineral returns the first-season share of phosphate or potash: the material's own, else that of its kind,
// else all, for labels state what is available. No weeks are published: the season's share stands for them.
func mineral(lib *reference.Library, m *garden.Material, n reference.Nutrient) Share {
	content := m.Content(n)
	switch {
	case !content.Known:
		return Share{Road: "how much " + n.Name() + " it holds is not known"}
	case content.High == 0:
		return none("holds none", content.Source)
	case m.Ref == nil:
		return whole("as its label states it, available", content.Source)
	}
	own := m.Ref.PRelease
	if n == reference.K2O {
		own = m.Ref.KRelease
	}
	if own.Known {
		return Share{Value: own.Share(), Known: true, Road: "its own first-season share", Sources: own.Source}
	}
	return byKind(lib, m, n, content)
}

// kinds names the rows of judging.yaml (p_k_availability_first_season) that are for materials of the
// reference; those of phosphate are of the total.
var kinds = map[reference.Nutrient]map[string]string{
	reference.P2O5: {
		"bone-meal-steamed": "bone meal, useful only below pH 7", "fish-bone-meal": "bone meal, useful only below pH 7",
		"soft-rock-phosphate": "rock phosphate at pH 6 or above",
	},
	reference.K2O: {
		"langbeinite": soluble, "potassium-sulfate": soluble, "kelp-meal": soluble, "greensand": "greensand, a year, below",
	},
}

const soluble = "langbeinite (sulfate of potash-magnesia), sulfate of potash, kelp"

func byKind(lib *reference.Library, m *garden.Material, n reference.Nutrient, content reference.Figure) Share {
	key := string(n) + "_share"
	if row, ok := kinds[n][m.ID]; ok {
		f := lib.Must("judging", "p_k_availability_first_season", row, key)
		return Share{Value: ofLabel(m, n, part(f)), Known: true, Road: "the first-season share of its kind", Sources: f.Source}
	}
	switch m.Class() {
	case "compost":
		f := compost(lib, n)
		return Share{Value: part(f), Known: true, Road: "the first-season share of composts", Sources: f.Source}
	case "mineral":
		return Share{Road: "no share is published for it"}
	}
	return whole("as labels state it, available", content.Source)
}

// part reads a figure that the fact file gives in parts of 1.
func part(f reference.Figure) units.SomeShare {
	return units.SomeShare{Low: f.Low, Typical: f.Typical, High: f.High}
}

// compost returns the pick for compost with its range.
func compost(lib *reference.Library, n reference.Nutrient) reference.Figure {
	row := []string{"p_k_availability_first_season", "pick for compost"}
	f := lib.Must("judging", append(row, string(n)+"_share")...)
	within := lib.Must("judging", append(row, "range", string(n))...)
	f.Low, f.High = within.Low, within.High
	f.Source = union(f.Source, within.Source)
	return f
}

// ofLabel turns a share of the total into one of the available figure that labels state, where the reference
// tells the two apart: share x total / available, at most all.
func ofLabel(m *garden.Material, n reference.Nutrient, s units.SomeShare) units.SomeShare {
	total, label := m.Ref.TotalAsIs(n), m.Ref.AsIs(n)
	if !total.Known || label.Typical == 0 {
		return s
	}
	s = s.Scale(total.Typical / label.Typical)
	return atMost(s, units.SomeShare{Low: 1, Typical: 1, High: 1})
}
