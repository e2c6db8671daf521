package recipe

import (
	"fmt"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// compostPercent returns the share of the refilled volume that is compost: the layer on top, and
// composts among the amounts.
func (k check) compostPercent() float64 {
	litres := 0.0
	if k.size.compost != nil {
		litres = k.size.compost.firmed[1]
	}
	for _, p := range k.portions {
		if p.material.Class() == "compost" {
			litres += p.ends[1].fill.Typical / 1000
		}
	}
	return 100 * litres / k.litres
}

// potashToMagnesia speaks when added K2O is more than four times added MgO (judging.yaml,
// cation_balance): much potassium keeps roots from taking up magnesium. A dose that could not by itself bring
// an extract of the mix to the class "optimum" for potassium crowds out nothing, and is let pass.
func (k check) potashToMagnesia() []care.Guard {
	most := k.c.pass.Ref.Must("judging", "cation_balance", "added_k2o_to_mgo_max")
	potash, mg := k.totals.Added[reference.K2O], k.totals.Added[reference.Mg]
	if l := k.size.compost; l != nil { // all inputs count
		potash.Value = potash.Value.Add(l.totals[1].Added[reference.K2O].Value)
		mg.Value = mg.Value.Add(l.totals[1].Added[reference.Mg].Value)
	}
	magnesia := mg.Value.Typical * magnesiaPerMg
	if potash.Value.Typical <= most.Typical*magnesia*(1+1e-9) || len(mg.Missing) > 0 || potash.Value.Typical/k.litres < k.tellingPotash() {
		return nil
	}
	ratio := "without any magnesia"
	if magnesia > 0 {
		ratio = fmt.Sprintf("%s times the magnesia (MgO)", view.Number(potash.Value.Typical/magnesia))
	}
	return []care.Guard{{
		ID: "potash-to-magnesia", Word: "Much potash for the magnesium", Sources: most.Source,
		Text: fmt.Sprintf("The potash added (K2O) is %s; above %s times, roots take up too little magnesium.", ratio, view.Number(most.Typical)),
	}}
}

var magnesiaPerMg, potashPerK = elements.Convert("Mg", "MgO"), elements.Convert("K", "K2O")

// extractLitres is the water of a saturated media extract, L per litre of mix (judging.yaml, ec_conversion, the
// dilution model).
const extractLitres = 0.8

// tellingPotash returns the potash that brings an extract from nothing to the lower edge of the class "optimum",
// 150 mg/L of K (judging.yaml, sme_classes): 150 x 0.8 x 1.205 = 145 mg of K2O per litre of mix, in g (derived).
func (k check) tellingPotash() float64 {
	optimum := k.c.pass.Ref.Must("judging", "sme_classes", "k", "optimum")
	return optimum.Low / 1000 * extractLitres * potashPerK
}
