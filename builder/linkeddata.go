package builder

import (
	"strings"
	"time"

	"trug/builder/site"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// field is short for a field of a description.
func field(key string, v data.Value) data.Field { return data.Field{Key: key, Value: v} }

// typed starts a description of a schema.org type.
func typed(name string, fields ...data.Field) data.Object {
	return append(data.Object{field("@type", data.Text(name))}, fields...)
}

// howTo describes a recipe in the words of schema.org (HowTo, HowToSupply, HowToStep, MonetaryAmount), for
// readers that are programs. Amounts and cost are those of the container that it was written for or, where
// that is none of its sizes, of its first; the description says which.
func (s *rendering) howTo(p *Placed) data.Object {
	size, label := describedSize(p.Result.Data)
	out := data.Object{field("@context", data.Text("https://schema.org"))}
	out = append(out, typed("HowTo",
		field("name", data.Text(p.Result.Title)), field("description", data.Text("Amounts for "+label+" of potting mix")),
		field("inLanguage", data.Text(s.Garden.Handbook.Language)))...)
	if at := s.absolute(site.Recipe(p.ID)); at != "" {
		out = append(out, field("url", data.Text(at)))
	}
	if author := s.Garden.Handbook.Author; author != "" {
		out = append(out, field("author", typed("Organization", field("name", data.Text(author)))))
	}
	if changed := s.changed(site.Recipe(p.ID)); !changed.IsZero() {
		out = append(out, field("dateModified", data.Text(changed.Format(time.DateOnly))))
	}
	if cost, ok := estimate(size); ok {
		out = append(out, field("estimatedCost", cost))
	}
	return append(out, field("supply", s.supplies(size)), field("step", howToSteps(p.Result.View)))
}

// describedSize returns the size that holds as much as the recipe was written for, or the first.
func describedSize(tree data.Object) (data.Object, string) {
	written, _ := tree.Get("for").(data.Object)
	litres, _ := written.Get("litres").(data.Number)
	sizes, _ := tree.Get("sizes").(data.List)
	var best data.Object
	for _, v := range sizes {
		size, _ := v.(data.Object)
		holds, _ := size.Get("litres").(data.Object)
		if best == nil || holds.Get("low") == litres && holds.Get("high") == litres {
			best = size
		}
	}
	label, _ := best.Get("label").(data.Text)
	return best, string(label)
}

// supplies lists what goes in, with its measure and its grams.
func (s *rendering) supplies(size data.Object) data.List {
	out := data.List{}
	amounts, _ := size.Get("amounts").(data.List)
	for _, v := range amounts {
		a, _ := v.(data.Object)
		if id, ok := a.Get("amendment").(data.Text); ok {
			supply := typed("HowToSupply", field("name", data.Text(s.materialName(string(id)))))
			if text := amountText(a, s.Garden.Handbook.Main); text != "" {
				supply = append(supply, field("requiredQuantity", data.Text(text)))
			}
			out = append(out, supply)
		}
	}
	if compost, ok := size.Get("compost").(data.Object); ok {
		id, _ := compost.Get("amendment").(data.Text)
		low, high, _ := ends(compost.Get("loose_litres"))
		out = append(out, typed("HowToSupply", field("name", data.Text(s.materialName(string(id)))),
			field("requiredQuantity", data.Text("about "+view.Span(low, high)+" L, loose"))))
	}
	return out
}

func (s *rendering) materialName(id string) string {
	if m, ok := s.Garden.Material(id); ok {
		return m.Name
	}
	return id
}

// amountText writes an amount as measure and grams: "1/2 cup to 1/2 cup + 2 tbsp (36 to 45 g)".
func amountText(a data.Object, main units.Set) string {
	sets, _ := a.Get("measure").(data.Object)
	measure, _ := sets.Get(string(main)).(data.Object)
	low, _ := measure.Get("low").(data.Text)
	high, _ := measure.Get("high").(data.Text)
	text := string(low)
	if high != low {
		text = strings.TrimPrefix(text+" to "+string(high), " to ")
	}
	grams := ""
	if from, to, ok := ends(a.Get("grams")); ok {
		grams = view.Span(from, to) + " g"
	}
	if text == "" || grams == "" {
		return text + grams
	}
	return text + " (" + grams + ")"
}

// estimate is the cost where every price is known: what is missing would make it a guess.
func estimate(size data.Object) (data.Object, bool) {
	cost, _ := size.Get("cost").(data.Object)
	missing, _ := cost.Get("missing").(data.List)
	low, high, ok := ends(cost)
	if !ok || len(missing) > 0 {
		return nil, false
	}
	return typed("MonetaryAmount", field("currency", cost.Get("currency")),
		field("minValue", data.Number(low)), field("maxValue", data.Number(high))), true
}

// howToSteps lists the steps, each with the cautions that stand beside it.
func howToSteps(doc view.Doc) data.List {
	out := data.List{}
	for _, part := range doc.Parts {
		steps, ok := part.(view.Steps)
		if !ok {
			continue
		}
		for _, item := range steps.Items {
			step := typed("HowToStep", field("position", data.Number(len(out)+1)), field("text", data.Text(item.Text)))
			inner := data.List{typed("HowToDirection", field("text", data.Text(item.Text)))}
			for _, c := range item.Cautions {
				inner = append(inner, typed("HowToTip", field("text", data.Text(strings.TrimSpace(c.Word+": "+c.Text+" "+c.Defer)))))
			}
			if len(inner) > 1 {
				step = append(step, field("itemListElement", inner))
			}
			out = append(out, step)
		}
	}
	return out
}

// used names the amendments of a block in the order of its amounts, for one line.
func (s *rendering) used(p *Placed) string {
	var out []string
	for _, f := range p.Result.Facts {
		if use, ok := f.(facts.Use); ok {
			out = append(out, view.Small(s.materialName(use.Amendment)))
		}
	}
	return view.Capital(strings.Join(out, ", "))
}
