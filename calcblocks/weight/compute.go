package weight

import (
	"fmt"
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/vessel"
	"trug/calcblocks/kit/view"
)

// computation carries one Compute: kilograms, kilopascals.
type computation struct {
	*weight
	pass                   *block.Pass
	pot                    garden.Container
	low, high              float64 // litres of mix
	extra                  float64 // kg of pot and plants
	dry, watered, dripping units.SomeMass
	load                   units.SomeShare // kPa: watered at the typical end, dripping at the high one
	baseM2                 float64         // of a nursery class midway
}

// Compute computes the weight of one container.
func (w *weight) Compute(p *block.Pass) block.Result {
	c := &computation{weight: w, pass: p}
	if w.container == nil {
		return block.Result{Title: "Weight"}
	}
	pot, asked, ok := p.Asked()
	if !asked {
		pot, ok = form.Value(w.container, p.Garden.Container)
	}
	if !ok {
		return block.Result{Title: "Weight"}
	}
	c.pot = pot
	c.weigh()
	return c.result()
}

// weigh returns kg = litres x density + pot + plants, and the load = kg x standard gravity / area of the
// base, on which the whole weight stands (volumes.md, section 4; for straight sides the two agree with
// 5.2023 x depth in inches x kg/L in lb/ft2).
func (c *computation) weigh() {
	lib := c.pass.Ref
	c.low, c.high = c.pot.Litres()
	c.extra = (c.empty.Float() + c.plants.Float()) / 1000
	kg := func(low, typical, high float64) units.SomeMass {
		middle := (c.low + c.high) / 2
		return units.SomeMass{Low: c.low*low + c.extra, Typical: middle*typical + c.extra, High: c.high*high + c.extra}
	}
	dry, _ := c.mix.dry(lib)
	wet, full := c.mix.watered(lib), c.mix.dripping(lib)
	c.dry = kg(dry.Low, dry.Typical, dry.High)
	c.watered = kg(wet.Low, wet.Typical, wet.High)
	c.dripping = kg(full, full, full)
	c.baseM2 = c.pot.Vessel.AreaAt(0) / 1e4
	small, large := c.pot.Vessel.Ends() // they differ for a nursery class: each weight stands on its own base
	press := func(kg float64, on vessel.Vessel) float64 { return vessel.Pressure(kg, on.AreaAt(0)/1e4) }
	c.load = units.SomeShare{Low: press(c.watered.Low, small), Typical: press(c.watered.Typical, c.pot.Vessel), High: press(c.dripping.High, large)}
}

func poundsPerSquareFoot(kpa float64) float64 {
	psf, _ := units.Lookup("psf", units.US)
	perUnit, _ := psf.Factor.Float64()
	return kpa / perUnit
}

func (c *computation) result() block.Result {
	entries := care.Entries(c.pass.Garden, c.keys())
	tree := care.Sealed(c.tree(), entries)
	return block.Result{
		Title: "Weight of " + c.pot.Label, Data: tree, Working: c.working(), Sources: entries,
		View: view.Doc{Parts: c.parts(entries)},
	}
}

func (c *computation) tree() data.Object {
	spread := func(b units.SomeMass) data.Object {
		return data.Object{{Key: "low", Value: data.Number(b.Low)}, {Key: "typical", Value: data.Number(b.Typical)}, {Key: "high", Value: data.Number(b.High)}}
	}
	pounds := units.SomeMass{Low: poundsPerSquareFoot(c.load.Low), Typical: poundsPerSquareFoot(c.load.Typical), High: poundsPerSquareFoot(c.load.High)}
	return data.Object{
		{Key: "id", Value: data.TextOrNull(c.pass.ID)},
		{Key: "kind", Value: data.Text("weight")},
		{Key: "title", Value: data.Text("Weight of " + c.pot.Label)},
		{Key: "stamp", Value: data.Null{}},
		{Key: "container", Value: data.Object{{Key: "label", Value: data.Text(c.pot.Label)}, {Key: "litres", Value: data.Pair(c.low, c.high)}}},
		{Key: "mix", Value: data.Text(c.mix.name)},
		{Key: "dry_kg", Value: spread(c.dry)},
		{Key: "watered_kg", Value: spread(c.watered)},
		{Key: "dripping_kg", Value: spread(c.dripping)},
		{Key: "load_kpa", Value: spread(units.SomeMass(c.load))},
		{Key: "load_lb_per_sq_ft", Value: spread(pounds)},
		{Key: "cautions", Value: care.Tree(c.guards(), c.cautions())},
		{Key: "sources", Value: data.Null{}},
	}
}

// guards speaks when the load passes the least that a common model code asks of new decks and balconies.
// Below it nothing is said of safety: the figure is for new work and shared with people and snow.
func (c *computation) guards() []care.Guard {
	out := care.SizeKnown(c.pass.Ref, c.pot)
	if !c.balcony || c.load.High <= vessel.LoadCaution {
		return out
	}
	return append(out, care.Guard{
		ID: "load-over-design", Word: "Heavy for a balcony", Sources: c.pass.Ref.Must("volumes", "footprint_load", "code_figures", "0", "lb_per_ft2").Source,
		Text: fmt.Sprintf("Dripping wet it presses with about %s lb per square foot (%s kPa) on its own footprint. Design minimums of %.0f to 100 lb per square foot are common for new balconies, shared with people, snow and furniture; an old or altered one may carry less. Those count over the whole floor, this one under the pot alone, so the two can only be weighed against each other by someone who knows the structure. Ask the owner, the local building office or a licensed engineer before you set it there.",
			view.Number(poundsPerSquareFoot(c.load.High)), view.Number(c.load.High), poundsPerSquareFoot(vessel.LoadCaution)),
	})
}

func (c *computation) cautions() []*reference.Caution {
	tasks := []string{"lifting"}
	if c.balcony {
		tasks = append(tasks, "placing-on-balcony")
	}
	// Those that stand on every recipe are about bags and dust; here nothing is opened.
	return slices.DeleteFunc(care.Concerning(c.pass.Ref, nil, tasks), func(caution *reference.Caution) bool {
		return !care.Overlap(caution.Tasks, tasks)
	})
}

func (c *computation) keys() []string {
	var more []string
	for _, f := range c.codes() {
		more = append(more, f.sources...)
	}
	return care.Cited(c.working(), c.guards(), c.cautions(), more)
}
