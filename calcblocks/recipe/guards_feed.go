package recipe

import (
	"fmt"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/view"
)

// fastNitrogen adds up the nitrogen of what gives it off at once.
func (k check) fastNitrogen() []care.Guard {
	fast := slices.DeleteFunc(slices.Clone(k.masses), func(p dose.Portion) bool { return !supply.IsFast(p.Material) })
	return care.FastNitrogen(k.c.pass.Ref, dose.Nutrient(fast, reference.N).Value.Typical/k.litres, k.names(supply.IsFast))
}

// Half and double of the crop's nitrogen are far from it: about as far as one class of feeder is from the next
// (0.3, 0.6 and 1.0 g per litre, judging.yaml, nitrogen_targets; the edges are this program's own, derived).
const farUnder, farOver = 0.5, 2.0

// nitrogenForCrop speaks when the nitrogen that becomes available over the season, compost and all, is far from
// what the crop needs: by its plants and yield where they are told, else by its class.
func (k check) nitrogenForCrop() []care.Guard {
	need, known := k.c.needIn(k.size, reference.N)
	have := k.supplied.season[reference.N][1]
	if !known || !have.Known {
		return nil
	}
	grams := have.Value.Typical + k.composted(reference.N)
	part := grams / need[1].Typical
	keys := care.Keys(k.c.wanted.band(reference.N).Sources, have.Sources, k.c.wanted.class.Sources)
	text := fmt.Sprintf("Over the season about %s g of nitrogen becomes available; %s needs about %s g here", view.Number(grams), k.c.cropName(), view.Number(need[1].Typical))
	if k.c.wanted.byRate {
		text += " by its class"
	}
	switch {
	case part < farUnder-1e-9 && len(have.Missing) == 0:
		return []care.Guard{{ID: "nitrogen-short", Word: "Little nitrogen for this crop", Sources: keys, Text: text + ". That is less than half: plan on top-dressing or feeding."}}
	case part > farOver+1e-9:
		return []care.Guard{{ID: "nitrogen-over", Word: "Much nitrogen for this crop", Sources: keys, Text: text + ". That is more than double: take less, or the plants grow leaf instead of fruit and the rest washes out."}}
	}
	return nil
}

// composted returns what becomes available over the season of a nutrient in the compost on top, g.
func (k check) composted(n reference.Nutrient) float64 {
	if k.size.compost == nil {
		return 0
	}
	return k.size.compost.season[n][1].Value.Typical
}

// phosphorus speaks when the phosphate that becomes available is over 1.5 times what the crop takes up at the
// upper end of its yield (judging.yaml, phosphorus): a mix holds little of it, and the rest drains away.
func (k check) phosphorus() []care.Guard {
	need, known := k.c.needIn(k.size, reference.P2O5)
	grams := k.supplied.season[reference.P2O5][1].Value.Typical
	compost := k.composted(reference.P2O5)
	if !known || grams+compost <= need[1].High*(1+1e-9) {
		return nil
	}
	most := k.c.pass.Ref.Must("judging", "phosphorus", "season_available_p2o5_max_times_uptake")
	text := fmt.Sprintf("About %s g of phosphate (P2O5) becomes available this season", view.Number(grams+compost))
	if compost > 0 {
		text += fmt.Sprintf(", %s g of it from the compost", view.Number(compost))
	}
	return []care.Guard{{
		ID: "phosphorus-over", Word: "Phosphate far over the need", Sources: care.Keys(most.Source, k.c.wanted.band(reference.P2O5).Sources),
		Text: text + fmt.Sprintf("; %s times what %s takes up is %s g. Add no meal that is rich in phosphate: a mix holds little, and the rest leaves with the drainage.",
			view.Number(most.Typical), k.c.cropName(), view.Number(need[1].High)),
	}}
}

// phosphorusWithCompost speaks when a material that is given for its phosphate meets 20 % compost or more, which
// brings enough of it (judging.yaml, phosphorus, no_p_meal_if).
func (k check) phosphorusWithCompost() []care.Guard {
	limit := k.c.pass.Ref.Must("judging", "phosphorus", "no_p_meal_if", "compost_share_percent_at_least")
	names := k.names(func(m *garden.Material) bool { return m.Class() == "phosphorus" })
	if names == "" || k.compostPercent() < limit.Typical*(1-1e-9) {
		return nil
	}
	return []care.Guard{{
		ID: "phosphorus-with-compost", Word: "Phosphate beside much compost", Sources: limit.Source,
		Text: fmt.Sprintf("Compost is %s %% of the mix; from %s %% on it brings phosphate enough. Leave out %s.", view.Number(k.compostPercent()), view.Number(limit.Typical), names),
	}}
}

// tiesUp speaks when the amendments' carbon is more than 30 times their nitrogen (judging.yaml, compost_limits,
// c_to_n): microbes then draw on the mix.
func (k check) tiesUp() []care.Guard {
	limit := k.c.pass.Ref.Must("judging", "compost_limits", "c_to_n", "ties up N above", "value")
	ratio := k.totals.CToN
	if !ratio.Known || ratio.Value.Typical <= limit.Typical*(1+1e-9) {
		return nil
	}
	return []care.Guard{{
		ID: "ties-up-nitrogen", Word: "Ties up nitrogen", Sources: care.Keys(limit.Source, ratio.Sources),
		Text: fmt.Sprintf("The carbon of these amendments is about %s times their nitrogen; above %s times they take nitrogen from the mix while they rot. Add a material rich in nitrogen, or wait some weeks before you plant.", view.Number(ratio.Value.Typical), view.Number(limit.Typical)),
	}}
}

// besides names the salt that the estimate leaves out.
func (k check) besides() string {
	if k.size.compost != nil {
		return "What the old mix and the compost hold"
	}
	return "What the old mix holds"
}

// salt speaks when the estimated rise of EC alone passes what the crop bears: the lower of the edge of "fine" for
// a mix and the crop's threshold + 1.0, since a soilless mix bears that much more (judging.yaml, salinity_use).
func (k check) salt() []care.Guard {
	fine := k.c.pass.Ref.Must("judging", "ec_limits_sme", "fine_below")
	more := k.c.pass.Ref.Must("judging", "salinity_use", "soilless_tolerance_ds_m")
	most, who, keys := fine.Typical, "a mix is fine below", fine.Source
	if crop := k.c.cropOK; crop != nil && crop.Salinity.Threshold.Known && crop.Salinity.Threshold.Typical+more.Low < most {
		most, who = crop.Salinity.Threshold.Typical+more.Low, k.c.cropName()+" bears about"
		keys = care.Keys(crop.Salinity.Threshold.Source, more.Source)
	}
	if !k.saltAdded.Known || k.saltAdded.Value.Typical <= most*(1+1e-9) {
		return nil
	}
	return []care.Guard{{
		ID: "salt", Word: "Salt", Sources: care.Keys(keys, k.saltAdded.Sources),
		Text: fmt.Sprintf("These amendments raise the salt of the mix (EC, saturated extract) by an estimated %s mS/cm; %s %s. %s comes on top. Split the dose, or test the mix.", view.Number(k.saltAdded.Value.Typical), who, view.Number(most), k.besides()),
	}}
}
