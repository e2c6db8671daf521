package dates_test

import (
	"strconv"
	"strings"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
)

// planKind stands for the kind of that name: "POT: {crop: .., wait: weeks}" tells a planting of 2027, or
// of the year that the id ends with.
var planKind = block.Kind{Name: "plan", Phase: 2, Parse: func(n *form.Node) block.Block { return plan{n} }}

type plan struct{ n *form.Node }

func (p plan) Compute(pass *block.Pass) block.Result {
	var out block.Result
	season, err := strconv.Atoi(pass.ID[strings.LastIndex(pass.ID, "-")+1:])
	if err != nil {
		season = 2027
	}
	for _, e := range p.n.Mapping().Entries {
		m := e.Value.Fields("crop", "sow", "plant")
		weeks := func(key string) float64 {
			return map[string]float64{"": 0, "1": 1, "2": 2, "3": 3, "5": 5, "8": 8}[m.Get(key).Raw()]
		}
		out.Facts = append(out.Facts, facts.Planting{
			At: e.Key.At(), Plan: pass.ID, Season: season, Pot: e.Name, Crop: m.Get("crop").Raw(),
			Content: facts.Portioned{Wait: facts.Wait{Sow: weeks("sow"), Plant: weeks("plant")}},
		})
	}
	return out
}
